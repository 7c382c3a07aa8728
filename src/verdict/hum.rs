//! The finding on an armature that hums.

use super::circumstances::Circumstances;
use super::finding::{Behaviour, Finding, finding};
use super::threshold::{HUM_RATE, WEAK_RING};
use super::words::percent;
use crate::indicator::{Indicators, noise};
use crate::units::{Dimension, text};

/// The armature of a normally closed valve leaves the pole and comes back, time and again. What its contacts give way by elastically is no leaving, and is
/// not counted as a contact.
pub(super) fn hum(found: &Indicators, around: &Circumstances) -> Option<Finding> {
    let frequency = around.mains_frequency?;
    let pulses = around.rectified_pulses.unwrap_or(2.0);
    let hits = found.pole_contact_rate.filter(|hits| *hits > HUM_RATE)?;
    let why = lets_go(found, pulses * frequency, "the pole")?;
    let reason = format!(
        "{why}{}{}. It leaves the pole by {} and strikes it {:.0} times a second, bounces included; heard at {}the supply \
         frequency",
        weak_ring(around),
        around.wrong_supply.as_ref().map_or_else(String::new, |wrong| format!("; {wrong}")),
        text(found.armature_swing.unwrap_or(0.0), Dimension::Length),
        hits,
        if pulses == 1.0 { "" } else { "twice " }
    );
    Some(finding(Behaviour::Hums, true, margin(found, hits), reason))
}

/// Why the armature leaves what it is pulled against so many times a second.
pub(super) fn lets_go(found: &Indicators, frequency: f64, place: &str) -> Option<String> {
    let (least, load) = (found.least_magnet_force?, found.armature_load?);
    let force = |value: f64| {
        if value < noise("least_magnet_force") { "next to nothing".into() } else { text(value, Dimension::Force) }
    };
    Some(if least < load {
        format!(
            "the magnet lets go {} times a second; it needs {} more force: the least in a period is {}, the load on the armature {}",
            text(frequency, Dimension::Number),
            force(load - least),
            force(least),
            force(load)
        )
    } else {
        format!(
            "the armature leaves {place} although the magnet's least force in a period, {}, is above its load of {}",
            force(least),
            force(load)
        )
    })
}

/// How far the magnet's least force falls short of the load; where it does not, by how much too often the armature strikes.
pub(super) fn margin(found: &Indicators, hits: f64) -> f64 {
    let (least, load) = (found.least_magnet_force.unwrap_or(0.0), found.armature_load.unwrap_or(0.0));
    if least < load { load / least.max(1e-3) } else { hits / HUM_RATE }
}

/// Why a ring does not help at a gap that is nearly shut.
pub(super) fn weak_ring(around: &Circumstances) -> String {
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
