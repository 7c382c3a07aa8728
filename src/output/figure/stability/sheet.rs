//! What the panels share: the study, its branches and their scale across.

use super::branch::Branches;
use crate::output::plot::PAGE_WIDTH;
use crate::output::plot::axis::{Axis, Spacing};
use crate::output::plot::frame::{Mark, marks};
use crate::output::plot::tick::number;
use crate::output::unit::{Units, fitting_units, shown};
use crate::study::stability::StabilityStudy;
use crate::units::{ColumnUnit, Dimension};

const LEFT: f64 = 56.0;
const RIGHT: f64 = 56.0;

/// What the panels share.
pub(super) struct Sheet<'a> {
    pub(super) study: &'a StabilityStudy,
    pub(super) branches: Branches,
    pub(super) across: Axis,
    pub(super) units: Units,
}

pub(super) fn sheet(study: &StabilityStudy) -> Sheet<'_> {
    let ends = study.curve.first().zip(study.curve.last());
    let range = ends.map_or((study.differential, study.differential), |(a, b)| (a.differential, b.differential));
    Sheet {
        study,
        branches: Branches::of(study),
        across: Axis::new(Spacing::Logarithmic, range, (LEFT, PAGE_WIDTH - RIGHT)),
        units: fitting_units(Dimension::PressureDifference, range.1),
    }
}

/// Marks of the circuit differential; over a short range the minor ones are written as well.
pub(super) fn differentials(across: &Axis, unit: &ColumnUnit) -> Vec<Mark> {
    const SHORT: f64 = 30.0;
    let mut all = marks(across, unit, 8);
    if across.high / across.low < SHORT {
        all.iter_mut().filter(|m| m.label.is_empty()).for_each(|m| m.label = number(shown(m.value, unit)));
    }
    all
}
