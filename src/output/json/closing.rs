//! A closing study as part of the document.

use super::indicator::{IndicatorRow, indicator_row};
use crate::output::unit::shown;
use crate::study::closing::{
    AtFlow, Change, Closing, ClosingStudy, Criterion, Cure, Goal, Parameter, PartFlows, Point, Use, Window,
};
use crate::units::{Dimension, UnitSystem, column_unit};
use serde::Serialize;

/// A value in both systems.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ValuePart {
    /// Value in `unit`.
    pub value: f64,
    /// SI display unit.
    pub unit: &'static str,
    /// Value in `us_unit`.
    pub us_value: f64,
    /// US customary unit.
    pub us_unit: &'static str,
}

/// The target.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct TargetPart {
    /// "peak" (inlet pressure) or "surge" (above rest).
    pub of: &'static str,
    /// Highest allowed.
    pub most: ValuePart,
    /// Where it comes from.
    pub source: &'static str,
    /// Is it met today?
    pub met_today: bool,
    /// Does it lie above what a sudden stop of today's flow would reach, so that keeping it says nothing?
    pub above_sudden_stop: bool,
}

/// A line of acceptance.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct CriterionPart {
    /// Its name.
    pub name: &'static str,
    /// Limit of the inlet pressure.
    pub limit: ValuePart,
    /// Is the limit the highest or the lowest allowed?
    pub kind: &'static str,
    /// What the run showed.
    pub found: ValuePart,
    /// Is it kept?
    pub passed: bool,
}

/// A parameter changed alone.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ChangePart {
    /// Path.
    pub path: &'static str,
    /// In words.
    pub title: &'static str,
    /// Today's value.
    pub today: ValuePart,
    /// Who can make it: "plant" or "maker".
    pub by: &'static str,
    /// Smallest change that meets the target and goes on meeting it; null where none within reach does.
    pub changed_to: Option<ValuePart>,
    /// The closing at it.
    pub closing: Option<Vec<IndicatorRow>>,
    /// For a bleed: the next drill size, which is recommended.
    pub drill_size: Option<ValuePart>,
    /// The closing at it.
    pub drill_size_closing: Option<Vec<IndicatorRow>>,
    /// What is recommended, as settings.
    pub settings: Vec<String>,
    /// Everything tried from `changed_to` as far as this meets the target.
    pub sure_to: Option<ValuePart>,
    /// A value further out that misses the target again.
    pub ends_at: Option<ValuePart>,
    /// Why it does.
    pub ends_why: Option<String>,
    /// For a gas volume: peaks with other polytropic exponents.
    pub exponents: Vec<ExponentPart>,
    /// For a bleed or a gas volume: the recommended value at smaller flows than the stated one.
    pub part_flows: Vec<PartFlowPart>,
    /// Where a bleed misses the target at one of them: the next drill size that keeps it at all; null where none does.
    pub size_for_part_flows: Option<ValuePart>,
    /// Stretches in which the target is met and after which it is missed again.
    pub windows: Vec<WindowPart>,
    /// Does the peak rise somewhere along the way?
    pub uneven: bool,
    /// Does a value beyond fail again?
    pub fails_again: bool,
}

/// A gas volume with another exponent.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ExponentPart {
    /// Polytropic exponent of the gas.
    pub exponent: f64,
    /// First-closure peak.
    pub peak: ValuePart,
}

/// A cure at a smaller flow than the stated one.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PartFlowPart {
    /// Path of the flow.
    pub path: &'static str,
    /// The flow.
    pub flow: ValuePart,
    /// Is the target kept there? Null where there is no result.
    pub meets_target: Option<bool>,
    /// First-closure peak.
    pub peak: Option<ValuePart>,
    /// Why the target is missed there, or why there is no result.
    pub why: Option<String>,
}

/// A stretch in which the target is met.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct WindowPart {
    /// Its value nearest to today's.
    pub first: ValuePart,
    /// The last value tried that meets the target.
    pub last: ValuePart,
    /// The value tried beyond that misses it.
    pub fails_at: ValuePart,
    /// Why.
    pub why: String,
}

/// One point.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PointPart {
    /// Path.
    pub path: &'static str,
    /// Value.
    pub value: ValuePart,
    /// Does it meet the target, by the first closure and by later peaks?
    pub meets_target: Option<bool>,
    /// May its peak be the collapse of a cavity?
    pub uncertain: Option<bool>,
    /// Does the first closure meet the target and a later peak not? Uncertain after a cavity.
    pub missed_later: Option<bool>,
    /// Its numbers.
    pub closing: Option<Vec<IndicatorRow>>,
    /// Why there is no result.
    pub failure: Option<String>,
}

/// The whole study.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ClosingPart {
    /// Target.
    pub target: TargetPart,
    /// Today's closing.
    pub today: Vec<IndicatorRow>,
    /// Lines of acceptance.
    pub criteria: Vec<CriterionPart>,
    /// Smallest changes, each alone.
    pub changes: Vec<ChangePart>,
    /// All points.
    pub points: Vec<PointPart>,
    /// What was found.
    pub findings: Vec<String>,
    /// What the answer rests on.
    pub remarks: Vec<String>,
    /// One sentence to quote.
    pub quote: String,
}

