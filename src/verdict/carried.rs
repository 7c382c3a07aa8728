//! Findings on a direct-operated valve, whose armature carries the seal of the main seat: the magnet alone moves it, so that it
//! neither stays shut for want of a differential nor floats on one.

use super::circumstances::Circumstances;
use super::finding::{Behaviour, Finding, finding};
use super::hum::hum;
use super::normally_open;
use super::opening::armature_stays;
use super::oscillation::oscillates;
use super::seen::Seen;
use super::threshold::{OPEN_LIFT, REOPENED_LIFT, SHUT_LIFT};
use super::words::{percent, pressure, to_figures};
use crate::indicator::{Energised, Indicators};
use crate::units::{Dimension, text};

/// What the armature does while it is asked to be open.
pub(super) fn motion(found: &Indicators, around: &Circumstances) -> Finding {
    let seen = Seen::of(found, around);
    if around.circuit_differential < 0.0 {
        return backwards(found, around, &seen);
    }
    if seen.largest <= SHUT_LIFT {
        return armature_stays(found, around, &seen);
    }
    if seen.still {
        return rests(found, around, &seen);
    }
    if around.energised == Energised::WhileOpen
        && seen.mean > SHUT_LIFT
        && !seen.strikes
        && let Some(hum) = hum(found, around)
    {
        return hums(hum, seen.swing);
    }
    if seen.just_opened {
        return opens(found, around);
    }
    oscillates(found, around, seen.mean, seen.swing)
}

/// An armature that came to the pole, of a normally open valve to its stop.
fn opens(found: &Indicators, around: &Circumstances) -> Finding {
    if around.energised == Energised::WhileShut {
        return normally_open::opens();
    }
    let (Some(least), Some(load)) = (found.least_magnet_force, found.armature_load) else {
        return finding(Behaviour::OpensFully, false, 1.0, "the armature comes to the pole".into());
    };
    let force = |value: f64| text(value, Dimension::Force);
    let enough = if least < load { ". It falls short for too brief a time for the armature to leave" } else { "" };
    let reason = format!(
        "the armature comes to the pole and stays: the pull is {} at least, spring and fluid take {}{enough}",
        force(least),
        force(load)
    );
    finding(Behaviour::OpensFully, false, (least / load.max(1e-3)).max(1.0), reason)
}

/// The outlet is above the inlet: what it does while it is asked to be open, and what holds it shut.
pub(super) fn backwards(found: &Indicators, around: &Circumstances, seen: &Seen) -> Finding {
    let excess = -around.circuit_differential;
    let held = around.held_back.unwrap_or(f64::NAN);
    let again = found.reopened_lift.or(found.lift_at_end).unwrap_or(0.0);
    let lifted = seen.largest > SHUT_LIFT;
    let (while_open, while_shut) = (around.energised.open(), around.energised.shut());
    let holder = around.energised.choose("spring", "magnet");
    let open = if lifted { "it is open and passes backwards" } else { "it had not left its seat" };
    let shut = if excess > held {
        format!("{while_shut} too it is lifted: by hand its {holder} holds {} at most", pressure(held.max(0.0)))
    } else if again > REOPENED_LIFT {
        format!(
            "{while_shut} its {holder} holds {} (by hand), yet after it has shut it opens again, by a bounce or the line's blows, up to \
             about {} of its lift",
            pressure(held),
            percent(to_figures(again, 1))
        )
    } else {
        format!("{while_shut} its {holder} holds it shut, against {} at most (by hand)", pressure(held))
    };
    let reason = format!("the outlet is {} above the inlet: {while_open} {open}; {shut}", pressure(excess));
    let passes = lifted || excess > held || again > REOPENED_LIFT;
    let behaviour = if passes { Behaviour::PassesBackwards } else { Behaviour::StaysShut };
    finding(behaviour, true, excess / held, reason)
}

/// An armature that has left its seat and stands still.
fn rests(found: &Indicators, around: &Circumstances, seen: &Seen) -> Finding {
    let mean = seen.mean;
    if mean > OPEN_LIFT {
        return opens(found, around);
    }
    if mean < SHUT_LIFT {
        let reason = format!(
            "the armature leaves its seat, up to {} of its lift, but the {} does not hold it open",
            percent(seen.largest),
            around.energised.choose("magnet", "spring")
        );
        return finding(Behaviour::StaysShut, true, SHUT_LIFT / mean.max(1e-6), reason);
    }
    let reason = format!(
        "the armature stands still at {} of its lift: there {}",
        percent(mean),
        around.energised.choose(
            "the magnet's pull is in balance with spring and fluid, and it does not come to the pole",
            "the spring is in balance with the fluid, and it does not come to its stop"
        )
    );
    finding(Behaviour::FloatsSteadily, true, OPEN_LIFT / mean, reason)
}

/// An armature that hums lets the main seat's opening swing: the hum is what it does, and the swing what comes of it.
pub(super) fn hums(hum: Finding, swing: f64) -> Finding {
    let reason =
        format!("{}. The opening of the main seat swings with it, by {} of its lift", hum.reason, percent(swing));
    Finding { reason, ..hum }
}
