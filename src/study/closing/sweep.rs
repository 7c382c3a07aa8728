//! Points along one parameter.

use super::numbers::{Closing, numbers};
use super::parameter::Parameter;
use crate::physics::fluid::Phase;
use crate::scenario::{Document, Problems, Scenario};
use crate::simulate::Phases;
use crate::simulate::coil_heat::winding_temperature;
use crate::simulate::throttle::prepare;
use crate::study::examine::{self, examine_heated};
use crate::study::setting::scenario_at;

/// Shortest time that a closing is waited for, s: a bleed of a fifth closes twenty-five times slower.
const LEAST_WAIT: f64 = 60.0;

/// A value of a parameter and what was found at it.
#[derive(Clone, Debug, PartialEq)]
pub struct Point {
    /// Value, SI.
    pub value: f64,
    /// The closing, or the reason for having none.
    pub outcome: Result<Closing, String>,
}

/// All points along one parameter, rising; today's is among them.
#[derive(Clone, Debug, PartialEq)]
pub struct Sweep {
    /// The parameter.
    pub parameter: Parameter,
    /// The points.
    pub points: Vec<Point>,
}

impl Sweep {
    /// Points with a result.
    pub fn closings(&self) -> impl Iterator<Item = (f64, &Closing)> {
        self.points.iter().filter_map(|p| p.outcome.as_ref().ok().map(|closing| (p.value, closing)))
    }

    /// The closing at a value.
    pub fn at(&self, value: f64) -> Option<&Closing> {
        self.point_at(value).and_then(|point| point.outcome.as_ref().ok())
    }

    /// The point at a value.
    pub fn point_at(&self, value: f64) -> Option<&Point> {
        self.points.iter().find(|p| (p.value - value).abs() <= 1e-9 * value.abs())
    }

    /// Adds a point in its place.
    pub(super) fn insert(&mut self, tried: Point) {
        let place = self.points.partition_point(|p| p.value < tried.value);
        self.points.insert(place, tried);
    }
}

/// One cycle, each half as long as it takes.
fn phases(scenario: &Scenario) -> Phases {
    let asked = scenario.asked_times();
    Phases {
        open: asked.longest_open,
        shut: asked.longest_shut.max(LEAST_WAIT),
        cycles: 1,
        early_open: true,
        early_shut: true,
        watch: 0.0,
    }
}

/// One opening and closing of a scenario.
pub(super) fn closing(scenario: &Scenario) -> Result<Closing, String> {
    measured(scenario, phases)
}

/// A scenario through phases that suit it.
fn measured(scenario: &Scenario, phases: fn(&Scenario) -> Phases) -> Result<Closing, String> {
    let ready = prepare(scenario).map_err(|e| e.to_string())?;
    let liquid = matches!(ready.fluid.phase, Phase::Liquid(_));
    let (phases, temperature) = (phases(&ready), winding_temperature(&ready));
    let examined = examine_heated(ready, phases, temperature).map_err(|e| e.to_string())?;
    numbers(&examined, liquid)
}

/// One value of a parameter.
pub(super) fn point(document: &Document, parameter: &Parameter, value: f64) -> Point {
    let outcome = scenario_at(document, &parameter.settings(value)).and_then(|scenario| closing(&scenario));
    Point { value, outcome }
}

/// Settings as a user types them, and the phases of the duty: what `run` shows with them.
pub(super) fn as_set(document: &Document, settings: &[String]) -> Result<Closing, String> {
    let mut changed = document.clone();
    for setting in settings {
        changed = changed.with_setting(setting).map_err(|problem| problem.message)?;
    }
    let first = |problems: Problems| problems.0.first().map_or_else(String::new, |problem| problem.message.clone());
    let (scenario, _) = changed.scenario().map_err(first)?;
    measured(&scenario, examine::phases)
}
