//! Pipes by their trade names: from "22 x 1 copper" to bore, wall and elastic modulus, so that nobody has to type a
//! modulus.
//!
//! `material` holds the elastic constants, `size` and `table` the listed sizes with their standards, `token` and
//! `designation` read a name such as "7/8 in ACR". A designation is a name and no quantity: its numbers are millimetres
//! or inches as the trade writes them, always of the outside diameter (or a nominal size) and never of the bore.

mod designation;
mod material;
mod size;
mod table;
mod token;

pub use designation::{Pipe, parse};
pub use material::{Elasticity, Material};
