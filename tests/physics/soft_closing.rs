//! A pin in the bleed, a shaped plug, a cushion, a restrictor behind the pilot, strainer and check valve: each at its limit is the valve
//! without it to the bit, and beyond that what its closed form says.

use crate::baseline::{self, ready};
use crate::piston_leak::{gap, installed, piston, rates, states};
use quietseat::physics::line::Resistance;
use quietseat::physics::parts::{CheckValve, Cushion, Fittings, LineModel, Pin, RingLeak, StageKind, Strainer};
use quietseat::physics::state::*;
use quietseat::scenario::Scenario;
use quietseat::simulate::{Integrator, Phases, Record, simulate};
use std::f64::consts::PI;

/// A pin that leaves that bore (m) below that lift (m).
fn pin(diameter: f64, lift: f64, taper: Option<f64>) -> Pin {
    Pin { diameter, lift, taper }
}

fn with_pin(mut scenario: Scenario, pin: Pin) -> Scenario {
    scenario.valve.servo_mut().expect("a servo valve").bleed.pin = Some(pin);
    scenario
}

/// A leaking piston with all that closes and opens softly, between lines with strainer and check valve.
pub(crate) fn softened(scenario: Scenario, leak: RingLeak) -> Scenario {
    let mut scenario = with_pin(piston(scenario, leak), pin(0.5e-3, 1.5e-3, Some(1e-3)));
    scenario.valve.servo_mut().expect("a servo valve").pilot.restrictor_diameter = Some(1.6e-3);
    scenario.valve.main.plug_exponent = Some(2.0);
    scenario.valve.main.cushion =
        Some(Cushion { area: 3e-4, depth: 1e-3, passage_diameter: 0.5e-3, discharge_coefficient: 0.65 });
    let fittings = Fittings {
        strainer: Some(Strainer { strainer_kv: 1.5e-4, strainer_clogged: 0.3 }),
        check_valve: Some(CheckValve { check_valve_kv: 2e-4, check_valve_opening: 1e3 }),
    };
    (scenario.upstream.fittings, scenario.downstream.fittings) = (fittings.clone(), fittings);
    (scenario.upstream.model, scenario.downstream.model) = (LineModel::Lumped, LineModel::Lumped);
    scenario
}

fn cycle(scenario: &Scenario, on: f64, off: f64) -> Record {
    let phases = Phases { open: on, shut: off, cycles: 1, early_open: false, early_shut: false, watch: 0.0 };
    simulate(&ready(scenario), phases, 293.15, Integrator::Stiff).expect("a run")
}

/// A bleed that is as wide beside the pin as above it, a plug of exponent 1, and fittings that are not there are today's valve: rates and
/// losses to the bit, and so is a whole cycle.
#[test]
fn what_changes_nothing_changes_no_bit() {
    for scenario in [baseline::water(), baseline::air(2e4)] {
        let today = installed(&scenario);
        let mut same = with_pin(scenario.clone(), pin(1e-3, 1.5e-3, None));
        same.valve.main.plug_exponent = Some(1.0);
        let soft = installed(&same);
        for y in states(&today, scenario.supply.pressure, scenario.sink.pressure) {
            assert_eq!(rates(&today, &y), rates(&soft, &y));
        }
        let (before, after) = (cycle(&scenario, 0.3, 0.6), cycle(&same, 0.3, 0.6));
        assert_eq!(before.trace.values("lift"), after.trace.values("lift"));
        assert_eq!(before.trace.values("inlet_pressure"), after.trace.values("inlet_pressure"));
    }
}

/// Narrow up to the shoulder, linear in area over it, free above: a step has a shoulder of a hundredth of its lift.
#[test]
fn a_pin_narrows_the_bleed_over_its_shoulder() {
    let area = |pin: Pin, lift: f64| {
        let installation = installed(&with_pin(baseline::water(), pin));
        installation.control.servo().expect("a servo valve").bleed.area_at(lift) / (0.65 * PI / 4.0 * 1e-6)
    };
    for (taper, lift, share) in [
        (None, 0.0, 0.25),
        (None, 1.485e-3, 0.25),
        (None, 1.4925e-3, 0.625),
        (None, 1.5e-3, 1.0),
        (None, 3e-3, 1.0),
        (Some(1.5e-3), 0.0, 0.25),
        (Some(1.5e-3), 0.75e-3, 0.625),
        (Some(1e-3), 0.5e-3, 0.25),
        (Some(1e-3), 1.25e-3, 0.8125),
    ] {
        let found = area(pin(0.5e-3, 1.5e-3, taper), lift);
        assert!((found - share).abs() < 1e-9, "{taper:?} at {lift}: {found}");
    }
}

