//! The valve's own contacts and dry friction against closed forms.

use super::case::{Case, Check, Obtained, Tolerance, check};
use super::part_alone::{PartAlone, mounted};
use super::table::table;
use super::water_valve::water_valve;
use super::worst::Worst;
use crate::dual::Real;
use crate::physics::parts::{Contact, MainStage, StageKind};
use crate::physics::state::{DEFLECTION, LIFT, LIFT_RATE};
use crate::portable::Portable;
use crate::solver::{Counters, Interval, Method, Settings, State, Step, StepSize, System, Then, integrate};

/// The cases.
pub(super) fn cases() -> Vec<Case> {
    vec![
        Case {
            folder: "hunt_crossley_1975_impact",
            name: "speeds before and after a compliant contact",
            source: "K. H. Hunt, F. R. E. Crossley, Coefficient of restitution interpreted as damping in vibroimpact, \
                     Journal of Applied Mechanics 42, 1975 (law from memory), own integral of the law",
            obtained: Obtained::Exact,
            reason: "the references have seven digits; the loss is the small difference of two energies, hence 1e-6",
            misfit: None,
            checks: impacts,
        },
        Case {
            folder: "coulomb_friction",
            name: "turning points of a spring under dry friction",
            source: "Coulomb's law of friction, closed form",
            obtained: Obtained::Exact,
            reason: "before it slides the friction gives elastically by 1 nm, and its law fades in over a few of them: 20 nm \
                     of 10 mm",
            misfit: None,
            checks: turning_points,
        },
    ]
}

/// A mass that meets a contact: indentation and its rate, with the loss as running integral.
struct Impact {
    contact: Contact,
    mass: f64,
}

impl System<2, 0, 1> for Impact {
    fn forcing(&self, _time: f64) -> ([f64; 0], [f64; 0]) {
        ([], [])
    }
    fn rates<T: Real>(&self, _forcing: &[T; 0], y: &[T; 2], rate: &mut [T; 2], loss: &mut [T; 1]) {
        let touch = self.contact.touch(y[0], y[1]);
        *rate = [y[1], -touch.force * (1.0 / self.mass)];
        loss[0] = touch.loss;
    }
    fn longest_step(&self, _time: f64) -> f64 {
        f64::INFINITY
    }
    fn accepted(&mut self, step: &Step<'_, 2, 1>) -> Then {
        if step.new_y[0] < 0.0 { Then::Stop } else { Then::Continue }
    }
}

/// Speed after an impact at `speed` (m/s) and the loss (J).
fn rebound(contact: &Contact, mass: f64, speed: f64) -> Result<(f64, f64), String> {
    let mut impact = Impact { contact: contact.clone(), mass };
    let mut state = State::at_start([1e-12, speed]);
    let settings = Settings {
        method: Method::Rodas5P,
        relative_tolerance: 1e-10,
        absolute_tolerance: [1e-16, 1e-11],
        most_steps: 100_000,
    };
    let (interval, first) = (Interval { from: 0.0, to: 1.0 }, StepSize::Controlled { first: Some(1e-9) });
    let mut counters = Counters::default();
    let finish = integrate::<4, 2, 0, 1, _>(&mut impact, interval, &mut state, first, &settings, &mut counters)
        .map_err(|cause| cause.to_string())?;
    match finish.then {
        Then::Stop => Ok((-state.y[1], state.integrals[0])),
        Then::Continue => Err("the mass did not come back within a second".into()),
    }
}

fn impacts() -> Result<Vec<Check>, String> {
    let table = table!("hunt_crossley_1975_impact/restitution.csv")?;
    let mut ratio = Worst::new("speed after over speed before", Tolerance::Absolute(1e-7));
    let mut balance = Worst::new("the two sides of the speeds' relation, m²/s²", Tolerance::Relative(1e-6));
    let mut lost = Worst::new("loss over the kinetic energy lost", Tolerance::Relative(1e-6));
    for row in table.rows() {
        let [d, speed, restitution] = row.numbers(["dissipation_s_m", "speed_before_m_s", "restitution"])?;
        for (stiffness, mass) in [(1.5e8, 0.035), (3e9, 0.018)] {
            let contact = Contact { stiffness, dissipation: d };
            let (after, loss) = rebound(&contact, mass, speed)?;
            let place = format!("{speed} m/s on {stiffness:e} N/m^1.5");
            ratio.note(after / speed, restitution, || place.clone());
            let before_side = speed / d - (d * speed).logarithm_beside_one() / (d * d);
            let after_side = -after / d - (-d * after).logarithm_beside_one() / (d * d);
            balance.note(after_side, before_side, || place.clone());
            lost.note(loss / (0.5 * mass * (speed * speed - after * after)), 1.0, || place.clone());
        }
    }
    Ok(vec![ratio.check()?, balance.check()?, lost.check()?])
}

/// A spring of 1000 N/m, drawn out by 10 mm, with 1 N of friction: 10, −8, 6, −4, 2 mm. The main stage of a water valve,
/// free in equal pressures, as a piston.
fn turning_points() -> Result<Vec<Check>, String> {
    let (rate, mass, centre) = (1000.0, 0.1, 0.02);
    let mut scenario = water_valve()?;
    scenario.valve.main = MainStage {
        kind: StageKind::Piston { friction: 1.0, presliding_stiffness: 1e9 },
        preload: -rate * centre,
        spring_rate: rate,
        mass,
        damping: 0.0,
        lift: 10.0 * centre,
        ..scenario.valve.main
    };
    let installation = mounted(&scenario, 293.15);
    let mut y = installation.at_rest(2e5, 2e5);
    // It starts off sliding inwards, so that its friction is fully developed.
    (y[LIFT], y[LIFT_RATE], y[DEFLECTION]) = (centre + 0.010, 0.0, -1e-9);
    let mut alone = PartAlone::new(&installation, &[LIFT, LIFT_RATE, DEFLECTION]);
    let half = std::f64::consts::PI * f64::sqrt(mass / rate);
    alone.advance(&mut y, 0.0, 4.5 * half, 1e-8)?;
    let mut turns = Vec::new();
    for pair in alone.trail.windows(2) {
        let ((_, a), (_, b)) = (&pair[0], &pair[1]);
        if a[LIFT_RATE] * b[LIFT_RATE] <= 0.0 && a[LIFT_RATE] != 0.0 {
            let nearer = if a[LIFT_RATE].abs() < b[LIFT_RATE].abs() { a } else { b };
            turns.push(nearer[LIFT] - centre);
        }
    }
    let place = |index: usize| format!("turning point {}, m", index + 1);
    let exact = [-0.008, 0.006, -0.004, 0.002];
    let compared = exact
        .into_iter()
        .enumerate()
        .map(|(i, exact)| check(place(i), turns.get(i).copied().unwrap_or(f64::NAN), exact, Tolerance::Absolute(2e-8)));
    Ok(compared.collect())
}
