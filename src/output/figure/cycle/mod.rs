//! One run over time: pressures, travel, magnet and flow, with its opening and closing enlarged.

mod column;
mod curve;
mod event;
mod examined;
mod notes;
mod page;
mod panel;
mod scale;
mod subject;
mod window;

pub use examined::examined;
pub use page::cycle;
pub use subject::{Limit, RunFigure};
