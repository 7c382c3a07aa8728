//! What is said of a normally open valve alone: its spring opens it, and its magnet shuts it.

use super::circumstances::Circumstances;
use super::finding::{Behaviour, Finding, finding};
use super::hum::{lets_go, margin, weak_ring};
use super::seen::Seen;
use super::threshold::{HUM_RATE, LEFT_ITS_SEAT};
use super::words::{percent, pressure};
use crate::indicator::Indicators;
use crate::units::{Dimension, text};

/// Without current the armature has not made its stroke, and the main stage has not lifted.
pub(super) fn fails_shut(found: &Indicators, around: &Circumstances, seen: &Seen) -> Finding {
    let differential = around.circuit_differential;
    let limit = found.highest_opening_differential.unwrap_or(0.0);
    let seat = if around.carried { "its seat" } else { "the pilot seat" };
    if limit > differential {
        let reason = format!(
            "without current the valve does not open, although by calculation its spring can lift the armature off {seat} against {}: \
             the {} came to {} of its lift",
            pressure(limit),
            around.stage(),
            percent(seen.largest)
        );
        return finding(Behaviour::StaysShut, true, 1.0, reason);
    }
    let able = if limit > 0.0 {
        format!("can lift it against {} (by hand), and the differential is {}", pressure(limit), pressure(differential))
    } else {
        "cannot lift it even without a differential".into()
    };
    let reason = format!(
        "without current the armature does not leave {seat}: its spring {able}{}. Shut under this differential the valve stays shut when \
         the current fails; one that is open stays open",
        remanence(around)
    );
    finding(Behaviour::FailsShut, true, if limit > 0.0 { differential / limit } else { 0.0 }, reason)
}

/// What the spring loses to iron that stays magnetised.
fn remanence(around: &Circumstances) -> String {
    around.remanent_pull.map_or_else(String::new, |pull| {
        format!(
            "; {} of its force go into the pull of the iron, which stays magnetised: a wider pole clearance or softer iron frees it",
            text(pull, Dimension::Force)
        )
    })
}

/// An armature that its spring brought to its stop.
pub(super) fn opens() -> Finding {
    finding(
        Behaviour::OpensFully,
        false,
        1.0,
        "without current the spring lifts the armature to its stop and holds it there".into(),
    )
}

/// Why a magnet that has not brought the armature down never will, or cannot keep it there, by hand; none where it should, or where the
/// valve is normally closed.
pub(super) fn too_weak_to_shut(found: &Indicators, around: &Circumstances) -> Option<String> {
    let pull = around.pull_to_shut?;
    let force = |value: f64| text(value, Dimension::Force);
    let short = |place: &str, has: f64, needed: f64| {
        format!(
            ", and the armature has not come down: by hand the magnet's mean pull {place} is {}, and without a differential it takes {}",
            force(has),
            force(needed)
        )
    };
    if found.armature_closing_time.is_some() {
        let left = around.held_travel.is_some_and(|travel| travel > LEFT_ITS_SEAT);
        return (left && pull.holding < pull.holding_needed).then(|| {
            format!(
                ": the armature has come down, but does not stay: by hand the magnet's mean pull at the shut seat is {}, and without a \
                 differential it takes {}",
                force(pull.holding),
                force(pull.holding_needed)
            )
        });
    }
    if pull.pull_in < pull.pull_in_needed {
        Some(short("over the full gap", pull.pull_in, pull.pull_in_needed))
    } else if pull.holding < pull.holding_needed {
        Some(short("at the shut seat", pull.holding, pull.holding_needed))
    } else {
        None
    }
}

/// An armature that should hold its seat shut and strikes it, or that comes to its pole through a soft seat, time and again.
pub(super) fn hum(found: &Indicators, around: &Circumstances) -> Option<Finding> {
    let frequency = around.mains_frequency?;
    let pulses = around.rectified_pulses.unwrap_or(2.0);
    let swing = text(found.armature_swing.unwrap_or(0.0), Dimension::Length);
    let often = |rate: Option<f64>| rate.filter(|hits| *hits > HUM_RATE);
    if let Some(hits) = often(found.held_seat_contact_rate) {
        let reason = format!(
            "{}{}. It should hold its seat shut, but its travel swings by {swing} and it strikes the seat {hits:.0} times a second, \
             bounces \
             included; heard at twice the supply frequency. The {} seat opens a little each time",
            lets_go(found, pulses * frequency, "its seat")?,
            weak_ring(around),
            if around.carried { "main" } else { "pilot" }
        );
        return Some(finding(Behaviour::Hums, true, margin(found, hits), reason));
    }
    let hits = often(found.pole_contact_rate)?;
    let reason = format!(
        "the armature holds its seat shut, but the seat gives way under the swelling pull until the armature strikes its pole, {hits:.0} \
         times a second, its travel swinging by {swing}; heard at twice the supply frequency. A wider clearance of the pole, or a \
         harder seal, keeps them apart"
    );
    Some(finding(Behaviour::Hums, true, hits / HUM_RATE, reason))
}
