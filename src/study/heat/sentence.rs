//! The study in sentences.

use super::study::HeatStudy;
use crate::physics::coil_heat::ThermalNetwork;
use crate::physics::valve::copper::winding_resistance;
use crate::portable::Portable;
use crate::scenario::Scenario;
use crate::study::coil_heat::{Armature, CoilHeat, Found};
use crate::study::hot_pull_in::low_voltage;
use crate::units::{Dimension, text};
use crate::verdict::CoilLimit;

/// A swing of the winding within a cycle that is worth a word, K. Judgement.
const NOTED_SWING: f64 = 2.0;

/// The verdict first, then what it hangs on, then what can be done with it.
pub(super) fn findings(study: &HeatStudy, scenario: &Scenario, coil: &CoilHeat) -> Vec<String> {
    let own = &study.own;
    let mut all = vec![verdict(study)];
    all.extend(if_out(study, coil));
    all.extend(hangs_on(own.found(), coil));
    if let Some(network) = coil.network() {
        all.extend(tenth_more(study, coil, network));
    }
    all.extend(warm_up(own.found()));
    if own.armature == Armature::ComesIn {
        all.push(pull_ins(study, coil));
    }
    all.extend(differential(study, scenario));
    all.push(ohmmeter(scenario, own.found()));
    all
}

fn celsius(value: f64) -> String {
    text((value - 273.15).round() + 273.15, Dimension::Temperature)
}

fn kelvin(value: f64) -> String {
    text(value.round(), Dimension::TemperatureDifference)
}

fn share(value: f64) -> String {
    text((1000.0 * value).round() / 1000.0, Dimension::Fraction)
}

fn about(value: f64, dimension: Dimension) -> String {
    if value == 0.0 || !value.is_finite() {
        return text(value, dimension);
    }
    let step = 10_f64.power(value.abs().decimal_logarithm().floor() - 1.0);
    text((value / step).round() * step, dimension)
}

/// A time to the whole minute, where it is minutes.
fn minutes(time: f64) -> String {
    let rounded = if time >= 120.0 { (time / 60.0).round() * 60.0 } else { time.round() };
    text(rounded, Dimension::Time)
}

fn duty(study: &HeatStudy) -> String {
    format!("{} and {} on", text(study.own.cycle_rate, Dimension::CycleRate), share(study.own.on_share))
}

fn limit_words(limit: CoilLimit) -> String {
    match limit.class {
        None => format!("its limit is {}", celsius(limit.temperature)),
        Some((name, hottest)) => format!(
            "class {name} bears {} at the hottest spot, so {} as a mean by resistance",
            celsius(hottest),
            celsius(limit.temperature)
        ),
    }
}

fn verdict(study: &HeatStudy) -> String {
    let found = study.own.found();
    let swing = if found.highest - found.mean > NOTED_SWING {
        format!(" ({} on average)", celsius(found.mean))
    } else {
        String::new()
    };
    let armature = match study.own.armature {
        Armature::ComesIn => "",
        Armature::StaysOut if study.own.outside.is_none() => "",
        Armature::StaysOut => " with its armature out, as in the simulated run",
    };
    let reaches = format!("The winding reaches {}{swing} at {}{armature}", celsius(found.highest), duty(study));
    match study.limit {
        None => format!(
            "{reaches}; no limit is stated (limits.insulation_class or limits.coil_temperature), so it is not judged."
        ),
        Some(limit) if found.highest > limit.temperature => {
            let over = kelvin(found.highest - limit.temperature);
            format!("{reaches}, {over} too much: {}. Its insulation will fail early.", limit_words(limit))
        }
        Some(limit) => {
            let left = kelvin(limit.temperature - found.highest);
            format!("{reaches}: {}, which leaves {left}.", limit_words(limit))
        }
    }
}

/// The other state of the armature.
fn if_out(study: &HeatStudy, coil: &CoilHeat) -> Option<String> {
    let out = study.own.outside?;
    let times = about(coil.inrush(out.mean), Dimension::Number);
    if study.own.armature == Armature::StaysOut {
        let inside = study.own.inside;
        let judged = study.limit.map_or(String::new(), |limit| {
            let lives = inside.highest <= limit.temperature;
            if lives { ": it survives".into() } else { ": too hot as well, by its duty".into() }
        });
        let after =
            passes(study, coil).map_or(String::new(), |time| format!("; from cold it passes its limit after {time}"));
        return Some(format!(
            "With the armature out the inrush current keeps flowing, and the winding gets {times} times the heat of holding{after}. With \
             its armature in it would reach {}{judged}.",
            celsius(inside.highest)
        ));
    }
    let judged = match study.limit {
        None => String::new(),
        Some(limit) if out.highest > limit.temperature => {
            let after = passes(study, coil)
                .map_or(String::new(), |time| format!("; from cold it would pass its limit after {time}"));
            format!("{after}, and its insulation would fail early")
        }
        Some(_) => ", which its insulation bears".into(),
    };
    Some(format!(
        "Were its armature to stay out (jammed, or, in a normally closed valve, held by too much differential), the winding would get \
         {times} times the heat of \
         holding and reach {}{judged}.",
        celsius(out.highest)
    ))
}

/// When a winding whose armature stays out passes its limit.
fn passes(study: &HeatStudy, coil: &CoilHeat) -> Option<String> {
    let own = &study.own;
    let time = coil.time_until(own.cycle_rate, own.on_share, Armature::StaysOut, study.limit?.temperature);
    time.map(minutes)
}

