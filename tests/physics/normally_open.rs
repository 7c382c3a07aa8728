//! Normally open valves against the statics of spring, magnet and pressure by hand, and against the normally closed valve on the same
//! hydraulics. Every derivation is our own, from the balance of forces on the armature.

use crate::baseline::ready;
use crate::demo;
use quietseat::physics::fluid::{Fluid, Gas, Phase};
use quietseat::physics::parts::{Coil, Function};
use quietseat::physics::state::*;
use quietseat::scenario::Scenario;
use quietseat::simulate::{Integrator, Phases, Record, simulate};
use quietseat::study::examine::examine;
use quietseat::trace::EventKind;
use quietseat::verdict::Behaviour;
use std::f64::consts::{FRAC_PI_4, PI};

const COLD: f64 = 293.15;
const GRAVITY: f64 = 9.806_65;

/// The demonstration's servo valve.
pub(crate) fn servo(settings: &[&str]) -> Scenario {
    demo::scenario("water-normally-open", settings)
}

/// The demonstration's direct-operated valve.
pub(crate) fn direct(settings: &[&str]) -> Scenario {
    demo::scenario("water-drain", settings)
}

fn at(mut scenario: Scenario, differential: f64) -> Scenario {
    scenario.supply.pressure = scenario.sink.pressure + differential;
    scenario
}

pub(crate) fn cycle(scenario: &Scenario, open: f64, shut: f64) -> Record {
    let phases = Phases { open, shut, cycles: 1, early_open: false, early_shut: false, watch: 0.0 };
    simulate(&ready(scenario), phases, COLD, Integrator::Stiff).expect("a run")
}

fn highest(record: &Record, channel: &str) -> f64 {
    record.trace.values(channel).iter().copied().fold(f64::NEG_INFINITY, f64::max)
}

fn last(record: &Record, channel: &str) -> f64 {
    *record.trace.values(channel).last().expect("a value")
}

/// Force with which the spring lifts the shut armature, less its weight, N: F_a0 + k_a·s_a − m_a·g·cos θ.
fn lifting(scenario: &Scenario) -> f64 {
    let a = &scenario.valve.armature;
    a.preload + a.spring_rate * a.stroke - a.mass * GRAVITY * scenario.valve.attitude.cos()
}

/// The pressure holds the shut pilot seat with A_ps·Δp, since the chamber is at the inlet's: the spring lifts the armature up to
/// Δp = (F_a0 + k_a·s_a − m_a·g·cos θ)/A_ps, and beyond the valve stays shut. Two per cent to both sides: the pilot's recovery and the
/// falling force of the spring move the edge by some tenths of one (k²·x_0²/(4·F²), x_0 = d_p²/(4·d_ps)).
#[test]
fn a_servo_opens_again_up_to_its_springs_limit_and_not_beyond() {
    for attitude in ["upright", "hanging"] {
        let scenario = servo(&[&format!("valve.attitude={attitude}")]);
        let seat = scenario.valve.servo().expect("a servo").pilot.seat_diameter;
        let limit = lifting(&scenario) / (FRAC_PI_4 * seat * seat);
        let told = examine(&scenario).expect("a run").indicators.highest_opening_differential.expect("a limit");
        assert!((told / limit - 1.0).abs() < 1e-6, "{attitude}: {told} Pa, by hand {limit} Pa");
        for (share, opens) in [(0.98, true), (1.02, false)] {
            let lift = highest(&cycle(&at(scenario.clone(), share * limit), 0.3, 0.01), "lift");
            assert_eq!(lift > 0.5 * scenario.valve.main.lift, opens, "{attitude}, {share}: {lift} m");
            assert!(opens || lift < 1e-6, "{attitude}, {share}: {lift} m");
        }
        let beyond = examine(&at(scenario, 1.05 * limit)).expect("a run").verdict;
        let found = beyond.leading().expect("a finding");
        assert_eq!(found.behaviour, Behaviour::FailsShut, "{}", found.reason);
    }
}