/// A plug of exponent n passes (x/x_max)^n of what the curtain passes at full lift; what is regained behind it is
/// C_c²/(C_c² + C_b²) of that same curtain, and the jet's force 2·k_ff·C_c·(1 − φ)·Δp (own derivation: two losses in series, momentum).
/// At full lift it is the flat seat.
#[test]
fn a_plug_shapes_curtain_recovery_and_jet_alike() {
    for exponent in [1.0, 1.5, 2.0, 3.0] {
        let mut scenario = baseline::water();
        scenario.valve.main.plug_exponent = Some(exponent);
        let stage = installed(&scenario).stage;
        for share in [1e-3, 0.1, 0.5, 1.0f64] {
            let (lift, p_1, p_2) = (3e-3 * share, 3e5, 2e5);
            let curtain = 0.7 * PI * 12e-3 * 3e-3 * share.powf(exponent);
            let bore = 0.8 * PI / 4.0 * 12e-3f64.powi(2);
            let through = stage.throughflow(lift, p_1, p_2);
            let recovery = curtain * curtain / (curtain * curtain + bore * bore);
            let flow = curtain * bore / curtain.hypot(bore) * (2.0 * 998.2 * (p_1 - p_2)).sqrt();
            assert!((through.recovery - recovery).abs() < 1e-12 && (through.mass_flow / flow - 1.0).abs() < 1e-9);
            let pressures =
                quietseat::physics::valve::main_stage::StagePressures { inlet: p_1, outlet: p_2, chamber: p_1 };
            let motion = quietseat::physics::valve::main_stage::StageMotion { lift, speed: 0.0, deflection: 0.0 };
            let (a_d, a_s) = (PI / 4.0 * 36e-3f64.powi(2), PI / 4.0 * 12e-3f64.powi(2));
            let under = p_2 + recovery * (p_1 - p_2);
            let jet = 2.0 * 0.3 * curtain * (p_1 - under);
            let force = stage.state(pressures, motion).stream_force;
            assert!((force / (p_1 * (a_d - a_s) + under * a_s - jet) - 1.0).abs() < 1e-9, "{exponent} {share}");
        }
    }
}

/// The time in which a stage falls from nine tenths to a tenth of its lift between constant pressures, against an integral:
///
/// ```text
/// t = ∫ A_d dx/(C_b(x)·√(2·Δ_b/ρ))      A_d·Δ_b = F_0 + k·x + (A_s + 2·k_ff·C_c(x))·(1 − φ(x))·Δp
/// ```
///
/// Quasi-static: what enters through the bleed is what the stage sweeps, and the pressure across it is what balances the other forces
/// (own derivation). The lines are short and wide, the liquid stiff, without bulge and trapped gas; mass, damping and columns take next
/// to nothing at these speeds. With a pin, as a step and as a taper, and with a plug.
#[test]
fn a_stage_falls_as_fast_as_its_bleed_lets_it() {
    for (shape, soft_pin) in [
        (None, None),
        (None, Some(pin(0.5e-3, 1.5e-3, None))),
        (None, Some(pin(0.5e-3, 2.5e-3, Some(2e-3)))),
        (Some(2.0), None),
        (Some(3.0), Some(pin(0.6e-3, 1e-3, None))),
    ] {
        let mut scenario = baseline::water();
        scenario.valve.main.kind = StageKind::Diaphragm { bulge_compliance: 0.0, bulge_resistance: 1.0 };
        scenario.valve.main.plug_exponent = shape;
        scenario.valve.main.damping = 0.0;
        let servo = scenario.valve.servo_mut().expect("a servo valve");
        servo.bleed.pin = soft_pin.clone();
        (servo.bleed.length, servo.pilot.length) = (1e-4, 1e-4);
        servo.chamber.trapped_gas = 1e-13;
        for line in [&mut scenario.upstream, &mut scenario.downstream] {
            (line.length, line.bore, line.friction_factor, line.loss_coefficient) = (0.1, 0.1, 0.0, 0.0);
        }
        (scenario.sink.pressure, scenario.supply.pressure) = (4e5, 5e5);
        let record = cycle(&scenario, 1.0, 6.0);
        let (time, lift) = (&record.trace.time, record.trace.values("lift"));
        let passes = |level: f64| {
            let after = |i: usize| time[i] > 1.0 && lift[i] < level * 3e-3;
            let i = (1..time.len()).find(|&i| after(i)).expect("it falls");
            time[i - 1] + (time[i] - time[i - 1]) * (lift[i - 1] - level * 3e-3) / (lift[i - 1] - lift[i])
        };
        let found = passes(0.1) - passes(0.9);
        let exact = falling_time(shape.unwrap_or(1.0), soft_pin.as_ref());
        println!("plug {shape:?}, {soft_pin:?}: {found:.4} s, quasi-static {exact:.4} s");
        assert!((found / exact - 1.0).abs() < 0.02, "{found} against {exact}");
    }
}

