//! Indicators in the document.

use crate::indicator::{Firmness, Indicator, Indicators};
use crate::output::unit::shown;
use crate::units::{ColumnUnit, Dimension, UnitSystem, column_unit};
use serde::Serialize;

/// One indicator with its units.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct IndicatorRow {
    /// Name.
    pub name: &'static str,
    /// Value in `unit`.
    pub value: Option<f64>,
    /// SI display unit.
    pub unit: &'static str,
    /// Value in `us_unit`.
    pub us_value: Option<f64>,
    /// US customary unit.
    pub us_unit: &'static str,
    /// Definition in one sentence.
    pub definition: &'static str,
    /// Does it stand to three digits? Else it is "about": the last bits of an input move its second digit.
    pub firm: bool,
}

/// Indicators as rows.
pub fn indicator_rows(indicators: &Indicators) -> Vec<IndicatorRow> {
    indicators.list().into_iter().map(indicator_row).collect()
}

pub(super) fn indicator_row(i: Indicator) -> IndicatorRow {
    let (si, us) = both(i.dimension);
    IndicatorRow {
        name: i.name,
        value: i.value.map(|v| shown(v, &si)),
        unit: si.name,
        us_value: i.value.map(|v| shown(v, &us)),
        us_unit: us.name,
        definition: i.definition,
        firm: i.firmness == Firmness::Firm,
    }
}

pub(super) fn both(dimension: Dimension) -> (ColumnUnit, ColumnUnit) {
    (column_unit(dimension, UnitSystem::Si), column_unit(dimension, UnitSystem::Us))
}
