//! The heat of a coil against closed forms: two stores of heat, a resistance that rises, a magnet with its armature out.

use crate::demo;
use quietseat::physics::coil_heat::{CoilCycle, CoilState, Heat, HeldHeat, HeldPoint, ThermalNetwork};
use quietseat::physics::insulation::InsulationClass;
use quietseat::physics::parts::{Valve, Voltage};
use quietseat::physics::valve::copper::winding_resistance;
use quietseat::physics::valve::magnet::MU_0;
use quietseat::scenario::{Duty, Scenario};
use quietseat::simulate::coil_heat::{coil_cycle, held, held_heat, unseated_temperature, winding_temperature};

const ALPHA: f64 = 0.00393;
const TWENTY: f64 = 293.15;

/// A coil of some 0.2 kg of copper on a brass body, in air of 40 °C with water of 15 °C inside.
fn network() -> ThermalNetwork {
    ThermalNetwork {
        winding_capacity: 90.0,
        body_capacity: 320.0,
        winding_to_body: 2.5,
        body_to_ambient: 7.0,
        body_to_medium: 20.0,
        ambient: 313.15,
        medium: 288.15,
    }
}

/// A winding on direct voltage: P = U²/R(T).
fn direct(voltage: f64, resistance: f64) -> HeldHeat {
    let at = |temperature| HeldPoint {
        temperature,
        winding: voltage * voltage / winding_resistance(resistance, temperature),
        iron: 0.0,
    };
    HeldHeat::through(resistance, [260.0, 390.0, 530.0].map(at))
}

/// Constant heat, whatever the temperature.
fn constant(winding: f64, body: f64) -> impl Fn(f64) -> Heat {
    move |_| Heat { winding, body, winding_slope: 0.0, body_slope: 0.0 }
}

fn near(found: f64, wanted: f64, within: f64, what: &str) {
    assert!((found - wanted).abs() <= within, "{what}: {found} instead of {wanted} (±{within})");
}

/// The alternating demo with its coil on a network.
fn hot(settings: &[&str]) -> Scenario {
    let network = [
        "valve.coil.network.ambient=40 °C",
        "valve.coil.network.medium=15 °C",
        "valve.coil.network.winding_capacity=90 J/K",
        "valve.coil.network.body_capacity=320 J/K",
        "valve.coil.network.winding_to_body=2.5 K/W",
        "valve.coil.network.body_to_ambient=7 K/W",
        "valve.coil.network.body_to_medium=20 K/W",
    ];
    demo::scenario("ac-ring", &[&network[..], settings].concat())
}

/// Own derivation: with constant heat both stores tend to their rest by two exponentials. With x = T − T_rest the balances are
/// x' = M·x; the roots of λ² − tr(M)·λ + det(M) are its rates, and (b, λ − a) its directions for M = ((a, b), (c, d)).
#[test]
fn a_warm_up_under_constant_heat_is_two_exponentials() {
    let n = network();
    let (p, q) = (11.0, 3.0);
    let outward = 1.0 / (1.0 / n.body_to_ambient + 1.0 / n.body_to_medium);
    let idle = outward * (n.ambient / n.body_to_ambient + n.medium / n.body_to_medium);
    let body = idle + outward * (p + q);
    let winding = body + n.winding_to_body * p;
    let (a, b) = (-1.0 / (n.winding_to_body * n.winding_capacity), 1.0 / (n.winding_to_body * n.winding_capacity));
    let c = 1.0 / (n.winding_to_body * n.body_capacity);
    let d = -(1.0 / n.winding_to_body + 1.0 / outward) / n.body_capacity;
    let (trace, determinant) = (a + d, a * d - b * c);
    let root = (trace * trace - 4.0 * determinant).sqrt();
    let (fast, slow) = (0.5 * (trace - root), 0.5 * (trace + root));
    let start = CoilState { winding: 300.0, body: 280.0 };
    // k₁·(b, fast − a) + k₂·(b, slow − a) = start − rest
    let (x, y) = (start.winding - winding, start.body - body);
    let k_2 = (y - x * (fast - a) / b) / (slow - fast);
    let k_1 = x / b - k_2;
    for time in [1.0, 30.0, 200.0, 1000.0, 8000.0] {
        let passed = n.pass(start, &constant(p, q), time);
        let (one, two) = (k_1 * (fast * time).exp(), k_2 * (slow * time).exp());
        near(passed.end.winding, winding + b * (one + two), 1e-9, "winding, K");
        near(passed.end.body, body + one * (fast - a) + two * (slow - a), 1e-9, "body, K");
        // The time integral of the same.
        let (one, two) = (k_1 * ((fast * time).exp() - 1.0) / fast, k_2 * ((slow * time).exp() - 1.0) / slow);
        near(passed.integral.winding / time, winding + b * (one + two) / time, 1e-9, "mean of the winding, K");
        near(passed.heat_in, (p + q) * time, 1e-9 * p * time, "heat, J");
    }
    let rest = n.steady(&constant(p, q));
    near(rest.winding, winding, 1e-9, "winding at rest, K");
    near(rest.body, body, 1e-9, "body at rest, K");
}