/// The integral of the test above, by the midpoint rule.
fn falling_time(exponent: f64, pin: Option<&Pin>) -> f64 {
    let (rho, drop) = (998.2, 1e5);
    let (a_d, a_s) = (PI / 4.0 * 36e-3f64.powi(2), PI / 4.0 * 12e-3f64.powi(2));
    let free = 0.65 * PI / 4.0 * 1e-6;
    let n = 100_000;
    let step = 0.8 * 3e-3 / n as f64;
    (0..n)
        .map(|i| {
            let x = 0.1 * 3e-3 + (i as f64 + 0.5) * step;
            let curtain = 0.7 * PI * 12e-3 * 3e-3 * (x / 3e-3).powf(exponent);
            let bore = 0.8 * a_s;
            let left = bore * bore / (curtain * curtain + bore * bore);
            let load = 4.2 + 600.0 * x + (a_s + 2.0 * 0.3 * curtain) * left * drop;
            let bleed = pin.map_or(free, |pin| {
                let shoulder = pin.taper.unwrap_or(0.01 * pin.lift);
                let narrow = free * (pin.diameter / 1e-3).powi(2);
                narrow + (free - narrow) * ((x - pin.lift + shoulder) / shoulder).clamp(0.0, 1.0)
            });
            step * a_d / (bleed * (2.0 * load / a_d / rho).sqrt())
        })
        .sum()
}

/// A cushion lets the stage sink as its passage lets the liquid out: v = (C/A_k)·√(2·F/(ρ·A_k)) under a constant force F (Bernoulli,
/// own algebra), it takes what the force gives, and neither opening nor far above its depth does it matter.
#[test]
fn a_cushion_lets_the_stage_sink_as_its_passage_lets_out() {
    let cushion = Cushion { area: 3e-4, depth: 1e-3, passage_diameter: 0.5e-3, discharge_coefficient: 0.65 };
    let c = 0.65 * PI / 4.0 * 0.25e-6;
    let force = 20.0;
    let sinks = c / 3e-4 * (2.0 * force / (998.2 * 3e-4_f64)).sqrt();
    assert!((cushion.force(998.2, 0.5e-3, -sinks) / force - 1.0).abs() < 1e-12);
    assert_eq!(cushion.force(998.2, 0.5e-3, 0.1), 0.0);
    let above: f64 = cushion.force(998.2, 2e-3, -sinks);
    assert!(above < 1e-3 * force, "{above}");
    // Continuous where the rim enters.
    let (in_it, above_it): (f64, f64) =
        (cushion.force(998.2, 1e-3 - 1e-12, -sinks), cushion.force(998.2, 1e-3 + 1e-12, -sinks));
    assert!((in_it / above_it - 1.0).abs() < 1e-5);
    let mut scenario = baseline::water();
    let without = installed(&scenario);
    scenario.valve.main.cushion = Some(cushion);
    let with = installed(&scenario);
    let mut y = without.at_rest(6e5, 1e5);
    (y[LIFT], y[LIFT_RATE]) = (0.5e-3, -sinks);
    let ((rate, flux), (held, lost)) = (rates(&without, &y), rates(&with, &y));
    assert!(((held[LIFT_RATE] - rate[LIFT_RATE]) * 0.035 / force - 1.0).abs() < 1e-9);
    assert!(((lost[STAGE_LOSS] - flux[STAGE_LOSS]) / (force * sinks) - 1.0).abs() < 1e-9);
}

