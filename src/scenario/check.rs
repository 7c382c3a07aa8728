//! Plausibility: what is impossible is refused, what is odd is remarked on. Each value by itself has been checked against
//! its range already; here values meet. Comparisons are written so that a not-a-number, which has been reported, is silent.

use crate::portable::Portable;
use std::f64::consts::FRAC_PI_4;

use super::check_link::forced_lift;
use super::check_soft;
use super::coil;
use super::model::Scenario;
use super::reader::Reader;
use crate::physics::expansion::{EXPONENTS, Expansion, critical_pressure_ratio, exponent_of};
use crate::physics::fluid::{Gas, Phase};
use crate::physics::parts::{Function, Line, Port, ServoParts, StageKind};
use crate::physics::valve::armature::GRAVITY;
use crate::physics::valve::magnet::saturated_pull;
use crate::units::{Dimension, text};

/// Checks a scenario that may hold not-a-numbers.
pub(super) fn check(scenario: &Scenario, reader: &mut Reader<'_>) {
    orifices(scenario, reader);
    coil::check(scenario, reader);
    pole(scenario, reader);
    main_stage(scenario, reader);
    stroke(scenario, reader);
    normally_open(scenario, reader);
    stage_kind(scenario, reader);
    chamber(scenario, reader);
    port(&scenario.valve.inlet, "valve.inlet", reader);
    port(&scenario.valve.outlet, "valve.outlet", reader);
    ends(scenario, reader);
    line(&scenario.upstream, "upstream", scenario, reader);
    line(&scenario.downstream, "downstream", scenario, reader);
    check_soft::check(scenario, reader);
    fluid(scenario, reader);
    limits(scenario, reader);
}

fn length(value: f64) -> String {
    text(value, Dimension::Length)
}

fn orifices(scenario: &Scenario, reader: &mut Reader<'_>) {
    let Some(ServoParts { pilot, bleed, .. }) = scenario.valve.servo() else { return };
    if bleed.diameter >= pilot.diameter {
        let message = format!(
            "the bleed ({}) is not narrower than the pilot ({}): the pilot empties the control chamber only in part, and the \
             main stage may not lift",
            length(bleed.diameter),
            length(pilot.diameter)
        );
        reader.warn("valve.bleed.diameter", &message);
    } else if pilot.diameter < 1.3 * bleed.diameter {
        reader.warn("valve.pilot.diameter", "the pilot is hardly wider than the bleed: the main stage may not lift");
    }
    if pilot.seat_diameter < pilot.diameter {
        let message = format!(
            "the pilot seals on {} but its bore is {}: a seat is hardly narrower than its bore",
            length(pilot.seat_diameter),
            length(pilot.diameter)
        );
        reader.warn("valve.pilot.seat_diameter", &message);
    }
    let stage = scenario.valve.main.effective_diameter;
    if pilot.seat_diameter >= stage {
        let message = format!(
            "the pilot's seat ({}) is not narrower than the stage that it relieves (effective diameter {})",
            length(pilot.seat_diameter),
            length(stage)
        );
        reader.problem("valve.pilot.seat_diameter", message);
    }
}

/// A pole so soft that the saturated magnet presses the armature through half of its residual gap: the gap would close, and the
/// pull grow without bound.
fn pole(scenario: &Scenario, reader: &mut Reader<'_>) {
    let (coil, pole) = (&scenario.valve.coil, &scenario.valve.armature.pole);
    let (pull, half) = (saturated_pull(coil), 0.5 * coil.residual_gap);
    let needed = pole.indentation(pull);
    if needed > half {
        // The indentation falls with the stiffness to the power 2/3.
        let least = pole.stiffness * (needed / half).power(1.5);
        let message = format!(
            "a pole of {} gives way to the saturated magnet by more than half of the residual gap ({}): state at least {}, or a \
             wider gap",
            text(pole.stiffness, Dimension::ContactStiffness),
            length(coil.residual_gap),
            text(least, Dimension::ContactStiffness)
        );
        reader.problem("valve.armature.pole.stiffness", message);
    }
}

