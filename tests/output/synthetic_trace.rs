//! Invented runs: shapes only, no physics.

use quietseat::trace::{Channel, Event, EventKind, Quantity, Trace};
use quietseat::units::Dimension;

const ON: f64 = 0.1;
const OFF: f64 = 1.3;
const CONTACT: f64 = 1.352;

fn channel(name: &'static str, dimension: Dimension, time: &[f64], at: impl Fn(f64) -> f64) -> Channel {
    let quantity = Quantity { name, dimension, meaning: "invented" };
    Channel { quantity, values: time.iter().map(|&t| at(t)).collect() }
}

/// A smooth step from 0 to 1 between two instants.
fn step(t: f64, from: f64, to: f64) -> f64 {
    let s = ((t - from) / (to - from)).clamp(0.0, 1.0);
    s * s * (3.0 - 2.0 * s)
}

fn lift(t: f64) -> f64 {
    let swing = if (0.3..OFF).contains(&t) { 0.18 * (std::f64::consts::TAU * 38.0 * t).sin() } else { 0.0 };
    let open = step(t, ON + 0.02, ON + 0.08) * (1.0 - step(t, OFF + 0.02, CONTACT));
    4e-3 * (open * (0.75 + swing)).clamp(0.0, 1.0)
}

fn ringing(t: f64) -> f64 {
    if t < CONTACT { 0.0 } else { (-(t - CONTACT) / 0.06).exp() * (std::f64::consts::TAU * 31.0 * (t - CONTACT)).cos() }
}

/// One cycle that opens, flutters, shuts and bangs.
pub(crate) fn usual() -> Trace {
    let time: Vec<f64> = (0..40_000).map(|i| f64::from(i) * 5e-5).collect();
    let flow = |t: f64| 1.1 * lift(t) / 4e-3;
    let energised = |t: f64| step(t, ON, ON + 0.008) * (1.0 - step(t, OFF, OFF + 0.006));
    let dimension_of_pressure = Dimension::AbsolutePressure;
    let make = |name, dimension, at: &dyn Fn(f64) -> f64| channel(name, dimension, &time, at);
    let channels = vec![
        make("inlet_pressure", dimension_of_pressure, &|t| 6.2e5 - 0.9e5 * flow(t) + 5.5e5 * ringing(t)),
        make("outlet_pressure", dimension_of_pressure, &|t| (1.6e5 + 1.2e5 * flow(t) - 2.1e5 * ringing(t)).max(2.3e3)),
        make("chamber_pressure", dimension_of_pressure, &|t| 6.1e5 - 3.0e5 * energised(t) - 0.5e5 * flow(t)),
        make("lift", Dimension::Length, &lift),
        make("stage_velocity", Dimension::Velocity, &|_| 0.0),
        make("armature_travel", Dimension::Length, &|t| {
            1.2e-3 * step(t, ON + 0.004, ON + 0.012) * (1.0 - step(t, OFF + 0.004, OFF + 0.011))
        }),
        make("coil_current", Dimension::Current, &|t| {
            0.42 * energised(t) * (1.0 - 0.3 * step(t, ON + 0.006, ON + 0.012))
        }),
        make("magnet_force", Dimension::Force, &|t| 21.0 * energised(t)),
        make("main_flow", Dimension::MassFlow, &flow),
        make("inlet_flow", Dimension::MassFlow, &|t| flow(t - 0.004) + 0.08 * ringing(t)),
        make("outlet_flow", Dimension::MassFlow, &|t| flow(t - 0.011)),
        make("pilot_flow", Dimension::MassFlow, &|t| 0.021 * energised(t)),
        make("bleed_flow", Dimension::MassFlow, &|t| {
            0.019 * step(t, ON + 0.01, ON + 0.05) * (1.0 - step(t, OFF + 0.02, CONTACT + 0.02))
        }),
        make("outlet_gas_volume", Dimension::Volume, &|t| 3e-6 * (step(t, 1.353, 1.358) - step(t, 1.358, 1.365))),
    ];
    let event = |time, kind, magnitude| Event { time, kind, magnitude };
    let events = vec![
        event(ON, EventKind::CoilOn, 0.0),
        event(ON + 0.012, EventKind::PoleContact, 0.8),
        event(OFF, EventKind::CoilOff, 0.0),
        event(OFF + 0.011, EventKind::PilotSeatContact, 0.6),
        event(CONTACT, EventKind::SeatContact, 0.83),
        event(CONTACT + 0.001, EventKind::OutletCavityOpens, 0.0),
        event(CONTACT + 0.006, EventKind::SeatContact, 0.21),
        event(CONTACT + 0.013, EventKind::OutletCavityCollapses, 3e-6),
    ];
    Trace { time, channels, events }
}

/// Runs at the edge of sense: none of them may stop the program.
pub(crate) fn odd() -> Vec<(&'static str, Trace)> {
    let pressure =
        |time: &[f64], at: &dyn Fn(f64) -> f64| channel("inlet_pressure", Dimension::AbsolutePressure, time, at);
    let one =
        |time: Vec<f64>, at: &dyn Fn(f64) -> f64| Trace { channels: vec![pressure(&time, at)], time, events: vec![] };
    let mut cut = usual();
    cut.channels.iter_mut().for_each(|c| c.values.truncate(100));
    let mut holed = usual();
    holed.channels.iter_mut().for_each(|c| c.values.iter_mut().step_by(7).for_each(|v| *v = f64::NAN));
    let mut odd_events = usual();
    odd_events.events.iter_mut().for_each(|e| {
        e.time = f64::NAN;
        e.magnitude = f64::INFINITY;
    });
    let mut many_events = usual();
    let again = |i: i32| Event { time: f64::from(i) * 1e-4, kind: EventKind::SeatContact, magnitude: 0.1 };
    many_events.events.extend((0..20_000).map(again));
    vec![
        ("empty", Trace::default()),
        ("one_instant", one(vec![0.0], &|_| 1e5)),
        ("constant", one(vec![0.0, 1.0], &|_| 1e5)),
        ("not_a_number", one(vec![0.0, 1.0, 2.0], &|_| f64::NAN)),
        (
            "infinite",
            one(vec![0.0, 1.0, 2.0], &|t| {
                if t > 0.5 { f64::INFINITY } else { 1e5 }
            }),
        ),
        ("time_not_a_number", one(vec![0.0, f64::NAN, 2.0], &|_| 1e5)),
        ("cut_short", cut),
        ("holed", holed),
        ("odd_events", odd_events),
        ("many_events", many_events),
    ]
}
