//! The valve of the water demo, for cases that need a whole installation. Each case states the values that it depends on.

use crate::physics::fluid::Phase;
use crate::scenario::{Document, Scenario};

/// What a case says that needs the demo's servo and finds none.
pub(super) const NO_SERVO: &str = "the water valve has no servo";

/// The demo's scenario.
pub(super) fn water_valve() -> Result<Scenario, String> {
    let text = include_str!(concat!(env!("CARGO_MANIFEST_DIR"), "/scenarios/water-bang.toml"));
    let (scenario, _) = Document::from_text("water-bang", text).scenario().map_err(|e| e.to_string())?;
    Ok(scenario)
}

/// The demo's scenario with an inviscid liquid.
pub(super) fn inviscid_water_valve() -> Result<Scenario, String> {
    let mut scenario = water_valve()?;
    match &mut scenario.fluid.phase {
        Phase::Liquid(liquid) => liquid.viscosity = 0.0,
        Phase::Gas(_) => return Err("the water demo holds no liquid".into()),
    }
    Ok(scenario)
}