/// A restrictor behind the pilot is one more loss in series: 1/C² = 1/C_k² + 1/C_b² + 1/C_r², and what is regained behind the seat is
/// that of the two behind it together (own algebra). One that is very wide is none.
#[test]
fn a_restrictor_is_a_loss_in_series_with_the_pilot() {
    let pilot = |restrictor_diameter: Option<f64>| {
        let mut scenario = baseline::water();
        scenario.valve.servo_mut().expect("a servo valve").pilot.restrictor_diameter = restrictor_diameter;
        installed(&scenario).control.servo().expect("a servo valve").pilot.clone()
    };
    let of = |d: f64| 0.65 * PI / 4.0 * d * d;
    let (curtain, bore, restrictor) = (0.65 * PI * 2.3e-3 * 0.8e-3, of(2e-3), of(1.2e-3));
    let found = pilot(Some(1.2e-3));
    let exact = (curtain.powi(-2) + bore.powi(-2) + restrictor.powi(-2)).powf(-0.5);
    assert!((found.area(0.8e-3) / exact - 1.0).abs() < 1e-12);
    let behind = (bore.powi(-2) + restrictor.powi(-2)).powi(-1);
    assert!((found.recovery(curtain) - curtain * curtain / (curtain * curtain + behind)).abs() < 1e-12);
    assert!((pilot(Some(1.0)).area(0.8e-3) / pilot(None).area(0.8e-3) - 1.0).abs() < 1e-10);
}

/// Strainer and check valve: by the definition of the flow coefficient a valve of A_v passes q = A_v·√(Δp/ρ) (IEC 60534-1, from
/// memory), of a clogged strainer (1 − s)·A_v; the check valve takes its opening differential more. The lumped and the wave line both meet
/// them at the far end, and so does the steady flow.
#[test]
fn strainer_and_check_valve_lose_what_their_coefficients_say() {
    let (rho, flow) = (998.2, 0.5_f64);
    let fittings = Fittings {
        strainer: Some(Strainer { strainer_kv: 1.5e-4, strainer_clogged: 0.3 }),
        check_valve: Some(CheckValve { check_valve_kv: 2e-4, check_valve_opening: 2e3 }),
    };
    let exact = rho * (flow / rho / (0.7 * 1.5e-4)).powi(2) + rho * (flow / rho / 2e-4f64).powi(2) + 2e3;
    let resistance = fittings.resistance(rho);
    assert!((resistance.loss(flow) / exact - 1.0).abs() < 1e-12);
    assert!((resistance.loss(-flow) + resistance.loss(flow)).abs() < 1e-9);
    assert_eq!(resistance.loss(0.0), 0.0);
    assert_eq!(Fittings::default().resistance(rho), Resistance::default());
    for model in [LineModel::Lumped, LineModel::Waves] {
        let mut scenario = baseline::water();
        scenario.upstream.model = model;
        let open = |scenario: &Scenario| {
            let record = cycle(scenario, 2.5, 0.01);
            let last = |name: &str| {
                *record.trace.values(name).iter().zip(&record.trace.time).rfind(|(_, t)| **t < 2.4).expect("a run").0
            };
            (last("inlet_pressure"), last("inlet_flow"))
        };
        scenario.upstream.fittings = fittings.clone();
        let (pressure, flow) = open(&scenario);
        let line = installed(&scenario).upstream.state;
        let lost = line.wall.loss(flow) + flow * flow / (2.0 * rho * line.area * line.area) + resistance.loss(flow);
        println!("{model:?}: {flow:.4} kg/s, {pressure:.0} Pa, lost {lost:.0} Pa");
        assert!((6e5 - pressure - lost).abs() < 2e-3 * lost, "{model:?}");
    }
}

/// The ledger of a cycle with everything at once closes on a liquid and on a gas, in waves and lumped.
#[test]
fn a_softened_valve_keeps_its_ledger() {
    let mut gas = softened(baseline::air(3e4), gap(5e-5));
    gas.valve.main.cushion = None;
    for scenario in
        [softened(baseline::water(), gap(5e-5)), softened(baseline::water(), crate::piston_leak::ring(0.7e-3)), gas]
    {
        for model in [LineModel::Lumped, LineModel::Waves] {
            let mut scenario = scenario.clone();
            (scenario.upstream.model, scenario.downstream.model) = (model, model);
            let record = cycle(&scenario, 0.6, 1.5);
            println!("{} {model:?}: residue {:.1e}", scenario.name, record.residue());
            assert!(record.residue() < 1e-4, "{}: {:e}", scenario.name, record.residue());
        }
    }
}
