//! Findings on a main stage that does not open, or not as it should.

use super::circumstances::Circumstances;
use super::finding::{Behaviour, Finding, finding};
use super::normally_open::fails_shut;
use super::seen::Seen;
use super::threshold::{FALLEN_BACK, SHUT_LIFT};
use super::words::{percent, pressure};
use crate::indicator::{Energised, Indicators};
use crate::units::{Dimension, text};

/// The outlet is above the inlet.
pub(super) fn backwards(found: &Indicators, around: &Circumstances, excess: f64) -> Finding {
    let lift = found.largest_lift.unwrap_or(0.0).max(found.lift_at_end.unwrap_or(0.0));
    if lift > SHUT_LIFT && found.largest_lift.is_some_and(|open| open < SHUT_LIFT) {
        let reason = format!(
            "the outlet is {} above the inlet: {} the main stage stays on its seat, but {} it is lifted to {} of its lift: a valve of \
             this kind does not hold against it",
            pressure(excess),
            around.energised.open(),
            around.energised.shut(),
            percent(lift)
        );
        return finding(Behaviour::PassesBackwards, true, lift / SHUT_LIFT, reason);
    }
    if lift > SHUT_LIFT {
        let reason = format!(
            "the outlet is {} above the inlet and lifts the main stage to {} of its lift: a valve of this kind does not \
             hold against it",
            pressure(excess),
            percent(lift)
        );
        return finding(Behaviour::PassesBackwards, true, lift / SHUT_LIFT, reason);
    }
    let reason = format!(
        "the outlet is {} above the inlet: nothing can lift the main stage in its own direction, and its spring still \
         holds the seat",
        pressure(excess)
    );
    finding(Behaviour::StaysShut, true, SHUT_LIFT / lift.max(1e-6), reason)
}

pub(super) fn on_time_too_short(found: &Indicators, around: &Circumstances, what: &str) -> Finding {
    let shown = text(found.open_time.unwrap_or(0.0), Dimension::Time);
    let reason = format!(
        "after {shown} {} {what}: the {} is too short for it, the differential is not at fault",
        around.energised.open(),
        around.energised.open_time()
    );
    finding(Behaviour::OnTimeTooShort, true, 1.0, reason)
}

/// The armature has not made its stroke: it had no time, or no force.
pub(super) fn armature_stays(found: &Indicators, around: &Circumstances, seen: &Seen) -> Finding {
    let differential = around.circuit_differential;
    let able = found.highest_opening_differential.is_some_and(|limit| limit > 0.0 && differential < limit);
    if seen.cut_short && able {
        return on_time_too_short(found, around, "the armature had not made its stroke");
    }
    match around.energised {
        Energised::WhileOpen => will_not_open(found, around),
        Energised::WhileShut => fails_shut(found, around, seen),
    }
}

fn will_not_open(found: &Indicators, around: &Circumstances) -> Finding {
    let differential = around.circuit_differential;
    let limit = found.highest_opening_differential.unwrap_or(0.0);
    let able = if limit > 0.0 {
        format!(
            "the magnet can lift it against {}, and the differential is {}",
            pressure(limit),
            pressure(differential)
        )
    } else {
        "the magnet cannot lift it even without a differential".into()
    };
    let rubs = around
        .friction
        .map_or(String::new(), |force| format!("; friction holds the armature with {}", text(force, Dimension::Force)));
    let reason = format!(
        "the armature does not leave {} seat: at a winding temperature of {} {able}{rubs}{}{}",
        if around.carried { "its" } else { "the pilot" },
        text(found.coil_temperature.unwrap_or(f64::NAN), Dimension::Temperature),
        sagging(found, around),
        around.wrong_supply.as_ref().map_or_else(String::new, |wrong| format!("; {wrong}"))
    );
    finding(Behaviour::WillNotOpen, true, if limit > 0.0 { differential / limit } else { 0.0 }, reason)
}

/// The magnet lifts the armature by the crest of its inrush, or before an economiser lowers its voltage, but does not hold it.
fn falls_back(found: &Indicators, around: &Circumstances) -> Option<Finding> {
    let held = around.energised.choose(around.held_travel, None)?;
    let load = found.armature_load.filter(|_| held < FALLEN_BACK)?;
    let reason = format!(
        "the magnet lifts the armature as it is switched on, but does not hold it: at a winding temperature of {} it falls back onto the          pilot seat under a load of {}{}{}",
        text(found.coil_temperature.unwrap_or(f64::NAN), Dimension::Temperature),
        text(load, Dimension::Force),
        sagging(found, around),
        around.wrong_supply.as_ref().map_or_else(String::new, |wrong| format!("; {wrong}"))
    );
    let margin = load / found.least_magnet_force.unwrap_or(0.0).max(1e-3);
    Some(finding(Behaviour::WillNotOpen, true, margin, reason))
}

