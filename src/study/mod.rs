//! From one run to many: a scenario examined, maps of examined scenarios, the study of a closing, and the
//! surges of several fluids by hand.

pub mod asked;
pub mod axis;
pub mod boiling;
pub mod by_hand;
pub mod closing;
pub mod coil_duty;
pub mod coil_heat;
pub mod coil_supply;
pub mod coil_voltage;
pub mod column;
pub mod disturbance;
pub mod disturbed;
pub mod examine;
pub mod examined;
mod fault_sample;
pub mod faults;
pub mod guide;
pub mod heat;
pub mod hot_pull_in;
pub mod judgement;
pub mod kept;
pub mod map;
pub mod map_job;
pub mod mappable;
pub mod opening;
pub mod overlay;
pub mod own_point;
mod quoted;
pub mod range;
pub mod refine;
pub mod setting;
pub mod stability;
pub mod stability_map;
pub mod surge;
pub mod window;
pub mod wrong_supply;
