//! A map of a coil's heat as a table: one row for each duty and state of the armature.

use super::table::{Table, field, heading, optional};
use crate::study::coil_heat::{Armature, Found};
use crate::study::heat::HeatStudy;
use crate::units::{ColumnUnit, Dimension, UnitSystem, column_unit};

/// A number of a cell; none where the coil has none.
type Value = fn(&Found) -> Option<f64>;

const NUMBERS: &[(&str, Dimension, Value)] = &[
    ("winding_mean", Dimension::Temperature, |found| Some(found.mean)),
    ("winding_lowest", Dimension::Temperature, |found| Some(found.lowest)),
    ("winding_highest", Dimension::Temperature, |found| Some(found.highest)),
    ("body_mean", Dimension::Temperature, |found| found.body),
    ("winding_heat", Dimension::Power, |found| Some(found.winding_power)),
    ("ring_and_eddy_heat", Dimension::Power, |found| Some(found.iron_power)),
    ("time_to_63_percent", Dimension::Time, |found| found.warm_up),
];

/// The map as a table.
pub fn heat(study: &HeatStudy) -> Vec<u8> {
    let unit = |dimension| column_unit(dimension, UnitSystem::Si);
    let (rate, share) = (unit(Dimension::CycleRate), unit(Dimension::Fraction));
    let units: Vec<ColumnUnit> = NUMBERS.iter().map(|(_, kind, _)| unit(*kind)).collect();
    let mut table = Table::new();
    let first = ["armature".to_owned(), heading("cycle_rate", &rate), heading("on_share", &share)];
    let numbers = NUMBERS.iter().zip(&units).map(|((name, ..), unit)| heading(name, unit));
    table.row(first.into_iter().chain(numbers).chain(["within_limit".to_owned()]));
    for panel in &study.panels {
        for (on, row) in study.shares.iter().zip(&panel.cells) {
            for (cycle, found) in study.rates.iter().zip(row) {
                let mut fields = vec![word(panel.armature).to_owned(), field(*cycle, &rate), field(*on, &share)];
                fields.extend(NUMBERS.iter().zip(&units).map(|((.., value), unit)| optional(value(found), unit)));
                let within = study.limit.map(|limit| found.highest <= limit.temperature);
                fields.push(within.map_or(String::new(), |within| within.to_string()));
                table.row(fields);
            }
        }
    }
    table.finish()
}

fn word(armature: Armature) -> &'static str {
    match armature {
        Armature::ComesIn => "in",
        Armature::StaysOut => "out",
    }
}
