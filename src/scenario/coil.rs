//! The coil: winding, supply, and what stands between.

use super::defaults;
use super::model::Scenario;
use super::reader::Reader;
use super::vocabulary::{COIL_SIDE, MAINS_SIDE, join};
use crate::key::{Key, Stated};
use crate::physics::parts::{
    Bounce, Cable, Coil, CoilTemperature, ContactSide, Economiser, Feed, Suppressor, Transformer, Voltage,
};
use crate::physics::valve::feed::open_circuit_factor;
use crate::units::{Dimension, text};

/// All of the coil.
pub(super) fn read(reader: &mut Reader<'_>, medium: Option<f64>) -> Coil {
    let supply = reader.one_of("the voltage", Voltage::WAYS);
    let temperature = temperature(reader, medium);
    let coil = Coil::read(&mut reader.table("valve.coil"));
    let feed = feed(reader, &supply);
    coil(supply, feed, temperature)
}

/// How hot the winding is; the medium that a network meets has the fluid's temperature (K), where that is known.
fn temperature(reader: &mut Reader<'_>, medium: Option<f64>) -> CoilTemperature {
    const MEDIUM: &str = "valve.coil.network.medium";
    let key = CoilTemperature::WAYS[2].keys.iter().find(|key| join("valve.coil.network", key.name) == MEDIUM);
    let known = key.copied().zip(medium).filter(|_| reader.states("valve.coil.network") && !reader.states(MEDIUM));
    if let Some((_, temperature)) = known {
        reader.derived(MEDIUM, temperature, Dimension::Temperature, "the fluid's own");
    }
    reader.one_of_knowing("the winding temperature", CoilTemperature::WAYS, known.as_slice())
}

fn feed(reader: &mut Reader<'_>, supply: &Voltage) -> Feed {
    let contact = contact(reader, supply);
    let cable = table(reader, "valve.coil.cable", defaults::CABLE, Cable::read);
    Feed {
        suppressor: suppressor(reader, contact),
        contact,
        cable,
        transformer: table(reader, "valve.coil.transformer", &[], Transformer::read),
        economiser: table(reader, "valve.coil.economiser", &[], Economiser::read),
        bounce: table(reader, "valve.coil.bounce", &[], Bounce::read),
    }
}

/// A part that may be left out.
fn table<T>(
    reader: &mut Reader<'_>,
    path: &'static str,
    or: defaults::Defaults,
    read: fn(&mut dyn Stated) -> T,
) -> Option<T> {
    reader.states(path).then(|| read(&mut reader.table(path).or(or)))
}

/// Rectifiers sit in the coil's plug, behind the contact, unless the other is stated: common practice, no source.
fn contact(reader: &mut Reader<'_>, supply: &Voltage) -> ContactSide {
    if supply.rectifier().is_none() {
        reader.unused(&["valve.coil.contact"], "without a rectifier there is only one side for the contact to be on");
        return ContactSide::Coil;
    }
    match reader.word("valve.coil.contact") {
        Some(COIL_SIDE) => ContactSide::Coil,
        Some(MAINS_SIDE) | Some(_) | None => ContactSide::Mains,
    }
}

const SWITCH_OFF: [&str; 4] = [
    "valve.coil.clamp_resistance",
    "valve.coil.suppressor_diode",
    "valve.coil.clamp_voltage",
    "valve.coil.arc_voltage",
];

fn suppressor(reader: &mut Reader<'_>, contact: ContactSide) -> Option<Suppressor> {
    match contact {
        ContactSide::Mains => {
            let why = "the contact is on the mains side of the rectifier, through whose diodes the current runs on as it is switched \
                       off; with `contact = \"coil side\"` it would go this way";
            reader.unused(&SWITCH_OFF, why);
            None
        }
        ContactSide::Coil => {
            let way = if reader.states("valve.coil") { reader.needed_choice("the switch-off path") } else { None };
            // The first way is a number of the coil itself.
            let way = Suppressor::WAYS.get(way?.checked_sub(1)?)?;
            Some((way.read)(&mut reader.table("valve.coil")))
        }
    }
}