/// The same of an armature that carries the main seat's seal, with A_s·Δp. Off its seat the stream presses it a little more at first, by
/// (1 + 2·k_ff·C_c/A_s)/(1 + y²) with y curtain over bore, while the spring slackens, so that below the edge it need not open fully. A seal
/// that its magnet has pressed with 50 N springs back as that lets go and throws the armature some per cent over the edge, which one
/// that gives nothing back does not: one per cent to both sides for this, four for that.
#[test]
fn a_direct_operated_valve_opens_again_up_to_its_springs_limit_and_not_beyond() {
    for (attitude, dissipation, margin) in [("upright", 1e3, 0.01), ("hanging", 1e3, 0.01), ("upright", 2.5, 0.04)] {
        let mut scenario = direct(&[&format!("valve.attitude={attitude}")]);
        scenario.valve.main.seat.dissipation = dissipation;
        let limit = lifting(&scenario) / (FRAC_PI_4 * scenario.valve.main.seat_diameter.powi(2));
        let told = examine(&scenario).expect("a run").indicators.highest_opening_differential.expect("a limit");
        assert!((told / limit - 1.0).abs() < 1e-6, "{attitude}: {told} Pa, by hand {limit} Pa");
        for (share, leaves) in [(1.0 - margin, true), (1.0 + margin, false)] {
            let lift = highest(&cycle(&at(scenario.clone(), share * limit), 0.3, 0.01), "lift");
            assert_eq!(lift > 0.1 * scenario.valve.main.lift, leaves, "{attitude}, {share}: {lift} m");
        }
        let open = examine(&at(scenario.clone(), 0.8 * limit)).expect("a run").verdict;
        assert_eq!(open.leading().expect("a finding").behaviour, Behaviour::OpensFully);
        let shut = examine(&at(scenario, 1.05 * limit)).expect("a run").verdict;
        assert_eq!(shut.leading().expect("a finding").behaviour, Behaviour::FailsShut);
    }
}

/// Pull of a direct-current magnet over a gap (m), N, by hand: N·i = Φ·(R_gap ∥ R_leak + R_fixed) + the ampere turns of the iron, the pull
/// Φ_gap²/(2·μ_0·A) (Maxwell's stress; H. C. Roters, "Electromagnetic Devices", Wiley, New York, 1941, from memory).
fn pull_over(coil: &Coil, gap: f64, voltage: f64) -> f64 {
    let mu_0 = 4e-7 * PI;
    let faces = coil.open_face_area + coil.shaded_face_area;
    let over_gap = gap / (mu_0 * faces);
    let parallel = over_gap * coil.leakage_reluctance / (over_gap + coil.leakage_reluctance);
    let turns_current = coil.turns * voltage / coil.resistance;
    let (mut low, mut high) = (0.0, turns_current / parallel);
    for _ in 0..60 {
        let flux = 0.5 * (low + high);
        let share: f64 = flux / (coil.core_area * coil.saturation_flux_density);
        let iron = coil.iron_length * coil.saturation_field * share.powi(9);
        if flux * (parallel + coil.fixed_reluctance) + iron < turns_current { low = flux } else { high = flux }
    }
    let gap_flux = low * parallel / over_gap;
    gap_flux * gap_flux / (2.0 * mu_0 * faces)
}

/// Voltage at which the pull over a gap (m) is a force (N), V.
fn voltage_for(coil: &Coil, gap: f64, force: f64) -> f64 {
    let (mut low, mut high) = (0.0, 1000.0);
    for _ in 0..60 {
        let middle = 0.5 * (low + high);
        if pull_over(coil, gap, middle) < force { low = middle } else { high = middle }
    }
    low
}

/// Iron that stays magnetised pulls at the shut seat as ampere-turns F_c would, N·i = F_c above, and the spring has that much less against the
/// pressure: Δp = (F_a0 + k_a·s_a − m_a·g·cos θ − F)/A. A third of the spring's force; two per cent to both sides, as above.
#[test]
fn magnetised_iron_takes_its_pull_from_the_spring() {
    for mut scenario in [servo(&[]), direct(&[])] {
        scenario.valve.main.seat.dissipation = 1e3;
        let diameter = scenario.valve.servo().map_or(scenario.valve.main.seat_diameter, |s| s.pilot.seat_diameter);
        let Function::NormallyOpen(open) = &scenario.valve.function else { panic!("normally open") };
        let remains = lifting(&scenario) / 3.0;
        let coil = &mut scenario.valve.coil;
        let voltage = voltage_for(coil, coil.residual_gap + open.pole_clearance, remains);
        coil.coercive_force = Some(coil.turns * voltage / coil.resistance);
        let limit = (lifting(&scenario) - remains) / (FRAC_PI_4 * diameter * diameter);
        let told = examine(&scenario).expect("a run").indicators.highest_opening_differential.expect("a limit");
        assert!((told / limit - 1.0).abs() < 1e-3, "{}: {told} Pa, by hand {limit} Pa", scenario.name);
        for (share, opens) in [(0.98, true), (1.02, false)] {
            let lift = highest(&cycle(&at(scenario.clone(), share * limit), 1.0, 0.01), "lift");
            assert_eq!(lift > 0.1 * scenario.valve.main.lift, opens, "{}, {share}: {lift} m", scenario.name);
        }
        let beyond = examine(&at(scenario, 1.05 * limit)).expect("a run").verdict;
        let found = beyond.leading().expect("a finding");
        assert_eq!(found.behaviour, Behaviour::FailsShut, "{}", found.reason);
        assert!(found.reason.contains("which stays magnetised"), "{}", found.reason);
    }
}

