//! What came of each parameter, in sentences.

use super::change::{Answer, Change, Cure};
use super::numbers::Closing;
use super::parameter::{BLEED, FLOW, INLET_GAS, Use};
use super::part_flow;
use super::phrase::{height, stop};
use super::study::ClosingStudy;
use super::target::Goal;
use super::words::{length, pair, pressure, rise, time};
use crate::study::quoted::said;
use crate::units::Dimension;
use crate::verdict::{Behaviour, OPEN_LIFT};

/// What came of the bleed.
pub(super) fn bleed(study: &ClosingStudy, change: &Change) -> String {
    match &change.answer {
        Answer::Solved(cure) => {
            let (value, closing) = cure.recommended();
            format!(
                "A narrower bleed alone does it: {} instead of {}; {}{}. At {} {}; the peak is {}; the valve takes {} to shut.{}{}{}",
                length(value),
                length(change.today),
                range(study, cure),
                part_flow::words(change, cure),
                length(value),
                stop(closing),
                height(closing),
                time(closing.total_time),
                later(closing),
                first_alone(study, cure),
                side_effects(study, closing)
            )
        }
        Answer::Unreliable => format!(
            "No bleed down to {} (least against dirt) does it reliably: the target is kept in windows only.",
            length(study.least_bleed)
        ),
        Answer::OutOfReach => no_bleed(study, change),
    }
}

/// The widest bleed that would do by the first closure alone, where later peaks ask for a narrower one.
fn first_alone(study: &ClosingStudy, cure: &Cure) -> String {
    let bleeds = study.leading();
    let wider = bleeds.closings().filter(|(v, _)| *v > cure.value && *v < bleeds.parameter.today);
    let missed = wider.filter_map(|(v, closing)| {
        let over = study.target.broken_later(closing).filter(|_| study.target.met(closing))?;
        Some((v, over, closing.later.after_cavity))
    });
    missed.last().map_or(String::new(), |(value, over, after_cavity)| {
        let uncertain = if after_cavity { ", after a vapour cavity and so uncertain," } else { "" };
        format!(
            " By its first closure alone {} would do, but a later peak {}{uncertain} reaches {} there.",
            length(value),
            over.side,
            pressure(over.peak)
        )
    })
}

/// Which bleeds suffice, and which can be bought.
pub(super) fn range(study: &ClosingStudy, cure: &Cure) -> String {
    let (value, _) = cure.recommended();
    let down_to = length(cure.sure_to.max(study.least_bleed));
    let size = match cure.size {
        Some(_) => format!("the next drill size that does, in steps of 0.05 mm, is {}", length(value)),
        None => "none of them is a drill size in steps of 0.05 mm".to_owned(),
    };
    let ends = cure.ends.as_ref().map_or(String::new(), |(at, why)| format!(" (at {}: {why})", length(*at)));
    format!(
        "every bleed simulated from {} down to {down_to} keeps the target{ends}, every 0.025 mm and closer at the edge; {size}",
        length(cure.value)
    )
}

