//! What was seen of the main stage while it was energised, for the rules that follow.

use super::circumstances::Circumstances;
use super::oscillation::strikes_on;
use super::threshold::{LEAST_BLOW, LEAST_WINDOW, OPEN_LIFT, WHOLE, steady_swing};
use crate::indicator::Indicators;

/// What was seen of it; lifts are shares of full lift.
pub(super) struct Seen {
    /// Largest lift.
    pub(super) largest: f64,
    /// Mean lift.
    pub(super) mean: f64,
    /// Swing.
    pub(super) swing: f64,
    /// Does it strike its seat time and again?
    pub(super) strikes: bool,
    /// Does it stand still, and was that seen long enough?
    pub(super) still: bool,
    /// Has it opened fully, too late to be watched for long?
    pub(super) just_opened: bool,
    /// Did the on-time end before it came to rest?
    pub(super) cut_short: bool,
}

impl Seen {
    pub(super) fn of(found: &Indicators, around: &Circumstances) -> Seen {
        let (swing, mean) = (found.oscillation.unwrap_or(0.0), found.mean_lift.unwrap_or(0.0));
        let window = found.judged_window.unwrap_or(0.0);
        let strikes = strikes_on(found) && swing > LEAST_BLOW;
        let reached = found.opening_time_90.is_some() && found.lift_at_shutting.is_some_and(|lift| lift > OPEN_LIFT);
        Seen {
            largest: found.largest_lift.unwrap_or(0.0),
            mean,
            swing,
            strikes,
            still: swing < steady_swing(mean) && !strikes && (around.came_to_rest || window >= LEAST_WINDOW),
            just_opened: reached && window < LEAST_WINDOW,
            cut_short: !around.came_to_rest && found.open_time.unwrap_or(0.0) > WHOLE * around.open_time,
        }
    }
}
