//! What is known of a scenario without a run.

use super::hot_pull_in::{hot_low_differential, hot_low_objection};
use super::judgement::hand;
use crate::indicator::Indicators;
use crate::physics::parts::Voltage;
use crate::scenario::Scenario;
use crate::simulate::coil_heat::winding_temperature;
use crate::simulate::throttle::prepare;
use crate::simulate::{RunError, install, transits};
use crate::units::{Dimension, text};

/// What the values by hand say against the scenario, in a sentence.
pub fn objection(scenario: &Scenario, by_hand: &Indicators) -> Option<String> {
    let differential = scenario.differential();
    let short = by_hand.highest_opening_differential.filter(|limit| differential > 0.0 && *limit < differential);
    let told = |value: f64| text(value, Dimension::PressureDifference);
    short.map(|limit| {
        let able = if limit > 0.0 {
            format!(
                "lifts the armature off its seat against {} at most, and the circuit has {}",
                told(limit),
                told(differential)
            )
        } else {
            "cannot lift the armature off its seat even without a differential".to_owned()
        };
        let mean = match scenario.valve.coil.supply {
            Voltage::Alternating { .. } => ", by its mean pull,",
            Voltage::Direct { .. } => "",
        };
        format!("by hand the valve will not open: the magnet{mean} {able}")
    })
}

/// What they say of a hot winding on low voltage, in a sentence; none where the magnet lifts all the same, or not even on its voltage.
pub fn low_voltage_objection(scenario: &Scenario, by_hand: &Indicators) -> Option<String> {
    let (limit, temperature) = by_hand.hot_low_opening_differential.zip(by_hand.coil_temperature)?;
    hot_low_objection(scenario, limit, temperature).filter(|_| objection(scenario, by_hand).is_none())
}

/// Derived data and values by hand, without a run.
pub fn by_hand(scenario: &Scenario) -> Result<Indicators, RunError> {
    let ready = prepare(scenario)?;
    let temperature = winding_temperature(&ready);
    let installation = install(&ready, temperature);
    let hand = hand(&ready, &installation, temperature);
    Ok(Indicators {
        lift_off_differential: hand.lift_off_differential,
        full_lift_differential: hand.full_lift_differential,
        highest_opening_differential: hand.highest_opening_differential,
        gearing_number: hand.gearing_number,
        coil_temperature: Some(temperature),
        hot_low_opening_differential: hot_low_differential(&ready, &installation, temperature),
        wave_return_time: Some(2.0 * transits(&ready).0),
        ..Indicators::default()
    })
}