/// Later peaks of a closing, where they are doubtful.
fn later(closing: &Closing) -> String {
    let highest = closing.later.inlet.into_iter().chain(closing.later.outlet).reduce(f64::max);
    match highest.filter(|_| closing.later.after_cavity) {
        Some(peak) => format!(
            " Later peaks, after a vapour cavity and so uncertain, reach {} and keep the target too.",
            pressure(peak)
        ),
        None => String::new(),
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
    let Some((_, least)) = study.leading().closings().find(|(v, _)| *v >= study.least_bleed * (1.0 - 1e-9)) else {
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
        None => "the flow had fallen before it was asked to shut".to_owned(),
    };
    format!(
        "No bleed down to {} (least against dirt) does it. At {} {}; the peak is still {}: {reason}.{}",
        length(study.least_bleed),
        length(study.least_bleed),
        stop(least),
        height(least),
        later_alone(study, least)
    )
}

/// Where only a later peak stands against a value.
fn later_alone(study: &ClosingStudy, closing: &Closing) -> String {
    let over = study.target.broken_later(closing).filter(|_| study.target.met(closing));
    over.map_or(String::new(), |over| {
        let uncertain = if closing.later.after_cavity { " (after a cavity, uncertain)" } else { "" };
        format!(
            " There the first closure keeps the target, but a later peak {} of {}{uncertain} does not.",
            over.side,
            pressure(over.peak)
        )
    })
}

pub(super) fn dimension(study: &ClosingStudy, change: &Change) -> Dimension {
    let sweep = study.sweeps.iter().find(|sweep| sweep.parameter.path == change.path);
    sweep.map_or(Dimension::Number, |sweep| sweep.parameter.dimension)
}

/// What came of another parameter than the bleed.
pub(super) fn other(study: &ClosingStudy, change: &Change) -> String {
    let alone = if change.by == Use::Maker { "Alone, and only by the valve's maker," } else { "Alone," };
    let (title, within) = (change.title, reach(study, change));
    match &change.answer {
        Answer::Solved(cure) => solved(study, change, cure, alone),
        Answer::Unreliable => {
            format!("{alone} {title} within {within} is no reliable cure: the target is kept in windows only.")
        }
        Answer::OutOfReach => match &change.best {
            Some((value, closing)) => format!(
                "{alone} {title} within {within} does not: lowest {} at {}.{}",
                lowest(study, closing),
                written(*value, dimension(study, change)),
                later_alone(study, closing)
            ),
            None => format!("{alone} {title} gave no result within {within}."),
        },
    }
}

/// The lowest that was found, counted as the target counts: with the supply the pressure at rest moves too.
fn lowest(study: &ClosingStudy, closing: &Closing) -> String {
    match study.target.goal {
        Goal::Peak(_) => format!("peak {}", pressure(closing.peak)),
        Goal::Surge(_) => format!("rise {} (to {})", rise(closing.surge), pressure(closing.peak)),
    }
}

fn written(value: f64, dimension: Dimension) -> String {
    if value > 0.0 { said(value, dimension) } else { "none".into() }
}

fn solved(study: &ClosingStudy, change: &Change, cure: &Cure, alone: &str) -> String {
    let dimension = dimension(study, change);
    let closing = &cure.closing;
    let note = match change.path {
        FLOW => format!(" ({} in the line)", said(closing.velocity, Dimension::Velocity)),
        INLET_GAS => gas(study, change, cure),
        _ => String::new(),
    };
    let (to, from) = pair(cure.value, change.today, dimension);
    let ends = cure
        .ends
        .as_ref()
        .map_or(String::new(), |(at, why)| format!(" It no longer does at {} ({why}).", said(*at, dimension)));
    format!(
        "{alone} {} of {to}{note} instead of {from} does it, and so does all tried up to 1.25 times the change ({}): peak \
         {}.{}{ends}{}",
        change.title,
        said(cure.sure_to, dimension),
        pressure(closing.peak),
        later(closing),
        side_effects(study, closing)
    )
}

/// What a gas volume rests on.
fn gas(study: &ClosingStudy, change: &Change, cure: &Cure) -> String {
    let sweep = study.sweeps.iter().find(|sweep| sweep.parameter.path == INLET_GAS);
    let own = sweep.and_then(|sweep| sweep.parameter.exponent);
    let number = |value: f64| said(value, Dimension::Number);
    let others: Vec<String> = cure
        .exponents
        .iter()
        .map(|(exponent, closing)| format!("{} ({})", number(*exponent), pressure(closing.peak)))
        .collect();
    let own = own.map_or(String::new(), |own| format!(", computed with a polytropic exponent of {}", number(own)));
    let flows = part_flow::words(change, cure);
    format!(" (at the pressure at rest{own}, and enough with {} as well{flows})", others.join(" and "))
}

/// The reach of a change, in words.
fn reach(study: &ClosingStudy, change: &Change) -> String {
    let Some(sweep) = study.sweeps.iter().find(|s| s.parameter.path == change.path) else { return String::new() };
    let parameter = &sweep.parameter;
    let (low, high) = pair(parameter.reach.0, parameter.reach.1, parameter.dimension);
    format!("{low} to {high}")
}

/// Faults that a change brings and that today's valve does not have.
pub(super) fn new_faults(study: &ClosingStudy, closing: &Closing) -> Vec<&'static str> {
    let adverse = closing.verdict.findings.iter().filter(|f| f.adverse && f.behaviour != Behaviour::Hammers);
    adverse.filter(|f| !study.today.verdict.has(f.behaviour)).map(|f| f.behaviour.words()).collect()
}

fn side_effects(study: &ClosingStudy, closing: &Closing) -> String {
    let new = new_faults(study, closing);
    let mut text = if new.is_empty() { String::new() } else { format!(" But the valve then {}.", new.join(", ")) };
    if closing.lift < OPEN_LIFT && study.today.lift >= OPEN_LIFT {
        text += &format!(" It then opens to {:.0} % of its lift only.", 100.0 * closing.lift);
    }
    if closing.uncertain {
        text += " That peak follows a vapour cavity: uncertain.";
    }
    text
}

/// Stretches in which the target is kept for a while only.
pub(super) fn windows(study: &ClosingStudy, change: &Change) -> Option<String> {
    let dimension = dimension(study, change);
    let all: Vec<String> = change
        .windows
        .iter()
        .map(|window| {
            let (first, last) = (said(window.first, dimension), said(window.last, dimension));
            let kept = if first == last { format!("at {first}") } else { format!("between {first} and {last}") };
            format!("{kept} it is, but no longer at {} ({})", said(window.fails_at, dimension), window.why)
        })
        .collect();
    let title = if change.path == BLEED { "the bleed" } else { change.title };
    (!all.is_empty())
        .then(|| format!("Along {title} the target is kept in windows that do not last: {}.", all.join("; ")))
}

/// Does the peak rise on the way?
pub(super) fn unevenness(change: &Change) -> Option<String> {
    change
        .uneven
        .then(|| format!("The peak does not fall evenly along {}: it rises again somewhere on the way.", change.title))
}
