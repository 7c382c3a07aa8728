//! The answer in sentences, each with its computed numbers.

use super::cure_words::{bleed, other, unevenness, windows};
use super::influence::WEAK;
use super::parameter::{BLEED, INLET_GAS, Use};
use super::phrase::{goal, height, stop};
use super::study::ClosingStudy;
use super::words::{length, pressure, rise};
use crate::physics::fluid::Phase;
use crate::scenario::Scenario;
use crate::study::quoted::said;
use crate::units::Dimension;
use crate::verdict::{Behaviour, OPEN_LIFT};

/// What was found.
pub(super) fn findings(study: &ClosingStudy) -> Vec<String> {
    let mut all = vec![now(study), aimed(study)];
    all.extend(study.change(BLEED).map(|change| bleed(study, change)));
    for by in [Use::Change, Use::Maker] {
        let own = study.changes.iter().filter(|c| c.path != BLEED && c.by == by);
        all.extend(own.map(|change| other(study, change)));
    }
    all.extend(study.changes.iter().filter_map(|change| windows(study, change)));
    all.extend(study.changes.iter().filter_map(unevenness));
    all.push(setting(study));
    all
}

fn now(study: &ClosingStudy) -> String {
    let today = &study.today;
    let bleed =
        study.bleeds().map_or_else(String::new, |bleeds| format!(" and a bleed of {}", length(bleeds.parameter.today)));
    format!(
        "Today, at {} in the line{bleed}, {}; the peak is {}.",
        said(today.velocity, Dimension::Velocity),
        stop(today),
        height(today)
    )
}

fn aimed(study: &ClosingStudy) -> String {
    let excess = study.target.excess(&study.today);
    let standing = if excess > 0.0 {
        format!("today's peak is {} too high", rise(excess))
    } else {
        format!("today's peak keeps {} below it", rise(-excess))
    };
    let later = study.target.broken_later(&study.today).map_or(String::new(), |over| {
        let uncertain = if study.today.later.after_cavity { " (after a cavity, uncertain)" } else { "" };
        format!(" A later peak {} of {}{uncertain} is {} too high.", over.side, pressure(over.peak), rise(over.excess))
    });
    format!("Target: {} ({}); {standing}.{later}", goal(study), study.target.source)
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
    if study.today.lift < OPEN_LIFT {
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
    if study.changes.iter().any(|c| c.path == INLET_GAS && c.answer.cure().is_some()) {
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
        "Today's valve {} while open: its closing depends on the instant at which it is asked to shut, so take these numbers as one of \
         many, and cure that first.",
        found.words()
    ))
}

fn cavities(study: &ClosingStudy) -> Option<String> {
    let today = &study.today;
    if today.inlet_cavity <= 0.0 {
        return None;
    }
    let later = today.later.inlet.filter(|p| *p > today.peak).map_or(String::new(), |p| {
        format!(" A later peak of {} is higher than that of the first closure, but uncertain.", pressure(p))
    });
    let first =
        if today.uncertain { "today's peak itself may be its collapse" } else { "the first closure's peak is sound" };
    Some(format!("A vapour cavity opens at the inlet; {first}, what follows its collapse is uncertain.{later}"))
}
