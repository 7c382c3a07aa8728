//! The valve whose pilot vents to a place of its own: the differentials at which it opens against statics by hand, the plain servo valve
//! where that place is its outlet, its steady states, its balances and what breaks them. Own derivations throughout.

use crate::baseline::{self, ready};
use crate::demo;
use crate::ledger::{Plant, residue};
use quietseat::dual::Real;
use quietseat::physics::parts::{ControlParts, LineModel, Vent, VentedPilotParts, Voltage};
use quietseat::physics::state::*;
use quietseat::physics::valve::chamber::Filling;
use quietseat::physics::valve::control::Control;
use quietseat::scenario::Scenario;
use quietseat::simulate::running::Running;
use quietseat::simulate::{Integrator, Phases, Record, install, simulate};
use quietseat::stability::equilibria::Rest;
use quietseat::stability::valve::{Energised, SteadyCoil};
use quietseat::study::examine::examine;
use quietseat::verdict::Behaviour::{Chatters, FloatsSteadily, OpensFully};
use std::f64::consts::FRAC_PI_4;

const COLD: f64 = 293.15;

/// A servo valve with its pilot led to a place at `pressure` (Pa absolute).
pub(crate) fn vented(mut scenario: Scenario, pressure: f64) -> Scenario {
    let servo = scenario.valve.servo().expect("a servo valve").clone();
    scenario.valve.control = ControlParts::VentedPilot(VentedPilotParts { servo, vent: Vent { pressure } });
    scenario
}

/// The baseline between short and wide lines, so that all of the circuit's differential (Pa) is the valve's, at a sink of 3 bar.
fn short_lines(differential: f64) -> Scenario {
    let mut scenario = baseline::water();
    (scenario.sink.pressure, scenario.sink.drained) = (3e5, 3e5);
    scenario.supply.pressure = 3e5 + differential;
    for line in [&mut scenario.upstream, &mut scenario.downstream] {
        (line.length, line.bore, line.loss_coefficient, line.model) = (0.3, 0.2, 0.0, LineModel::Lumped);
    }
    scenario
}

fn run(scenario: &Scenario, open: f64, shut: f64) -> Record {
    let phases = Phases { open, shut, cycles: 1, early_open: false, early_shut: false, watch: 0.0 };
    simulate(&ready(scenario), phases, COLD, Integrator::Stiff).expect("a run")
}

/// The last value of an energised time.
fn last(record: &Record, open: f64, channel: &str) -> f64 {
    record.trace.values(channel)[record.trace.window(0.0, open).end - 1]
}

fn area(diameter: f64) -> f64 {
    FRAC_PI_4 * diameter * diameter
}

/// Share r = (p_c − p_v)/(p_1 − p_v) of the baseline's pilot (curtain and bore in series) and bleed: two restrictions in series.
fn share() -> f64 {
    let (curtain, bore) = (0.65 * std::f64::consts::PI * 2.3e-3 * 0.8e-3, 0.65 * area(2e-3));
    1.0 / (1.0 + (curtain * bore / curtain.hypot(bore) / (0.65 * area(1e-3))).powi(2))
}

/// Lift-off by hand with the outlet `above` the vent (Pa): p_1·(A_d − A_s) + p_2·A_s − p_c·A_d = F_0 with p_c = p_v + r·(p_1 − p_v).
fn lift_off_by_hand(above: f64) -> f64 {
    let (a_d, a_s) = (area(36e-3) * (1.0 - share()), area(12e-3));
    ((4.2 - a_d * above) / (a_d - a_s)).max(0.0)
}

/// 7 % of the differential to the vent to either side of the statics decide whether it lifts, with the vent below and above the outlet;
/// the laminar loss of pilot and bleed, which the hand value leaves out, takes some 3 % at these few kPa.
#[test]
fn it_lifts_where_statics_by_hand_say() {
    for above in [4e3, 2e3, -3e3, -2e4] {
        let by_hand = lift_off_by_hand(above);
        assert!(by_hand > 0.0);
        let ours = install(&ready(&vented(short_lines(by_hand), 3e5 - above)), COLD).lift_off_differential();
        assert!((ours.expect("it lifts") - by_hand).abs() < 1e-6 * (by_hand + above), "{ours:?}, by hand {by_hand} Pa");
        for (by, lifts) in [(-0.07, false), (0.07, true)] {
            let scenario = vented(short_lines(by_hand + by * (by_hand + above)), 3e5 - above);
            let lift = last(&run(&scenario, 3.0, 1e-3), 3.0, "lift");
            println!("vent {above} Pa below the outlet, {by} beside {by_hand:.0} Pa: lift {lift:e} m");
            assert_eq!(lift > 1e-5, lifts, "vent {above} Pa below the outlet, {by}: {lift} m");
        }
    }
}

