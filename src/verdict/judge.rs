//! From indicators to findings. Every threshold stands here with its reason.

use super::boiling::{boiling_at_closing, flashing};
use super::carried;
use super::hammer::{hammer, no_hammer};
use super::later_peak::hammers_later;
use super::opening::{at_standstill, backwards, on_time_too_short, stays_shut, will_not_open};
use super::oscillation::{oscillates, strikes_on};
use super::{Behaviour, Finding, Verdict};
use crate::indicator::{Indicators, noise};
use crate::units::{Dimension, text};

/// Below this share of full lift the stage counts as on its seat.
pub(super) const SHUT_LIFT: f64 = 0.01;
/// A stage that met its seat and stands above this share of full lift at the end has opened again.
const REOPENED_LIFT: f64 = 0.05;
/// Above this mean share of full lift it counts as open.
pub(super) const OPEN_LIFT: f64 = 0.97;
/// A swing below this share of full lift is not heard or felt, and no pressure gauge shows it …
pub(super) const STEADY_SWING: f64 = 0.02;
/// … unless it is this share of the mean opening: flow and differential then swing by as much.
const STEADY_OF_OPENING: f64 = 0.2;
/// Below this share of full lift nothing of a swing is left.
const NO_SWING: f64 = 5e-3;
/// A stage that strikes its seat time and again does not rest there, if it swings by more than this share of full lift.
const LEAST_BLOW: f64 = 2e-3;
/// A swing whose second half is this many times the first is still growing.
pub(super) const GROWING: f64 = 1.25;
/// An oscillation whose second half has less than this share of the first half's swing is dying out.
pub(super) const LASTING: f64 = 0.7;
/// Fewer crossings than this are a transient.
pub(super) const LEAST_CROSSINGS: f64 = 4.0;
/// Fewer contacts with the seat than this may be a start that bumped.
pub(super) const LEAST_CONTACTS: f64 = 3.0;
/// The swing counts as forced when this share of it is at the supply's own frequency.
pub(super) const FORCED_SHARE: f64 = 0.5;
/// Pole contacts per second above which the armature hums: a tenth of those of a 50 Hz magnet without a ring.
const HUM_RATE: f64 = 10.0;
/// A ring whose face carries less than this share of the open face's flux holds with less than a sixteenth of its pull. Judgement.
const WEAK_RING: f64 = 0.25;
/// Shorter energised times than this cannot be judged for lasting oscillation, s.
const LEAST_WINDOW: f64 = 0.2;

/// A coil far above the voltage of its winding.
#[derive(Clone, Debug, PartialEq)]
pub struct BeyondRating {
    /// Applied voltage, V.
    pub applied: f64,
    /// Voltage that the winding is for, V.
    pub rated: f64,
    /// Is that voltage an estimate?
    pub estimated: bool,
    /// Is the winding's temperature stated, and so not computed?
    pub temperature_stated: bool,
    /// Mean heat at the duty over that of a coil that is always on its rated voltage: at least this.
    pub heat: f64,
}

/// Flux in a shading ring's face.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RingFlux {
    /// Residual gap, m.
    pub gap: f64,
    /// Over the flux of the open face.
    pub share: f64,
}

/// What the indicators are judged against, SI.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Circumstances {
    /// Does the armature carry the seal of the main seat, so that it is the main stage itself?
    pub carried: bool,
    /// Circuit differential: supply less sink, Pa.
    pub circuit_differential: f64,
    /// The same once the line behind the shut valve has drained, Pa: more where the throttle at its end flashes.
    pub standstill_differential: f64,
    /// Mass of the line behind the valve, kg.
    pub mass_behind: f64,
    /// Does the line behind the shut valve drain down to the liquid's saturation?
    pub drains_to_saturation: bool,
    /// Frequency of the coil's alternating current, Hz; none where it is direct.
    pub mains_frequency: Option<f64>,
    /// Did the energised phase come to rest?
    pub came_to_rest: bool,
    /// Highest allowed pressure at the valve, Pa absolute.
    pub peak_pressure: Option<f64>,
    /// Highest allowed rise above rest, Pa.
    pub surge: Option<f64>,
    /// Seat speed above which closing counts as hard, m/s.
    pub seat_speed: f64,
    /// Highest allowed winding temperature, K.
    pub coil_temperature: Option<f64>,
    /// The coil's voltage against what the winding is for, where it is far above and no temperature is judged.
    pub beyond_rating: Option<BeyondRating>,
    /// What of the flux gets into the shading ring's face with the armature seated.
    pub ring_flux: Option<RingFlux>,
    /// Energised time per cycle at the duty, s; the run may have shown less of it.
    pub on_time: f64,
    /// De-energised time per cycle at the duty, s; the run may have shown less of it.
    pub off_time: f64,
    /// What makes a bang on opening possible, which is not computed: causes in words.
    pub may_bang_on_opening: Vec<String>,
}

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

pub(super) fn finding(behaviour: Behaviour, adverse: bool, margin: f64, reason: String) -> Finding {
    let margin = if margin.is_finite() { margin } else { 0.0 };
    Finding { behaviour, adverse, margin, reason }
}

pub(super) fn pressure(value: f64) -> String {
    text(value, Dimension::PressureDifference)
}

/// A number to so many figures: no more than it is firm to.
pub(super) fn to_figures(value: f64, figures: i32) -> f64 {
    if value == 0.0 || !value.is_finite() {
        return value;
    }
    let unit = 10_f64.powf(value.abs().log10().floor() + 1.0 - f64::from(figures));
    (value / unit).round() * unit
}

pub(super) fn percent(share: f64) -> String {
    let digits = if share.abs() < 0.0095 { 1 } else { 0 };
    format!("{:.digits$} %", 100.0 * share)
}

/// What the main stage does while energised.
fn motion(found: &Indicators, around: &Circumstances) -> Finding {
    let differential = around.circuit_differential;
    if differential < 0.0 {
        return backwards(found, -differential);
    }
    let cut_short = !around.came_to_rest && found.energised_time.unwrap_or(0.0) > 0.98 * around.on_time;
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
        return opens(found, mean);
    }
    oscillates(found, around, mean, swing)
}

/// Below this share of full lift a swing about that mean lift counts as none.
pub(super) fn steady_swing(mean: f64) -> f64 {
    if mean < SHUT_LIFT { SHUT_LIFT } else { STEADY_SWING.min(STEADY_OF_OPENING * mean) }
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
    if shown < 0.98 * around.off_time {
        let reason = format!("{still} and the run ends there (run.longest_off)");
        return Some(finding(Behaviour::StillSettling, true, 1.0, reason));
    }
    Some(finding(Behaviour::DoesNotClose, true, lift / SHUT_LIFT, still))
}

/// Was there a main stage to close? One that stood on its seat while energised may be thrown up for an instant.
pub(super) fn had_opened(found: &Indicators) -> bool {
    found.mean_lift.unwrap_or(0.0).max(found.lift_at_off.unwrap_or(0.0)) > SHUT_LIFT
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