/// Travel of the armature at the end of a time in which a voltage should shut the valve, without a differential.
fn travel_under(scenario: &Scenario, voltage: f64) -> f64 {
    let mut scenario = at(scenario.clone(), 0.0);
    scenario.valve.coil.supply = quietseat::physics::parts::Voltage::Direct { voltage };
    let channel = if scenario.valve.armature_is_stage() { "lift" } else { "armature_travel" };
    last(&cycle(&scenario, 0.3, 0.6), channel)
}

fn full_gap(scenario: &Scenario) -> f64 {
    scenario.valve.coil.residual_gap + scenario.valve.way_to_pole()
}

/// At rest at its upper stop the armature starts down when F(g_res + c + s_a) outweighs F_a0 − m_a·g·cos θ; the pull then grows faster
/// than the spring, so that it comes down all the way. One per cent of the voltage to both sides.
#[test]
fn the_magnet_pulls_in_against_the_preload_over_the_full_gap() {
    for scenario in [servo(&[]), direct(&["valve.armature.spring_rate=300 N/m"])] {
        let a = &scenario.valve.armature;
        let needed = a.preload - a.mass * GRAVITY * scenario.valve.attitude.cos();
        let limit = voltage_for(&scenario.valve.coil, full_gap(&scenario), needed);
        let (below, above) = (travel_under(&scenario, 0.99 * limit), travel_under(&scenario, 1.01 * limit));
        assert!(below >= a.stroke, "{}: {below} m at 0.99 of {limit} V", scenario.name);
        assert!(above <= 0.0, "{}: {above} m at 1.01 of {limit} V", scenario.name);
    }
}

/// With a spring stiffer than the magnet's own slope the armature comes down as far as the pull carries it, and to its seat only where
/// F(g_res + c) outweighs F_a0 + k_a·s_a − m_a·g·cos θ. A wide clearance keeps the pull's slope low; two per cent to both sides.
#[test]
fn the_magnet_holds_the_seat_against_the_whole_spring() {
    let stiff = [
        "valve.armature.preload=0.3 N",
        "valve.armature.spring_rate=30000 N/m",
        "valve.armature.stroke=0.3 mm",
        "valve.armature.pole_clearance=0.8 mm",
    ];
    for scenario in [servo(&stiff), direct(&stiff)] {
        let gap = scenario.valve.coil.residual_gap + scenario.valve.way_to_pole() - scenario.valve.armature.stroke;
        let limit = voltage_for(&scenario.valve.coil, gap, lifting(&scenario));
        let (below, above) = (travel_under(&scenario, 0.98 * limit), travel_under(&scenario, 1.02 * limit));
        assert!(below > 0.01 * scenario.valve.armature.stroke, "{}: {below} m below {limit} V", scenario.name);
        assert!(below < 0.5 * scenario.valve.armature.stroke, "{}: {below} m below {limit} V", scenario.name);
        assert!(above <= 0.0, "{}: {above} m above {limit} V", scenario.name);
    }
}

