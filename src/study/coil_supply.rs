//! What stands between mains and coil, told with what it does to this coil.

use super::coil_voltage::mean_share;
use super::wrong_supply::{WrongSupply, wrong_supply};
use crate::physics::parts::{Coil, ContactSide, Feed, Suppressor};
use crate::physics::valve::feed::{open_circuit_factor, source_resistance};
use crate::scenario::Scenario;
use crate::simulate::coil_heat::{held, winding_temperature};
use crate::units::{Dimension, text};

/// Usual lower tolerance of a coil's voltage. Common practice, no source.
const LEAST_SHARE: f64 = 0.85;

/// Effective voltage of the source without a load, V; none where nothing stands before the coil.
pub fn unloaded_voltage(scenario: &Scenario) -> Option<f64> {
    let coil = &scenario.valve.coil;
    (source_resistance(coil) > 0.0).then(|| coil.supply.stated() * open_circuit_factor(coil))
}

/// All that is to be told of it, a sentence each; nothing of a coil that is fed directly, by its own kind of supply.
pub fn remarks(scenario: &Scenario) -> Vec<String> {
    let kind = wrong_supply(scenario).map(|wrong| of_kind(scenario, &wrong));
    let coil = &scenario.valve.coil;
    kind.into_iter()
        .chain(before(scenario))
        .chain(rectified(coil))
        .chain(switching_off(coil))
        .chain(held_on(coil))
        .collect()
}

fn percent(share: f64) -> String {
    if share > 2.0 {
        return format!("{share:.1} times");
    }
    let digits = usize::from(share < 0.0995);
    format!("{:.digits$} %", 100.0 * share)
}

fn volts(value: f64) -> String {
    text(value, Dimension::Voltage)
}

fn of_kind(scenario: &Scenario, wrong: &WrongSupply) -> String {
    let coil = &scenario.valve.coil;
    let why = match (coil.supply.alternates(), scenario.rated_frequency) {
        (true, Some(0.0)) => {
            let ring = if coil.shading_ring.is_none() {
                ", and without a shading ring the armature leaves the pole at each zero"
            } else {
                ""
            };
            format!("its inductance limits the current{ring}")
        }
        (true, _) => "flux goes as voltage over frequency, and pull as its square".to_owned(),
        (false, _) => "no inductance limits its current there, only the resistance of its wire".to_owned(),
    };
    format!(
        "{}: {why}. With the armature seated and the winding cold its current is {}, its pull {} and its heat {} of those on its own \
         supply",
        wrong.words,
        percent(wrong.current),
        percent(wrong.pull),
        percent(wrong.heat)
    )
}

/// Cable and transformer: what is left at the coil while the armature is not yet drawn in.
fn before(scenario: &Scenario) -> Option<String> {
    let coil = &scenario.valve.coil;
    let resistance = source_resistance(coil);
    if resistance.is_nan() || resistance <= 0.0 {
        return None;
    }
    let what = match (&coil.feed.transformer, &coil.feed.cable) {
        (Some(_), Some(_)) => "transformer and cable",
        (Some(_), None) => "the transformer",
        (None, _) => "the cable",
    };
    let open = held(&scenario.valve, 0.0, winding_temperature(scenario)).voltage;
    // A rectified voltage is told by what the coil would have without a resistance before it.
    let without = {
        let bare = Coil { feed: Feed { cable: None, transformer: None, ..coil.feed.clone() }, ..coil.clone() };
        let valve = crate::physics::parts::Valve { coil: bare, ..scenario.valve.clone() };
        held(&valve, 0.0, winding_temperature(scenario)).voltage
    };
    let share = open / without;
    let short = if share < LEAST_SHARE { "; most coils need 85 % at least" } else { "" };
    Some(format!(
        "{what}: {} in series with the coil; until the armature is pulled in, {} is left at the coil, {} of the {} of a supply without \
         resistance{short}",
        text(resistance, Dimension::Resistance),
        volts(open),
        percent(share),
        volts(without)
    ))
}

fn rectified(coil: &Coil) -> Option<String> {
    let rectifier = coil.supply.rectifier()?;
    let mean = coil.supply.stated() * open_circuit_factor(coil) * mean_share(&coil.supply) - rectifier.forward;
    let ripple = if rectifier.both_half_waves { "twice the mains frequency" } else { "the mains frequency" };
    Some(format!("behind the rectifier the coil gets a mean of {}, rippling at {ripple}", volts(mean)))
}

fn switching_off(coil: &Coil) -> Option<String> {
    let rectified = coil.supply.rectifier().is_some();
    if rectified && coil.feed.contact == ContactSide::Mains {
        return Some(
            "switched on the mains side, the current runs on through the rectifier's diodes: the magnet lets go as late as with a \
             diode across the coil"
                .to_owned(),
        );
    }
    match coil.feed.suppressor {
        Some(Suppressor::Arc { arc_voltage }) => Some(format!(
            "without a suppressor the gap of the opening contact is assumed to hold {} until the current has died. What the arc does to \
             the contact, and spikes above that, are not computed",
            volts(arc_voltage)
        )),
        Some(Suppressor::Diode { .. } | Suppressor::Clamp { .. }) | None => None,
    }
}

fn held_on(coil: &Coil) -> Option<String> {
    let economiser = coil.feed.economiser.as_ref()?;
    Some(format!(
        "{} after switching on the economiser leaves {} of the voltage: that share of the current, and {} of the heat",
        text(economiser.delay, Dimension::Time),
        percent(economiser.share),
        percent(economiser.share * economiser.share)
    ))
}
