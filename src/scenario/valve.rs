//! The valve.

pub(super) mod kind_word;

use self::kind_word::{EXTERNAL_DRAIN, VENTED_PILOT};
use super::coil;
use super::defaults;
use super::reader::Reader;
use super::soft;
use super::vocabulary::{ASSISTED_LIFT, DIRECT_OPERATED, FORCED_LIFT, NORMALLY_OPEN, join};
use crate::key::{Key, Stated};
use crate::physics::fluid::{Fluid, Gas, Phase};
use crate::physics::parts::{
    Armature, Bleed, Chamber, Contact, ControlParts, ForcedLiftParts, Function, Link, MainStage, NormallyOpen, Pilot,
    Port, ServoParts, StageKind, Valve, Vent, VentedPilotParts,
};
use crate::physics::valve::direct;
use crate::units::{Dimension, text};

/// All of the valve.
pub(super) fn read(reader: &mut Reader<'_>, fluid: &Fluid, medium: Option<f64>, atmosphere: f64) -> Valve {
    let attitude = reader.table("valve").number(&Valve::attitude);
    let coil = coil::read(reader, medium);
    let function = function(reader);
    let (armature, control, main) = match reader.word("valve.kind") {
        Some(DIRECT_OPERATED) => {
            reader.unused(&NOT_DIRECT, WHY_NOT);
            direct(reader, fluid, &function)
        }
        Some(FORCED_LIFT | ASSISTED_LIFT) => forced_lift(reader, fluid, atmosphere),
        Some(VENTED_PILOT | EXTERNAL_DRAIN) => vented_pilot(reader, fluid, atmosphere),
        // Of a kind that is wrongly stated nothing is asked but what all have.
        None if reader.states("valve.kind") => direct(reader, fluid, &function),
        _ => {
            reader.unused(&[LINK], NO_LINK);
            reader.unused(&[VENT], NO_VENT);
            let (armature, parts, main) = servo(reader, fluid, atmosphere);
            (armature, ControlParts::Servo(parts), main)
        }
    };
    Valve {
        attitude,
        coil,
        armature,
        function,
        control,
        main,
        inlet: port(reader, "valve.inlet", atmosphere),
        outlet: port(reader, "valve.outlet", atmosphere),
    }
}

/// What only a normally open valve has.
const NORMALLY_OPEN_ONLY: [&str; 2] = ["valve.armature.pole_clearance", "valve.armature.stop"];

/// What the valve is without current.
fn function(reader: &mut Reader<'_>) -> Function {
    if reader.word("valve.function") == Some(NORMALLY_OPEN) {
        let open = NormallyOpen::read(&mut reader.table("valve.armature"));
        let stop = Contact::read(&mut reader.table("valve.armature.stop").or(defaults::SOFT_CONTACT));
        return Function::NormallyOpen(open(stop));
    }
    let why = "the armature of a normally closed valve ends its way on the pole; that of one with function = \"normally-open\" on an \
               upper stop, and its pole lies below";
    reader.unused(&NORMALLY_OPEN_ONLY, why);
    Function::NormallyClosed
}

/// The table of the link.
const LINK: &str = "valve.link";

const NO_LINK: &str = "only a forced lift has a link between armature and main stage";

/// The table of the vent.
const VENT: &str = "valve.vent";

const NO_VENT: &str = "the pilot vents to the outlet, of a forced lift under the main seat; one that vents to a place of its own is \
                       stated by kind = \"vented-pilot\"";

/// A servo, and the place to which its pilot vents.
fn vented_pilot(reader: &mut Reader<'_>, fluid: &Fluid, atmosphere: f64) -> (Armature, ControlParts, MainStage) {
    reader.unused(&[LINK], NO_LINK);
    let (armature, servo, main) = servo(reader, fluid, atmosphere);
    let vent = Vent::read(&mut reader.table(VENT));
    low_enough(reader, fluid, vent.pressure);
    (armature, ControlParts::VentedPilot(VentedPilotParts { servo, vent }), main)
}

/// Is the place to which the pilot vents below the supply, and above what makes the liquid boil? Not asked of a supply whose pressure is
/// that of the fluid's state.
fn low_enough(reader: &mut Reader<'_>, fluid: &Fluid, vent: f64) {
    let (place, shown) = (format!("{VENT}.pressure"), |pressure| text(pressure, Dimension::AbsolutePressure));
    let above_sink = || Some(reader.value("sink.pressure")? + reader.value("supply.differential")?);
    if let Some(supply) = reader.value("supply.pressure").or_else(above_sink).filter(|supply| vent >= *supply) {
        let message = format!(
            "the pilot vents to {}, which is not below the supply ({}): it could not empty the control chamber; state a place of lower \
             pressure, such as the suction side or the open air (1 bar(a))",
            shown(vent),
            shown(supply)
        );
        reader.problem(&place, message);
    }
    if let Phase::Liquid(liquid) = &fluid.phase
        && vent < liquid.vapour_pressure
    {
        let message = format!(
            "below the liquid's vapour pressure ({}): it flashes in the pilot, which then passes less than is computed here",
            shown(liquid.vapour_pressure)
        );
        reader.warn(&place, message);
    }
}

/// A servo whose pilot seat is in the stage, and the link.
fn forced_lift(reader: &mut Reader<'_>, fluid: &Fluid, atmosphere: f64) -> (Armature, ControlParts, MainStage) {
    reader.unused(&[VENT], NO_VENT);
    let (armature, servo, main) = servo(reader, fluid, atmosphere);
    let link = Link::read(&mut reader.table(LINK).or(defaults::LINK));
    (armature, ControlParts::ForcedLift(ForcedLiftParts { servo, link }), main)
}