/// With a body that neither takes nor keeps back heat, one store is left: 63.2 % after C_w·(R_wb + R_out).
#[test]
fn one_store_has_one_time_constant() {
    let n = ThermalNetwork { body_capacity: 1e-6, ..network() };
    let law = HeldHeat::through(
        100.0,
        [280.0, 400.0, 520.0].map(|temperature| HeldPoint { temperature, winding: 9.0, iron: 0.0 }),
    );
    let cycle = CoilCycle { open: law, seated: law, period: 10.0, on_share: 0.6, pull_in: 0.0, eased: None };
    let found = cycle.in_the_long_run(&n);
    let wanted = n.winding_capacity * (n.winding_to_body + n.outward());
    // The quadratic of 1/i² through three points of equal heat is that heat only there: half a per cent between them.
    near(found.warm_up.expect("a rise") / wanted, 1.0, 0.02, "time constant");
    near(found.winding_power, 5.4, 0.03, "mean heat, W");
}

/// A winding on direct voltage at rest: T − T_idle = (R_wb + R_out)·U²/(R_20·(1 + α·(T − 20 °C))), a quadratic in T.
#[test]
fn the_steady_winding_on_direct_voltage_solves_its_quadratic() {
    let n = network();
    for (voltage, resistance) in [(24.0, 57.6), (24.0, 30.0), (230.0, 900.0)] {
        let law = direct(voltage, resistance);
        let outward = n.winding_to_body + n.outward();
        let heat = outward * voltage * voltage / resistance;
        // y = T − 20 °C: α·y² + (1 − α·y_idle)·y − y_idle − heat = 0.
        let idle = n.idle() - TWENTY;
        let half = 0.5 * (1.0 - ALPHA * idle);
        let wanted = TWENTY + ((half * half + ALPHA * (idle + heat)).sqrt() - half) / ALPHA;
        near(n.steady(&|t| law.at(t)).winding, wanted, 1e-6, "winding, K");
        let always = CoilCycle { open: law, seated: law, period: 100.0, on_share: 1.0, pull_in: 0.01, eased: None };
        near(always.in_the_long_run(&n).mean.winding, wanted, 1e-6, "always on, K");
    }
}

/// What an ohmmeter tells of it: the rise by resistance, ΔT = (R_h/R_c − 1)·(234.5 K + T_c) − (T_a2 − T_a1), T_c in °C (IEC 60034-1 and
/// IEC 60730-1, as quoted in public texts). Its 234.5 and our 0.00393 1/K differ by 5·10⁻⁵ of the resistance.
#[test]
fn the_rise_by_resistance_is_the_rise_of_the_network() {
    let n = network();
    let law = direct(24.0, 40.0);
    let always = CoilCycle { open: law, seated: law, period: 1.0, on_share: 1.0, pull_in: 0.0, eased: None };
    let winding = always.in_the_long_run(&n).mean.winding;
    let (cold, air_before, air_after) = (18.0, 18.0, n.ambient - 273.15);
    let [r_c, r_h] = [273.15 + cold, winding].map(|t| winding_resistance(40.0, t));
    let rise = (r_h / r_c - 1.0) * (234.5 + cold) - (air_after - air_before);
    near(rise, winding - n.ambient, 0.02, "rise by resistance, K");
    assert!(rise > 40.0, "{rise}");
}

