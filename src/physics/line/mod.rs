//! The lines between the valve and its supply and sink.
//!
//! The valve meets a line at its [`end`] only: as one volume and one column (lumped), or as [`waves`] that arrive and are sent.
//! A line is linearised about one [`state`]. Steady friction is [`resistance`]; what a changing flow adds is [`shear`], whose
//! relaxing parts stand for the kernels of the [`wall_layer`]. What strainer and check valve lose stands in [`fittings`].
//!
//! A line of waves is a chain of delays ([`wave`]) between `junction`s in which friction is lumped, up to its [`far_end`].
//! [`reflection`] is the same line at one complex frequency, for stability. [`wave_speed`] tells how fast waves are in a wall,
//! and [`linear_closing`] holds the exact answer for a plain line, for a check by hand.

pub mod end;
pub mod far_end;
pub mod fittings;
pub mod heard;
mod junction;
pub mod linear_closing;
pub mod reflection;
pub mod resistance;
pub mod shear;
pub mod state;
pub mod wall_layer;
pub mod wave;
pub mod wave_speed;
pub mod waves;

pub use end::LineEnd;
pub use resistance::Resistance;
pub use state::{LUMPED_SHARE, LineState};
