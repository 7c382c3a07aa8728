//! One panel: bands between isotherms, the limit, the own duty.

use super::level::{self, Levels};
use crate::output::plot::axis::{Axis, Spacing};
use crate::output::plot::canvas::{Anchor, Canvas, Dash, Lettering, Stroke};
use crate::output::plot::colour::{BLACK, Colour, WHITE};
use crate::output::plot::font::text_width;
use crate::output::plot::frame::{Side, draw_marks, draw_title, marks};
use crate::output::plot::pattern::{self, Mosaic, Pattern};
use crate::output::plot::text::lettering;
use crate::output::plot::{MEDIUM, Rect, SMALL};
use crate::output::unit::{titled, units};
use crate::study::coil_heat::{Armature, Found};
use crate::study::heat::{HeatStudy, Panel};
use crate::units::Dimension;
use crate::verdict::CoilLimit;

pub(super) const ISOTHERM: Stroke = Stroke { colour: Colour(90, 40, 0), width: 0.8, dash: Dash::Solid };
pub(super) const LIMIT: Stroke = Stroke { colour: BLACK, width: 2.4, dash: Dash::Solid };
const HATCHING: Colour = Colour(60, 60, 60);
/// Half the height of a line of text.
const HALF: f64 = 6.0;

/// One panel on the page.
pub(super) struct Sheet<'a> {
    study: &'a HeatStudy,
    panel: &'a Panel,
    levels: &'a Levels,
    frame: Rect,
    across: Axis,
    upright: Axis,
}

/// Hatches a sample as the map beyond the limit.
pub(super) fn hatch(canvas: &mut Canvas, sample: &Rect) {
    pattern::draw(canvas, &Mosaic::single(sample), Pattern::Rising, HATCHING, |_, _| true);
}

/// The mark of the own duty.
pub(super) fn draw_point(canvas: &mut Canvas, at: (f64, f64)) {
    for (radius, colour) in [(6.0, WHITE), (4.8, BLACK), (2.8, WHITE), (1.5, BLACK)] {
        canvas.disc(at, radius, colour);
    }
}

