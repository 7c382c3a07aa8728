//! The answer in sentences, each with its computed numbers.

use super::change::{Answer, Change};
use super::influence::WEAK;
use super::parameter::{BLEED, FLOW, INLET_GAS};
use super::{Closing, ClosingStudy, Goal};
use crate::physics::fluid::Phase;
use crate::scenario::Scenario;
use crate::units::{Dimension, UnitSystem, parse, show};
use crate::verdict::Behaviour;

/// Below this mean lift the valve floats.
const FULLY_OPEN: f64 = 0.97;

/// A value for the eye, three figures.
pub(super) fn said(value: f64, dimension: Dimension) -> String {
    let power = 10_f64.powi(2 - value.abs().max(f64::MIN_POSITIVE).log10().floor() as i32);
    let short = if value == 0.0 || !value.is_finite() { value } else { (value * power).round() / power };
    let (number, unit) = show(short, dimension, UnitSystem::Si);
    if unit.is_empty() { number } else { format!("{number} {unit}") }
}

/// Four figures: limits are met by little.
fn pressure(value: f64) -> String {
    let (number, unit) = show(value, Dimension::AbsolutePressure, UnitSystem::Si);
    format!("{number} {unit}")
}

/// Two values in the unit that suits the larger; "none" for nought.
fn pair(a: f64, b: f64, dimension: Dimension) -> (String, String) {
    let (_, unit) = show(a.max(b), dimension, UnitSystem::Si);
    let one = parse(&format!("1 {unit}"), dimension, f64::NAN).unwrap_or(1.0);
    let written = |value: f64| match value {
        0.0 => "none".to_owned(),
        _ => format!("{} {unit}", said(value / one, Dimension::Number)),
    };
    (written(a), written(b))
}

fn rise(value: f64) -> String {
    said(value, Dimension::PressureDifference)
}

fn time(value: f64) -> String {
    said(value, Dimension::Time)
}

fn length(value: f64) -> String {
    said(value, Dimension::Length)
}

/// What was found.
pub(super) fn findings(study: &ClosingStudy) -> Vec<String> {
    let mut all = vec![now(study), aimed(study)];
    all.extend(study.change(BLEED).map(|change| bleed(study, change)));
    all.extend(study.changes.iter().filter(|c| c.path != BLEED).map(|change| other(study, change)));
    all.extend(study.changes.iter().filter_map(unevenness));
    all.push(setting(study));
    all
}

/// How the flow stops: time, and its relation to the return of the wave.
fn stop(closing: &Closing) -> String {
    match closing.effective_time {
        Some(t) => format!(
            "the flow stops (90 to 10 %) in {}, {} times 2L/a = {}, and {:.0} % of it within the steepest 2L/a",
            time(t),
            said(t / closing.wave_return, Dimension::Number),
            time(closing.wave_return),
            100.0 * closing.steepest_stop
        ),
        None => format!("the flow was below 90 % of its mean at switching off; 2L/a = {}", time(closing.wave_return)),
    }
}

fn height(closing: &Closing) -> String {
    format!(
        "{} at the inlet, {} above rest, {:.2} of ρ·a·v = {}",
        pressure(closing.peak),
        rise(closing.surge),
        closing.surge_ratio,
        rise(closing.sudden_rise)
    )
}

fn now(study: &ClosingStudy) -> String {
    let today = &study.today;
    format!(
        "Today, at {} in the line and a bleed of {}, {}; the peak is {}.",
        said(today.velocity, Dimension::Velocity),
        length(study.bleeds().parameter.today),
        stop(today),
        height(today)
    )
}

fn goal(study: &ClosingStudy) -> String {
    match study.target.goal {
        Goal::Peak(limit) => format!("at most {} at the inlet", pressure(limit)),
        Goal::Surge(limit) => format!("at most {} above rest", rise(limit)),
    }
}

fn aimed(study: &ClosingStudy) -> String {
    let excess = study.target.excess(&study.today);
    let standing = if excess > 0.0 {
        format!("today's peak is {} too high", rise(excess))
    } else {
        format!("today's peak keeps {} below it", rise(-excess))
    };
    format!("Target: {} ({}); {standing}.", goal(study), study.target.source)
}

fn bleed(study: &ClosingStudy, change: &Change) -> String {
    match &change.answer {
        Answer::Solved { value, closing } => format!(
            "A narrower bleed alone does it: {} instead of {}. Then {}; the peak is {}; the valve takes {} to shut.{}",
            length(*value),
            length(change.today),
            stop(closing),
            height(closing),
            time(closing.total_time),
            side_effects(study, closing)
        ),
        Answer::OutOfReach => no_bleed(study, change),
    }
}