/// At no differential of its own it opens once A_d·(1 − r)·(p_2 − p_v) is more than F_0, and comes to full lift at F_0 + k·x_max: no
/// stream works on the stage there. A servo valve stays shut.
#[test]
fn it_opens_without_a_differential_of_its_own() {
    let a_d = area(36e-3) * (1.0 - share());
    let (off, full) = (4.2 / a_d, (4.2 + 600.0 * 3e-3) / a_d);
    let lift = |above: f64| {
        let record = run(&vented(short_lines(0.0), 3e5 - above), 4.0, 1e-3);
        println!("{above:.0} Pa, by hand from {off:.0} to {full:.0}: lift {:e} m", last(&record, 4.0, "lift"));
        last(&record, 4.0, "lift")
    };
    assert!(lift(0.93 * off) < 1e-5);
    assert!((1e-5..2.9e-3).contains(&lift(1.07 * off)));
    assert!(lift(0.95 * full) < 2.99e-3);
    assert!(lift(1.07 * full) > 2.999e-3);
    assert!(last(&run(&short_lines(0.0), 4.0, 1e-3), 4.0, "lift") < 1e-5);
    for (above, needed) in [(0.999 * off, true), (1.001 * off, false)] {
        let ours = install(&ready(&vented(short_lines(0.0), 3e5 - above)), COLD).lift_off_differential();
        assert_eq!(ours.expect("it lifts") > 0.0, needed, "{above} Pa");
    }
}

/// Full lift by hand, A_d·(1 − r)·D − (D − p_2 + p_v)·B = F_0 + k·x_max with B = (A_s + 2·k_ff·C_c)·(1 − φ): 3 % of D to either side.
#[test]
fn it_opens_fully_where_statics_by_hand_say() {
    let above = 3e3;
    let (a_d, a_s) = (area(36e-3) * (1.0 - share()), area(12e-3));
    let curtain = 0.7 * std::f64::consts::PI * 12e-3 * 3e-3;
    let open = (0.8 * a_s).powi(2) / (curtain.powi(2) + (0.8 * a_s).powi(2));
    let shutting = (a_s + 2.0 * 0.3 * curtain) * open;
    let by_hand = (4.2 + 600.0 * 3e-3 - a_d * above) / (a_d - shutting);
    let ours = install(&ready(&vented(short_lines(by_hand), 3e5 - above)), COLD).full_lift_differential();
    let ours = ours.expect("it opens");
    println!("by hand {by_hand} Pa, installation {ours} Pa");
    assert!((ours / by_hand - 1.0).abs() < 0.01, "{ours} Pa, by hand {by_hand} Pa");
    for (by, opens) in [(-0.06, false), (0.06, true)] {
        let scenario = vented(short_lines(by_hand + by * (by_hand + above)), 3e5 - above);
        let lift = last(&run(&scenario, 4.0, 1e-3), 4.0, "lift");
        println!("{by}: lift {lift:e} m");
        assert_eq!(lift > 2.999e-3, opens, "{by}: {lift} m");
    }
}

/// Vented to what its outlet opens into, behind a line without loss and with little inertia, it is the plain servo valve: at rest up
/// to 2·10⁻³, on its way as well, since the outlet's own pressure swings about the sink's by the mass in that line: (l/A)·dṁ/dt = 9.5 1/m
/// times some 7 kg/s², 70 Pa of the 10⁵ across the valve.
#[test]
fn vented_to_its_own_outlet_it_is_the_plain_servo_valve() {
    let (plain, same) = (run(&short_lines(1e5), 0.5, 1.0), run(&vented(short_lines(1e5), 3e5), 0.5, 1.0));
    for channel in ["lift", "chamber_pressure", "pilot_flow", "inlet_flow"] {
        let (a, b) = (last(&plain, 0.5, channel), last(&same, 0.5, channel));
        println!("{channel}: {a} and {b}");
        assert!((a / b - 1.0).abs() < 2e-3, "{channel}: {a} and {b}");
    }
    let apart = last(&same, 0.5, "inlet_flow") - last(&same, 0.5, "outlet_flow") - last(&same, 0.5, "pilot_flow");
    // The columns in the lines still gain a little speed.
    assert!(apart.abs() < 0.1 * last(&same, 0.5, "pilot_flow"), "{apart} kg/s are lost");
    let at = |record: &Record, share: f64| {
        let lift = record.trace.values("lift");
        let on = record.trace.window(0.0, 0.5).end;
        let first = (0..on).find(|&i| lift[i] > share * 3e-3).expect("it opens");
        let (early, late) = (record.trace.time[first - 1], record.trace.time[first]);
        early + (late - early) * (share * 3e-3 - lift[first - 1]) / (lift[first] - lift[first - 1])
    };
    for share in [0.1, 0.5, 0.9] {
        let (a, b) = (at(&plain, share), at(&same, share));
        println!("{share} of lift after {a} and {b} s");
        assert!((a / b - 1.0).abs() < 2e-3, "{share} of lift after {a} and {b} s");
    }
}

