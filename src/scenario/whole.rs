//! The scenario as a whole.

use super::model::{Duty, Limits, Run, Scenario};
use super::reader::Reader;
use super::{defaults, ends, fluid, line, line_wall, map, named_fluid, one_pressure, valve, valve_fault};
use crate::physics::insulation::InsulationClass;
use crate::units::Dimension;

/// Reads every part.
pub(super) fn read(reader: &mut Reader<'_>) -> Scenario {
    let question = whose(reader, "question");
    let data = whose(reader, "data");
    let atmosphere = reader.number("atmosphere");
    let sink_pressure = reader.number("sink.pressure");
    let mut supply = ends::supply(reader, sink_pressure);
    let (fluid, named) = fluid::read(reader, supply.pressure);
    let throttled = named.as_ref().and_then(|named| named.throttled(sink_pressure));
    let upstream = line::read(reader, "upstream", &fluid, supply.pressure, None);
    let downstream = line::read(reader, "downstream", &fluid, sink_pressure, throttled.as_ref());
    one_pressure::left(reader, named.as_ref());
    if let Some(named) = &named {
        named_fluid::condensing(reader, named, sink_pressure);
        let name = named.medium.name();
        for table in ["upstream", "downstream"] {
            line_wall::attacked(reader, table, &name);
        }
    }
    supply.droop = ends::droop(reader, &fluid, supply.pressure);
    let (sink, flow) = ends::sink(reader, &fluid, supply.pressure, &downstream, sink_pressure);
    ends::gas_before_a_throttle(reader, &fluid, supply.pressure, &sink, flow);
    let medium = named.as_ref().map(|named| named.state.temperature).or(fluid.gas_temperature());
    let valve = valve::read(reader, &fluid, medium, atmosphere);
    let rated_voltage = reader.optional("valve.coil.rated");
    let (faults, valve, rated_voltage) = valve_fault::read(reader, valve, &fluid, supply.pressure, rated_voltage);
    let rated_frequency = reader.optional("valve.coil.rated_frequency");
    if let Some(flow) = flow {
        reader.derived("flow", flow, Dimension::MassFlow, "mass flow of the open valve");
    }
    Scenario {
        name: reader.document().name().to_owned(),
        question,
        data,
        atmosphere,
        fluid,
        named,
        valve,
        faults,
        rated_voltage,
        rated_frequency,
        insulation: reader.word("limits.insulation_class").and_then(InsulationClass::named),
        supply,
        upstream,
        downstream,
        sink,
        flow,
        duty: Duty::read(&mut reader.table("duty")),
        limits: Limits::read(&mut reader.table("limits").or(defaults::LIMITS)),
        run: Run::read(&mut reader.table("run").or(defaults::RUN)),
        map: map::read(reader),
    }
}

/// A text of the file's head; one that comes from the file that this one is like says so, since it was written about that one.
fn whose(reader: &mut Reader<'_>, path: &str) -> String {
    let text = reader.text(path);
    match reader.document().other_file(path) {
        Some(other) => format!("{text} ({path} of {other})"),
        None => text,
    }
}