fn main_stage(scenario: &Scenario, reader: &mut Reader<'_>) {
    let main = &scenario.valve.main;
    let own_stage = !scenario.valve.armature_is_stage();
    if own_stage && main.seat_diameter >= main.effective_diameter {
        let message = format!(
            "the main seat ({}) is not narrower than the effective diameter ({}): no pressure could open it",
            length(main.seat_diameter),
            length(main.effective_diameter)
        );
        reader.problem("valve.main.seat_diameter", message);
    } else if own_stage && main.effective_diameter > 4.0 * main.seat_diameter {
        reader.warn("valve.main.effective_diameter", "more than four times the seat diameter is unusual");
    }
    if main.lift > 0.5 * main.seat_diameter {
        reader.warn(
            if own_stage { "valve.main.lift" } else { "valve.armature.stroke" },
            "more than half the seat diameter is unusual: a quarter already frees the whole seat",
        );
    }
    if main.flow_force_factor > 1.0 {
        reader.warn("valve.main.flow_force_factor", "above 1 is unusual");
    }
}

fn stroke(scenario: &Scenario, reader: &mut Reader<'_>) {
    if let Some(link) = scenario.valve.link() {
        return forced_lift(scenario, link, reader);
    }
    if scenario.valve.servo().is_some_and(|servo| scenario.valve.armature.stroke > servo.pilot.diameter) {
        reader.warn("valve.armature.stroke", "longer than the pilot is wide: a quarter of its bore already frees it");
    }
}

/// What a spring that opens the valve must do, and where its pole may lie.
fn normally_open(scenario: &Scenario, reader: &mut Reader<'_>) {
    let (valve, armature) = (&scenario.valve, &scenario.valve.armature);
    let Function::NormallyOpen(open) = &valve.function else { return };
    if valve.link().is_some() {
        let message = "a forced lift is computed normally closed only, where the magnet draws the main stage after the armature: take \
                       function = \"normally-closed\", or another valve.kind";
        reader.problem("valve.function", message);
    }
    let weight = armature.mass * GRAVITY * valve.attitude.cosine();
    if armature.preload <= weight {
        let force = |value: f64| text(value, Dimension::Force);
        let message = format!(
            "the spring that should hold the valve open ({}) does not carry the armature in this attitude ({})",
            force(armature.preload),
            force(weight)
        );
        reader.warn("valve.armature.preload", message);
    }
    if open.pole_clearance > armature.stroke {
        let message = format!(
            "more than the stroke ({}): the pull then hardly grows as the armature comes down",
            length(armature.stroke)
        );
        reader.warn("valve.armature.pole_clearance", message);
    }
}

fn stage_kind(scenario: &Scenario, reader: &mut Reader<'_>) {
    match scenario.valve.main.kind {
        StageKind::Diaphragm { bulge_compliance, bulge_resistance } => {
            if bulge_compliance > 0.0 && bulge_resistance == 0.0 {
                let message = "a diaphragm that bulges needs a resistance above zero, or it would bulge in no time";
                reader.problem("valve.main.diaphragm.bulge_resistance", message);
            }
        }
        StageKind::Piston { friction, presliding_stiffness } => {
            if friction > 0.0 && presliding_stiffness == 0.0 {
                let message = "friction needs a stiffness above zero, or the piston could not stick";
                reader.problem("valve.main.piston.presliding_stiffness", message);
            }
        }
    }
}

