//! The study of stability as part of the document. All numbers are in SI base units (Pa, m, kg/s, N/m, 1/s, Hz, rad);
//! `units` names the unit of every numeric field, and each cure that of its own values.

use crate::output::answer;
use crate::stability::equilibria::Rest;
use crate::stability::modes::{Mode, Part};
use crate::study::stability::cure::{Attempt, Cure, Direction};
use crate::study::stability::curve::{Branch, CurvePoint};
use crate::study::stability::growth::Outcome;
use crate::study::stability::lever::By;
use crate::study::stability::point::EquilibriumModes;
use crate::study::stability::reading::{Change, doubling_time, growth_per_cycle};
use crate::study::stability::trial::Quiet;
use crate::study::stability::{Crossing, StabilityStudy};
use crate::units::base_unit;
use crate::verdict::Behaviour;
use serde::Serialize;
use std::collections::BTreeMap;

/// Unit of each numeric field; a field without a unit is a plain number or a share of one.
const UNITS: &[(&str, &str)] = &[
    ("across", "Pa"),
    ("change_by", "Pa"),
    ("conductance", "kg/(s·Pa)"),
    ("damping_ratio", "1"),
    ("differential", "Pa"),
    ("doubling_time", "s"),
    ("flow", "kg/s"),
    ("frequency", "Hz"),
    ("full_lift", "m"),
    ("growth", "1/s"),
    ("growth_per_cycle", "1"),
    ("lag", "rad"),
    ("lift", "m"),
    ("lift_share", "1"),
    ("limits", "Pa"),
    ("limits_by_hand", "Pa"),
    ("lyapunov", "1"),
    ("runaway", "1/s"),
    ("sensitivity", "1/s"),
    ("shares", "1"),
    ("stiffness", "N/m"),
];

/// Differentials that bound the states, Pa.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct LimitsPart {
    /// The shut stage lifts off.
    pub lift_off: Option<f64>,
    /// The open stage leaves its stop.
    pub full_lift: Option<f64>,
    /// Lowest with the stage off its seat; by hand there is none.
    pub least_open: Option<f64>,
}

/// A mode.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ModePart {
    /// Growth rate σ, 1/s.
    pub growth: f64,
    /// Frequency, Hz.
    pub frequency: f64,
    /// −σ/|s|.
    pub damping_ratio: f64,
    /// Time to double, or to halve where it dies, s.
    pub doubling_time: f64,
    /// Factor of growth in one cycle.
    pub growth_per_cycle: f64,
    /// Share of each part of the installation; they add to 1.
    pub shares: BTreeMap<&'static str, f64>,
    /// Angle by which the lift lags the differential across the valve, rad.
    pub lag: f64,
    /// Flow drawn by the valve in phase with its differential, kg/(s·Pa).
    pub conductance: f64,
    /// Does the valve feed the mode (conductance below zero)?
    pub fed_by_valve: bool,
}

/// An equilibrium.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct EquilibriumPart {
    /// "pilot_shut", "shut", "floating" or "open".
    pub state: &'static str,
    /// Lift, m; in contact outside the free range by the indentation.
    pub lift: f64,
    /// Differential across the valve, Pa.
    pub across: f64,
    /// Mass flow, kg/s.
    pub flow: f64,
    /// Force per displacement, all else settled, N/m; negative leads back.
    pub stiffness: f64,
    /// "stable", "oscillates" or "runs_away".
    pub answer: &'static str,
    /// Growth without oscillation, 1/s.
    pub runaway: Option<f64>,
    /// Growing modes found less those counted; anything but 0: do not trust the list.
    pub miscount: Option<i64>,
    /// Modes, the fastest growing first.
    pub modes: Vec<ModePart>,
}

/// A boundary.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct BoundaryPart {
    /// Circuit differential, Pa.
    pub differential: f64,
    /// Lift over full lift.
    pub lift_share: f64,
    /// Differential across the valve, Pa.
    pub across: f64,
    /// Frequency, Hz.
    pub frequency: f64,
    /// Does it begin with a jump? Null where it could not be told.
    pub hard: Option<bool>,
    /// First Lyapunov coefficient in scaled states.
    pub lyapunov: Option<f64>,
    /// Quiet above this differential, oscillating below?
    pub quiet_above: bool,
}

