//! Marks of events at the edges of the panels.

use super::panel::Panel;
use crate::output::plot::Rect;
use crate::output::plot::axis::Axis;
use crate::output::plot::canvas::{Canvas, Stroke};
use crate::output::plot::colour::{BLACK, BLUE, Colour, VERMILLION, WHITE};
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

/// The mark of a kind of event; switching has none, it is shaded.
pub(super) fn mark(kind: EventKind) -> Option<Mark> {
    let new = |words, channel, shape, colour, filled, low| Some(Mark { words, channel, shape, colour, filled, low });
    match kind {
        EventKind::CoilOn | EventKind::CoilOff => None,
        EventKind::SeatContact => new("main stage meets its seat", "lift", Shape::Down, BLACK, true, true),
        EventKind::StopContact => new("main stage meets its stop", "lift", Shape::Up, BLACK, true, false),
        EventKind::PilotSeatContact => {
            new("armature meets the pilot seat", "armature_travel", Shape::Down, VERMILLION, false, true)
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
    for mark in trace.events.iter().filter_map(|e| mark(e.kind)) {
        if !all.contains(&mark) && panels.iter().any(|p| p.has(mark.channel)) {
            all.push(mark);
        }
    }
    all
}

/// Draws the events of a panel within a window; marks closer than their width are drawn once.
pub(super) fn draw(canvas: &mut Canvas, frame: &Rect, across: &Axis, panel: &Panel, events: &[Event]) {
    const CLOSEST: f64 = 4.0;
    let mut last: Vec<(Mark, f64)> = Vec::new();
    for event in events.iter().filter(|e| e.time.is_finite() && across.holds(e.time)) {
        let Some(mark) = mark(event.kind).filter(|m| panel.has(m.channel)) else {
            continue;
        };
        let place = across.place(event.time);
        if last.iter().any(|(m, at)| *m == mark && (place - at).abs() < CLOSEST) {
            continue;
        }
        last.retain(|(m, _)| *m != mark);
        last.push((mark, place));
        let y = if mark.low { frame.bottom - 4.0 } else { frame.top + 4.0 };
        draw_mark(canvas, (place, y), mark);
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
