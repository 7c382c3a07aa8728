//! What surrounds a scenario's valve, as the physics takes it.

use crate::physics::assembly::{Surroundings, line_states};
use crate::scenario::Scenario;

/// All that an installation is assembled from beside its valve.
pub fn surroundings(scenario: &Scenario) -> Surroundings<'_> {
    Surroundings {
        fluid: &scenario.fluid,
        supply: &scenario.supply,
        upstream: &scenario.upstream,
        downstream: &scenario.downstream,
        sink: &scenario.sink,
    }
}

/// Transit times L/a of the upstream and the downstream line, s.
pub fn transits(scenario: &Scenario) -> (f64, f64) {
    let (up, down) = line_states(&surroundings(scenario));
    (up.transit(), down.transit())
}
