//! Curves through simulated points and exact cases.

use crate::output::plot::Rect;
use crate::output::plot::axis::Axis;
use crate::output::plot::canvas::{Canvas, Dash, Stroke};
use crate::output::plot::colour::{BLACK, BLUE, GREEN, GREY, ORANGE, VERMILLION, WHITE};

/// What a curve shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Look {
    /// Simulated at the inlet, with a disc at each run.
    Simulated,
    /// Simulated at the inlet after the first closure.
    Later,
    /// Simulated at the outlet.
    Outlet,
    /// Effective closing time.
    Effective,
    /// Whole time to shut.
    Total,
    /// ρ·a·v.
    Sudden,
    /// Exact, linear closing of the opening.
    LinearOpening,
    /// Exact, linear stop of the flow.
    LinearFlow,
}

/// A curve: bore, value, uncertain.
pub(super) struct Curve {
    pub(super) look: Look,
    pub(super) points: Vec<(f64, f64, bool)>,
}

impl Look {
    /// Told apart by dashes in a grey print.
    pub(super) fn stroke(self) -> Stroke {
        let (colour, width, dash) = match self {
            Look::Simulated => (BLUE, 1.6, Dash::Solid),
            Look::Later => (BLUE, 1.0, Dash::Dotted),
            Look::Outlet => (ORANGE, 1.4, Dash::Dashed),
            Look::Effective => (BLACK, 1.6, Dash::Solid),
            Look::Total => (GREY, 1.2, Dash::Dashed),
            Look::Sudden => (VERMILLION, 1.4, Dash::Solid),
            Look::LinearOpening => (BLACK, 1.4, Dash::Dashed),
            Look::LinearFlow => (GREEN, 1.5, Dash::Dotted),
        };
        Stroke { colour, width, dash }
    }

    /// What it is called.
    pub(super) fn words(self) -> &'static str {
        match self {
            Look::Simulated => "simulated, at the inlet",
            Look::Later => "later peak (after a cavity uncertain)",
            Look::Outlet => "simulated, at the outlet",
            Look::Effective => "flow from 90 to 10 %",
            Look::Total => "asked to shut until shut",
            Look::Sudden => "sudden stop, ρ·a·v",
            Look::LinearOpening => "opening shut linearly (Allievi, exact)",
            Look::LinearFlow => "flow stopped linearly (Michaud)",
        }
    }
}

/// Draws a curve into its frame.
pub(super) fn draw(canvas: &mut Canvas, frame: &Rect, across: &Axis, upright: &Axis, curve: &Curve) {
    let places: Vec<(f64, f64)> = curve.points.iter().map(|p| (across.place(p.0), upright.place(p.1))).collect();
    canvas.polyline_within(frame, &places, curve.look.stroke());
    if curve.look != Look::Simulated {
        return;
    }
    for (place, point) in places.iter().zip(&curve.points).filter(|(place, _)| frame.contains(**place)) {
        disc(canvas, *place, point.2);
    }
}

/// A run; hollow where uncertain.
pub(super) fn disc(canvas: &mut Canvas, at: (f64, f64), uncertain: bool) {
    canvas.disc(at, 2.4, BLUE);
    if uncertain {
        canvas.disc(at, 1.4, WHITE);
    }
}
