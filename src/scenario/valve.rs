//! The valve.

use super::reader::Reader;
use super::vocabulary::join;
use super::{coil, defaults};
use crate::physics::fluid::{Fluid, Gas, Phase};
use crate::physics::parts::{
    Armature, Bleed, Chamber, Contact, ControlParts, MainStage, Pilot, Port, ServoParts, StageKind, Valve,
};
use crate::units::Dimension;

/// All of the valve.
pub(super) fn read(reader: &mut Reader<'_>, fluid: &Fluid, atmosphere: f64) -> Valve {
    Valve {
        attitude: reader.number("valve.attitude"),
        coil: coil::read(reader),
        armature: armature(reader),
        control: ControlParts::Servo(ServoParts {
            pilot: pilot(reader),
            bleed: bleed(reader),
            chamber: chamber(reader, fluid, atmosphere),
        }),
        main: main_stage(reader, fluid),
        inlet: port(reader, "valve.inlet", atmosphere),
        outlet: port(reader, "valve.outlet", atmosphere),
    }
}

fn contact(reader: &mut Reader<'_>, table: &'static str, default: &Contact) -> Contact {
    let mut keys = reader.table(table);
    Contact {
        stiffness: keys.number_or("stiffness", default.stiffness),
        dissipation: keys.number_or("dissipation", default.dissipation),
    }
}

fn armature(reader: &mut Reader<'_>) -> Armature {
    let mut keys = reader.table("valve.armature");
    Armature {
        mass: keys.number("mass"),
        spring_rate: keys.number("spring_rate"),
        preload: keys.number("preload"),
        damping: keys.number("damping"),
        stroke: keys.number("stroke"),
        seat: contact(reader, "valve.armature.seat", &defaults::SOFT_CONTACT),
        pole: contact(reader, "valve.armature.pole", &defaults::POLE_CONTACT),
    }
}

fn pilot(reader: &mut Reader<'_>) -> Pilot {
    let mut keys = reader.table("valve.pilot");
    Pilot {
        diameter: keys.number("diameter"),
        seat_diameter: keys.number("seat_diameter"),
        length: keys.number("length"),
        discharge_coefficient: keys.number("discharge_coefficient"),
    }
}

fn bleed(reader: &mut Reader<'_>) -> Bleed {
    let mut keys = reader.table("valve.bleed");
    Bleed {
        diameter: keys.number("diameter"),
        length: keys.number("length"),
        discharge_coefficient: keys.number("discharge_coefficient"),
    }
}

/// Gas in a volume: as stated with all that belongs to it, or the numerical trace.
struct HeldGas {
    volume: f64,
    pressure: f64,
    exponent: f64,
}

fn held_gas(reader: &mut Reader<'_>, table: &'static str, name: &str, volume: f64, atmosphere: f64) -> HeldGas {
    let pressure = format!("{name}_pressure");
    let mut keys = reader.table(table);
    match keys.optional(name) {
        Some(gas) => {
            HeldGas { volume: gas, pressure: keys.number(&pressure), exponent: keys.number("polytropic_exponent") }
        }
        None => {
            for other in [pressure.as_str(), "polytropic_exponent"] {
                if reader.states(&join(table, other)) {
                    reader.warn(
                        &join(table, other),
                        format!("`{other}` is not used, since no `{name}` is stated in [{table}]"),
                    );
                }
            }
            let mut keys = reader.table(table);
            let trace = keys.number_or(name, defaults::TRACE_GAS_SHARE * volume);
            HeldGas { volume: trace, pressure: atmosphere, exponent: defaults::TRACE_GAS_EXPONENT }
        }
    }
}

/// Why a value is needed that serves one kind of fluid only; empty where the fluid itself could not be read.
fn because(fluid: &Fluid) -> String {
    let (kind, other) = match fluid.phase {
        Phase::Liquid(_) => ("liquid", "gas lower the pressure or raise"),
        Phase::Gas(_) => ("gas", "liquid raise the pressure or lower"),
    };
    if fluid.name.is_empty() {
        return String::new();
    }
    format!("needed because the fluid is a {kind}: {}; for a {other} the temperature", fluid.name)
}