fn chamber(scenario: &Scenario, reader: &mut Reader<'_>) {
    let main = &scenario.valve.main;
    let Some(ServoParts { chamber, .. }) = scenario.valve.servo() else { return };
    let swept = FRAC_PI_4 * main.effective_diameter.to_the(2) * main.lift;
    if chamber.volume <= swept {
        let message = format!(
            "the chamber ({}) is not larger than what the main stage sweeps at full lift ({})",
            text(chamber.volume, Dimension::Volume),
            text(swept, Dimension::Volume)
        );
        reader.problem("valve.chamber.volume", message);
    }
    if matches!(scenario.fluid.phase, Phase::Liquid(_)) && chamber.trapped_gas >= chamber.volume {
        reader.warn(
            "valve.chamber.trapped_gas",
            "more gas than the chamber holds: at this pressure it would be full of gas",
        );
    }
}

fn port(port: &Port, table: &str, reader: &mut Reader<'_>) {
    if port.gas > 100.0 * port.volume {
        reader.warn(&format!("{table}.gas"), "over a hundred times the volume of the port");
    }
}

fn ends(scenario: &Scenario, reader: &mut Reader<'_>) {
    let (supply, sink) = (&scenario.supply, &scenario.sink);
    let place = if reader.states("supply.pressure") { "supply.pressure" } else { "supply.differential" };
    if supply.pressure <= sink.pressure {
        let then = if scenario.valve.armature_is_stage() || scenario.valve.vents_elsewhere() {
            "nothing flows, or it flows backwards"
        } else {
            "the valve can only stay shut or pass backwards"
        };
        reader.warn(place, format!("the supply is not above the sink: {then}"));
    }
    if supply.pulsation > 0.0 && supply.pulsation >= supply.pressure {
        reader.problem("supply.pulsation", "the pulsation would take the supply below vacuum");
    }
    let Phase::Liquid(liquid) = &scenario.fluid.phase else {
        return;
    };
    let vapour = text(liquid.vapour_pressure, Dimension::AbsolutePressure);
    if supply.pressure <= liquid.vapour_pressure {
        reader.would_boil(
            place,
            format!("the supply is not above the vapour pressure ({vapour}): it would not be a liquid"),
        );
    }
    if sink.pressure <= liquid.vapour_pressure && scenario.flow.is_none() && sink.throttle == 0.0 {
        let message =
            format!("the sink is not above the vapour pressure ({vapour}) and nothing throttles the liquid before it");
        reader.warn("sink.pressure", message);
    }
}

fn line(line: &Line, table: &str, scenario: &Scenario, reader: &mut Reader<'_>) {
    if line.bore >= line.length {
        reader.warn(&format!("{table}.length"), "shorter than its bore: hardly a line");
    }
    if line.friction_factor > 0.2 {
        reader.warn(&format!("{table}.friction_factor"), "above 0.2 is unusual (is it the Darcy factor?)");
    }
    let throttled = scenario.named.as_ref().filter(|_| table == "downstream");
    let throttled = throttled.and_then(|named| named.throttled(scenario.sink.pressure));
    let free = match (&scenario.fluid.phase, throttled) {
        (Phase::Liquid(liquid), _) => liquid.sound_speed,
        (Phase::Gas(_), Some(state)) => state.sound_speed,
        (Phase::Gas(gas), None) => crate::physics::line::wave_speed::of_gas(gas),
    };
    let speed = text(free, Dimension::Velocity);
    if line.wave_speed > 1.005 * free {
        reader.warn(
            &format!("{table}.wave_speed"),
            format!("faster than sound in the free fluid ({speed}): a wall only slows waves"),
        );
    }
    let (slowest, why) = match scenario.fluid.phase {
        Phase::Gas(_) => (0.3 * free, "no wall slows waves in a gas by so much"),
        Phase::Liquid(_) => (0.002 * free, "not even a froth is as slow"),
    };
    if line.wave_speed < slowest {
        let least = text(slowest, Dimension::Velocity);
        let message =
            format!("{why}: in the free fluid sound travels at {speed}; state at least {least}, or leave it out");
        reader.problem(&format!("{table}.wave_speed"), message);
    } else if line.wave_speed < 0.1 * free {
        reader.warn(&format!("{table}.wave_speed"), format!("less than a tenth of sound in the free fluid ({speed})"));
    }
}

