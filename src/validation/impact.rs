//! Motions with impacts on a rigid seat whose course is known exactly or to many digits.

use super::case::{Case, Check, Obtained, Tolerance, check};
use super::relief_valve::{self, RESTITUTION, ReliefValve, SOURCE};
use super::restitution::{Accuracy, Body, Motion, Restitution, SPEED, Watch};
use super::table::table;
use super::worst::Worst;
use crate::dual::Real;
use crate::solver::{Method, Settings, Step, System, Then};

/// The cases.
pub(super) fn cases() -> Vec<Case> {
    vec![
        Case {
            folder: "bouncing_ball",
            name: "a ball comes to rest after infinitely many impacts",
            source: "free fall and Newton's law of restitution, closed form",
            obtained: Obtained::Exact,
            reason: "free fall is integrated exactly, so that only the instants of impact can err; 1e-9 leaves room for the \
                     rounding of some forty impacts and nothing else",
            misfit: None,
            checks: bouncing_ball,
        },
        Case {
            folder: "spring_seat_bounce",
            name: "a sprung poppet bounces on its seat",
            source: "undamped oscillator cut off at the seat, closed form",
            obtained: Obtained::Exact,
            reason: "the solver works to 1e-12 per step; twelve flights of shrinking length leave 1e-8",
            misfit: None,
            checks: sprung_bounce,
        },
        Case {
            folder: "licsko_champneys_hos_2009_relief_valve",
            name: "trajectories of a relief valve, through an impact",
            source: SOURCE,
            obtained: Obtained::Library("scipy 1.17.1"),
            reason: "two tolerances of the reference agree to 1e-11; the solver works to 1e-11 per step, and the oscillation \
                     carries errors on for a few periods",
            misfit: None,
            checks: trajectories,
        },
    ]
}

/// Free fall: height over the floor and its rate.
struct Ball {
    gravity: f64,
}

/// A mass on a preloaded spring: m·ẍ = −k·(x + x_p), by ω² = k/m.
struct Sprung {
    square_frequency: f64,
    preload: f64,
}

/// A system of gap and speed that is given by its acceleration.
trait Fall {
    fn acceleration<T: Real>(&self, gap: T) -> T;
}

impl Fall for Ball {
    fn acceleration<T: Real>(&self, _gap: T) -> T {
        T::constant(-self.gravity)
    }
}

impl Fall for Sprung {
    fn acceleration<T: Real>(&self, gap: T) -> T {
        (gap + self.preload) * -self.square_frequency
    }
}

/// A falling body for the solver.
struct Falling<F>(F);

impl<F: Fall> System<2, 0, 0> for Falling<F> {
    fn forcing(&self, _time: f64) -> ([f64; 0], [f64; 0]) {
        ([], [])
    }
    fn rates<T: Real>(&self, _forcing: &[T; 0], y: &[T; 2], rate: &mut [T; 2], _integrand: &mut [T; 0]) {
        *rate = [y[1], self.0.acceleration(y[0])];
    }
    fn longest_step(&self, _time: f64) -> f64 {
        f64::INFINITY
    }
    fn accepted(&mut self, _step: &Step<'_, 2, 0>) -> Then {
        Then::Continue
    }
}

/// Accuracy for a gap of that size and a speed of that size.
fn accuracy(gap: f64, speed: f64, longest_step: f64) -> Accuracy<2> {
    let settings = Settings {
        method: Method::Rodas5P,
        relative_tolerance: 1e-12,
        absolute_tolerance: [1e-13 * gap, 1e-13 * speed],
        most_steps: 1_000_000,
    };
    Accuracy { settings, longest_step }
}

fn bouncing_ball() -> Result<Vec<Check>, String> {
    let table = table!("bouncing_ball/impacts.csv")?;
    let mut time = Worst::new("instant of an impact, s", Tolerance::Relative(1e-9));
    let mut speed = Worst::new("speed before an impact, m/s", Tolerance::Relative(1e-9));
    let mut rest = Worst::new("instant at which the ball comes to rest, s", Tolerance::Relative(1e-9));
    let mut run: Option<(f64, Motion<2>)> = None;
    for row in table.rows() {
        let [height, gravity, coefficient, number] =
            row.numbers(["height_m", "gravity_m_s2", "restitution", "impact"])?;
        let motion = match run.take().filter(|(restitution, _)| *restitution == coefficient) {
            Some((_, motion)) => motion,
            None => drop_ball(height, gravity, coefficient)?,
        };
        let place = format!("restitution {coefficient}, impact {number}");
        let impact = motion.impacts.get(number as usize - 1).ok_or_else(|| format!("{place} did not happen"))?;
        time.note(impact.time, row.number("time_s")?, || place.clone());
        speed.note(-impact.before[SPEED], row.number("speed_before_m_s")?, || place.clone());
        let rested = motion.rests.first().copied().unwrap_or(f64::NAN);
        rest.note(rested, row.number("rest_time_s")?, || format!("restitution {coefficient}"));
        run = Some((coefficient, motion));
    }
    Ok(vec![time.check()?, speed.check()?, rest.check()?])
}

