//! Trends of whole valves: orders of size from a prototype in another language and with other numerics, and from mechanics;
//! see `validation/README.md`. They are outside checks of direction and order, not golden values.

use crate::baseline::{self, ready};
use quietseat::physics::parts::Voltage;
use quietseat::scenario::Scenario;
use quietseat::simulate::{Integrator, Phases, Record, coil_heat, install, simulate};
use quietseat::trace::EventKind;

fn cycles(scenario: &Scenario, on: f64, off: f64, cycles: usize) -> Record {
    let phases = Phases { open: on, shut: off, cycles, early_open: false, early_shut: false, watch: 0.0 };
    simulate(&ready(scenario), phases, 293.15, Integrator::Stiff).expect("a run")
}

/// The water valve at a circuit differential of `bar`.
fn water(bar: f64) -> Scenario {
    let mut scenario = baseline::water();
    scenario.supply.pressure = scenario.sink.pressure + bar * 1e5;
    scenario
}

/// What a closing from full flow does.
#[derive(Debug)]
struct Closing {
    /// Rise of the first closure over ρ·a·v of the flow that was stopped.
    share_of_joukowsky: f64,
    /// Highest pressure of the first closure, Pa absolute.
    peak: f64,
    /// From switching off to the first contact, s.
    time: f64,
    /// Flow from 90 to 10 %, s.
    effective: f64,
    /// Speed at the first contact, m/s.
    speed: f64,
}

/// The first closing after the switching off number `cycle`.
fn closing(scenario: &Scenario, record: &Record, cycle: usize) -> Closing {
    let trace = &record.trace;
    let offs: Vec<f64> = trace.events.iter().filter(|e| e.kind == EventKind::CoilOff).map(|e| e.time).collect();
    let off = offs[cycle];
    let seat = trace.events.iter().find(|e| e.kind == EventKind::SeatContact && e.time > off);
    let seat = seat.expect("the stage meets its seat");
    let line = &scenario.upstream;
    let end = seat.time + 2.0 * line.length / line.wave_speed + 0.01;
    let pressures = trace.values("inlet_pressure");
    let peak = trace.window(off, end).map(|i| pressures[i]).fold(0.0, f64::max);
    let flows = trace.values("main_flow");
    let full = flows[trace.window(0.0, off).end - 1];
    let below = |share: f64| {
        let i = trace.window(off, end).find(|&i| flows[i] < share * full).expect("the flow falls");
        trace.time[i]
    };
    let area = std::f64::consts::FRAC_PI_4 * line.bore * line.bore;
    Closing {
        share_of_joukowsky: (peak - scenario.supply.pressure) / (line.wave_speed * full / area),
        peak,
        time: seat.time - off,
        effective: below(0.1) - below(0.9),
        speed: seat.magnitude,
    }
}

fn first_closing(scenario: &Scenario) -> Closing {
    closing(scenario, &cycles(scenario, 0.6, 3.6, 1), 0)
}

/// A wider bleed closes faster and bangs harder: 0.5, 0.7, 1.0, 1.4 mm gave 0.11, 0.15, 0.39, 0.74 of ρ·a·v and 1.34, 0.58, 0.21,
/// 0.068 s of effective closing in the prototype. Within a factor of 1.6, since bulge, friction and damping differ. The small
/// rises of the two narrowest are compared by order alone: they depend on the pressure they are counted from.
#[test]
fn wider_bleed_bangs_harder() {
    let closings: Vec<Closing> = [0.5e-3, 0.7e-3, 1.0e-3, 1.4e-3]
        .map(|diameter| {
            let mut scenario = water(5.0);
            scenario.valve.servo_mut().expect("a servo valve").bleed.diameter = diameter;
            first_closing(&scenario)
        })
        .into();
    for (ours, (share, effective)) in closings.iter().zip([(0.11, 1.34), (0.15, 0.58), (0.39, 0.21), (0.74, 0.068)]) {
        println!("{ours:.3?}; prototype {share} and {effective} s");
        assert!((ours.share_of_joukowsky / share).ln().abs() < 1.6_f64.ln() || share < 0.2);
        assert!((ours.effective / effective).ln().abs() < 1.6_f64.ln());
    }
    assert!(closings.windows(2).all(|p| p[1].share_of_joukowsky > p[0].share_of_joukowsky && p[1].time < p[0].time));
}

