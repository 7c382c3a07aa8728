//! What each panel shows, and over which range.

use super::curve::{Curve, Look};
use crate::output::plot::axis::Spacing;
use crate::output::plot::colour::{Colour, GREY};
use crate::output::plot::limit::LevelLine;
use crate::output::unit::{Units, fitting_units, largest_size, reading};
use crate::study::closing::{Closing, ClosingStudy, Criterion};
use crate::units::Dimension;

const LIMIT_COLOUR: Colour = Colour(150, 30, 0);
const GUIDE_COLOUR: Colour = Colour(0, 60, 110);
/// A limit further above the data than this share of their range would flatten them.
const FAR: f64 = 0.6;

/// One panel.
pub(super) struct Panel {
    pub(super) title: &'static str,
    pub(super) units: Units,
    pub(super) spacing: Spacing,
    pub(super) range: (f64, f64),
    pub(super) height: f64,
    pub(super) curves: Vec<Curve>,
    pub(super) levels: Vec<LevelLine>,
    /// Limits too far from the data to be drawn.
    pub(super) beyond: Vec<String>,
    /// Are the marks named here? Once is enough.
    pub(super) names_marks: bool,
    /// The value that is marked for today and for the change.
    pub(super) marked: fn(&Closing) -> Option<f64>,
}

/// The three panels.
pub(super) fn panels(study: &ClosingStudy) -> Vec<Panel> {
    vec![peaks(study), troughs(study), times(study)]
}

/// A curve over the leading parameter.
fn over_leading(study: &ClosingStudy, look: Look, of: fn(&Closing) -> Option<f64>) -> Curve {
    let points = study.leading().closings().filter_map(|(value, closing)| {
        let at = of(closing).filter(|v| v.is_finite())?;
        Some((value, at, closing.uncertain))
    });
    Curve { look, points: points.collect() }
}

fn peaks(study: &ClosingStudy) -> Panel {
    let curves = vec![
        over_leading(study, Look::Sudden, |c| Some(c.sudden_peak())),
        over_leading(study, Look::LinearFlow, |c| c.linear_flow_peak),
        over_leading(study, Look::LinearOpening, |c| c.linear_opening_peak),
        over_leading(study, Look::Later, |c| c.later.inlet),
        over_leading(study, Look::Simulated, |c| Some(c.peak)),
    ];
    let mut levels: Vec<LevelLine> = study.criteria.iter().filter(|c| c.ceiling && !c.later).map(limit_line).collect();
    levels.push(guide("at rest", study.today.rest_pressure, Dimension::AbsolutePressure, GREY));
    let drawn = pressures("inlet peak", 205.0, curves, levels, |c| Some(c.peak));
    Panel { names_marks: true, ..drawn }
}

fn troughs(study: &ClosingStudy) -> Panel {
    let curves = vec![
        over_leading(study, Look::Outlet, |c| Some(c.outlet_trough)),
        over_leading(study, Look::Simulated, |c| Some(c.inlet_trough)),
    ];
    let mut levels: Vec<LevelLine> = study.criteria.iter().filter(|c| !c.ceiling).map(limit_line).collect();
    let vapour = study.vapour_pressure.map(|p| guide("vapour", p, Dimension::AbsolutePressure, GUIDE_COLOUR));
    levels.extend(vapour);
    pressures("trough", 115.0, curves, levels, |c| Some(c.inlet_trough))
}

fn times(study: &ClosingStudy) -> Panel {
    let curves = vec![
        over_leading(study, Look::Total, |c| Some(c.total_time)),
        over_leading(study, Look::Effective, |c| c.effective_time),
    ];
    let wave_return = study.today.wave_return;
    let levels = vec![guide("2L/a", wave_return, Dimension::Time, GUIDE_COLOUR)];
    let values = || curves.iter().flat_map(|c| c.points.iter().map(|p| p.1)).chain([wave_return]);
    let range = (values().fold(f64::INFINITY, f64::min) / 1.3, values().fold(0.0, f64::max) * 1.3);
    Panel {
        title: "closing time",
        units: Units { us: None, ..fitting_units(Dimension::Time, 1.0) },
        spacing: Spacing::Logarithmic,
        range,
        height: 125.0,
        curves,
        levels,
        beyond: Vec::new(),
        names_marks: false,
        marked: |c| c.effective_time,
    }
}

fn pressures(
    title: &'static str,
    height: f64,
    curves: Vec<Curve>,
    levels: Vec<LevelLine>,
    marked: fn(&Closing) -> Option<f64>,
) -> Panel {
    let drawn = || curves.iter().flat_map(|c| c.points.iter().map(|p| p.1));
    let (low, high) = (drawn().fold(f64::INFINITY, f64::min), drawn().fold(0.0, f64::max));
    let span = (high - low).max(1e-3 * high);
    let near = |line: &LevelLine| line.value >= low - FAR * span && line.value <= high + FAR * span;
    let (levels, far): (Vec<LevelLine>, Vec<LevelLine>) = levels.into_iter().partition(near);
    let low = levels.iter().map(|l| l.value).fold(low, f64::min);
    let high = levels.iter().map(|l| l.value).fold(high, f64::max);
    let air = 0.09 * (high - low).max(1e-3 * high);
    Panel {
        title,
        units: fitting_units(Dimension::AbsolutePressure, largest_size([high].into_iter())),
        spacing: Spacing::Linear,
        range: (low - air, high + 1.4 * air),
        height,
        curves,
        levels,
        beyond: far.into_iter().map(|l| l.told).collect(),
        names_marks: false,
        marked,
    }
}

fn limit_line(criterion: &Criterion) -> LevelLine {
    guide(criterion.name, criterion.limit, Dimension::AbsolutePressure, LIMIT_COLOUR)
}

fn guide(label: &str, value: f64, dimension: Dimension, colour: Colour) -> LevelLine {
    let both = fitting_units(dimension, value);
    let short = reading(value, &Units { us: None, ..both });
    LevelLine { value, label: format!("{label} {short}"), told: format!("{label} {}", reading(value, &both)), colour }
}
