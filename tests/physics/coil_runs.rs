//! The coil's supply in whole runs: what hums and what does not, when the magnet lets go, and the books of each.

use crate::baseline::{self, ready};
use crate::demo;
use quietseat::physics::parts::*;
use quietseat::scenario::Scenario;
use quietseat::simulate::{Integrator, Phases, Record, simulate};
use quietseat::study::examine::examine;
use quietseat::verdict::Behaviour;

const COLD: f64 = 293.15;

fn cycle(scenario: &Scenario, open: f64, shut: f64) -> Record {
    let phases = Phases { open, shut, cycles: 1, early_open: false, early_shut: false, watch: 0.0 };
    simulate(&ready(scenario), phases, COLD, Integrator::Stiff).expect("a run")
}

/// The water baseline with that coil.
fn water(coil: Coil) -> Scenario {
    let mut scenario = baseline::water();
    scenario.valve.coil = coil;
    scenario
}

/// Amplitude of a channel at a frequency over a span of whole periods, by the trapezoidal rule.
fn line(record: &Record, channel: &str, frequency: f64, [from, to]: [f64; 2]) -> f64 {
    let (times, values) = (&record.trace.time, record.trace.values(channel));
    let (mut cosine, mut sine) = (0.0, 0.0);
    for k in record.trace.window(from, to).skip(1) {
        let h = 0.5 * (times[k] - times[k - 1]);
        for j in [k - 1, k] {
            let angle = std::f64::consts::TAU * frequency * times[j];
            cosine += h * values[j] * angle.cos();
            sine += h * values[j] * angle.sin();
        }
    }
    2.0 * f64::hypot(cosine, sine) / (to - from)
}

/// The same pole without a ring: on alternating voltage the force falls to nothing twice a period; behind a bridge it ripples at 2f, behind a
/// half wave at f, and never lets go.
#[test]
fn a_pole_without_a_ring_is_silent_behind_a_rectifier() {
    let hums = examine(&demo::scenario("ac-no-ring", &[])).expect("a run");
    assert!(hums.indicators.pole_contact_rate.is_some_and(|rate| rate > 100.0));
    assert!(hums.verdict.findings.iter().any(|finding| finding.behaviour == Behaviour::Hums));
    let bridge = examine(&demo::scenario("ac-rectified", &[])).expect("a run");
    let half = [
        "valve.coil.half_wave.voltage=230 V",
        "valve.coil.half_wave.frequency=50 Hz",
        "valve.coil.half_wave.phase=0 °",
        "valve.coil.half_wave.forward_voltage=0.8 V",
    ];
    let half = examine(&demo::scenario("ac-rectified", &half)).expect("a run");
    for (name, silent, frequency) in [("bridge", bridge, 100.0), ("half wave", half, 50.0)] {
        let found = &silent.indicators;
        assert_eq!(found.pole_contact_rate, Some(0.0), "{name}");
        assert!(silent.verdict.findings.iter().all(|finding| finding.behaviour != Behaviour::Hums), "{name}");
        assert!(found.least_magnet_force > found.armature_load, "{name}");
        let shut = silent.record.trace.events.iter().find(|e| e.kind == quietseat::trace::EventKind::CoilOff);
        let end = (shut.expect("switched off").time * 50.0).floor() / 50.0;
        let at = |f: f64| line(&silent.record, "magnet_force", f, [end - 0.2, end]);
        println!("{name}: force ripples by {:.2} N at 50 Hz, {:.2} N at 100 Hz", at(50.0), at(100.0));
        assert!(at(frequency) > 0.5 && at(frequency) > 3.0 * at(150.0 - frequency), "{name}");
    }
}

/// The run's own numbers against the phasor's (`coil_supply.rs` checks the held magnet against it), the armature seated on a magnet
/// without saturation: within a per cent, for the pole gives way by some of its gap. Behind a bridge P = R·i² + 2V_d·ī, and the mains
/// drives what the coil draws.
#[test]
fn power_in_a_run_is_that_of_the_held_magnet() {
    let linear = "valve.coil.saturation_field=0 A/m";
    for name in ["ac-ring", "ac-rectified"] {
        let scenario = demo::scenario(name, &[linear]);
        let examined = examine(&scenario).expect("a run");
        let found = &examined.indicators;
        let held = quietseat::simulate::coil_heat::held(
            &scenario.valve,
            scenario.valve.armature.stroke,
            found.coil_temperature.expect("a temperature"),
        );
        let rectified = scenario.valve.coil.supply.rectifier();
        let (volts, diodes) = rectified.map_or((held.voltage, 0.0), |r| (230.0, r.forward * held.current));
        for (what, read, wanted) in [
            ("current, A", found.coil_current, held.current),
            ("apparent power, VA", found.holding_apparent_power, volts * held.current),
            ("power, W", found.holding_power, held.power + diodes),
        ] {
            let read = read.expect("a number");
            println!("{name}: {what} {read}, held {wanted}");
            assert!((read / wanted - 1.0).abs() < 0.01, "{name}: {what} {read}, held {wanted}");
        }
        assert!(found.power_factor.is_some_and(|factor| factor > 0.3 && factor < 1.0));
        assert!(found.inrush_current > found.coil_current || rectified.is_some(), "{name}");
    }
}

