//! What the study of a coil's heat hands to the outputs.

use crate::scenario::Problems;
use crate::study::coil_heat::{Armature, Found};
use crate::verdict::CoilLimit;
use std::fmt;

/// What is asked.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HeatJob {
    /// Lowest cycle rate, 1/s.
    pub from: f64,
    /// Highest cycle rate, 1/s.
    pub to: f64,
    /// Values along each axis.
    pub points: usize,
}

/// Why there is no study.
#[derive(Clone, Debug)]
pub enum HeatError {
    /// The scenario has problems.
    Scenario(Problems),
    /// The winding's temperature is stated, so that nothing is to be computed.
    Stated,
}

impl fmt::Display for HeatError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            HeatError::Scenario(problems) => problems.fmt(f),
            HeatError::Stated => f.write_str(
                "[valve.coil] states the winding's temperature, so there is no heat to be mapped: state instead how the coil gets rid \
                 of it, in [valve.coil.network] (see scenarios/ac-hot-coil.toml), or as `ambient` with `thermal_resistance`",
            ),
        }
    }
}

impl std::error::Error for HeatError {}

/// A grid of temperatures with the armature in, or out.
#[derive(Clone, Debug, PartialEq)]
pub struct Panel {
    /// What the armature does.
    pub armature: Armature,
    /// Row by row from the lowest on-share, in each the cycle rates.
    pub cells: Vec<Vec<Found>>,
}

/// The scenario's own duty.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OwnDuty {
    /// Cycle rate, 1/s.
    pub cycle_rate: f64,
    /// Energised share of a cycle.
    pub on_share: f64,
    /// What the armature does in the simulated run.
    pub armature: Armature,
    /// The winding with its armature in.
    pub inside: Found,
    /// The same with an armature that stays out; none on direct current, which does not care.
    pub outside: Option<Found>,
    /// Maximum operating pressure differential with the winding hot (armature in) and on low voltage, Pa.
    pub hot_low_differential: Option<f64>,
    /// The circuit's differential, Pa.
    pub differential: f64,
}

impl OwnDuty {
    /// What holds, as the armature does in the simulated run.
    pub fn found(&self) -> Found {
        match self.armature {
            Armature::ComesIn => self.inside,
            Armature::StaysOut => self.outside.unwrap_or(self.inside),
        }
    }
}

/// Largest on-shares at a cycle rate that keep the winding within its limit.
#[derive(Clone, Debug, PartialEq)]
pub struct Allowed {
    /// Cycle rate, 1/s.
    pub rate: f64,
    /// For each panel; one where the coil may be on for ever.
    pub shares: Vec<f64>,
}

/// The study.
#[derive(Clone, Debug, PartialEq)]
pub struct HeatStudy {
    /// Scenario name.
    pub scenario: String,
    /// Question of the scenario.
    pub question: String,
    /// Remark on its data.
    pub data: String,
    /// Overrides as typed.
    pub overrides: Vec<String>,
    /// Cycle rates, 1/s, rising.
    pub rates: Vec<f64>,
    /// On-shares, rising.
    pub shares: Vec<f64>,
    /// With the armature in, and on alternating current with one that stays out.
    pub panels: Vec<Panel>,
    /// What the winding may reach.
    pub limit: Option<CoilLimit>,
    /// The own duty.
    pub own: OwnDuty,
    /// Allowed on-shares at some rates; empty without a limit.
    pub allowed: Vec<Allowed>,
    /// Time for which the armature is out at each pull-in, s.
    pub pull_in: f64,
    /// Does that time come from a run?
    pub pull_in_simulated: bool,
    /// Sentences, the verdict first.
    pub findings: Vec<String>,
    /// What was left out or assumed.
    pub remarks: Vec<String>,
}

impl HeatStudy {
    /// Does the own duty heat the winding beyond its limit?
    pub fn adverse(&self) -> bool {
        self.limit.is_some_and(|limit| self.own.found().highest > limit.temperature)
    }
}
