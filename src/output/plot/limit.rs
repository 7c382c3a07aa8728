//! Level limit lines with their names, kept apart.

use super::axis::Axis;
use super::canvas::{Anchor, Canvas, Dash, Lettering, Stroke};
use super::colour::Colour;
use super::text::{fitted, lettering};
use super::{Rect, SMALL};

/// A limit on the upright axis of a plot.
#[derive(Clone, Debug, PartialEq)]
pub struct LevelLine {
    /// Value, SI.
    pub value: f64,
    /// Its name.
    pub label: String,
    /// Its name and value, for a line of text elsewhere.
    pub told: String,
    /// Colour.
    pub colour: Colour,
}

/// Draws the lines that lie on the axis, without their names.
pub fn draw_lines(canvas: &mut Canvas, frame: &Rect, axis: &Axis, lines: &[LevelLine]) {
    for line in lines.iter().filter(|l| axis.holds(l.value)) {
        let y = axis.place(line.value);
        let stroke = Stroke { colour: line.colour, width: 1.0, dash: Dash::Dashed };
        canvas.line((frame.left, y), (frame.right, y), stroke);
    }
}

/// Writes the names into the frame, each close to its line and none upon another.
pub fn draw_names(canvas: &mut Canvas, frame: &Rect, axis: &Axis, lines: &[LevelLine]) {
    const HALF: f64 = 6.0;
    let mut taken: Vec<f64> = Vec::new();
    let mut order: Vec<&LevelLine> = lines.iter().filter(|l| axis.holds(l.value)).collect();
    order.sort_by(|a, b| b.value.total_cmp(&a.value));
    for line in order {
        let y = axis.place(line.value);
        // Above the line, else below it, else wherever there is room further down.
        let places = [y - HALF, y + HALF, y + 3.0 * HALF, y + 5.0 * HALF, y - 3.0 * HALF];
        let free = |at: f64| {
            at - HALF >= frame.top
                && at + HALF <= frame.bottom
                && taken.iter().all(|t| (t - at).abs() >= 2.0 * HALF - 1.0)
        };
        let Some(at) = places.into_iter().find(|&at| free(at)) else {
            continue;
        };
        taken.push(at);
        let style = Lettering { halo: true, ..lettering(SMALL, line.colour, Anchor::Start) };
        canvas.text(&fitted(&line.label, SMALL, frame.width() + 4.0), (frame.left + 3.0, at), style);
    }
}
