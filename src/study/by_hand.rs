//! What is known of a scenario without a run.

use super::hot_pull_in::{hot_low_differential, hot_low_objection};
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
    if scenario.valve.normally_open() {
        return normally_open(scenario, by_hand);
    }
    let differential = scenario.differential();
    let short = by_hand.highest_opening_differential.filter(|limit| differential > 0.0 && *limit < differential);
    let told = |value: f64| text(value, Dimension::PressureDifference);
    short
        .map(|limit| {
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
                Voltage::Alternating { .. } | Voltage::Bridge { .. } | Voltage::HalfWave { .. } => {
                    ", by its mean pull,"
                }
                Voltage::Direct { .. } => "",
            };
            format!("by a hand calculation the valve will not open: the magnet{mean} {able}")
        })
        .or_else(|| undrawn(scenario, by_hand))
}

/// What they say of a hot winding on low voltage, in a sentence; none where the magnet lifts all the same, or not even on its voltage.
pub fn low_voltage_objection(scenario: &Scenario, by_hand: &Indicators) -> Option<String> {
    let (limit, temperature) = by_hand.hot_low_opening_differential.zip(by_hand.coil_temperature)?;
    hot_low_objection(scenario, limit, temperature).filter(|_| objection(scenario, by_hand).is_none())
}

/// The same of a normally open valve: its spring against the pressure, its magnet against the spring.
fn normally_open(scenario: &Scenario, by_hand: &Indicators) -> Option<String> {
    let differential = scenario.differential();
    let told = |value: f64| text(value, Dimension::PressureDifference);
    let weak = |margin: Option<f64>, place: &str| {
        margin.filter(|margin| *margin < 1.0).map(|margin| {
            let share = text((100.0 * margin).round() / 100.0, Dimension::Fraction);
            format!("the valve will not shut without a differential: the magnet's mean pull {place} is only {share} of the force that it \
                     must overcome")
        })
    };
    let stuck = by_hand.highest_opening_differential.filter(|limit| differential > 0.0 && *limit < differential);
    let stuck = stuck.map(|limit| {
        let able = if limit > 0.0 {
            format!(
                "lifts the armature off its seat against {} at most, and the circuit has {}",
                told(limit),
                told(differential)
            )
        } else {
            "does not lift the armature off its seat even without a differential".to_owned()
        };
        format!("the valve, once shut, stays shut without current: its spring {able}")
    });
    let all = [
        stuck,
        weak(by_hand.pull_in_margin, "over the full gap").or_else(|| weak(by_hand.holding_margin, "at the shut seat")),
    ];
    let said: Vec<String> = all.into_iter().flatten().collect();
    (!said.is_empty()).then(|| format!("by a hand calculation {}", said.join("; and ")))
}

/// A magnet that lifts the armature of a forced lift, but does not draw its main stage.
fn undrawn(scenario: &Scenario, by_hand: &Indicators) -> Option<String> {
    let (link, temperature) = (scenario.valve.link()?, by_hand.coil_temperature?);
    let pull = drawn_by(&scenario.valve, link, temperature);
    let needed = needed_to_draw(&scenario.valve, link);
    let told = |force: f64| text(force, Dimension::Force);
    (pull < needed).then(|| {
        format!(
            "by a hand calculation the magnet does not draw the main stage off its seat: with the link taut it pulls {}, and armature \
             and stage take {}; \
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
        inrush_current: hand.inrush_current,
        inrush_apparent_power: hand.inrush_apparent_power,
        gearing_number: hand.gearing_number,
        pull_in_margin: hand.pull_in_margin,
        holding_margin: hand.holding_margin,
        coil_temperature: Some(temperature),
        hot_low_opening_differential: hot_low_differential(&ready, &installation, temperature),
        wave_return_time: Some(2.0 * transits(&ready).0),
        ..Indicators::default()
    })
}
