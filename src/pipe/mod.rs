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

pub use designation::parse;
pub use material::{Elasticity, Material};

/// A pipe.
#[derive(Clone, Debug, PartialEq)]
pub struct Pipe {
    /// Outside diameter, m.
    pub outside_diameter: f64,
    /// Bore, m.
    pub bore: f64,
    /// Wall thickness, m.
    pub wall_thickness: f64,
    /// Material.
    pub material: Material,
    /// Its name in a regular form, with the standard that lists it: "22 x 1 copper, EN 1057".
    pub name: String,
    /// What is odd about it: a size that no standard lists.
    pub remark: Option<String>,
}
