//! Faults planted in leak, pin, plug, cushion, restrictor and fittings: each breaks the ledger.

use crate::baseline;
use crate::ledger::{Faulty, Plant};
use crate::piston_leak::{gap, piston, ring};
use crate::soft_closing::softened;
use quietseat::dual::Real;
use quietseat::physics::parts::{LineModel, RingLeak};
use quietseat::physics::state::*;
use quietseat::physics::valve::chamber::Filling;
use quietseat::scenario::Scenario;
use quietseat::simulate::running::Running;

/// A fault in the equations.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Fault {
    None,
    /// Half of the leak's loss.
    LeakLoss,
    /// The gap's laminar loss is left out of what is lost, and drives against the column all the same.
    LeakLaminar,
    /// The inlet does not lose what leaks.
    LeakNotDrawn,
    /// The chamber does not get what leaks.
    LeakNotGiven,
    /// The chamber gets twice what leaks.
    LeakTwice,
    /// What leaks is taken out of the chamber.
    LeakSign,
    /// The leak is driven by the differential of the whole valve.
    LeakDriven,
    /// The piston sweeps the area of its bore and not that of the middle of its gap.
    LeakSweep,
    /// Gas: what leaks brings half of its heat.
    LeakEnthalpy,
    /// Gas: the chamber's energy does not grow by what leaks.
    LeakEnergy,
    /// Gas: the leak's heat is counted as that of the chamber.
    LeakOwnHeat,
    /// The loss of a bleed without pin.
    FreeBleed,
    /// Half of the loss beside the pin.
    PinLoss,
    /// What is regained under the plug is left out of the loss at the seat.
    PlugRecovery,
    /// The jet of a flat seat pushes on the plug.
    PlugJet,
    /// The stage sweeps the outlet the wrong way.
    PlugSweep,
    /// The cushion's loss is left out.
    CushionLoss,
    /// The cushion pushes twice.
    CushionTwice,
    /// The cushion lies in the chamber: it pushes, and its volume is the chamber's too.
    CushionVolume,
    /// Half of the pilot's loss with its restrictor.
    RestrictorLoss,
    /// The armature is pressed as without the restrictor.
    RestrictorForce,
    /// The strainer takes pressure and loses nothing.
    StrainerLoss,
    /// The check valve takes its opening differential and loses nothing.
    CheckLoss,
    /// The column downstream does not feel its check valve.
    CheckFree,
}