/// A soft seat lets the armature come to the pole, and there it stays: c and the pole's own dent below, never nearer than g_res less that.
#[test]
fn a_soft_seat_lets_it_come_to_the_pole_and_no_further() {
    for mut scenario in [servo(&[]), direct(&[])] {
        let Function::NormallyOpen(open) = &mut scenario.valve.function else { panic!("normally open") };
        open.pole_clearance = 20e-6;
        scenario.valve.armature.seat.stiffness = 1.5e7;
        scenario.valve.main.seat.stiffness = 1.5e7;
        let record = cycle(&at(scenario.clone(), 1e5), 0.2, 0.6);
        let channel = if scenario.valve.armature_is_stage() { "lift" } else { "armature_travel" };
        let below = -last(&record, channel) - 20e-6;
        let force = last(&record, "magnet_force");
        let dent = (force / scenario.valve.armature.pole.stiffness).powf(2.0 / 3.0);
        assert!(below > 0.0 && below < dent, "{below} m, {dent} m");
        assert!(record.trace.events.iter().any(|e| e.kind == EventKind::PoleContact));
    }
}

/// Once the pilot is open, or shut, the main stage knows nothing of how it was opened: with the same chamber, pilot and bleed the times
/// from the armature's arrival are those of the normally closed valve. What differs is the armature's flight of 2 to 10 ms, in which the
/// pilot is half open, and the deeper dent of a tip that a magnet presses: some milliseconds in 0.2 and 0.7 s; 2 % are allowed.
#[test]
fn its_times_are_those_of_the_normally_closed_valve() {
    let times = |scenario: &Scenario| {
        let record = cycle(scenario, 1.5, 1.5);
        let trace = &record.trace;
        let (stroke, full) = (scenario.valve.armature.stroke, scenario.valve.main.lift);
        let passes = |channel: &str, from: f64, level: f64, rising: bool| {
            let values = trace.values(channel);
            let beyond = |i: &usize| if rising { values[*i] >= level } else { values[*i] <= level };
            trace.time[trace.window(from, 3.0).find(beyond).expect("it passes")]
        };
        let opened = passes("armature_travel", 0.0, 0.5 * stroke, true);
        let shut = passes("armature_travel", 1.5, 0.5 * stroke, false);
        [passes("lift", 0.0, 0.9 * full, true) - opened, passes("lift", 1.5, 0.0, false) - shut]
    };
    let (open, closed) = (times(&servo(&[])), times(&demo::scenario("water-bang", &[])));
    println!("{open:?} {closed:?}");
    for (ours, theirs) in open.into_iter().zip(closed) {
        assert!((ours / theirs - 1.0).abs() < 0.02, "{open:?} s, normally closed {closed:?} s");
    }
}

/// Floating belongs to the valve without current, at the lift of the energised normally closed one: the same forces, the same pilot.
#[test]
fn it_floats_without_current_where_the_normally_closed_valve_floats_energised() {
    let low = ["supply.differential=0.06 bar"];
    let [open, closed] = ["water-normally-open", "water-bang"].map(|name| {
        let examined = examine(&demo::scenario(name, &low)).expect("a run");
        let found = examined.verdict.leading().expect("a finding");
        assert_eq!(found.behaviour, Behaviour::FloatsSteadily, "{name}: {}", found.reason);
        examined.indicators.mean_lift.expect("a lift")
    });
    assert!((open / closed - 1.0).abs() < 0.01, "{open} {closed}");
}

pub(crate) fn on_air(mut scenario: Scenario) -> Scenario {
    scenario.fluid = Fluid {
        name: "air".into(),
        source: "test".into(),
        phase: Phase::Gas(Gas::perfect(287.05, 1.4, 293.15, 1.82e-5)),
    };
    scenario.valve.main.critical_pressure_ratio = 0.4;
    (scenario.upstream.wave_speed, scenario.downstream.wave_speed) = (343.2, 343.2);
    scenario
}

/// Liquid and gas, direct and alternating current, from the shut valve through one cycle.
#[test]
fn its_balances_close() {
    for (kind, scenario, differential) in [("servo", servo(&[]), 2e5), ("direct", direct(&[]), 2e5)] {
        let water = at(scenario, differential);
        let mut lumped = water.clone();
        (lumped.upstream.length, lumped.downstream.length) = (0.3, 0.3);
        let mut alternating = water.clone();
        alternating.valve.coil = crate::baseline::alternating_coil();
        let air = on_air(water.clone());
        for (name, scenario) in [("water", water), ("lumped", lumped), ("air", air), ("alternating", alternating)] {
            let record = cycle(&scenario, 0.6, 1.2);
            let lift = highest(&record, "lift") / scenario.valve.main.lift;
            println!("{kind}, {name}: {:.1e}, lift {lift:.3}", record.residue());
            assert!(lift > 0.97, "{kind}, {name}: {lift}");
            assert!(last(&record, "lift") < 0.0, "{kind}, {name}: {}", last(&record, "lift"));
            assert!(record.residue() < 1e-5, "{kind}, {name}: {:e}", record.residue());
        }
    }
}

