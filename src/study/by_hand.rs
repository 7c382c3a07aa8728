//! What is known of a scenario without a run.

use super::judgement::hand;
use crate::indicator::Indicators;
use crate::scenario::Scenario;
use crate::simulate::coil_heat::winding_temperature;
use crate::simulate::throttle::prepare;
use crate::simulate::{RunError, install, transits};

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
        wave_return_time: Some(2.0 * transits(&ready).0),
        ..Indicators::default()
    })
}