/// Steps of straight-line heat against a fine march of the balances themselves (classical Runge and Kutta, 0.05 s).
#[test]
fn a_warm_up_with_a_rising_resistance_follows_its_balances() {
    let n = network();
    let law = direct(24.0, 20.0);
    let rates = |s: [f64; 2]| {
        let heat = 24.0 * 24.0 / (20.0 * (1.0 + ALPHA * (s[0] - TWENTY)));
        let across = (s[0] - s[1]) / n.winding_to_body;
        let leaving = (s[1] - n.ambient) / n.body_to_ambient + (s[1] - n.medium) / n.body_to_medium;
        [(heat - across) / n.winding_capacity, (across - leaving) / n.body_capacity]
    };
    let (mut state, step) = ([n.idle(); 2], 0.05);
    let add = |s: [f64; 2], k: [f64; 2], h: f64| [s[0] + h * k[0], s[1] + h * k[1]];
    for _ in 0..20_000 {
        let k_1 = rates(state);
        let k_2 = rates(add(state, k_1, step / 2.0));
        let k_3 = rates(add(state, k_2, step / 2.0));
        let k_4 = rates(add(state, k_3, step));
        for i in 0..2 {
            state[i] += step / 6.0 * (k_1[i] + 2.0 * k_2[i] + 2.0 * k_3[i] + k_4[i]);
        }
    }
    let start = CoilState { winding: n.idle(), body: n.idle() };
    let found = n.pass(start, &|t| law.at(t), 1000.0).end;
    near(found.winding, state[0], 0.02, "winding after 1000 s, K");
    near(found.body, state[1], 0.02, "body after 1000 s, K");
    assert!(state[0] > 380.0, "warm enough to tell: {}", state[0]);
    let reached = n.time_until(start, &|t| law.at(t), found.winding).expect("it is reached");
    near(reached, 1000.0, 1.0, "time until then, s");
    assert_eq!(n.time_until(start, &|t| law.at(t), 600.0), None);
}

/// In a periodic state what comes in leaves: heat summed from the law itself, in 4000 pieces of a cycle, against what the mean body gives
/// to air and medium.
#[test]
fn over_a_cycle_heat_in_is_heat_out() {
    let (n, open, seated) = (network(), direct(24.0, 20.0), direct(24.0, 45.0));
    for (period, on_share) in [(2.0, 0.5), (600.0, 0.3), (3600.0, 0.5), (14_400.0, 0.8)] {
        let cycle = CoilCycle { open, seated, period, on_share, pull_in: 0.02 * period, eased: None };
        let found = cycle.in_the_long_run(&n);
        let mut at = cycle.periodic_start(&n);
        let (start, mut heat) = (at, 0.0);
        let on = on_share * period;
        for (span, law) in [(0.02 * period, Some(open)), (on - 0.02 * period, Some(seated)), (period - on, None)] {
            let step = span / 4000.0;
            let heat_at = |t: f64| law.map_or_else(Heat::default, |law| law.at(t));
            for _ in 0..4000 {
                let before = heat_at(at.winding);
                at = n.pass(at, &heat_at, step).end;
                let after = heat_at(at.winding);
                heat += 0.5 * step * (before.winding + before.body + after.winding + after.body);
            }
        }
        near(at.winding, start.winding, 2e-3, "the winding comes back, K");
        near(at.body, start.body, 2e-3, "the body comes back, K");
        let out = n.leaving(found.mean.body);
        near(heat / period / out, 1.0, 1e-4, "heat in over heat out");
        near((found.winding_power + found.body_power) / out, 1.0, 1e-5, "told heat over heat out");
        assert!(found.lowest < found.mean.winding && found.mean.winding < found.highest, "{found:?}");
    }
}

