//! Words inside a panel, clear of the curves and of each other.

use crate::output::plot::canvas::{Anchor, Canvas, Direction, Lettering};
use crate::output::plot::colour::Colour;
use crate::output::plot::font::text_width;
use crate::output::plot::{Rect, SMALL};
use crate::portable::Portable;

/// Half the height of a line of text, points.
const HALF: f64 = 6.0;
/// Half the side of the squares that keep words off a curve, points.
const CLEAR: f64 = 2.5;

/// Areas of a panel that are taken.
pub(super) struct Labels {
    frame: Rect,
    taken: Vec<Rect>,
}

impl Labels {
    /// An empty panel.
    pub(super) fn new(frame: Rect) -> Labels {
        Labels { frame, taken: Vec::new() }
    }

    /// Keeps words off a line.
    pub(super) fn keep_off(&mut self, points: &[(f64, f64)]) {
        for pair in points.windows(2) {
            let (dx, dy) = (pair[1].0 - pair[0].0, pair[1].1 - pair[0].1);
            let count = (dx.length_with(dy) / CLEAR).ceil();
            if !count.is_finite() {
                continue;
            }
            for i in 0..=count.clamp(1.0, 2000.0) as usize {
                let share = i as f64 / count.max(1.0);
                let at = (pair[0].0 + share * dx, pair[0].1 + share * dy);
                self.taken.push(Rect::about(at, 2.0 * CLEAR, 2.0 * CLEAR));
            }
        }
    }

    /// Keeps words off an area.
    pub(super) fn take(&mut self, area: Rect) {
        self.taken.push(area);
    }

    /// Writes words centred on the first of some places at which they are free; not at all where none is.
    pub(super) fn write(
        &mut self,
        canvas: &mut Canvas,
        words: &str,
        colour: Colour,
        direction: Direction,
        places: impl IntoIterator<Item = (f64, f64)>,
    ) -> bool {
        let long = text_width(words, SMALL) + 4.0;
        let (wide, high) = if direction == Direction::Across { (long, 2.0 * HALF) } else { (2.0 * HALF, long) };
        let free = |area: &Rect| self.frame.holds(area) && self.taken.iter().all(|t| !t.overlaps(area));
        let found = places.into_iter().find(|&at| free(&Rect::about(at, wide, high)));
        if let Some(at) = found {
            self.taken.push(Rect::about(at, wide, high));
            let style = Lettering { size: SMALL, colour, anchor: Anchor::Middle, direction, halo: true };
            canvas.text(words, at, style);
        }
        found.is_some()
    }

    /// Places beside an upright line: close to it, right and left, at several heights from above.
    pub(super) fn beside(&self, x: f64, words: &str, direction: Direction) -> Vec<(f64, f64)> {
        let long = text_width(words, SMALL) + 4.0;
        let (away, high) = match direction {
            Direction::Across => (long / 2.0 + 3.0, 2.0 * HALF),
            Direction::Upwards => (HALF + CLEAR + 0.5, long),
        };
        let heights = (0..24).map(|i| self.frame.top + 3.0 + high / 2.0 + 6.0 * f64::from(i));
        heights.flat_map(|y| [(x + away, y), (x - away, y)]).collect()
    }
}