/// Where the rise comes from.
fn hangs_on(found: Found, coil: &CoilHeat) -> Option<String> {
    let body = found.body?;
    let idle = coil.idle();
    let power = |value: f64| about(value, Dimension::Power);
    // Direct current heats no ring.
    let iron = if found.iron_power > 1e-3 * found.winding_power {
        format!(", shading ring and eddy currents {}", power(found.iron_power))
    } else {
        String::new()
    };
    Some(format!(
        "De-energised, the coil is at {}. From there the body rises by {} (mean heat: winding {}{iron}), and the winding lies {} above \
         the body.",
        celsius(idle),
        kelvin(body - idle),
        power(found.winding_power),
        kelvin(found.mean - body)
    ))
}

/// What a tenth more of each resistance makes of it.
fn tenth_more(study: &HeatStudy, coil: &CoilHeat, network: ThermalNetwork) -> Option<String> {
    let own = &study.own;
    let at = |network: ThermalNetwork| {
        coil.with_network(network).found(own.cycle_rate, own.on_share, own.armature).highest - own.found().highest
    };
    let changes = [
        (at(ThermalNetwork { winding_to_body: 1.1 * network.winding_to_body, ..network }), "from winding to body"),
        (at(ThermalNetwork { body_to_ambient: 1.1 * network.body_to_ambient, ..network }), "from body to ambient"),
        (at(ThermalNetwork { body_to_medium: 1.1 * network.body_to_medium, ..network }), "from body to medium"),
    ];
    let words = |(change, between): &(f64, &str)| format!("{:+.1} K {between}", change);
    let mut sorted = changes.to_vec();
    sorted.sort_by(|a, b| b.0.abs().total_cmp(&a.0.abs()));
    let list: Vec<String> = sorted.iter().map(words).collect();
    let air = at(ThermalNetwork { ambient: network.ambient + 10.0, ..network });
    Some(format!(
        "What it depends on: 10 % more thermal resistance adds {}; air 10 K warmer adds {air:+.1} K.",
        list.join(", ")
    ))
}

fn warm_up(found: Found) -> Option<String> {
    let time = found.warm_up?;
    let swing = found.highest - found.lowest;
    let within = if swing > NOTED_SWING {
        format!(" In the long run it swings by {} within each cycle.", kelvin(swing))
    } else {
        String::new()
    };
    Some(format!("From cold the winding covers 63 % of its rise in {}.{within}", minutes(time)))
}

/// What the pull-ins add at the own rate.
fn pull_ins(study: &HeatStudy, coil: &CoilHeat) -> String {
    let own = &study.own;
    let time = about(study.pull_in, Dimension::Time);
    let from = if study.pull_in_simulated { "as simulated" } else { "assumed, since no run shows it" };
    if own.outside.is_none() {
        return "On direct current the armature does not matter to the heat: out or in, the winding draws the same."
            .into();
    }
    let without = coil.with_pull_in(0.0).found(own.cycle_rate, own.on_share, Armature::ComesIn);
    let added = own.inside.mean - without.mean;
    let told = if added < 0.5 { "less than 1 K".to_owned() } else { kelvin(added) };
    format!("The inrush current of the pull-ins ({time} each, {from}) adds {told} at this rate.")
}

/// What the hot winding leaves of the magnet.
fn differential(study: &HeatStudy, scenario: &Scenario) -> Option<String> {
    let limit = study.own.hot_low_differential?;
    let differential = study.own.differential;
    let bar = |value: f64| about(value, Dimension::PressureDifference);
    let against = if limit > 0.0 { bar(limit) } else { "none".into() };
    let judged = if differential <= 0.0 {
        String::new()
    } else if limit < differential {
        format!("; the circuit has {}: then it will not open", bar(differential))
    } else {
        format!("; the circuit has {}", bar(differential))
    };
    Some(format!(
        "Maximum operating pressure differential (MOPD) with the winding at {} and on {} (−15 %): {against}{judged}.",
        celsius(study.own.inside.mean),
        text(low_voltage(scenario), Dimension::Voltage)
    ))
}

/// How to check it on site.
fn ohmmeter(scenario: &Scenario, found: Found) -> String {
    let cold = scenario.valve.coil.resistance;
    format!(
        "To check it: the winding has {} at 20 °C; measured with the coil isolated, straight after a long time at this duty, it should \
         read {}.",
        text(cold, Dimension::Resistance),
        three_figures(winding_resistance(cold, found.mean))
    )
}

fn three_figures(value: f64) -> String {
    let step = 10_f64.power(value.abs().decimal_logarithm().floor() - 2.0);
    text((value / step).round() * step, Dimension::Resistance)
}

/// What was left out.
pub(super) fn remarks(study: &HeatStudy, coil: &CoilHeat) -> Vec<String> {
    let mut all = Vec::new();
    if coil.network().is_none() {
        all.push(
            "With one thermal resistance there is neither a swing within a cycle nor a warm-up, and the heat of shading ring and eddy \
             currents is left out: slow cycles get hotter than shown. [valve.coil.network] includes all three."
                .to_owned(),
        );
    }
    if study.limit.is_some_and(|limit| limit.class.is_some()) {
        all.push(
            "Limits of classes by IEC 60085; the mean by resistance is kept 5 K below, as in DIN VDE 0580. A thick winding on direct \
             voltage may deserve 10 K: state limits.coil_temperature then."
                .to_owned(),
        );
    }
    all.push(
        "Above some 250 °C hardly any winding lasts; take such numbers only as far too hot. Left out: the field's energy at switching \
         off, how long a \
         direct current takes to rise, draught and sun."
            .to_owned(),
    );
    all
}