/// A change that runs confirm: quiet undisturbed and knocked, as quoted and up to 1.25 times the change.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct CurePart {
    /// Path.
    pub path: &'static str,
    /// In words.
    pub words: &'static str,
    /// Who can make it: "site", "part" (bought) or "maker".
    pub by: &'static str,
    /// "less", "more" or "without".
    pub direction: &'static str,
    /// For `--set`.
    pub settings: Vec<String>,
    /// Unit of `value`, `theory`, `needed`, `sure_to` and `ends_at`.
    pub unit: &'static str,
    /// Today.
    pub value: f64,
    /// Where small motions stop growing, by theory; null where they do not grow today or there is no such value.
    pub theory: Option<f64>,
    /// Needed, by runs; nought where the thing is taken away.
    pub needed: f64,
    /// "quiet" (it floats) or "opens".
    pub reached: &'static str,
    /// Everything tried from `needed` as far as this is quiet.
    pub sure_to: f64,
    /// The first value tried beyond that is not quiet.
    pub ends_at: Option<f64>,
    /// Why it is not.
    pub ends_why: Option<String>,
    /// Change as a share of today's value.
    pub change_share: Option<f64>,
    /// Change of a pressure difference, Pa.
    pub change_by: Option<f64>,
    /// dσ/d(ln value), 1/s, at today's value: of small motions only.
    pub sensitivity: Option<f64>,
}

/// A way that was tried without a confirmed cure.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct UncuredPart {
    /// Path.
    pub path: &'static str,
    /// "less", "more" or "without".
    pub direction: &'static str,
    /// Unit of the values.
    pub unit: &'static str,
    /// Today.
    pub value: f64,
    /// Where small motions stop growing, by theory.
    pub theory: Option<f64>,
    /// What is reached there: "quiet", "opens" or "stays_shut".
    pub theory_reaches: Option<&'static str>,
    /// Stretches that are quiet in runs, and the value beyond that is not: first, last, fails at.
    pub windows: Vec<[f64; 3]>,
    /// dσ/d(ln value), 1/s, at today's value.
    pub sensitivity: Option<f64>,
}

/// What the simulated valve does.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct FoundPart {
    /// The behaviour, as in `verdict`.
    pub behaviour: Behaviour,
    /// Is it a fault?
    pub adverse: bool,
    /// Why.
    pub reason: String,
}

/// One equilibrium of one differential of the curve.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct CurveRow {
    /// Circuit differential, Pa.
    pub differential: f64,
    /// State.
    pub state: &'static str,
    /// Lift over full lift.
    pub lift_share: f64,
    /// Differential across the valve, Pa.
    pub across: f64,
    /// Answer.
    pub answer: &'static str,
    /// Growth rate of the leading mode, 1/s.
    pub growth: Option<f64>,
    /// Its frequency, Hz.
    pub frequency: Option<f64>,
}

/// The study.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct StabilityPart {
    /// Unit of each numeric field.
    pub units: BTreeMap<&'static str, &'static str>,
    /// Circuit differential of the scenario, Pa.
    pub differential: f64,
    /// Full lift, m.
    pub full_lift: f64,
    /// Does the state that is reached first not stand, or swing?
    pub adverse: bool,
    /// The explanation.
    pub sentences: Vec<String>,
    /// What to know of the method here.
    pub remarks: Vec<String>,
    /// Equilibria by rising lift.
    pub equilibria: Vec<EquilibriumPart>,
    /// Bounds of the states, Pa.
    pub limits: LimitsPart,
    /// The same by hand, Pa.
    pub limits_by_hand: LimitsPart,
    /// Boundaries along the differential.
    pub boundaries: Vec<BoundaryPart>,
    /// What the simulated valve does, undisturbed and knocked; null where no run was made.
    pub simulated: Option<FoundPart>,
    /// Cures: on site first, then by a part, then by the maker; of each the smallest change first.
    pub cures: Vec<CurePart>,
    /// What was tried and is no cure.
    pub uncured: Vec<UncuredPart>,
    /// The curve.
    pub curve: Vec<CurveRow>,
}

/// A study as part of the document.
pub fn stability_part(study: &StabilityStudy) -> StabilityPart {
    let (limits, by_hand) = (&study.limits, &study.by_hand);
    StabilityPart {
        units: UNITS.iter().copied().collect(),
        differential: study.differential,
        full_lift: study.full_lift,
        adverse: study.adverse(),
        sentences: study.sentences.clone(),
        remarks: study.remarks.clone(),
        equilibria: study.here.equilibria.iter().map(equilibrium).collect(),
        limits: LimitsPart { lift_off: limits.lift_off, full_lift: limits.full_lift, least_open: limits.least_open },
        limits_by_hand: LimitsPart { lift_off: by_hand.lift_off, full_lift: by_hand.full_lift, least_open: None },
        boundaries: study.crossings.iter().map(boundary).collect(),
        simulated: study.found().map(|f| FoundPart {
            behaviour: f.behaviour,
            adverse: f.adverse,
            reason: f.reason.clone(),
        }),
        cures: study.cures().map(cure).collect(),
        uncured: study.attempts.iter().filter(|a| a.cure.is_none()).map(uncured).collect(),
        curve: study.curve.iter().flat_map(rows).collect(),
    }
}

