//! Why it chatters: equilibria of the valve that is asked to be open, the modes of small motions about them, and where they begin to grow.
//!
//! A floating main stage regulates its own differential. Whether it does so quietly is decided by the small motions about its
//! equilibrium: each is e^(st), and s = σ + iω is a root of the characteristic equation, in which the lines take part with
//! their full delay. σ < 0 dies away; where σ passes zero with ω ≠ 0 oscillation is born (a Hopf boundary), softly or hard.
//!
//! Reading order: [`model`] (what can be asked), [`characteristic`] (the matrix), [`roots`] (finding and counting),
//! [`onset`] (soft or hard), then the valve: [`valve`], [`equilibria`], [`modes`]; [`continuation`] follows
//! boundaries in two parameters.
//!
//! Alternating-current coils are taken at their mean pull; the ripple at twice the supply frequency is not a matter of
//! stability (the simulation shows it).

pub mod characteristic;
pub mod continuation;
pub mod equilibria;
pub mod model;
pub mod modes;
pub mod onset;
pub mod roots;
pub mod valve;
