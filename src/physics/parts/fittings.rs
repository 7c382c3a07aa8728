//! What stands in a line in series with the valve: a strainer and a check valve, as losses.

use crate::key::part;

part! {
    /// A strainer.
    pub struct Strainer {
        /// flow coefficient of a clean strainer in the line
        strainer_kv: FlowCoefficient, Positive, "flow coefficient of the strainer in the {}", usually 1e-8 to 0.3, or none;
        /// share of the strainer that is clogged
        /// Its flow coefficient falls in proportion.
        strainer_clogged: Fraction, BelowOne, "clogged share of the strainer in the {}", or none;
    }
}

part! {
    /// A check valve that passes flow.
    pub struct CheckValve {
        /// flow coefficient of the open check valve in the line
        check_valve_kv: FlowCoefficient, Positive, "flow coefficient of the check valve in the {}", usually 1e-8 to 0.3, or none;
        /// differential that holds the check valve open, lost at any flow
        check_valve_opening: PressureDifference, NotNegative, "opening differential of the check valve, {}", usually 0.0 to 1e6, or none;
    }
}

/// Fittings with a datum of their own, beside the loss coefficients.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Fittings {
    /// Strainer, if there is one.
    pub strainer: Option<Strainer>,
    /// Check valve, if there is one.
    pub check_valve: Option<CheckValve>,
}
