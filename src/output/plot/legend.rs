//! A legend outside the data: samples with their words, in columns.

use super::canvas::{Anchor, Canvas};
use super::colour::BLACK;
use super::font::text_width;
use super::text::{fitted, lettering};
use super::{Rect, SMALL};

const SAMPLE_WIDTH: f64 = 22.0;
const SAMPLE_HEIGHT: f64 = 11.0;
const ROW: f64 = 15.0;
const GAP: f64 = 6.0;
const COLUMN_GAP: f64 = 14.0;

/// Draws a sample into its box.
pub type Sample<'a> = Box<dyn Fn(&mut Canvas, &Rect) + 'a>;

/// One line of a legend.
pub struct Entry<'a> {
    /// What it means.
    pub words: String,
    /// How it looks.
    pub sample: Sample<'a>,
}

impl<'a> Entry<'a> {
    /// An entry.
    pub fn new(words: impl Into<String>, sample: impl Fn(&mut Canvas, &Rect) + 'a) -> Entry<'a> {
        Entry { words: words.into(), sample: Box::new(sample) }
    }
}

fn columns(entries: &[Entry], width: f64) -> usize {
    let widest = entries.iter().map(|e| text_width(&e.words, SMALL)).fold(0.0, f64::max);
    let one = SAMPLE_WIDTH + GAP + widest + COLUMN_GAP;
    (((width + COLUMN_GAP) / one).floor() as usize).clamp(1, entries.len().max(1))
}

/// Height that the legend takes in a width, points.
pub fn height(entries: &[Entry], width: f64) -> f64 {
    if entries.is_empty() { 0.0 } else { entries.len().div_ceil(columns(entries, width)) as f64 * ROW }
}

/// Draws the legend; returns where it ends below.
pub fn draw(canvas: &mut Canvas, entries: &[Entry], left: f64, top: f64, width: f64) -> f64 {
    let columns = columns(entries, width);
    let rows = entries.len().div_ceil(columns).max(1);
    let step = (width + COLUMN_GAP) / columns as f64;
    for (i, entry) in entries.iter().enumerate() {
        let x = left + step * (i / rows) as f64;
        let middle = top + ROW * ((i % rows) as f64 + 0.5);
        let sample = Rect {
            left: x,
            top: middle - SAMPLE_HEIGHT / 2.0,
            right: x + SAMPLE_WIDTH,
            bottom: middle + SAMPLE_HEIGHT / 2.0,
        };
        (entry.sample)(canvas, &sample);
        let words = fitted(&entry.words, SMALL, step - SAMPLE_WIDTH - GAP);
        canvas.text(&words, (sample.right + GAP, middle), lettering(SMALL, BLACK, Anchor::Start));
    }
    top + height(entries, width)
}
