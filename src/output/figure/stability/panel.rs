//! The panels: growth, frequency, lift, differential across the valve.

use super::branch::{Node, Stretch};
use super::label::Labels;
use super::mark;
use super::sheet::{Sheet, differentials};
use crate::output::answer::stroke;
use crate::output::plot::Rect;
use crate::output::plot::axis::{Axis, Spacing};
use crate::output::plot::canvas::{Canvas, Direction, Stroke};
use crate::output::plot::colour::{BLACK, VERMILLION};
use crate::output::plot::frame::{Side, draw_marks, draw_title, grid_lines, marks};
use crate::output::unit::{Units, fitting_units, titled};
use crate::stability::equilibria::Rest;
use crate::study::stability::point::{Answer, EquilibriumModes};
use crate::units::{ColumnUnit, Dimension};

/// What a panel shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Shows {
    Growth,
    Frequency,
    Lift,
    Across,
}

/// One panel.
pub(super) struct Panel {
    shows: Shows,
    /// Its frame.
    pub(super) frame: Rect,
    upright: Axis,
    left: (String, ColumnUnit),
    right: Option<(String, ColumnUnit)>,
}

/// Ratio of two neighbouring frequencies above which they belong to two modes.
const JUMP: f64 = 1.12;
/// Decay faster than this many times the fastest growth is cut off: what matters lies about nought.
const DECAY: f64 = 3.0;

/// Differentials across the valve over a wider range than this are spaced by ratio.
const WIDE: f64 = 10.0;

const fn plain(name: &'static str) -> ColumnUnit {
    ColumnUnit { scale: 1.0, offset: 0.0, name }
}

impl Shows {
    fn value(self, node: &Node) -> Option<f64> {
        match self {
            Shows::Growth => node.growth,
            Shows::Frequency => node.frequency,
            Shows::Lift => Some(node.lift),
            Shows::Across => node.across,
        }
    }

    /// Growth and frequency are asked only of the floating stage, and not where it runs away.
    fn stretches<'a>(self, sheet: &'a Sheet) -> Vec<&'a Stretch> {
        match self {
            Shows::Growth | Shows::Frequency => {
                sheet.branches.floating.iter().filter(|s| s.answer != Answer::RunsAway).collect()
            }
            Shows::Lift | Shows::Across => sheet.branches.all().collect(),
        }
    }

    fn height(self) -> f64 {
        match self {
            Shows::Growth => 150.0,
            Shows::Frequency => 62.0,
            Shows::Lift => 130.0,
            Shows::Across => 92.0,
        }
    }
}

/// The panels from above.
pub(super) fn panels(sheet: &Sheet, top: f64, gap: f64) -> Vec<Panel> {
    let mut y = top;
    let mut all = Vec::new();
    for shows in [Shows::Growth, Shows::Frequency, Shows::Lift, Shows::Across] {
        let values: Vec<f64> =
            shows.stretches(sheet).iter().flat_map(|s| &s.nodes).filter_map(|n| shows.value(n)).collect();
        if values.is_empty() {
            continue;
        }
        let frame = Rect { left: sheet.across.start, top: y, right: sheet.across.end, bottom: y + shows.height() };
        y = frame.bottom + gap;
        all.push(panel(sheet, shows, frame, &values));
    }
    all
}

fn panel(sheet: &Sheet, shows: Shows, frame: Rect, values: &[f64]) -> Panel {
    let (low, high) = values.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), v| (l.min(*v), h.max(*v)));
    let wide = shows == Shows::Across && low > 0.0 && high > WIDE * low;
    let range = match shows {
        Shows::Growth => {
            let low = if high > 0.0 { low.max(-DECAY * high) } else { low };
            let span = high.max(0.0) - low.min(0.0);
            (low.min(0.0) - 0.08 * span, high.max(0.0) + 0.16 * span)
        }
        Shows::Frequency => (0.0, 1.15 * high),
        Shows::Lift => (-0.05, 1.08),
        Shows::Across if wide => (0.85 * low, 1.2 * high),
        Shows::Across => (0.0, 1.1 * high),
    };
    let upright =
        Axis::new(if wide { Spacing::Logarithmic } else { Spacing::Linear }, range, (frame.bottom, frame.top));
    let both = |units: Units| (units.si, units.us);
    let (left, right) = match shows {
        Shows::Growth => (("growth rate [1/s]".to_owned(), plain("1/s")), None),
        Shows::Frequency => (("freq. [Hz]".to_owned(), plain("Hz")), None),
        Shows::Lift => {
            let (percent, _) = both(fitting_units(Dimension::Fraction, 1.0));
            let full = 1e3 * sheet.study.full_lift;
            let millimetres = ColumnUnit { scale: full, offset: 0.0, name: "mm" };
            ((titled("lift", &percent), percent), Some((titled("lift", &millimetres), millimetres)))
        }
        Shows::Across => {
            let (si, us) = both(fitting_units(Dimension::PressureDifference, range.1));
            ((titled("across valve", &si), si), us.map(|us| (titled("across valve", &us), us)))
        }
    };
    Panel { shows, frame, upright, left, right }
}