/// Heat that is there all the time, or never.
#[test]
fn on_shares_of_nought_and_one_are_rest() {
    let (n, seated) = (network(), direct(24.0, 45.0));
    let found = |on_share: f64, period: f64| {
        CoilCycle { open: seated, seated, period, on_share, pull_in: 0.01, eased: None }.in_the_long_run(&n)
    };
    for period in [1.0, 3600.0] {
        near(found(1e-9, period).mean.winding, n.idle(), 1e-5, "without current, K");
        let always = found(1.0, period);
        near(always.mean.winding, n.steady(&|t| seated.at(t)).winding, 1e-6, "always on, K");
        near(always.highest - always.lowest, 0.0, 1e-5, "swing when always on, K");
        // The heat of an armature that is out at each pull-in is there up to that, and then no more.
        let quick = CoilCycle { open: direct(24.0, 20.0), seated, period, on_share: 1.0, pull_in: 0.01, eased: None };
        near(quick.in_the_long_run(&n).mean.winding, always.mean.winding, 1e-9, "one pull-in for ever, K");
    }
    let means: Vec<f64> = (1..=20).map(|i| found(0.05 * f64::from(i), 60.0).mean.winding).collect();
    assert!(means.windows(2).all(|pair| pair[1] > pair[0] + 0.5), "rises with the on-share: {means:?}");
    // A slow cycle swings more than a quick one.
    assert!(found(0.5, 3600.0).highest - found(0.5, 3600.0).lowest > 20.0);
    assert!(found(0.5, 1.0).highest - found(0.5, 1.0).lowest < 0.1);
}

/// The magnet of the alternating demo without ring, eddies and saturation: i = U/√(R² + (ω·N²/R_m)²), R_m the reluctance of
/// fixed gaps, faces and leakage (Hopkinson's and Ohm's laws, phasors).
#[test]
fn an_armature_that_stays_out_heats_by_the_square_of_its_current() {
    let mut valve: Valve = hot(&[]).valve;
    valve.coil.shading_ring = None;
    valve.coil.eddy_conductance = 0.0;
    valve.coil.saturation_field = 0.0;
    let c = &valve.coil;
    let Voltage::Alternating { voltage, frequency, .. } = c.supply else { panic!("it alternates") };
    let temperature = 353.15;
    let resistance = winding_resistance(c.resistance, temperature);
    let current = |gap: f64| {
        let faces = MU_0 * (c.open_face_area + c.shaded_face_area) / gap;
        let reluctance = c.fixed_reluctance + 1.0 / (faces + 1.0 / c.leakage_reluctance);
        let reactance = std::f64::consts::TAU * frequency * c.turns * c.turns / reluctance;
        voltage / resistance.hypot(reactance)
    };
    let (seated, out) = (current(c.residual_gap), current(c.residual_gap + valve.armature.stroke));
    let found = [valve.armature.stroke, 0.0].map(|travel| held(&valve, travel, temperature));
    near(found[0].current / seated, 1.0, 2e-4, "holding current");
    near(found[1].current / out, 1.0, 2e-4, "inrush current");
    let ratio = (out / seated) * (out / seated);
    near(found[1].winding_power / found[0].winding_power / ratio, 1.0, 5e-4, "ratio of heats");
    assert!(ratio > 3.0, "{ratio}");
    assert_eq!(found[0].iron_power, 0.0, "no ring, no eddies");
    // And at any temperature, from three: exact without saturation.
    let law = held_heat(&valve, 0.0);
    for temperature in [260.0, 330.0, 450.0] {
        let held = held(&valve, 0.0, temperature).winding_power;
        near(law.at(temperature).winding / held, 1.0, 1e-4, "law of the heat");
    }
}

