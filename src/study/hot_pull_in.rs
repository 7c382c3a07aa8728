//! The maximum operating pressure differential as the trade states it: against what does the magnet still lift its armature with
//! a hot winding on low voltage?

use super::coil_voltage::{applied, on_voltage};
use crate::physics::installation::Installation;
use crate::physics::parts::Valve;
use crate::scenario::Scenario;
use crate::simulate::coil_heat::held;
use crate::units::{Dimension, text};

/// Share of its voltage on which a coil must still do its work: −15 %, as public data sheets and IEC 60730-2-8 have it (from memory).
pub const LOW_VOLTAGE: f64 = 0.85;

/// The voltage of that share, V, as the supply is stated: of the rated one, else of that applied.
pub fn low_voltage(scenario: &Scenario) -> f64 {
    let stated = scenario.valve.coil.supply.stated();
    // A winding rated for direct voltage behind a rectifier is rated for the mean.
    LOW_VOLTAGE * scenario.rated_voltage.map_or(stated, |rated| rated * stated / applied(scenario))
}

/// Highest differential against which the magnet lifts the armature on low voltage with its winding at a temperature (K), Pa.
///
/// None of a normally open valve, which its spring opens.
pub fn hot_low_differential(scenario: &Scenario, installation: &Installation, temperature: f64) -> Option<f64> {
    if scenario.valve.normally_open() {
        return None;
    }
    let coil = on_voltage(&scenario.valve.coil, low_voltage(scenario));
    let pull = held(&Valve { coil, ..scenario.valve.clone() }, 0.0, temperature).mean_pull;
    Some(installation.opening_differential(pull)).filter(|limit| limit.is_finite())
}

/// What it says against the circuit's differential, in a sentence; none where the magnet lifts all the same.
pub fn hot_low_objection(scenario: &Scenario, hot_low: f64, temperature: f64) -> Option<String> {
    let differential = scenario.differential();
    (differential > 0.0 && hot_low < differential).then(|| {
        let able = if hot_low > 0.0 {
            format!("is {}", text(hot_low, Dimension::PressureDifference))
        } else {
            "is none: it does not lift the armature at all".to_owned()
        };
        format!(
            "with its winding at {} and on {} (−15 %) the maximum operating pressure differential (MOPD) {able}, and the circuit \
             has {}: hot and on low voltage the valve will not open",
            text(temperature, Dimension::Temperature),
            text(low_voltage(scenario), Dimension::Voltage),
            text(differential, Dimension::PressureDifference)
        )
    })
}
