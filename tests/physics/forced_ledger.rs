//! The balances of a forced lift: they close on liquid and gas, and each of its own terms, spoilt, breaks them.

use crate::baseline::{self, ready};
use crate::ledger::{Plant, residue};
use quietseat::dual::Real;
use quietseat::physics::parts::{LineModel, Port, Voltage};
use quietseat::physics::state::*;
use quietseat::physics::valve::chamber::ChamberState;
use quietseat::physics::valve::control::Control;
use quietseat::physics::valve::forced_lift::ForcedLift;
use quietseat::physics::valve::main_stage::Stage;
use quietseat::scenario::Scenario;
use quietseat::simulate::running::Running;
use quietseat::simulate::{Integrator, Phases, install, simulate};

fn forced(control: &Control) -> &ForcedLift {
    match control {
        Control::ForcedLift(forced) => forced,
        Control::Servo(_) | Control::Direct | Control::VentedPilot(_) => panic!("a forced lift"),
    }
}

/// A valve whose pilot is wide, so that nothing about its tip is small, under a magnet that it cannot stop.
fn wide_pilot(mut scenario: Scenario) -> Scenario {
    let pilot = &mut scenario.valve.servo_mut().expect("a servo").pilot;
    (pilot.diameter, pilot.seat_diameter) = (6e-3, 6.6e-3);
    scenario.valve.servo_mut().expect("a servo").bleed.diameter = 2e-3;
    scenario.valve.link_mut().expect("a link").free_play = 1.6e-3;
    scenario.valve.armature.stroke = scenario.valve.main.lift + 1.7e-3;
    scenario.valve.coil.turns *= 2.0;
    scenario
}

fn water(bar: f64) -> Scenario {
    let mut scenario = wide_pilot(baseline::forced(baseline::water(), 2e5));
    scenario.supply.pressure = scenario.sink.pressure + bar * 1e5;
    scenario
}

fn air(bar: f64) -> Scenario {
    let mut scenario = wide_pilot(baseline::forced(baseline::air(bar * 1e5), 2e5));
    scenario.valve.servo_mut().expect("a servo").chamber.wall_conductance = 0.0;
    scenario
}

/// Liquid and gas, waves and one volume, direct and alternating current, a stiff and a soft link; with and without a differential.
#[test]
fn its_balances_close() {
    let base = |bar: f64| {
        let mut scenario = baseline::forced(baseline::water(), 2e5);
        scenario.supply.pressure = scenario.sink.pressure + bar * 1e5;
        scenario
    };
    let mut lumped = base(2.0);
    (lumped.upstream.model, lumped.downstream.model) = (LineModel::Lumped, LineModel::Lumped);
    let mut soft = base(1.0);
    soft.valve.link_mut().expect("a link").stiffness = 1e3;
    let mut alternating = base(1.0);
    alternating.valve.coil = baseline::alternating_coil();
    (alternating.valve.coil.turns, alternating.valve.coil.resistance) = (3000.0, 250.0);
    (alternating.valve.coil.core_area, alternating.valve.coil.leakage_reluctance) = (4e-4, 2e7);
    (alternating.valve.coil.open_face_area, alternating.valve.coil.shaded_face_area) = (2e-4, 1.8e-4);
    let air = baseline::forced(baseline::air(2e4), 2e5);
    for (name, scenario) in [
        ("nothing", base(0.0)),
        ("water", base(5.0)),
        ("wide pilot", water(2.0)),
        ("lumped", lumped),
        ("soft link", soft),
        ("alternating", alternating),
        ("air", air),
    ] {
        let phases = Phases { open: 0.5, shut: 1.0, cycles: 1, early_open: false, early_shut: false, watch: 0.0 };
        let record = simulate(&ready(&scenario), phases, 293.15, Integrator::Stiff).expect(name);
        let lift = record.trace.values("lift").iter().copied().fold(0.0, f64::max);
        println!(
            "{name}: residue {:.1e}, lift {:.3} mm, {} steps",
            record.residue(),
            1e3 * lift,
            record.counters.accepted
        );
        assert!(lift > 0.2 * scenario.valve.main.lift, "{name} hardly moves: {lift}");
        assert!(record.residue() < 1e-5, "{name}: {:e}", record.residue());
    }
}

