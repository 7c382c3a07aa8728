//! The question put to the program: read from files and settings, with every problem named at its place.
//!
//! `vocabulary` declares every key once; `layer` reads one file (`source`), `chain` those that it is like; `document` lays files and settings over each other;
//! `reader` takes values out (`value`) and collects problems; one file per noun builds the parts of the scenario; `check` refuses
//! what is impossible and remarks on what is odd; `echo` shows every value in both unit systems.

mod chain;
mod check;
mod coil;
mod defaults;
mod document;
mod duty;
mod echo;
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
mod source;
mod usual;
mod value;
mod valve;
mod vocabulary;
mod whole;

pub use document::Document;
pub use echo::{Origin, Row, echo};
pub use model::{AxisRange, Duty, Limits, MapAxes, NamedFluid, Run, Scenario};
pub use named_fluid::label as fluid_label;
pub use problem::{Problem, Problems, Warning};
pub use vocabulary::{Key, Kind, Parameter, Range, parameters, title};
