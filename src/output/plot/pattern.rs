//! Patterns over cells: they show a second finding on top of a colour, and survive a grey print.

use super::Rect;
use super::canvas::{Canvas, Dash, Stroke};
use super::colour::{Colour, WHITE};

/// Radius of a bubble, points.
const BUBBLE: f64 = 2.5;

type Segment = ((f64, f64), (f64, f64));

/// A pattern.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Pattern {
    /// Lines rising to the right.
    Rising,
    /// Broken lines falling to the right: over rising ones they still are another pattern than crossed lines.
    Falling,
    /// Upright dotted lines.
    Upright,
    /// Level lines.
    Level,
    /// Dots.
    Dots,
    /// Bubbles: white discs with a rim.
    Bubbles,
    /// Rising lines close together.
    CloseRising,
    /// Falling lines close together.
    CloseFalling,
    /// Rising and falling lines.
    Crossed,
}

/// Cells in rows, each row with its own edges across.
#[derive(Clone, Debug, PartialEq)]
pub struct Mosaic {
    /// Upper and lower edge of each row, points.
    pub rows: Vec<(f64, f64)>,
    /// Edges across of each row, rising, one more than cells.
    pub edges: Vec<Vec<f64>>,
}

impl Mosaic {
    /// One cell.
    pub fn single(rect: &Rect) -> Mosaic {
        Mosaic { rows: vec![(rect.top, rect.bottom)], edges: vec![vec![rect.left, rect.right]] }
    }

    /// The rectangle of a run of cells in a row, from the first up to but not including the last edge.
    pub fn rect(&self, row: usize, from: usize, to: usize) -> Rect {
        let (top, bottom) = self.rows[row];
        Rect { left: self.edges[row][from], top, right: self.edges[row][to], bottom }
    }

    /// Runs of neighbouring cells in a row that belong together: (first, one past the last).
    pub fn runs(&self, row: usize, member: impl Fn(usize) -> bool) -> Vec<(usize, usize)> {
        let count = self.edges[row].len().saturating_sub(1);
        let mut runs: Vec<(usize, usize)> = Vec::new();
        for column in (0..count).filter(|&c| member(c)) {
            match runs.last_mut() {
                Some(run) if run.1 == column => run.1 = column + 1,
                _ => runs.push((column, column + 1)),
            }
        }
        runs
    }
}

/// Draws a pattern over the member cells (row, column).
pub fn draw(
    canvas: &mut Canvas,
    mosaic: &Mosaic,
    pattern: Pattern,
    colour: Colour,
    member: impl Fn(usize, usize) -> bool,
) {
    let dash = match pattern {
        Pattern::Falling => Dash::Dashed,
        Pattern::Upright => Dash::Dotted,
        _ => Dash::Solid,
    };
    let stroke = Stroke { colour, width: 0.8, dash };
    let parts: &[(f64, f64)] = match pattern {
        Pattern::Dots => return scattered(mosaic, (9.0, 6.0), 0.0, &member, |at| canvas.disc(at, 1.0, colour)),
        Pattern::Bubbles => return scattered(mosaic, (12.0, 8.0), BUBBLE, &member, |at| bubble(canvas, at, colour)),
        Pattern::Level => return level(canvas, mosaic, stroke, &member),
        Pattern::Upright => &[(0.0, 6.0)],
        Pattern::Rising => &[(-1.0, 9.0)],
        Pattern::Falling => &[(1.0, 9.0)],
        Pattern::CloseRising => &[(-1.0, 4.5)],
        Pattern::CloseFalling => &[(1.0, 4.5)],
        Pattern::Crossed => &[(-1.0, 9.0), (1.0, 9.0)],
    };
    for &(slope, spacing) in parts {
        for (from, to) in slanted(mosaic, slope, spacing, &member) {
            canvas.line(from, to, stroke);
        }
    }
}

/// One bubble of [`Pattern::Bubbles`].
pub fn bubble(canvas: &mut Canvas, at: (f64, f64), rim: Colour) {
    canvas.disc(at, BUBBLE, rim);
    canvas.disc(at, 0.64 * BUBBLE, WHITE);
}

/// Lines x = c + slope · y, cut to the member cells; `slope` is dx/dy on the page.
fn slanted(mosaic: &Mosaic, slope: f64, spacing: f64, member: &impl Fn(usize, usize) -> bool) -> Vec<Segment> {
    let mut segments: Vec<Segment> = Vec::new();
    let reach = mosaic.rows.iter().zip(&mosaic.edges).filter(|(_, e)| e.len() > 1).flat_map(|(row, edges)| {
        let (left, right) = (edges[0], edges[edges.len() - 1]);
        [left - slope * row.0, left - slope * row.1, right - slope * row.0, right - slope * row.1]
    });
    let (low, high) = reach.fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), c| (l.min(c), h.max(c)));
    if !(low.is_finite() && high.is_finite()) {
        return segments;
    }
    let first = (low / spacing).ceil() as i64;
    let last = (high / spacing).floor() as i64;
    for c in (first..=last.min(first + 5000)).map(|k| k as f64 * spacing) {
        for row in 0..mosaic.rows.len() {
            for part in row_parts(mosaic, row, c, slope, member) {
                append(&mut segments, part);
            }
        }
    }
    segments
}