/// What is stored in spring, field, motion and weight grows by what the circuit does not turn into heat, at one instant in flight.
#[test]
fn its_powers_add_up_at_one_instant() {
    let scenario = at(servo(&[]), 0.0);
    let installation = quietseat::simulate::install(&ready(&scenario), COLD);
    let (p, nearby) = (scenario.supply.pressure, installation.nearby());
    let mut y = installation.shut_under(p, p, [4e-5, 0.0]);
    (y[TRAVEL], y[TRAVEL_RATE]) = (4e-4, -0.7);
    let (mut rate, mut flux) = ([0.0; STATES], [0.0; INTEGRALS]);
    installation.evaluate(&nearby, &[24.0, 0.0, 0.0], &y, &mut rate, &mut flux);
    let a = &scenario.valve.armature;
    let held = |time: f64| {
        let later: [f64; STATES] = std::array::from_fn(|i| y[i] + time * rate[i]);
        let (x, v) = (later[TRAVEL], later[TRAVEL_RATE]);
        let spring = a.preload * (a.stroke - x) + 0.5 * a.spring_rate * (a.stroke - x).powi(2);
        let weight = a.mass * GRAVITY * x;
        installation.magnet.energy(later[FLUX], 0.0, a.stroke - x) + spring + weight + 0.5 * a.mass * v * v
    };
    let gained = (held(1e-9) - held(-1e-9)) / 2e-9;
    // Nothing flows and the chamber is at the ports' pressure, so that neither presses; damping is the armature's own.
    let brought = flux[ELECTRIC_WORK] - flux[CIRCUIT_HEAT] - flux[IRON_HEAT] - a.damping * 0.7 * 0.7;
    assert!((gained - brought).abs() < 1e-5 * flux[ELECTRIC_WORK].abs(), "{gained} W gained, {brought} W brought");
}

/// Without its ring an alternating magnet lets go twice a period: the armature of the shut valve knocks on its pilot seat, and in a
/// direct-operated valve on the main seat, which passes. With the ring it holds.
#[test]
fn without_a_ring_it_hums_while_shut() {
    let settings = [
        "valve.function=normally-open",
        "valve.armature.pole_clearance=0.08 mm",
        "valve.armature.preload=1.5 N",
        "valve.armature.spring_rate=2000 N/m",
        "supply.differential=1 bar",
    ];
    let small = ["valve.kind=direct-operated", "valve.main.seat_diameter=2 mm"];
    for kind in [&[][..], &small[..]] {
        let settings = [&settings[..], kind].concat();
        let found = |name: &str| examine(&demo::scenario(name, &settings)).expect("a run");
        let broken = found("ac-no-ring");
        let hum = broken.verdict.findings.iter().find(|f| f.behaviour == Behaviour::Hums).expect("it hums");
        assert!(hum.reason.contains("100 times a second") && hum.reason.contains("strikes the seat"), "{}", hum.reason);
        // The pilot's tip gives way by (F/k)^(2/3), 54 µm under the highest pull of 57 N: a pole 30 µm below is struck, one 80 µm below not.
        let near =
            examine(&demo::scenario("ac-ring", &[&settings[..], &["valve.armature.pole_clearance=0.03 mm"]].concat()));
        let near = near.expect("a run").verdict;
        let struck = near.findings.iter().find(|f| f.behaviour == Behaviour::Hums).expect("it strikes its pole");
        assert!(struck.reason.contains("strikes its pole, 100 times a second"), "{}", struck.reason);
        let sound = found("ac-ring");
        assert!(!sound.verdict.has(Behaviour::Hums), "{:?}", sound.verdict);
        assert_eq!(sound.verdict.leading().expect("a finding").behaviour, Behaviour::OpensFully);
    }
}

/// What is not stated is normally closed, to the last bit.
#[test]
fn normally_closed_is_what_is_not_stated() {
    for name in ["water-bang", "water-direct", "ac-ring"] {
        let stated = demo::scenario(name, &["valve.function=normally-closed"]);
        assert_eq!(stated.valve, demo::scenario(name, &[]).valve, "{name}");
    }
}
