//! The pilot: a seat that the armature shuts, and the bore behind it.

use super::passage::Passage;
use crate::dual::Real;
use crate::physics::parts::Pilot;
use crate::portable::Portable;

/// A shut pilot leaks as if through this share of the stroke: enough to keep its column defined, 10⁻⁴ of its open flow.
const LEAK_SHARE: f64 = 1e-4;

/// The pilot with its column.
#[derive(Clone, Debug)]
pub struct InstalledPilot {
    /// The part.
    pub part: Pilot,
    /// Its bore.
    pub passage: Passage,
    /// Area of the seat A_ps, m².
    pub seat_area: f64,
    /// Gap to which a shut seat still leaks, m.
    pub leak_gap: f64,
}

impl InstalledPilot {
    /// The pilot under an armature of that stroke (m), in a fluid of that density (kg/m³) and viscosity (Pa·s).
    pub fn new(part: &Pilot, stroke: f64, density: f64, viscosity: f64) -> Self {
        InstalledPilot {
            part: part.clone(),
            passage: Passage::new(part.length, part.diameter, density, viscosity),
            seat_area: std::f64::consts::FRAC_PI_4 * part.seat_diameter.to_the(2),
            leak_gap: part.leak_gap.unwrap_or(0.0).max(LEAK_SHARE * stroke),
        }
    }

    /// C·A of the seat's curtain, m²; a shut seat leaks through `leak_gap` so that the column stays defined.
    #[inline(always)]
    pub fn curtain<T: Real>(&self, travel: T) -> T {
        let open = if travel.value() > self.leak_gap { travel } else { T::constant(self.leak_gap) };
        open * (self.part.discharge_coefficient * std::f64::consts::PI * self.part.seat_diameter)
    }

    /// C·A of what lies behind the seat, m²: the bore, and a restrictor in series where there is one.
    #[inline(always)]
    pub fn bore(&self) -> f64 {
        let of = |diameter: f64| self.part.discharge_coefficient * std::f64::consts::FRAC_PI_4 * diameter * diameter;
        let bore = of(self.part.diameter);
        let Some(restrictor) = self.part.restrictor_diameter.map(of) else { return bore };
        bore * restrictor / (bore * bore + restrictor * restrictor).sqrt()
    }

    /// C·A at a travel of the armature (m), m²: curtain and bore in series.
    pub fn area(&self, travel: f64) -> f64 {
        let (curtain, bore) = (self.curtain(travel), self.bore());
        curtain * bore / (curtain * curtain + bore * bore).sqrt()
    }

    /// 1/(C·A)² of curtain and bore in series, 1/m⁴.
    #[inline(always)]
    pub fn inverse_square<T: Real>(&self, curtain: T) -> T {
        let bore = self.bore();
        curtain.square().recip() + 1.0 / (bore * bore)
    }

    /// Share of the differential that is regained between curtain and bore.
    ///
    /// ```text
    /// φ_p = C_k²/(C_k² + C_b²)        C_k curtain, C_b bore
    /// ```
    ///
    /// Source: two restrictions in series (textbooks).
    #[inline(always)]
    pub fn recovery<T: Real>(&self, curtain: T) -> T {
        let bore = self.bore();
        (curtain.square() * (1.0 / (bore * bore)) + 1.0).recip() * curtain.square() * (1.0 / (bore * bore))
    }

    /// Force that presses the armature onto the seat, N: A_ps·Δp·(1 − φ_p). Source: pressure under the seat.
    #[inline(always)]
    pub fn force<T: Real>(&self, differential: T, recovery: T) -> T {
        differential * (-recovery + 1.0) * self.seat_area
    }
}