impl Plant for Fault {
    fn plant<T: Real>(&self, running: &Running, y: &[T; STATES], rate: &mut [T; STATES], flux: &mut [T; INTEGRALS]) {
        let installation = &running.installation;
        let servo = installation.control.servo().expect("a servo valve");
        let (stage, v) = (&installation.stage, y[LIFT_RATE]);
        let (p_1, p_2) = (installation.inlet.pressure(y[INLET]), installation.outlet.pressure(y[OUTLET]));
        let chamber = servo.chamber_state(&running.near.chamber, stage, y);
        let recovery = || stage.throughflow(y[LIFT], p_1, p_2).recovery;
        let (rho, leaked) = (installation.upstream.state.density, y[RING_LEAK_FLOW]);
        // The chamber counts a liquid by volume and a gas by mass.
        let per_content = if installation.is_gas() { 1.0 } else { 1.0 / rho };
        let leak = || servo.leak.as_ref().expect("a leak");
        let heat = |own: bool| {
            let Filling::Gas(gas) = &servo.chamber.filling else { return T::constant(0.0) };
            let heat = gas.heat(chamber.pressure, chamber.density);
            if own { heat.own } else { heat.entering }
        };
        let cushion = || {
            let cushion = stage.part.cushion.as_ref().expect("a cushion");
            cushion.force(rho, y[LIFT], v)
        };
        let fittings = |kv: f64| 1.0 / (rho * kv * kv);
        match self {
            Fault::None => {}
            Fault::LeakLoss => flux[RING_LEAK_LOSS] = flux[RING_LEAK_LOSS] * 0.5,
            Fault::LeakLaminar => flux[RING_LEAK_LOSS] = flux[RING_LEAK_LOSS] - leaked * leaked * (leak().gap / rho),
            Fault::LeakNotDrawn => rate[INLET] = rate[INLET] + leaked * (1.0 / rho),
            Fault::LeakNotGiven => rate[CHAMBER] = rate[CHAMBER] - leaked * per_content,
            Fault::LeakTwice => rate[CHAMBER] = rate[CHAMBER] + leaked * per_content,
            Fault::LeakSign => rate[CHAMBER] = rate[CHAMBER] - leaked * (2.0 * per_content),
            Fault::LeakDriven => {
                let driven = (chamber.pressure - p_2) * (1.0 / leak().passage.inertance);
                rate[RING_LEAK_FLOW] = rate[RING_LEAK_FLOW] + driven;
            }
            Fault::LeakSweep => rate[CHAMBER] = rate[CHAMBER] + v * (0.02 * stage.effective_area),
            Fault::LeakEnthalpy => flux[RING_LEAK_LOSS] = flux[RING_LEAK_LOSS] * 0.5,
            Fault::LeakEnergy => rate[CHAMBER_ENERGY] = rate[CHAMBER_ENERGY] - leaked * heat(false),
            Fault::LeakOwnHeat => flux[RING_LEAK_LOSS] = leaked * heat(true),
            Fault::FreeBleed => {
                let free = 1.0 / (servo.bleed.area() * servo.bleed.area());
                let flow = y[BLEED_FLOW];
                flux[BLEED_LOSS] = flow * flow * flow.abs() * (free / (2.0 * rho * rho));
            }
            Fault::PinLoss => flux[BLEED_LOSS] = flux[BLEED_LOSS] * 0.5,
            Fault::PlugRecovery => {
                flux[MAIN_LOSS] = flux[MAIN_LOSS] + recovery() * (p_1 - p_2) * v * stage.seat_area;
            }
            Fault::PlugJet => {
                let flat = y[LIFT].positive_part()
                    * (stage.part.curtain_coefficient * std::f64::consts::PI * stage.part.seat_diameter);
                let more = flat - stage.restrictions(y[LIFT]).curtain;
                let force = more * (p_1 - p_2) * (-recovery() + 1.0) * (2.0 * stage.part.flow_force_factor);
                rate[LIFT_RATE] = rate[LIFT_RATE] - force * (1.0 / stage.part.mass);
            }
            Fault::PlugSweep => rate[OUTLET] = rate[OUTLET] + v * (2.0 * stage.seat_area),
            Fault::CushionLoss => flux[STAGE_LOSS] = flux[STAGE_LOSS] + cushion() * v,
            Fault::CushionTwice => rate[LIFT_RATE] = rate[LIFT_RATE] + cushion() * (1.0 / stage.part.mass),
            Fault::CushionVolume => {
                let area = stage.part.cushion.as_ref().expect("a cushion").area;
                rate[CHAMBER] = rate[CHAMBER] + v * area;
            }
            Fault::RestrictorLoss => flux[PILOT_LOSS] = flux[PILOT_LOSS] * 0.5,
            Fault::RestrictorForce => {
                // With less regained behind the seat the armature is pressed down by so much more.
                let without = -0.5 * servo.pilot.seat_area;
                let force = (chamber.pressure - p_2) * without;
                rate[TRAVEL_RATE] = rate[TRAVEL_RATE] + force * (1.0 / installation.armature.part.mass);
            }
            Fault::StrainerLoss => {
                let m = flux[INLET_MASS];
                flux[UPSTREAM_LOSS] = flux[UPSTREAM_LOSS] - m * m * m.abs() * (fittings(0.7 * 1.5e-4) / rho);
            }
            Fault::CheckLoss => flux[UPSTREAM_LOSS] = flux[UPSTREAM_LOSS] - flux[INLET_MASS].abs() * (1e3 / rho),
            Fault::CheckFree => {
                let state = &installation.downstream.state;
                let sign = if y[DOWNSTREAM_FLOW].value() < 0.0 { -1.0 } else { 1.0 };
                rate[DOWNSTREAM_FLOW] = rate[DOWNSTREAM_FLOW] + sign * 1e3 / state.inertance();
            }
        }
    }
}

/// How the time goes.
#[derive(Clone, Copy)]
enum During {
    Opening(f64),
    Shutting(f64),
}

