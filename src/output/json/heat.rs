//! A study of a coil's heat as a document of its own, in SI base units.

use crate::output::caution::CAUTIONS;
use crate::study::coil_heat::{Armature, Found};
use crate::study::heat::HeatStudy;
use serde::Serialize;

/// What a duty makes of the winding.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct HeatCell {
    /// Mean temperature of the winding, K.
    pub winding_mean: f64,
    /// Its lowest within a cycle, K.
    pub winding_lowest: f64,
    /// Its highest within a cycle, K.
    pub winding_highest: f64,
    /// Mean temperature of the body, K; null with one thermal resistance.
    pub body_mean: Option<f64>,
    /// Mean heat in the winding, W.
    pub winding_heat: f64,
    /// Mean heat in ring and eddies, W.
    pub ring_and_eddy_heat: f64,
    /// Time until the winding has covered 63 % of its rise, s; null with one thermal resistance.
    pub time_to_63_percent: Option<f64>,
}

/// The limit.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct HeatLimit {
    /// Highest allowed mean temperature of the winding, K.
    pub winding: f64,
    /// Insulation class from which it comes; null where it is stated.
    pub class: Option<&'static str>,
    /// What that class bears at its hottest spot, K.
    pub hottest_spot: Option<f64>,
}

/// The scenario's own duty.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct HeatOwn {
    /// Cycle rate, 1/s.
    pub cycle_rate: f64,
    /// Energised share.
    pub on_share: f64,
    /// "in" or "out": what the armature does in the simulated run.
    pub armature: &'static str,
    /// With the armature in.
    pub armature_in: HeatCell,
    /// With an armature that stays out; null on direct current.
    pub armature_out: Option<HeatCell>,
    /// Maximum operating pressure differential, winding hot, voltage 15 % low, Pa.
    pub hot_low_opening_differential: Option<f64>,
    /// The circuit's differential, Pa.
    pub differential: f64,
    /// Is the winding hotter than its limit?
    pub adverse: bool,
}

/// Allowed on-shares at a rate.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct HeatAllowed {
    /// Cycle rate, 1/s.
    pub cycle_rate: f64,
    /// Largest on-share with the armature in.
    pub armature_in: Option<f64>,
    /// The same with an armature that stays out.
    pub armature_out: Option<f64>,
}

/// One map.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct HeatPanel {
    /// "in" or "out".
    pub armature: &'static str,
    /// Row by row from the lowest on-share, in each the cycle rates.
    pub cells: Vec<Vec<HeatCell>>,
}

/// The whole study.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct HeatDocument {
    /// Name of the program.
    pub program: &'static str,
    /// Its version.
    pub version: &'static str,
    /// "heat".
    pub command: &'static str,
    /// Scenario name.
    pub scenario: String,
    /// Its question.
    pub question: String,
    /// Remark on its data.
    pub data: String,
    /// Overrides as typed.
    pub overrides: Vec<String>,
    /// What the winding may reach; null where nothing is stated.
    pub limit: Option<HeatLimit>,
    /// The own duty.
    pub own: HeatOwn,
    /// Time for which the armature is out at each pull-in, s.
    pub pull_in_time: f64,
    /// Does it come from a run?
    pub pull_in_simulated: bool,
    /// Allowed on-shares.
    pub allowed: Vec<HeatAllowed>,
    /// Cycle rates of the maps, 1/s.
    pub cycle_rates: Vec<f64>,
    /// On-shares of the maps.
    pub on_shares: Vec<f64>,
    /// The maps.
    pub panels: Vec<HeatPanel>,
    /// Sentences, the verdict first.
    pub findings: Vec<String>,
    /// What was left out.
    pub remarks: Vec<String>,
    /// Cautions.
    pub cautions: Vec<String>,
}

impl HeatDocument {
    /// That of a study.
    pub fn new(study: &HeatStudy) -> HeatDocument {
        let own = &study.own;
        let panel = |armature| study.panels.iter().position(|panel| panel.armature == armature);
        let (inside, outside) = (panel(Armature::ComesIn), panel(Armature::StaysOut));
        let allowed = study.allowed.iter().map(|row| HeatAllowed {
            cycle_rate: row.rate,
            armature_in: inside.and_then(|at| row.shares.get(at).copied()),
            armature_out: outside.and_then(|at| row.shares.get(at).copied()),
        });
        let panels = study.panels.iter().map(|panel| HeatPanel {
            armature: word(panel.armature),
            cells: panel.cells.iter().map(|row| row.iter().map(cell).collect()).collect(),
        });
        HeatDocument {
            program: env!("CARGO_PKG_NAME"),
            version: env!("CARGO_PKG_VERSION"),
            command: "heat",
            scenario: study.scenario.clone(),
            question: study.question.clone(),
            data: study.data.clone(),
            overrides: study.overrides.clone(),
            limit: study.limit.map(|limit| HeatLimit {
                winding: limit.temperature,
                class: limit.class.map(|(name, _)| name),
                hottest_spot: limit.class.map(|(_, hottest)| hottest),
            }),
            own: HeatOwn {
                cycle_rate: own.cycle_rate,
                on_share: own.on_share,
                armature: word(own.armature),
                armature_in: cell(&own.inside),
                armature_out: own.outside.as_ref().map(cell),
                hot_low_opening_differential: own.hot_low_differential,
                differential: own.differential,
                adverse: study.adverse(),
            },
            pull_in_time: study.pull_in,
            pull_in_simulated: study.pull_in_simulated,
            allowed: allowed.collect(),
            cycle_rates: study.rates.clone(),
            on_shares: study.shares.clone(),
            panels: panels.collect(),
            findings: study.findings.clone(),
            remarks: study.remarks.clone(),
            cautions: CAUTIONS.iter().map(ToString::to_string).collect(),
        }
    }

    /// The document as text, ending with a line break.
    pub fn text(&self) -> String {
        let mut text = serde_json::to_string_pretty(self).expect("texts, numbers and lists always have a JSON form");
        text.push('\n');
        text
    }
}

fn cell(found: &Found) -> HeatCell {
    HeatCell {
        winding_mean: found.mean,
        winding_lowest: found.lowest,
        winding_highest: found.highest,
        body_mean: found.body,
        winding_heat: found.winding_power,
        ring_and_eddy_heat: found.iron_power,
        time_to_63_percent: found.warm_up,
    }
}

fn word(armature: Armature) -> &'static str {
    match armature {
        Armature::ComesIn => "in",
        Armature::StaysOut => "out",
    }
}
