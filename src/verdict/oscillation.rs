//! What is said of a main stage that swings: driven, dying down, fluttering or striking its seat.

use super::circumstances::Circumstances;
use super::finding::{Behaviour, Finding, finding};
use super::threshold::{FORCED_SHARE, GROWING, LASTING, LEAST_CONTACTS, LEAST_CROSSINGS, WHOLE, steady_swing};
use super::words::{percent, pressure, to_figures};
use crate::indicator::Indicators;
use crate::units::{Dimension, text};

/// A main stage that swings.
pub(super) fn oscillates(found: &Indicators, around: &Circumstances, mean: f64, swing: f64) -> Finding {
    let stage = around.stage();
    let crossings = found.oscillation_crossings.unwrap_or(0.0);
    let rate = found.oscillation_rate;
    let halves = found.oscillation_second_half.unwrap_or(0.0) / found.oscillation_first_half.unwrap_or(swing).max(1e-9);
    let at = rate.map_or(String::new(), |rate| format!(" at {}", text(to_figures(rate, 3), Dimension::Frequency)));
    if crossings < LEAST_CROSSINGS {
        let shown = found.open_time.unwrap_or(0.0);
        let whole = shown > WHOLE * around.open_time;
        let short = whole && found.opening_time_90.is_none() && !around.came_to_rest;
        let ending = match (short, whole) {
            (true, _) => "that is too short for it to open",
            (false, true) => "no lasting oscillation can be told in that time",
            (false, false) => &format!("the run ends there ({})", around.energised.longest_open()),
        };
        let reason = format!(
            "in {} {} the lift reached {} and had not come to rest; {ending}",
            text(shown, Dimension::Time),
            around.energised.open(),
            percent(found.largest_lift.unwrap_or(0.0))
        );
        // What has not come to rest is not known to be sound.
        let behaviour = if short { Behaviour::OnTimeTooShort } else { Behaviour::StillSettling };
        return finding(behaviour, true, 1.0, reason);
    }
    if found.supply_frequency_share.is_some_and(|share| share > FORCED_SHARE) {
        let strikes = if strikes_on(found) {
            format!(", and strikes its seat {} times a second", strikes(found))
        } else {
            String::new()
        };
        let reason = format!(
            "the {stage} swings by {} of its lift{at}, the frequency of the supply's own pulsation{strikes}: it is driven, \
             not unstable by itself",
            percent(swing)
        );
        return finding(Behaviour::RattlesWithSupply, true, swing / steady_swing(mean), reason);
    }
    if halves < LASTING {
        let reason = format!(
            "the {stage} swings by {} of its lift{at} about {} and {} of that was left in the second half of the judged \
             time: it dies down, but not within the {} for which it was {}",
            percent(swing),
            percent(mean),
            percent(halves),
            text(found.open_time.unwrap_or(0.0), Dimension::Time),
            around.energised.open()
        );
        return finding(Behaviour::StillSettling, true, LASTING / halves.max(1e-9), reason);
    }
    let mut left = left_across(found);
    if halves > GROWING && swing > steady_swing(mean) && !strikes_on(found) {
        left.push_str("; it still grows when the run ends");
    }
    if strikes_on(found) {
        let reason = format!(
            "the {stage} swings by {} of its lift{at} and strikes its seat {} times a second{left}",
            percent(swing),
            strikes(found)
        );
        return finding(Behaviour::Chatters, true, swing / steady_swing(mean), reason);
    }
    let reason = format!(
        "the {stage} swings by {} of its lift{at} about {} without striking its seat{left}",
        percent(swing),
        percent(mean)
    );
    finding(Behaviour::Flutters, true, swing / steady_swing(mean), reason)
}

/// What is left across the valve against what would hold it open, in words; nothing where the hand value explains nothing.
fn left_across(found: &Indicators) -> String {
    let across = found.differential_open.unwrap_or(0.0);
    let needed = found.full_lift_differential.filter(|needed| across < *needed);
    needed.map_or_else(String::new, |needed| {
        format!(": {} is left across the valve, {} would hold it open (by hand)", pressure(across), pressure(needed))
    })
}

/// Does the main stage strike its seat time and again? Contacts of the opening alone are none of the lasting swing.
pub(super) fn strikes_on(found: &Indicators) -> bool {
    found.seat_contacts_open.unwrap_or(0.0) >= LEAST_CONTACTS && found.seat_contacts_late.unwrap_or(0.0) >= 1.0
}

fn strikes(found: &Indicators) -> String {
    text(to_figures(found.seat_contact_rate.unwrap_or(0.0), 2), Dimension::Number)
}
