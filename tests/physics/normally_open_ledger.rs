//! Faults planted in the balances of normally open valves: each breaks the ledger.

use crate::baseline::ready;
use crate::normally_open::{direct, on_air, servo};
use quietseat::dual::Real;
use quietseat::physics::ledger::Balance;
use quietseat::physics::line::LineEnd;
use quietseat::physics::line::far_end::EndPressure;
use quietseat::physics::parts::{Function, LineModel};
use quietseat::physics::state::*;
use quietseat::physics::steady::EndPressures;
use quietseat::physics::valve::armature::ArmatureRest;
use quietseat::scenario::Scenario;
use quietseat::simulate::install;
use quietseat::simulate::recorder::Recorder;
use quietseat::simulate::running::{FarSide, Running};
use quietseat::simulate::settling::Settling;
use quietseat::solver::{Counters, Interval, Method, Settings, State, Step, StepSize, System, Then, integrate};

/// A fault in the equations.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Fault {
    None,
    /// The magnet lifts the armature, as in a normally closed valve.
    PullUpwards,
    /// The pull is a tenth too strong for its field.
    StrongPull,
    /// The pull is that of a gap which closes as the armature rises.
    GapFromAbove,
    /// The pull is that of a gap without the pole's clearance.
    NoClearance,
    /// The preload presses the armature onto its seat.
    PreloadShuts,
    /// The spring is slack at its stop's end, not compressed by the stroke when shut.
    SpringWithoutStroke,
    /// The weight lifts the armature.
    WeightUpwards,
    /// The pilot's pressure lifts the armature.
    PressureLifts,
    /// The upper stop pushes but is not felt.
    NoStop,
    /// What the upper stop loses is not counted.
    StopLoss,
    /// The pole below the seat pushes but is not felt.
    NoPole,
    /// What the pole below the seat loses is not counted.
    PoleLoss,
    /// What the seat loses is not counted.
    SeatLoss,
    /// The volume swept by the armature enters the outlet with the wrong sign.
    OutletSweep,
    /// Half of the winding's heat.
    WindingHeat,
    /// Half of the heat in the iron.
    IronHeat,
    /// Gas: the work of the moving armature on the chamber is left out.
    ChamberWork,
}

/// What is asked of the valve in the time that is balanced.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Asked {
    /// To open, from the shut valve in its steady flux.
    Open,
    /// To shut, from the open valve in steady flow.
    Shut,
}

/// A running installation with a fault in what the solver is told.
struct Faulty {
    running: Running,
    fault: Fault,
}

impl Faulty {
    fn new(scenario: &Scenario, asked: Asked, fault: Fault) -> Self {
        let mut installation = install(&ready(scenario), 293.15);
        installation.magnet.switch(asked == Asked::Shut);
        let side = |end: &LineEnd, pressure: f64| {
            assert!(end.lumped, "the lines of these tests are lumped");
            FarSide::Lumped(EndPressure { mean: pressure - end.state.datum, amplitude: 0.0, angular_frequency: 0.0 })
        };
        let running = Running {
            upstream: side(&installation.upstream, scenario.supply.pressure),
            downstream: side(&installation.downstream, scenario.sink.pressure),
            energised_since: (asked == Asked::Shut).then_some(0.0),
            recorder: Recorder::new(&installation),
            settling: Settling::new(installation.stage.part.lift, scenario.differential(), None, 0.08),
            near: installation.nearby(),
            installation,
        };
        Faulty { running, fault }
    }

    fn start(&self, scenario: &Scenario, asked: Asked) -> [f64; STATES] {
        let installation = &self.running.installation;
        let (supply, sink) = (scenario.supply.pressure, scenario.sink.pressure);
        match asked {
            Asked::Open => {
                let mut on = installation.magnet.clone();
                on.switch(true);
                let (flux, ring_flux) = on.steady_flux(24.0, installation.armature.approach(0.0));
                installation.shut_under(supply, sink, [flux, ring_flux])
            }
            Asked::Shut => {
                let (near, ends) = (installation.nearby(), EndPressures { supply, sink });
                let lift = 0.9 * installation.stage.part.lift;
                installation.held_at(&near, lift, ends, ArmatureRest::Pole, 0.0).y
            }
        }
    }

    fn balances(mut self, scenario: &Scenario, asked: Asked, time: f64) -> Vec<Balance> {
        let mut state = State::at_start(self.start(scenario, asked));
        let opening = self.running.account(0.0, &state.y, &state.integrals);
        let settings = Settings {
            method: Method::Rodas5P,
            relative_tolerance: 1e-7,
            absolute_tolerance: self.running.installation.scales.map(|scale| 1e-7 * scale),
            most_steps: 1_000_000,
        };
        integrate::<20, STATES, FORCINGS, INTEGRALS, _>(
            &mut self,
            Interval { from: 0.0, to: time },
            &mut state,
            StepSize::Controlled { first: Some(1e-7) },
            &settings,
            &mut Counters::default(),
        )
        .expect("a faulty run is still a run");
        let closing = self.running.account(time, &state.y, &state.integrals);
        self.running.installation.balances(&self.running.near, &opening, &closing)
    }