/// A longer line is no cure: 20 and 100 m gave 0.39 and 1.01 of ρ·a·v in the prototype, here within a factor of 1.3; beyond ρ·a·v
/// only line packing can go. Short lines are rigid columns: the rise is ρ·L times the deceleration, whose peak is one to three
/// times its mean between 90 and 10 % of the flow. (The prototype's 0.05 and 0.14 at 1 and 5 m are far above that and are not
/// met.)
#[test]
fn longer_line_bangs_harder() {
    let mut last = 0.0;
    for (length, prototype) in [(1.0, None), (5.0, None), (20.0, Some(0.39)), (100.0, Some(1.01_f64))] {
        let mut scenario = water(5.0);
        scenario.upstream.length = length;
        let ours = first_closing(&scenario);
        println!("{length} m: {ours:.3?}; prototype {prototype:?}");
        match prototype {
            Some(share) => assert!((ours.share_of_joukowsky / share).ln().abs() < 1.3_f64.ln()),
            None => {
                // Over ρ·a·v: the mean deceleration 0.8·v/t makes 0.8·(L/a)/t.
                let column = 0.8 * length / scenario.upstream.wave_speed / ours.effective;
                let ratio = ours.share_of_joukowsky / column;
                assert!(ratio > 1.0 && ratio < 3.0, "{ratio}");
            }
        }
        assert!(ours.share_of_joukowsky > last && ours.share_of_joukowsky < 1.15);
        last = ours.share_of_joukowsky;
    }
}

/// With the differential the peak and the seat speed grow (8, 25, 46, 85 bar absolute and 7 to 78 mm/s at 1, 5, 10, 20 bar),
/// while the time from switching off to the seat shrinks far less than the pressure grows.
#[test]
fn peak_and_seat_speed_grow_with_differential() {
    let closings: Vec<(f64, Closing)> = [1.0, 5.0, 10.0, 20.0].map(|bar| (bar, first_closing(&water(bar)))).into();
    for ((bar, ours), peak) in closings.iter().zip([8e5, 25e5, 46e5, 85e5]) {
        println!("{bar} bar: {ours:.3?}; prototype {peak} Pa");
        assert!((ours.peak / peak).ln().abs() < 1.6_f64.ln());
    }
    assert!(closings.windows(2).all(|p| p[1].1.peak > p[0].1.peak && p[1].1.speed > p[0].1.speed));
    assert!(closings[0].1.time / closings[3].1.time < 5.0, "twenty-fold differential");
}

/// A soft diaphragm snaps: bulge compliances of 0.5, 1, 3·10⁻¹² m³/Pa gave seat speeds of 16, 77 and 800 mm/s.
#[test]
fn soft_diaphragm_snaps_shut() {
    let speeds: Vec<f64> = [0.5e-12, 1e-12, 3e-12]
        .map(|compliance| {
            let mut scenario = water(5.0);
            let bulge_resistance = 4e8;
            scenario.valve.main.kind =
                quietseat::physics::parts::StageKind::Diaphragm { bulge_compliance: compliance, bulge_resistance };
            first_closing(&scenario).speed
        })
        .into();
    println!("seat speeds {speeds:.4?} m/s");
    assert!(speeds.windows(2).all(|pair| pair[1] > 1.5 * pair[0]), "{speeds:?}");
}

/// Cycle rate does not raise the peak: within 3 % from the first closing to the third of a train of short cycles, and between
/// slow and fast trains, as long as on- and off-time let the valve finish.
#[test]
fn cycle_rate_leaves_the_peak_alone() {
    let scenario = water(5.0);
    let trains = [(0.6, 5.4), (0.6, 2.4), (0.6, 0.9)].map(|(on, off)| {
        let record = cycles(&scenario, on, off, 3);
        [0, 1, 2].map(|cycle| closing(&scenario, &record, cycle).peak)
    });
    println!("peaks of trains of 10, 20, 40 cycles a minute: {trains:.0?} Pa");
    for peak in trains.iter().flatten() {
        assert!((peak / trains[0][0] - 1.0).abs() < 0.03, "{trains:?}");
    }
}

/// Highest differential at which the armature is still pulled off the pilot seat, Pa, by statics: the steady pull with the
/// armature on the seat against spring, weight and the pressure on the sealing circle.
fn highest_opening_differential(scenario: &Scenario, temperature: f64) -> f64 {
    let valve = &scenario.valve;
    let installation = install(&ready(scenario), temperature);
    let servo = installation.control.servo().expect("a servo valve");
    let pull = coil_heat::held(valve, 0.0, temperature).mean_pull;
    (pull - valve.armature.preload - installation.armature.weight) / servo.pilot.seat_area
}

