//! Findings on the winding's heat.

use super::circumstances::{Circumstances, CoilLimit, CoilRise};
use super::finding::{Behaviour, Finding, finding};
use super::threshold::NOTED_SWING;
use super::words::to_figures;
use crate::indicator::Indicators;
use crate::units::{Dimension, text};

/// A winding far above its voltage, where no temperature is computed that would be judged.
pub(super) fn burns(found: &Indicators, around: &Circumstances) -> Option<Finding> {
    let beyond = around.beyond_rating.as_ref()?;
    let times = beyond.applied / beyond.rated;
    let draws = found
        .coil_power
        .map_or(String::new(), |power| format!(" draws {} and", text(to_figures(power, 3), Dimension::Power)));
    if let Some(wrong) = &beyond.wrong_supply {
        let reason = format!(
            "{wrong}: the winding{draws} gets at this duty some {} times the heat of its own supply; it is likely to burn out",
            text(to_figures(beyond.heat, 2), Dimension::Number)
        );
        return Some(finding(Behaviour::Overheats, true, beyond.heat, reason));
    }
    let for_what = if beyond.estimated { "is for about" } else { "is rated for" };
    let unjudged = if beyond.temperature_stated {
        "its temperature is stated, not computed"
    } else {
        "no limit of its temperature is stated"
    };
    let reason = format!(
        "the winding{draws} is on {}, {} times the {} that it {for_what}: heat grows at least with the square, so that at this duty \
         it gets some {} times the heat that it bears ({unjudged}); it is likely to burn out",
        text(beyond.applied, Dimension::Voltage),
        text(to_figures(times, 2), Dimension::Number),
        text(to_figures(beyond.rated, 2), Dimension::Voltage),
        text(to_figures(beyond.heat, 2), Dimension::Number)
    );
    Some(finding(Behaviour::Overheats, true, beyond.heat, reason))
}

/// A winding that its duty heats beyond what it may reach.
pub(super) fn heat(found: &Indicators, around: &Circumstances) -> Option<Finding> {
    let (mean, limit) = (found.coil_temperature?, around.coil_limit?);
    let highest = found.highest_coil_temperature.unwrap_or(mean);
    let temperature = highest.max(mean);
    (temperature > limit.temperature).then(|| {
        let mut reason = format!(
            "the winding reaches {} at this duty{}, {}",
            celsius(temperature),
            if temperature > mean + NOTED_SWING { format!(" ({} on average)", celsius(mean)) } else { String::new() },
            limit_words(limit)
        );
        if let Some(times) = around.inrush_heat {
            reason += &format!(
                ". Its armature stays out, so the inrush current flows as long as there is voltage and gives it {} times the heat of \
                 holding: it is likely to burn out",
                text(to_figures(times, 2), Dimension::Number)
            );
        }
        reason += &around.coil_rise.map_or(String::new(), rise_words);
        finding(Behaviour::Overheats, true, temperature / limit.temperature, reason)
    })
}

/// The limit in words.
fn limit_words(limit: CoilLimit) -> String {
    match limit.class {
        None => format!("the limit is {}", celsius(limit.temperature)),
        Some((name, hottest)) => format!(
            "the limit is {}: insulation of class {name} bears {} at its hottest spot, which is taken {} above the mean",
            celsius(limit.temperature),
            celsius(hottest),
            text(hottest - limit.temperature, Dimension::TemperatureDifference)
        ),
    }
}

/// What the temperature hangs on.
fn rise_words(rise: CoilRise) -> String {
    let kelvin = |value: f64| text(value.round(), Dimension::TemperatureDifference);
    // So that the parts as shown add up.
    let whole = rise.across.round() + rise.outward.round();
    let (more, less) = if rise.across > rise.outward {
        (("winding and body", rise.across), ("body and surroundings", rise.outward))
    } else {
        (("body and surroundings", rise.outward), ("winding and body", rise.across))
    };
    let after = rise.passes_limit_after.map_or(String::new(), |time| {
        format!("; switched on cold, it passes the limit after about {}", in_two_figures(time))
    });
    format!(
        ". It rises {} above the de-energised coil ({}): {} between {} and {} between {}{after}",
        kelvin(whole),
        celsius(rise.idle),
        kelvin(more.1),
        more.0,
        kelvin(less.1),
        less.0
    )
}

/// A time to two figures of the unit in which it is shown.
fn in_two_figures(time: f64) -> String {
    let unit =
        [7200.0, 120.0].into_iter().zip([3600.0, 60.0]).find(|(from, _)| time >= *from).map_or(1.0, |(_, unit)| unit);
    text(to_figures(time / unit, 2) * unit, Dimension::Time)
}

fn celsius(value: f64) -> String {
    text(value, Dimension::Temperature)
}
