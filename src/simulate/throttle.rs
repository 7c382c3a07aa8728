//! Before a run: the throttle that gives the stated flow, and the sink that a flashing throttle presents to its line.

use super::refusal::{ABOVE_SATURATION, refusal};
use super::run_error::RunError;
use super::surroundings::surroundings;
use crate::physics::assembly::line_states;
use crate::physics::fluid::Phase;
use crate::physics::installation::Installation;
use crate::physics::parts::CoilTemperature;
use crate::physics::valve::copper::{TWENTY_CELSIUS, winding_resistance};
use crate::scenario::{Duty, Run, Scenario};
use crate::units::{Dimension, text};
use std::ops::Deref;

/// A scenario that can be run: its throttle is solved from the stated flow, and its sink is the one that its throttle truly sees.
/// Only [`prepare`] makes one.
#[derive(Clone, Debug)]
pub struct Ready(Scenario);

impl Deref for Ready {
    type Target = Scenario;

    fn deref(&self) -> &Scenario {
        &self.0
    }
}

impl Ready {
    /// The same valve at another duty, on which neither throttle nor sink depends.
    pub fn at_duty(&self, duty: Duty) -> Ready {
        Ready(Scenario { duty, ..self.0.clone() })
    }

    /// The same valve simulated otherwise, with another tolerance or for another time: throttle and sink are found without a run.
    pub fn run_as(&self, run: Run) -> Ready {
        Ready(Scenario { run, ..self.0.clone() })
    }
}

/// Makes a scenario ready to be run.
///
/// A throttle that discharges below the vapour pressure is choked by flashing: its flow follows the upstream pressure above
/// about the vapour pressure and no longer the sink's (IEC 60534-2-1:2011, liquid choking). The sink is therefore taken
/// just above saturation.
pub fn prepare(scenario: &Scenario) -> Result<Ready, RunError> {
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
    Ok(Ready(ready))
}

/// Share of its resistance at 20 °C below which a winding is not computed: copper's straight line ends in nothing at −234 °C, and
/// long before that it is not the truth.
const LEAST_RESISTANCE: f64 = 0.1;

/// Refuses a winding so cold that by the straight line it has next to no resistance, or less.
fn refuse_cold_winding(scenario: &Scenario) -> Result<(), RunError> {
    let (key, temperature) = match scenario.valve.coil.temperature {
        CoilTemperature::Stated { temperature } => ("temperature", temperature),
        CoilTemperature::FromHeat { ambient, .. } => ("ambient", ambient),
        CoilTemperature::Network { ambient, medium, .. } if medium < ambient => ("network.medium", medium),
        CoilTemperature::Network { ambient, .. } => ("network.ambient", ambient),
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
    let around = surroundings(scenario);
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scenario::Document;

    /// What stays valid by the methods of [`Ready`] is what [`prepare`] would find anew.
    #[test]
    fn neither_duty_nor_run_moves_throttle_or_sink() {
        let file = concat!(env!("CARGO_MANIFEST_DIR"), "/scenarios/liquid-refrigerant.toml");
        let (scenario, _) = Document::open(file).and_then(|document| document.scenario()).expect("a demonstration");
        let (duty, run) =
            (Duty { cycle_rate: 0.5, on_fraction: 0.9 }, Run { tolerance: 1e-8, longest_on: 1.0, longest_off: 2.0 });
        let changed = Scenario { duty: duty.clone(), run: run.clone(), ..scenario.clone() };
        let (kept, anew) = (
            prepare(&scenario).map(|ready| ready.at_duty(duty).run_as(run)).expect("ready"),
            prepare(&changed).expect("ready"),
        );
        assert!(kept.sink.throttle > 0.0 && kept.sink.pressure > scenario.sink.pressure, "both were solved");
        assert_eq!(format!("{:?}", *kept), format!("{:?}", *anew));
    }
}
