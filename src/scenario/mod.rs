//! The question put to the program: read from files and settings, with every problem named at its place.
//!
//! From below: `vocabulary` lists the tables and, beside the keys of the parts (`crate::key`), those that fill no part; `layer` reads
//! one file (`source`), `chain` those that it is like; `document` lays files and settings over each other; `reader` takes values out
//! of it (`value`) and collects problems, `table` takes whole parts; one file per noun builds a part of the scenario, `whole` all of
//! them; `check` and `usual` refuse what is impossible and remark on what is odd; `reading` hands the scenario out, with every value
//! in both unit systems (`row`). No file imports itself again through others.

mod chain;
mod check;
mod check_link;
mod check_soft;
mod coil;
mod defaults;
mod document;
mod ends;
mod fault;
mod fluid;
mod layer;
mod line;
mod line_wall;
mod map;
pub mod model;
mod named_fluid;
mod one_pressure;
mod problem;
mod reader;
mod reading;
mod row;
mod soft;
mod source;
mod spelled;
mod table;
mod usual;
mod value;
mod valve;
mod valve_fault;
mod vocabulary;
mod whole;

pub use document::Document;
pub use model::{AskedTimes, AxisRange, Duty, Limits, MapAxes, NamedFluid, Run, Scenario};
pub use named_fluid::label as fluid_label;
pub use problem::{Problem, Problems, Warning};
pub use reading::echo;
pub use row::{Origin, Row};
pub use vocabulary::{Parameter, parameters, title};
