//! The forced lift against the statics of its armature, link and stage by hand, and what is said of it in the trade: own derivations
//! throughout; the sayings are common practice, without a source.

use crate::baseline::{self, ready};
use crate::direct::pull_by_hand;
use quietseat::physics::forced_hand::needed_stroke;
use quietseat::physics::parts::{ControlParts, LineModel, Voltage};
use quietseat::scenario::Scenario;
use quietseat::simulate::{Integrator, Phases, Record, install, simulate};
use quietseat::stability::equilibria::{Rest, limits};
use quietseat::stability::valve::{Energised, SteadyCoil};
use quietseat::study::stability::point::{Answer, at_point};
use std::f64::consts::FRAC_PI_4;

const COLD: f64 = 293.15;
const STIFF: f64 = 2e5;

/// The baseline's forced lift between short and wide lines, so that nearly all of the circuit's differential is the valve's.
fn valve(bar: f64) -> Scenario {
    let mut scenario = baseline::forced(baseline::water(), STIFF);
    scenario.supply.pressure = scenario.sink.pressure + bar * 1e5;
    for line in [&mut scenario.upstream, &mut scenario.downstream] {
        (line.length, line.bore, line.loss_coefficient, line.model) = (0.3, 60e-3, 0.0, LineModel::Lumped);
    }
    scenario
}

fn energised(scenario: &Scenario, time: f64) -> Record {
    let phases = Phases { open: time, shut: 1e-3, cycles: 1, early_open: false, early_shut: false, watch: 0.0 };
    simulate(&ready(scenario), phases, COLD, Integrator::Stiff).expect("a run")
}

/// Lift at the end of an energised time, m.
fn lift_after(scenario: &Scenario, time: f64) -> f64 {
    let record = energised(scenario, time);
    let last = record.trace.window(0.0, time).end - 1;
    record.trace.values("lift")[last]
}

/// Voltage at which the magnet pulls so much (N) over a gap (m), by hand.
fn voltage_for(scenario: &Scenario, pull: f64, gap: f64) -> f64 {
    let (mut low, mut high) = (0.0, 200.0);
    let mut coil = scenario.valve.coil.clone();
    for _ in 0..60 {
        let voltage = 0.5 * (low + high);
        coil.supply = Voltage::Direct { voltage };
        if pull_by_hand(&coil, gap, COLD) < pull { low = voltage } else { high = voltage }
    }
    high
}

/// The magnet has two things to do, each at its own gap: lift the armature, F(g_res + s_a) ≥ F_a0 + weight, and then, the link just
/// taut, draw the stage along, F(g_res + s_a − ℓ) ≥ F_a0 + weight + k_a·ℓ + F_0 (balances of forces at no motion and no differential).
/// A heavily damped armature comes gently to either place, and a little more or less decides: 3 % of the voltage.
#[test]
fn both_pulls_decide_whether_it_opens_without_a_differential() {
    let mut base = valve(0.0);
    base.valve.armature.damping = 60.0;
    let mut heavy_stage = base.clone();
    (heavy_stage.valve.main.preload, heavy_stage.valve.main.spring_rate) = (14.0, 0.0);
    let mut stiff_armature = base.clone();
    (stiff_armature.valve.armature.preload, stiff_armature.valve.main.preload) = (9.0, 1.0);
    for (name, scenario, at_link) in [("stage", heavy_stage, true), ("armature", stiff_armature, false)] {
        let (armature, link) = (&scenario.valve.armature, scenario.valve.link().expect("a link"));
        let gap = scenario.valve.coil.residual_gap + armature.stroke;
        let own = armature.preload + armature.mass * 9.806_65;
        let taut = own + armature.spring_rate * link.free_play + scenario.valve.main.preload;
        let lifts = voltage_for(&scenario, own, gap);
        let draws = voltage_for(&scenario, taut, gap - link.free_play);
        assert_eq!(draws > lifts, at_link, "{name}: lifts its armature at {lifts} V, draws at {draws} V");
        for (share, opens) in [(0.97, false), (1.03, true)] {
            let mut at = scenario.clone();
            at.valve.coil.supply = Voltage::Direct { voltage: share * lifts.max(draws) };
            let record = energised(&at, 4.0);
            let last = record.trace.window(0.0, 4.0).end - 1;
            let (lift, travel) = (record.trace.values("lift")[last], record.trace.values("armature_travel")[last]);
            println!("{name}, {share} of {:.3} V: lift {lift:e} m, travel {travel:e} m", lifts.max(draws));
            assert_eq!(lift > 0.99 * at.valve.main.lift, opens, "{name}, {share}: lift {lift} m");
            // A magnet that lifts the armature and not the stage leaves it hanging in its link.
            if !opens {
                let hangs = (travel - link.free_play).abs() < 0.1 * link.free_play;
                assert_eq!(hangs, at_link, "{name}: travel {travel} m");
            }
        }
    }
}