/// In its steady states nothing changes, as the equations of motion themselves say, and what comes in and does not leave by the outlet
/// is what the pilot lets out; runs come to rest there.
#[test]
fn it_rests_where_its_steady_states_are() {
    let mut gas = baseline::air(1e4);
    gas.supply.pressure = 2e5 + 2e3;

    for (scenario, vent) in [(short_lines(2e3), 2.97e5), (baseline::water(), 0.9e5), (gas, 1.9e5)] {
        let scenario = vented(scenario, vent);
        let ready = ready(&scenario);
        let valve = Energised::new(&ready, SteadyCoil::of(&ready));
        let found = valve.equilibria();
        let rest = found.iter().find(|e| matches!(e.rest, Rest::Floating | Rest::Open)).expect("it opens");
        let (mut rate, mut flux) = ([0.0; STATES], [0.0; INTEGRALS]);
        let held = &rest.held;
        let installation = &valve.installation;
        installation.evaluate(&installation.nearby(), &held.forcing, &held.y, &mut rate, &mut flux);
        let pilot = held.y[PILOT_FLOW];
        for place in [INLET, OUTLET] {
            let leak = rate[place] * installation.upstream.state.density / pilot;
            assert!(leak.abs() < 1e-3, "{place}: {leak} of the pilot's flow");
        }
        let aside = held.inlet_flow - held.outlet_flow;
        assert!((aside / pilot - 1.0).abs() < 1e-3, "{aside} kg/s aside, {pilot} kg/s through the pilot");
        assert!((flux[VENT_MASS] / aside - 1.0).abs() < 1e-3);
        let lift = last(&run(&scenario, 8.0, 1e-3), 8.0, "lift");
        println!("{:?} at {:e} m, run {lift:e} m, aside {aside:e} kg/s", rest.rest, rest.lift);
        assert!((lift - rest.lift).abs() < 2e-3 * scenario.valve.main.lift, "{lift} m, steady {} m", rest.lift);
    }
}

/// What the demo's opening comment says: where the plain servo valve chatters it opens fully, without a differential too; vented to
/// hardly less than its outlet it floats; and while it is open 6 g/s run away.
#[test]
fn the_demo_shows_what_it_says() {
    for (settings, behaviour) in [
        (&["valve.kind=pilot-operated"][..], Chatters),
        (&["supply.differential=0 bar"], OpensFully),
        (&["valve.vent.pressure=1.95 bar(a)"], FloatsSteadily),
        (&[], OpensFully),
    ] {
        let examined = examine(&demo::scenario("water-vented", settings)).expect("a run");
        let found = examined.verdict.leading().expect("a finding");
        println!("{settings:?}: {}: {}", found.behaviour.words(), found.reason);
        assert_eq!(found.behaviour, behaviour, "{settings:?}: {}", found.reason);
        let opened = examined.indicators.opening_time_90;
        if settings.is_empty() {
            assert!(opened.is_some_and(|time| (0.0365 - time).abs() < 1e-3), "{opened:?}");
            let aside = last(&examined.record, 0.9, "pilot_flow");
            assert!((5.5e-3..6.5e-3).contains(&aside), "{aside} kg/s");
        }
    }
}

/// What the magnet has to lift the armature against is counted to the vent: by hand the valve's limit is lower by p_2 − p_v.
#[test]
fn the_magnets_limit_counts_to_the_vent() {
    let limit = |scenario: &Scenario| install(&ready(scenario), COLD).opening_differential(20.0);
    let plain = short_lines(1e5);
    let difference = limit(&plain) - limit(&vented(plain.clone(), 1e5));
    assert!((difference - 2e5).abs() < 1e-3, "{difference} Pa");
}

