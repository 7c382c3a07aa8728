//! Plausibility of what leaks past the piston, of what closes softly, and of what stands in the lines.

use super::model::Scenario;
use super::reader::Reader;
use crate::physics::fluid::Phase;
use crate::physics::parts::{Bleed, CheckValve, Clearance, Line, RingLeak, ServoParts};
use crate::portable::Portable;
use crate::units::{Dimension, text};
use std::f64::consts::{FRAC_PI_4, PI};

/// Checks a scenario that may hold not-a-numbers.
pub(super) fn check(scenario: &Scenario, reader: &mut Reader<'_>) {
    if let Some(servo) = scenario.valve.servo() {
        pin(&servo.bleed, scenario.valve.main.lift, reader);
        restrictor(servo, reader);
        leak(&servo.leak, scenario, reader);
    }
    cushion(scenario, reader);
    for (line, table) in [(&scenario.upstream, "upstream"), (&scenario.downstream, "downstream")] {
        fittings(line, table, scenario.differential(), reader);
    }
}

fn length(value: f64) -> String {
    text(value, Dimension::Length)
}

fn pin(bleed: &Bleed, full_lift: f64, reader: &mut Reader<'_>) {
    let Some(pin) = &bleed.pin else { return };
    if pin.diameter > bleed.diameter {
        let message = format!(
            "the pin leaves {} free, more than the bleed's own bore ({}): a pin narrows; state a smaller bore, or leave \
             [valve.bleed.pin] out",
            length(pin.diameter),
            length(bleed.diameter)
        );
        reader.problem("valve.bleed.pin.diameter", message);
    }
    if pin.lift > full_lift {
        let message = format!(
            "the pin never leaves the bleed, for the stage lifts by {} only: the valve has the narrow bleed at every lift",
            length(full_lift)
        );
        reader.warn("valve.bleed.pin.lift", message);
    }
    if pin.taper.is_some_and(|taper| taper > pin.lift) {
        let message = format!(
            "longer than the lift at which the pin leaves the bleed ({}): state at most that, which is a taper down to the seat",
            length(pin.lift)
        );
        reader.problem("valve.bleed.pin.taper", message);
    }
}

fn restrictor(servo: &ServoParts, reader: &mut Reader<'_>) {
    let Some(restrictor) = servo.pilot.restrictor_diameter else { return };
    if restrictor <= servo.bleed.diameter {
        let message = format!(
            "not wider than the bleed ({}): the control chamber empties only in part, and the main stage may not lift; narrow the bleed \
             as well, or near the seat only by [valve.bleed.pin]",
            length(servo.bleed.diameter)
        );
        reader.warn("valve.pilot.restrictor_diameter", message);
    }
}

/// Reynolds number of a gap's flow up to which it is laminar (textbooks: some 2000 to 2800, from memory).
const LAMINAR_GAP: f64 = 2000.0;

fn leak(leak: &RingLeak, scenario: &Scenario, reader: &mut Reader<'_>) {
    let RingLeak::Clearance(Clearance { radial_clearance, land_length, eccentricity }) = leak else { return };
    let diameter = scenario.valve.main.effective_diameter;
    if *radial_clearance > 0.02 * diameter {
        let message = format!(
            "more than 2 % of the piston's diameter ({}): too wide to be computed as a thin gap",
            length(diameter)
        );
        reader.problem("valve.main.piston.radial_clearance", message);
    }
    // What the circuit's differential drives through the gap at most: laminar, and no more than its ends pass.
    let (viscosity, density) = match &scenario.fluid.phase {
        Phase::Liquid(liquid) => (liquid.viscosity, liquid.density),
        Phase::Gas(gas) => (gas.viscosity, scenario.supply.pressure / (gas.gas_constant * gas.temperature)),
    };
    let driving = scenario.differential();
    let widened = 1.0 + 1.5 * eccentricity * eccentricity;
    let cube = radial_clearance.to_the(3);
    let laminar = driving * PI * diameter * cube * widened * density / (12.0 * viscosity * land_length);
    let ends = PI * diameter * radial_clearance * (2.0 * density * driving / 1.5).sqrt();
    let reynolds = 2.0 * laminar.min(ends) / (PI * diameter * viscosity);
    if reynolds > LAMINAR_GAP {
        let message = format!(
            "at the circuit's differential the leak may reach a Reynolds number of {reynolds:.0}, where the flow in a gap is turbulent; \
             computed as laminar with losses at its ends, it leaks more than a real one"
        );
        reader.warn("valve.main.piston.radial_clearance", message);
    }
}

fn cushion(scenario: &Scenario, reader: &mut Reader<'_>) {
    let main = &scenario.valve.main;
    let Some(cushion) = &main.cushion else { return };
    if matches!(scenario.fluid.phase, Phase::Gas(_)) {
        reader.problem(
            "valve.main.cushion.area",
            "a cushion is computed in liquids only: a gas in it would give way like a spring, which is not computed; leave \
             [valve.main.cushion] out",
        );
    }
    if !scenario.valve.armature_is_stage() {
        let around = FRAC_PI_4 * (main.effective_diameter.to_the(2) - main.seat_diameter.to_the(2));
        if cushion.area > around {
            let message = format!(
                "the stage has only {} around its seat on which a cushion could press",
                text(around, Dimension::Area)
            );
            reader.problem("valve.main.cushion.area", message);
        }
    }
    if cushion.depth > main.lift {
        reader.warn("valve.main.cushion.depth", "deeper than the full lift: the stage never leaves its cushion");
    }
}

fn fittings(line: &Line, table: &str, differential: f64, reader: &mut Reader<'_>) {
    let Some(CheckValve { check_valve_opening, .. }) = &line.fittings.check_valve else { return };
    let message = format!(
        "a check valve in the {table} line is computed as a loss only: {} to hold it open, and what its flow coefficient loses. Not \
         computed: it stops reverse flow, traps a closing surge behind it, and may slam",
        text(*check_valve_opening, Dimension::PressureDifference)
    );
    reader.warn(&format!("{table}.check_valve_kv"), message);
    if *check_valve_opening >= differential && differential > 0.0 {
        let message = format!(
            "the circuit has no more than {}: this check valve never opens, and next to nothing flows",
            text(differential, Dimension::PressureDifference)
        );
        reader.warn(&format!("{table}.check_valve_opening"), message);
    }
}
