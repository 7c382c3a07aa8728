//! The valve.

use super::reader::{Reader, TableReader};
use super::vocabulary::{DIRECT_OPERATED, join};
use super::{coil, defaults};
use crate::physics::fluid::{Fluid, Gas, Phase};
use crate::physics::parts::{
    Armature, Bleed, Chamber, Contact, ControlParts, MainStage, Pilot, Port, ServoParts, StageKind, Valve,
};
use crate::physics::valve::direct;
use crate::units::Dimension;

/// All of the valve.
pub(super) fn read(reader: &mut Reader<'_>, fluid: &Fluid, atmosphere: f64) -> Valve {
    let attitude = reader.number("valve.attitude");
    let coil = coil::read(reader);
    let (armature, control, main) = match reader.word("valve.kind") {
        Some(DIRECT_OPERATED) => {
            reader.unused(&NOT_DIRECT, WHY_NOT);
            direct(reader, fluid)
        }
        // Of a kind that is wrongly stated nothing is asked but what all have.
        None if reader.states("valve.kind") => direct(reader, fluid),
        _ => servo(reader, fluid, atmosphere),
    };
    Valve {
        attitude,
        coil,
        armature,
        control,
        main,
        inlet: port(reader, "valve.inlet", atmosphere),
        outlet: port(reader, "valve.outlet", atmosphere),
    }
}

fn servo(reader: &mut Reader<'_>, fluid: &Fluid, atmosphere: f64) -> (Armature, ControlParts, MainStage) {
    let armature = armature(reader, Some("valve.armature.seat"));
    let control = ControlParts::Servo(ServoParts {
        pilot: pilot(reader),
        bleed: bleed(reader),
        chamber: chamber(reader, fluid, atmosphere),
    });
    (armature, control, main_stage(reader, fluid, false))
}

/// What a direct-operated valve does not have.
const NOT_DIRECT: [&str; 13] = [
    "valve.pilot",
    "valve.bleed",
    "valve.chamber",
    "valve.armature.seat",
    "valve.main.effective_diameter",
    "valve.main.lift",
    "valve.main.mass",
    "valve.main.preload",
    "valve.main.spring_rate",
    "valve.main.damping",
    "valve.main.diaphragm",
    "valve.main.piston",
    "valve.main.stop",
];

const WHY_NOT: &str = "a direct-operated valve has no pilot, bleed and control chamber, and its main stage is the armature: mass, \
                       spring, damping and stroke are those of [valve.armature], the upper stop is the pole";

/// The armature carries the seal of the main seat.
fn direct(reader: &mut Reader<'_>, fluid: &Fluid) -> (Armature, ControlParts, MainStage) {
    let seat = main_stage(reader, fluid, true);
    let armature = Armature { seat: seat.seat.clone(), ..armature(reader, None) };
    let main = direct::carried_by(&armature, &seat);
    (armature, ControlParts::Direct, main)
}

fn contact(reader: &mut Reader<'_>, table: &'static str, default: &Contact) -> Contact {
    let mut keys = reader.table(table);
    Contact {
        stiffness: keys.number_or("stiffness", default.stiffness),
        dissipation: keys.number_or("dissipation", default.dissipation),
    }
}

/// The armature with its seat's contact from that table, where it has a seat of its own.
fn armature(reader: &mut Reader<'_>, seat: Option<&'static str>) -> Armature {
    let mut keys = reader.table("valve.armature");
    Armature {
        mass: keys.number("mass"),
        spring_rate: keys.number("spring_rate"),
        preload: keys.number("preload"),
        damping: keys.number("damping"),
        stroke: keys.number("stroke"),
        seat: seat.map_or(defaults::SOFT_CONTACT, |table| contact(reader, table, &defaults::SOFT_CONTACT)),
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

/// The main stage; of one that the armature carries only what belongs to the seat.
fn main_stage(reader: &mut Reader<'_>, fluid: &Fluid, carried: bool) -> MainStage {
    let kind = if carried { direct::STIFF } else { stage_kind(reader) };
    let moving = |keys: &mut TableReader<'_, '_>, name| if carried { 0.0 } else { keys.number(name) };
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
        effective_diameter: moving(&mut keys, "effective_diameter"),
        seat_diameter: keys.number("seat_diameter"),
        lift: moving(&mut keys, "lift"),
        mass: moving(&mut keys, "mass"),
        preload: moving(&mut keys, "preload"),
        spring_rate: moving(&mut keys, "spring_rate"),
        damping: moving(&mut keys, "damping"),
        curtain_coefficient: keys.number("curtain_coefficient"),
        bore_coefficient: keys.number("bore_coefficient"),
        flow_force_factor: keys.number("flow_force_factor"),
        pressure_recovery_factor,
        critical_pressure_ratio,
        seat: contact(reader, "valve.main.seat", &defaults::SOFT_CONTACT),
        stop: if carried {
            defaults::POLE_CONTACT
        } else {
            contact(reader, "valve.main.stop", &defaults::SOFT_CONTACT)
        },
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