fn chamber(reader: &mut Reader<'_>, fluid: &Fluid, atmosphere: f64) -> Chamber {
    let table = "valve.chamber";
    let volume = reader.table(table).number("volume");
    let gas = held_gas(reader, table, "trapped_gas", volume, atmosphere);
    let wall_conductance = match fluid.phase {
        Phase::Gas(_) => reader.number_because("valve.chamber.wall_conductance", &because(fluid)),
        Phase::Liquid(_) => reader.optional("valve.chamber.wall_conductance").unwrap_or(0.0),
    };
    Chamber {
        volume,
        trapped_gas: gas.volume,
        trapped_gas_pressure: gas.pressure,
        polytropic_exponent: gas.exponent,
        wall_conductance,
    }
}

/// Critical pressure ratio of the main seat where none was measured: that of an ideal nozzle with this gas.
fn seat_critical_ratio(reader: &mut Reader<'_>, gas: &Gas) -> f64 {
    let ratio = gas.ellipse_critical_ratio();
    let from = "from the gas: an ideal nozzle's choked flow";
    reader.derived("valve.main.critical_pressure_ratio", ratio, Dimension::Number, from);
    ratio
}

fn main_stage(reader: &mut Reader<'_>, fluid: &Fluid) -> MainStage {
    let kind = stage_kind(reader);
    let mut keys = reader.table("valve.main");
    // Each of the two factors serves one kind of fluid only; the second has a default there.
    let (pressure_recovery_factor, critical_pressure_ratio) = match &fluid.phase {
        Phase::Liquid(_) => (
            keys.reader.number_because("valve.main.pressure_recovery_factor", &because(fluid)),
            keys.optional("critical_pressure_ratio").unwrap_or(defaults::UNUSED),
        ),
        Phase::Gas(gas) => (
            keys.optional("pressure_recovery_factor").unwrap_or(defaults::UNUSED),
            keys.optional("critical_pressure_ratio").unwrap_or_else(|| seat_critical_ratio(keys.reader, gas)),
        ),
    };
    MainStage {
        kind,
        effective_diameter: keys.number("effective_diameter"),
        seat_diameter: keys.number("seat_diameter"),
        lift: keys.number("lift"),
        mass: keys.number("mass"),
        preload: keys.number("preload"),
        spring_rate: keys.number("spring_rate"),
        damping: keys.number("damping"),
        curtain_coefficient: keys.number("curtain_coefficient"),
        bore_coefficient: keys.number("bore_coefficient"),
        flow_force_factor: keys.number("flow_force_factor"),
        pressure_recovery_factor,
        critical_pressure_ratio,
        seat: contact(reader, "valve.main.seat", &defaults::SOFT_CONTACT),
        stop: contact(reader, "valve.main.stop", &defaults::SOFT_CONTACT),
    }
}

fn stage_kind(reader: &mut Reader<'_>) -> StageKind {
    let way = if reader.states("valve.main") { reader.needed_choice("the main stage") } else { None };
    match way {
        Some(1) => {
            let mut keys = reader.table("valve.main.piston");
            StageKind::Piston {
                friction: keys.number("friction"),
                presliding_stiffness: keys.number("presliding_stiffness"),
            }
        }
        Some(_) => {
            let mut keys = reader.table("valve.main.diaphragm");
            StageKind::Diaphragm {
                bulge_compliance: keys.number("bulge_compliance"),
                bulge_resistance: keys.number("bulge_resistance"),
            }
        }
        None => StageKind::Diaphragm { bulge_compliance: f64::NAN, bulge_resistance: f64::NAN },
    }
}

fn port(reader: &mut Reader<'_>, table: &'static str, atmosphere: f64) -> Port {
    let volume = reader.table(table).number("volume");
    let gas = held_gas(reader, table, "gas", volume, atmosphere);
    Port { volume, gas: gas.volume, gas_pressure: gas.pressure, polytropic_exponent: gas.exponent }
}
