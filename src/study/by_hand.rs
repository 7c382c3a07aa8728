//! What is known of a scenario without a run.

use super::judgement::{drawn_by, hand, needed_to_draw};
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
    let without_link = || undrawn(scenario, by_hand);
    short.map_or_else(without_link, |limit| {
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
        Some(format!("by hand the valve will not open: the magnet{mean} {able}"))
    })
}

/// A magnet that lifts the armature of a forced lift, but does not draw its main stage.
fn undrawn(scenario: &Scenario, by_hand: &Indicators) -> Option<String> {
    let (link, temperature) = (scenario.valve.link()?, by_hand.coil_temperature?);
    let pull = drawn_by(&scenario.valve, link, temperature);
    let needed = needed_to_draw(&scenario.valve, link);
    let told = |force: f64| text(force, Dimension::Force);
    (pull < needed).then(|| {
        format!(
            "by hand the magnet does not draw the main stage off its seat: with the link taut it pulls {}, and armature and stage take {}; \
             only a differential can open it",
            told(pull),
            told(needed)
        )
    })
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
        wave_return_time: Some(2.0 * transits(&ready).0),
        ..Indicators::default()
    })
}