/// With one density the three contents gain what the lines bring, whatever moves, since the volumes swept add to nothing: continuity of an
/// incompressible fluid between rigid walls.
#[test]
fn swept_volumes_add_to_nothing() {
    let scenario = water(2.0);
    let installation = install(&ready(&scenario), 293.15);
    let rest = installation.at_rest(scenario.supply.pressure, scenario.sink.pressure);
    for (lift, travel, v, v_a) in [(1e-3, 1.5e-3, 0.3, 0.0), (1e-3, 3e-3, 0.0, 0.5), (0.0, 2e-6, -0.2, 0.7)] {
        let mut y = rest;
        (y[LIFT], y[TRAVEL], y[LIFT_RATE], y[TRAVEL_RATE]) = (lift, travel, v, v_a);
        let (mut rate, mut flux) = ([0.0; STATES], [0.0; INTEGRALS]);
        installation.evaluate(&installation.nearby(), &[0.0; FORCINGS], &y, &mut rate, &mut flux);
        let brought = (flux[INLET_MASS] - flux[OUTLET_MASS]) / installation.upstream.state.density;
        let gained = rate[INLET] + rate[CHAMBER] + rate[OUTLET];
        let moved = installation.stage.effective_area * (v.abs() + v_a.abs());
        assert!((gained - brought).abs() < 1e-12 * moved.max(brought.abs()), "{gained} m³/s, brought {brought}");
    }
}

/// What the tip sweeps is the integral of its force's area: A_ps·g_0·arctan(g/g_0), g_0 = d_p²/(4·d_ps) (own derivation, see the head of
/// `forced_lift.rs` in the library), here by Simpson's rule over 1/(1 + (g/g_0)²).
#[test]
fn the_tip_sweeps_the_integral_of_its_area() {
    let scenario = water(2.0);
    let installation = install(&ready(&scenario), 293.15);
    let forced = forced(&installation.control);
    let (bore, seat) = (6e-3_f64, 6.6e-3_f64);
    let g_0 = bore * bore / (4.0 * seat);
    let area = |g: f64| std::f64::consts::FRAC_PI_4 * seat * seat / (1.0 + (g / g_0).powi(2));
    let mut y = [0.0; STATES];
    for gap in [1e-5, 1e-4, 1e-3, 5e-3] {
        y[TRAVEL] = gap;
        let h = gap / 200.0;
        let inner: f64 = (1..200).map(|i| if i % 2 == 1 { 4.0 } else { 2.0 } * area(f64::from(i) * h)).sum();
        let integral = (area(0.0) + inner + area(gap)) * h / 3.0;
        assert!((forced.swept(&y) / integral - 1.0).abs() < 1e-6, "{gap}: {} against {integral}", forced.swept(&y));
    }
}

/// A fault in the forced lift's own terms.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Fault {
    None,
    /// What the tip sweeps enters the outlet with the wrong sign.
    TipIntoOutlet,
    /// What the tip sweeps is not taken from the chamber.
    TipOutOfChamber,
    /// The whole seat area sweeps, however wide the seat is open.
    WholeSeatSweeps,
    /// The tip is pressed down as if the pilot vented to the outlet.
    TipFeelsOutlet,
    /// The pilot's differential presses the armature, but does not lift the stage.
    NoPilotForceOnStage,
    /// The link draws on the armature only.
    NoLinkOnStage,
    /// The link draws on the stage only.
    NoLinkOnArmature,
    /// The tip's blow does not reach the stage.
    NoTipOnStage,
    /// The link's damping is no loss.
    NoLinkLoss,
    /// The pilot's stream loses nothing on its way from under the seat to the outlet.
    NoLossUnderSeat,
    /// The pilot vents to the outlet.
    PilotVentsToOutlet,
    /// The armature's pull is that of the gap over the stage.
    PullByPilotGap,
    /// Gas: the tip does no work on the chamber.
    NoTipWorkOnChamber,
    /// Gas: the stream under the seat does no work on the tip.
    NoStreamWorkOnTip,
}