/// A closing study as part of the document.
pub fn closing_part(study: &ClosingStudy) -> ClosingPart {
    let (of, most) = match study.target.goal {
        Goal::Peak(limit) => ("peak", value(limit, Dimension::AbsolutePressure)),
        Goal::Surge(limit) => ("surge", value(limit, Dimension::PressureDifference)),
    };
    let points = study.sweeps.iter().flat_map(|s| s.points.iter().map(|p| point(study, &s.parameter, p)));
    ClosingPart {
        target: TargetPart {
            of,
            most,
            source: study.target.source,
            met_today: !study.adverse(),
            above_sudden_stop: study.target.above_sudden_stop(&study.today),
        },
        today: rows(&study.today),
        criteria: study.criteria.iter().map(criterion).collect(),
        changes: study.changes.iter().map(|c| change(study, c)).collect(),
        points: points.collect(),
        findings: study.findings.clone(),
        remarks: study.remarks.clone(),
        quote: study.quote.clone(),
    }
}

fn value(value: f64, dimension: Dimension) -> ValuePart {
    let (si, us) = (column_unit(dimension, UnitSystem::Si), column_unit(dimension, UnitSystem::Us));
    ValuePart { value: shown(value, &si), unit: si.name, us_value: shown(value, &us), us_unit: us.name }
}

fn rows(closing: &Closing) -> Vec<IndicatorRow> {
    closing.list().into_iter().map(indicator_row).collect()
}

fn criterion(criterion: &Criterion) -> CriterionPart {
    CriterionPart {
        name: criterion.name,
        limit: value(criterion.limit, Dimension::AbsolutePressure),
        kind: if criterion.ceiling { "highest" } else { "lowest" },
        found: value(criterion.found, Dimension::AbsolutePressure),
        passed: criterion.passed(),
    }
}

fn change(study: &ClosingStudy, change: &Change) -> ChangePart {
    let owner = study.sweeps.iter().find(|s| s.parameter.path == change.path);
    let dimension = owner.map_or(Dimension::Number, |s| s.parameter.dimension);
    let cure = change.answer.cure();
    let size = cure.and_then(|cure| cure.size.as_ref());
    let ends = cure.and_then(|cure| cure.ends.as_ref());
    let part = cure.and_then(|cure| cure.part_flows.as_ref());
    ChangePart {
        path: change.path,
        title: change.title,
        today: value(change.today, dimension),
        by: match change.by {
            Use::Change | Use::Show => "plant",
            Use::Maker => "maker",
        },
        changed_to: cure.map(|cure| value(cure.value, dimension)),
        closing: cure.map(|cure| rows(&cure.closing)),
        drill_size: size.map(|(v, _)| value(*v, dimension)),
        drill_size_closing: size.map(|(_, closing)| rows(closing)),
        settings: cure.map_or_else(Vec::new, |cure| cure.settings.clone()),
        sure_to: cure.map(|cure| value(cure.sure_to, dimension)),
        ends_at: ends.map(|(at, _)| value(*at, dimension)),
        ends_why: ends.map(|(_, why)| why.clone()),
        exponents: cure.map_or_else(Vec::new, exponents),
        part_flows: part.map_or_else(Vec::new, part_flows),
        size_for_part_flows: part.and_then(|part| part.narrower).map(|size| value(size, dimension)),
        windows: change.windows.iter().map(|w| window(w, dimension)).collect(),
        uneven: change.uneven,
        fails_again: ends.is_some() || !change.windows.is_empty(),
    }
}

fn exponents(cure: &Cure) -> Vec<ExponentPart> {
    let part = |(exponent, closing): &(f64, Closing)| ExponentPart {
        exponent: *exponent,
        peak: value(closing.peak, Dimension::AbsolutePressure),
    };
    cure.exponents.iter().map(part).collect()
}

fn part_flows(part: &PartFlows) -> Vec<PartFlowPart> {
    let row = |point: &AtFlow| {
        let found = point.outcome.as_ref();
        PartFlowPart {
            path: part.stated.path,
            flow: value(point.flow, part.stated.dimension),
            meets_target: found.ok().map(|_| point.misses.is_none()),
            peak: found.ok().map(|closing| value(closing.peak, Dimension::AbsolutePressure)),
            why: point.misses.clone().or_else(|| found.err().cloned()),
        }
    };
    part.points.iter().map(row).collect()
}

fn window(window: &Window, dimension: Dimension) -> WindowPart {
    WindowPart {
        first: value(window.first, dimension),
        last: value(window.last, dimension),
        fails_at: value(window.fails_at, dimension),
        why: window.why.clone(),
    }
}

fn point(study: &ClosingStudy, parameter: &Parameter, point: &Point) -> PointPart {
    let found = point.outcome.as_ref().ok();
    PointPart {
        path: parameter.path,
        value: value(point.value, parameter.dimension),
        meets_target: found.map(|closing| study.target.kept(closing)),
        uncertain: found.map(|closing| closing.uncertain),
        missed_later: found.map(|closing| study.target.met(closing) && !study.target.kept(closing)),
        closing: found.map(rows),
        failure: point.outcome.as_ref().err().cloned(),
    }
}
