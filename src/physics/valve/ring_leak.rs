//! The leak past a piston, from the inlet into the control chamber: a gap all round, or what a ring leaves.
//!
//! ```text
//! gap:  A = π·D·δ    I = L/A    R_l = 12·μ·L/(π·D·δ³·(1 + 1.5·e²)·ρ)    Δp = I·dṁ/dt + R_l·ṁ + 1.5·ṁ·|ṁ|/(2·ρ·A²)
//! ring: an orifice of its diameter with a column of its height, as the bleed
//! ```
//!
//! D is the effective diameter, which for a piston is that of the middle of the gap: half of what the flow drags along the walls pulls
//! on the piston, Δp·π·D·δ/2, and half of what the moving piston drags along flows with it, v·π·D·δ/2, so that both force and
//! swept volume are those of the mid-gap area at first order in δ/D, and the leak is what pressure drives alone. The shear of the gap by
//! the motion itself, μ·π·D·L/δ·v in the middle of the bore, is part of the stage's damping as stated. Ends of the gap: half a
//! velocity head lost on entering, one on leaving. A gas is laminar at the mean density of the gap, and expands at its ends as in any
//! passage. Valid for δ ≪ D and laminar gaps (Re = 2·ṁ/(π·D·μ) below some 2000).
//! Source: plane Couette-Poiseuille flow, eccentricity after the lubrication equation (textbooks); own derivation.

use super::chamber::Filling;
use super::passage::{Passage, Upstream};
use crate::dual::Real;
use crate::physics::parts::{Clearance, RingLeak, SplitRing};
use crate::portable::Portable;
use std::f64::consts::{FRAC_PI_4, PI};

/// Velocity heads lost at the ends of a gap: a sharp entrance and a free exit (handbooks' usual figures, from memory).
const END_LOSSES: f64 = 1.5;

/// The leak with its column.
#[derive(Clone, Debug)]
pub struct InstalledLeak {
    /// Column; of a ring also its laminar resistance.
    pub passage: Passage,
    /// 1/(C·A)² of its ends, 1/m⁴.
    pub inverse_square: f64,
    /// Laminar resistance of a gap per mass flow at `density`, Pa·s/kg.
    pub gap: f64,
    /// Density of the supply, kg/m³.
    pub density: f64,
}

impl InstalledLeak {
    /// The leak past a piston of that diameter (m), in a fluid of that density (kg/m³) and viscosity (Pa·s); none where it is tight.
    pub fn new(leak: &RingLeak, diameter: f64, density: f64, viscosity: f64) -> Option<Self> {
        match leak {
            RingLeak::Tight => None,
            RingLeak::Clearance(Clearance { radial_clearance, land_length, eccentricity }) => {
                let area = PI * diameter * radial_clearance;
                let widened = 1.0 + 1.5 * eccentricity * eccentricity;
                let cube = radial_clearance.to_the(3);
                Some(InstalledLeak {
                    passage: Passage { inertance: land_length / area, laminar: 0.0 },
                    inverse_square: END_LOSSES / area.to_the(2),
                    gap: 12.0 * viscosity * land_length / (PI * diameter * cube * widened * density),
                    density,
                })
            }
            RingLeak::SplitRing(SplitRing { ring_orifice, ring_height, ring_coefficient }) => {
                let area = ring_coefficient * FRAC_PI_4 * ring_orifice * ring_orifice;
                Some(InstalledLeak {
                    passage: Passage::new(*ring_height, *ring_orifice, density, viscosity),
                    inverse_square: 1.0 / area.to_the(2),
                    gap: 0.0,
                    density,
                })
            }
        }
    }

    /// C·A of its ends, m²: what it leaks at most.
    pub fn area(&self) -> f64 {
        1.0 / self.inverse_square.sqrt()
    }

    /// Density of the supply over that in the gap: 1 for a liquid.
    #[inline(always)]
    fn thinned<T: Real>(&self, filling: &Filling, inlet: T, chamber: T) -> T {
        match filling {
            Filling::Liquid { .. } => T::constant(1.0),
            Filling::Gas(gas) => ((inlet + chamber) * (0.5 * gas.density_per_pressure)).recip() * self.density,
        }
    }

    /// Pressure that drives nothing but losses at mass flow ṁ from the inlet, Pa. Source: see the head of this file.
    #[inline(always)]
    pub fn loss<T: Real>(&self, filling: &Filling, flow: T, inlet: T, chamber: T, upstream: Upstream<T>) -> T {
        let ends = self.passage.loss(flow, T::constant(self.inverse_square), upstream);
        ends + flow * self.thinned(filling, inlet, chamber) * self.gap
    }

    /// Steady mass flow (kg/s) between the inlet and a chamber at no more than its pressure (Pa absolute).
    pub fn steady(&self, filling: &Filling, inlet: f64, chamber: f64, upstream: Upstream<f64>) -> f64 {
        let laminar = self.passage.laminar + self.gap * self.thinned(filling, inlet, chamber);
        let passage = Passage { laminar, ..self.passage.clone() };
        passage.steady_flow(inlet - chamber, passage.loss(1.0, self.inverse_square, upstream))
    }

    /// The same of a liquid, or a gas at small differentials, by differential (Pa) and density (kg/m³).
    pub fn by_hand(&self, differential: f64, density: f64) -> f64 {
        let passage = Passage { laminar: self.passage.laminar + self.gap, ..self.passage.clone() };
        let upstream = Upstream { density, nozzle: None };
        passage.steady_flow(differential, passage.loss(1.0, self.inverse_square, upstream))
    }
}
