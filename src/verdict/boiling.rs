//! Findings on a liquid that comes near to boiling.

use super::circumstances::Circumstances;
use super::finding::{Behaviour, Finding, finding};
use super::threshold::{BOILING_MARGIN, LEAST_CAVITY, REOPENED_LIFT, had_opened};
use super::words::{percent, pressure, to_figures};
use crate::indicator::Indicators;
use crate::units::{Dimension, text};

/// The outlet of the open valve is at the vapour pressure.
pub(super) fn flashing(found: &Indicators) -> Option<Finding> {
    let margin = found.outlet_margin_open.filter(|margin| *margin < BOILING_MARGIN)?;
    let reason = format!(
        "while open the outlet is at the liquid's vapour pressure ({} above it): the liquid boils behind the seat, and the flow no \
         longer follows the differential",
        pressure(margin.max(0.0))
    );
    Some(finding(Behaviour::Flashes, true, BOILING_MARGIN / margin.max(1.0), reason))
}

/// A cavity opens when the valve closes. By itself it is no fault; the blow of its collapse is judged as any other peak.
pub(super) fn boiling_at_closing(found: &Indicators, around: &Circumstances) -> Option<Finding> {
    let (inlet, outlet) = (found.largest_inlet_cavity.unwrap_or(0.0), found.largest_outlet_cavity.unwrap_or(0.0));
    let largest = inlet.max(outlet);
    if largest < LEAST_CAVITY || !had_opened(found) {
        return None;
    }
    let side = match (inlet >= LEAST_CAVITY, outlet >= LEAST_CAVITY) {
        (true, true) => "on both sides of the valve",
        (true, false) => "in front of the valve",
        _ => "behind the valve",
    };
    let open = found.outlet_margin_open.map_or(String::new(), |margin| {
        format!("; while open the outlet is {} above the vapour pressure", pressure(margin))
    });
    let collapse = match (found.inlet_peak_later, found.inlet_peak_closing) {
        (Some(later), Some(first)) if later > first => {
            let rest = found.inlet_pressure_at_rest.unwrap_or(later);
            let too_high = around.peak_pressure.is_some_and(|limit| later > limit)
                || around.surge.is_some_and(|limit| later - rest > limit);
            let above = if too_high { ", above what is allowed," } else { "" };
            format!(
                "; its collapse gives a later peak of {}{above} (uncertain)",
                text(later, Dimension::AbsolutePressure)
            )
        }
        _ => String::new(),
    };
    let reason = format!(
        "when the valve closes the pressure {side} falls to the vapour pressure and the liquid boils: the largest cavity holds \
         {}{open}{collapse}{}{}",
        text(largest, Dimension::Volume),
        reopened(found, around),
        remedy(found, around, outlet >= LEAST_CAVITY)
    );
    Some(finding(Behaviour::BoilsAtClosing, false, 1.0, reason))
}

/// Whether the valve stays shut: it may bounce, and the line's blows may lift it.
fn reopened(found: &Indicators, around: &Circumstances) -> String {
    let lift = found.reopened_lift.filter(|lift| *lift > REOPENED_LIFT);
    lift.map_or_else(String::new, |lift| {
        format!(
            "; after it has shut the {} opens again, by a bounce or the line's blows, up to about {} of its lift (uncertain)",
            around.stage(),
            percent(to_figures(lift, 1))
        )
    })
}

/// What subcooling the first waves of a stop at once would need, where the stop is sudden and that is more than there is.
fn remedy(found: &Indicators, around: &Circumstances, behind: bool) -> String {
    if around.drains_to_saturation && behind {
        return "; behind the valve more subcooling does not help: the throttle at the line's end goes on drawing the shut line down \
                until it boils"
            .into();
    }
    // What is needed is known for sudden stops only; where there is more than that, what comes later decides.
    let kelvin = |value: f64| text(value, Dimension::TemperatureDifference);
    match found.subcooling_needed_closing.zip(found.supply_subcooling) {
        Some((needed, has)) if needed > has => format!(
            "; by hand a stop at once, without friction, would need {} of subcooling at the supply, it has {}",
            kelvin(needed),
            kelvin(has)
        ),
        _ => String::new(),
    }
}