impl<'a> Sheet<'a> {
    pub(super) fn new(study: &'a HeatStudy, panel: &'a Panel, levels: &'a Levels, frame: Rect) -> Sheet<'a> {
        let ends = (study.rates[0], study.rates[study.rates.len() - 1]);
        Sheet {
            study,
            panel,
            levels,
            frame,
            across: Axis::new(Spacing::Logarithmic, ends, (frame.left, frame.right)),
            upright: Axis::new(Spacing::Linear, (0.0, 1.0), (frame.bottom, frame.top)),
        }
    }

    pub(super) fn draw(&self, canvas: &mut Canvas, first: bool) {
        canvas.fill_rect(&self.frame, Levels::coolest());
        let curves: Vec<Vec<(f64, f64)>> =
            self.levels.values.iter().map(|level| self.curve(|found| found.mean, *level)).collect();
        for (i, curve) in curves.iter().enumerate() {
            self.fill_above(canvas, curve, self.levels.colour(i));
        }
        if let Some(limit) = self.study.limit {
            self.hatch_beyond(canvas, limit);
        }
        for curve in &curves {
            canvas.polyline_within(&self.frame, curve, ISOTHERM);
        }
        let mut taken = Vec::new();
        self.draw_limit(canvas, &mut taken);
        self.draw_own(canvas, &mut taken);
        self.name_isotherms(canvas, &curves, &mut taken);
        self.draw_scales(canvas, first);
    }

    /// Where a temperature comes to a level, on the page.
    fn curve(&self, of: fn(&Found) -> f64, level: f64) -> Vec<(f64, f64)> {
        let shares = level::crossings(self.study, self.panel, of, level);
        let place = |(rate, share): (&f64, f64)| (self.across.place(*rate), self.upright.place(share));
        self.study.rates.iter().zip(shares).map(place).collect()
    }

    fn fill_above(&self, canvas: &mut Canvas, curve: &[(f64, f64)], colour: Colour) {
        let held = curve.iter().map(|&(x, y)| (x, y.clamp(self.frame.top, self.frame.bottom)));
        let corners = [(self.frame.right, self.frame.top), (self.frame.left, self.frame.top)];
        let area: Vec<(f64, f64)> = held.chain(corners).collect();
        canvas.fill_polygon(&area, colour);
    }

    /// Hatches what lies beyond the limit, in strips as wide as the grid's columns.
    fn hatch_beyond(&self, canvas: &mut Canvas, limit: CoilLimit) {
        const ROWS: usize = 120;
        let curve = self.curve(|found| found.highest, limit.temperature);
        let height = self.frame.height() / ROWS as f64;
        let row = |i: usize| (self.frame.top + height * i as f64, self.frame.top + height * (i + 1) as f64);
        let mosaic = Mosaic {
            rows: (0..ROWS).map(row).collect(),
            edges: vec![curve.iter().map(|point| point.0).collect(); ROWS],
        };
        let beyond = |row: usize, column: usize| {
            let (top, bottom) = mosaic.rows[row];
            0.5 * (top + bottom) < 0.5 * (curve[column].1 + curve[column + 1].1)
        };
        pattern::draw(canvas, &mosaic, Pattern::Rising, HATCHING, beyond);
    }

    fn draw_limit(&self, canvas: &mut Canvas, taken: &mut Vec<Rect>) {
        let Some(limit) = self.study.limit else { return };
        let curve = self.curve(|found| found.highest, limit.temperature);
        canvas.polyline_within(&self.frame, &curve, LIMIT);
        let words = match limit.class {
            Some((class, _)) => format!("class {class}: {}", level::name(limit.temperature)),
            None => format!("limit: {}", level::name(limit.temperature)),
        };
        self.name(canvas, &curve, &words, &[0.5, 0.35, 0.65, 0.25], (HALF + 2.0, BLACK), taken);
    }

    fn draw_own(&self, canvas: &mut Canvas, taken: &mut Vec<Rect>) {
        let own = &self.study.own;
        let at = (self.across.place(own.cycle_rate), self.upright.place(own.on_share));
        let Some(found) = (match self.panel.armature {
            Armature::ComesIn => Some(own.inside),
            Armature::StaysOut => own.outside,
        }) else {
            return;
        };
        draw_point(canvas, at);
        taken.push(Rect::about(at, 14.0, 14.0));
        let words = format!("{} here", level::name(found.highest));
        let long = text_width(&words, SMALL) + 4.0;
        let sides = [(9.0 + long / 2.0, 0.0), (-9.0 - long / 2.0, 0.0), (0.0, 13.0), (0.0, -13.0)];
        let areas = sides.map(|(x, y)| Rect::about((at.0 + x, at.1 + y), long, 2.0 * HALF));
        let free = |area: &&Rect| self.frame.holds(area) && taken.iter().all(|other| !other.overlaps(area));
        if let Some(area) = areas.iter().find(free) {
            let centre = ((area.left + area.right) / 2.0, (area.top + area.bottom) / 2.0);
            canvas.text(&words, centre, Lettering { halo: true, ..lettering(SMALL, BLACK, Anchor::Middle) });
            taken.push(*area);
        }
    }

    fn name_isotherms(&self, canvas: &mut Canvas, curves: &[Vec<(f64, f64)>], taken: &mut Vec<Rect>) {
        for (value, curve) in self.levels.values.iter().zip(curves) {
            let words = level::name(*value);
            self.name(canvas, curve, &words, &[0.2, 0.5, 0.75, 0.35, 0.62], (HALF, ISOTHERM.colour), taken);
        }
    }

    /// Writes a name so far above its curve, at the first of some shares of the width where there is room; below it, it would be another's.
    fn name(
        &self,
        canvas: &mut Canvas,
        curve: &[(f64, f64)],
        words: &str,
        places: &[f64],
        (above, colour): (f64, Colour),
        taken: &mut Vec<Rect>,
    ) {
        let long = text_width(words, SMALL) + 4.0;
        let at = |share: &f64| {
            let x = self.frame.left + share * self.frame.width();
            let near = curve.iter().min_by(|a, b| (a.0 - x).abs().total_cmp(&(b.0 - x).abs()))?;
            let area = Rect::about((near.0, near.1 - above), long, 2.0 * HALF);
            let free = self.frame.holds(&area) && taken.iter().all(|other| !other.overlaps(&area));
            (free && self.frame.contains(*near)).then_some(area)
        };
        let Some(area) = places.iter().find_map(at) else { return };
        let centre = ((area.left + area.right) / 2.0, (area.top + area.bottom) / 2.0);
        canvas.text(words, centre, Lettering { halo: true, ..lettering(SMALL, colour, Anchor::Middle) });
        taken.push(area);
    }

    fn draw_scales(&self, canvas: &mut Canvas, first: bool) {
        let (rate, share) = (units(Dimension::CycleRate).si, units(Dimension::Fraction).si);
        canvas.outline(&self.frame, Stroke::solid(BLACK, 0.9));
        draw_marks(canvas, &self.frame, Side::Bottom, &self.across, &marks(&self.across, &rate, 6));
        draw_title(canvas, &self.frame, Side::Bottom, 26.0, &titled("cycle rate", &rate));
        let levels = marks(&self.upright, &share, 6);
        draw_marks(canvas, &self.frame, Side::Left, &self.upright, &levels);
        if first {
            draw_title(canvas, &self.frame, Side::Left, 36.0, &titled("energised share of the cycle", &share));
        }
        let words = match self.panel.armature {
            _ if self.study.panels.len() == 1 => "armature in or out (direct current)",
            Armature::ComesIn => "armature in",
            Armature::StaysOut => "armature stays out: inrush current",
        };
        canvas.text(words, (self.frame.left, self.frame.top - 9.0), lettering(MEDIUM, BLACK, Anchor::Start));
    }
}
