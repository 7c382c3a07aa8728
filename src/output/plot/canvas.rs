//! The sheet on which a figure is drawn.

#[cfg(not(target_arch = "wasm32"))]
use plotters::prelude::{DrawingBackend, SVGBackend};
#[cfg(target_arch = "wasm32")]
use plotters_backend::DrawingBackend;
use plotters_backend::FontStyle;
#[cfg(target_arch = "wasm32")]
use plotters_svg::SVGBackend;

pub use super::lettering::{Anchor, Direction, Lettering};

use super::colour::{Colour, WHITE};
use super::pen::{Letter, Pen};
use super::{Rect, clip, font};

/// Units of the drawing per point.
const FINENESS: f64 = 4.0;
/// Width of the white rim round a text with halo, points.
const HALO: f64 = 2.6;
/// A style of lettering that is never used as such: it marks the rim until the drawing is finished.
const RIM_MARK: &str = r#"font-style="oblique""#;

/// A dash pattern.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Dash {
    /// Unbroken.
    Solid,
    /// Long dashes.
    Dashed,
    /// Short dashes.
    Dotted,
}

impl Dash {
    /// Lengths drawn and left out, points.
    pub(super) fn lengths(self) -> Option<(f64, f64)> {
        match self {
            Dash::Solid => None,
            Dash::Dashed => Some((5.0, 2.5)),
            Dash::Dotted => Some((1.5, 1.5)),
        }
    }
}

/// How a line is drawn.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stroke {
    /// Colour.
    pub colour: Colour,
    /// Width, points.
    pub width: f64,
    /// Dash pattern.
    pub dash: Dash,
}

impl Stroke {
    /// An unbroken line.
    pub fn solid(colour: Colour, width: f64) -> Stroke {
        Stroke { colour, width, dash: Dash::Solid }
    }
}

/// The sheet.
pub struct Canvas<'a> {
    backend: SVGBackend<'a>,
}

/// Draws a figure of the given size (points) and returns the drawing as text; `name` is what a reader aid speaks.
pub fn draw(size: (f64, f64), name: &str, paint: impl FnOnce(&mut Canvas)) -> String {
    let fine = (whole(size.0).max(1) as u32, whole(size.1).max(1) as u32);
    let mut drawing = String::new();
    {
        let backend = SVGBackend::with_string(&mut drawing, fine);
        let mut canvas = Canvas { backend };
        canvas.fill_rect(&Rect { left: 0.0, top: 0.0, right: size.0, bottom: size.1 }, WHITE);
        paint(&mut canvas);
        drawn(canvas.backend.present());
    }
    finish(&drawing, fine, name)
}

