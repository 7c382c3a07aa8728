//! The user's own point on a map: the scenario's value of each axis' parameter, stated or following from what is stated.

use super::axis::DIFFERENTIAL;
use super::map::StabilityMap;
use crate::physics::assembly::{density_in, open_flow};
use crate::physics::fluid::fluid_at;
use crate::physics::valve::copper::TWENTY_CELSIUS;
use crate::scenario::{Document, Origin, Scenario, echo};
use crate::simulate::coil_heat::winding_temperature;
use crate::simulate::install;
use crate::simulate::throttle::prepare;

/// The scenario's own value of a parameter, SI: as stated or shown by `check`, else from the ways of saying the same. None
/// where the scenario has no such value, as the superheat of a liquid.
pub fn own_value(document: &Document, scenario: &Scenario, path: &str) -> Option<f64> {
    echoed(document, path).or_else(|| following(scenario, path)).filter(|value| value.is_finite())
}

/// What `check` shows at that path; what was typed goes before what was derived.
fn echoed(document: &Document, path: &str) -> Option<f64> {
    let rows = echo(document).ok()?;
    let mut matching = rows.iter().filter(|row| row.path == path);
    let typed = matching.clone().find(|row| matches!(row.origin, Origin::Typed(_)));
    typed.or_else(|| matching.next()).map(|row| row.value)
}

/// From what is stated in another way.
///
/// ```text
/// Δp = p_supply − p_sink        q = ṁ/ρ(p_supply)        A_v = 1/√(ρ(p_sink)·R)        R = Δp/ṁ² of the throttle
/// ```
///
/// Source: definitions; the flow of a stated throttle is that of the open valve by hand, see [`open_flow`].
fn following(scenario: &Scenario, path: &str) -> Option<f64> {
    match path {
        DIFFERENTIAL => Some(scenario.differential()),
        "flow.mass_flow" => flow(scenario),
        "flow.volume_flow" => Some(flow(scenario)? / fluid_at(&scenario.fluid, scenario.supply.pressure).0),
        "sink.throttle_kv" => {
            let ready = prepare(scenario).ok().filter(|ready| ready.sink.throttle > 0.0)?;
            let density = density_in(&scenario.downstream, &scenario.fluid, scenario.sink.pressure);
            Some(1.0 / (density * ready.sink.throttle).sqrt())
        }
        "valve.coil.temperature" => Some(winding_temperature(scenario)),
        _ => None,
    }
}

/// Mass flow of the open valve, kg/s: as stated, else by hand.
fn flow(scenario: &Scenario) -> Option<f64> {
    if scenario.flow.is_some() {
        return scenario.flow;
    }
    let ready = prepare(scenario).ok()?;
    let installation = install(&ready, TWENTY_CELSIUS);
    let (up, down) = (&installation.upstream.state, &installation.downstream.state);
    Some(open_flow(&installation.stage, up, down, ready.supply.pressure, ready.sink.pressure))
        .filter(|flow| *flow > 0.0)
}

/// What is to be said where the scenario has no value of an axis' parameter, so that it has no place on the map.
pub fn no_value(map: &StabilityMap) -> Option<String> {
    let (x, y) = map.operating_point;
    let lacking: Vec<&str> = [(x, &map.x), (y, &map.y)]
        .into_iter()
        .filter(|(value, _)| value.is_none())
        .map(|(_, axis)| axis.title.as_str())
        .collect();
    let sentence = || {
        format!("Your scenario has no value for the {}, so your point is not on the map.", lacking.join(" and the "))
    };
    (!lacking.is_empty()).then(sentence)
}
