//! The bulge of a diaphragm: volume that it gives way by under its differential, without lifting.

use crate::dual::Real;
use crate::physics::parts::StageKind;

/// A volume w that follows the differential between inlet and chamber.
///
/// ```text
/// ẇ = (p_1 − p_c − w/C_d)/R_d        loss = R_d·ẇ²        energy = w²/(2·C_d)        at rest: w = C_d·(p_1 − p_c)
/// ```
///
/// Source: own choice, the first-order answer of a membrane.
#[derive(Clone, Copy, Debug)]
pub struct Bulge {
    /// C_d, m³/Pa, above zero.
    compliance: f64,
    /// R_d, Pa·s/m³.
    resistance: f64,
}

/// Growth of the bulge and what that loses.
#[derive(Clone, Copy, Debug)]
pub struct Bulging<T> {
    /// ẇ, m³/s.
    pub rate: T,
    /// Power lost, W.
    pub loss: T,
}

impl StageKind {
    /// The stage's bulge, if it has any.
    #[inline(always)]
    pub fn bulge(&self) -> Option<Bulge> {
        match *self {
            StageKind::Diaphragm { bulge_compliance, bulge_resistance } => {
                (bulge_compliance > 0.0).then_some(Bulge { compliance: bulge_compliance, resistance: bulge_resistance })
            }
            StageKind::Piston { .. } => None,
        }
    }
}

impl<T: Real> Bulging<T> {
    /// No bulge.
    #[inline(always)]
    pub fn none() -> Self {
        Bulging { rate: T::constant(0.0), loss: T::constant(0.0) }
    }
}

impl Bulge {
    /// Growth under a differential (Pa) at a volume (m³). Source: see [`Bulge`].
    #[inline(always)]
    pub fn state<T: Real>(&self, differential: T, volume: T) -> Bulging<T> {
        let rate = (differential - volume * (1.0 / self.compliance)) * (1.0 / self.resistance);
        Bulging { rate, loss: rate.square() * self.resistance }
    }

    /// Volume at rest, m³.
    pub fn steady_volume(&self, differential: f64) -> f64 {
        self.compliance * differential
    }

    /// Energy stored, J.
    pub fn energy(&self, volume: f64) -> f64 {
        0.5 * volume * volume / self.compliance
    }
}
