//! Growth of small oscillations of the relief valve, its limit cycles, and the feed at which they first graze the seat.

use super::case::{Case, Check, Obtained, Tolerance, check};
use super::relief_valve::{LIFT, PRESSURE, RESTITUTION, ReliefValve, SOURCE, accuracy};
use super::restitution::{Body, Watch};
use super::table::table;
use super::trail::{Point, Turn, growth, turns};
use super::worst::Worst;

/// Size of a small disturbance, share of the equilibrium lift.
const DISTURBANCE: f64 = 1e-4;

/// The cases.
pub(super) fn cases() -> Vec<Case> {
    vec![
        Case {
            folder: "licsko_champneys_hos_2009_relief_valve",
            name: "growth of a small disturbance of a relief valve",
            source: SOURCE,
            obtained: Obtained::Library("mpmath 1.4.1"),
            reason: "the disturbance stays below a hundredth of the lift; the terms that the eigenvalues leave out are its \
                     squares, below 1e-3 of the exponent fitted",
            misfit: None,
            checks: growth_rates,
        },
        Case {
            folder: "licsko_champneys_hos_2009_relief_valve",
            name: "limit cycles of a relief valve, and where they graze its seat",
            source: SOURCE,
            obtained: Obtained::Library("scipy 1.17.1"),
            reason: "the solver works to 1e-9 per step and attracting cycles forget errors; extremes are read off cubics \
                     between steps; the grazing feed of the reference was bisected to 3e-7",
            misfit: None,
            checks: cycles,
        },
    ]
}

/// Time within which a disturbance of that growth rate stays between 1e-6 and 1e-2 of the lift.
fn span(growth_rate: f64) -> f64 {
    (4.5 / growth_rate.abs()).min(60.0)
}

fn growth_rates() -> Result<Vec<Check>, String> {
    /// Units of time after which only the pair of eigenvalues is left; the third one decays within a tenth.
    const START: f64 = 1.0;
    let table = table!("licsko_champneys_hos_2009_relief_valve/growth.csv")?;
    let mut rate = Worst::new("growth rate per unit of time", Tolerance::Relative(1e-3));
    let mut frequency = Worst::new("angular frequency of the growing oscillation", Tolerance::Relative(1e-3));
    let accuracy = accuracy(1e-12);
    for row in table.rows() {
        let [q, reference, angular] = row.numbers(["q", "growth_rate", "angular_frequency"])?;
        let valve = ReliefValve::published(q);
        let body = Body { system: &valve, accuracy: &accuracy };
        let mut y = valve.equilibrium();
        y[LIFT] *= 1.0 + DISTURBANCE;
        let mut trail = Vec::new();
        body.until(Watch::Nothing, 0.0, START + span(reference), y, None, &mut trail)?;
        let (found, omega) = growth(&turns(&trail, LIFT, START))?;
        let place = format!("q = {q}");
        rate.note(found, reference, || place.clone());
        frequency.note(omega, angular, || place.clone());
    }
    Ok(vec![rate.check()?, frequency.check()?])
}

/// A cycle: period, extremes of lift and pressure.
struct Cycle {
    period: f64,
    lift: [f64; 2],
    pressure: [f64; 2],
}

/// The cycle that a trail has settled on, read from `from` on.
fn cycle(trail: &[Point<3>], from: f64) -> Result<Cycle, String> {
    let lifts = turns(trail, LIFT, from);
    let tops: Vec<f64> = lifts.iter().filter(|turn| turn.highest).map(|turn| turn.time).collect();
    let (Some(first), Some(last)) = (tops.first(), tops.last().filter(|_| tops.len() > 1)) else {
        return Err("no full cycle was seen".into());
    };
    let period = (last - first) / (tops.len() - 1) as f64;
    Ok(Cycle { period, lift: extremes(&lifts), pressure: extremes(&turns(trail, PRESSURE, from)) })
}

fn extremes(turns: &[Turn]) -> [f64; 2] {
    let values = || turns.iter().map(|turn| turn.value);
    [values().fold(f64::INFINITY, f64::min), values().fold(f64::NEG_INFINITY, f64::max)]
}

/// The cycle at a feed after `settling` units of time, the seat taken away: it is smooth in q through grazing.
fn settled(q: f64, settling: f64) -> Result<Cycle, String> {
    let valve = ReliefValve::published(q);
    let accuracy = accuracy(1e-9);
    let body = Body { system: &valve, accuracy: &accuracy };
    let mut y = valve.equilibrium();
    y[LIFT] *= 1.5;
    let mut trail = Vec::new();
    body.until(Watch::Nothing, 0.0, settling + 30.0, y, None, &mut trail)?;
    cycle(&trail, settling)
}

fn cycles() -> Result<Vec<Check>, String> {
    let table = table!("licsko_champneys_hos_2009_relief_valve/limit_cycle.csv")?;
    let share = Tolerance::Relative(1e-5);
    let names = ["period", "least lift", "largest lift", "least pressure", "largest pressure"];
    let mut worst = names.map(|name| Worst::new(name, share));
    let mut touches = Worst::new("impacts of the limit cycle", Tolerance::Absolute(0.0));
    let accuracy = accuracy(1e-9);
    for row in table.rows() {
        let q = row.number("q")?;
        let valve = ReliefValve::published(q);
        let body = Body { system: &valve, accuracy: &accuracy };
        let mut y = valve.equilibrium();
        y[LIFT] *= 1.5;
        let motion = body.bounce(y, 830.0, RESTITUTION)?;
        let found = cycle(&motion.trail, 800.0)?;
        let place = format!("q = {q}");
        touches.note(motion.impacts_within(800.0, 830.0) as f64, 0.0, || place.clone());
        let ours = [found.period, found.lift[0], found.lift[1], found.pressure[0], found.pressure[1]];
        let headings = ["period", "least_lift", "largest_lift", "least_pressure", "largest_pressure"];
        for (worst, (ours, reference)) in worst.iter_mut().zip(ours.into_iter().zip(row.numbers(headings)?)) {
            worst.note(ours, reference, || place.clone());
        }
    }
    let mut checks = Vec::new();
    for worst in worst {
        checks.push(worst.check()?);
    }
    checks.push(touches.check()?);
    checks.push(check("feed at which the cycle grazes the seat", grazing()?, 7.55721, Tolerance::Absolute(1e-4)));
    Ok(checks)
}

/// The feed at which the least lift of the cycle is zero, by secants.
fn grazing() -> Result<f64, String> {
    let least = |q: f64| settled(q, 200.0).map(|cycle| cycle.lift[0]);
    let (mut a, mut b) = (7.7, 7.6);
    let (mut f_a, mut f_b) = (least(a)?, least(b)?);
    for _ in 0..4 {
        let next = b - f_b * (b - a) / (f_b - f_a);
        (a, f_a) = (b, f_b);
        (b, f_b) = (next, least(next)?);
    }
    Ok(b)
}
