//! One sentence to quote.

use super::change::{Answer, Change, Cure};
use super::cure_words::{new_faults, range};
use super::numbers::Closing;
use super::parameter::{BLEED, FLOW, INLET_GAS};
use super::part_flow;
use super::phrase::{goal, stop};
use super::study::ClosingStudy;
use super::words::{length, pair, pressure, rise};
use crate::study::quoted::said;
use crate::units::Dimension;

/// The sentence.
pub(super) fn quote(study: &ClosingStudy) -> String {
    let today = &study.today;
    if !study.adverse() && study.target.above_sudden_stop(today) {
        return format!(
            "The closing peak of {} keeps the target of {}, but this limit lies above a sudden stop (ρ·a·v is {} at this flow), so \
             this pass says nothing of the valve; state with --target-surge the rise that the line may see.",
            pressure(today.peak),
            goal(study),
            rise(today.sudden_rise)
        );
    }
    if !study.adverse() {
        return format!(
            "The closing peak of {} keeps the target of {}, so no slower closing is needed.",
            pressure(today.peak),
            goal(study)
        );
    }
    match study.change(BLEED).map(|change| (change, &change.answer)) {
        Some((change, Answer::Solved(cure))) => narrower(study, change, cure),
        Some((_, Answer::Unreliable)) => format!(
            "No bleed down to {} reliably brings {} down to the target ({}): it is kept in windows only; {}.",
            length(study.least_bleed),
            peak(study, today),
            goal(study),
            instead(study)
        ),
        None => format!(
            "This valve has no bleed to narrow, and {} is above the target ({}); {}.",
            peak(study, today),
            goal(study),
            instead(study)
        ),
        Some((_, Answer::OutOfReach)) => format!(
            "No bleed down to {} brings {} down to the target ({}); {}.",
            length(study.least_bleed),
            peak(study, today),
            goal(study),
            instead(study)
        ),
    }
}

/// What is too high today.
fn peak(study: &ClosingStudy, today: &Closing) -> String {
    match study.target.broken_later(today).filter(|_| study.target.met(today)) {
        Some(over) => format!("a later peak of {}", pressure(over.peak)),
        None => format!("the closing peak of {}", pressure(today.peak)),
    }
}

fn narrower(study: &ClosingStudy, change: &Change, cure: &Cure) -> String {
    let (value, closing) = cure.recommended();
    let (from, to) = pair(change.today, value, Dimension::Length);
    let later = closing.later.inlet.into_iter().chain(closing.later.outlet).fold(closing.peak, f64::max);
    let then = if study.target.met(&study.today) { later } else { closing.peak };
    format!(
        "Narrowing the bleed from {from} to {to} alone lowers {} to {} ({}), since {}; {}{}.",
        peak(study, &study.today),
        pressure(then),
        goal(study),
        stop(closing),
        range(study, cure),
        part_flow::words(change, cure)
    )
}

/// What helps instead of a narrower bleed and brings no other fault.
fn instead(study: &ClosingStudy) -> String {
    let clean =
        |change: &Change| change.answer.cure().filter(|cure| new_faults(study, &cure.closing).is_empty()).cloned();
    let cure = |path: &str| study.change(path).and_then(clean);
    let flow = cure(FLOW).map(|cure| {
        format!(
            "a velocity of {} instead of {}",
            said(cure.closing.velocity, Dimension::Velocity),
            said(study.today.velocity, Dimension::Velocity)
        )
    });
    let gas = study.change(INLET_GAS).and_then(|change| Some((change, clean(change)?))).map(|(change, cure)| {
        let exponents: Vec<String> = cure.exponents.iter().map(|(n, _)| said(*n, Dimension::Number)).collect();
        format!(
            "a gas volume of {} at the inlet (enough with exponents of {}{})",
            said(cure.value, Dimension::Volume),
            exponents.join(" to "),
            part_flow::words(change, &cure)
        )
    });
    let others = study.changes.iter().filter(|change| ![BLEED, FLOW, INLET_GAS].contains(&change.path));
    let others = others.filter_map(|change| {
        let sweep = study.sweeps.iter().find(|sweep| sweep.parameter.path == change.path)?;
        let (to, from) = pair(clean(change)?.value, change.today, sweep.parameter.dimension);
        Some(format!("{} of {to} instead of {from}", change.title))
    });
    let main: Vec<String> = flow.into_iter().chain(gas).collect();
    let all = if main.is_empty() { others.take(1).collect() } else { main };
    if all.is_empty() {
        return "nor does any other single change tried, without another fault".to_owned();
    }
    format!("what does, each alone: {}", all.join(", or "))
}
