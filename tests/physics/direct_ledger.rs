//! Faults planted in the balances of direct-operated valves, on liquid and gas, direct and alternating current: each breaks the ledger.

use crate::baseline;
use crate::demo;
use crate::ledger::{Faulty, Plant};
use quietseat::dual::Real;
use quietseat::physics::fluid::{Fluid, Gas, Phase};
use quietseat::physics::parts::LineModel;
use quietseat::physics::state::*;
use quietseat::physics::valve::armature::GRAVITY;
use quietseat::scenario::Scenario;
use quietseat::simulate::running::Running;

/// A fault in the direct-operated valve's own terms.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Fault {
    None,
    /// What the armature sweeps leaves the inlet with the wrong sign.
    InletSweep,
    /// What the armature sweeps enters the outlet with the wrong sign.
    OutletSweep,
    /// Nothing of it enters the outlet.
    NoOutletSweep,
    /// The pull is a tenth too strong for its field.
    StrongPull,
    /// The pull is that of a gap which opens as the armature rises.
    GapFromBelow,
    /// The spring is half as stiff as what it stores.
    SoftSpring,
    /// The preload is not felt.
    NoPreload,
    /// The weight is not felt.
    NoWeight,
    /// The pole pushes with half of what it stores and loses.
    SoftPole,
    /// What the pole loses is not counted.
    PoleLoss,
    /// What the seat loses is not counted.
    SeatLoss,
    /// What the damping loses is not counted.
    DampingLoss,
    /// The dry friction is not felt.
    NoFriction,
    /// What the dry friction loses is not counted.
    FrictionLoss,
    /// The whole differential presses on the seat, however wide it is open.
    WholeDifferential,
    /// The flow force is not felt.
    NoFlowForce,
    /// Half of the loss at the seat (liquid), of the work of the stream (gas).
    HalfStream,
    /// Half of the winding's heat.
    WindingHeat,
    /// Half of the heat in eddy currents and ring.
    IronHeat,
    /// The ring's flux changes twice as fast as its current has it.
    RingFlux,
}

impl Plant for Fault {
    fn plant<T: Real>(&self, running: &Running, y: &[T; STATES], rate: &mut [T; STATES], flux: &mut [T; INTEGRALS]) {
        let installation = &running.installation;
        let (stage, armature) = (&installation.stage, &installation.armature);
        let (x, v, area) = (y[LIFT], y[LIFT_RATE], installation.stage.seat_area);
        let (p_1, p_2) = (installation.inlet.pressure(y[INLET]), installation.outlet.pressure(y[OUTLET]));
        let pull = |travel: T| installation.magnet.state(T::constant(0.0), y[FLUX], y[RING_FLUX], travel).pull;
        let pole = stage.part.stop.touch(x - stage.part.lift, v);
        let recovery = || stage.throughflow(x, p_1, p_2).recovery;
        let push = |force: T| force * (1.0 / stage.part.mass);
        let constant = |force: f64| T::constant(force / stage.part.mass);
        let faster = &mut rate[LIFT_RATE];
        match self {
            Fault::None => {}
            Fault::StrongPull => *faster = *faster + push(pull(x) * 0.1),
            Fault::GapFromBelow => *faster = *faster + push(pull(-x + stage.part.lift) - pull(x)),
            Fault::SoftSpring => *faster = *faster + push(x * (0.5 * stage.part.spring_rate)),
            Fault::NoPreload => *faster = *faster + constant(armature.part.preload),
            Fault::NoWeight => *faster = *faster + constant(armature.part.mass * GRAVITY),
            Fault::SoftPole => *faster = *faster + push(pole.force * 0.5),
            Fault::NoFriction => *faster = *faster + push(armature.rub(v, y[DEFLECTION]).force),
            Fault::WholeDifferential => *faster = *faster - push(recovery() * (p_1 - p_2) * area),
            Fault::NoFlowForce => {
                let curtain = stage.restrictions(x).curtain;
                let force = curtain * (p_1 - p_2) * (-recovery() + 1.0) * (2.0 * stage.part.flow_force_factor);
                *faster = *faster + push(force);
            }
            Fault::InletSweep => rate[INLET] = rate[INLET] - v * (2.0 * area),
            Fault::OutletSweep => rate[OUTLET] = rate[OUTLET] + v * (2.0 * area),
            Fault::NoOutletSweep => rate[OUTLET] = rate[OUTLET] + v * area,
            Fault::PoleLoss => flux[STAGE_LOSS] = flux[STAGE_LOSS] - pole.loss,
            Fault::SeatLoss => flux[STAGE_LOSS] = flux[STAGE_LOSS] - stage.part.seat.touch(-x, -v).loss,
            Fault::DampingLoss => flux[STAGE_LOSS] = flux[STAGE_LOSS] - v.square() * stage.part.damping,
            Fault::FrictionLoss => flux[ARMATURE_LOSS] = flux[ARMATURE_LOSS] - armature.rub(v, y[DEFLECTION]).loss,
            Fault::HalfStream => flux[MAIN_LOSS] = flux[MAIN_LOSS] * 0.5,
            Fault::WindingHeat => flux[CIRCUIT_HEAT] = flux[CIRCUIT_HEAT] * 0.5,
            Fault::IronHeat => flux[IRON_HEAT] = flux[IRON_HEAT] * 0.5,
            Fault::RingFlux => rate[RING_FLUX] = rate[RING_FLUX] * 2.0,
        }
    }
}