/// A wide pilot, so that nothing about its tip is small, a seat that passes only a trickle, and a strong magnet over a stroke (m).
fn wide_pilot(mut scenario: Scenario, stroke: f64) -> Scenario {
    let servo = scenario.valve.servo_mut().expect("a servo");
    (servo.pilot.diameter, servo.pilot.seat_diameter, servo.bleed.diameter) = (6e-3, 6.6e-3, 0.7e-3);
    (scenario.valve.main.curtain_coefficient, scenario.valve.main.bore_coefficient) = (0.03, 0.03);
    scenario.valve.armature.stroke = stroke;
    scenario.valve.armature.pole.stiffness = 1.1e11;
    scenario.valve.coil.supply = Voltage::Direct { voltage: 48.0 };
    scenario
}

fn trickle() -> Scenario {
    let mut scenario = wide_pilot(baseline::water(), 2e-3);
    (scenario.sink.pressure, scenario.sink.drained, scenario.supply.pressure) = (3e5, 3e5, 3.5e5);
    vented(scenario, 1.5e5)
}

fn air() -> Scenario {
    let mut scenario = wide_pilot(baseline::air(2e4), 1.2e-3);
    (scenario.sink.pressure, scenario.sink.drained, scenario.supply.pressure) = (6e5, 6e5, 6.2e5);
    scenario.valve.servo_mut().expect("a servo").chamber.wall_conductance = 0.0;
    vented(scenario, 3e5)
}

/// Liquid and gas, waves and one volume, direct and alternating current, and a vent that feeds the chamber once the line sags.
#[test]
fn its_balances_close() {
    let water = vented(baseline::water(), 0.5e5);
    let mut lumped = vented(baseline::water(), 2e5);
    (lumped.upstream.model, lumped.downstream.model) = (LineModel::Lumped, LineModel::Lumped);
    let mut alternating = vented(baseline::water(), 0.8e5);
    alternating.valve.coil = baseline::alternating_coil();
    let back = vented(baseline::water(), 4.9e5);
    let gas_back = vented(baseline::air(2e4), 2.12e5);
    for (name, scenario, backwards) in [
        ("water", water, false),
        ("lumped", lumped, false),
        ("alternating", alternating, false),
        ("wide", trickle(), false),
        ("water that comes back", back, true),
        ("air", vented(baseline::air(2e4), 1e5), false),
        ("air, wide", air(), false),
        ("air that comes back", gas_back, true),
    ] {
        let record = run(&scenario, 0.5, 1.0);
        let least = record.trace.values("pilot_flow").iter().copied().fold(0.0, f64::min);
        let most = record.trace.values("pilot_flow").iter().copied().fold(0.0, f64::max);
        println!("{name}: residue {:.1e}, pilot from {least:.1e} to {most:.1e} kg/s", record.residue());
        assert!(record.residue() < 1e-5, "{name}: {:e}", record.residue());
        assert!(!backwards || least < -0.01 * most, "{name}: {least} kg/s");
        let mass = record.balances.iter().find(|b| b.name == "mass").expect("one of mass");
        let vent = mass.entries.iter().find(|(name, _)| *name == "by the pilot's vent").expect("its entry");
        assert!(vent.1.abs() > 1e-6, "{name}: {vent:?}");
    }
}

/// A fault in the terms of the vent.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Fault {
    None,
    /// What leaves by the vent is not counted.
    NoVentMass,
    /// The pilot's stream enters the outlet all the same.
    PilotIntoOutlet,
    /// The room under the tip is the outlet's.
    TipOutOfOutlet,
    /// What the tip sweeps is not taken from the chamber.
    TipNotFromChamber,
    /// Liquid: the room under the tip is filled by nobody.
    NoVolumeUnderTip,
    /// Liquid: the vent does no work.
    NoVentWork,
    /// The column is driven by the outlet's pressure.
    ColumnFeelsOutlet,
    /// The tip is pressed down by the outlet's pressure.
    TipFeelsOutlet,
    /// Nothing presses the tip down.
    NoForceOnTip,
    /// Half of the pilot's loss is none.
    HalfPilotLoss,
    /// What the tip's motion takes from under the seat is a loss.
    NothingRegained,
    /// Gas: what leaves has the supply's temperature.
    PilotEnthalpy,
    /// Gas: the tip does no work on the chamber.
    NoTipWorkOnChamber,
    /// Gas: the stream under the tip does no work on it.
    NoStreamWorkOnTip,
}

