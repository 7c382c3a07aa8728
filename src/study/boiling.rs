//! How near a liquid comes to boiling at the valve: margins while open and at closing, and the subcooling that would do.

use super::surge::boiling::{Remedy, colder, least_subcooling};
use crate::fluid::State;
use crate::indicator::Indicators;
use crate::physics::assembly::open_flow;
use crate::physics::fluid::Phase;
use crate::physics::installation::Installation;
use crate::physics::line::LineState;
use crate::physics::valve::cell::Cell;
use crate::scenario::{NamedFluid, Scenario};
use crate::verdict::BOILING_MARGIN;

/// Adds the margins to what was read off a run; nothing in gas service.
///
/// ```text
/// needed while open     T_b(p_supply) − T_b(p_outlet)
/// needed at closing     the least for which p_v(T) is below min(p_outlet − Z_d·ṁ, p_sink, p_supply − Z_u·ṁ), Z at that T
/// ```
///
/// T_b bubble point, Z = a/A of the lines. The wave behind a valve that closes at once lowers the pressure by Z_d·ṁ; the
/// wave before it comes back from the supply with the sign turned and lowers it there by Z_u·ṁ. In the end the line behind
/// drains to its sink; where that is a flashing throttle no subcooling is told, see [`drains_to_saturation`]. A side
/// counts only where the stop is over before its wave is back. Friction and a stop that takes its time spare some of it; a
/// throttle at the far end reflects the wave behind the valve with its sign kept, in part, and so pulls deeper.
/// Source: Joukowsky's Δp = ρ·a·Δv at both ends; saturation from the fluid's table.
pub(super) fn complete(found: &mut Indicators, scenario: &Scenario, installation: &Installation) {
    let Phase::Liquid(liquid) = &scenario.fluid.phase else { return };
    let vapour = liquid.vapour_pressure;
    found.inlet_margin_open = found.inlet_pressure_open.map(|pressure| pressure - vapour);
    found.outlet_margin_open = found.outlet_pressure_open.map(|pressure| pressure - vapour);
    let lowest = [found.inlet_trough_closing, found.outlet_trough_closing].into_iter().flatten().reduce(f64::min);
    found.closing_margin = lowest.map(|pressure| (pressure - vapour).max(0.0));
    let Some(named) = &scenario.named else { return };
    let boiling = |pressure: f64| named.medium.bubble_temperature(pressure).ok();
    let subcooling = |pressure: Option<f64>| boiling(pressure?).map(|bubble| bubble - named.state.temperature);
    found.inlet_subcooling_open = subcooling(found.inlet_pressure_open);
    found.outlet_subcooling_open = subcooling(found.outlet_pressure_open);
    let supply = scenario.supply.pressure;
    found.supply_subcooling = subcooling(Some(supply));
    let needed = |pressure: f64| Some(boiling(supply)? - boiling(pressure)?);
    found.subcooling_needed_open = found.outlet_pressure_open.and_then(needed);
    if drains_to_saturation(scenario) {
        return;
    }
    let stop = found.effective_closing_time;
    if let (Some(outlet), Some(flow), Some(stop)) = (found.outlet_pressure_open, found.flow_open, stop) {
        let lines = [&installation.downstream.state, &installation.upstream.state];
        // The full pull comes only where the stop is over before the wave is back.
        let sudden = lines.map(|line| stop <= 2.0 * line.transit());
        if sudden.contains(&true) {
            let pulling = [0, 1].map(|side| (lines[side], if sudden[side] { flow } else { 0.0 }));
            found.subcooling_needed_closing = needed_at_closing(named, scenario, outlet, pulling);
        }
    }
}

/// Gas and vapour above which a port holds a cavity, m³: its trace of gas at a pressure that counts as boiling.
pub(super) fn cavity_floor(port: &Cell) -> f64 {
    port.gas_volume(port.vapour + BOILING_MARGIN)
}

