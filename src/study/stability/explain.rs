//! The explanation in sentences: every number and name in them is computed.

use super::boundary::Crossing;
use super::cure::Attempt;
use super::cure_words;
use super::point::{Answer, EquilibriumModes, PointStability};
use super::reading::growth_per_cycle;
use super::words::listed;
use crate::indicator::Energised;
use crate::portable::Portable;
use crate::stability::equilibria::{Limits, Rest};
use crate::stability::modes::{Mode, Part};
use crate::units::{Dimension, text};
use crate::verdict::Finding;

/// What the sentences are made from.
pub struct Facts<'a> {
    /// Circuit differential, Pa.
    pub differential: f64,
    /// Full lift, m.
    pub full_lift: f64,
    /// When the coil is energised.
    pub energised: Energised,
    /// The point.
    pub here: &'a PointStability,
    /// Does a link draw the stage after its armature?
    pub linked: bool,
    /// Bounds of the states.
    pub limits: &'a Limits,
    /// Boundaries.
    pub crossings: &'a [Crossing],
    /// What today's valve does when it is simulated; none where no run was made.
    pub today: Option<&'a Finding>,
    /// Changes tried; empty where none were looked for.
    pub attempts: &'a [Attempt],
}

/// Within this ratio of a hard boundary a jolt may still start the oscillation: in simulated runs of the demos it does so up to
/// 1.1 to 1.2 times the boundary (judgement).
const NEAR: f64 = 1.3;

fn pressure(value: f64) -> String {
    text(value, Dimension::PressureDifference)
}

fn hertz(value: f64) -> String {
    text(value, Dimension::Frequency)
}

/// "a", "a or b", "a, b or c".
fn alternatives(words: &[String]) -> String {
    match words {
        [most @ .., last] if !most.is_empty() => format!("{} or {last}", most.join(", ")),
        _ => words.concat(),
    }
}

/// The explanation.
pub fn sentences(facts: &Facts<'_>) -> Vec<String> {
    let mut out = vec![standing(facts)];
    out.extend(held(facts));
    for e in facts.here.floating() {
        match (e.answer, e.leading()) {
            (Answer::Oscillates, Some(mode)) => out.push(growing(e, mode)),
            (Answer::Stable, Some(mode)) => out.push(damped(mode)),
            (Answer::RunsAway, _) => out.push(format!(
                "At {:.0} % of its lift the stage cannot stay: the smallest push sends it towards its seat or its stop.",
                100.0 * e.equilibrium.lift / facts.full_lift
            )),
            _ => {}
        }
    }
    out.extend(facts.today.map(cure_words::today));
    out.extend(cure_words::sentences(facts.attempts));
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
        .map(|e| {
            let answer = e.answer.words();
            match e.equilibrium.rest {
                Rest::Floating => {
                    format!("floating at {:.0} % of its lift ({answer})", 100.0 * e.equilibrium.lift / facts.full_lift)
                }
                Rest::Hanging => {
                    let lift = 100.0 * e.equilibrium.lift / facts.full_lift;
                    format!("hanging from its link at {lift:.0} % of its lift ({answer})")
                }
                Rest::PilotShut => format!("with its pilot shut ({answer})"),
                rest => format!("{} ({answer})", rest.words()),
            }
        })
        .collect();
    let bounds = match (facts.limits.lift_off, facts.limits.full_lift) {
        (Some(off), Some(full)) if full < off => format!(
            "; the stage lifts off at {} and then snaps open, and it leaves its stop again at {}",
            pressure(off),
            pressure(full)
        ),
        (Some(off), Some(full)) => {
            format!("; the stage lifts off at {} and reaches its stop at {}", pressure(off), pressure(full))
        }
        (Some(off), None) => format!("; the stage lifts off at {}", pressure(off)),
        (None, Some(full)) => format!("; the stage reaches its stop at {}", pressure(full)),
        (None, None) => String::new(),
    };
    let valve = facts.energised.choose("the energised valve", "the de-energised valve");
    if states.is_empty() {
        return format!("At {at} {valve} is nowhere in balance{bounds}.");
    }
    format!("At {at} {valve} is in balance {}{bounds}.", alternatives(&states))
}

/// What holds the stage where it does not float.
fn held(facts: &Facts<'_>) -> Option<String> {
    let rests = |rest: Rest| facts.here.equilibria.iter().any(|e| e.equilibrium.rest == rest);
    if rests(Rest::PilotShut) {
        return Some(format!(
            "Against this differential the {} does not lift the armature off the pilot seat: once shut, the valve stays shut.",
            facts.energised.choose("magnet", "spring")
        ));
    }
    if rests(Rest::Floating) {
        return None;
    }
    if facts.linked {
        return held_by_link(facts);
    }
    let least = facts.limits.least_open.or(facts.limits.lift_off);
    let floats = least
        .zip(facts.limits.full_lift)
        .filter(|(least, full)| least < full)
        .map_or_else(String::new, |(a, b)| format!("; it floats only from {} to {}", pressure(a), pressure(b)));
    if rests(Rest::Open) && !rests(Rest::Shut) {
        return Some(format!("The differential holds the stage on its stop{floats}."));
    }
    (rests(Rest::Shut) && !rests(Rest::Open)).then(|| format!("The differential does not lift the stage{floats}."))
}

