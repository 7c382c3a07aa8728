//! A rigid column of liquid that a constant differential starts against a loss.

use super::case::{Case, Check, Obtained, Tolerance};
use super::part_alone::{PartAlone, mounted};
use super::table::table;
use super::water_valve::inviscid_water_valve;
use crate::physics::fluid::Phase;
use crate::physics::parts::LineModel;
use crate::physics::state::{FROM_UPSTREAM, UPSTREAM_FLOW};

pub(super) fn cases() -> Vec<Case> {
    vec![Case {
        folder: "rigid_column",
        name: "Start of a rigid column against a loss",
        source: "own integration of the momentum of a rigid column: v = v0·tanh(t/τ)",
        obtained: Obtained::Exact,
        reason: "the listed times have nine digits, and the stiff solver works at 1e-10",
        misfit: None,
        checks,
    }]
}

/// The lumped line of the installation itself, its port held at the start pressure.
fn checks() -> Result<Vec<Check>, String> {
    const DENSITY: f64 = 998.2;
    const DROP: f64 = 1e5;
    let mut scenario = inviscid_water_valve()?;
    scenario.upstream.model = LineModel::Lumped;
    scenario.upstream.length = 20.0;
    scenario.upstream.friction_factor = 0.0;
    scenario.upstream.loss_coefficient = 5.0;
    scenario.supply.droop = 0.0;
    if let Phase::Liquid(liquid) = &mut scenario.fluid.phase {
        liquid.density = DENSITY;
    }
    let installation = mounted(&scenario, 293.15);
    // 6.330255116 m/s: √(2·Δp/(ρ·K)).
    let flow = DENSITY * installation.upstream.state.area * (2.0 * DROP / (DENSITY * 5.0)).sqrt();
    let p_1 = 2e5;
    let mut y = installation.at_rest(p_1, p_1);
    let mut alone = PartAlone::new(&installation, &[UPSTREAM_FLOW]);
    alone.forcing[FROM_UPSTREAM] = p_1 + DROP - installation.upstream.state.datum;
    let mut time = 0.0;
    let mut checks = Vec::new();
    for row in table!("rigid_column/start.csv")?.rows() {
        let to = row.number("time_s")?;
        alone.advance(&mut y, time, to, 1e-10)?;
        time = to;
        checks.push(Check {
            quantity: format!("velocity after {to:.3} s, over the final one"),
            ours: y[UPSTREAM_FLOW] / flow,
            reference: row.number("share")?,
            tolerance: Tolerance::Relative(1e-6),
        });
    }
    Ok(checks)
}
