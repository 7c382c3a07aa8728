//! All points of a closing study.

use super::table::{Table, field, heading, optional};
use crate::study::closing::{ClosingStudy, Point, Sweep};
use crate::units::{ColumnUnit, UnitSystem, column_unit};

/// The study as a table: one row for each run, parameter by parameter.
pub fn closing(study: &ClosingStudy) -> Vec<u8> {
    let list = study.today.list();
    let units: Vec<ColumnUnit> = list.iter().map(|i| column_unit(i.dimension, UnitSystem::Si)).collect();
    let mut table = Table::new();
    let first = ["parameter", "value", "unit", "today", "within_reach", "state", "meets_target", "uncertain"];
    let numbers = list.iter().zip(&units).map(|(i, u)| heading(i.name, u));
    table.row(first.map(String::from).into_iter().chain(numbers).chain(["failure".to_owned()]));
    for sweep in &study.sweeps {
        for point in &sweep.points {
            table.row(row(study, sweep, point, &units));
        }
    }
    table.finish()
}

fn row(study: &ClosingStudy, sweep: &Sweep, point: &Point, units: &[ColumnUnit]) -> Vec<String> {
    let parameter = &sweep.parameter;
    let unit = column_unit(parameter.dimension, UnitSystem::Si);
    let yes = |is: bool| if is { "yes" } else { "no" }.to_owned();
    let own = point.value == parameter.today;
    let mut fields = vec![
        parameter.path.to_owned(),
        field(point.value, &unit),
        unit.name.to_owned(),
        yes(own),
        yes(parameter.reachable(point.value) || own),
    ];
    match &point.outcome {
        Ok(closing) => {
            fields.extend(["done".to_owned(), yes(study.target.kept(closing)), yes(closing.uncertain)]);
            fields.extend(closing.list().iter().zip(units).map(|(i, u)| optional(i.value, u)));
            fields.push(String::new());
        }
        Err(reason) => {
            fields.extend(["failed".to_owned(), String::new(), String::new()]);
            fields.extend(units.iter().map(|_| String::new()));
            fields.push(reason.clone());
        }
    }
    fields
}
