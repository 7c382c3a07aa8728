//! The explanation in sentences: every number and name in them is computed.

use super::Crossing;
use super::cure::{Cure, Outcome};
use super::point::{Answer, EquilibriumModes, PointStability};
use crate::stability::equilibria::{Limits, Rest};
use crate::stability::modes::{Mode, Part};
use crate::units::{Dimension, UnitSystem, show};

/// What the sentences are made from.
pub struct Facts<'a> {
    /// Circuit differential, Pa.
    pub differential: f64,
    /// Full lift, m.
    pub full_lift: f64,
    /// The point.
    pub here: &'a PointStability,
    /// Bounds of the states.
    pub limits: &'a Limits,
    /// Boundaries.
    pub crossings: &'a [Crossing],
    /// Cures.
    pub cures: &'a [Cure],
}

/// Cures named in the sentence.
const NAMED_CURES: usize = 3;

fn text(value: f64, dimension: Dimension) -> String {
    let (number, unit) = show(value, dimension, UnitSystem::Si);
    format!("{number} {unit}")
}

fn pressure(value: f64) -> String {
    text(value, Dimension::PressureDifference)
}

fn hertz(value: f64) -> String {
    text(value, Dimension::Frequency)
}

/// "a", "a and b", "a, b and c".
fn listed(words: &[String]) -> String {
    match words {
        [] => String::new(),
        [one] => one.clone(),
        [most @ .., last] => format!("{} and {last}", most.join(", ")),
    }
}

/// The explanation.
pub fn sentences(facts: &Facts<'_>) -> Vec<String> {
    let mut out = vec![standing(facts)];
    for e in facts.here.floating() {
        match (e.answer, e.leading()) {
            (Answer::Oscillates, Some(mode)) => out.push(growing(e, mode)),
            (Answer::Stable, Some(mode)) => out.push(damped(mode)),
            _ => {}
        }
    }
    out.extend(cure_sentence(facts.cures));
    out.extend(boundary_sentence(facts));
    out
}

/// Where the stage stands at the scenario's differential.
fn standing(facts: &Facts<'_>) -> String {
    let at = pressure(facts.differential);
    let states: Vec<String> = facts
        .here
        .equilibria
        .iter()
        .map(|e| match e.equilibrium.rest {
            Rest::Floating => format!(
                "floating at {:.0} % of its lift ({})",
                100.0 * e.equilibrium.lift / facts.full_lift,
                e.answer.words()
            ),
            rest => format!("{} ({})", rest.words(), e.answer.words()),
        })
        .collect();
    let limits = [("lifts off at", facts.limits.lift_off), ("reaches its stop at", facts.limits.full_lift)]
        .into_iter()
        .filter_map(|(words, value)| value.map(|v| format!("{words} {}", pressure(v))))
        .collect::<Vec<_>>();
    let bounds = if limits.is_empty() { String::new() } else { format!("; it {}", listed(&limits)) };
    if states.is_empty() {
        return format!("At {at} the energised main stage has no equilibrium{bounds}.");
    }
    format!("At {at} the energised valve can rest {}{bounds}.", states.join(", or "))
}

fn participants(mode: &Mode) -> String {
    let others: Vec<String> =
        mode.participants().iter().filter(|p| **p != Part::Stage).map(|p| p.words().to_owned()).collect();
    if others.is_empty() { "the main stage alone takes part".into() } else { format!("{} take part", listed(&others)) }
        .replace("line take part", if others.len() > 1 { "line take part" } else { "line takes part" })
        .replace("chamber take part", if others.len() > 1 { "chamber take part" } else { "chamber takes part" })
}

/// The stage's phase, in words.
fn phase(mode: &Mode) -> String {
    let degrees = mode.lag.to_degrees();
    if degrees >= 0.0 {
        format!("lags the differential across it by {degrees:.0}°")
    } else {
        format!("leads the differential across it by {:.0}°", -degrees)
    }
}

fn growing(e: &EquilibriumModes, mode: &Mode) -> String {
    let feeds = if mode.conductance < 0.0 {
        "so that it passes more flow when the differential is low, which feeds"
    } else {
        "and, although its flow follows the differential, drives"
    };
    let others = e.modes.iter().filter(|m| m.growth() > 0.0).count() - 1;
    let more = match others {
        0 => String::new(),
        1 => " One further mode grows as well.".into(),
        n => format!(" {n} further modes grow as well."),
    };
    format!(
        "The stage {} at {}, {feeds} the mode in which {}: it grows {:.1}-fold a cycle.{more}",
        phase(mode),
        hertz(mode.frequency()),
        participants(mode),
        (mode.growth() / mode.frequency()).exp(),
    )
}

fn damped(mode: &Mode) -> String {
    let feeds = if mode.conductance < 0.0 {
        "The valve feeds it, but friction and outflow take more."
    } else {
        "The valve damps it."
    };
    format!(
        "Small disturbances die: the slowest to do so is the mode at {} in which {} (damping ratio {:.3}). {feeds}",
        hertz(mode.frequency()),
        participants(mode),
        mode.damping(),
    )
}

fn change(cure: &Cure) -> Option<String> {
    let (value, outcome) = cure.needed?;
    let more = value > cure.value;
    let amount = if cure.path == "supply.differential" {
        format!("{} {}", pressure((value - cure.value).abs()), if more { "more" } else { "less" })
    } else {
        format!("{:.0} % {}", 100.0 * (value / cure.value - 1.0).abs(), if more { "more" } else { "less" })
    };
    let end = match outcome {
        Outcome::Quiet => "",
        Outcome::Opens => " (the stage then opens fully)",
        Outcome::StaysShut => " (the stage then stays shut)",
    };
    Some(format!("{amount} {} ({}){end}", cure.words, text(value, cure.dimension)))
}

fn cure_sentence(cures: &[Cure]) -> Option<String> {
    if cures.is_empty() {
        return None;
    }
    // What keeps the stage shut is no cure.
    let useful = |c: &&Cure| !matches!(c.needed, Some((_, Outcome::StaysShut)) | None);
    let named: Vec<String> = cures.iter().filter(useful).filter_map(change).take(NAMED_CURES).collect();
    Some(match named.as_slice() {
        [] => "No single change within a factor of four damps it.".into(),
        [one] => format!("Alone among single changes within a factor of four, {one} damps it."),
        [most @ .., last] => format!("Each by itself damps it: {}; or {last}.", most.join("; ")),
    })
}

fn boundary_sentence(facts: &Facts<'_>) -> Option<String> {
    let nearest = facts.crossings.iter().min_by(|a, b| {
        let far = |c: &Crossing| (c.differential / facts.differential).ln().abs();
        far(a).total_cmp(&far(b))
    })?;
    let side = if nearest.quiet_above { "below" } else { "above" };
    let kind = match nearest.hard {
        Some(true) => {
            "The onset is hard: the oscillation begins with a jump, and beyond the boundary a large disturbance may still start it."
        }
        Some(false) => "The onset is soft: just past the boundary the oscillation is small.",
        None => "Whether it begins softly or with a jump could not be told.",
    };
    Some(format!(
        "Oscillation grows {side} {} ({:.0} % of lift, {}). {kind}",
        pressure(nearest.differential),
        100.0 * nearest.lift,
        hertz(nearest.frequency),
    ))
}