/// What holds the stage of a forced lift where it does not float.
fn held_by_link(facts: &Facts<'_>) -> Option<String> {
    let rests = |rest: Rest| facts.here.equilibria.iter().any(|e| e.equilibrium.rest == rest);
    if rests(Rest::Hanging) {
        return Some(
            "There the link draws the stage as far as its armature reaches, and the differential helps it.".into(),
        );
    }
    if rests(Rest::Open) && facts.limits.full_lift.is_none() {
        return Some("The magnet holds the stage against its stop through the link, without any differential.".into());
    }
    if rests(Rest::Open) {
        return Some("The differential holds the stage on its stop.".into());
    }
    rests(Rest::Shut).then(|| "Neither the magnet by its link nor the differential lifts the stage.".into())
}

/// The mode by the parts that share it, such as "the mode that inlet line (73 %) and outlet line (21 %) share".
fn mode_words(mode: &Mode) -> String {
    let share = |part: &Part| {
        let of = Part::ALL.iter().position(|p| p == part).map_or(0.0, |i| mode.shares[i]);
        format!("{} ({:.0} %)", part.words(), 100.0 * of)
    };
    match mode.participants().iter().map(share).collect::<Vec<_>>().as_slice() {
        [one] => format!("the mode of the {one}"),
        several => format!("the mode that {} share", listed(several)),
    }
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
    let further: Vec<String> =
        e.modes.iter().filter(|m| m.growth() > 0.0).skip(1).map(|m| hertz(m.frequency())).collect();
    let more = match further.len() {
        0 => String::new(),
        1 => format!(" One further mode grows as well, at {}.", further[0]),
        n => format!(" {n} further modes grow as well, at {}.", listed(&further)),
    };
    let (at, mode_named) = (hertz(mode.frequency()), mode_words(mode));
    let feeds = if mode.conductance < 0.0 {
        format!("so that it passes more flow while the differential is low: that feeds {mode_named}.")
    } else {
        format!("and {mode_named} grows although the flow drawn from the inlet line follows the differential.")
    };
    format!("The stage {} at {at}, {feeds} It grows {}.{more}", phase(mode), growth_words(growth_per_cycle(mode)))
}

/// Growth a cycle, in words: below twofold in per cent, to two figures.
fn growth_words(factor: f64) -> String {
    if factor >= 2.0 {
        return format!("{factor:.1}-fold a cycle");
    }
    let share = 100.0 * (factor - 1.0);
    let digits = (1.0 - share.max(1e-9).decimal_logarithm().floor()).clamp(0.0, 10.0) as usize;
    format!("by {share:.digits$} % a cycle")
}

fn damped(mode: &Mode) -> String {
    let feeds = if mode.conductance < 0.0 {
        "the valve feeds it, but friction and outflow take more"
    } else {
        "the valve takes from it as well"
    };
    format!(
        "Small disturbances die. The slowest to do so, at {}, is {} (damping ratio {:.3}); {feeds}.",
        hertz(mode.frequency()),
        mode_words(mode),
        mode.damping(),
    )
}

/// The boundary nearest to the scenario's differential.
fn nearest<'a>(facts: &Facts<'a>) -> Option<&'a Crossing> {
    let far = |c: &Crossing| (c.differential / facts.differential).logarithm().abs();
    facts.crossings.iter().min_by(|a, b| far(a).total_cmp(&far(b)))
}

fn boundary_sentence(facts: &Facts<'_>) -> Option<String> {
    let nearest = nearest(facts)?;
    let at = facts.crossings.iter().position(|c| c == nearest)?;
    let place = |c: &Crossing| {
        format!("{} ({:.0} % of lift, {})", pressure(c.differential), 100.0 * c.lift, hertz(c.frequency))
    };
    let other = if nearest.quiet_above { at.checked_sub(1) } else { Some(at + 1) }.and_then(|i| facts.crossings.get(i));
    let range = match (nearest.quiet_above, other) {
        (true, Some(lower)) => format!("from {} up to {}", place(lower), place(nearest)),
        (true, None) => format!("from lift-off up to {}", place(nearest)),
        (false, Some(upper)) => format!("from {} up to {}", place(nearest), place(upper)),
        (false, None) => format!("from {} up to full lift", place(nearest)),
    };
    let quiet_side =
        format!("{} {}", if nearest.quiet_above { "above" } else { "below" }, pressure(nearest.differential));
    let kind = match nearest.hard {
        Some(true) => format!(
            "The onset is hard: the oscillation begins with a jump, and just {quiet_side}, too, a large disturbance can start it."
        ),
        Some(false) => {
            format!("The onset is soft: just past {} the oscillation is small.", pressure(nearest.differential))
        }
        None => "Whether it begins softly or with a jump could not be told.".into(),
    };
    let stable = facts.here.floating().any(|e| e.answer == Answer::Stable);
    let ratio = facts.differential / nearest.differential;
    let near = if facts.today.is_none() && stable && nearest.hard == Some(true) && ratio.max(1.0 / ratio) < NEAR {
        format!(" {} may be near enough for that: check with a simulated run.", pressure(facts.differential))
    } else {
        String::new()
    };
    Some(format!("Along the circuit differential, oscillation grows {range}. {kind}{near}"))
}

#[cfg(test)]
mod tests {
    use super::growth_words;

    #[test]
    fn slow_growth_is_not_told_as_none() {
        assert_eq!(growth_words(1.0123), "by 1.2 % a cycle");
        assert_eq!(growth_words(1.000_42), "by 0.042 % a cycle");
        assert_eq!(growth_words(1.4), "by 40 % a cycle");
        assert_eq!(growth_words(2.5), "2.5-fold a cycle");
    }
}
