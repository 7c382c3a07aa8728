//! Does the product call chatter what chatters? The relief valve's motions, at the scale of a real one, are written as a
//! trace and read by the product's own indicators and verdict.

use super::case::{Case, Check, Obtained, Tolerance, check};
use super::relief_valve::{LIFT, PRESSURE, RESTITUTION, ReliefValve, SOURCE, accuracy};
use super::restitution::{Body, Motion, SPEED};
use crate::indicator::{self, Indicators, Reference};
use crate::trace::{Channel, Event, EventKind, Quantity, Trace};
use crate::units::Dimension;
use crate::verdict::{Behaviour, Circumstances, Verdict, judge};

/// Unit of time, s; of lift, m; of pressure, Pa: those of the valve in SI units.
const TIME: f64 = 3.162_277_660_168_379e-3;
const LENGTH: f64 = 1e-3;
const PASCALS: f64 = 2e4;
/// Energised time in units of time: some one and a half seconds.
const ENERGISED: f64 = 500.0;
/// Full lift and armature stroke, m: above all that the valve reaches.
const FULL_LIFT: f64 = 10e-3;
const STROKE: f64 = 1e-3;

/// The cases.
pub(super) fn cases() -> Vec<Case> {
    vec![Case {
        folder: "licsko_champneys_hos_2009_relief_valve",
        name: "a chattering, a fluttering and a quiet relief valve are told apart",
        source: SOURCE,
        obtained: Obtained::Library("scipy 1.17.1"),
        reason: "what is called what is exact; the rate is counted over the judged second, to one part in a thousand",
        misfit: None,
        checks,
    }]
}

/// A trace of a motion as if of the main stage of an energised valve.
fn trace(motion: &Motion<3>) -> Trace {
    let trail = &motion.trail;
    let channel = |name: &'static str, dimension: Dimension, value: &dyn Fn(&[f64; 3]) -> f64| Channel {
        quantity: Quantity { name, dimension, meaning: "of the relief valve" },
        values: trail.iter().map(|point| value(&point.y)).collect(),
    };
    let behind = 1e5;
    let mut events: Vec<Event> = motion
        .impacts
        .iter()
        .map(|impact| Event {
            time: TIME * impact.time,
            kind: EventKind::SeatContact,
            magnitude: -impact.before[SPEED] * LENGTH / TIME,
        })
        .collect();
    events.insert(0, Event { time: 0.0, kind: EventKind::AskedOpen, magnitude: 0.0 });
    events.push(Event { time: TIME * ENERGISED, kind: EventKind::AskedShut, magnitude: 0.0 });
    Trace {
        time: trail.iter().map(|point| TIME * point.time).collect(),
        channels: vec![
            channel("lift", Dimension::Length, &|y| LENGTH * y[LIFT]),
            channel("armature_travel", Dimension::Length, &|_| STROKE),
            channel("inlet_pressure", Dimension::AbsolutePressure, &|y| behind + PASCALS * y[PRESSURE]),
            channel("outlet_pressure", Dimension::AbsolutePressure, &|_| behind),
        ],
        events,
    }
}

/// What the product says of the valve at a feed, started at `start` times its lift at rest.
fn judged(q: f64, start: f64) -> Result<(Indicators, Verdict), String> {
    let valve = ReliefValve::published(q);
    let accuracy = accuracy(1e-9);
    let mut y = valve.equilibrium();
    y[LIFT] *= start;
    let motion = Body { system: &valve, accuracy: &accuracy }.bounce(y, ENERGISED, RESTITUTION)?;
    let reference = Reference {
        full_lift: FULL_LIFT,
        stage_mass: 0.02,
        stroke: STROKE,
        on_time: TIME * ENERGISED,
        ..Reference::default()
    };
    let found = indicator::read(&trace(&motion), &reference);
    let around = Circumstances {
        standstill_differential: 1e6,
        mass_behind: 0.0,
        drains_to_saturation: false,
        circuit_differential: 1e6,
        seat_speed: f64::INFINITY,
        open_time: TIME * ENERGISED,
        ..Circumstances::default()
    };
    let verdict = judge(&found, &around);
    Ok((found, verdict))
}

fn checks() -> Result<Vec<Check>, String> {
    let mut checks = Vec::new();
    let cases =
        [(9.0, 1.5, Behaviour::FloatsSteadily), (8.0, 1.5, Behaviour::Flutters), (7.0, 1.5, Behaviour::Chatters)];
    for (q, start, expected) in cases {
        let (found, verdict) = judged(q, start)?;
        for behaviour in [Behaviour::Chatters, Behaviour::Flutters, Behaviour::FloatsSteadily] {
            let flag = |yes: bool| if yes { 1.0 } else { 0.0 };
            let quantity = format!("{} at q = {q} (1: yes)", behaviour.words());
            let (ours, reference) = (flag(verdict.has(behaviour)), flag(behaviour == expected));
            checks.push(check(quantity, ours, reference, Tolerance::Absolute(0.0)));
        }
        if expected == Behaviour::Flutters {
            let rate = found.oscillation_rate.ok_or("no rate of oscillation was found")? * TIME;
            checks.push(check("oscillations per unit of time", rate, 1.0 / 2.3923894, Tolerance::Relative(1e-3)));
        }
    }
    Ok(checks)
}
