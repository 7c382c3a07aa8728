//! What `check` remarks on one scenario, for a whole map: a fluid whose state stands at another pressure than the supply's.

use super::axis::Grid;
use super::column::scenario_at;
use crate::scenario::{Document, Scenario, at_other_pressure};
use crate::units::{Dimension, text};

/// The remark on a map somewhere on which the fluid's state is not that of the supply: where the scenario states
/// two of temperature, pressure, and subcooling or superheat, which set a pressure of their own.
pub fn other_pressure(document: &Document, grid: &Grid) -> Option<String> {
    let places = |values: &[f64]| [0, values.len() / 2, values.len() - 1].map(|i| values[i]);
    let (across, up) = (places(&grid.x.values), places(&grid.y.values));
    let at = |x: f64, y: f64| scenario_at(document, &[(&grid.x.path, x), (&grid.y.path, y)]).ok();
    let read: Vec<Scenario> = across.iter().flat_map(|&x| up.iter().filter_map(move |&y| at(x, y))).collect();
    let off: Vec<(f64, f64)> = read
        .iter()
        .filter_map(|scenario| Some((scenario.named.as_ref()?.state.pressure, scenario.supply.pressure)))
        .filter(|&(state, supply)| at_other_pressure(state, supply))
        .collect();
    let states = span(off.iter().map(|pair| pair.0))?;
    let supplies = span(off.iter().map(|pair| pair.1))?;
    Some(format!(
        "over the map the properties are those at {states}, but the supply is at {supplies}: of temperature, pressure, and \
         subcooling or superheat two are stated, and these set the pressure of the state; with one alone it is the supply's"
    ))
}

/// The span of some pressures in words; none of none.
fn span(values: impl Iterator<Item = f64>) -> Option<String> {
    let (low, high) = values.fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), v| (l.min(v), h.max(v)));
    let (from, to) = (text(low, Dimension::AbsolutePressure), text(high, Dimension::AbsolutePressure));
    (low <= high).then(|| if from == to { from } else { format!("{from} to {to}") })
}
