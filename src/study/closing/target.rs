//! What a closing is measured by: the target that is solved for, and the lines of acceptance.

use super::numbers::Closing;
use crate::scenario::Scenario;
use crate::verdict::Over;

/// Positive surge that DIN 3553:2019, 4.1.1 allows immediately upstream of a water fitting, Pa.
const WATER_SURGE: f64 = 2e5;
/// Share of the flow pressure below which the same clause lets no negative surge fall.
const WATER_TROUGH_SHARE: f64 = 0.5;
/// Without a limit and with another liquid than water the bang is to lose a fifth of that of a sudden stop (judgement: less
/// is hardly heard).
const SUDDEN_SHARE: f64 = 0.8;

const ALLOWED_PRESSURE: &str = "allowed pressure";
const ALLOWED_SURGE: &str = "allowed surge";
const WATER_POSITIVE: &str = "DIN 3553 positive surge (2 bar)";
const WATER_NEGATIVE: &str = "DIN 3553 negative surge (half the flow pressure)";

/// A target as the user may state it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Goal {
    /// Highest inlet pressure, Pa absolute.
    Peak(f64),
    /// Highest rise above rest, Pa.
    Surge(f64),
}

/// The target that changes are solved for.
#[derive(Clone, Debug, PartialEq)]
pub struct Target {
    /// How much.
    pub goal: Goal,
    /// Where it comes from, in words.
    pub source: &'static str,
    /// Does it hold behind the valve as well? Limits do; what is set for the line in front of a fitting does not.
    pub both_sides: bool,
    /// Further limits of the scenario, which a cure has to keep as well.
    pub beside: Vec<Goal>,
}

/// A line of acceptance and how today's closing stands to it.
#[derive(Clone, Debug, PartialEq)]
pub struct Criterion {
    /// Its name.
    pub name: &'static str,
    /// Is it about later peaks, at either side of the valve? These are shown only where they break the target.
    pub later: bool,
    /// Is the pressure to stay below (true) or above the limit?
    pub ceiling: bool,
    /// Limit of the pressure, Pa absolute.
    pub limit: f64,
    /// What the run showed, Pa absolute.
    pub found: f64,
}

impl Criterion {
    /// Is it kept?
    pub fn passed(&self) -> bool {
        if self.ceiling { self.found <= self.limit } else { self.found >= self.limit }
    }
}

impl Target {
    /// The peak above the target, Pa; nought or less where it is met.
    pub fn excess(&self, closing: &Closing) -> f64 {
        excess(&self.goal, closing)
    }

    /// Does the first closure meet it, and the limits beside it?
    pub fn met(&self, closing: &Closing) -> bool {
        let all = std::iter::once(&self.goal).chain(&self.beside);
        all.map(|goal| excess(goal, closing)).all(|excess| excess <= 0.0)
    }

    /// The later peak that is furthest above the target or a limit beside it; none where all keep them.
    pub fn broken_later(&self, closing: &Closing) -> Option<Over> {
        let own = if self.both_sides { closing.later.clone() } else { closing.later.in_front() };
        let main = std::iter::once((&self.goal, &own));
        let all = main.chain(self.beside.iter().map(|goal| (goal, &closing.later)));
        let over = all.filter_map(|(goal, later)| match goal {
            Goal::Peak(limit) => later.over_peak(*limit),
            Goal::Surge(limit) => later.over_rise(*limit),
        });
        over.filter(|over| over.excess > 0.0).max_by(|a, b| a.excess.total_cmp(&b.excess))
    }

    /// Do all peaks keep it, that of the first closure and the later ones?
    pub fn kept(&self, closing: &Closing) -> bool {
        self.met(closing) && self.broken_later(closing).is_none()
    }

    /// Does it lie above what a stop at once of this flow would reach, counted from rest (so with what the friction of the
    /// line gives back)? Keeping it then says nothing.
    pub fn above_sudden_stop(&self, closing: &Closing) -> bool {
        self.peak(closing) - (closing.peak - closing.surge) >= closing.sudden_rise
    }

