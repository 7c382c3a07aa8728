//! The valve: one file per part, each with its forces and flows, losses, stored energy and steady form.
//!
//! Every kind of valve has a [`magnet`] that pulls an [`armature`], and a [`main_stage`] (a piston with dry [`friction`], or a
//! diaphragm with its [`bulge`]) that opens the main seat. What stands between armature and stage makes the kind: see [`control`].
//! A [`servo`] has a [`pilot`], a [`bleed`], a [`ring_leak`] past its piston (each a [`passage`] with a column) and a [`chamber`], which a liquid fills as a
//! [`cell`] or a gas as a [`confined_gas`]. [`contact`] is the law of all seats and stops, [`cushion`] a dashpot near a seat; the body's ports are cells.
//!
//! What stands between mains and winding is in [`feed`].
//!
//! In a [`direct`]-operated valve the armature is the stage. What a kind is asked and what it answers stands in [`answer`].
//!
//! A new kind is a variant of [`control::Control`] and a file beside those two: the compiler then lists what it has to say.

pub mod answer;
pub mod armature;
pub mod bleed;
pub mod bulge;
pub mod cell;
pub mod chamber;
pub mod confined_gas;
pub mod contact;
pub mod control;
pub mod copper;
pub mod cushion;
pub mod direct;
pub mod fault;
pub mod feed;
pub mod forced_lift;
pub mod friction;
pub mod link;
pub mod magnet;
pub mod main_stage;
pub mod passage;
pub mod pilot;
pub mod ring_leak;
pub mod servo;
