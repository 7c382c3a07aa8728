//! Marks of events at the edges of the panels.

use super::panel::Panel;
use crate::output::plot::axis::Axis;
use crate::output::plot::canvas::{Anchor, Canvas, Lettering, Stroke};
use crate::output::plot::colour::{BLACK, BLUE, Colour, VERMILLION, WHITE};
use crate::output::plot::font::text_width;
use crate::output::plot::text::lettering;
use crate::output::plot::{Rect, SMALL};
use crate::trace::{Event, EventKind, Trace};

/// Shape of a mark.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Shape {
    Down,
    Up,
    Round,
}

/// How an event is marked.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Mark {
    /// Its words.
    pub(super) words: &'static str,
    /// The channel in whose panel it stands.
    channel: &'static str,
    shape: Shape,
    colour: Colour,
    filled: bool,
    /// Does it stand at the lower edge?
    low: bool,
}

/// Is the armature the main stage itself? Then a run has no travel but the lift.
pub(super) fn one_travel(trace: &Trace) -> bool {
    trace.channel("armature_travel").is_none()
}

/// The mark of a kind of event; switching has none, it is shaded.
fn mark(kind: EventKind, one_travel: bool) -> Option<Mark> {
    let new = |words, channel, shape, colour, filled, low| Some(Mark { words, channel, shape, colour, filled, low });
    match kind {
        EventKind::CoilOn | EventKind::CoilOff | EventKind::AskedOpen | EventKind::AskedShut => None,
        EventKind::SeatContact if one_travel => new("armature meets its seat", "lift", Shape::Down, BLACK, true, true),
        EventKind::PoleContact if one_travel => {
            new("armature meets the pole", "lift", Shape::Up, VERMILLION, false, false)
        }
        EventKind::StopContact if one_travel => new("armature meets its stop", "lift", Shape::Up, BLACK, true, false),
        EventKind::SeatContact => new("main stage meets its seat", "lift", Shape::Down, BLACK, true, true),
        EventKind::StopContact => new("main stage meets its stop", "lift", Shape::Up, BLACK, true, false),
        EventKind::PilotSeatContact => {
            new("armature meets pilot seat", "armature_travel", Shape::Down, VERMILLION, false, true)
        }
        EventKind::PoleContact => {
            new("armature meets the pole", "armature_travel", Shape::Up, VERMILLION, false, false)
        }
        EventKind::InletCavityOpens => new("inlet cavity opens", "inlet_pressure", Shape::Round, BLUE, false, true),
        EventKind::InletCavityCollapses => {
            new("inlet cavity collapses", "inlet_pressure", Shape::Round, BLUE, true, true)
        }
        EventKind::OutletCavityOpens => {
            new("outlet cavity opens", "outlet_pressure", Shape::Round, VERMILLION, false, true)
        }
        EventKind::OutletCavityCollapses => {
            new("outlet cavity collapses", "outlet_pressure", Shape::Round, VERMILLION, true, true)
        }
    }
}

/// The marks that occur in a run, each once, in the order of first occurrence.
pub(super) fn occurring(trace: &Trace, panels: &[Panel]) -> Vec<Mark> {
    let mut all: Vec<Mark> = Vec::new();
    for mark in trace.events.iter().filter_map(|e| mark(e.kind, one_travel(trace))) {
        if !all.contains(&mark) && panels.iter().any(|p| p.has(mark.channel)) {
            all.push(mark);
        }
    }
    all
}

/// Height of a row of marks, points.
pub(super) const ROW: f64 = 9.5;

/// The marks of one panel in rows: at its lower edge and at its upper, so that no kind hides another or the curves.
pub(super) struct Rows {
    low: Vec<Mark>,
    high: Vec<Mark>,
    one_travel: bool,
}

impl Rows {
    /// The rows of a panel.
    pub(super) fn new(trace: &Trace, panel: &Panel) -> Rows {
        let all = occurring(trace, std::slice::from_ref(panel));
        let (low, high) = all.into_iter().partition(|m| m.low);
        Rows { low, high, one_travel: one_travel(trace) }
    }

    /// Room taken at the upper and at the lower edge, points.
    pub(super) fn room(&self) -> (f64, f64) {
        let room = |rows: &[Mark]| if rows.is_empty() { 0.0 } else { ROW * rows.len() as f64 + 1.0 };
        (room(&self.high), room(&self.low))
    }
}

