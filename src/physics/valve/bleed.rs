//! The bleed: the orifice by which the chamber fills from the inlet.

use super::passage::Passage;
use crate::dual::Real;
use crate::physics::parts::{Bleed, Pin};
use crate::portable::Portable;
use std::f64::consts::FRAC_PI_4;

/// A step has a shoulder of this share of the lift at which the pin leaves: no edge is sharper (judgement).
const SHOULDER_SHARE: f64 = 0.01;

/// The bleed with its column.
#[derive(Clone, Debug)]
pub struct InstalledBleed {
    /// The part.
    pub part: Bleed,
    /// Its bore.
    pub passage: Passage,
}

impl Pin {
    /// Length of lift over which it narrows the bleed, m: its taper, or the shoulder of a step.
    pub fn shoulder(&self) -> f64 {
        self.taper.unwrap_or(SHOULDER_SHARE * self.lift).min(self.lift)
    }
}

impl InstalledBleed {
    /// The bleed in a fluid of that density (kg/m³) and viscosity (Pa·s).
    pub fn new(part: &Bleed, density: f64, viscosity: f64) -> Self {
        InstalledBleed { part: part.clone(), passage: Passage::new(part.length, part.diameter, density, viscosity) }
    }

    /// C·A of the free bore, m².
    #[inline(always)]
    pub fn area(&self) -> f64 {
        self.part.discharge_coefficient * FRAC_PI_4 * self.part.diameter * self.part.diameter
    }

    /// C·A at a lift of the main stage (m), m².
    ///
    /// ```text
    /// C·A = C_n + (C_f − C_n)·s        s = (x − x_t + l)/l between 0 and 1
    /// ```
    ///
    /// C_f free, C_n beside the pin, which leaves the bleed at x_t by a taper or shoulder of length l. The pin narrows the end of the
    /// bore as an orifice would: its column and its laminar loss are those of the free bore, and the pin's own face is part of the
    /// stage's effective area. Source: own choice, linear in area.
    #[inline(always)]
    pub fn area_at<T: Real>(&self, lift: T) -> T {
        let Some(pin) = &self.part.pin else { return T::constant(self.area()) };
        let beside = self.part.discharge_coefficient * FRAC_PI_4 * pin.diameter * pin.diameter;
        let shoulder = pin.shoulder();
        let out = ((lift - (pin.lift - shoulder)).positive_part() * (1.0 / shoulder)).least(T::constant(1.0));
        out * (self.area() - beside) + beside
    }

    /// 1/(C·A)² at a lift of the main stage (m), 1/m⁴.
    #[inline(always)]
    pub fn inverse_square<T: Real>(&self, lift: T) -> T {
        match &self.part.pin {
            None => T::constant(1.0 / self.area().to_the(2)),
            Some(_) => self.area_at(lift).square().recip(),
        }
    }
}
