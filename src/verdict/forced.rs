//! Findings on a valve with forced lift: its armature draws the main stage along by a link, so that it opens without a differential, or
//! not for want of pull, or hangs at part lift for want of stroke.

use super::carried::{backwards, hums};
use super::circumstances::{Circumstances, Linked};
use super::finding::{Behaviour, Finding, finding};
use super::hum::hum;
use super::opening::armature_stays;
use super::oscillation::oscillates;
use super::seen::Seen;
use super::threshold::{AT_POLE, OFF_PILOT_SEAT, OPEN_LIFT, SHUT_LIFT};
use super::words::{percent, pressure};
use crate::indicator::Indicators;
use crate::units::{Dimension, text};

fn length(value: f64) -> String {
    text(value, Dimension::Length)
}

fn force(value: f64) -> String {
    text(value, Dimension::Force)
}

/// What the main stage does while energised; none where a rule for a stage that the differential carries fits it.
pub(super) fn motion(found: &Indicators, around: &Circumstances, link: &Linked) -> Option<Finding> {
    let seen = Seen::of(found, around);
    if around.circuit_differential < 0.0 {
        return Some(backwards(found, around, &seen));
    }
    if seen.largest < SHUT_LIFT && !seen.strikes {
        return stays(found, around, &seen, link);
    }
    if seen.still {
        return rests(found, around, &seen, link);
    }
    if !seen.strikes
        && seen.mean > SHUT_LIFT
        && let Some(hum) = hum(found, around)
    {
        return Some(hums(hum, seen.swing));
    }
    Some(if seen.just_opened {
        opens(found, around, &seen, link)
    } else {
        oscillates(found, around, seen.mean, seen.swing)
    })
}

/// A stage that stays on its seat: the armature does too, or it hangs in its link, or its stroke does not reach.
fn stays(found: &Indicators, around: &Circumstances, seen: &Seen, link: &Linked) -> Option<Finding> {
    if link.travel < OFF_PILOT_SEAT * link.free_play {
        return Some(armature_stays(found, around, seen));
    }
    if seen.cut_short && link.pull > link.needed_pull {
        return None;
    }
    let differential = pressure(around.circuit_differential);
    if found.armature_opening_time.is_some() {
        let reason = format!(
            "the armature comes to the pole, but neither its link (free play {}, of a stroke of {}) nor the {differential} of the \
             circuit lifts the main stage off its seat",
            length(link.free_play),
            length(link.stroke)
        );
        return Some(finding(Behaviour::StaysShut, true, link.needed_stroke / link.stroke, reason));
    }
    let reason = format!(
        "the magnet lifts the armature off the pilot seat, but cannot draw the main stage off its own: with the link taut it pulls {} \
         and would need {} (by hand), and the {differential} of the circuit does not lift the stage either",
        force(link.pull),
        force(link.needed_pull)
    );
    Some(finding(Behaviour::WillNotOpen, true, link.needed_pull / link.pull.max(1e-3), reason))
}

/// A stage that has left its seat and stands still.
fn rests(found: &Indicators, around: &Circumstances, seen: &Seen, link: &Linked) -> Option<Finding> {
    if seen.mean > OPEN_LIFT {
        return Some(opens(found, around, seen, link));
    }
    let taut = link.travel - seen.mean * link.full_lift > link.free_play;
    if seen.mean < SHUT_LIFT || !taut {
        return carried(found, seen, link);
    }
    let at_pole = found.armature_opening_time.is_some();
    let why = if at_pole {
        format!(
            "its armature is at the pole after {}, and the link ({} of free play) reaches no further; full lift without a differential \
             takes a stroke of {} (by hand)",
            length(link.stroke),
            length(link.free_play),
            length(link.needed_stroke)
        )
    } else {
        format!(
            "its armature stands at {} of {}, where the pull is in balance with springs and fluid, and does not come to the pole",
            length(link.travel),
            length(link.stroke)
        )
    };
    let reason = format!("the main stage hangs from its link at {} of its lift: {why}", percent(seen.mean));
    Some(finding(Behaviour::HangsFromLink, true, OPEN_LIFT / seen.mean, reason))
}

/// A stage at part lift with its link slack: the differential carries it, and its pilot is throttled by its own lift.
fn carried(found: &Indicators, seen: &Seen, link: &Linked) -> Option<Finding> {
    if seen.mean < SHUT_LIFT {
        return None;
    }
    let across = found.differential_open.unwrap_or(0.0);
    let gap = link.travel - seen.mean * link.full_lift;
    let reason = format!(
        "the main stage stands still at {} of its lift with its link slack: the {} across the valve carries it up to its armature, which \
         leaves the pilot a gap of {}, and lifts it no further",
        percent(seen.mean),
        pressure(across),
        length(gap.max(0.0))
    );
    Some(finding(Behaviour::FloatsSteadily, true, OPEN_LIFT / seen.mean, reason))
}

/// A stage at its stop: by its link or by the differential.
fn opens(found: &Indicators, around: &Circumstances, seen: &Seen, link: &Linked) -> Finding {
    let at_stop = format!("the main stage rests at its stop ({} of lift)", percent(seen.mean));
    let taut = link.travel - seen.mean * link.full_lift > link.free_play;
    let needed = found.full_lift_differential;
    let across = found.differential_open.unwrap_or(0.0);
    if !taut && hum(found, around).is_none() {
        let by_hand = needed
            .map_or_else(String::new, |needed| format!(", {} needed without the link (by hand)", pressure(needed)));
        let reason = format!("{at_stop}, its link slack: {} across the valve holds it{by_hand}", pressure(across));
        return finding(Behaviour::OpensFully, false, needed.map_or(1.0, |n| (across / n).max(1.0)), reason);
    }
    let (Some(least), Some(load)) = (found.least_magnet_force, found.armature_load) else {
        return finding(Behaviour::OpensFully, false, 1.0, format!("{at_stop}, drawn there by its link"));
    };
    if hum(found, around).is_some() {
        let reason = format!(
            "{at_stop}, drawn there by its link, and swings by {} with its humming armature",
            percent(seen.swing)
        );
        return finding(Behaviour::OpensFully, false, 1.0, reason);
    }
    let place = if found.armature_opening_time.is_some() && link.travel > AT_POLE * link.stroke {
        "comes to the pole and stays".to_owned()
    } else {
        format!("stands at {} of {}, held back by the link", length(link.travel), length(link.stroke))
    };
    let reason = format!(
        "{at_stop}, drawn there by its link, which needs no differential: the armature {place}, the pull is {} at least, spring, link and \
         fluid take {}",
        force(least),
        force(load)
    );
    finding(Behaviour::OpensFully, false, (least / load.max(1e-3)).max(1.0), reason)
}
