//! From one run to many: a scenario examined, and maps of examined scenarios.

pub mod axis;
pub mod column;
pub mod disturbance;
pub mod examine;
pub mod guide;
pub mod map;
pub mod overlay;
pub mod refine;
pub mod stability;
pub mod stability_map;