/// Draws a panel.
pub(super) fn draw(canvas: &mut Canvas, sheet: &Sheet, panel: &Panel) {
    let (frame, upright) = (&panel.frame, &panel.upright);
    let count = (frame.height() / 18.0).max(3.0) as usize;
    let levels = marks(upright, &panel.left.1, count);
    let mut labels = Labels::new(*frame);
    if panel.shows == Shows::Growth {
        shade_growth(canvas, panel);
    }
    grid_lines(canvas, frame, Side::Left, upright, &levels);
    grid_lines(canvas, frame, Side::Bottom, &sheet.across, &differentials(&sheet.across, &sheet.units.si));
    mark::draw_uprights(canvas, sheet, frame, &mut labels);
    if panel.shows == Shows::Growth {
        let ends = [(frame.left, upright.place(0.0)), (frame.right, upright.place(0.0))];
        canvas.line(ends[0], ends[1], Stroke::solid(BLACK, 1.0));
        labels.keep_off(&ends);
    }
    for stretch in panel.shows.stretches(sheet) {
        for line in lines(sheet, panel, stretch) {
            canvas.polyline_within(frame, &line, stroke(stretch.answer));
            labels.keep_off(&line);
        }
    }
    canvas.outline(frame, Stroke::solid(BLACK, 0.7));
    draw_marks(canvas, frame, Side::Left, upright, &levels);
    draw_title(canvas, frame, Side::Left, 42.0, &panel.left.0);
    if let Some((title, unit)) = &panel.right {
        draw_marks(canvas, frame, Side::Right, upright, &marks(upright, unit, count));
        draw_title(canvas, frame, Side::Right, 42.0, title);
    }
    draw_points(canvas, sheet, panel, &mut labels);
    match panel.shows {
        Shows::Growth => {
            mark::name_boundaries(canvas, sheet, &mut labels);
            name_sides(canvas, panel, &mut labels);
        }
        Shows::Lift => mark::name_bounds(canvas, sheet, &mut labels),
        Shows::Frequency | Shows::Across => {}
    }
}

/// What lies above nought grows.
fn shade_growth(canvas: &mut Canvas, panel: &Panel) {
    let bottom = panel.upright.place(0.0);
    canvas.fill_rect(&Rect { bottom, ..panel.frame }, VERMILLION.tint(0.12));
}

/// Says on which side of nought oscillations grow.
fn name_sides(canvas: &mut Canvas, panel: &Panel, labels: &mut Labels) {
    let zero = panel.upright.place(0.0);
    for (words, off) in [("grows above", -9.0), ("dies below", 9.0)] {
        let near = |x: f64| [1.0, 2.0].map(|n| (x, zero + n * off));
        let step = (panel.frame.width() - 80.0) / 30.0;
        let places = (0..=30).flat_map(|i| near(panel.frame.right - 36.0 - step * f64::from(i)));
        labels.write(canvas, words, BLACK, Direction::Across, places);
    }
}

/// The places of a stretch; broken where the leading mode is another one, as its frequency then jumps.
fn lines(sheet: &Sheet, panel: &Panel, stretch: &Stretch) -> Vec<Vec<(f64, f64)>> {
    let nodes: Vec<(&Node, f64)> =
        stretch.nodes.iter().filter_map(|n| panel.shows.value(n).map(|value| (n, value))).collect();
    let jumps = |a: f64, b: f64| panel.shows == Shows::Frequency && (a / b).max(b / a) > JUMP;
    let place = |(n, value): &(&Node, f64)| (sheet.across.place(n.differential), panel.upright.place(*value));
    nodes.chunk_by(|a, b| !jumps(a.1, b.1)).map(|part| part.iter().map(place).collect()).collect()
}

/// Draws boundaries and the user's own point on the curves.
fn draw_points(canvas: &mut Canvas, sheet: &Sheet, panel: &Panel, labels: &mut Labels) {
    let study = sheet.study;
    let mut draw = |differential: f64, value: f64, paint: &mut dyn FnMut(&mut Canvas, (f64, f64))| {
        if sheet.across.holds(differential) && panel.upright.holds(value) {
            let at = (sheet.across.place(differential), panel.upright.place(value));
            paint(canvas, at);
            labels.take(Rect::about(at, 14.0, 14.0));
        }
    };
    for crossing in &study.crossings {
        let value = match panel.shows {
            Shows::Growth => 0.0,
            Shows::Frequency => crossing.frequency,
            Shows::Lift => crossing.lift,
            Shows::Across => crossing.across,
        };
        draw(crossing.differential, value, &mut |canvas, at| mark::draw_boundary(canvas, at, crossing.hard));
    }
    if let Some(value) = study.here.first_reached().and_then(|e| own_value(sheet, panel.shows, e)) {
        draw(study.differential, value, &mut |canvas, at| mark::draw_own(canvas, at));
    }
}

fn own_value(sheet: &Sheet, shows: Shows, e: &EquilibriumModes) -> Option<f64> {
    let floats = e.equilibrium.rest == Rest::Floating;
    match shows {
        Shows::Growth => e.leading().filter(|_| floats).map(|m| m.growth()),
        Shows::Frequency => e.leading().filter(|_| floats).map(|m| m.frequency()),
        Shows::Lift => Some((e.equilibrium.lift / sheet.study.full_lift).clamp(0.0, 1.0)),
        Shows::Across => Some(e.across),
    }
}
