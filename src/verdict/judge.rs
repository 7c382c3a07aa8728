//! From indicators to findings.

use super::boiling::{boiling_at_closing, flashing};
use super::carried;
use super::circumstances::Circumstances;
use super::coil::{burns, heat};
use super::finding::{Behaviour, Finding, Verdict, finding};
use super::forced;
use super::hammer::{hammer, no_hammer};
use super::hum::hum;
use super::later_peak::hammers_later;
use super::normally_open::{self, too_weak_to_shut};
use super::opening::{armature_stays, at_standstill, backwards, on_time_too_short, stays_shut};
use super::oscillation::{oscillates, strikes_on};
use super::seen::Seen;
use super::threshold::{NO_SWING, OPEN_LIFT, REOPENED_LIFT, SHUT_LIFT, WHOLE, had_opened};
use super::words::{percent, pressure, to_figures};
use crate::indicator::{Energised, Indicators, noise};
use crate::units::{Dimension, text};

/// All findings of a run: what the main stage does first, then what else holds.
pub fn judge(found: &Indicators, around: &Circumstances) -> Verdict {
    let mut findings = vec![motion(found, around)];
    let mut leading = 1;
    if let Some(standstill) = at_standstill(found, around) {
        // At the duty's own off-time the line may not drain; then it is the start of the day that fails.
        let drains = found.flow_open.is_some_and(|flow| around.shut_time * flow > around.mass_behind);
        findings.insert(if drains { 0 } else { 1 }, standstill);
        leading = 2;
    }
    findings.extend(not_closing(found, around));
    findings.extend(hard_closing(found, around));
    let hammers = hammer(found, around).or_else(|| hammers_later(found, around));
    let no_hammer = if hammers.is_none() { no_hammer(found, around) } else { None };
    findings.extend(hammers);
    findings.extend(flashing(found));
    findings.extend(boiling_at_closing(found, around));
    let hums = if findings[0].behaviour == Behaviour::Hums { None } else { hums(found, around) };
    findings.extend(hums);
    findings.extend(heat(found, around).or_else(|| burns(found, around)));
    // After what the stage does, faults come before notes.
    findings[leading..].sort_by_key(|finding| !finding.adverse);
    let opened = found.largest_lift.unwrap_or(0.0) > SHUT_LIFT && around.circuit_differential > 0.0;
    let not_judged = if opened { around.may_bang_on_opening.clone() } else { Vec::new() };
    Verdict { findings, not_judged, not_computed: around.not_computed.clone(), no_hammer }
}

/// What the main stage does while it is asked to be open.
fn motion(found: &Indicators, around: &Circumstances) -> Finding {
    if around.carried {
        return carried::motion(found, around);
    }
    if let Some(found) = around.linked.as_ref().and_then(|link| forced::motion(found, around, link)) {
        return found;
    }
    let differential = around.circuit_differential;
    if differential < 0.0 {
        return backwards(found, around, -differential);
    }
    let seen = Seen::of(found, around);
    // A spring may lift an armature by less than its stroke, and yet far enough.
    let lifted = around.energised == Energised::WhileShut && seen.largest >= SHUT_LIFT;
    if found.armature_opening_time.is_none() && !lifted {
        return armature_stays(found, around, &seen);
    }
    if seen.largest < SHUT_LIFT && !seen.strikes {
        if seen.cut_short && found.lift_off_differential.is_some_and(|limit| differential > limit) {
            return on_time_too_short(found, around, "the main stage had not left its seat");
        }
        return stays_shut(found, around);
    }
    if seen.still {
        if seen.mean > OPEN_LIFT {
            return opens(found, seen.mean);
        }
        if seen.mean < SHUT_LIFT {
            return stays_shut(found, around);
        }
        return floats(found, seen.mean);
    }
    if seen.just_opened {
        return opens(found, seen.mean);
    }
    oscillates(found, around, seen.mean, seen.swing)
}

/// An armature that hums while its magnet should hold it.
fn hums(found: &Indicators, around: &Circumstances) -> Option<Finding> {
    match around.energised {
        Energised::WhileOpen => hum(found, around),
        Energised::WhileShut => normally_open::hum(found, around),
    }
}