/// The demo under a differential (bar), between lines of one column: a time of milliseconds has its own balance.
fn water(bar: f64) -> Scenario {
    let mut scenario = demo::scenario("water-direct", &[]);
    scenario.supply.pressure = scenario.sink.pressure + bar * 1e5;
    (scenario.upstream.model, scenario.downstream.model) = (LineModel::Lumped, LineModel::Lumped);
    (scenario.upstream.length, scenario.downstream.length) = (0.3, 0.3);
    scenario.valve.armature.friction = Some(0.5);
    scenario.valve.main.flow_force_factor = 1.0;
    scenario
}

/// A heavy armature on a strong spring, under next to no differential.
fn heavy(mut scenario: Scenario) -> Scenario {
    scenario.supply.pressure = scenario.sink.pressure + 1e4;
    (scenario.valve.armature.mass, scenario.valve.armature.spring_rate) = (40e-3, 2500.0);
    scenario
}

fn air(bar: f64) -> Scenario {
    let mut scenario = water(bar);
    scenario.fluid = Fluid {
        name: "air".into(),
        source: "test".into(),
        phase: Phase::Gas(Gas::perfect(287.05, 1.4, 293.15, 1.82e-5)),
    };
    scenario.valve.main.critical_pressure_ratio = 0.4;
    (scenario.upstream.wave_speed, scenario.downstream.wave_speed) = (343.2, 343.2);
    scenario
}

/// On mains, with a ring.
fn alternating(mut scenario: Scenario) -> Scenario {
    scenario.valve.coil = baseline::alternating_coil();
    scenario
}

/// What is asked of the valve in the time that is balanced, which is so long, s.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Asked {
    Open(f64),
    Shut(f64),
}

fn residue(scenario: &Scenario, asked: Asked, fault: Fault) -> f64 {
    let faulty = Faulty::new(scenario, fault);
    let balances = match asked {
        Asked::Open(time) => faulty.balances(scenario, time),
        Asked::Shut(time) => faulty.balances_of_shutting(scenario, time),
    };
    let worst = balances.iter().max_by(|a, b| a.relative().total_cmp(&b.relative())).expect("there are balances");
    println!("{fault:?} ({asked:?}): {} off by {:.1e}", worst.name, worst.relative());
    worst.relative()
}

/// Milliseconds, in which what moves the armature is not drowned by the stream: each fault leaves more than 10⁻³, where a sound run
/// leaves less than 10⁻⁵.
#[test]
fn planted_faults_break_the_ledger() {
    use Asked::{Open, Shut};
    use Fault::*;
    let (water, air) = (water(2.0), air(2.0));
    let (hums, hums_air) = (alternating(water.clone()), alternating(air.clone()));
    let (heavy_water, heavy_air) = (heavy(water.clone()), heavy(air.clone()));
    let (opens, shuts) = (Open(0.012), Shut(0.01));
    let mut hidden = Vec::new();
    for (name, scenario, asked, faults) in [
        ("water", &water, opens, &[StrongPull, GapFromBelow, NoPreload, SoftPole, PoleLoss, DampingLoss][..]),
        ("water", &water, opens, &[InletSweep, OutletSweep, NoOutletSweep, NoFriction, FrictionLoss]),
        ("water", &water, opens, &[WholeDifferential, NoFlowForce, HalfStream, WindingHeat, IronHeat]),
        ("water", &water, shuts, &[SeatLoss, NoPreload, OutletSweep, WholeDifferential]),
        ("heavy, water", &heavy_water, opens, &[SoftSpring, NoWeight, NoPreload, PoleLoss]),
        ("air", &air, opens, &[StrongPull, GapFromBelow, NoPreload, SoftPole, PoleLoss]),
        ("air", &air, opens, &[DampingLoss, NoFriction, FrictionLoss, WholeDifferential, NoFlowForce, HalfStream]),
        ("air", &air, opens, &[WindingHeat, IronHeat]),
        ("air", &air, shuts, &[SeatLoss, InletSweep, OutletSweep]),
        ("heavy, air", &heavy_air, opens, &[SoftSpring, NoWeight]),
        ("water, mains", &hums, opens, &[StrongPull, GapFromBelow, SoftPole, PoleLoss, WindingHeat, IronHeat]),
        ("water, mains", &hums, opens, &[RingFlux, NoPreload, OutletSweep, FrictionLoss]),
        ("air, mains", &hums_air, opens, &[StrongPull, SoftPole, PoleLoss, WindingHeat, IronHeat, RingFlux]),
        ("air, mains", &hums_air, opens, &[HalfStream, NoPreload, NoFriction, FrictionLoss]),
    ] {
        println!("{name}");
        let sound = residue(scenario, asked, None);
        assert!(sound < 1e-5, "{name}, {asked:?}: {sound:e}");
        for fault in faults {
            let left = residue(scenario, asked, *fault);
            if left.is_nan() || left <= 1e-3 {
                hidden.push(format!("{name}, {asked:?}: {fault:?} hides in the ledger: {left:e}"));
            }
        }
    }
    assert!(hidden.is_empty(), "{}", hidden.join("\n"));
}
