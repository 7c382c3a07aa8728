//! From indicators to findings.

use super::boiling::{boiling_at_closing, flashing};
use super::carried;
use super::circumstances::Circumstances;
use super::finding::{Behaviour, Finding, Verdict, finding};
use super::hammer::{hammer, no_hammer};
use super::later_peak::hammers_later;
use super::opening::{at_standstill, backwards, on_time_too_short, stays_shut, will_not_open};
use super::oscillation::{oscillates, strikes_on};
use super::threshold::{
    HUM_RATE, LEAST_BLOW, LEAST_WINDOW, NO_SWING, OPEN_LIFT, REOPENED_LIFT, SHUT_LIFT, WEAK_RING, WHOLE, had_opened,
    steady_swing,
};
use super::words::{percent, pressure, to_figures};
use crate::indicator::{Indicators, noise};
use crate::units::{Dimension, text};

/// All findings of a run: what the main stage does first, then what else holds.
pub fn judge(found: &Indicators, around: &Circumstances) -> Verdict {
    let mut findings = vec![motion(found, around)];
    let mut leading = 1;
    if let Some(standstill) = at_standstill(found, around) {
        // At the duty's own off-time the line may not drain; then it is the start of the day that fails.
        let drains = found.flow_open.is_some_and(|flow| around.off_time * flow > around.mass_behind);
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
    let hums = if findings[0].behaviour == Behaviour::Hums { None } else { hum(found, around) };
    findings.extend(hums);
    findings.extend(heat(found, around).or_else(|| burns(found, around)));
    // After what the stage does, faults come before notes.
    findings[leading..].sort_by_key(|finding| !finding.adverse);
    let opened = found.largest_lift.unwrap_or(0.0) > SHUT_LIFT && around.circuit_differential > 0.0;
    let not_judged = if opened { around.may_bang_on_opening.clone() } else { Vec::new() };
    if around.carried {
        findings.iter_mut().for_each(carried::say);
    }
    Verdict { findings, not_judged, no_hammer }
}

/// What the main stage does while energised.
fn motion(found: &Indicators, around: &Circumstances) -> Finding {
    let differential = around.circuit_differential;
    if differential < 0.0 {
        let carried = if around.carried { carried::backwards(found, -differential) } else { None };
        return carried.unwrap_or_else(|| backwards(found, -differential));
    }
    let cut_short = !around.came_to_rest && found.energised_time.unwrap_or(0.0) > WHOLE * around.on_time;
    let enough = |limit: Option<f64>| limit.is_some_and(|limit| limit > 0.0 && differential < limit);
    let largest = found.largest_lift.unwrap_or(0.0);
    if found.armature_opening_time.is_none() && !(around.carried && largest > SHUT_LIFT) {
        if cut_short && enough(found.highest_opening_differential) {
            return on_time_too_short(found, "the armature had not made its stroke");
        }
        return will_not_open(found, differential);
    }
    let strikes = strikes_on(found) && found.oscillation.unwrap_or(0.0) > LEAST_BLOW;
    if largest < SHUT_LIFT && !strikes {
        if cut_short && found.lift_off_differential.is_some_and(|limit| differential > limit) {
            return on_time_too_short(found, "the main stage had not left its seat");
        }
        return stays_shut(found, differential);
    }
    let swing = found.oscillation.unwrap_or(0.0);
    let mean = found.mean_lift.unwrap_or(0.0);
    if swing < steady_swing(mean)
        && !strikes
        && (around.came_to_rest || found.judged_window.unwrap_or(0.0) >= LEAST_WINDOW)
    {
        if around.carried {
            return carried::rests(found, mean);
        }
        if mean > OPEN_LIFT {
            return opens(found, mean);
        }
        if mean < SHUT_LIFT {
            return stays_shut(found, differential);
        }
        return floats(found, mean);
    }
    if around.carried
        && mean > SHUT_LIFT
        && !strikes
        && let Some(hum) = hum(found, around)
    {
        return carried::hums(hum, swing);
    }
    let reached = found.opening_time_90.is_some() && found.lift_at_off.is_some_and(|lift| lift > OPEN_LIFT);
    if reached && found.judged_window.unwrap_or(0.0) < LEAST_WINDOW {
        if around.carried {
            return carried::opens(found);
        }
        return opens(found, mean);
    }
    oscillates(found, around, mean, swing)
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
    let shown = found.off_time.unwrap_or(0.0);
    let still = format!(
        "after {} without current the main stage still stands at {} of its lift",
        text(shown, Dimension::Time),
        percent(lift)
    );
    if shown < WHOLE * around.off_time {
        let reason = format!("{still} and the run ends there (run.longest_off)");
        return Some(finding(Behaviour::StillSettling, true, 1.0, reason));
    }
    Some(finding(Behaviour::DoesNotClose, true, lift / SHUT_LIFT, still))
}

fn hard_closing(found: &Indicators, around: &Circumstances) -> Option<Finding> {
    // While it chatters, the first contact after switching off is one more of its blows, and which one is chance.
    if strikes_on(found) || !had_opened(found) {
        return None;
    }
    let speed = found.first_seat_speed.filter(|speed| *speed > around.seat_speed)?;
    let reason = format!(
        "the main stage meets its seat at {}, above the limit of {}; it passes its last fifth in {} of the closing time",
        text(to_figures(speed, 3), Dimension::Velocity),
        text(around.seat_speed, Dimension::Velocity),
        percent(found.late_closing_share.unwrap_or(0.0))
    );
    Some(finding(Behaviour::ClosesHard, true, speed / around.seat_speed, reason))
}

/// The armature leaves the pole and comes back, time and again. What its contacts give way by elastically is no leaving, and is
/// not counted as a contact.
fn hum(found: &Indicators, around: &Circumstances) -> Option<Finding> {
    let frequency = around.mains_frequency?;
    let hits = found.pole_contact_rate.filter(|hits| *hits > HUM_RATE)?;
    let (least, load) = (found.least_magnet_force?, found.armature_load?);
    let force = |value: f64| {
        if value < noise("least_magnet_force") { "next to nothing".into() } else { text(value, Dimension::Force) }
    };
    let why = if least < load {
        format!(
            "the magnet lets go {} times a second; it needs {} more force: the least in a period is {}, the load on the armature {}",
            text(2.0 * frequency, Dimension::Number),
            force(load - least),
            force(least),
            force(load)
        )
    } else {
        format!(
            "the armature leaves the pole although the magnet's least force in a period, {}, is above its load of {}",
            force(least),
            force(load)
        )
    };
    let reason = format!(
        "{why}{}. It leaves the pole by {} and strikes it {:.0} times a second, bounces included; heard at twice the supply \
         frequency",
        weak_ring(around),
        text(found.armature_swing.unwrap_or(0.0), Dimension::Length),
        hits
    );
    let short = if least < load { load / least.max(1e-3) } else { hits / HUM_RATE };
    Some(finding(Behaviour::Hums, true, short, reason))
}

/// Why a ring does not help at a gap that is nearly shut.
fn weak_ring(around: &Circumstances) -> String {
    let weak = around.ring_flux.filter(|ring| ring.share < WEAK_RING);
    weak.map_or_else(String::new, |ring| {
        format!(
            "; at a residual gap of {} the ring is weak: its current keeps the flux out of its own face, which carries {} of that \
             of the other face, and more at a wider gap",
            text(ring.gap, Dimension::Length),
            percent(ring.share)
        )
    })
}

/// A winding far above its voltage, where no temperature is computed that would be judged.
fn burns(found: &Indicators, around: &Circumstances) -> Option<Finding> {
    let beyond = around.beyond_rating.as_ref()?;
    let times = beyond.applied / beyond.rated;
    let draws = found
        .coil_power
        .map_or(String::new(), |power| format!(" draws {} and", text(to_figures(power, 3), Dimension::Power)));
    let for_what = if beyond.estimated { "is for about" } else { "is rated for" };
    let unjudged = if beyond.temperature_stated {
        "its temperature is stated, not computed"
    } else {
        "no limit of its temperature is stated"
    };
    let reason = format!(
        "the winding{draws} is on {}, {} times the {} that it {for_what}: heat grows at least with the square, so that at this duty \
         it gets some {} times the heat that it bears ({unjudged}); it will burn out",
        text(beyond.applied, Dimension::Voltage),
        text(to_figures(times, 2), Dimension::Number),
        text(to_figures(beyond.rated, 2), Dimension::Voltage),
        text(to_figures(beyond.heat, 2), Dimension::Number)
    );
    Some(finding(Behaviour::Overheats, true, beyond.heat, reason))
}

fn heat(found: &Indicators, around: &Circumstances) -> Option<Finding> {
    let (temperature, limit) = (found.coil_temperature?, around.coil_temperature?);
    (temperature > limit).then(|| {
        let reason = format!(
            "the winding reaches {} at this duty, the limit is {}",
            text(temperature, Dimension::Temperature),
            text(limit, Dimension::Temperature)
        );
        finding(Behaviour::Overheats, true, temperature / limit, reason)
    })
}