/// Full lift at no differential asks for a stroke s_a ≥ x_max + ℓ + (F_0 + k·x_max)/k_l; with less, the stage hangs from its link at
/// k_l·(s_a − x − ℓ) = F_0 + k·x: geometry and balance of forces.
#[test]
fn a_short_stroke_leaves_it_hanging_where_the_geometry_says() {
    for stiffness in [STIFF, 2e4] {
        let mut scenario = valve(0.0);
        scenario.valve.link_mut().expect("a link").stiffness = stiffness;
        let (main, link) = (scenario.valve.main.clone(), scenario.valve.link().expect("a link").clone());
        let needed = main.lift + 0.8e-3 + (main.preload + main.spring_rate * main.lift) / stiffness;
        assert!((needed_stroke(&link, &main) / needed - 1.0).abs() < 1e-12);
        for short in [-0.05e-3, 0.05e-3, 0.5e-3, 1.5e-3] {
            scenario.valve.armature.stroke = needed - short;
            let lift = lift_after(&scenario, 1.0);
            let by_hand = (stiffness * (needed - short - 0.8e-3) - main.preload) / (stiffness + main.spring_rate);
            println!("{stiffness} N/m, {short} m short: {lift:e} m, by hand {by_hand:e} m");
            if short < 0.0 {
                assert!(lift >= main.lift, "{lift}");
            } else {
                assert!((lift - by_hand).abs() < 1e-3 * main.lift, "{short} m short: {lift} m, by hand {by_hand} m");
            }
        }
    }
}

/// Pressure alone, the link too soft to help: Δp_full = (F_0 + k·x_max)/((1 − φ)·[A_d·(1 − r) − A_s − 2·k_ff·C_c + A_ps·r·(1 − φ_p)]),
/// since chamber, pilot and seat all vent to the pressure under the seat. A servo valve of the same parts, whose pilot vents to the
/// outlet, needs (F_0 + k·x_max)/(A_d·(1 − r) − (A_s + 2·k_ff·C_c)·(1 − φ)).
#[test]
fn pressure_alone_opens_it_fully_at_the_differential_by_hand() {
    let mut scenario = valve(0.0);
    scenario.valve.link_mut().expect("a link").stiffness = 1.0;
    scenario.valve.armature.stroke = 4.5e-3;
    let main = &scenario.valve.main;
    let area = |d: f64| FRAC_PI_4 * d * d;
    let (a_d, a_s, a_ps) = (area(36e-3), area(12e-3), area(2.3e-3));
    let curtain = 0.7 * std::f64::consts::PI * 12e-3 * main.lift;
    let phi = curtain.powi(2) / (curtain.powi(2) + (0.8 * a_s).powi(2));
    let pilot = |gap: f64| {
        let (curtain, bore) = (0.65 * std::f64::consts::PI * 2.3e-3 * gap, 0.65 * area(2e-3));
        (curtain * bore / curtain.hypot(bore), curtain.powi(2) / (curtain.powi(2) + bore * bore))
    };
    let (c_p, phi_p) = pilot(4.5e-3 - main.lift);
    let r = 1.0 / (1.0 + (c_p / (0.65 * area(1e-3))).powi(2));
    let force = main.preload + main.spring_rate * main.lift;
    let (a_d_r, jet) = (a_d * (1.0 - r), 2.0 * 0.3 * curtain);
    let by_hand = force / ((1.0 - phi) * (a_d_r - a_s - jet + a_ps * r * (1.0 - phi_p)));
    let servo = force / (a_d_r - (a_s + jet) * (1.0 - phi));
    let ours = install(&ready(&scenario), COLD).full_lift_differential().expect("it opens");
    println!("by hand {by_hand} Pa, installation {ours} Pa, servo {servo} Pa");
    assert!((ours / by_hand - 1.0).abs() < 2e-3, "{ours} Pa, by hand {by_hand} Pa");
    assert!((1.6..3.0).contains(&(by_hand / servo)), "{}", by_hand / servo);
    for (share, opens) in [(0.97, false), (1.03, true)] {
        // The lines take a little.
        scenario.supply.pressure = scenario.sink.pressure + by_hand;
        let across = by_hand / install(&ready(&scenario), COLD).circuit_for(by_hand);
        scenario.supply.pressure = scenario.sink.pressure + share * by_hand / across;
        let lift = lift_after(&scenario, 6.0);
        println!("{share}: lift {lift:e} m");
        assert_eq!(lift >= main_lift(&scenario), opens, "{share}: {lift} m");
    }
}

