//! What the duty makes of a coil with a thermal network, and what is told of it with a run.

use super::coil_heat::{Armature, CoilHeat};
use crate::indicator::{Energised, Indicators};
use crate::physics::parts::Valve;
use crate::scenario::Scenario;
use crate::simulate::coil_heat::held;
use crate::verdict::{CoilLimit, CoilRise};

/// What the winding may reach: the stated limit or that of its insulation, whichever is lower.
pub fn coil_limit(scenario: &Scenario) -> Option<CoilLimit> {
    let stated = scenario.limits.coil_temperature.map(|temperature| CoilLimit { temperature, class: None });
    let by_class = scenario
        .insulation
        .map(|class| CoilLimit { temperature: class.highest_mean(), class: Some((class.name, class.hottest)) });
    stated.into_iter().chain(by_class).min_by(|a, b| a.temperature.total_cmp(&b.temperature))
}

/// Completes the indicators of a run with those of the coil in the long run; what its temperature hangs on.
pub(super) fn complete(found: &mut Indicators, scenario: &Scenario, energised: Energised) -> Option<CoilRise> {
    let coil = CoilHeat::of(scenario, None).filter(|coil| coil.network().is_some())?;
    let (rate, on_share) = (scenario.duty.cycle_rate, scenario.duty.on_fraction);
    let armature = match (found.drawn_in(energised), inrush(&scenario.valve)) {
        (None, true) => Armature::StaysOut,
        (None, false) | (Some(_), _) => Armature::ComesIn,
    };
    let heat = coil.found(rate, on_share, armature);
    let (idle, body) = (coil.idle(), heat.body?);
    found.highest_coil_temperature = Some(heat.highest);
    found.coil_body_temperature = Some(body);
    found.coil_warm_up_time = heat.warm_up;
    found.coil_temperature_armature_out =
        inrush(&scenario.valve).then(|| coil.found(rate, on_share, Armature::StaysOut).mean);
    Some(CoilRise {
        idle,
        across: heat.mean - body,
        outward: body - idle,
        passes_limit_after: coil_limit(scenario)
            .and_then(|limit| coil.time_until(rate, on_share, armature, limit.temperature)),
    })
}

/// Does the coil draw more while its armature is out? Alternating current does; direct current knows its resistance only.
pub fn inrush(valve: &Valve) -> bool {
    valve.coil.supply.alternates()
}

/// Heat in the winding with its armature out over that of holding, at a temperature (K); none on direct current.
pub(super) fn inrush_heat(scenario: &Scenario, temperature: f64) -> Option<f64> {
    let heat = |travel| held(&scenario.valve, travel, temperature).winding_power;
    inrush(&scenario.valve).then(|| heat(0.0) / heat(scenario.valve.armature.stroke))
}
