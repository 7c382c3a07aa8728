//! Is the model used where it holds?

use crate::indicator::Indicators;
use crate::physics::fluid::Phase;
use crate::scenario::Scenario;
use crate::units::{Dimension, text};

/// A gas line is linearised about its own end; by the exact relation for a sudden stop of a perfect gas the pressure is then
/// 0.8 % low at Mach 0.1 and 5.5 % low at 0.3 (normal shock relations, see validation).
const MACH_LIMIT: f64 = 0.3;

/// A gas line's density is that of its end: friction is off in proportion to the change of pressure along it.
const GAS_LINE_CHANGE: f64 = 0.1;

/// Where a run uses the model beyond its range, in sentences.
pub fn remarks(scenario: &Scenario, found: &Indicators) -> Vec<String> {
    let mach = found.inlet_mach.unwrap_or(0.0).max(found.outlet_mach.unwrap_or(0.0));
    let mut remarks = Vec::new();
    if mach > MACH_LIMIT {
        remarks.push(format!(
            "a line reaches Mach {mach:.2}. Gas lines are computed as small disturbances; above Mach {MACH_LIMIT} their \
             pressures are more than 5 % off."
        ));
    }
    let change = |p: Option<f64>, end: f64| p.map_or(0.0, |p| (p - end).abs() / end);
    let spread = change(found.inlet_pressure_open, scenario.supply.pressure)
        .max(change(found.outlet_pressure_open, scenario.sink.pressure));
    if matches!(scenario.fluid.phase, Phase::Gas(_)) && spread > GAS_LINE_CHANGE {
        remarks.push(format!(
            "the pressure changes by {:.0} % along a line. A gas line is computed with the density of its own end; above \
             {:.0} % its friction and flow are off by about as much.",
            100.0 * spread,
            100.0 * GAS_LINE_CHANGE
        ));
    }
    // A crest of the pull lifts more than its mean, in some of the phases at which the contact may close.
    let lucky = found.armature_opening_time.is_some() && scenario.valve.coil.supply.mains_frequency().is_some();
    let beyond = found.highest_opening_differential.filter(|limit| lucky && *limit < scenario.differential());
    if let Some(limit) = beyond.filter(|_| !scenario.valve.normally_open()) {
        remarks.push(format!(
            "here the armature lifts against {}, although the mean pull lifts it against {} only: at this phase of switching a crest of \
             the pull does it. A contact closes at a chance phase; do not count on more than the mean.",
            text(scenario.differential(), Dimension::PressureDifference),
            if limit > 0.0 { text(limit, Dimension::PressureDifference) } else { "nothing".to_owned() }
        ));
    }
    let cavity = found.largest_inlet_cavity.unwrap_or(0.0).max(found.largest_outlet_cavity.unwrap_or(0.0));
    if cavity > 0.0 {
        remarks.push(
            "a vapour cavity opens at the valve. The first closure's peak is sound; what follows its collapse (later \
             peaks) is uncertain."
                .into(),
        );
    }
    remarks
}