fn main_lift(scenario: &Scenario) -> f64 {
    scenario.valve.main.lift
}

/// Without its link it does not become a servo valve but a follower: the stage throttles its own pilot against the armature, and stands
/// where the gap g = s_a − x leaves just the pressure that carries it,
/// (1 − φ)·Δp·[A_d·(1 − r(g)) − A_s − 2·k_ff·C_c + A_ps·r·(1 − φ_p)] = F_0 + k·x (balance of forces; own derivation).
#[test]
fn a_link_of_no_stiffness_leaves_a_follower() {
    let mut scenario = valve(0.5);
    scenario.valve.link_mut().expect("a link").stiffness = 1e-6;
    scenario.valve.armature.stroke = 2.5e-3;
    let main = scenario.valve.main.clone();
    let area = |d: f64| FRAC_PI_4 * d * d;
    let (a_d, a_s, a_ps) = (area(36e-3), area(12e-3), area(2.3e-3));
    let across = {
        let record = energised(&scenario, 4.0);
        let last = record.trace.window(0.0, 4.0).end - 1;
        record.trace.values("inlet_pressure")[last] - record.trace.values("outlet_pressure")[last]
    };
    let excess = |x: f64| {
        let curtain = 0.7 * std::f64::consts::PI * 12e-3 * x;
        let open = (0.8 * a_s).powi(2) / (curtain.powi(2) + (0.8 * a_s).powi(2));
        let (pilot_curtain, bore) = (0.65 * std::f64::consts::PI * 2.3e-3 * (2.5e-3 - x), 0.65 * area(2e-3));
        let c_p = pilot_curtain * bore / pilot_curtain.hypot(bore);
        let r = 1.0 / (1.0 + (c_p / (0.65 * area(1e-3))).powi(2));
        let pressed = a_ps * r * bore * bore / (pilot_curtain * pilot_curtain + bore * bore);
        across * open * (a_d * (1.0 - r) - a_s - 0.6 * curtain + pressed) - main.preload - main.spring_rate * x
    };
    let (mut low, mut high) = (0.5e-3, 2.5e-3);
    for _ in 0..60 {
        let x = 0.5 * (low + high);
        if excess(x) > 0.0 { low = x } else { high = x }
    }
    let lift = lift_after(&scenario, 4.0);
    println!("follows to {lift:e} m, by hand {low:e} m");
    assert!((lift / low - 1.0).abs() < 5e-3, "{lift} m, by hand {low} m");
    let servo = scenario.valve.servo().expect("a servo").clone();
    scenario.valve.control = ControlParts::Servo(servo);
    let as_servo = lift_after(&scenario, 4.0);
    assert!(as_servo >= main.lift, "as a servo valve it opens fully: {as_servo} m");
}