/// Does the line behind the shut valve drain to saturation? So it does before a flashing throttle, which goes on drawing as
/// long as there is liquid; not before an open end, nor above the vapour pressure.
pub(super) fn drains_to_saturation(scenario: &Scenario) -> bool {
    match &scenario.fluid.phase {
        Phase::Liquid(liquid) => {
            let throttled = scenario.sink.throttle > 0.0 || scenario.flow.is_some();
            throttled && scenario.sink.drained <= liquid.vapour_pressure
        }
        Phase::Gas(_) => false,
    }
}

/// How deep the stop of a flow (kg/s) pulls in a line once another state of the liquid is in it, Pa: Z·ṁ.
///
/// ```text
/// 1/(ρ·a²) = 1/(ρ·c²) + W        W, of the wall alone, from the state for which a is known
/// ```
///
/// c sound speed of the unconfined liquid. Source: Korteweg's sum of two compliances.
fn pull(line: &LineState, flow: f64, known: &State, other: &State) -> f64 {
    let compliance = |state: &State, speed: f64| 1.0 / (state.density * speed * speed);
    let wall = compliance(known, line.wave_speed) - compliance(known, known.sound_speed);
    let whole = compliance(other, other.sound_speed) + wall.max(0.0);
    flow / line.area / (other.density * whole).sqrt()
}

/// Least subcooling at the supply's pressure with which the stop of the flow lets neither side boil. The colder state's own
/// density and sound speed are taken: most liquids get stiffer, so that at times no subcooling is enough.
fn needed_at_closing(
    named: &NamedFluid,
    scenario: &Scenario,
    outlet: f64,
    [behind, before]: [(&LineState, f64); 2],
) -> Option<f64> {
    let (supply, sink) = (scenario.supply.pressure, scenario.sink.pressure);
    let bubble = named.medium.bubble_temperature(supply).ok()?;
    let left = |subcooling: f64| {
        let state = colder(&named.medium, bubble - subcooling, supply).ok()?;
        let [behind, before] = [behind, before].map(|(line, flow)| pull(line, flow, &named.state, &state));
        let lowest = (outlet - behind).min(sink).min(supply - before);
        Some((lowest - state.bubble_pressure?, lowest))
    };
    match least_subcooling(left) {
        Remedy::Subcooling(kelvin) => Some(kelvin),
        Remedy::NoneWould | Remedy::NotKnown => None,
    }
}

/// Pressures at the open valve by hand, and how far they are from boiling.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OpenMargins {
    /// Mass flow of the open valve, kg/s.
    pub flow: f64,
    /// Inlet pressure, Pa absolute.
    pub inlet: f64,
    /// Outlet pressure, Pa absolute.
    pub outlet: f64,
    /// Vapour pressure, Pa absolute.
    pub vapour: f64,
    /// Subcooling at the inlet and at the outlet, K; none where the bubble point is not known.
    pub subcooling: Option<(f64, f64)>,
}

/// The open valve's margins by hand, from losses in series; none in gas service.
pub fn open_margins(ready: &Scenario, installation: &Installation) -> Option<OpenMargins> {
    let Phase::Liquid(liquid) = &ready.fluid.phase else { return None };
    let (up, down) = (&installation.upstream.state, &installation.downstream.state);
    let (supply, sink) = (ready.supply.pressure, ready.sink.pressure);
    let flow = open_flow(&installation.stage, up, down, supply, sink);
    let inlet = supply - up.wall.with(up.end).loss(flow);
    let outlet = sink + down.wall.with(down.end).loss(flow);
    let subcooling = ready.named.and_then(|named| {
        let at = |pressure| Some(named.medium.bubble_temperature(pressure).ok()? - named.state.temperature);
        Some((at(inlet)?, at(outlet)?))
    });
    Some(OpenMargins { flow, inlet, outlet, vapour: liquid.vapour_pressure, subcooling })
}
