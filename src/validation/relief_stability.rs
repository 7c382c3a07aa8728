//! The relief valve of three equations by the stability code that judges the valve: its Hopf points, their onset, and the
//! growth of small motions beside them.

use super::case::{Case, Check, Obtained, Tolerance};
use super::relief_valve::{ReliefValve, SOURCE};
use super::table::{Row, table};
use super::worst::Worst;
use crate::dual::Real;
use crate::physics::line::reflection::Reflection;
use crate::solver::System;
use crate::stability::characteristic::{C64, Characteristic};
use crate::stability::model::{Model, Point};
use crate::stability::onset::{Onset, first_lyapunov};
use crate::stability::roots::Band;

const FOLDER: &str = "licsko_champneys_hos_2009_relief_valve";
/// Angular frequencies of the valve are of the order of one.
const BAND: Band = Band { lowest: 1e-3, highest: 10.0 };

pub(super) fn cases() -> Vec<Case> {
    let case = |name, reason, checks| Case {
        folder: FOLDER,
        name,
        source: SOURCE,
        obtained: Obtained::Library("mpmath 1.4.1"),
        reason,
        misfit: None,
        checks,
    };
    vec![
        case(
            "Hopf points of a relief valve, soft and hard",
            "roots by Newton's method to rounding; second and third derivatives are differences of exact first ones, \
             extrapolated: 1e-6, and the coefficients nearest to zero lose digits",
            hopf_points,
        ),
        case(
            "Growth of small motions of a relief valve",
            "roots by Newton's method to rounding; the table has ten digits",
            growth,
        ),
    ]
}

impl Model<3, 0> for ReliefValve {
    fn rates<T: Real>(&self, _: &[T; 0], y: &[T; 3], rate: &mut [T; 3], _: &mut [T; 0]) {
        System::rates(self, &[], y, rate, &mut []);
    }
    fn lines(&self) -> [Option<Reflection>; 0] {
        []
    }
    fn scales(&self) -> [f64; 3] {
        [1.0; 3]
    }
    fn pressure_scale(&self) -> f64 {
        1.0
    }
}

fn valve(row: &Row<'_>, q: f64) -> Result<ReliefValve, String> {
    let [kappa, beta, delta] = row.numbers(["kappa", "beta", "delta"])?;
    Ok(ReliefValve { kappa, beta, delta, q })
}

fn place(row: &Row<'_>) -> String {
    let text = |name| row.text(name).unwrap_or("?").to_owned();
    format!("κ {}, β {}, δ {}", text("kappa"), text("beta"), text("delta"))
}

fn point(valve: &ReliefValve) -> Point<3, 0> {
    Point { y: valve.equilibrium(), arriving: [] }
}

/// The oscillating mode of the open valve at rest.
fn mode(valve: &ReliefValve) -> Result<C64, String> {
    let modes = Characteristic::of(valve, &point(valve)).modes(BAND, &[]);
    modes.first().copied().ok_or_else(|| format!("no oscillating mode of {valve:?}"))
}

/// Feed at which the mode has no growth, by the secant method from both sides of `near`.
fn neutral(row: &Row<'_>, near: f64) -> Result<ReliefValve, String> {
    let growth = |q: f64| Ok::<f64, String>(mode(&valve(row, q)?)?.re);
    let (mut a, mut b) = (0.97 * near, 1.03 * near);
    let (mut at_a, mut at_b) = (growth(a)?, growth(b)?);
    for _ in 0..40 {
        if at_a == at_b || (b - a).abs() <= 1e-15 * b {
            break;
        }
        let next = b - at_b * (b - a) / (at_b - at_a);
        (a, at_a) = (b, at_b);
        (b, at_b) = (next, growth(next)?);
    }
    valve(row, b)
}

fn hopf_points() -> Result<Vec<Check>, String> {
    let mut flow = Worst::new("feed at the Hopf point q_H", Tolerance::Relative(1e-9));
    let mut lift = Worst::new("lift there", Tolerance::Relative(1e-9));
    let mut frequency = Worst::new("angular frequency there", Tolerance::Relative(1e-9));
    let mut coefficient = Worst::new("first Lyapunov coefficient", Tolerance::Relative(1e-4));
    let mut kind = Worst::new("hard onset (1: yes)", Tolerance::Absolute(0.0));
    for row in table!("licsko_champneys_hos_2009_relief_valve/hopf_points.csv")?.rows() {
        let q = row.number("hopf_flow")?;
        let found = neutral(&row, q)?;
        let root = mode(&found)?;
        flow.note(found.q, q, || place(&row));
        lift.note(found.equilibrium()[0], row.number("lift")?, || place(&row));
        frequency.note(root.im, row.number("angular_frequency")?, || place(&row));
        let at = point(&found);
        let onset = first_lyapunov(&found, at, &Characteristic::of(&found, &at), root).ok_or("no coefficient")?;
        coefficient.note(onset.coefficient, row.number("lyapunov")?, || place(&row));
        let hard = |yes: bool| f64::from(u8::from(yes));
        kind.note(hard(onset.onset == Onset::Hard), hard(row.text("kind")? == "subcritical"), || place(&row));
    }
    [flow, lift, frequency, coefficient, kind].into_iter().map(Worst::check).collect()
}

fn growth() -> Result<Vec<Check>, String> {
    let mut rate = Worst::new("growth per unit of time", Tolerance::Absolute(1e-8));
    let mut frequency = Worst::new("angular frequency", Tolerance::Relative(1e-8));
    for row in table!("licsko_champneys_hos_2009_relief_valve/growth_rate.csv")?.rows() {
        let root = mode(&valve(&row, row.number("flow")?)?)?;
        let at = || row.text("flow").unwrap_or("?").to_owned();
        rate.note(root.re, row.number("growth")?, at);
        frequency.note(root.im, row.number("angular_frequency")?, at);
    }
    [rate, frequency].into_iter().map(Worst::check).collect()
}
