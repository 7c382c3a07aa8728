//! How a closing and its target are told.

use super::numbers::Closing;
use super::study::ClosingStudy;
use super::target::Goal;
use super::words::{pressure, rise, time};
use crate::study::quoted::said;
use crate::units::Dimension;

/// How the flow stops: time, and its relation to the return of the wave.
pub(super) fn stop(closing: &Closing) -> String {
    match closing.effective_time {
        Some(t) => format!(
            "the flow stops (90 to 10 %) in {}, {} times 2L/a = {}, and {:.0} % of it within the steepest 2L/a",
            time(t),
            said(t / closing.wave_return, Dimension::Number),
            time(closing.wave_return),
            100.0 * closing.steepest_stop
        ),
        None => format!(
            "the flow was below 90 % of its mean when it was asked to shut; 2L/a = {}",
            time(closing.wave_return)
        ),
    }
}

pub(super) fn height(closing: &Closing) -> String {
    format!(
        "{} at the inlet, {} above rest, {:.2} of ρ·a·v = {}",
        pressure(closing.peak),
        rise(closing.surge),
        closing.surge_ratio,
        rise(closing.sudden_rise)
    )
}

pub(super) fn goal(study: &ClosingStudy) -> String {
    match study.target.goal {
        Goal::Peak(limit) => format!("at most {} at the inlet", pressure(limit)),
        Goal::Surge(limit) => format!("at most {} above rest", rise(limit)),
    }
}
