//! Compliant contact of a moving part with its seat, stop or pole.

use crate::dual::Real;
use crate::physics::parts::Contact;
use crate::portable::Portable;

/// Force of a contact and the power that it turns into heat.
#[derive(Clone, Copy, Debug)]
pub struct Touch<T> {
    /// Force that pushes the part away, N, never negative.
    pub force: T,
    /// Power lost, W.
    pub loss: T,
}

impl Contact {
    /// Contact force at indentation δ (m) growing at the rate δ̇ (m/s).
    ///
    /// ```text
    /// F = max(0, k·δ^1.5·(1 + d·δ̇))   for δ > 0, else 0          loss = (F − k·δ^1.5)·δ̇
    /// ```
    ///
    /// Valid for indentations small against the part. Source: K. H. Hunt & F. R. E. Crossley, "Coefficient of restitution
    /// interpreted as damping in vibroimpact", J. Appl. Mech. 42 (1975) 440-445 (from memory).
    #[inline(always)]
    pub fn touch<T: Real>(&self, indentation: T, rate: T) -> Touch<T> {
        let delta = indentation.value();
        if delta <= 0.0 {
            return Touch { force: T::constant(0.0), loss: T::constant(0.0) };
        }
        let root = delta.sqrt();
        let elastic = indentation.chain(self.stiffness * delta * root, 1.5 * self.stiffness * root);
        let force = (elastic * (rate * self.dissipation + 1.0)).positive_part();
        Touch { force, loss: (force - elastic) * rate }
    }

    /// Elastic energy at indentation δ, J: 0.4·k·δ^2.5. Source: own integral of the elastic force.
    pub fn energy(&self, indentation: f64) -> f64 {
        0.4 * self.stiffness * indentation.max(0.0).power(2.5)
    }

    /// Indentation at which the contact carries the force at rest, m: (F/k)^(2/3). Source: the same law at δ̇ = 0.
    pub fn indentation(&self, force: f64) -> f64 {
        (force.max(0.0) / self.stiffness).power(2.0 / 3.0)
    }
}
