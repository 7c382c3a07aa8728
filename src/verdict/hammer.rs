//! The pressure at closing against the limits that are stated: the first closure's peak, and what is said where all keep them.

use super::circumstances::Circumstances;
use super::finding::{Behaviour, Finding, finding};
use super::later_peak::LaterPeaks;
use super::threshold::SHUT_LIFT;
use super::words::{percent, pressure, to_figures};
use crate::indicator::Indicators;
use crate::units::{Dimension, text};

/// From where a surge is counted, in words.
fn base(found: &Indicators) -> &'static str {
    if found.supply_frequency_share.is_some() { "what the pulsation reaches while open" } else { "rest" }
}

/// A limit that the first closure exceeds: by which factor of the allowed rise, and the limit in words.
struct Exceeded {
    margin: f64,
    limit: String,
}

/// The limits that the first closure exceeds.
fn exceeded(found: &Indicators, around: &Circumstances) -> Option<Vec<Exceeded>> {
    let (peak, surge) = (found.inlet_peak_closing?, found.surge?);
    let rest = found.inlet_pressure_at_rest.unwrap_or(0.0);
    let rise = around.surge.filter(|limit| surge > *limit);
    let highest = around.peak_pressure.filter(|limit| peak > *limit && *limit > rest);
    let by_rise = rise.map(|limit| Exceeded { margin: surge / limit, limit: format!("a rise of {}", pressure(limit)) });
    let by_peak = highest.map(|limit| {
        let words = text(limit, Dimension::AbsolutePressure);
        Exceeded { margin: (peak - rest) / (limit - rest), limit: words }
    });
    Some(by_rise.into_iter().chain(by_peak).collect())
}

/// What is said of a limit that no closing can keep, since it does not lie above the pressure at rest.
fn below_rest(found: &Indicators, around: &Circumstances) -> Option<String> {
    let rest = found.inlet_pressure_at_rest?;
    let limit = around.peak_pressure.filter(|limit| *limit <= rest)?;
    let [limit, rest] = [limit, rest].map(|value| text(value, Dimension::AbsolutePressure));
    Some(format!("the limit of {limit} does not lie above the pressure at rest, {rest}: no closing can keep it"))
}

/// The first closure exceeds a limit; the one that it exceeds most is named. A limit at or below the pressure at rest leaves nothing
/// to measure by: alone it has the margin 1.
pub(super) fn hammer(found: &Indicators, around: &Circumstances) -> Option<Finding> {
    let (peak, surge) = (found.inlet_peak_closing?, found.surge?);
    let below = below_rest(found, around);
    let worst = exceeded(found, around)?.into_iter().max_by(|a, b| a.margin.total_cmp(&b.margin));
    let Some(worst) = worst else { return below.map(|words| finding(Behaviour::Hammers, true, 1.0, words)) };
    let closing = found.effective_closing_time.map_or(String::new(), |time| {
        format!(
            "; the flow is stopped in about {} (90 to 10 %), {} of it while the wave runs there and back once ({}), which decides: the \
             rise above open flow is {:.2} of ρ·a·v",
            text(to_figures(time, 2), Dimension::Time),
            percent(found.steepest_stop.unwrap_or(0.0).min(1.0)),
            text(found.wave_return_time.unwrap_or(0.0), Dimension::Time),
            found.surge_ratio.unwrap_or(0.0)
        )
    });
    let reason = format!(
        "closing raises the inlet to {}, {} above {}; the limit is {}{closing}",
        text(peak, Dimension::AbsolutePressure),
        pressure(surge),
        base(found),
        worst.limit
    );
    let below = below.map_or(String::new(), |words| format!("; {words}"));
    Some(finding(Behaviour::Hammers, true, worst.margin, reason + &below))
}

