//! Findings on a direct-operated valve, whose armature carries the seal of the main seat: the magnet alone moves it, so that it
//! neither stays shut for want of a differential nor floats on one.

use super::judge::{OPEN_LIFT, SHUT_LIFT, finding, percent};
use super::{Behaviour, Finding};
use crate::indicator::Indicators;
use crate::units::{Dimension, text};

/// An armature that has left its seat and stands still at some mean share of its stroke.
pub(super) fn rests(found: &Indicators, mean: f64) -> Finding {
    let force = |value: Option<f64>| text(value.unwrap_or(f64::NAN), Dimension::Force);
    if mean > OPEN_LIFT {
        let (least, load) = (found.least_magnet_force, found.armature_load);
        let reason = format!(
            "the armature rests at the pole ({} of lift): the magnet pulls with {} at least, against {} of spring and fluid",
            percent(mean),
            force(least),
            force(load)
        );
        let margin = least.unwrap_or(0.0) / load.unwrap_or(f64::NAN).max(1e-3);
        return finding(Behaviour::OpensFully, false, margin, reason);
    }
    if mean < SHUT_LIFT {
        let reason = format!(
            "the armature leaves its seat, up to {} of its lift, but the magnet does not keep it from it",
            percent(found.largest_lift.unwrap_or(0.0))
        );
        return finding(Behaviour::StaysShut, true, SHUT_LIFT / mean.max(1e-6), reason);
    }
    let reason = format!(
        "the armature stands still at {} of its lift: there the magnet's pull is in balance with spring and fluid, and it does not \
         come to the pole",
        percent(mean)
    );
    finding(Behaviour::FloatsSteadily, true, OPEN_LIFT / mean, reason)
}

/// An armature that hums lets the main seat's opening swing: the hum is what it does, and the swing what comes of it.
pub(super) fn hums(hum: Finding, swing: f64) -> Finding {
    let reason =
        format!("{}. The opening of the main seat swings with it, by {} of its lift", hum.reason, percent(swing));
    Finding { reason, ..hum }
}

/// What other valves have as a main stage, this one has as its armature.
pub(super) fn say(finding: &mut Finding) {
    for (part, here) in [("main stage", "armature"), ("pilot seat", "seat")] {
        if finding.reason.contains(part) {
            finding.reason = finding.reason.replace(part, here);
        }
    }
}
