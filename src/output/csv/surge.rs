//! Surges of several fluids as a table: one row for each fluid.

use super::table::{Table, field, heading, optional, short};
use crate::study::surge::{Boiling, FluidRow, Outcome, Remedy, SurgeComparison};
use crate::units::{ColumnUnit, Dimension, UnitSystem, column_unit};

/// A number of a row; none where the fluid has none.
type Value = fn(&FluidRow) -> Option<f64>;

const NUMBERS: &[(&str, Dimension, Value)] = &[
    ("temperature", Dimension::Temperature, |row| Some(row.state.temperature)),
    ("pressure", Dimension::AbsolutePressure, |row| Some(row.state.pressure)),
    ("density", Dimension::Density, |row| Some(row.state.density)),
    ("sound_speed_unconfined", Dimension::Velocity, |row| Some(row.state.sound_speed)),
    ("wave_speed", Dimension::Velocity, |row| Some(row.wave_speed)),
    ("surge_per_velocity_rigid_line", Dimension::Impedance, |row| Some(row.rigid_surge_per_velocity)),
    ("surge_per_velocity", Dimension::Impedance, |row| Some(row.surge_per_velocity)),
    ("return_time", Dimension::Time, |row| Some(row.return_time)),
    ("velocity", Dimension::Velocity, |row| Some(row.velocity)),
    ("surge", Dimension::PressureDifference, |row| Some(row.surge)),
    ("inlet_peak", Dimension::AbsolutePressure, |row| Some(row.peak())),
    ("margin_to_boiling", Dimension::PressureDifference, |row| row.boiling.map(|b| b.margin)),
    ("subcooling", Dimension::TemperatureDifference, |row| row.boiling.and_then(|b| b.subcooling)),
    ("velocity_without_cavity", Dimension::Velocity, |row| row.boiling.map(|b| b.bearable_velocity)),
];

/// The comparison as a table.
pub fn surge(comparison: &SurgeComparison) -> Vec<u8> {
    let units: Vec<ColumnUnit> = NUMBERS.iter().map(|(_, kind, _)| column_unit(*kind, UnitSystem::Si)).collect();
    let kelvin = column_unit(Dimension::TemperatureDifference, UnitSystem::Si);
    let mut table = Table::new();
    let numbers = NUMBERS.iter().zip(&units).map(|((name, ..), unit)| heading(name, unit));
    let last = ["behind_valve", "upstream"]
        .into_iter()
        .flat_map(|side| [side.to_owned(), heading(&format!("subcooling_that_avoids_it_{side}"), &kelvin)]);
    let first = ["fluid", "phase"].map(String::from).into_iter();
    let over = ["surge_over_water", "return_time_over_water"].map(String::from);
    table.row(first.chain(numbers).chain(over).chain(last));
    for row in &comparison.rows {
        let phase = if row.is_gas() { "gas" } else { "liquid" };
        let mut fields = vec![row.label.clone(), phase.to_owned()];
        fields.extend(NUMBERS.iter().zip(&units).map(|((.., value), unit)| optional(value(row), unit)));
        let reference = &comparison.reference;
        fields.push(short(row.surge_per_velocity / reference.surge_per_velocity));
        fields.push(short(row.return_time / reference.return_time));
        let sides: [fn(&Boiling) -> Outcome; 2] = [|b| b.behind.outcome, |b| b.upstream.outcome];
        fields.extend(sides.into_iter().flat_map(|side| outcome(row.boiling.as_ref().map(side), &kelvin)));
        table.row(fields);
    }
    table.finish()
}

/// What comes of it, and what avoids it; empty for a gas.
fn outcome(found: Option<Outcome>, kelvin: &ColumnUnit) -> [String; 2] {
    let remedy = found.and_then(Outcome::remedy).map_or(String::new(), |remedy| match remedy {
        Remedy::Subcooling(least) => field(least, kelvin),
        Remedy::NoneWould => "none would".to_owned(),
        Remedy::NotKnown => String::new(),
    });
    [found.map_or(String::new(), |outcome| outcome.words().to_owned()), remedy]
}