/// Events of one kind that follow each other closely on the page.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Burst {
    from: f64,
    to: f64,
    count: usize,
}

/// Marks closer than their width run together.
fn bursts(places: impl Iterator<Item = f64>) -> Vec<Burst> {
    const CLOSEST: f64 = 7.0;
    let mut all: Vec<Burst> = Vec::new();
    for place in places {
        match all.last_mut() {
            Some(last) if place - last.to < CLOSEST => *last = Burst { to: place, count: last.count + 1, ..*last },
            _ => all.push(Burst { from: place, to: place, count: 1 }),
        }
    }
    all
}

/// Draws the rows of a panel within a window.
pub(super) fn draw(canvas: &mut Canvas, frame: &Rect, across: &Axis, rows: &Rows, events: &[Event]) {
    let places = |kind: Mark| {
        events
            .iter()
            .filter(move |e| e.time.is_finite() && across.holds(e.time) && mark(e.kind, rows.one_travel) == Some(kind))
            .map(|e| across.place(e.time))
    };
    for (row, &kind) in rows.low.iter().enumerate() {
        draw_row(canvas, frame, frame.bottom - ROW * (row as f64 + 0.5), kind, &bursts(places(kind)));
    }
    for (row, &kind) in rows.high.iter().enumerate() {
        draw_row(canvas, frame, frame.top + ROW * (row as f64 + 0.5), kind, &bursts(places(kind)));
    }
}

/// One mark for each burst, a bar as long as it lasts, and how many events it holds.
fn draw_row(canvas: &mut Canvas, frame: &Rect, y: f64, mark: Mark, bursts: &[Burst]) {
    const BAR: f64 = 1.6;
    for (i, burst) in bursts.iter().enumerate() {
        let words = format!("{}×", burst.count);
        let wide = text_width(&words, SMALL) + 6.0;
        let next = bursts.get(i + 1).map_or(frame.right, |b| b.from - 4.0);
        let previous = if i == 0 { frame.left } else { bursts[i - 1].to + 4.0 };
        let end = burst.to.max(burst.from + 4.0);
        let middle = (burst.from + burst.to) / 2.0;
        let mut bar = |left, right| {
            canvas.fill_rect(&Rect { left, top: y - BAR, right, bottom: y + BAR }, mark.colour);
        };
        let place = if burst.count == 1 {
            None
        } else if burst.to - burst.from >= wide + 16.0 {
            bar(burst.from, middle - wide / 2.0);
            bar(middle + wide / 2.0, burst.to);
            Some((middle, Anchor::Middle))
        } else {
            bar(burst.from, burst.to);
            if end + wide <= next {
                Some((end + 3.0, Anchor::Start))
            } else {
                (burst.from - 4.0 - wide >= previous).then_some((burst.from - 7.0, Anchor::End))
            }
        };
        draw_mark(canvas, (burst.from, y), mark);
        if let Some((x, anchor)) = place {
            canvas.text(&words, (x, y), Lettering { halo: true, ..lettering(SMALL, mark.colour, anchor) });
        }
    }
}

/// Draws one mark.
pub(super) fn draw_mark(canvas: &mut Canvas, at: (f64, f64), mark: Mark) {
    const R: f64 = 3.2;
    let corners = match mark.shape {
        Shape::Round => {
            canvas.disc(at, R + 0.6, WHITE);
            canvas.disc(at, R, mark.colour);
            if !mark.filled {
                canvas.disc(at, R - 1.2, WHITE);
            }
            return;
        }
        Shape::Down => [(at.0 - R, at.1 - R), (at.0 + R, at.1 - R), (at.0, at.1 + R)],
        Shape::Up => [(at.0 - R, at.1 + R), (at.0 + R, at.1 + R), (at.0, at.1 - R)],
    };
    canvas.fill_polygon(&corners, if mark.filled { mark.colour } else { WHITE });
    let outline = [corners[0], corners[1], corners[2], corners[0]];
    canvas.polyline(&outline, Stroke::solid(mark.colour, 0.9));
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn close_events_run_together_and_none_is_lost() {
        let places = [10.0, 12.0, 18.0, 40.0, 60.0, 66.9];
        let bursts = bursts(places.into_iter());
        let counts: Vec<usize> = bursts.iter().map(|b| b.count).collect();
        assert_eq!(counts, [3, 1, 2]);
        assert_eq!((bursts[0].from, bursts[0].to), (10.0, 18.0));
    }
}