/// Why no bleed does it.
fn no_bleed(study: &ClosingStudy, change: &Change) -> String {
    if change.today <= study.least_bleed {
        return format!(
            "The bleed of {} is not wider than the least of {} that is kept free of dirt: it cannot be narrowed.",
            length(change.today),
            length(study.least_bleed)
        );
    }
    let Some((_, least)) = study.bleeds().closings().find(|(v, _)| *v >= study.least_bleed * (1.0 - 1e-9)) else {
        return "No narrower bleed gave a result.".into();
    };
    let reason = match least.effective_time {
        Some(t) if t <= least.wave_return => {
            "a stop within 2L/a is as good as sudden, so the velocity alone sets the peak".to_owned()
        }
        Some(_) => format!(
            "the flow does not fall evenly, and the {:.0} % that stop while the wave is under way make the peak",
            100.0 * least.steepest_stop
        ),
        None => "the flow had fallen before switching off".to_owned(),
    };
    format!(
        "No bleed down to {} (least against dirt) does it. At {} {}; the peak is still {}: {reason}.",
        length(study.least_bleed),
        length(study.least_bleed),
        stop(least),
        height(least)
    )
}

fn dimension(study: &ClosingStudy, change: &Change) -> Dimension {
    let sweep = study.sweeps.iter().find(|sweep| sweep.parameter.path == change.path);
    sweep.map_or(Dimension::Number, |sweep| sweep.parameter.dimension)
}

fn other(study: &ClosingStudy, change: &Change) -> String {
    let dimension = dimension(study, change);
    match &change.answer {
        Answer::Solved { value, closing } => {
            let velocity = match change.path {
                FLOW => format!(" ({} in the line)", said(closing.velocity, Dimension::Velocity)),
                INLET_GAS => " (at the pressure at rest)".into(),
                _ => String::new(),
            };
            let (to, from) = pair(*value, change.today, dimension);
            format!(
                "Alone, {} of {to}{velocity} instead of {from} does it: peak {}.{}",
                change.title,
                pressure(closing.peak),
                side_effects(study, closing)
            )
        }
        Answer::OutOfReach => match &change.best {
            Some((value, closing)) => format!(
                "Alone, {} within {} does not: lowest peak {} at {}.",
                change.title,
                reach(study, change),
                pressure(closing.peak),
                said(*value, dimension)
            ),
            None => format!("Alone, {} gave no result within {}.", change.title, reach(study, change)),
        },
    }
}

fn reach(study: &ClosingStudy, change: &Change) -> String {
    let Some(sweep) = study.sweeps.iter().find(|s| s.parameter.path == change.path) else { return String::new() };
    let parameter = &sweep.parameter;
    let (low, high) = pair(parameter.reach.0, parameter.reach.1, parameter.dimension);
    format!("{low} to {high}")
}

/// Faults that a change brings and that today's valve does not have.
fn side_effects(study: &ClosingStudy, closing: &Closing) -> String {
    let new: Vec<&str> = closing
        .verdict
        .findings
        .iter()
        .filter(|f| f.adverse && f.behaviour != Behaviour::Hammers && !study.today.verdict.has(f.behaviour))
        .map(|f| f.behaviour.words())
        .collect();
    let mut text = if new.is_empty() { String::new() } else { format!(" But the valve then {}.", new.join(", ")) };
    if closing.lift < FULLY_OPEN && study.today.lift >= FULLY_OPEN {
        text += &format!(" It then opens to {:.0} % of its lift only.", 100.0 * closing.lift);
    }
    if closing.uncertain {
        text += " That peak follows a vapour cavity: uncertain.";
    }
    text
}

fn unevenness(change: &Change) -> Option<String> {
    let again = if change.fails_again { ", and further on the target is missed again" } else { "" };
    (change.uneven || change.fails_again).then(|| {
        format!("The peak does not fall evenly along {}: it rises again somewhere on the way{again}.", change.title)
    })
}

/// What sets the closing.
fn setting(study: &ClosingStudy) -> String {
    let mut told: Vec<(&str, f64)> = study.influences.iter().filter_map(|i| i.on_time.map(|n| (i.title, n))).collect();
    told.sort_by(|a, b| b.1.abs().total_cmp(&a.1.abs()));
    let (strong, weak): (Vec<_>, Vec<_>) = told.into_iter().partition(|(_, n)| n.abs() >= WEAK);
    let list = |all: &[(&str, f64)]| {
        all.iter().map(|(title, n)| format!("{title} ({n:+.1})")).collect::<Vec<_>>().join(", ").replace('-', "−")
    };
    let names = weak.iter().map(|(title, _)| *title).collect::<Vec<_>>().join(", ");
    let strong = if strong.is_empty() { "nothing that was varied".to_owned() } else { list(&strong) };
    let weak = if names.is_empty() { String::new() } else { format!(" Hardly any influence: {names}.") };
    format!("What sets the effective closing time here, with its exponent near today's value: {strong}.{weak}")
}