/// What is said of a closing that exceeds no limit: its highest pressure beside the tightest of them, or that none is stated.
pub(super) fn no_hammer(found: &Indicators, around: &Circumstances) -> Option<String> {
    let opened = found.largest_lift.is_some_and(|lift| lift > SHUT_LIFT);
    let (peak, surge) = (found.inlet_peak_closing?, found.surge?);
    found.closing_time.filter(|_| opened)?;
    let later = LaterPeaks::new(found, around.circuit_differential);
    let by_peak = around.peak_pressure.map(|limit| {
        let highest = later.over_peak(limit).map_or(peak, |over| over.peak.max(peak));
        let words = [highest, limit].map(|value| text(value, Dimension::AbsolutePressure));
        (highest - limit, format!("highest at closing {}, limit {}", words[0], words[1]))
    });
    let by_rise = around.surge.map(|limit| {
        let highest = later.over_rise(limit).map_or(surge, |over| over.rise.max(surge));
        let words = [highest, limit].map(pressure);
        (highest - limit, format!("highest rise at closing {}, limit {}", words[0], words[1]))
    });
    let tightest = by_peak.into_iter().chain(by_rise).max_by(|a, b| a.0.total_cmp(&b.0));
    Some(match tightest {
        Some((_, words)) => format!("does not hammer: {words}"),
        None => "hammer not judged: no limit is stated (limits.surge or limits.peak_pressure)".into(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// 7 bar at rest, first closure to 14 bar.
    fn found() -> Indicators {
        Indicators {
            inlet_pressure_at_rest: Some(7e5),
            inlet_peak_closing: Some(14e5),
            surge: Some(7e5),
            largest_lift: Some(1.0),
            closing_time: Some(0.3),
            ..Indicators::default()
        }
    }

    fn limits(peak_pressure: Option<f64>, surge: Option<f64>) -> Circumstances {
        Circumstances { circuit_differential: 5e5, peak_pressure, surge, ..Circumstances::default() }
    }

    #[test]
    fn the_limit_named_is_the_one_exceeded_most_and_the_margin_is_its_own() {
        // 7/5 of the rise, and 7/1 of what the highest pressure leaves.
        let by_peak = hammer(&found(), &limits(Some(8e5), Some(5e5))).expect("a finding");
        assert!((by_peak.margin - 7.0).abs() < 1e-9 && by_peak.reason.contains("the limit is 8 bar(a)"), "{by_peak:?}");
        let by_rise = hammer(&found(), &limits(Some(13e5), Some(2e5))).expect("a finding");
        assert!((by_rise.margin - 3.5).abs() < 1e-9 && by_rise.reason.contains("is a rise of 2 bar"), "{by_rise:?}");
    }

    #[test]
    fn a_limit_below_the_pressure_at_rest_is_told_and_has_no_margin() {
        let below = hammer(&found(), &limits(Some(5e5), None)).expect("a finding");
        assert!(
            below.margin == 1.0 && below.adverse && below.reason.contains("the limit of 5 bar(a) does not lie above"),
            "{below:?}"
        );
        assert!(below.reason.contains("7 bar(a)"), "{below:?}");
        let both = hammer(&found(), &limits(Some(5e5), Some(2e5))).expect("a finding");
        assert!(both.margin == 3.5 && both.reason.contains("does not lie above"), "{both:?}");
    }

    #[test]
    fn a_closing_within_its_limits_is_told_with_the_tightest() {
        let said = |around: &Circumstances| no_hammer(&found(), around).expect("a closing");
        assert_eq!(
            said(&limits(Some(15e5), Some(9e5))),
            "does not hammer: highest at closing 14 bar(a), limit 15 bar(a)"
        );
        assert_eq!(said(&limits(Some(19e5), Some(9e5))), "does not hammer: highest rise at closing 7 bar, limit 9 bar");
        assert!(said(&limits(None, None)).starts_with("hammer not judged: no limit is stated"));
        // A later peak is the highest.
        let later = Indicators { inlet_peak_later: Some(14.5e5), ..found() };
        assert!(no_hammer(&later, &limits(Some(15e5), None)).is_some_and(|said| said.contains("14.5 bar(a)")));
        let open = Indicators { closing_time: None, ..found() };
        assert_eq!(no_hammer(&open, &limits(None, None)), None);
    }
}
