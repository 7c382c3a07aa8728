//! From one run to many: a scenario examined, maps of examined scenarios, and the study of a closing.

pub mod axis;
pub mod closing;
pub mod column;
pub mod examine;
pub mod guide;
pub mod map;
pub mod refine;
pub mod stability_map;