/// What the faults are made of.
struct Parts<T> {
    chamber: ChamberState<T>,
    gap: T,
    gap_rate: T,
    under_seat: T,
    recovery: T,
    force: T,
}

fn parts<T: Real>(running: &Running, stage: &Stage, forced: &ForcedLift, y: &[T; STATES]) -> Parts<T> {
    let installation = &running.installation;
    let (p_1, p_2) = (installation.inlet.pressure(y[INLET]), installation.outlet.pressure(y[OUTLET]));
    let volume = -(y[LIFT] * stage.effective_area) - y[BULGE] - forced.swept(y) + forced.servo.chamber.part.volume;
    let chamber = forced.servo.chamber.filling.state(y[CHAMBER], y[CHAMBER_ENERGY], volume);
    let (gap, gap_rate) = (y[TRAVEL] - y[LIFT], y[TRAVEL_RATE] - y[LIFT_RATE]);
    let under_seat = p_2 + stage.throughflow(y[LIFT], p_1, p_2).recovery * (p_1 - p_2);
    let recovery = forced.servo.pilot.recovery(forced.servo.pilot.curtain(gap));
    let force = forced.servo.pilot.force(chamber.pressure - under_seat, recovery);
    Parts { chamber, gap, gap_rate, under_seat, recovery, force }
}

impl Plant for Fault {
    fn plant<T: Real>(&self, running: &Running, y: &[T; STATES], rate: &mut [T; STATES], flux: &mut [T; INTEGRALS]) {
        let installation = &running.installation;
        let (stage, armature) = (&installation.stage, &installation.armature.part);
        let forced = forced(&installation.control);
        let now = parts(running, stage, forced, y);
        let p_2 = installation.outlet.pressure(y[OUTLET]);
        let (open, area) = (-now.recovery + 1.0, forced.servo.pilot.seat_area);
        let swept = open * now.gap_rate * area;
        let (on_stage, on_armature) = (1.0 / stage.part.mass, 1.0 / armature.mass);
        let link = forced.link.pull(now.gap, now.gap_rate);
        let density = installation.downstream.state.density;
        match self {
            Fault::None => {}
            Fault::TipIntoOutlet => rate[OUTLET] = rate[OUTLET] + swept * 2.0,
            Fault::TipOutOfChamber => rate[CHAMBER] = rate[CHAMBER] - swept,
            Fault::WholeSeatSweeps => {
                let more = now.gap_rate * area - swept;
                rate[OUTLET] = rate[OUTLET] - more;
                rate[CHAMBER] = rate[CHAMBER] + more;
            }
            Fault::TipFeelsOutlet => {
                let more = forced.servo.pilot.force(now.under_seat - p_2, now.recovery);
                rate[TRAVEL_RATE] = rate[TRAVEL_RATE] - more * on_armature;
            }
            Fault::NoPilotForceOnStage => rate[LIFT_RATE] = rate[LIFT_RATE] - now.force * on_stage,
            Fault::NoLinkOnStage => rate[LIFT_RATE] = rate[LIFT_RATE] - link.force * on_stage,
            Fault::NoLinkOnArmature => rate[TRAVEL_RATE] = rate[TRAVEL_RATE] + link.force * on_armature,
            Fault::NoTipOnStage => {
                let tip = armature.seat.touch(-now.gap, -now.gap_rate).force;
                rate[LIFT_RATE] = rate[LIFT_RATE] + tip * on_stage;
            }
            Fault::NoLinkLoss => flux[ARMATURE_LOSS] = flux[ARMATURE_LOSS] - link.loss,
            Fault::NoLossUnderSeat => {
                flux[MAIN_LOSS] = flux[MAIN_LOSS] - (now.under_seat - p_2) * y[PILOT_FLOW] * (1.0 / density);
            }
            Fault::PilotVentsToOutlet => {
                let passage = &forced.servo.pilot.passage;
                rate[PILOT_FLOW] = rate[PILOT_FLOW] + (now.under_seat - p_2) * (1.0 / passage.inertance);
            }
            Fault::PullByPilotGap => {
                let pull = |travel| installation.magnet.state(T::constant(0.0), y[FLUX], y[RING_FLUX], travel).pull;
                rate[TRAVEL_RATE] = rate[TRAVEL_RATE] + (pull(now.gap) - pull(y[TRAVEL])) * on_armature;
            }
            Fault::NoTipWorkOnChamber => {
                rate[CHAMBER_ENERGY] = rate[CHAMBER_ENERGY] - now.chamber.pressure * swept;
            }
            Fault::NoStreamWorkOnTip => flux[MAIN_LOSS] = flux[MAIN_LOSS] - now.under_seat * swept,
        }
    }
}

