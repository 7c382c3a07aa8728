//! Past a hard Hopf point a relief valve is stable to small disturbances and chatters after large ones.

use super::case::{Case, Check, Obtained, Tolerance};
use super::relief_valve::{LIFT, RESTITUTION, ReliefValve, SOURCE, accuracy};
use super::restitution::Body;
use super::table::table;
use super::trail::turns;
use super::worst::Worst;

/// The cases.
pub(super) fn cases() -> Vec<Case> {
    vec![
        Case {
            folder: "licsko_champneys_hos_2009_relief_valve",
            name: "chatter beside a stable equilibrium (hard loss of stability)",
            source: SOURCE,
            obtained: Obtained::Library("scipy 1.17.1"),
            reason: "whether there are impacts is exact; how many depends on the tolerance of the integration (69 to 75 \
                     against 66, 60 to 63 against 58 were seen), the largest lift far less",
            misfit: None,
            checks: bistability,
        },
        Case {
            folder: "licsko_champneys_hos_2009_relief_valve",
            name: "impacts per time of a chattering relief valve",
            source: SOURCE,
            obtained: Obtained::Library("scipy 1.17.1"),
            reason: "the motions at q = 6 and above are irregular or settle late: an impact more or less falls into the window \
                     with the tolerance of the integration; two are allowed",
            misfit: None,
            checks: impact_windows,
        },
    ]
}

/// Time over which the reference was observed.
const OBSERVED: f64 = 500.0;

fn bistability() -> Result<Vec<Check>, String> {
    let table = table!("licsko_champneys_hos_2009_relief_valve/bistability.csv")?;
    let mut quiet = Worst::new("impacts where there are none", Tolerance::Absolute(0.0));
    let mut struck = Worst::new("impacts in 500 units of time", Tolerance::Relative(0.2));
    let mut lift = Worst::new("largest lift in the second half of them", Tolerance::Relative(0.02));
    let accuracy = accuracy(1e-9);
    for row in table.rows() {
        let [kappa, beta, delta] = row.numbers(["kappa", "beta", "delta"])?;
        let [hopf, factor, start] = row.numbers(["hopf_q", "q_over_hopf", "start_over_equilibrium"])?;
        let valve = ReliefValve { kappa, beta, delta, q: hopf * factor };
        let body = Body { system: &valve, accuracy: &accuracy };
        let mut y = valve.equilibrium();
        y[LIFT] *= start;
        let motion = body.bounce(y, OBSERVED, RESTITUTION)?;
        let place = format!("kappa {kappa}, beta {beta}, {factor} of the Hopf feed, start at {start}");
        let (count, reference) = (motion.impacts.len() as f64, row.number("impacts")?);
        if reference == 0.0 {
            quiet.note(count, reference, || place.clone());
        } else {
            struck.note(count, reference, || place.clone());
            let highest = turns(&motion.trail, LIFT, 0.5 * OBSERVED).iter().map(|turn| turn.value).fold(0.0, f64::max);
            lift.note(highest, row.number("largest_lift")?, || place.clone());
        }
    }
    Ok(vec![quiet.check()?, struck.check()?, lift.check()?])
}

/// From this feed on the motion is chaotic: starting pressures 10⁻⁶ to 10⁻¹¹ apart give counts up to 4 apart (scipy).
const CHAOTIC_FROM: f64 = 7.0;

fn impact_windows() -> Result<Vec<Check>, String> {
    let table = table!("licsko_champneys_hos_2009_relief_valve/impact_windows.csv")?;
    let accuracy = accuracy(1e-9);
    let mut checks = Vec::new();
    for row in table.rows() {
        let [q, reference] = row.numbers(["q", "impacts"])?;
        let valve = ReliefValve::published(q);
        let body = Body { system: &valve, accuracy: &accuracy };
        let motion = body.bounce([0.2, 0.0, 0.0], 260.0, RESTITUTION)?;
        checks.push(Check {
            quantity: format!("impacts between 200 and 260 units of time (q = {q})"),
            ours: motion.impacts_within(200.0, 260.0) as f64,
            reference,
            tolerance: Tolerance::Absolute(if q >= CHAOTIC_FROM { 4.0 } else { 2.0 }),
        });
    }
    Ok(checks)
}