impl Plant for Fault {
    fn plant<T: Real>(&self, running: &Running, y: &[T; STATES], rate: &mut [T; STATES], flux: &mut [T; INTEGRALS]) {
        let installation = &running.installation;
        let Control::VentedPilot(vented) = &installation.control else { panic!("a vented pilot") };
        let (servo, mass) = (&vented.servo, installation.armature.part.mass);
        let outward = 1.0 / installation.downstream.state.density;
        let swept = y[TRAVEL_RATE] * servo.pilot.seat_area;
        let chamber = servo.chamber_state(&running.near.chamber, &installation.stage, y);
        let recovery = servo.pilot.recovery(servo.pilot.curtain(y[TRAVEL]));
        let over_outlet = installation.outlet.pressure(y[OUTLET]) - vented.pressure;
        let over_vent = chamber.pressure - vented.pressure;
        match self {
            Fault::None => {}
            Fault::NoVentMass => flux[VENT_MASS] = T::constant(0.0),
            Fault::PilotIntoOutlet => rate[OUTLET] = rate[OUTLET] + y[PILOT_FLOW] * outward,
            Fault::TipOutOfOutlet => rate[OUTLET] = rate[OUTLET] - swept,
            Fault::TipNotFromChamber => rate[CHAMBER] = rate[CHAMBER] - swept,
            Fault::NoVolumeUnderTip => flux[VENT_VOLUME] = flux[VENT_VOLUME] + swept,
            Fault::NoVentWork => flux[VENT_VOLUME] = T::constant(0.0),
            Fault::ColumnFeelsOutlet => {
                rate[PILOT_FLOW] = rate[PILOT_FLOW] - over_outlet * (1.0 / servo.pilot.passage.inertance);
            }
            Fault::TipFeelsOutlet => {
                rate[TRAVEL_RATE] = rate[TRAVEL_RATE] + servo.pilot.force(over_outlet, recovery) * (1.0 / mass);
            }
            Fault::NoForceOnTip => {
                rate[TRAVEL_RATE] = rate[TRAVEL_RATE] + servo.pilot.force(over_vent, recovery) * (1.0 / mass);
            }
            Fault::HalfPilotLoss => flux[PILOT_LOSS] = flux[PILOT_LOSS] * 0.5,
            Fault::NothingRegained => flux[PILOT_LOSS] = flux[PILOT_LOSS] + recovery * over_vent * swept,
            Fault::PilotEnthalpy => {
                let Filling::Gas(gas) = &servo.chamber.filling else { return };
                flux[PILOT_LOSS] = y[PILOT_FLOW] * gas.heat(chamber.pressure, chamber.density).entering;
            }
            Fault::NoTipWorkOnChamber => rate[CHAMBER_ENERGY] = rate[CHAMBER_ENERGY] - chamber.pressure * swept,
            Fault::NoStreamWorkOnTip => {
                flux[MAIN_LOSS] = flux[MAIN_LOSS] - (recovery * over_vent + vented.pressure) * swept;
            }
        }
    }
}

/// Each leaves more than 10⁻³, a hundred times what a sound run at this tolerance may leave; the time ends while the armature has just
/// made its stroke, so that the work of its tip is not drowned by the streams.
#[test]
fn planted_faults_break_the_ledger() {
    let (water, air) = (trickle(), air());
    for (name, scenario) in [("water", &water), ("air", &air)] {
        let sound = residue(scenario, ON, Fault::None);
        assert!(sound < 1e-5, "{name}: {sound}");
        let travel = last(&run(scenario, ON, 1e-3), ON, "armature_travel");
        assert!(travel > 0.95 * scenario.valve.armature.stroke, "{name}: the armature has not come");
    }
    let mut hidden = Vec::new();
    for (scenario, fault) in [
        (&water, Fault::NoVentMass),
        (&water, Fault::PilotIntoOutlet),
        (&water, Fault::TipOutOfOutlet),
        (&water, Fault::TipNotFromChamber),
        (&water, Fault::NoVolumeUnderTip),
        (&water, Fault::NoVentWork),
        (&water, Fault::ColumnFeelsOutlet),
        (&water, Fault::TipFeelsOutlet),
        (&water, Fault::NoForceOnTip),
        (&water, Fault::HalfPilotLoss),
        (&water, Fault::NothingRegained),
        (&air, Fault::NoVentMass),
        (&air, Fault::PilotIntoOutlet),
        (&air, Fault::TipOutOfOutlet),
        (&air, Fault::TipFeelsOutlet),
        (&air, Fault::PilotEnthalpy),
        (&air, Fault::NoTipWorkOnChamber),
        (&air, Fault::NoStreamWorkOnTip),
    ] {
        let residue = residue(scenario, ON, fault);
        if residue.is_nan() || residue <= 1e-3 {
            hidden.push(format!("{fault:?} hides in the ledger: {residue:e}"));
        }
    }
    assert!(hidden.is_empty(), "{hidden:?}");
}
/// Energised time of [`planted_faults_break_the_ledger`], s.
const ON: f64 = 0.015;
