//! The stiff solver on problems of the literature, and its orders of convergence.

use super::case::{Case, Check, Obtained, Tolerance, check};
use super::relief_valve::{self, ReliefValve};
use super::stiff_problems::{Hires, Orego, Robertson, UnscaledVanDerPol, VanDerPol, solve};
use super::table::table;
use super::worst::Worst;
use crate::portable::Portable;
use crate::solver::{Counters, Interval, Method, Settings, State, StepSize, integrate};

const METHODS: [Method; 2] = [Method::Rodas5P, Method::Rodas];
/// Relative tolerance of the solver.
const TOLERANCE: f64 = 1e-8;

/// The cases.
pub(super) fn cases() -> Vec<Case> {
    vec![
        Case {
            folder: "mazzia_magherini_2008_stiff_problems",
            name: "stiff problems of the literature, by both methods",
            source: "F. Mazzia, C. Magherini, Test Set for Initial Value Problem Solvers, University of Bari, 2008; \
                     E. Hairer, G. Wanner, Solving Ordinary Differential Equations II, 2nd ed., 1996",
            obtained: Obtained::Published,
            reason: "ten times the relative tolerance of 1e-8: it bounds the error of one step, and over some hundred to \
                     thousand steps of a dissipative problem the errors partly add up and mostly die out",
            misfit: None,
            checks: stiff_problems,
        },
        Case {
            folder: "order_of_convergence",
            name: "halving the step divides the error as the order says",
            source: "orders 5 and 4 of the two methods: G. Steinebach, Construction of Rosenbrock-Wanner method Rodas5P, \
                     BIT Numerical Mathematics 63, 2023 (from memory); E. Hairer, G. Wanner (1996)",
            obtained: Obtained::Exact,
            reason: "the next term of the error is one step size smaller, so that the order is seen to within a tenth or two",
            misfit: None,
            checks: orders,
        },
    ]
}

fn end_state(problem: &str, end: f64, method: Method) -> Result<Vec<f64>, String> {
    match problem {
        "robertson" => solve::<4, 3, Robertson>(end, method, TOLERANCE),
        "van der Pol eps 1e-6" => solve::<4, 2, VanDerPol>(end, method, TOLERANCE),
        "van der Pol mu 1000" => solve::<4, 2, UnscaledVanDerPol>(end, method, TOLERANCE),
        "hires" => solve::<12, 8, Hires>(end, method, TOLERANCE),
        "orego" => solve::<4, 3, Orego>(end, method, TOLERANCE),
        other => Err(format!("no problem {other:?}")),
    }
}

fn stiff_problems() -> Result<Vec<Check>, String> {
    let table = table!("mazzia_magherini_2008_stiff_problems/end_states.csv")?;
    let mut worst: Vec<(&str, Worst)> = Vec::new();
    let mut whole = Worst::new("sum of the states of robertson", Tolerance::Absolute(1e-12));
    let mut bound = Worst::new("sum of the last two states of hires", Tolerance::Absolute(1e-14));
    for method in METHODS {
        let mut solved: Option<(&str, f64, Vec<f64>)> = None;
        for row in table.rows() {
            let (problem, [end, state, value]) = (row.text("problem")?, row.numbers(["end_time", "state", "value"])?);
            let y = match solved.take() {
                Some((name, time, y)) if name == problem && time == end => y,
                _ => end_state(problem, end, method)?,
            };
            if worst.last().is_none_or(|(name, _)| *name != problem) && !worst.iter().any(|(name, _)| *name == problem)
            {
                worst.push((problem, Worst::new("state at the end", Tolerance::Relative(10.0 * TOLERANCE))));
            }
            let ours = y.get(state as usize - 1).copied().ok_or("a state that the problem does not have")?;
            let place = format!("{problem}, t = {end}, state {state}, {method:?}");
            for (_, worst) in worst.iter_mut().filter(|(name, _)| *name == problem) {
                worst.note(ours, value, || place.clone());
            }
            match problem {
                "robertson" => whole.note(y.iter().sum(), 1.0, || format!("t = {end}")),
                "hires" => bound.note(y[6] + y[7], 0.0057, String::new),
                _ => {}
            }
            solved = Some((problem, end, y));
        }
    }
    let mut checks = Vec::new();
    for (_, worst) in worst {
        checks.push(worst.check()?);
    }
    checks.push(whole.check()?);
    checks.push(bound.check()?);
    Ok(checks)
}

/// The relief valve at q = 9 until t = 10 in equal steps.
fn in_steps_of(step: f64, method: Method) -> Result<[f64; 3], String> {
    let mut valve = ReliefValve::published(9.0);
    let settings = Settings { method, ..relief_valve::accuracy(1e-9).settings };
    let mut state = State::at_start([0.2, 0.0, 10.2]);
    let interval = Interval { from: 0.0, to: 10.0 };
    let size = StepSize::Fixed(step);
    integrate::<4, 3, 0, 0, _>(&mut valve, interval, &mut state, size, &settings, &mut Counters::default())
        .map_err(|cause| cause.to_string())?;
    Ok(state.y)
}

fn orders() -> Result<Vec<Check>, String> {
    let exact = [1.357361544909, 3.240472969341, 36.87958596103];
    let mut checks = Vec::new();
    // Steps at which the leading term of the error rules and rounding does not.
    for (method, order, step) in [(Method::Rodas5P, 5.0, 0.01), (Method::Rodas, 4.0, 0.0025)] {
        let error = |step: f64| -> Result<f64, String> {
            let y = in_steps_of(step, method)?;
            Ok(y.iter().zip(exact).map(|(ours, exact)| (ours / exact - 1.0).to_the(2)).sum::<f64>().sqrt())
        };
        let observed = (error(step)? / error(0.5 * step)?).binary_logarithm();
        checks.push(check(format!("observed order of {method:?}"), observed, order, Tolerance::Absolute(0.2)));
    }
    Ok(checks)
}