/// Travel of the armature in a short energised time, share of its stroke.
fn travel(scenario: &Scenario, temperature: f64) -> f64 {
    let phases = Phases { open: 0.15, shut: 0.01, cycles: 1, early_open: false, early_shut: false, watch: 0.0 };
    let record = simulate(&ready(scenario), phases, temperature, Integrator::Stiff).expect("a run");
    let most = record.trace.values("armature_travel").iter().copied().fold(0.0, f64::max);
    most / scenario.valve.armature.stroke
}

/// The highest opening differential falls with heat and low voltage: 30 bar cold, 17.7 at 100 °C, 12.1 hot and 15 % low in the
/// prototype. By statics within 5 %, and the runs themselves open at 0.97 and stay shut at 1.03 of it.
#[test]
fn highest_opening_differential_falls_with_heat_and_low_voltage() {
    let mut last = f64::INFINITY;
    for (temperature, voltage, prototype) in [(293.15, 24.0, 30e5), (373.15, 24.0, 17.7e5), (373.15, 20.4, 12.1e5)] {
        let mut scenario = baseline::water();
        scenario.valve.coil.supply = Voltage::Direct { voltage };
        let highest = highest_opening_differential(&scenario, temperature);
        println!("{voltage} V, {temperature} K: {highest:.0} Pa, prototype {prototype} Pa");
        assert!((highest / prototype - 1.0).abs() < 0.05 && highest < last);
        last = highest;
        for (share, opens) in [(0.97, true), (1.03, false)] {
            scenario.supply.pressure = scenario.sink.pressure + share * highest;
            let travel = travel(&scenario, temperature);
            assert_eq!(travel > 0.5, opens, "{share} of {highest} Pa: {travel} of the stroke");
        }
    }
}

/// Shading ring on the closed alternating-current magnet: no ring lets the pull fall to nothing; 60, 100, 200, 300, 1000 µΩ gave
/// least pulls of 1.7, 3.8, 7.4, 7.1, 1.3 N: a best resistance in between. Within 20 %: the prototype had the armature resting
/// on a pole that gives way, and both read the least of the steps' ends, 50 to a period, not of the curve.
#[test]
fn shading_ring_has_a_best_resistance() {
    let mut valve = baseline::water().valve;
    valve.coil = baseline::alternating_coil();
    let mut least = |ring| {
        valve.coil.shading_ring = ring;
        coil_heat::held(&valve, valve.armature.stroke, 293.15).least_pull
    };
    let none = least(None);
    assert!(none < 0.1, "{none}");
    let ours = [60e-6, 100e-6, 200e-6, 300e-6, 1000e-6].map(|ring| least(Some(ring)));
    println!("least pull {ours:.2?} N");
    for (ours, prototype) in ours.iter().zip([1.7, 3.8, 7.4, 7.1, 1.3]) {
        assert!((ours / prototype - 1.0).abs() < 0.20, "{ours} for {prototype}");
    }
    assert!(ours[2] > ours[1] && ours[2] > ours[3]);
}

/// Between lift-off and full lift the air valve floats: at 0.08, 0.10, 0.12 bar at 0.42, 0.59, 0.75 of lift (± 0.04, prototype
/// and a second integrator); open from 0.17 bar. The mean of the last quarter second, as it may still flutter.
#[test]
fn air_valve_floats_where_statics_put_it() {
    for (differential, expected) in [(8e3, 0.42), (10e3, 0.59), (12e3, 0.75)] {
        let share = mean_lift(&baseline::air(differential));
        println!("{differential} Pa: {share:.3} of lift, expected {expected}");
        assert!((share - expected).abs() < 0.04);
    }
    assert!(mean_lift(&baseline::air(18e3)) > 0.98);
}

/// Mean lift over the last part of three energised seconds, share of full lift.
fn mean_lift(scenario: &Scenario) -> f64 {
    let record = cycles(scenario, 3.0, 0.01, 1);
    let trace = &record.trace;
    let (time, lift) = (&trace.time, trace.values("lift"));
    let window = trace.window(2.5, 3.0);
    let mut area = 0.0;
    for i in window.clone().skip(1) {
        area += 0.5 * (lift[i] + lift[i - 1]) * (time[i] - time[i - 1]);
    }
    let span = time[window.end - 1] - time[window.start];
    area / span / install(&ready(scenario), 293.15).stage.part.lift
}
