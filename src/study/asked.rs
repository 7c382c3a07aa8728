//! What was asked: the inputs of an answer, as they are told with it.

use super::coil_supply;
use super::coil_voltage::far_from_rated;
use crate::physics::fluid::Phase;
use crate::scenario::{Document, Limits, Problems, Row, Scenario, echo};

/// A scenario as its user sees it.
#[derive(Clone, Debug, PartialEq)]
pub struct Asked {
    /// Name of the scenario.
    pub scenario: String,
    /// Its question.
    pub question: String,
    /// Remark on its data.
    pub data: String,
    /// Overrides as typed.
    pub overrides: Vec<String>,
    /// Every input in both systems of units.
    pub inputs: Vec<Row>,
    /// What is odd about the inputs, value by value and taken together.
    pub remarks: Vec<String>,
    /// Limits set by the user.
    pub limits: Limits,
    /// Pressure of the supply at rest, Pa absolute.
    pub supply_pressure: f64,
    /// Vapour pressure of the fluid, Pa absolute; none for a gas.
    pub vapour_pressure: Option<f64>,
}

/// What a document asks, which has read as `scenario`.
pub fn asked(document: &Document, scenario: &Scenario) -> Result<Asked, Problems> {
    Ok(Asked {
        scenario: scenario.name.clone(),
        question: scenario.question.clone(),
        data: scenario.data.clone(),
        overrides: document.settings().iter().map(ToString::to_string).collect(),
        inputs: echo(document)?,
        remarks: remarks(document, scenario)?,
        limits: scenario.limits.clone(),
        supply_pressure: scenario.supply.pressure,
        vapour_pressure: match &scenario.fluid.phase {
            Phase::Liquid(liquid) => Some(liquid.vapour_pressure),
            Phase::Gas(_) => None,
        },
    })
}

/// What is odd about the inputs, value by value and taken together.
pub fn remarks(document: &Document, scenario: &Scenario) -> Result<Vec<String>, Problems> {
    let (_, warnings) = document.scenario()?;
    Ok(warnings
        .iter()
        .map(ToString::to_string)
        .chain(far_from_rated(scenario))
        .chain(coil_supply::remarks(scenario))
        .collect())
}