/// What of the coil does not go together.
pub(super) fn check(scenario: &Scenario, reader: &mut Reader<'_>) {
    let coil = &scenario.valve.coil;
    ring(coil, reader);
    switching_off(coil, reader);
    if coil.feed.transformer.is_some() && coil.supply.mains_frequency().is_none() {
        let message =
            "a transformer gives no direct voltage: state what is behind it, [valve.coil.alternating] or a rectifier";
        reader.problem(&stated_in(reader, "valve.coil.transformer", Transformer::KEYS), message);
    }
    if coil.supply.alternates() {
        on_alternating(coil, reader);
    }
}

/// A ring belongs to alternating current.
fn ring(coil: &Coil, reader: &mut Reader<'_>) {
    let message = match coil.supply {
        Voltage::Alternating { .. } => return,
        Voltage::Direct { .. } => {
            "on direct voltage a shading ring does not help to hold the armature; it only slows the magnet"
        }
        Voltage::Bridge { .. } | Voltage::HalfWave { .. } => {
            "behind a rectifier the current itself does not fall to nothing, and a shading ring has little to do; it slows the magnet"
        }
    };
    if coil.shading_ring.is_some() {
        reader.warn("valve.coil.shading_ring", message);
    }
}

fn switching_off(coil: &Coil, reader: &mut Reader<'_>) {
    let volts = |value: f64| text(value, Dimension::Voltage);
    let alternates = coil.supply.alternates();
    let swings = alternates || coil.supply.rectifier().is_some();
    let highest =
        coil.supply.stated() * open_circuit_factor(coil) * if swings { std::f64::consts::SQRT_2 } else { 1.0 };
    match coil.feed.suppressor {
        Some(Suppressor::Diode { .. }) if alternates => {
            let message = "a diode across a coil on alternating voltage shorts every other half wave: a varistor (`clamp_voltage`) or \
                           a resistance (`clamp_resistance`) works in both directions of the current";
            reader.problem("valve.coil.suppressor_diode", message);
        }
        Some(Suppressor::Clamp { clamp_voltage }) if clamp_voltage < highest => {
            let message = format!(
                "{} is below the {} that the supply itself reaches: it would conduct all the time and burn out; choose a clamping \
                 voltage above that",
                volts(clamp_voltage),
                volts(highest)
            );
            reader.problem("valve.coil.clamp_voltage", message);
        }
        Some(Suppressor::Arc { arc_voltage }) if arc_voltage < PASCHEN_MINIMUM => {
            let message = format!(
                "no gap in air breaks down below some {}; a standing arc holds less, but the current of a valve's coil seldom feeds one",
                volts(PASCHEN_MINIMUM)
            );
            reader.warn("valve.coil.arc_voltage", message);
        }
        Some(_) | None => {}
    }
}

/// Least voltage at which a gap in air breaks down, V. Source: F. Paschen (1889) by way of handbooks, from memory (327 V).
const PASCHEN_MINIMUM: f64 = 330.0;

fn on_alternating(coil: &Coil, reader: &mut Reader<'_>) {
    if coil.feed.economiser.is_some() {
        let message = "an economiser chops a direct or rectified voltage; on alternating voltage the armature's own inductance lowers \
                       the current once it is seated: remove this table, or state [valve.coil.bridge]";
        reader.problem(&stated_in(reader, "valve.coil.economiser", Economiser::KEYS), message);
    }
    if coil.coercive_force.is_some_and(|force| force > 0.0) {
        let message = "an alternating current magnetises the iron anew in each half wave, and what is left after switching off is not \
                       computed: leave `coercive_force` out (\"none\")";
        reader.problem("valve.coil.coercive_force", message);
    }
}

/// The first of a table's keys that is stated.
fn stated_in(reader: &Reader<'_>, table: &str, keys: &[Key]) -> String {
    let mut paths = keys.iter().map(|key| super::vocabulary::join(table, key.name));
    paths.find(|path| reader.states(path)).unwrap_or_else(|| table.to_owned())
}
