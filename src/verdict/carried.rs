//! Findings on a direct-operated valve, whose armature carries the seal of the main seat: the magnet alone moves it, so that it
//! neither stays shut for want of a differential nor floats on one.

use super::finding::{Behaviour, Finding, finding};
use super::threshold::{OPEN_LIFT, SHUT_LIFT};
use super::words::{percent, pressure};
use crate::indicator::Indicators;
use crate::units::{Dimension, text};

/// An armature that came to the pole.
pub(super) fn opens(found: &Indicators) -> Finding {
    let (Some(least), Some(load)) = (found.least_magnet_force, found.armature_load) else {
        return finding(Behaviour::OpensFully, false, 1.0, "the armature comes to the pole".into());
    };
    let force = |value: f64| text(value, Dimension::Force);
    let reason = format!(
        "the armature comes to the pole and stays: the magnet pulls with {} at least, against {} of spring and fluid{}",
        force(least),
        force(load),
        if least < load { ", and less than that for too short a time to let go" } else { "" }
    );
    finding(Behaviour::OpensFully, false, (least / load.max(1e-3)).max(1.0), reason)
}

/// The outlet is above the inlet, with the armature off its seat while the coil is on (`energised`), or without current as well.
pub(super) fn backwards(found: &Indicators, excess: f64) -> Option<Finding> {
    let energised = found.largest_lift.unwrap_or(0.0);
    let without = found.lift_at_end.unwrap_or(0.0);
    if energised.max(without) <= SHUT_LIFT {
        return None;
    }
    let shut = if without > SHUT_LIFT {
        format!(
            "and without current it is lifted to {} of its lift as well: the spring does not hold it",
            percent(without)
        )
    } else {
        "and without current its spring brings it back to its seat".into()
    };
    let reason = format!(
        "the outlet is {} above the inlet: energised the magnet lifts the armature and it passes backwards, {shut}",
        pressure(excess)
    );
    Some(finding(Behaviour::PassesBackwards, true, energised.max(without) / SHUT_LIFT, reason))
}

/// An armature that has left its seat and stands still at some mean share of its stroke.
pub(super) fn rests(found: &Indicators, mean: f64) -> Finding {
    if mean > OPEN_LIFT {
        return opens(found);
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
