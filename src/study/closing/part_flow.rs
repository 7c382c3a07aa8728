//! Does a cure of the stated flow hold where less flows? A slower closing may suit one flow only: with less of it the throttle of
//! the consumer keeps the flow up until the valve is nearly shut, and what is left stops sooner.

use super::at_flow::{AtFlow, PartFlows, StatedFlow};
use super::change::{Change, Cure};
use super::numbers::Closing;
use super::parameter::{BLEED, INLET_GAS};
use super::sweep::as_set;
use super::target::Target;
use super::trial::judged;
use super::words::{length, pressure};
use crate::parallel::*;
use crate::scenario::{Document, echo};
use crate::study::quoted::{BORE_STEP, said};
use crate::units::Dimension;

/// Shares of the stated flow that are tried as well (judgement: what a consumer that throttles down asks for).
const SHARES: [f64; 3] = [0.7, 0.5, 0.35];
/// Where a flow is stated, and in what.
const STATED: [(&str, Dimension); 3] = [
    ("flow.mass_flow", Dimension::MassFlow),
    ("flow.volume_flow", Dimension::VolumeFlow),
    ("flow.refrigerating_duty", Dimension::Power),
];

/// The flow that a document states; none where its throttle or nothing is stated.
fn stated(document: &Document) -> Option<StatedFlow> {
    let rows = echo(document).ok()?;
    STATED.into_iter().find_map(|(path, dimension)| {
        let row = rows.iter().find(|row| row.path == path)?;
        Some(StatedFlow { path, dimension, value: row.value })
    })
}

/// What smaller flows are simulated with.
struct Trial<'a> {
    document: &'a Document,
    target: &'a Target,
    stated: StatedFlow,
    /// Narrowest bleed within reach, m.
    least: f64,
}

impl Trial<'_> {
    /// Settings of a cure at a share of the stated flow, as a user would write them.
    fn at(&self, settings: &[String], share: f64) -> AtFlow {
        let flow = share * self.stated.value;
        let own = format!("{}={}", self.stated.path, said(flow, self.stated.dimension));
        let all: Vec<String> = settings.iter().cloned().chain([own]).collect();
        let outcome = as_set(self.document, &all);
        let misses = outcome.is_ok().then(|| judged(self.target, &outcome).err()).flatten();
        AtFlow { flow, outcome, misses }
    }

    fn all(&self, settings: &[String]) -> Vec<AtFlow> {
        SHARES.par_iter().map(|share| self.at(settings, *share)).collect()
    }

    /// The widest drill size below a bore that keeps the target at all flows; those that were missed are tried first. Each of
    /// these sizes is already known to keep it at the stated flow.
    fn narrower(&self, bore: f64, least: f64, tried: &[AtFlow]) -> Option<f64> {
        // Where nothing closes there is nothing to keep.
        let mut shown: Vec<(&f64, &AtFlow)> = SHARES.iter().zip(tried).filter(|(_, p)| p.outcome.is_ok()).collect();
        shown.sort_by_key(|(_, p)| p.misses.is_none());
        let last = (least / BORE_STEP * (1.0 - 1e-9)).ceil() as usize;
        let first = (bore / BORE_STEP * (1.0 - 1e-6)).ceil() as usize;
        let keeps = |size: f64, share: f64| {
            let found = self.at(&[written(size)], share);
            found.outcome.is_ok() && found.misses.is_none()
        };
        let mut sizes = (last..first).rev().map(|n| n as f64 * BORE_STEP);
        sizes.find(|size| shown.iter().all(|(share, _)| keeps(*size, **share)))
    }
}

fn written(bore: f64) -> String {
    format!("{BLEED}={}", length(bore))
}

/// Try the quoted cures at smaller flows, where the scenario states one.
pub(super) fn try_part_flows(document: &Document, target: &Target, least: f64, changes: &mut [Change]) {
    let tried = |path: &str| [BLEED, INLET_GAS].contains(&path);
    let Some(stated) = stated(document) else { return };
    let trial = Trial { document, target, stated, least };
    for change in changes.iter_mut().filter(|change| tried(change.path)) {
        if let Some(cure) = change.answer.cure_mut() {
            cure.part_flows = Some(part_flows(&trial, change.path, cure));
        }
    }
}

fn part_flows(trial: &Trial<'_>, path: &str, cure: &Cure) -> PartFlows {
    let points = trial.all(&cure.settings);
    let missed = points.iter().any(|point| point.misses.is_some());
    let bore = cure.recommended().0;
    let narrower =
        if missed && path == BLEED { trial.narrower(bore, cure.sure_to.max(trial.least), &points) } else { None };
    let narrower_settings = narrower.into_iter().map(written).collect();
    PartFlows { stated: trial.stated, points, narrower, narrower_settings }
}

/// How a cure stands at smaller flows, to be read after it; empty where no flow is stated.
pub(super) fn words(change: &Change, cure: &Cure) -> String {
    let Some(part) = &cure.part_flows else { return String::new() };
    let flow = |value: f64| said(value, part.stated.dimension);
    let list = |points: &[&AtFlow]| points.iter().map(|p| flow(p.flow)).collect::<Vec<_>>().join(", ");
    let (shown, none): (Vec<_>, Vec<_>) = part.points.iter().partition(|p| p.outcome.is_ok());
    let missing: Vec<&&AtFlow> = shown.iter().filter(|p| p.misses.is_some()).collect();
    let unshown = if none.is_empty() { String::new() } else { format!("; at {} no closing was found", list(&none)) };
    if missing.is_empty() {
        return if shown.is_empty() { unshown } else { format!("; it holds at {} too{unshown}", list(&shown)) };
    }
    let each: Vec<String> = missing.iter().map(|p| format!("at {} {}", flow(p.flow), still(p))).collect();
    let narrower = match part.narrower {
        Some(size) => format!("; {} keeps the target at these flows ({}) too", length(size), list(&shown)),
        None if change.path == BLEED => "; no narrower drill size within reach keeps it at these flows too".into(),
        None => String::new(),
    };
    format!("; this is at the stated {}: {}{narrower}{unshown}", flow(part.stated.value), each.join(", "))
}

/// What a flow that misses the target would still reach.
fn still(point: &AtFlow) -> String {
    let later =
        |closing: &Closing| closing.later.inlet.into_iter().chain(closing.later.outlet).fold(closing.peak, f64::max);
    match (&point.outcome, &point.misses) {
        (Ok(closing), Some(why)) if why.starts_with("the first") => {
            format!("it would still reach {}", pressure(closing.peak))
        }
        (Ok(closing), _) if closing.later.after_cavity => {
            format!("a later peak (after a cavity, uncertain) would reach {}", pressure(later(closing)))
        }
        (Ok(closing), _) => format!("a later peak would reach {}", pressure(later(closing))),
        (Err(_), _) => "nothing was found".into(),
    }
}
