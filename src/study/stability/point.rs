//! The equilibria and modes of one operating point.

use crate::scenario::{Document, Scenario};
use crate::simulate::RunError;
use crate::simulate::throttle::prepare;
use crate::stability::characteristic::C64;
use crate::stability::equilibria::{Equilibrium, Rest};
use crate::stability::modes::Mode;
use crate::stability::roots::USUAL_BAND;
use crate::stability::valve::{Energised, SteadyCoil};
use crate::study::setting::scenario_at;
use serde::{Deserialize, Serialize};

/// Modes kept for each equilibrium.
const SHOWN_MODES: usize = 6;
/// Fastest monotone growth looked for, 1/s: a stage of some grams on the stiffest contact is slower.
const FASTEST: f64 = 1e5;
/// Fastest growing oscillation counted, 1/s: ten times any that was seen.
const FASTEST_GROWTH: f64 = 5e3;

/// How an equilibrium answers a small disturbance.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Answer {
    /// It comes back.
    Stable,
    /// An oscillation grows.
    Oscillates,
    /// It leaves without oscillating.
    RunsAway,
}

impl Answer {
    /// In words.
    pub fn words(self) -> &'static str {
        match self {
            Answer::Stable => "stable",
            Answer::Oscillates => "oscillation grows",
            Answer::RunsAway => "runs away",
        }
    }
}

/// An equilibrium with its modes.
#[derive(Clone, Debug)]
pub struct EquilibriumModes {
    /// The equilibrium.
    pub equilibrium: Equilibrium,
    /// Differential across the valve, Pa.
    pub across: f64,
    /// Mass flow, kg/s.
    pub flow: f64,
    /// Modes, the fastest growing first.
    pub modes: Vec<Mode>,
    /// Growth of a motion without oscillation, 1/s, if there is one.
    pub runaway: Option<f64>,
    /// Its answer.
    pub answer: Answer,
    /// Growing modes found less those counted by the argument principle; none where not counted. Anything but zero means
    /// that the list of modes is not to be trusted.
    pub miscount: Option<i64>,
}

impl EquilibriumModes {
    /// The mode that grows fastest (or dies slowest).
    pub fn leading(&self) -> Option<&Mode> {
        self.modes.first()
    }
}

/// All equilibria at one operating point.
#[derive(Clone, Debug)]
pub struct PointStability {
    /// By rising lift.
    pub equilibria: Vec<EquilibriumModes>,
}

impl PointStability {
    /// The floating equilibria.
    pub fn floating(&self) -> impl Iterator<Item = &EquilibriumModes> {
        self.equilibria.iter().filter(|e| e.equilibrium.rest == Rest::Floating)
    }

    /// Do small motions grow about a floating equilibrium?
    pub fn grows(&self) -> bool {
        self.floating().any(|e| e.answer == Answer::Oscillates)
    }

    /// The equilibrium that an opening valve comes to first: the lowest one that forces do not drive away from.
    pub fn first_reached(&self) -> Option<&EquilibriumModes> {
        self.equilibria.iter().find(|e| e.answer != Answer::RunsAway)
    }
}

/// Equilibria and modes of a valve. `counted`: check the number of growing modes by the argument principle.
pub fn at_point(valve: &Energised, counted: bool) -> PointStability {
    let equilibria = valve.equilibria().into_iter().map(|e| with_modes(valve, e, counted)).collect();
    PointStability { equilibria }
}

fn with_modes(valve: &Energised, equilibrium: Equilibrium, counted: bool) -> EquilibriumModes {
    let matrix = valve.characteristic(&equilibrium);
    let mut modes = valve.modes(&equilibrium, USUAL_BAND, &[]);
    let growing = modes.iter().filter(|m| m.growth() > 0.0).count();
    let miscount = counted.then(|| growing as i64 - matrix.count(0.0, FASTEST_GROWTH, USUAL_BAND) as i64);
    modes.truncate(SHOWN_MODES.max(growing));
    let runaway = if equilibrium.stiffness > 0.0 { matrix.runaway(FASTEST) } else { None };
    let answer = match (runaway, growing) {
        (Some(_), _) => Answer::RunsAway,
        (None, 0) => Answer::Stable,
        (None, _) => Answer::Oscillates,
    };
    EquilibriumModes {
        across: equilibrium.held.inlet_pressure - equilibrium.held.outlet_pressure,
        flow: equilibrium.held.inlet_flow,
        equilibrium,
        modes,
        runaway,
        answer,
        miscount,
    }
}

/// A document with what does not change from point to point: its scenario and the state of its coil.
pub struct Question<'a> {
    document: &'a Document,
    scenario: Scenario,
    coil: SteadyCoil,
}

/// Settings under these tables change the coil's own state.
const COIL_TABLES: [&str; 3] = ["valve.coil", "valve.armature", "duty"];

impl<'a> Question<'a> {
    /// The question of a document.
    pub fn of(document: &'a Document, scenario: &Scenario) -> Result<Self, RunError> {
        let ready = prepare(scenario)?;
        Ok(Question { document, coil: SteadyCoil::of(&ready), scenario: scenario.clone() })
    }

    /// The scenario as stated.
    pub fn scenario(&self) -> &Scenario {
        &self.scenario
    }

    /// The valve at a circuit differential, Pa.
    pub fn at_differential(&self, differential: f64) -> Result<Energised, RunError> {
        let mut scenario = self.scenario.clone();
        scenario.supply.pressure = scenario.sink.pressure + differential;
        Ok(Energised::new(&prepare(&scenario)?, self.coil))
    }

    /// The valve with numbers laid over the document; none where they make no sound scenario.
    pub fn with(&self, settings: &[(&str, f64)]) -> Option<Energised> {
        let scenario = prepare(&scenario_at(self.document, settings).ok()?).ok()?;
        if scenario.supply.pressure <= scenario.sink.pressure {
            return None;
        }
        let touches = |table: &&str| settings.iter().any(|(path, _)| path.starts_with(*table));
        let coil = if COIL_TABLES.iter().any(touches) { SteadyCoil::of(&scenario) } else { self.coil };
        Some(Energised::new(&scenario, coil))
    }
}

/// The fastest growing mode over the floating equilibria that forces do not drive away from; none where there is no such
/// equilibrium. `hint` is the root of a neighbouring case.
pub fn leading_float(valve: &Energised, hint: Option<C64>) -> Option<(Equilibrium, Mode)> {
    let hints: Vec<C64> = hint.into_iter().collect();
    valve
        .equilibria()
        .into_iter()
        .filter(|e| e.rest == Rest::Floating && e.stiffness < 0.0)
        .filter_map(|e| valve.modes(&e, USUAL_BAND, &hints).into_iter().next().map(|m| (e, m)))
        .max_by(|a, b| a.1.growth().total_cmp(&b.1.growth()))
}