fn state(rest: Rest) -> &'static str {
    match rest {
        Rest::PilotShut => "pilot_shut",
        Rest::Shut => "shut",
        Rest::Floating => "floating",
        Rest::Hanging => "hanging",
        Rest::Open => "open",
    }
}

fn equilibrium(e: &EquilibriumModes) -> EquilibriumPart {
    EquilibriumPart {
        state: state(e.equilibrium.rest),
        lift: e.equilibrium.lift,
        across: e.across,
        flow: e.flow,
        stiffness: e.equilibrium.stiffness,
        answer: answer::word(e.answer),
        runaway: e.runaway,
        miscount: e.miscount,
        modes: e.modes.iter().map(mode).collect(),
    }
}

fn mode(mode: &Mode) -> ModePart {
    let name = |part: Part| match part {
        Part::InletLine => "inlet_line",
        Part::Chamber => "control_chamber",
        Part::Stage => "main_stage",
        Part::Armature => "armature",
        Part::OutletLine => "outlet_line",
    };
    ModePart {
        growth: mode.growth(),
        frequency: mode.frequency(),
        damping_ratio: mode.damping(),
        doubling_time: doubling_time(mode),
        growth_per_cycle: growth_per_cycle(mode),
        shares: Part::ALL.into_iter().map(name).zip(mode.shares).collect(),
        lag: mode.lag,
        conductance: mode.conductance,
        fed_by_valve: mode.conductance < 0.0,
    }
}

fn boundary(c: &Crossing) -> BoundaryPart {
    BoundaryPart {
        differential: c.differential,
        lift_share: c.lift,
        across: c.across,
        frequency: c.frequency,
        hard: c.hard,
        lyapunov: c.lyapunov,
        quiet_above: c.quiet_above,
    }
}

fn direction(attempt: &Attempt) -> &'static str {
    match attempt.direction {
        Direction::Without => "without",
        Direction::Less => "less",
        Direction::More => "more",
    }
}

fn cure((attempt, cure): (&Attempt, &Cure)) -> CurePart {
    let lever = &attempt.lever;
    let (share, by) = match attempt.change() {
        Some(Change::Share(share)) => (Some(share), None),
        Some(Change::Pressure(by)) => (None, Some(by)),
        None => (None, None),
    };
    CurePart {
        path: lever.path,
        words: lever.words,
        by: match lever.by {
            By::Site => "site",
            By::Part => "part",
            By::Maker => "maker",
        },
        direction: direction(attempt),
        settings: cure.settings.clone(),
        unit: base_unit(lever.dimension),
        value: lever.value,
        theory: attempt.theory.filter(|(_, outcome)| *outcome != Outcome::StaysShut).map(|(edge, _)| edge),
        needed: cure.value,
        reached: match cure.rests {
            Quiet::Floats => "quiet",
            Quiet::Opens => "opens",
        },
        sure_to: cure.sure_to,
        ends_at: cure.ends.as_ref().map(|(at, _)| *at),
        ends_why: cure.ends.as_ref().map(|(_, why)| why.clone()),
        change_share: share,
        change_by: by,
        sensitivity: attempt.slope,
    }
}

fn uncured(attempt: &Attempt) -> UncuredPart {
    let reaches = |outcome| match outcome {
        Outcome::Dies => "quiet",
        Outcome::Opens => "opens",
        Outcome::StaysShut => "stays_shut",
    };
    UncuredPart {
        path: attempt.lever.path,
        direction: direction(attempt),
        unit: base_unit(attempt.lever.dimension),
        value: attempt.lever.value,
        theory: attempt.theory.map(|(edge, _)| edge),
        theory_reaches: attempt.theory.map(|(_, outcome)| reaches(outcome)),
        windows: attempt.windows.iter().map(|w| [w.first, w.last, w.fails_at]).collect(),
        sensitivity: attempt.slope,
    }
}

fn rows(point: &CurvePoint) -> impl Iterator<Item = CurveRow> + '_ {
    let row = |b: &Branch| CurveRow {
        differential: point.differential,
        state: state(b.rest),
        lift_share: b.lift,
        across: b.across,
        answer: answer::word(b.answer),
        growth: b.growth,
        frequency: b.frequency,
    };
    point.branches.iter().map(row)
}