/// Largest residue with a fault planted.
fn residue(scenario: &Scenario, during: During, fault: Fault) -> f64 {
    let faulty = Faulty::new(scenario, fault);
    let balances = match during {
        During::Opening(on) => faulty.balances(scenario, on),
        During::Shutting(off) => faulty.balances_of_shutting(scenario, off),
    };
    let worst = balances.iter().max_by(|a, b| a.relative().total_cmp(&b.relative())).expect("there are balances");
    println!("{fault:?}: {} off by {:.1e}", worst.name, worst.relative());
    worst.relative()
}

fn broken_by(scenario: &Scenario, during: During, faults: &[Fault]) {
    let sound = residue(scenario, during, Fault::None);
    assert!(sound < 1e-5, "{sound}");
    for fault in faults {
        let residue = residue(scenario, during, *fault);
        assert!(residue > 1e-3, "{fault:?} hides in the ledger: {residue:e}");
    }
}

/// A valve whose seat passes but a trickle, so that what flows through its small ways is not drowned by the stream.
fn trickle(mut scenario: Scenario) -> Scenario {
    scenario.valve.main.curtain_coefficient = 0.03;
    scenario.valve.main.bore_coefficient = 0.03;
    (scenario.upstream.model, scenario.downstream.model) = (LineModel::Lumped, LineModel::Lumped);
    scenario
}

/// Of a liquid that leaks past a piston.
#[test]
fn faults_in_the_leak_of_a_liquid_break_the_ledger() {
    let gap = trickle(piston(baseline::water(), gap(5e-5)));
    broken_by(
        &gap,
        During::Opening(0.3),
        &[
            Fault::LeakLoss,
            Fault::LeakLaminar,
            Fault::LeakNotDrawn,
            Fault::LeakNotGiven,
            Fault::LeakTwice,
            Fault::LeakSign,
            Fault::LeakDriven,
            Fault::LeakSweep,
        ],
    );
    let ring = trickle(piston(baseline::water(), ring(1e-3)));
    broken_by(
        &ring,
        During::Opening(0.3),
        &[Fault::LeakLoss, Fault::LeakNotDrawn, Fault::LeakNotGiven, Fault::LeakTwice, Fault::LeakSign],
    );
}

/// Of a gas.
#[test]
fn faults_in_the_leak_of_a_gas_break_the_ledger() {
    let mut air = piston(baseline::air(2e4), gap(5e-5));
    air.valve.servo_mut().expect("a servo valve").chamber.wall_conductance = 0.0;
    broken_by(
        &air,
        During::Opening(0.1),
        &[
            Fault::LeakEnthalpy,
            Fault::LeakEnergy,
            Fault::LeakOwnHeat,
            Fault::LeakNotDrawn,
            Fault::LeakNotGiven,
            Fault::LeakTwice,
            Fault::LeakSign,
        ],
    );
    let mut air = piston(baseline::air(2e4), ring(1e-3));
    air.valve.servo_mut().expect("a servo valve").chamber.wall_conductance = 0.0;
    broken_by(&air, During::Opening(0.1), &[Fault::LeakEnthalpy, Fault::LeakEnergy, Fault::LeakNotGiven]);
}

/// Of what opens and closes softly.
#[test]
fn faults_in_what_softens_break_the_ledger() {
    let soft = softened(baseline::water(), RingLeak::Tight);
    let mut quick = soft.clone();
    quick.valve.servo_mut().expect("a servo valve").bleed.pin = None;
    let small = trickle(soft.clone());
    let mut smaller = small.clone();
    (smaller.valve.main.curtain_coefficient, smaller.valve.main.bore_coefficient) = (0.003, 0.003);
    broken_by(&smaller, During::Opening(0.3), &[Fault::FreeBleed, Fault::PinLoss, Fault::RestrictorLoss]);
    broken_by(&small, During::Opening(0.02), &[Fault::RestrictorForce]);
    let mut jet = trickle(soft.clone());
    jet.valve.main.bore_coefficient = 0.8;
    jet.valve.main.flow_force_factor = 20.0;
    broken_by(&jet, During::Opening(0.3), &[Fault::PlugJet]);
    broken_by(&small, During::Opening(0.3), &[Fault::PlugRecovery, Fault::PlugSweep]);
    broken_by(&trickle(quick), During::Shutting(1.5), &[Fault::CushionLoss, Fault::CushionTwice, Fault::CushionVolume]);
    broken_by(&soft, During::Opening(1.0), &[Fault::StrainerLoss, Fault::CheckLoss, Fault::CheckFree]);
}
