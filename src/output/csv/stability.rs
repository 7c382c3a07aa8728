//! A study of stability as a table: one row for each equilibrium of each differential, by rising differential and lift.

use super::table::{Table, field, heading, optional};
use crate::output::answer;
use crate::study::stability::StabilityStudy;
use crate::study::stability::curve::Branch;
use crate::units::{ColumnUnit, Dimension, UnitSystem, column_unit};

/// The curve of a study. A differential that could not be computed has one row without an equilibrium.
pub fn stability(study: &StabilityStudy) -> Vec<u8> {
    let unit = |dimension| column_unit(dimension, UnitSystem::Si);
    let (pressure, share, rate) = (
        unit(Dimension::PressureDifference),
        unit(Dimension::Fraction),
        ColumnUnit { scale: 1.0, offset: 0.0, name: "1/s" },
    );
    let frequency = ColumnUnit { scale: 1.0, offset: 0.0, name: "Hz" };
    let mut table = Table::new();
    table.row([
        heading("circuit_differential", &pressure),
        "state".into(),
        heading("lift", &share),
        heading("differential_across_valve", &pressure),
        "answer".into(),
        heading("growth_of_leading_mode", &rate),
        heading("frequency_of_leading_mode", &frequency),
    ]);
    let fields = |branch: &Branch| {
        [
            branch.rest.words().to_owned(),
            field(branch.lift, &share),
            field(branch.across, &pressure),
            answer::word(branch.answer).to_owned(),
            optional(branch.growth, &rate),
            optional(branch.frequency, &frequency),
        ]
    };
    for point in &study.curve {
        let differential = field(point.differential, &pressure);
        if point.branches.is_empty() {
            table.row(std::iter::once(differential.clone()).chain(std::iter::repeat_n(String::new(), 6)));
        }
        for branch in &point.branches {
            table.row(std::iter::once(differential.clone()).chain(fields(branch)));
        }
    }
    table.finish()
}