    /// The inlet pressure that it allows, at a closing's own pressure at rest, Pa absolute.
    pub fn peak(&self, closing: &Closing) -> f64 {
        closing.peak - self.excess(closing)
    }
}

/// First-closure peak above a goal, Pa.
fn excess(goal: &Goal, closing: &Closing) -> f64 {
    match goal {
        Goal::Peak(limit) => closing.peak - limit,
        Goal::Surge(limit) => closing.surge - limit,
    }
}

/// Is the fluid water?
pub(super) fn is_water(scenario: &Scenario) -> bool {
    let name = scenario.fluid.name.to_lowercase();
    name.split(|c: char| !c.is_alphabetic()).next() == Some("water")
}

/// The target as stated, else the tightest of the scenario's limits, else that of water fittings, else a share of ρ·a·v.
pub(super) fn target(scenario: &Scenario, today: &Closing, stated: Option<Goal>) -> Target {
    let alone = |goal, source, both_sides| Target { goal, source, both_sides, beside: Vec::new() };
    if let Some(goal) = stated {
        return alone(goal, "as asked", true);
    }
    let limits = &scenario.limits;
    let peak = limits.peak_pressure.map(|p| (Goal::Peak(p), ALLOWED_PRESSURE));
    let surge = limits.surge.map(|p| (Goal::Surge(p), ALLOWED_SURGE));
    let all: Vec<(Goal, &str)> = peak.into_iter().chain(surge).collect();
    let tightest = all.iter().max_by(|a, b| excess(&a.0, today).total_cmp(&excess(&b.0, today)));
    if let Some((goal, source)) = tightest {
        let beside = all.iter().filter(|(other, _)| other != goal).map(|(other, _)| *other).collect();
        return Target { beside, ..alone(*goal, source, true) };
    }
    if is_water(scenario) {
        return alone(Goal::Surge(WATER_SURGE), WATER_POSITIVE, false);
    }
    let allowed = today.open_pressure + SUDDEN_SHARE * today.sudden_rise - today.rest_pressure;
    alone(Goal::Surge(allowed), "0.8 of ρ·a·v today, above the open inlet pressure; no limit is stated", false)
}

/// All lines of acceptance for today's closing.
///
/// Those for water: DIN 3553:2019, 4.1.1 (public extract): the positive surge immediately upstream of the fitting is at most
/// 2 bar, the negative one does not fall below half of the flow pressure. Flow pressure is read as the gauge pressure at the
/// inlet with the valve open, and its lowest value is taken at the inlet.
pub(super) fn criteria(scenario: &Scenario, today: &Closing, target: &Target) -> Vec<Criterion> {
    let ceiling = |name, limit| Criterion { name, later: false, ceiling: true, limit, found: today.peak };
    let mut all = Vec::new();
    if let Some(over) = target.broken_later(today) {
        let name = if today.later.after_cavity { "later peak (uncertain)" } else { "later peak" };
        all.push(Criterion { name, later: true, ceiling: true, limit: over.peak - over.excess, found: over.peak });
    }
    if ![ALLOWED_PRESSURE, ALLOWED_SURGE, WATER_POSITIVE].contains(&target.source) {
        all.push(ceiling("target", target.peak(today)));
    }
    all.extend(scenario.limits.peak_pressure.map(|limit| ceiling(ALLOWED_PRESSURE, limit)));
    let rest = today.peak - today.surge;
    all.extend(scenario.limits.surge.map(|limit| ceiling(ALLOWED_SURGE, rest + limit)));
    if is_water(scenario) {
        all.push(ceiling(WATER_POSITIVE, rest + WATER_SURGE));
        let half = scenario.atmosphere + WATER_TROUGH_SHARE * (today.open_pressure - scenario.atmosphere);
        all.push(Criterion {
            name: WATER_NEGATIVE,
            later: false,
            ceiling: false,
            limit: half,
            found: today.inlet_trough,
        });
    }
    all
}