/// The higher the voltage that the suppressor holds, the sooner the armature leaves the pole; a contact on the mains side is the latest but for the winding alone.
#[test]
fn the_armature_lets_go_by_the_way_of_the_current() {
    let by = |settings: &[&str]| {
        let examined = examine(&demo::scenario("ac-rectified", settings)).expect("a run");
        let found = examined.indicators;
        println!("{settings:?}: {:?} s, {:?} V", found.release_delay, found.switch_off_voltage);
        (found.release_delay.expect("it lets go"), found.switch_off_voltage.expect("it is switched off"))
    };
    let mains = by(&[]);
    let side = "valve.coil.contact=coil side";
    let diode = by(&[side, "valve.coil.suppressor_diode=0.8 V"]);
    let resistor = by(&[side, "valve.coil.clamp_resistance=5.3 kohm"]);
    let clamp = by(&[side, "valve.coil.clamp_voltage=400 V"]);
    assert!(mains.0 > resistor.0 && diode.0 > resistor.0 && resistor.0 > clamp.0);
    assert!((mains.0 / diode.0 - 1.0).abs() < 0.1, "mains side {} s, diode {} s", mains.0, diode.0);
    assert!((clamp.1 - 400.0).abs() < 1e-6 && diode.1 < 1.0);
}

/// Each supply and each way of switching off in a whole run: mass and energy are found again within ten times the tolerance.
#[test]
fn books_of_each_supply_close() {
    let ac = baseline::alternating_coil;
    let weak = || Feed {
        cable: Some(Cable { length: 500.0, cross_section: 0.5e-6, temperature: 303.15 }),
        transformer: Some(Transformer { rated_power: 30.0, short_circuit_voltage: 0.15 }),
        ..Feed::default()
    };
    let bridge = Voltage::Bridge { voltage: 100.0, frequency: 50.0, phase: 1.0, forward_voltage: 0.8 };
    let half = Voltage::HalfWave { voltage: 200.0, frequency: 60.0, phase: 2.0, forward_voltage: 0.8 };
    let direct = |feed| Coil { feed, ..baseline::direct_coil() };
    let by = |suppressor| direct(Feed { suppressor: Some(suppressor), ..Feed::default() });
    let bounce = Some(Bounce { count: 3.0, duration: 4e-3 });
    let mains_side = Feed { contact: ContactSide::Mains, bounce: bounce.clone(), ..weak() };
    for (name, coil) in [
        ("weak source", Coil { feed: weak(), ..ac() }),
        ("bridge, mains side", Coil { supply: bridge.clone(), feed: mains_side.clone(), ..ac() }),
        ("bridge, coil side", Coil { supply: bridge, feed: weak(), ..ac() }),
        ("half wave", Coil { supply: half, feed: mains_side, ..ac() }),
        ("diode", by(Suppressor::Diode { suppressor_diode: 0.8 })),
        ("clamp", by(Suppressor::Clamp { clamp_voltage: 47.0 })),
        ("arc", by(Suppressor::Arc { arc_voltage: 330.0 })),
        ("economiser", direct(Feed { economiser: Some(Economiser { delay: 0.05, share: 0.4 }), ..Feed::default() })),
        ("bounce", direct(Feed { bounce, ..Feed::default() })),
        ("remanence", Coil { coercive_force: Some(30.0), ..baseline::direct_coil() }),
    ] {
        let record = cycle(&water(coil), 0.15, 0.3);
        println!("{name}: {:.1e}, {} steps", record.residue(), record.counters.accepted);
        assert!(record.residue() < 1e-4, "{name}: {:e}", record.residue());
    }
}