/// Some seconds longer than the ball needs to come to rest.
fn drop_ball(height: f64, gravity: f64, coefficient: f64) -> Result<Motion<2>, String> {
    let accuracy = accuracy(height, (gravity * height).sqrt(), f64::INFINITY);
    let ball = Falling(Ball { gravity });
    let body = Body { system: &ball, accuracy: &accuracy };
    let law = Restitution { coefficient, shortest_flight: 1e-8 * (height / gravity).sqrt() };
    body.bounce([height, 0.0], 30.0 * (height / gravity).sqrt() / (1.0 - coefficient), law)
}

fn sprung_bounce() -> Result<Vec<Check>, String> {
    const MASS: f64 = 0.02;
    const RATE: f64 = 2000.0;
    const RESTITUTION: f64 = 0.6;
    let sprung = Falling(Sprung { square_frequency: RATE / MASS, preload: 1e-3 });
    let accuracy = accuracy(1e-6, 1e-3, 2e-4);
    let body = Body { system: &sprung, accuracy: &accuracy };
    let law = Restitution { coefficient: RESTITUTION, shortest_flight: 1e-9 };
    let motion = body.bounce([0.0, 0.5], 0.0198, law)?;
    let table = table!("spring_seat_bounce/bounces.csv")?;
    let mut time = Worst::new("instant of an impact, s", Tolerance::Relative(1e-8));
    let mut speed = Worst::new("launch speed, m/s", Tolerance::Relative(1e-8));
    let mut lift = Worst::new("lift of a bounce, m", Tolerance::Relative(1e-8));
    let mut launch = [0.0, 0.5];
    for (row, impact) in table.rows().zip(&motion.impacts) {
        let place = format!("bounce {}", row.text("bounce")?);
        time.note(impact.time, row.number("impact_time_s")?, || place.clone());
        speed.note(launch[SPEED], row.number("launch_speed_m_s")?, || place.clone());
        let apex = body.until(Watch::Apex, 0.0, 1.0, launch, None, &mut Vec::new())?;
        lift.note(apex.y[0], row.number("lift_m")?, || place.clone());
        launch = impact.after;
    }
    let count = check("bounces compared", motion.impacts.len().min(12) as f64, 12.0, Tolerance::Absolute(0.0));
    Ok(vec![time.check()?, speed.check()?, lift.check()?, count])
}

fn trajectories() -> Result<Vec<Check>, String> {
    let table = table!("licsko_champneys_hos_2009_relief_valve/trajectories.csv")?;
    let tolerance = Tolerance::Relative(1e-6);
    let names = ["lift at the end", "speed at the end", "pressure at the end"];
    let mut worst = names.map(|name| Worst::new(name, tolerance));
    let mut impacts = Worst::new("number of impacts", Tolerance::Absolute(0.0));
    let mut checks = Vec::new();
    let accuracy = relief_valve::accuracy(1e-11);
    for row in table.rows() {
        let q = row.number("q")?;
        let valve = ReliefValve::published(q);
        let body = Body { system: &valve, accuracy: &accuracy };
        let motion = body.bounce([0.2, 0.0, 10.2], row.number("end_time")?, RESTITUTION)?;
        let place = format!("q = {q}");
        let end = row.numbers(["lift", "speed", "pressure"])?;
        for (worst, (ours, reference)) in worst.iter_mut().zip(motion.end.into_iter().zip(end)) {
            worst.note(ours, reference, || place.clone());
        }
        impacts.note(motion.impacts.len() as f64, row.number("impacts")?, || place.clone());
        if let Some(first) = motion.impacts.first() {
            let found = [first.time, first.before[1], first.before[2]];
            let reference = [2.3231317737, -1.46725238166, 29.0380243607];
            let names = ["instant of the impact at q = 5", "speed before it", "pressure at it"];
            for i in 0..3 {
                checks.push(check(names[i], found[i], reference[i], tolerance));
            }
        }
    }
    for worst in worst {
        checks.push(worst.check()?);
    }
    checks.push(impacts.check()?);
    Ok(checks)
}