fn opens(found: &Indicators, mean: f64) -> Finding {
    let across = found.differential_open.unwrap_or(0.0);
    let needed = found.full_lift_differential;
    let reason = match needed {
        Some(needed) => format!(
            "the main stage rests at its stop ({} of lift): {} across the valve, {} needed (by hand)",
            percent(mean),
            pressure(across),
            pressure(needed)
        ),
        None => format!("the main stage rests at its stop ({} of lift)", percent(mean)),
    };
    finding(Behaviour::OpensFully, false, needed.map_or(1.0, |n| across / n), reason)
}

fn floats(found: &Indicators, mean: f64) -> Finding {
    let across = found.differential_open.unwrap_or(0.0);
    let needed = found.full_lift_differential.unwrap_or(f64::NAN);
    let still = if found.oscillation.unwrap_or(0.0) < NO_SWING { "stands still" } else { "all but stands still" };
    let reason = if across < needed {
        format!(
            "the main stage {still} at {} of its lift: only {} is left across the valve, {} would hold it fully open (by \
             hand); the valve is large for this flow",
            percent(mean),
            pressure(across),
            pressure(needed)
        )
    } else {
        format!(
            "the main stage {still} at {} of its lift, near the edge of opening fully: {} is left across the valve, by hand \
             {} already holds it open",
            percent(mean),
            pressure(across),
            pressure(needed)
        )
    };
    finding(Behaviour::FloatsSteadily, true, needed / across, reason)
}

fn not_closing(found: &Indicators, around: &Circumstances) -> Option<Finding> {
    let lift = found.lift_at_end?;
    let opened = found.largest_lift.unwrap_or(0.0) > SHUT_LIFT;
    // After a first contact the stage may bounce; only a wide opening is none.
    let floor = if found.closing_time.is_none() { SHUT_LIFT } else { REOPENED_LIFT };
    if !opened || lift <= floor {
        return None;
    }
    let shown = found.shut_time.unwrap_or(0.0);
    let sticks = sticking(found, around).or_else(|| rubs(found, around));
    let still = format!(
        "after {} {} the {} still stands at {} of its lift",
        text(shown, Dimension::Time),
        around.energised.shut(),
        around.stage(),
        percent(lift)
    );
    if let Some(why) = too_weak_to_shut(found, around) {
        return Some(finding(Behaviour::DoesNotClose, true, lift / SHUT_LIFT, still + &why));
    }
    // What the iron holds by itself it holds for ever.
    if shown < WHOLE * around.shut_time && sticks.is_none() {
        let reason = format!("{still} and the run ends there ({})", around.energised.longest_shut());
        return Some(finding(Behaviour::StillSettling, true, 1.0, reason));
    }
    Some(finding(Behaviour::DoesNotClose, true, lift / SHUT_LIFT, format!("{still}{}", sticks.unwrap_or_default())))
}

/// Why an armature that was drawn in stays there: what is left of the magnet's pull. It keeps a valve open that the magnet opens.
fn sticking(found: &Indicators, around: &Circumstances) -> Option<String> {
    let drawn = around.energised.choose(found.armature_opening_time, None);
    let held = found.release_delay.is_none() && drawn.is_some();
    let left = found.remanent_force.filter(|left| held && *left > noise("remanent_force"))?;
    Some(format!(
        ": the armature sticks to the pole, since the iron stays magnetised and still pulls with {} against a load of {}; a wider \
         residual gap (a non-magnetic shim) or magnetically softer iron frees it",
        text(left, Dimension::Force),
        text(found.armature_load?, Dimension::Force)
    ))
}

/// The same of dry friction.
fn rubs(found: &Indicators, around: &Circumstances) -> Option<String> {
    let held = found.release_delay.is_none() && found.drawn_in(around.energised).is_some();
    let force = around.friction.filter(|_| held)?;
    Some(format!(": the armature has not come back, friction holds it with {}", text(force, Dimension::Force)))
}

fn hard_closing(found: &Indicators, around: &Circumstances) -> Option<Finding> {
    // While it chatters, the first contact after switching off is one more of its blows, and which one is chance.
    if strikes_on(found) || !had_opened(found) {
        return None;
    }
    let speed = found.first_seat_speed.filter(|speed| *speed > around.seat_speed)?;
    let reason = format!(
        "the {} meets its seat at {}, above the limit of {}; it passes its last fifth in {} of the closing time",
        around.stage(),
        text(to_figures(speed, 3), Dimension::Velocity),
        text(around.seat_speed, Dimension::Velocity),
        percent(found.late_closing_share.unwrap_or(0.0))
    );
    Some(finding(Behaviour::ClosesHard, true, speed / around.seat_speed, reason))
}