    fn plant<T: Real>(&self, y: &[T; STATES], rate: &mut [T; STATES], flux: &mut [T; INTEGRALS]) {
        let installation = &self.running.installation;
        let armature = &installation.armature;
        let part = &armature.part;
        let Function::NormallyOpen(open) = &armature.function else { panic!("normally open") };
        let (place, loss, seat) = match installation.control.servo() {
            Some(_) => (TRAVEL, ARMATURE_LOSS, &part.seat),
            None => (LIFT, STAGE_LOSS, &installation.stage.part.seat),
        };
        let speed_of = if place == TRAVEL { TRAVEL_RATE } else { LIFT_RATE };
        let (x, v) = (y[place], y[speed_of]);
        let pull = |approach: T| installation.magnet.state(T::constant(0.0), y[FLUX], y[RING_FLUX], approach).pull;
        let zero = T::constant(0.0);
        let stop = open.stop.touch(x - part.stroke, v);
        let pole = part.pole.touch(-x - open.pole_clearance, -v);
        let force = match self.fault {
            Fault::PullUpwards => pull(armature.approach(x)) * 2.0,
            Fault::StrongPull => pull(armature.approach(x)) * -0.1,
            Fault::GapFromAbove => pull(armature.approach(x)) - pull(x),
            Fault::NoClearance => pull(armature.approach(x)) - pull(armature.approach(x) + open.pole_clearance),
            Fault::PreloadShuts => T::constant(-2.0 * part.preload),
            Fault::SpringWithoutStroke => T::constant(-part.spring_rate * part.stroke),
            Fault::WeightUpwards => T::constant(2.0 * armature.weight),
            Fault::PressureLifts => {
                let servo = installation.control.servo().expect("a servo");
                let p_2 = installation.outlet.pressure(y[OUTLET]);
                let p_c = servo.chamber_state(&self.running.near.chamber, &installation.stage, y).pressure;
                let recovery = servo.pilot.recovery(servo.pilot.curtain(x));
                servo.pilot.force(p_c - p_2, recovery) * 2.0
            }
            Fault::NoStop => stop.force,
            Fault::NoPole => -pole.force,
            Fault::None
            | Fault::StopLoss
            | Fault::PoleLoss
            | Fault::SeatLoss
            | Fault::OutletSweep
            | Fault::WindingHeat
            | Fault::IronHeat
            | Fault::ChamberWork => zero,
        };
        rate[speed_of] = rate[speed_of] + force * (1.0 / part.mass);
        match self.fault {
            Fault::StopLoss => flux[loss] = flux[loss] - stop.loss,
            Fault::PoleLoss => flux[loss] = flux[loss] - pole.loss,
            Fault::SeatLoss => flux[loss] = flux[loss] - seat.touch(-x, -v).loss,
            Fault::OutletSweep => {
                let servo = installation.control.servo().expect("a servo");
                rate[OUTLET] = rate[OUTLET] + v * (2.0 * servo.pilot.seat_area);
            }
            Fault::WindingHeat => flux[CIRCUIT_HEAT] = flux[CIRCUIT_HEAT] * 0.5,
            Fault::IronHeat => flux[IRON_HEAT] = flux[IRON_HEAT] * 0.5,
            Fault::ChamberWork => {
                let servo = installation.control.servo().expect("a servo");
                let p_c = servo.chamber_state(&self.running.near.chamber, &installation.stage, y).pressure;
                rate[CHAMBER_ENERGY] = rate[CHAMBER_ENERGY] - p_c * v * servo.pilot.seat_area;
            }
            Fault::None
            | Fault::PullUpwards
            | Fault::StrongPull
            | Fault::GapFromAbove
            | Fault::NoClearance
            | Fault::PreloadShuts
            | Fault::SpringWithoutStroke
            | Fault::WeightUpwards
            | Fault::PressureLifts
            | Fault::NoStop
            | Fault::NoPole => {}
        }
    }
}

impl System<STATES, FORCINGS, INTEGRALS> for Faulty {
    fn forcing(&self, time: f64) -> ([f64; FORCINGS], [f64; FORCINGS]) {
        self.running.forcing(time)
    }
    fn rates<T: Real>(
        &self,
        forcing: &[T; FORCINGS],
        y: &[T; STATES],
        rate: &mut [T; STATES],
        integrand: &mut [T; INTEGRALS],
    ) {
        self.running.rates(forcing, y, rate, integrand);
        self.plant(y, rate, integrand);
    }
    fn longest_step(&self, time: f64) -> f64 {
        self.running.longest_step(time)
    }
    fn accepted(&mut self, step: &Step<'_, STATES, INTEGRALS>) -> Then {
        self.running.accepted(step);
        Then::Continue
    }
}

