//! The bleed: the orifice by which the chamber fills from the inlet.

use super::passage::Passage;
use crate::physics::parts::Bleed;
use crate::portable::Portable;

/// The bleed with its column.
#[derive(Clone, Debug)]
pub struct InstalledBleed {
    /// The part.
    pub part: Bleed,
    /// Its bore.
    pub passage: Passage,
}

impl InstalledBleed {
    /// The bleed in a fluid of that density (kg/m³) and viscosity (Pa·s).
    pub fn new(part: &Bleed, density: f64, viscosity: f64) -> Self {
        InstalledBleed { part: part.clone(), passage: Passage::new(part.length, part.diameter, density, viscosity) }
    }

    /// C·A, m².
    #[inline(always)]
    pub fn area(&self) -> f64 {
        self.part.discharge_coefficient * std::f64::consts::FRAC_PI_4 * self.part.diameter * self.part.diameter
    }

    /// 1/(C·A)², 1/m⁴.
    #[inline(always)]
    pub fn inverse_square(&self) -> f64 {
        1.0 / self.area().to_the(2)
    }
}