/// What the answer rests on.
pub(super) fn remarks(scenario: &Scenario, study: &ClosingStudy) -> Vec<String> {
    let mut all = Vec::new();
    if let Phase::Gas(_) = scenario.fluid.phase {
        all.push(
            "Gas: the study can tell how fast the valve shuts, how hard it lands and the ρ·a·v rise of the gas itself, which is \
             small. It cannot tell of slugs of liquid or condensate, the usual cause of bangs in gas lines; a slower valve does \
             not cure those."
                .into(),
        );
    }
    if study.today.lift < FULLY_OPEN {
        all.push(format!(
            "Today's valve stands at {:.0} % of its lift before closing: it is not fully open.",
            100.0 * study.today.lift
        ));
    }
    all.extend(swinging(study));
    all.extend(cavities(study));
    let failed: Vec<&str> = study
        .sweeps
        .iter()
        .filter(|s| s.points.iter().any(|p| p.outcome.is_err()))
        .map(|s| s.parameter.title)
        .collect();
    if !failed.is_empty() {
        all.push(format!("Points without a result, with the reason in the table: {}.", failed.join(", ")));
    }
    if study.changes.iter().any(|c| c.path == INLET_GAS && matches!(c.answer, Answer::Solved { .. })) {
        all.push(
            "A gas volume must be kept apart from the liquid by a membrane or piston, or it dissolves or condenses; the model \
             counts it right at the valve's inlet, and any pipe between softens its effect."
                .into(),
        );
    }
    if study.criteria.iter().any(|c| c.name.starts_with("DIN")) {
        all.push(
            "DIN 3553:2019, 4.1.1 is set for water fittings on the standard's own rig (positive surge at most 2 bar immediately \
             upstream, negative surge not below half of the flow pressure); here it is a yardstick on your line."
                .into(),
        );
    }
    all
}

/// A valve that swings while open closes from whatever point of its swing it stands at.
fn swinging(study: &ClosingStudy) -> Option<String> {
    let swings = [Behaviour::Chatters, Behaviour::Flutters, Behaviour::RattlesWithSupply];
    let found = swings.into_iter().find(|behaviour| study.today.verdict.has(*behaviour))?;
    Some(format!(
        "Today's valve {} while open: its closing depends on the instant of switching off, so take these numbers as one of \
         many, and cure that first.",
        found.words()
    ))
}

fn cavities(study: &ClosingStudy) -> Option<String> {
    let today = &study.today;
    if today.inlet_cavity <= 0.0 {
        return None;
    }
    let later = today.later_peak.filter(|p| *p > today.peak).map_or(String::new(), |p| {
        format!(" A later peak of {} is higher than that of the first closure, but uncertain.", pressure(p))
    });
    let first =
        if today.uncertain { "today's peak itself may be its collapse" } else { "the first closure's peak is sound" };
    Some(format!("A vapour cavity opens at the inlet; {first}, what follows its collapse is uncertain.{later}"))
}

/// One sentence to quote.
pub(super) fn quote(study: &ClosingStudy) -> String {
    let today = &study.today;
    if !study.adverse() {
        return format!(
            "The closing peak of {} keeps the target of {}, so no slower closing is needed.",
            pressure(today.peak),
            goal(study)
        );
    }
    let solved = |path: &str| match study.change(path).map(|c| &c.answer) {
        Some(Answer::Solved { value, closing }) => Some((*value, closing.as_ref())),
        _ => None,
    };
    if let Some((value, closing)) = solved(BLEED) {
        let (from, to) = pair(study.bleeds().parameter.today, value, Dimension::Length);
        return format!(
            "Narrowing the bleed from {} to {} alone lowers the closing peak from {} to {} ({}), since {}.",
            from,
            to,
            pressure(today.peak),
            pressure(closing.peak),
            goal(study),
            stop(closing)
        );
    }
    let flow = solved(FLOW).map(|(_, c)| {
        format!(
            "a velocity of {} instead of {}",
            said(c.velocity, Dimension::Velocity),
            said(today.velocity, Dimension::Velocity)
        )
    });
    let gas = solved(INLET_GAS).map(|(v, _)| format!("a gas volume of {} at the inlet", said(v, Dimension::Volume)));
    let instead: Vec<String> = flow.into_iter().chain(gas).collect();
    let instead = if instead.is_empty() {
        "nor does any other single change tried".to_owned()
    } else {
        format!("what does, each alone: {}", instead.join(", or "))
    };
    format!(
        "No bleed down to {} brings the closing peak of {} down to the target ({}); {instead}.",
        length(study.least_bleed),
        pressure(today.peak),
        goal(study)
    )
}