fn servo(reader: &mut Reader<'_>, fluid: &Fluid, atmosphere: f64) -> (Armature, ServoParts, MainStage) {
    let armature = Armature::read(&mut reader.table("valve.armature"));
    let seat = Contact::read(&mut reader.table("valve.armature.seat").or(defaults::SOFT_CONTACT));
    let armature = armature(seat, pole(reader));
    let parts = ServoParts {
        pilot: Pilot::read(&mut reader.table("valve.pilot")),
        bleed: bleed(reader),
        chamber: chamber(reader, fluid, atmosphere),
        leak: soft::leak(reader),
    };
    (armature, parts, main_stage(reader, fluid))
}

fn bleed(reader: &mut Reader<'_>) -> Bleed {
    let bleed = Bleed::read(&mut reader.table("valve.bleed"));
    bleed(soft::pin(reader))
}

/// What a direct-operated valve does not have.
const NOT_DIRECT: [&str; 15] = [
    "valve.pilot",
    "valve.bleed",
    "valve.chamber",
    LINK,
    VENT,
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

/// The armature carries the seal of the main seat: of a main stage only what belongs to the seat is stated.
fn direct(reader: &mut Reader<'_>, fluid: &Fluid, function: &Function) -> (Armature, ControlParts, MainStage) {
    let carried = MainStage::KEYS.iter().filter(|key| NOT_DIRECT.contains(&join("valve.main", key.name).as_str()));
    let known: Vec<(Key, f64)> = factors(reader, fluid).into_iter().chain(carried.map(|key| (*key, 0.0))).collect();
    let stage = MainStage::read(&mut reader.table("valve.main").knowing(&known));
    let seat = Contact::read(&mut reader.table("valve.main.seat").or(defaults::SOFT_CONTACT));
    let armature = Armature::read(&mut reader.table("valve.armature"))(seat.clone(), pole(reader));
    let stage = stage(direct::STIFF, seat, armature.pole.clone(), soft::cushion(reader));
    let main = direct::carried_by(&armature, function, &stage);
    (armature, ControlParts::Direct, main)
}

fn pole(reader: &mut Reader<'_>) -> Contact {
    Contact::read(&mut reader.table("valve.armature.pole").or(defaults::POLE_CONTACT))
}

/// Gas in a volume: as stated with all that belongs to it, or the numerical trace.
struct HeldGas {
    volume: f64,
    pressure: f64,
    exponent: f64,
}

/// The gas of a table, whose volume, pressure and exponent have those keys; `volume` is what it is a trace of.
fn held_gas(reader: &mut Reader<'_>, table: &'static str, keys: [Key; 3], volume: f64, atmosphere: f64) -> HeldGas {
    let [gas, pressure, exponent] = &keys;
    let mut stated = reader.table(table);
    if let Some(volume) = stated.optional(gas) {
        return HeldGas { volume, pressure: stated.number(pressure), exponent: stated.number(exponent) };
    }
    for other in [pressure.name, exponent.name] {
        if reader.states(&join(table, other)) {
            let message = format!("`{other}` is not used, since no `{}` is stated in [{table}]", gas.name);
            reader.warn(&join(table, other), message);
        }
    }
    let trace = reader.number_or(&join(table, gas.name), defaults::TRACE_GAS_SHARE * volume);
    HeldGas { volume: trace, pressure: atmosphere, exponent: defaults::TRACE_GAS_EXPONENT }
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
    let volume = reader.table(table).number(&Chamber::volume);
    let keys = [Chamber::trapped_gas, Chamber::trapped_gas_pressure, Chamber::polytropic_exponent];
    let gas = held_gas(reader, table, keys, volume, atmosphere);
    let mut keys = reader.table(table);
    let wall_conductance = match fluid.phase {
        Phase::Gas(_) => keys.number_because(&Chamber::wall_conductance, &because(fluid)),
        Phase::Liquid(_) => keys.optional(&Chamber::wall_conductance).unwrap_or(0.0),
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

/// The two factors of the main seat, each of which serves one kind of fluid only; the second has a default there.
fn factors(reader: &mut Reader<'_>, fluid: &Fluid) -> [(Key, f64); 2] {
    let (recovery, ratio) = (MainStage::pressure_recovery_factor, MainStage::critical_pressure_ratio);
    let mut keys = reader.table("valve.main");
    let (recovered, chokes_at) = match &fluid.phase {
        Phase::Liquid(_) => {
            (keys.number_because(&recovery, &because(fluid)), keys.optional(&ratio).unwrap_or(defaults::UNUSED))
        }
        Phase::Gas(gas) => (
            keys.optional(&recovery).unwrap_or(defaults::UNUSED),
            keys.optional(&ratio).unwrap_or_else(|| seat_critical_ratio(reader, gas)),
        ),
    };
    [(recovery, recovered), (ratio, chokes_at)]
}

fn main_stage(reader: &mut Reader<'_>, fluid: &Fluid) -> MainStage {
    let kind = reader.one_of("the main stage", StageKind::WAYS);
    let known = factors(reader, fluid);
    let stage = MainStage::read(&mut reader.table("valve.main").knowing(&known));
    let seat = Contact::read(&mut reader.table("valve.main.seat").or(defaults::SOFT_CONTACT));
    let stop = Contact::read(&mut reader.table("valve.main.stop").or(defaults::SOFT_CONTACT));
    stage(kind, seat, stop, soft::cushion(reader))
}

fn port(reader: &mut Reader<'_>, table: &'static str, atmosphere: f64) -> Port {
    let volume = reader.table(table).number(&Port::volume);
    let keys = [Port::gas, Port::gas_pressure, Port::polytropic_exponent];
    let gas = held_gas(reader, table, keys, volume, atmosphere);
    Port { volume, gas: gas.volume, gas_pressure: gas.pressure, polytropic_exponent: gas.exponent }
}
