//! What strainer and check valve lose.
//!
//! ```text
//! strainer      Δp = ṁ²/(ρ·(A_v·(1 − s))²)          A_v from Kv, s the clogged share
//! check valve   Δp = Δp_0·sign(ṁ) + ṁ·|ṁ|/(ρ·A_v²)
//! ```
//!
//! Both stand at the far end of their line. The constant Δp_0 is what the valve's spring takes to be held open; below a thousandth of the
//! flow at which the quadratic part equals it, it falls in proportion to the flow (own choice: so small a flow matters to nothing, and
//! rest stays a rest). A check valve is taken as a loss either way: neither does it stop flow that reverses, nor is its own motion, and
//! with it its slam, computed; so the pressure that it would trap in the line behind it runs off. `scenario/check_soft.rs` says so.
//! Source: definition of the flow coefficient (IEC 60534-1, from memory); own derivation.

use super::resistance::Resistance;
use crate::physics::parts::{CheckValve, Fittings, Strainer};

/// Share of the flow at which both parts of a check valve's loss are equal, at which it takes all of its opening differential.
const OPENING_SHARE: f64 = 1e-3;

impl Fittings {
    /// Their resistance in a fluid of that density (kg/m³).
    pub fn resistance(&self, density: f64) -> Resistance {
        let of_kv = |coefficient: f64| 1.0 / (density * coefficient * coefficient);
        let mut sum = Resistance::default();
        if let Some(Strainer { strainer_kv, strainer_clogged }) = &self.strainer {
            sum.local += of_kv(strainer_kv * (1.0 - strainer_clogged));
        }
        if let Some(CheckValve { check_valve_kv, check_valve_opening }) = &self.check_valve {
            let local = of_kv(*check_valve_kv);
            sum.local += local;
            sum.opening = *check_valve_opening;
            sum.opening_flow = OPENING_SHARE * (check_valve_opening / local).sqrt();
        }
        sum
    }
}