/// The law through three points against the magnet itself, saturated and with its ring.
#[test]
fn the_heat_between_known_temperatures_is_that_of_the_magnet() {
    for settings in [&[][..], &["valve.coil.alternating.voltage=290 V"]] {
        let valve = hot(settings).valve;
        for travel in [0.0, valve.armature.stroke] {
            let law = held_heat(&valve, travel);
            for temperature in [273.15, 320.0, 360.0, 450.0, 500.0] {
                let (found, truth) = (law.at(temperature), held(&valve, travel, temperature));
                near(found.winding / truth.winding_power, 1.0, 3e-3, "winding");
                near(found.body / truth.iron_power, 1.0, 3e-3, "ring and eddies");
            }
        }
    }
}

/// Pull-ins add (P_out − P_in)·t per cycle: nothing at slow cycles, in proportion to their rate.
#[test]
fn the_heat_of_pull_ins_vanishes_with_their_rate() {
    let valve = hot(&[]).valve;
    let added = |rate: f64| {
        let cycle = coil_cycle(&valve, &Duty { cycle_rate: rate, on_fraction: 0.5 }, true);
        cycle.mean_heat(350.0).winding - 0.5 * cycle.seated.at(350.0).winding
    };
    assert!(added(1e-6) < 1e-6 && added(1e-6) > 0.0);
    near(added(2.0) / added(1.0), 2.0, 1e-9, "twice as many");
    // At a rate at which the on-time is the pull-in, the armature is out whenever there is current.
    let cycle = coil_cycle(&valve, &Duty { cycle_rate: 60.0, on_fraction: 0.5 }, true);
    near(cycle.mean_heat(350.0).winding, 0.5 * cycle.open.at(350.0).winding, 1e-9, "never seated");
}

/// The coil of the demo at its duty: hotter with more current time, hotter still with its armature out; the medium cools.
#[test]
fn a_network_answers_as_a_coil_does() {
    let at = |settings: &[&str]| winding_temperature(&hot(settings));
    let usual = at(&["duty.on_fraction=50 %"]);
    assert!(usual > 313.15 + 5.0, "{usual}");
    assert!(at(&["duty.on_fraction=90 %"]) > usual + 5.0);
    assert!(at(&["duty.on_fraction=50 %", "duty.cycle_rate=3 1/s"]) > usual + 1.0, "pull-ins heat");
    assert!(at(&["duty.on_fraction=50 %", "valve.coil.network.medium=90 °C"]) > usual + 5.0);
    let out = unseated_temperature(&hot(&["duty.on_fraction=50 %"]));
    assert!(out > usual + 20.0, "{out}");
    // A body without resistance to its medium is the medium; the winding then rises by its own resistance alone.
    let sunk = hot(&["duty.on_fraction=90 %", "valve.coil.network.body_to_medium=1e-3 K/W"]);
    let found = coil_cycle(&sunk.valve, &sunk.duty, true).in_the_long_run(&network_of(&sunk));
    near(found.mean.body, 288.15, 0.05, "the body is the medium, K");
    near(found.mean.winding - found.mean.body, 2.5 * found.winding_power, 1e-6, "the winding's own rise, K");
    assert!(found.body_power > 0.1, "ring and eddies heat the body: {found:?}");
}

fn network_of(scenario: &Scenario) -> ThermalNetwork {
    ThermalNetwork::of(&scenario.valve.coil.temperature).expect("a network")
}

/// DIN VDE 0580: above 35 °C the classes A, E, B, F and H may rise by 65, 80, 90, 115 and 140 K, by resistance (as quoted in public
/// texts).
#[test]
fn the_mean_winding_stays_below_what_its_class_bears() {
    for (word, rise) in [("A", 65.0), ("E", 80.0), ("B", 90.0), ("F", 115.0), ("H", 140.0)] {
        let class = InsulationClass::named(word).expect("a class");
        near(class.highest_mean(), 273.15 + 35.0 + rise, 1e-9, word);
    }
    assert_eq!(InsulationClass::named("C"), None);
    let key = quietseat::scenario::parameters().iter().find(|p| p.path == "limits.insulation_class").expect("a key");
    let quietseat::key::Kind::Word(words) = key.key.kind else { panic!("words") };
    assert!(words.len() > 8 && words.iter().all(|word| InsulationClass::named(word).is_some()), "{words:?}");
}
