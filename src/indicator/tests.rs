use super::*;
use crate::portable::Portable;
use crate::trace::{Channel, Event, EventKind, Quantity};
use crate::units::Dimension;

/// A synthetic trace of one cycle: coil on at 0, off at 4 s, end at 6 s, at 1 kHz.
fn trace(channels: &[(&'static str, &dyn Fn(f64) -> f64)], events: &[(f64, EventKind, f64)]) -> Trace {
    let time: Vec<f64> = (0..=6000).map(|i| i as f64 * 1e-3).collect();
    let channels = channels
        .iter()
        .map(|(name, f)| Channel {
            quantity: Quantity { name, dimension: Dimension::Number, meaning: "" },
            values: time.iter().map(|&t| f(t)).collect(),
        })
        .collect();
    let mut list = vec![
        Event { time: 0.0, kind: EventKind::AskedOpen, magnitude: 0.0 },
        Event { time: 4.0, kind: EventKind::AskedShut, magnitude: 0.0 },
    ];
    list.extend(events.iter().map(|&(time, kind, magnitude)| Event { time, kind, magnitude }));
    list.sort_by(|a, b| a.time.total_cmp(&b.time));
    Trace { time, channels, events: list }
}

fn reference() -> Reference {
    Reference {
        full_lift: 2e-3,
        stage_mass: 0.05,
        stroke: 1e-3,
        winding_resistance: 50.0,
        upstream_return: 0.04,
        downstream_return: 0.01,
        upstream_impedance: 1e6,
        ..Reference::default()
    }
}

#[test]
fn an_oscillation_shows_its_rate_size_and_contacts() {
    // 40 Hz between 10 and 30 % of full lift.
    let lift = |t: f64| 2e-3 * (0.2 + 0.1 * (std::f64::consts::TAU * 40.0 * t).sine());
    let contacts: Vec<_> = (0..100).map(|i| (i as f64 * 0.04, EventKind::SeatContact, 0.01)).collect();
    let found = read(&trace(&[("lift", &lift)], &contacts), &reference());
    assert!((found.oscillation.unwrap() - 0.2).abs() < 2e-3);
    assert!((found.mean_lift.unwrap() - 0.2).abs() < 1e-3);
    assert!((found.oscillation_rate.unwrap() - 40.0).abs() < 0.1);
    assert!((found.seat_contact_rate.unwrap() - 25.0).abs() < 1.1);
    assert!((found.judged_window.unwrap() - 1.0).abs() < 1e-9);
}

#[test]
fn slow_oscillations_are_judged_over_twenty_periods() {
    let lift = |t: f64| 2e-3 * (0.5 + 0.2 * (std::f64::consts::TAU * 8.0 * t).sine());
    let found = read(&trace(&[("lift", &lift)], &[]), &reference());
    assert!((found.judged_window.unwrap() - 2.5).abs() < 0.05);
    assert!((found.oscillation_rate.unwrap() - 8.0).abs() < 0.05);
}

#[test]
fn closing_times_and_pressures_are_read_where_they_are_defined() {
    // Lift falls linearly over 0.5 s after switching off; flow in proportion; a pulse of 9 bar 20 ms after contact.
    let lift = |t: f64| if t < 4.0 { 2e-3 } else { (2e-3 * (1.0 - (t - 4.0) / 0.5)).max(0.0) };
    let flow = |t: f64| if t < 4.0 { 0.3 } else { (0.3 * (1.0 - (t - 4.0) / 0.5)).max(0.0) };
    let inlet = |t: f64| {
        if (t - 4.52).abs() < 0.005 {
            9e5
        } else if (t - 5.0).abs() < 0.005 {
            20e5
        } else {
            4e5
        }
    };
    let t = trace(
        &[("lift", &lift), ("main_flow", &flow), ("inlet_pressure", &inlet)],
        &[(4.5, EventKind::SeatContact, 0.2)],
    );
    let found = read(&t, &Reference { surge_limit: Some(4e5), cycle_rate: 0.1, ..reference() });
    assert!((found.closing_time.unwrap() - 0.5).abs() < 1e-9);
    assert!((found.effective_closing_time.unwrap() - 0.4).abs() < 2e-3);
    // Flow falls evenly over 0.5 s: this share of it within 2L/a.
    let share = reference().upstream_return / 0.5;
    assert!((found.steepest_stop.unwrap() - share).abs() < 5e-3, "{:?} {share}", found.steepest_stop);
    assert!((found.late_closing_share.unwrap() - 0.2).abs() < 2e-3);
    assert!((found.first_seat_energy.unwrap() - 0.5 * 0.05 * 0.04).abs() < 1e-12);
    assert_eq!(found.inlet_peak_closing, Some(9e5));
    assert_eq!(found.inlet_peak_later, Some(20e5));
    assert_eq!(found.surge, Some(5e5));
    assert!((found.surge_ratio.unwrap() - 5e5 / (0.3 * 1e6)).abs() < 1e-3);
    assert_eq!(found.bangs_per_hour, Some(0.1));
}

#[test]
fn forced_swing_is_told_by_its_frequency() {
    let lift = |t: f64| 2e-3 * (0.5 + 0.1 * (std::f64::consts::TAU * 25.0 * t).sine());
    let found = read(&trace(&[("lift", &lift)], &[]), &Reference { pulsation_frequency: Some(25.0), ..reference() });
    assert!(found.supply_frequency_share.unwrap() > 0.98);
    // A drift of the mean is no oscillation of its own.
    let drift = |t: f64| lift(t) + 4e-4 * t / 4.0;
    let drifting =
        read(&trace(&[("lift", &drift)], &[]), &Reference { pulsation_frequency: Some(25.0), ..reference() });
    assert!(drifting.supply_frequency_share.unwrap() > 0.9, "{:?}", drifting.supply_frequency_share);
    let other = read(&trace(&[("lift", &lift)], &[]), &Reference { pulsation_frequency: Some(33.0), ..reference() });
    assert!(other.supply_frequency_share.unwrap() < 0.05);
}

#[test]
fn coil_heat_is_split_into_holding_and_pull_in() {
    // 2 A for the first 10 ms, then 0.2 A at 50 Ω.
    let current = |t: f64| {
        if t < 0.010 {
            2.0
        } else if t < 4.0 {
            0.2
        } else {
            0.0
        }
    };
    let travel = |t: f64| if t > 0.01 { 1e-3 } else { 0.0 };
    let found = read(
        &trace(&[("coil_current", &current), ("armature_travel", &travel), ("lift", &|_| 0.0)], &[]),
        &Reference { on_time: 10.0, ..reference() },
    );
    assert!((found.coil_power.unwrap() - 2.0).abs() < 0.01);
    // (4 − 0.04)·50 Ω·10 ms, and the corner of one sample interval.
    assert!((found.pull_in_energy.unwrap() - 1.98).abs() < 0.11);
    assert!((found.armature_opening_time.unwrap() - 0.011).abs() < 1.1e-3);
}

#[test]
fn an_empty_trace_gives_no_numbers_and_no_panic() {
    let found = read(&Trace::default(), &reference());
    assert_eq!(found.mean_lift, None);
}

#[test]
fn the_steepest_stop_is_the_largest_fall_within_the_span() {
    let quantity = Quantity { name: "main_flow", dimension: Dimension::MassFlow, meaning: "" };
    let channel = Channel { quantity, values: vec![1.0, 1.0, 0.9, 0.4, 0.1, 0.0] };
    let flows = Trace { time: (0..6).map(f64::from).collect(), channels: vec![channel], events: Vec::new() };
    let cycle = phase::Cycle { open: 0.0, shut: 1.0, end: 5.0 };
    let one = motion::steepest_stop(&flows, cycle, 1.0, 1.0);
    assert!((one - 0.5).abs() < 1e-12, "{one}");
    let two = motion::steepest_stop(&flows, cycle, 1.0, 2.0);
    assert!((two - 0.8).abs() < 1e-12, "{two}");
}

/// A wave that runs while the valve is open is no rest to count from; what a pulsating supply does by itself is.
#[test]
fn a_surge_counts_from_rest_unless_the_supply_pulsates() {
    let pressure = |t: f64| match t {
        t if t < 0.001 => 6e5,
        t if t <= 4.0 => 5e5 + 2e5 * (std::f64::consts::TAU * 5.0 * t).sine(),
        t if t < 4.05 => 9e5,
        _ => 6e5,
    };
    let lift = |t: f64| if t > 0.01 && t < 4.02 { 2e-3 } else { 0.0 };
    let closed = [(4.02, EventKind::SeatContact, 0.1)];
    let record = trace(&[("lift", &lift), ("inlet_pressure", &pressure)], &closed);
    let surge = |reference: &Reference| read(&record, reference).surge.expect("it shuts");
    assert!((surge(&reference()) - 3e5).abs() < 1.0, "{}", surge(&reference()));
    let pulsating = Reference { pulsation_frequency: Some(5.0), ..reference() };
    assert!((surge(&pulsating) - 2e5).abs() < 100.0, "{}", surge(&pulsating));
}

/// A valve that is switched off before its flow has come to rest stops what flows then, not the mean.
#[test]
fn rho_a_v_is_of_the_flow_that_is_stopped() {
    let flow = |t: f64| if t <= 4.0 { 0.1 * t } else { 0.0 };
    let lift = |t: f64| if t < 4.02 { 2e-3 } else { 0.0 };
    let record = trace(&[("lift", &lift), ("main_flow", &flow)], &[]);
    let rising = read(&record, &reference()).joukowsky_rise.expect("a flow");
    assert!((rising - 0.4e6).abs() < 1e3, "{rising}");
    let rested = read(&record, &Reference { still_since: Some(1.0), ..reference() }).joukowsky_rise.expect("a flow");
    assert!((rested - 0.3875e6).abs() < 1e3, "the mean of the last quarter of a second: {rested}");
}

#[test]
fn a_valve_that_opens_again_after_it_has_shut_shows_how_far() {
    let lift = |t: f64| match t {
        t if t < 4.02 => 2e-3,
        t if (4.3..4.4).contains(&t) => 0.6e-3,
        _ => 0.0,
    };
    let found = read(&trace(&[("lift", &lift)], &[(4.02, EventKind::SeatContact, 0.1)]), &reference());
    assert!((found.reopened_lift.expect("it shut") - 0.3).abs() < 1e-9, "{:?}", found.reopened_lift);
}

/// u = 200·sin, i = 0.5·sin lagging by 60° at 50 Hz: 50 VA, 25 W, a power factor of 0.5; off, the coil shows −300 V at first. The voltage
/// is a tenth lower in the first two periods, and the armature is drawn in after 70 ms.
#[test]
fn power_and_voltage_of_the_coil_are_read_where_they_are_defined() {
    let angle = |t: f64| std::f64::consts::TAU * 50.0 * t;
    let volts = |t: f64| match t {
        t if t < 0.04 => 180.0 * angle(t).sine(),
        t if t <= 4.0 => 200.0 * angle(t).sine(),
        t => -300.0 * (1.0 - (t - 4.0) / 0.1).max(0.0),
    };
    let current = |t: f64| if t <= 4.0 { 0.5 * (angle(t) - std::f64::consts::PI / 3.0).sine() } else { 0.0 };
    let travel = |t: f64| if (0.07..4.02).contains(&t) { 1e-3 } else { 0.0 };
    let force = |t: f64| if t <= 4.0 { 20.0 } else { 0.7 };
    let channels: [(&'static str, &dyn Fn(f64) -> f64); 5] = [
        ("coil_voltage", &volts),
        ("coil_current", &current),
        ("armature_travel", &travel),
        ("magnet_force", &force),
        ("lift", &|_| 0.0),
    ];
    let found = read(&trace(&channels, &[]), &Reference { mains_frequency: Some(50.0), ..reference() });
    let near =
        |value: Option<f64>, wanted: f64| assert!((value.unwrap() / wanted - 1.0).abs() < 5e-3, "{value:?}, {wanted}");
    near(found.holding_apparent_power, 50.0);
    near(found.holding_power, 25.0);
    near(found.power_factor, 0.5);
    near(found.lowest_coil_voltage, 90.0 * std::f64::consts::SQRT_2);
    near(found.switch_off_voltage, 297.0);
    near(found.release_delay, 0.0191);
    near(found.remanent_force, 0.7);
}
