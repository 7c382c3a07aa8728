//! Hand values, limits and the user's own point, with their names.

use super::grid::Grid;
use crate::output::plot::canvas::{Anchor, Canvas, Dash, Direction, Lettering, Stroke};
use crate::output::plot::colour::{BLACK, Colour, PURPLE, WHITE};
use crate::output::plot::font::text_width;
use crate::output::plot::text::{fitted, lettering};
use crate::output::plot::{MEDIUM, Rect, SMALL};
use crate::portable::Portable;
use crate::study::map::{Guide, GuideKind};

const COLOUR: Colour = Colour(0, 60, 110);
/// Half the height of a line of text, points.
const HALF: f64 = 6.5;
const POINT_WORDS: &str = "your point";

/// A name beside a guide.
pub(super) struct GuideName {
    words: String,
    at: (f64, f64),
    direction: Direction,
}

/// Style of a kind of guide.
pub(super) fn stroke(kind: GuideKind) -> Stroke {
    match kind {
        GuideKind::Hand => Stroke { colour: COLOUR, width: 1.1, dash: Dash::Dashed },
        GuideKind::Theory => Stroke { colour: PURPLE, width: 2.4, dash: Dash::Solid },
    }
}

/// Draws the guides' lines.
pub(super) fn draw_lines(canvas: &mut Canvas, grid: &Grid) {
    for guide in &grid.map.guides {
        canvas.polyline_within(&grid.frame, &places(grid, guide), stroke(guide.kind));
    }
}

fn places(grid: &Grid, guide: &Guide) -> Vec<(f64, f64)> {
    guide.points.iter().map(|&p| grid.place(p).unwrap_or((f64::NAN, f64::NAN))).collect()
}

/// Places for the names of the guides; takes their areas. The second list names the guides outside the figure.
pub(super) fn names(grid: &Grid, taken: &mut Vec<Rect>) -> (Vec<GuideName>, Vec<String>) {
    let (mut names, mut outside) = (Vec::new(), Vec::new());
    for guide in &grid.map.guides {
        let points = places(grid, guide);
        let candidates = candidates(grid, &guide.label, &points);
        if candidates.is_empty() {
            outside.push(guide.label.clone());
            continue;
        }
        let free = candidates.iter().position(|(_, area)| taken.iter().all(|t| !t.overlaps(area)));
        let Some((name, area)) = candidates.into_iter().nth(free.unwrap_or(0)) else {
            continue;
        };
        taken.push(area);
        names.push(name);
    }
    (names, outside)
}

/// Places along the visible part of a guide: beside it where it is steep, above or below it where it is flat.
fn candidates(grid: &Grid, label: &str, points: &[(f64, f64)]) -> Vec<(GuideName, Rect)> {
    let mut all = Vec::new();
    // Close to the line where there is room, else a line of text or two away.
    for distance in [0.0, 13.0, 26.0] {
        for share in [0.94, 0.06, 0.8, 0.2, 0.65, 0.35, 0.5] {
            let Some((at, slope)) = along(grid, points, share) else { continue };
            let steep = slope > 1.7;
            if steep && distance > 0.0 {
                continue;
            }
            let room = 0.8 * if steep { grid.frame.height() } else { grid.frame.width() };
            let words = fitted(label, SMALL, room);
            let beside = if steep { upright(grid, &words, at) } else { level(grid, &words, at, slope, distance) };
            all.extend(beside.into_iter().filter(|(_, area)| grid.frame.holds(area)));
        }
    }
    all
}

/// On both sides of a steep line.
fn upright(grid: &Grid, words: &str, at: (f64, f64)) -> [(GuideName, Rect); 2] {
    let long = text_width(words, SMALL) + 4.0;
    let y = at.1.clamp(grid.frame.top + 2.0 + long / 2.0, grid.frame.bottom - 2.0 - long / 2.0);
    [-1.0, 1.0].map(|side| {
        let centre = (at.0 + side * HALF, y);
        let name = GuideName { words: words.to_owned(), at: centre, direction: Direction::Upwards };
        (name, Rect::about(centre, 2.0 * HALF - 1.0, long))
    })
}