/// A contact that bounces n times within T is followed from one opening and closing to the next: the trace has each of these instants, and the
/// voltage at the coil is the supply's or the suppressor's on either side. Bounces hold up the armature by some of their time.
#[test]
fn steps_land_on_the_bounces_of_the_contact() {
    let (count, duration) = (3.0, 6e-3);
    let feed = Feed { bounce: Some(Bounce { count, duration }), ..Feed::default() };
    let bounced = cycle(&water(Coil { feed, ..baseline::direct_coil() }), 0.1, 0.05);
    let clean = cycle(&water(baseline::direct_coil()), 0.1, 0.05);
    let times = &bounced.trace.time;
    for k in 1..=6 {
        let instant = duration * f64::from(k) / 6.0;
        assert!(times.iter().any(|time| (time - instant).abs() < 1e-15), "no step ends at {instant} s");
        let after = times.iter().position(|time| *time > instant + 1e-12).expect("a later instant");
        let volts = bounced.trace.values("coil_voltage")[after];
        assert!(if k % 2 == 0 { volts == 24.0 } else { volts <= 0.0 }, "{volts} V after {instant} s");
    }
    let lifts = |record: &Record| {
        let travel = record.trace.values("armature_travel");
        record.trace.time[travel.iter().position(|x| *x > 0.4e-3).expect("it is drawn in")]
    };
    let late = lifts(&bounced) - lifts(&clean);
    println!("the armature is {late} s late");
    assert!(late > 0.3 * duration && late < duration, "{late}");
}

/// After its delay the economiser leaves D·U/R, and the run's indicators are those of holding.
#[test]
fn an_economiser_takes_over_in_a_run() {
    let settings = ["valve.coil.economiser.delay=0.2 s", "valve.coil.economiser.share=40 %"];
    let whole = examine(&demo::scenario("water-bang", &[])).expect("a run").indicators;
    let saved = examine(&demo::scenario("water-bang", &settings)).expect("a run").indicators;
    let share = saved.coil_current.expect("a current") / whole.coil_current.expect("a current");
    println!("current falls to {share} of what it was");
    // At the end of the judged time; the winding's temperature is stated, and so its resistance the same.
    assert!((share - 0.4).abs() < 0.004, "{share}");
    assert_eq!(saved.armature_opening_time, whole.armature_opening_time, "until the delay has passed nothing differs");
}

/// The remanent pull, which an unsaturated magnet has in closed form (see `coil_supply.rs`), against spring and pressure at the pole: an
/// eighth below the spring alone it lets go, an eighth above all of the load it never does.
#[test]
fn a_magnetised_armature_sticks_where_its_pull_exceeds_the_load() {
    let at = |force: f64| {
        let mut coil = Coil { saturation_field: 0.0, ..baseline::direct_coil() };
        coil.coercive_force = Some(force);
        cycle(&water(coil), 0.3, 0.5)
    };
    let coil = baseline::direct_coil();
    let armature = baseline::water().valve.armature;
    let areas = coil.open_face_area + coil.shaded_face_area;
    let permeance = quietseat::physics::valve::magnet::MU_0 * areas / coil.residual_gap;
    let pole = permeance + 1.0 / coil.leakage_reluctance;
    // F = (F_c·P/(P_all·(1/P_all + R_par)))²/(2·µ_0·A), turned over.
    let force_for = |pull: f64| {
        let flux = (2.0 * quietseat::physics::valve::magnet::MU_0 * areas * pull).sqrt();
        flux * pole / permeance * (1.0 / pole + coil.fixed_reluctance)
    };
    let spring = armature.preload + armature.spring_rate * armature.stroke;
    let last = |record: &Record, channel: &str| *record.trace.values(channel).last().expect("a trace");
    let free = at(force_for(spring / 1.125));
    assert!(last(&free, "armature_travel") < 0.1 * armature.stroke, "it lets go");
    let load = free.trace.values("armature_load").iter().copied().fold(0.0, f64::max);
    let stuck = at(force_for(1.125 * load));
    println!("spring {spring} N, load {load} N, remanent pull {} N", last(&stuck, "magnet_force"));
    assert!(last(&stuck, "armature_travel") > 0.9 * armature.stroke, "it sticks");
    assert!((last(&stuck, "magnet_force") / (1.125 * load) - 1.0).abs() < 0.02);
}

/// On its transformer and cable the armature stays; with larger ones it is drawn in. Both are said. (By its crests an alternating magnet
/// opens against far more than its mean pull would: 5 VA, whose mean pull is good for a third of this differential, still open it.)
#[test]
fn a_small_transformer_keeps_the_armature_out() {
    let small = examine(&demo::scenario("weak-transformer", &[])).expect("a run");
    let found = small.verdict.findings.first().expect("a finding");
    println!("{}", found.reason);
    assert_eq!(found.behaviour, Behaviour::WillNotOpen);
    assert!(found.reason.contains("of the 30 V of the unloaded supply"), "{}", found.reason);
    let large = ["valve.coil.transformer.rated_power=40 VA", "valve.coil.cable.cross_section=2.5 mm²"];
    let large = examine(&demo::scenario("weak-transformer", &large)).expect("a run");
    assert!(large.indicators.armature_opening_time.is_some());
    assert!(large.indicators.lowest_coil_voltage > small.indicators.lowest_coil_voltage);
}