fn fluid(scenario: &Scenario, reader: &mut Reader<'_>) {
    match &scenario.fluid.phase {
        Phase::Liquid(liquid) => {
            if liquid.vapour_pressure >= liquid.critical_pressure {
                reader.problem(
                    "fluid.liquid.vapour_pressure",
                    "not below the critical pressure: such a fluid is not a liquid",
                );
            }
            if liquid.density > 3000.0 || liquid.density < 300.0 {
                reader.warn("fluid.liquid.density", "outside 300 to 3000 kg/m³ is unusual for a liquid");
            }
        }
        Phase::Gas(gas) => {
            real_gas(gas, reader);
            if gas.isentropic_exponent > 5.0 / 3.0 + 1e-6 {
                reader.warn(
                    "fluid.gas.isentropic_exponent",
                    "above 5/3, that of single atoms: a dense gas, for which this is rough",
                );
            }
        }
    }
}

/// Isothermal stiffness over pressure, κ/γ: 1 for a perfect gas; a dry vapour comes down to some 0.5 near its critical point,
/// a gas far above it up to some 1.3. Judgement, no source.
const STIFFNESSES: (f64, f64) = (0.3, 1.5);

/// How far a real choked flow may be from that of the perfect gas which chokes at the same ratio; dense vapours reach 2 %.
/// Judgement from states computed with CoolProp 8.0.0.
const FLOW_FACTOR_SPREAD: f64 = 0.1;

/// Numbers of a real gas that cannot belong together.
fn real_gas(gas: &Gas, reader: &mut Reader<'_>) {
    let stiffness = gas.isentropic_exponent / gas.heat_capacity_ratio;
    if stiffness < STIFFNESSES.0 || stiffness > STIFFNESSES.1 {
        let message = format!(
            "isentropic exponent {} over heat capacity ratio {} gives {stiffness:.3}, but lies between {} and {} for a gas: \
             give both at one state of one gas",
            gas.isentropic_exponent, gas.heat_capacity_ratio, STIFFNESSES.0, STIFFNESSES.1
        );
        reader.problem("fluid.gas.heat_capacity_ratio", message);
    }
    let nearest = Expansion::perfect(exponent_of(gas.critical_pressure_ratio));
    if (nearest.critical_ratio() - gas.critical_pressure_ratio).abs() > 1e-6 {
        let (largest, least) = (critical_pressure_ratio(EXPONENTS.0), critical_pressure_ratio(EXPONENTS.1));
        let message = format!(
            "{} lies outside {least:.2} to {largest:.2}: gases choke between 0.45 and 0.65; left out, it follows from the exponent",
            gas.critical_pressure_ratio
        );
        reader.problem("fluid.gas.critical_pressure_ratio", message);
    } else if (gas.critical_flow_factor / nearest.critical_flow_factor() - 1.0).abs() > FLOW_FACTOR_SPREAD {
        let message = format!(
            "{} is far from {:.3}, that of a gas which chokes at a ratio of {}: left out, it follows from that ratio",
            gas.critical_flow_factor,
            nearest.critical_flow_factor(),
            gas.critical_pressure_ratio
        );
        reader.problem("fluid.gas.critical_flow_factor", message);
    }
}

fn limits(scenario: &Scenario, reader: &mut Reader<'_>) {
    let pressure = scenario.supply.pressure;
    if scenario.limits.peak_pressure.is_some_and(|limit| limit <= pressure) {
        let message = format!(
            "not above the supply pressure ({}): every run exceeds it",
            text(pressure, Dimension::AbsolutePressure)
        );
        reader.warn("limits.peak_pressure", message);
    }
    if scenario.run.tolerance > 1e-3 {
        reader.warn("run.tolerance", "coarser than 1e-3: bounces and peaks are not to be trusted");
    }
}