/// The parts of one line inside the member cells of one row, in the direction from the row's lower edge to its upper.
fn row_parts(mosaic: &Mosaic, row: usize, c: f64, slope: f64, member: &impl Fn(usize, usize) -> bool) -> Vec<Segment> {
    let (top, bottom) = mosaic.rows[row];
    let edges = &mosaic.edges[row];
    let mut parts = Vec::new();
    for (first, last) in mosaic.runs(row, |column| member(row, column)) {
        let (left, right) = (edges[first], edges[last]);
        if slope == 0.0 {
            if c >= left && c < right {
                parts.push(((c, bottom), (c, top)));
            }
            continue;
        }
        let (a, b) = ((left - c) / slope, (right - c) / slope);
        let (upper, lower) = (a.min(b).max(top), a.max(b).min(bottom));
        if upper < lower {
            parts.push(((c + slope * lower, lower), (c + slope * upper, upper)));
        }
    }
    parts
}

/// Adds a segment, joined to the last one where it continues it.
fn append(segments: &mut Vec<Segment>, part: Segment) {
    if let Some(last) = segments.last_mut() {
        let gap = (last.1.0 - part.0.0).abs() + (last.1.1 - part.0.1).abs();
        if gap < 1e-6 {
            last.1 = part.1;
            return;
        }
    }
    segments.push(part);
}

fn level(canvas: &mut Canvas, mosaic: &Mosaic, stroke: Stroke, member: &impl Fn(usize, usize) -> bool) {
    const SPACING: f64 = 6.0;
    for row in 0..mosaic.rows.len() {
        let (top, bottom) = mosaic.rows[row];
        let first = (top / SPACING).ceil() as i64;
        for y in (first..first + 2000).map(|k| k as f64 * SPACING).take_while(|&y| y < bottom) {
            for (from, to) in mosaic.runs(row, |column| member(row, column)) {
                canvas.line((mosaic.edges[row][from], y), (mosaic.edges[row][to], y), stroke);
            }
        }
    }
}

/// Marks in staggered rows, `across` and `down` apart, whose middles lie in the member cells and not nearer than `room` to
/// where these end across or to the edge of the mosaic.
fn scattered(
    mosaic: &Mosaic,
    (across, down): (f64, f64),
    room: f64,
    member: &impl Fn(usize, usize) -> bool,
    mut mark: impl FnMut((f64, f64)),
) {
    let ends = mosaic.rows.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |e, row| (e.0.min(row.0), e.1.max(row.1)));
    for row in 0..mosaic.rows.len() {
        let (top, bottom) = (mosaic.rows[row].0.max(ends.0 + room), mosaic.rows[row].1.min(ends.1 - room));
        let first = (top / down).ceil() as i64;
        for line in (first..first + 2000).take_while(|&k| k as f64 * down < bottom) {
            let shift = if line % 2 == 0 { 0.0 } else { across / 2.0 };
            for (from, to) in mosaic.runs(row, |column| member(row, column)) {
                let (left, right) = (mosaic.edges[row][from] + room, mosaic.edges[row][to] - room);
                let start = ((left - shift) / across).ceil() as i64;
                for x in (start..start + 2000).map(|k| k as f64 * across + shift).take_while(|&x| x < right) {
                    mark((x, line as f64 * down));
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn two_by_two() -> Mosaic {
        Mosaic { rows: vec![(10.0, 20.0), (0.0, 10.0)], edges: vec![vec![0.0, 10.0, 20.0]; 2] }
    }

    #[test]
    fn upright_lines_run_through_rows_in_one_piece() {
        let segments = slanted(&two_by_two(), 0.0, 6.0, &|_, _| true);
        assert_eq!(segments.len(), 4);
        assert!(segments.iter().all(|s| s.0.1 == 20.0 && s.1.1 == 0.0));
    }

    #[test]
    fn slanted_lines_stay_in_their_cells() {
        let segments = slanted(&two_by_two(), -1.0, 3.0, &|row, column| row == 1 && column == 0);
        assert!(!segments.is_empty());
        for (from, to) in segments {
            for p in [from, to] {
                assert!((-1e-9..=10.0 + 1e-9).contains(&p.0) && (-1e-9..=10.0 + 1e-9).contains(&p.1), "{p:?}");
            }
        }
    }

    #[test]
    fn marks_stand_in_their_cells_in_staggered_rows() {
        let mut marks = Vec::new();
        scattered(&two_by_two(), (4.0, 3.0), 1.0, &|row, column| row == 0 && column == 1, |at| marks.push(at));
        assert_eq!(marks, [(12.0, 12.0), (16.0, 12.0), (14.0, 15.0), (18.0, 15.0), (12.0, 18.0), (16.0, 18.0)]);
    }

    #[test]
    fn no_cells_no_lines() {
        let empty = Mosaic { rows: vec![], edges: vec![] };
        assert!(slanted(&empty, 1.0, 3.0, &|_, _| true).is_empty());
    }
}