fn states(scenario: &Scenario) -> Vec<(Rest, f64, Answer)> {
    let ready = ready(scenario);
    let valve = Energised::new(&ready, SteadyCoil::of(&ready));
    at_point(&valve, true)
        .equilibria
        .iter()
        .map(|e| {
            assert_eq!(e.miscount, Some(0), "modes counted by the argument principle");
            println!("{:?} at {:e} m, {:?}", e.equilibrium.rest, e.equilibrium.lift, e.answer);
            (e.equilibrium.rest, e.equilibrium.lift, e.answer)
        })
        .collect()
}

/// The same statics where stability asks for them, and what it makes of them: at its stop, hanging at the lift by hand, shut with the
/// armature hanging in its link, or a float; small motions of the float grow where the run chatters, and die where the link holds it.
#[test]
fn equilibria_are_those_of_the_statics() {
    assert!(matches!(states(&valve(0.05))[..], [(Rest::Open, _, Answer::Stable)]));
    let mut short = valve(0.05);
    short.valve.armature.stroke = 3.0e-3;
    let main = &short.valve.main;
    let [(Rest::Hanging, lift, Answer::Stable)] = states(&short)[..] else { panic!("it hangs, and nothing else") };
    let by_hand = (STIFF * 2.2e-3 - main.preload) / (STIFF + main.spring_rate);
    // The differential helps the link, by less than its whole force on the stage over the link's stiffness.
    let helped = FRAC_PI_4 * 36e-3 * 36e-3 * 5e3 / STIFF;
    assert!((by_hand - 1e-6..by_hand + helped).contains(&lift), "{lift} m, by hand {by_hand} m");
    let mut weak = valve(0.01);
    weak.valve.armature.damping = 60.0;
    (weak.valve.main.preload, weak.valve.main.spring_rate) = (14.0, 0.0);
    weak.valve.coil.supply = Voltage::Direct { voltage: 10.0 };
    // Shut with its pilot open it stays; from beyond a place that it runs away from, the nearer magnet holds it open.
    let found = states(&weak);
    let shut_hanging_open = matches!(
        found[..],
        [(Rest::Shut, _, Answer::Stable), (Rest::Hanging, _, Answer::RunsAway), (Rest::Open, _, Answer::Stable)]
    );
    assert!(shut_hanging_open, "{found:?}");
    assert!(lift_after(&weak, 2.0) < 1e-5);
    for (stiffness, answer) in [(1.0, Answer::Oscillates), (1e3, Answer::Stable)] {
        let air = baseline::forced(baseline::air(5.3e3), stiffness);
        let found = states(&air);
        assert!(found.iter().any(|(_, lift, a)| *a == answer && *lift > 1e-5), "{stiffness} N/m: {found:?}");
    }
}

/// No differential bounds a state that the magnet holds; without the link's help full lift ends where the balance by hand says.
#[test]
fn bounds_are_told_only_where_a_differential_decides() {
    let at = |scenario: &Scenario, differential: f64| {
        let mut at = scenario.clone();
        at.supply.pressure = at.sink.pressure + differential;
        let ready = ready(&at);
        Some(Energised::new(&ready, SteadyCoil::of(&ready)))
    };
    let stiff = valve(0.05);
    let found = limits(3e-3, 1e7, |dp| at(&stiff, dp));
    assert_eq!((found.lift_off, found.full_lift), (None, None));
    let mut soft = valve(0.05);
    (soft.valve.link_mut().expect("a link").stiffness, soft.valve.armature.stroke) = (1.0, 4.5e-3);
    let found = limits(3e-3, 1e7, |dp| at(&soft, dp));
    let full = found.full_lift.expect("a bound");
    let installation = install(&ready(&soft), COLD);
    let by_hand = installation.circuit_for(installation.full_lift_differential().expect("it opens"));
    assert!((full / by_hand - 1.0).abs() < 0.01, "{full} Pa, by hand {by_hand} Pa");
    assert!(found.lift_off.expect("a bound") < full);
}
