//! The isotherms: which there are, where they run, how they are coloured.

use crate::output::plot::colour::{Colour, VERMILLION};
use crate::output::unit::{hidden, reading, shown, units};
use crate::study::coil_heat::Found;
use crate::study::heat::{HeatStudy, Panel};
use crate::units::Dimension;

/// Steps between isotherms, K.
const STEPS: [f64; 5] = [2.0, 5.0, 10.0, 20.0, 50.0];
/// Isotherms are at most this many.
const MOST: f64 = 14.0;
/// No isotherm lies higher, °C: a winding there has long burnt.
const HIGHEST: f64 = 300.0;

/// The isotherms of all panels, K, rising.
pub(super) struct Levels {
    pub(super) values: Vec<f64>,
}

impl Levels {
    pub(super) fn new(study: &HeatStudy) -> Levels {
        let unit = units(Dimension::Temperature).si;
        let means =
            || study.panels.iter().flat_map(|panel| panel.cells.iter().flatten()).map(|found| shown(found.mean, &unit));
        let low = means().fold(f64::INFINITY, f64::min);
        let high = means().fold(f64::NEG_INFINITY, f64::max).min(HIGHEST);
        let step = STEPS.into_iter().find(|step| (high - low) / step <= MOST).unwrap_or(STEPS[STEPS.len() - 1]);
        let (first, last) = ((low / step).ceil(), (high / step).floor());
        // Not so where a temperature is no number.
        let count = if last >= first { (last - first) as usize + 1 } else { 0 };
        Levels { values: (0..count).map(|i| hidden((first + i as f64) * step, &unit)).collect() }
    }

    /// Colour of the band above an isotherm: the hotter, the darker, also in a grey print.
    pub(super) fn colour(&self, level: usize) -> Colour {
        VERMILLION.tint(0.08 + 0.62 * (level + 1) as f64 / self.values.len().max(1) as f64)
    }

    /// Below the first.
    pub(super) fn coolest() -> Colour {
        VERMILLION.tint(0.04)
    }
}

/// An isotherm's name in both systems of units.
pub(super) fn name(value: f64) -> String {
    reading(value, &units(Dimension::Temperature))
}

/// On-share of each column at which a temperature comes to a level, between neighbouring cells in a straight line: the temperature
/// rises with the share. Nought where the level lies below all, and 2, beyond every share, where it lies above.
pub(super) fn crossings(study: &HeatStudy, panel: &Panel, of: fn(&Found) -> f64, level: f64) -> Vec<f64> {
    let at = |row: usize, column: usize| of(&panel.cells[row][column]);
    let crossing = |column: usize| {
        if at(0, column) >= level {
            return 0.0;
        }
        let row = (1..study.shares.len()).find(|row| at(*row, column) >= level);
        row.map_or(2.0, |row| {
            let (low, high) = (at(row - 1, column), at(row, column));
            let part = (level - low) / (high - low);
            study.shares[row - 1] + part * (study.shares[row] - study.shares[row - 1])
        })
    };
    (0..study.rates.len()).map(crossing).collect()
}
