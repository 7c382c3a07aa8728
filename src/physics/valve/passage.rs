//! Pilot and bleed: short bores whose fluid column has inertia.

use crate::dual::Real;
use crate::physics::expansion::Expansion;
use crate::portable::Portable;

/// A bore with its fluid column.
#[derive(Clone, Debug)]
pub struct Passage {
    /// Length over cross-section l/A, 1/m: inertance per mass flow.
    pub inertance: f64,
    /// Laminar resistance per mass flow, Pa·s/kg, at `reference_density`.
    pub laminar: f64,
}

/// The fluid on the upstream side of a passage.
#[derive(Clone, Copy, Debug)]
pub struct Upstream<T> {
    /// Density, kg/m³.
    pub density: T,
    /// How it expands; none for a liquid.
    pub nozzle: Option<Nozzle<T>>,
}

/// A gas that expands through a bore.
#[derive(Clone, Copy, Debug)]
pub struct Nozzle<T> {
    /// Downstream over upstream pressure.
    pub pressure_ratio: T,
    /// The gas's expansion.
    pub expansion: Expansion,
}

impl Passage {
    /// A bore of that length and diameter (m) for a fluid of that density (kg/m³) and viscosity (Pa·s).
    ///
    /// ```text
    /// I = l/A        R_l = 128·μ·l/(π·d⁴·ρ)
    /// ```
    ///
    /// Source: momentum of a rigid column; Hagen-Poiseuille law (textbooks).
    pub fn new(length: f64, diameter: f64, density: f64, viscosity: f64) -> Self {
        let area = std::f64::consts::FRAC_PI_4 * diameter * diameter;
        Passage {
            inertance: length / area,
            laminar: 128.0 * viscosity * length / (std::f64::consts::PI * diameter.to_the(4) * density),
        }
    }

    /// Pressure that drives nothing but losses at mass flow ṁ, Pa, with the sign of the flow.
    ///
    /// ```text
    /// Δp_loss = R_l·ṁ + ṁ·|ṁ|/(2·ρ_up·(C·A)²·Y²)
    /// ```
    ///
    /// `inverse_square` = 1/(C·A)² in 1/m⁴, of all restrictions of the passage in series. Y² is the expansibility of an
    /// isentropic nozzle, 1 for a liquid; so at rest of the column the flow is that of the nozzle, choking included.
    /// Source: [`Expansion`]; unsteady Bernoulli equation.
    #[inline(always)]
    pub fn loss<T: Real>(&self, mass_flow: T, inverse_square: T, upstream: Upstream<T>) -> T {
        let mut divisor = upstream.density * 2.0;
        if let Some(Nozzle { pressure_ratio, expansion }) = upstream.nozzle {
            divisor = divisor * expansion.expansibility(pressure_ratio.least(T::constant(1.0)));
        }
        mass_flow * self.laminar + mass_flow * mass_flow.abs() * inverse_square * divisor.recip()
    }

    /// dṁ/dt, kg/s²: (Δp − Δp_loss)·A/l. Source: momentum of a rigid column.
    #[inline(always)]
    pub fn acceleration<T: Real>(&self, differential: T, loss: T) -> T {
        (differential - loss) * (1.0 / self.inertance)
    }

    /// Steady mass flow (kg/s) under a differential (Pa, not below zero): the root of [`Passage::loss`] = Δp,
    /// given the loss at one kg/s.
    pub fn steady_flow(&self, differential: f64, loss_at_one: f64) -> f64 {
        let quadratic = loss_at_one - self.laminar;
        2.0 * differential / (self.laminar + (self.laminar * self.laminar + 4.0 * quadratic * differential).sqrt())
    }
}