/// What cable and transformer leave of the voltage while the armature is out.
fn sagging(found: &Indicators, around: &Circumstances) -> String {
    let sag = found.lowest_coil_voltage.zip(around.unloaded_voltage);
    sag.map_or_else(String::new, |(left, unloaded)| {
        format!(
            "; of the {} of the unloaded supply, {} is left at the coil while the armature is out",
            text(unloaded, Dimension::Voltage),
            text(left, Dimension::Voltage)
        )
    })
}

/// The run opens against the line as it was just shut; once that line has drained there is more to open against.
pub(super) fn at_standstill(found: &Indicators, around: &Circumstances) -> Option<Finding> {
    let limit = found.highest_opening_differential.filter(|limit| *limit < around.standstill_differential)?;
    if found.armature_opening_time.is_none() || around.standstill_differential <= around.circuit_differential {
        return None;
    }
    let reason = format!(
        "it opens in this run, which starts with the line behind it full of liquid; but at a standstill the throttle at its end \
         drains that line to the sink, the differential rises to {}, and the {} can lift the armature against {} only",
        pressure(around.standstill_differential),
        around.energised.choose("magnet", "spring"),
        pressure(limit)
    );
    let behaviour = around.energised.choose(Behaviour::WillNotOpen, Behaviour::FailsShut);
    Some(finding(behaviour, true, around.standstill_differential / limit.max(1.0), reason))
}

pub(super) fn stays_shut(found: &Indicators, around: &Circumstances) -> Finding {
    let differential = around.circuit_differential;
    if let Some(fallen) = falls_back(found, around) {
        return fallen;
    }
    if let Some(limit) = around.past_piston.and_then(|leak| leak.holds_down_above).filter(|limit| *limit < differential)
    {
        return leak_holds_down(differential, limit);
    }
    if let Some(limit) = found.lift_off_differential.filter(|limit| *limit < differential) {
        return hardly_lifts(found, differential, limit);
    }
    let reason = match found.lift_off_differential {
        Some(limit) => format!(
            "the pilot is open but the main stage stays on its seat: it needs {} to leave it (by hand), and the circuit \
             has {}",
            pressure(limit),
            pressure(differential)
        ),
        None if around.past_piston.is_some() => "the pilot is open but can never empty the control chamber enough: its area is too small \
                                                 against the bleed and the leak past the piston, so the main stage stays on its seat at \
                                                 any differential"
            .into(),
        None => "the pilot is open but can never empty the control chamber enough: its area is too small against the \
                 bleed, so the main stage stays on its seat at any differential"
            .into(),
    };
    let margin = found.lift_off_differential.map_or(f64::MAX, |limit| limit / differential.max(1e-9));
    finding(Behaviour::StaysShut, true, margin.min(1e6), reason)
}

/// The gap past the piston fills the control chamber faster than the pilot empties it.
fn leak_holds_down(differential: f64, limit: f64) -> Finding {
    let reason = format!(
        "the pilot is open but the main stage stays on its seat: at {} more leaks past the piston than the pilot can take away (by hand, \
         it lifts up to {} only: a gap leaks in proportion to the differential, a pilot passes its square root); a smaller clearance, a \
         ring or \
         a wider pilot would let it lift",
        pressure(differential),
        pressure(limit)
    );
    finding(Behaviour::StaysShut, true, differential / limit.max(1.0), reason)
}

/// The circuit could lift the main stage, but so little flows that what is left across the valve hardly does.
fn hardly_lifts(found: &Indicators, differential: f64, limit: f64) -> Finding {
    let lift = found.mean_lift.unwrap_or(0.0);
    let reason = format!(
        "the pilot is open but the main stage hardly leaves its seat ({} of its lift): of the {} of the circuit the lines \
         and throttles leave {} across the valve, and it takes {} to lift it off (by hand)",
        text(lift, Dimension::Fraction),
        pressure(differential),
        pressure(found.differential_open.unwrap_or(0.0)),
        pressure(limit)
    );
    finding(Behaviour::StaysShut, true, SHUT_LIFT / lift.max(1e-6), reason)
}