/// Lumped lines, so that a time of milliseconds has its own balance, and a pole that the seat lets the armature come to.
fn lumped(mut scenario: Scenario, differential: f64) -> Scenario {
    (scenario.upstream.model, scenario.downstream.model) = (LineModel::Lumped, LineModel::Lumped);
    (scenario.upstream.length, scenario.downstream.length) = (0.3, 0.3);
    scenario.supply.pressure = scenario.sink.pressure + differential;
    let Function::NormallyOpen(open) = &mut scenario.valve.function else { panic!("normally open") };
    open.pole_clearance = 1e-5;
    scenario
}

/// The same with a pole so far below that the armature comes to rest on its seat alone.
fn clear_of_the_pole(scenario: &Scenario) -> Scenario {
    let mut clear = scenario.clone();
    let Function::NormallyOpen(open) = &mut clear.valve.function else { panic!("normally open") };
    open.pole_clearance = 3e-4;
    clear
}

fn residue(scenario: &Scenario, asked: Asked, time: f64, fault: Fault) -> f64 {
    let balances = Faulty::new(scenario, asked, fault).balances(scenario, asked, time);
    let worst = balances.iter().max_by(|a, b| a.relative().total_cmp(&b.relative())).expect("there are balances");
    println!("{fault:?} ({asked:?}): {} off by {:.1e}", worst.name, worst.relative());
    worst.relative()
}

/// Milliseconds, in which the armature's own energies are not drowned by the stream: each fault leaves more than 10⁻³, where a sound run
/// leaves less than 10⁻⁵.
#[test]
fn planted_faults_break_the_ledger() {
    use Asked::{Open, Shut};
    let (water, air) = (lumped(servo(&[]), 2e4), on_air(lumped(servo(&[]), 2e4)));
    let (carried, carried_air) = (lumped(direct(&[]), 2e4), on_air(lumped(direct(&[]), 2e4)));
    let (wide, wide_air, wide_carried) =
        (clear_of_the_pole(&water), clear_of_the_pole(&air), clear_of_the_pole(&carried_air));
    let (opens, shuts) = (0.008, 0.015);
    for scenario in [&water, &air, &carried, &carried_air] {
        for (asked, time) in [(Open, opens), (Shut, shuts)] {
            let sound = residue(scenario, asked, time, Fault::None);
            assert!(sound < 1e-5, "{}, {asked:?}: {sound:e}", scenario.name);
        }
    }
    for (scenario, asked, faults) in [
        (
            &water,
            Open,
            &[Fault::PullUpwards, Fault::PreloadShuts, Fault::SpringWithoutStroke, Fault::WeightUpwards][..],
        ),
        (&water, Open, &[Fault::NoStop, Fault::StopLoss, Fault::OutletSweep, Fault::IronHeat, Fault::WindingHeat]),
        (&water, Shut, &[Fault::StrongPull, Fault::GapFromAbove]),
        (&wide, Shut, &[Fault::NoClearance]),
        (&water, Shut, &[Fault::NoPole, Fault::PoleLoss, Fault::SeatLoss, Fault::WindingHeat]),
        (&air, Open, &[Fault::PullUpwards, Fault::PreloadShuts, Fault::NoStop, Fault::StopLoss, Fault::ChamberWork]),
        (&air, Shut, &[Fault::StrongPull, Fault::NoPole, Fault::PoleLoss]),
        (&wide_air, Shut, &[Fault::SeatLoss]),
        (&carried, Shut, &[Fault::StrongPull, Fault::GapFromAbove, Fault::NoPole, Fault::PoleLoss]),
        (&carried, Open, &[Fault::PullUpwards, Fault::SpringWithoutStroke, Fault::NoStop, Fault::StopLoss]),
        (&carried_air, Shut, &[Fault::StrongPull, Fault::NoPole, Fault::PoleLoss]),
        (&wide_carried, Shut, &[Fault::SeatLoss]),
    ] {
        for fault in faults {
            let residue = residue(scenario, asked, if asked == Open { opens } else { shuts }, *fault);
            assert!(residue > 1e-3, "{}: {fault:?} hides in the ledger: {residue:e}", scenario.name);
        }
    }
    // The pressure on the pilot seat has its say under a differential.
    let pressed = lumped(servo(&[]), 5e5);
    let hidden = residue(&pressed, Open, 0.003, Fault::PressureLifts);
    assert!(hidden > 1e-3, "{hidden:e}");
}