fn finish(drawing: &str, fine: (u32, u32), name: &str) -> String {
    let body = drawing.split_once(">\n").map_or("", |(_, body)| body);
    let rim = format!(r##"stroke="#FFFFFF" stroke-width="{}" stroke-linecap="round""##, whole(HALO));
    let (width, height) = (f64::from(fine.0) / FINENESS, f64::from(fine.1) / FINENESS);
    let name = printable(name).replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;");
    format!(
        "<svg width=\"{width}pt\" height=\"{height}pt\" viewBox=\"0 0 {} {}\" stroke-linejoin=\"round\" \
         xmlns=\"http://www.w3.org/2000/svg\">\n<title>{name}</title>\n{}",
        fine.0,
        fine.1,
        body.replace(RIM_MARK, &rim)
    )
}

/// Characters that the drawing's text format does not allow become spaces.
fn printable(text: &str) -> String {
    let allowed = |c: char| !c.is_control() && !matches!(c, '\u{fffe}' | '\u{ffff}');
    text.chars().map(|c| if allowed(c) { c } else { ' ' }).collect()
}

/// The backend writes into memory, which has no way to fail.
fn drawn<T, E: std::fmt::Debug>(result: Result<T, E>) {
    result.map(|_| ()).expect("a drawing in memory takes every mark");
}

fn whole(length: f64) -> i32 {
    (length * FINENESS).round().clamp(-1e6, 1e6) as i32
}

fn grid(point: (f64, f64)) -> (i32, i32) {
    (whole(point.0), whole(point.1))
}

fn shape(colour: Colour, width: f64) -> Pen {
    Pen { colour, opacity: 1.0, width: whole(width).max(1) as u32 }
}

impl Canvas<'_> {
    /// A filled rectangle.
    pub fn fill_rect(&mut self, rect: &Rect, colour: Colour) {
        let (a, b) = (grid((rect.left, rect.top)), grid((rect.right, rect.bottom)));
        if b.0 > a.0 && b.1 > a.1 {
            drawn(self.backend.draw_rect(a, b, &shape(colour, 0.0), true));
        }
    }

    /// The outline of a rectangle.
    pub fn outline(&mut self, rect: &Rect, stroke: Stroke) {
        let (l, t, r, b) = (rect.left, rect.top, rect.right, rect.bottom);
        self.polyline(&[(l, t), (r, t), (r, b), (l, b), (l, t)], stroke);
    }

    /// A filled polygon.
    pub fn fill_polygon(&mut self, points: &[(f64, f64)], colour: Colour) {
        if points.len() > 2 && points.iter().all(|p| p.0.is_finite() && p.1.is_finite()) {
            drawn(self.backend.fill_polygon(points.iter().map(|&p| grid(p)), &shape(colour, 0.0)));
        }
    }

    /// A filled polygon through which what lies below is seen; `opacity` 1 hides it.
    pub fn veil(&mut self, points: &[(f64, f64)], colour: Colour, opacity: f64) {
        if points.len() > 2 && points.iter().all(|p| p.0.is_finite() && p.1.is_finite()) {
            let style = Pen { opacity, ..shape(colour, 0.0) };
            drawn(self.backend.fill_polygon(points.iter().map(|&p| grid(p)), &style));
        }
    }

    /// A filled disc.
    pub fn disc(&mut self, centre: (f64, f64), radius: f64, colour: Colour) {
        if centre.0.is_finite() && centre.1.is_finite() {
            let radius = whole(radius).max(1) as u32;
            drawn(self.backend.draw_circle(grid(centre), radius, &shape(colour, 0.0), true));
        }
    }

    /// A straight line.
    pub fn line(&mut self, from: (f64, f64), to: (f64, f64), stroke: Stroke) {
        self.polyline(&[from, to], stroke);
    }

    /// A line through points; a point that is not a number breaks it.
    pub fn polyline(&mut self, points: &[(f64, f64)], stroke: Stroke) {
        for run in points.split(|p| !(p.0.is_finite() && p.1.is_finite())) {
            match stroke.dash.lengths() {
                None => self.unbroken(run, stroke),
                Some(lengths) => {
                    for dash in clip::dashes(run, lengths) {
                        self.unbroken(&dash, stroke);
                    }
                }
            }
        }
    }

    /// The part of a line that lies inside `frame`.
    pub fn polyline_within(&mut self, frame: &Rect, points: &[(f64, f64)], stroke: Stroke) {
        for run in points.split(|p| !(p.0.is_finite() && p.1.is_finite())) {
            for part in clip::clip(run, frame) {
                self.polyline(&part, stroke);
            }
        }
    }

    fn unbroken(&mut self, points: &[(f64, f64)], stroke: Stroke) {
        let mut path: Vec<(i32, i32)> = points.iter().map(|&p| grid(p)).collect();
        path.dedup();
        if path.len() > 1 {
            drawn(self.backend.draw_path(path, &shape(stroke.colour, stroke.width)));
        }
    }

    /// A text at a point.
    pub fn text(&mut self, text: &str, at: (f64, f64), lettering: Lettering) {
        if !(at.0.is_finite() && at.1.is_finite()) || text.is_empty() {
            return;
        }
        if lettering.halo {
            // Written twice, rim first: viewers disagree on the order in which rim and filling of one text are painted.
            let rim = Lettering { colour: WHITE, ..lettering };
            self.lettered(text, at, rim, FontStyle::Oblique);
        }
        self.lettered(text, at, lettering, FontStyle::Normal);
    }

    fn lettered(&mut self, text: &str, at: (f64, f64), lettering: Lettering, style: FontStyle) {
        let size = lettering.size * FINENESS * font::BACKEND_EM;
        let written = Letter { size, style, lettering };
        // The backend centres on half the height of a small letter; figures and capitals stand higher.
        let drop = 0.11 * lettering.size;
        let at = match lettering.direction {
            Direction::Across => (at.0, at.1 + drop),
            Direction::Upwards => (at.0 + drop, at.1),
        };
        drawn(self.backend.draw_text(&printable(text), &written, grid(at)));
    }
}