/// Above and below a flat line, clear of the line itself, which runs up or down beneath the name.
fn level(grid: &Grid, words: &str, at: (f64, f64), slope: f64, distance: f64) -> [(GuideName, Rect); 2] {
    let long = text_width(words, SMALL) + 4.0;
    let away = HALF + (0.5 * long * slope).min(30.0) + distance;
    let x = at.0.clamp(grid.frame.left + 2.0 + long / 2.0, grid.frame.right - 2.0 - long / 2.0);
    [-1.0, 1.0].map(|side| {
        let centre = (x, at.1 + side * away);
        let name = GuideName { words: words.to_owned(), at: centre, direction: Direction::Across };
        (name, Rect::about(centre, long, 2.0 * HALF - 1.0))
    })
}

/// The point at a share of the visible length of a line, and its slope there.
fn along(grid: &Grid, points: &[(f64, f64)], share: f64) -> Option<((f64, f64), f64)> {
    // Fine pieces, so that the visible part is found whatever the distance of the given points.
    let mut pieces: Vec<((f64, f64), f64, f64)> = Vec::new();
    for pair in points.windows(2) {
        let (dx, dy) = (pair[1].0 - pair[0].0, pair[1].1 - pair[0].1);
        let count = (dx.length_with(dy) / 3.0).ceil().clamp(1.0, 2000.0);
        if !count.is_finite() {
            continue;
        }
        for i in 0..count as usize {
            let part = (i as f64 + 0.5) / count;
            let at = (pair[0].0 + part * dx, pair[0].1 + part * dy);
            if grid.frame.contains(at) {
                pieces.push((at, dx.length_with(dy) / count, dy.abs() / dx.abs().max(1e-9)));
            }
        }
    }
    let whole: f64 = pieces.iter().map(|p| p.1).sum();
    let mut passed = 0.0;
    for (at, length, slope) in &pieces {
        passed += length;
        if passed >= share * whole {
            return Some((*at, *slope));
        }
    }
    None
}

/// Writes the names of the guides.
pub(super) fn draw_names(canvas: &mut Canvas, names: &[GuideName]) {
    for name in names {
        let style =
            Lettering { size: SMALL, colour: COLOUR, anchor: Anchor::Middle, direction: name.direction, halo: true };
        canvas.text(&name.words, name.at, style);
    }
}

/// The user's point: where it is drawn, and whether it lies inside the figure.
pub(super) fn point(grid: &Grid) -> Option<((f64, f64), bool)> {
    let (x, y) = grid.map.operating_point;
    let at = grid.place((x?, y?))?;
    let inside = grid.frame.contains(at);
    let held = (at.0.clamp(grid.frame.left, grid.frame.right), at.1.clamp(grid.frame.top, grid.frame.bottom));
    Some((held, inside))
}

/// The area of the point's mark.
pub(super) fn point_area(at: (f64, f64)) -> Rect {
    Rect::about(at, 17.0, 17.0)
}

/// Place of the point's name: the first side with room.
pub(super) fn point_name(grid: &Grid, at: (f64, f64), taken: &[Rect]) -> ((f64, f64), Rect) {
    let width = text_width(POINT_WORDS, MEDIUM) + 4.0;
    let away = 10.0 + width / 2.0;
    let sides = [
        (at.0 + away, at.1),
        (at.0 - away, at.1),
        (at.0, at.1 - 15.0),
        (at.0, at.1 + 15.0),
        (at.0 + away, at.1 - 12.0),
        (at.0 - away, at.1 - 12.0),
        (at.0 + away, at.1 + 12.0),
        (at.0 - away, at.1 + 12.0),
    ];
    let areas = sides.map(|centre| Rect::about(centre, width, 13.0));
    let inside = |area: &Rect| grid.frame.holds(area);
    let free = |area: &Rect| inside(area) && taken.iter().all(|t| !t.overlaps(area));
    let chosen = areas.iter().position(free).or_else(|| areas.iter().position(inside)).unwrap_or(0);
    (sides[chosen], areas[chosen])
}

/// Draws the mark of the user's point.
pub(super) fn draw_point(canvas: &mut Canvas, at: (f64, f64)) {
    canvas.disc(at, 7.0, WHITE);
    canvas.disc(at, 5.6, BLACK);
    canvas.disc(at, 3.2, WHITE);
    canvas.disc(at, 1.7, BLACK);
}

/// Writes the name of the user's point.
pub(super) fn draw_point_name(canvas: &mut Canvas, centre: (f64, f64)) {
    let style = Lettering { halo: true, ..lettering(MEDIUM, BLACK, Anchor::Middle) };
    canvas.text(POINT_WORDS, centre, style);
}
