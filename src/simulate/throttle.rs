//! Before a run: the throttle that gives the stated flow, and the sink that a flashing throttle presents to its line.

use super::RunError;
use super::refusal::refusal;
use crate::physics::assembly::{Surroundings, line_states};
use crate::physics::fluid::Phase;
use crate::physics::installation::Installation;
use crate::physics::parts::CoilTemperature;
use crate::physics::valve::magnet::{TWENTY_CELSIUS, winding_resistance};
use crate::scenario::Scenario;
use crate::units::{Dimension, text};

/// A liquid line that ends in a flashing throttle is held this far above saturation while the valve is shut, Pa: enough
/// for the line to be full of liquid, little against any differential.
pub const ABOVE_SATURATION: f64 = 5e3;

/// The scenario with its throttle solved from the stated flow, and with the sink that its throttle truly sees.
///
/// A throttle that discharges below the vapour pressure is choked by flashing: its flow follows the upstream pressure above
/// about the vapour pressure and no longer the sink's (IEC 60534-2-1:2011, liquid choking). The sink is therefore taken
/// just above saturation.
pub fn prepare(scenario: &Scenario) -> Result<Scenario, RunError> {
    refuse_cold_winding(scenario)?;
    let mut ready = scenario.clone();
    if let Phase::Liquid(liquid) = &scenario.fluid.phase {
        let throttled = scenario.flow.is_some() || scenario.sink.throttle > 0.0;
        if scenario.sink.pressure < liquid.vapour_pressure + ABOVE_SATURATION && throttled {
            ready.sink.pressure = liquid.vapour_pressure + ABOVE_SATURATION;
        }
    }
    if let Some(flow) = scenario.flow {
        ready.sink.throttle = throttle_for(&ready, flow)?;
        ready.flow = None;
    }
    Ok(ready)
}

/// Share of its resistance at 20 °C below which a winding is not computed: copper's straight line ends in nothing at −234 °C, and
/// long before that it is not the truth.
const LEAST_RESISTANCE: f64 = 0.1;

/// Refuses a winding so cold that by the straight line it has next to no resistance, or less.
fn refuse_cold_winding(scenario: &Scenario) -> Result<(), RunError> {
    let (key, temperature) = match scenario.valve.coil.temperature {
        CoilTemperature::Stated { temperature } => ("temperature", temperature),
        CoilTemperature::FromHeat { ambient, .. } => ("ambient", ambient),
    };
    if winding_resistance(1.0, temperature) >= LEAST_RESISTANCE {
        return Ok(());
    }
    Err(RunError::Impossible(format!(
        "valve.coil.{key}: a copper winding at {} would have less than a tenth of its resistance at 20 °C, which is not computed; \
         state a temperature above -209 °C",
        text(temperature, Dimension::Temperature)
    )))
}

/// Throttle, Pa/(kg/s)², with which the fully open valve passes `flow` (kg/s).
fn throttle_for(scenario: &Scenario, flow: f64) -> Result<f64, RunError> {
    let around = Surroundings {
        fluid: &scenario.fluid,
        supply: &scenario.supply,
        upstream: &scenario.upstream,
        downstream: &scenario.downstream,
        sink: &scenario.sink,
    };
    let installation = Installation::assemble(&scenario.valve, &around, TWENTY_CELSIUS);
    let (up, down) = line_states(&around);
    let p_1 = scenario.supply.pressure - up.wall.with(up.end).loss(flow);
    let drop_down = down.wall.with(down.end).loss(flow);
    let lowest = scenario.sink.pressure + drop_down;
    let passes = |p_2: f64| installation.stage.throughflow(installation.stage.part.lift, p_1, p_2).mass_flow;
    if p_1 <= lowest || passes(lowest) < flow {
        return Err(refusal(scenario, flow, &installation));
    }
    let (mut low, mut high) = (lowest, p_1);
    for _ in 0..200 {
        let middle = 0.5 * (low + high);
        if passes(middle) > flow { low = middle } else { high = middle }
    }
    Ok((0.5 * (low + high) - lowest) / (flow * flow) + scenario.sink.throttle)
}
