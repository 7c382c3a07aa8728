//! Why a stated flow cannot pass: too much for lines and valve, or the liquid would boil on its way.

use super::run_error::RunError;
use crate::physics::fluid::Phase;
use crate::physics::fluid::fluid_at;
use crate::physics::installation::Installation;
use crate::physics::restriction::series;
use crate::portable::Portable;
use crate::scenario::Scenario;
use crate::units::{Dimension, UnitSystem, show, text};

/// A liquid line that ends in a flashing throttle is held this far above saturation while the valve is shut, Pa: enough
/// for the line to be full of liquid, little against any differential.
pub(super) const ABOVE_SATURATION: f64 = 5e3;

/// The refusal of a flow (kg/s), with what would mend it.
pub(super) fn refusal(scenario: &Scenario, flow: f64, installation: &Installation) -> RunError {
    match boils(scenario, flow, installation) {
        Some(reason) => RunError::WouldBoil(reason),
        None => RunError::Impossible(too_much(scenario, flow, installation)),
    }
}

fn both(value: f64, dimension: Dimension) -> String {
    let (number, unit) = show(value, dimension, UnitSystem::Us);
    format!("{} ({number} {unit})", text(value, dimension))
}

/// The refusal where the flow would pass if only the liquid did not boil.
///
/// ```text
/// p_1 = p_s − Δp_up(ṁ)        p_2 = p_1 − ṁ²/(2ρ·C²)        p_2 − Δp_down(ṁ) below the vapour pressure
/// ```
///
/// Source: losses in series; C of both restrictions, see [`series`].
fn boils(scenario: &Scenario, flow: f64, installation: &Installation) -> Option<String> {
    let Phase::Liquid(liquid) = &scenario.fluid.phase else { return None };
    let (up, down) = (&installation.upstream.state, &installation.downstream.state);
    let upstream = up.wall.with(up.end).loss(flow);
    let coefficient = series(installation.stage.restrictions(installation.stage.part.lift));
    let valve = (flow / coefficient).to_the(2) / (2.0 * liquid.density);
    let inlet = scenario.supply.pressure - upstream;
    let outlet = inlet - valve;
    let lowest = outlet - down.wall.with(down.end).loss(flow);
    // Where the sink stands well above the vapour pressure it is the differential that is too small.
    if scenario.sink.pressure > liquid.vapour_pressure + 2.0 * ABOVE_SATURATION || lowest <= 0.0 {
        return None;
    }
    let vapour_pressure = liquid.vapour_pressure;
    let near = text(ABOVE_SATURATION, Dimension::PressureDifference);
    let place = match (inlet < vapour_pressure, outlet < vapour_pressure, lowest < vapour_pressure) {
        (true, ..) => "boil before it reaches the valve".to_owned(),
        (false, true, _) => "boil in the open valve".to_owned(),
        (false, false, true) => "boil behind the valve".to_owned(),
        (false, false, false) => format!("come within {near} of boiling behind the valve, nearer than is computed"),
    };
    let absolute = |value: f64| text(value, Dimension::AbsolutePressure);
    let mut message = format!(
        "[flow]: at {} the liquid would {place}: the upstream line takes {} and the open valve {}, so the inlet is left with {} \
         and the outlet with {}; the vapour pressure is {}",
        both(flow, Dimension::MassFlow),
        text(upstream, Dimension::PressureDifference),
        text(valve, Dimension::PressureDifference),
        absolute(inlet),
        absolute(outlet),
        absolute(vapour_pressure)
    );
    if lowest < vapour_pressure {
        message.push_str(&vapour(scenario, lowest));
    }
    message.push_str("; subcool the liquid more, take a larger valve or line, or lower the flow");
    Some(message)
}

/// What a named fluid adds: the vapour behind the valve, and the subcooling that would do.
fn vapour(scenario: &Scenario, pressure: f64) -> String {
    let Some(named) = &scenario.named else { return String::new() };
    // A flash by energy balance does not deserve more than two figures.
    let percent = |share: f64| {
        let unit = 10.0_f64.power(share.decimal_logarithm().floor() - 1.0);
        text((share / unit).round() * unit, Dimension::Fraction)
    };
    let flash = named.state.enthalpy.and_then(|enthalpy| named.medium.flash(enthalpy, pressure));
    let mut message = flash.filter(|flash| flash.by_mass > 0.0).map_or_else(String::new, |flash| {
        let (mass, volume) = (percent(flash.by_mass), percent(flash.by_volume));
        format!(". Of what arrives at the consumer about {mass} by mass and {volume} by volume would be vapour")
    });
    let boiling = |pressure: f64| named.medium.bubble_temperature(pressure).ok();
    if let (Some(supply), Some(needed)) = (boiling(scenario.supply.pressure), boiling(pressure - ABOVE_SATURATION)) {
        let kelvin = |value: f64| both(value, Dimension::TemperatureDifference);
        // Rounding of a saturated state is no subcooling.
        let has = Some(supply - named.state.temperature).filter(|kelvin| *kelvin > 1e-6).unwrap_or(0.0);
        message.push_str(&format!(
            "; it needs {} of subcooling at the supply and has {}",
            kelvin(supply - needed),
            kelvin(has)
        ));
    }
    message
}

/// The refusal of a flow that is too large, with what would pass.
fn too_much(scenario: &Scenario, flow: f64, installation: &Installation) -> String {
    let (up, down) = (&installation.upstream.state, &installation.downstream.state);
    let lift = installation.stage.part.lift;
    let passes = |q: f64| {
        let p_1 = scenario.supply.pressure - up.wall.with(up.end).loss(q);
        let p_2 = scenario.sink.pressure + down.wall.with(down.end).loss(q);
        p_1 > p_2 && installation.stage.throughflow(lift, p_1, p_2).mass_flow >= q
    };
    let (mut low, mut high) = (0.0, flow);
    for _ in 0..60 {
        let middle = 0.5 * (low + high);
        if passes(middle) { low = middle } else { high = middle }
    }
    let density = fluid_at(&scenario.fluid, scenario.supply.pressure).0;
    format!(
        "[flow]: lines and open valve pass at most {} or {} at this differential, not {}; lower the flow, raise the differential, \
         or take a larger valve or line",
        both(low, Dimension::MassFlow),
        both(low / density, Dimension::VolumeFlow),
        both(flow, Dimension::MassFlow)
    )
}

/// Refuse what the model cannot tell, with the reason.
pub(super) fn refuse_impossible(scenario: &Scenario) -> Result<(), RunError> {
    let Phase::Liquid(liquid) = &scenario.fluid.phase else { return Ok(()) };
    if scenario.supply.pressure <= liquid.vapour_pressure {
        return Err(RunError::WouldBoil(
            "the supply is below the liquid's vapour pressure: there is no liquid at the inlet; raise supply.pressure, or \
             lower the liquid's temperature"
                .into(),
        ));
    }
    if scenario.sink.pressure > liquid.vapour_pressure {
        return Ok(());
    }
    if scenario.sink.throttle <= 0.0 {
        return Err(RunError::WouldBoil(
            "the sink is below the liquid's vapour pressure, so the downstream line would be filled with vapour, which is \
             not computed; put the throttle (expansion device) at its far end with [flow] or sink.throttle_kv, so that the \
             line itself stays above saturation"
                .into(),
        ));
    }
    Ok(())
}
