//! Supply, sink and the flow between them.

use super::named_fluid;
use super::reader::Reader;
use crate::physics::assembly::density_in;
use crate::physics::fluid::fluid_at;
use crate::physics::fluid::{Fluid, Phase};
use crate::physics::parts::{Line, Sink, Source};
use crate::units::Dimension;

/// The supply, its pressure stated by itself or above the sink's, else that of a full state of the fluid; the fall with flow is added by [`droop`].
pub(super) fn supply(reader: &mut Reader<'_>, sink_pressure: f64) -> Source {
    let stated = reader.states("supply.pressure") || reader.states("supply.differential");
    let of_the_fluid = if stated { None } else { named_fluid::own_pressure(reader) };
    let pressure = if let Some(pressure) = of_the_fluid {
        reader.derived("supply.pressure", pressure, Dimension::AbsolutePressure, "state of the fluid");
        pressure
    } else {
        stated_supply(reader, sink_pressure)
    };
    let pulsation = reader.optional("supply.pulsation");
    let frequency = reader.optional("supply.pulsation_frequency");
    match (pulsation, frequency) {
        (Some(_), None) => reader.missing("supply.pulsation_frequency"),
        (None, Some(_)) => reader.missing("supply.pulsation"),
        _ => {}
    }
    Source { pressure, droop: 0.0, pulsation: pulsation.unwrap_or(0.0), pulsation_frequency: frequency.unwrap_or(0.0) }
}

/// The supply's pressure by itself or above the sink's.
fn stated_supply(reader: &mut Reader<'_>, sink_pressure: f64) -> f64 {
    match reader.needed_choice("the supply pressure") {
        Some(0) => reader.number("supply.pressure"),
        Some(_) => {
            let pressure = sink_pressure + reader.number("supply.differential");
            reader.derived("supply.pressure", pressure, Dimension::AbsolutePressure, "sink pressure and differential");
            if pressure <= 0.0 {
                reader.problem(
                    "supply.differential",
                    "the supply would be at or below vacuum: it is counted from the sink",
                );
            }
            pressure
        }
        None => f64::NAN,
    }
}

/// Fall of the supply pressure with the square of the mass flow, Pa/(kg/s)²: from one point of the pump curve.
pub(super) fn droop(reader: &mut Reader<'_>, fluid: &Fluid, supply_pressure: f64) -> f64 {
    let way = reader.choice("the flow of the pressure fall");
    let fall = reader.optional("supply.pressure_fall");
    let flow = match way {
        Some(0) => reader.number("supply.pressure_fall_mass_flow"),
        Some(_) => fluid_at(fluid, supply_pressure).0 * reader.number("supply.pressure_fall_volume_flow"),
        None => f64::NAN,
    };
    match (fall, way) {
        (Some(fall), Some(_)) => {
            let droop = fall / (flow * flow);
            reader.derived(
                "supply.droop",
                droop,
                Dimension::QuadraticResistance,
                "pressure fall over squared mass flow",
            );
            droop
        }
        (Some(_), None) => {
            reader.problem(
                "supply.pressure_fall",
                "at which flow? add `pressure_fall_mass_flow` or `pressure_fall_volume_flow`",
            );
            f64::NAN
        }
        (None, Some(_)) => {
            reader.missing("supply.pressure_fall");
            f64::NAN
        }
        (None, None) => 0.0,
    }
}

/// The sink, and the mass flow for which its throttle is to be solved.
pub(super) fn sink(
    reader: &mut Reader<'_>,
    fluid: &Fluid,
    supply_pressure: f64,
    downstream: &Line,
    sink_pressure: f64,
) -> (Sink, Option<f64>) {
    let mut throttle = 0.0;
    let flow = match reader.choice("the flow") {
        Some(0) => Some(reader.number("flow.mass_flow")),
        Some(1) => Some(fluid_at(fluid, supply_pressure).0 * reader.number("flow.volume_flow")),
        Some(2) => Some(reader.number("flow.refrigerating_duty") / reader.number("flow.refrigerating_effect")),
        Some(_) => {
            // A_v = q·√(ρ/Δp) gives Δp = ṁ²/(ρ·A_v²), at the density behind the valve.
            let coefficient = reader.number("sink.throttle_kv");
            throttle = 1.0 / (density_in(downstream, fluid, sink_pressure) * coefficient * coefficient);
            reader.derived("sink.throttle", throttle, Dimension::QuadraticResistance, "from the flow coefficient");
            None
        }
        None => {
            if reader.states("flow") {
                reader.needed_choice("the flow");
            }
            None
        }
    };
    (Sink { pressure: sink_pressure, drained: sink_pressure, throttle }, flow)
}

/// Share of the supply's pressure by which the sink may lie below it before the next remark.
const SMALL_FALL: f64 = 0.1;

/// Remarks on a gas line that a throttle at its end holds far above the sink's pressure, since it is computed at the sink's.
pub(super) fn gas_before_a_throttle(
    reader: &mut Reader<'_>,
    fluid: &Fluid,
    supply: f64,
    sink: &Sink,
    flow: Option<f64>,
) {
    let throttled = flow.is_some() || sink.throttle > 0.0;
    if throttled && matches!(fluid.phase, Phase::Gas(_)) && sink.pressure < (1.0 - SMALL_FALL) * supply {
        let message = "the gas line behind the valve is computed at the sink's state, although the throttle at its end holds it at \
                       a higher pressure: its friction is too large, and its waves are those of the thinner gas; take as the sink \
                       the pressure before that throttle";
        reader.warn("sink.pressure", message);
    }
}
