//! A scenario's valve between its lines, as the physics takes them.

use crate::physics::assembly::{Surroundings, line_states};
use crate::physics::installation::Installation;
use crate::scenario::Scenario;

fn surroundings(scenario: &Scenario) -> Surroundings<'_> {
    Surroundings {
        fluid: &scenario.fluid,
        supply: &scenario.supply,
        upstream: &scenario.upstream,
        downstream: &scenario.downstream,
        sink: &scenario.sink,
    }
}

/// Assemble a scenario's valve with its winding at `temperature` (K).
pub fn install(scenario: &Scenario, temperature: f64) -> Installation {
    Installation::assemble(&scenario.valve, &surroundings(scenario), temperature)
}

/// Transit times L/a of the upstream and the downstream line, s.
pub fn transits(scenario: &Scenario) -> (f64, f64) {
    let (up, down) = line_states(&surroundings(scenario));
    (up.transit(), down.transit())
}