/// Each leaves more than 10⁻³, a hundred times what a sound run at this tolerance may leave, in a valve in which it has its say: the
/// stage on its way, the pilot wide, the seat only a trickle where the loss under it counts.
#[test]
fn planted_faults_break_the_ledger() {
    let water = water(1.0);
    let mut trickle = water.clone();
    trickle.valve.main.curtain_coefficient = 0.1;
    trickle.valve.main.bore_coefficient = 0.03;
    trickle.valve.outlet = Port { volume: 5e-6, gas: 1e-10, gas_pressure: 1e5, polytropic_exponent: 1.0 };
    let mut hanging = trickle.clone();
    (hanging.supply.pressure, hanging.valve.armature.stroke) = (hanging.sink.pressure + 20.0, 3e-3);
    let mut pressed = trickle.clone();
    pressed.supply.pressure = pressed.sink.pressure + 1e5;
    let servo = pressed.valve.servo_mut().expect("a servo");
    (servo.bleed.diameter, servo.pilot.diameter, servo.pilot.seat_diameter) = (6e-3, 9e-3, 10e-3);
    // Pressure from behind lifts the stage, and the stage its armature.
    let mut backwards = trickle.clone();
    (backwards.supply.pressure, backwards.sink.pressure) = (2e5, 3e5);
    backwards.valve.coil.supply = Voltage::Direct { voltage: 0.1 };
    let air = air(0.2);
    for (name, scenario, on) in [
        ("water", &water, 0.04),
        ("trickle", &trickle, 0.1),
        ("hanging", &hanging, 0.05),
        ("pressed", &pressed, 0.06),
        ("backwards", &backwards, 0.05),
        ("air", &air, 0.05),
    ] {
        let sound = residue(scenario, on, Fault::None);
        assert!(sound < 1e-5, "{name}: {sound}");
    }
    let mut hidden = Vec::new();
    for (scenario, on, fault) in [
        (&water, 0.04, Fault::TipIntoOutlet),
        (&water, 0.04, Fault::TipOutOfChamber),
        (&pressed, 0.06, Fault::WholeSeatSweeps),
        (&trickle, 0.1, Fault::TipFeelsOutlet),
        (&pressed, 0.06, Fault::NoPilotForceOnStage),
        (&trickle, 0.1, Fault::NoLinkOnStage),
        (&hanging, 0.05, Fault::NoLinkOnArmature),
        (&backwards, 0.05, Fault::NoTipOnStage),
        (&hanging, 0.05, Fault::NoLinkLoss),
        (&trickle, 0.1, Fault::NoLossUnderSeat),
        (&trickle, 0.1, Fault::PilotVentsToOutlet),
        (&water, 0.04, Fault::PullByPilotGap),
        (&air, 0.05, Fault::TipIntoOutlet),
        (&air, 0.05, Fault::NoTipWorkOnChamber),
        (&air, 0.05, Fault::NoStreamWorkOnTip),
        (&air, 0.05, Fault::NoLinkOnStage),
    ] {
        let residue = residue(scenario, on, fault);
        if residue.is_nan() || residue <= 1e-3 {
            hidden.push(format!("{fault:?} hides in the ledger: {residue:e}"));
        }
    }
    assert!(hidden.is_empty(), "{hidden:?}");
}
