//! Peaks after that of the first closure: waves that come back, a second impact, the collapse of a vapour cavity.

use super::circumstances::Circumstances;
use super::finding::{Behaviour, Finding, finding};
use super::words::pressure;
use crate::indicator::Indicators;
use crate::units::{Dimension, text};

/// The highest pressures beside the first closure's peak at the inlet, and what a rise is counted from.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct LaterPeaks {
    /// Highest inlet pressure after the first closure, Pa absolute.
    pub inlet: Option<f64>,
    /// Highest outlet pressure from switching off on, Pa absolute.
    pub outlet: Option<f64>,
    /// Inlet pressure that a rise is counted from: at rest, under a pulsation the highest while open, Pa absolute.
    pub inlet_base: f64,
    /// The same at the outlet: the higher of at rest and open, since a line that drains through a throttle starts high.
    pub outlet_base: f64,
    /// Had a vapour cavity opened at the valve? Peaks after one depend on the trace of gas in it and on the step.
    pub after_cavity: bool,
}

/// A later peak against a limit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Over {
    /// On which side of the valve, in words.
    pub side: &'static str,
    /// The peak, Pa absolute.
    pub peak: f64,
    /// Its rise above what rises are counted from, Pa.
    pub rise: f64,
    /// How far it is above the limit, Pa; nought or less where it keeps it.
    pub excess: f64,
    /// Its rise over the allowed one.
    pub margin: f64,
}

impl LaterPeaks {
    /// As a run shows them. `differential`: supply less sink, Pa.
    pub fn new(found: &Indicators, differential: f64) -> LaterPeaks {
        let rest = found.inlet_pressure_at_rest.unwrap_or(0.0);
        let higher = |a: Option<f64>, b: Option<f64>| a.into_iter().chain(b).reduce(f64::max);
        let cavity = |volume: Option<f64>| volume.is_some_and(|volume| volume > 0.0);
        LaterPeaks {
            inlet: found.inlet_peak_later,
            outlet: higher(found.outlet_peak_closing, found.outlet_peak_later),
            inlet_base: found.inlet_peak_closing.zip(found.surge).map_or(rest, |(peak, surge)| peak - surge),
            outlet_base: (rest - differential).max(found.outlet_pressure_open.unwrap_or(0.0)),
            after_cavity: cavity(found.largest_inlet_cavity) || cavity(found.largest_outlet_cavity),
        }
    }

    fn sides(&self) -> impl Iterator<Item = (&'static str, f64, f64)> {
        let inlet = self.inlet.map(|peak| ("in front of the valve", peak, self.inlet_base));
        inlet.into_iter().chain(self.outlet.map(|peak| ("behind the valve", peak, self.outlet_base)))
    }

    /// The worse side against a highest pressure, Pa absolute.
    pub fn over_peak(&self, limit: f64) -> Option<Over> {
        let over = |(side, peak, base): (&'static str, f64, f64)| {
            let margin = (peak - base) / (limit - base).max(1.0);
            Over { side, peak, rise: peak - base, excess: peak - limit, margin }
        };
        self.sides().map(over).max_by(|a, b| a.excess.total_cmp(&b.excess))
    }

    /// The worse side against a highest rise, Pa.
    pub fn over_rise(&self, limit: f64) -> Option<Over> {
        let over = |(side, peak, base): (&'static str, f64, f64)| {
            let rise = peak - base;
            Over { side, peak, rise, excess: rise - limit, margin: rise / limit }
        };
        self.sides().map(over).max_by(|a, b| a.excess.total_cmp(&b.excess))
    }

    /// Only what happens in front of the valve.
    pub fn in_front(&self) -> LaterPeaks {
        LaterPeaks { outlet: None, ..self.clone() }
    }
}

/// The first closure keeps the limits and what follows does not.
pub(super) fn hammers_later(found: &Indicators, around: &Circumstances) -> Option<Finding> {
    let later = LaterPeaks::new(found, around.circuit_differential);
    let by_peak = around.peak_pressure.and_then(|limit| Some((later.over_peak(limit)?, limit)));
    let by_rise = around.surge.and_then(|limit| Some((later.over_rise(limit)?, limit)));
    let absolute = by_peak.map(|(over, limit)| (over, text(limit, Dimension::AbsolutePressure)));
    let above = by_rise.map(|(over, limit)| (over, format!("a rise of {}", pressure(limit))));
    let all = absolute.into_iter().chain(above).filter(|(over, _)| over.excess > 0.0);
    let (over, limit) = all.max_by(|a, b| a.0.margin.total_cmp(&b.0.margin))?;
    let cause = if later.after_cavity {
        "uncertain: the first closure keeps its limit, but after a vapour cavity"
    } else {
        "the first closure keeps its limit, but later"
    };
    let trust = if later.after_cavity {
        "; a peak after a cavity depends on the trace of gas in it and on the step of the computation"
    } else {
        ""
    };
    let reason = format!(
        "{cause} the pressure {} reaches {}, {} above where it started; the limit is {limit}{trust}",
        over.side,
        text(over.peak, Dimension::AbsolutePressure),
        pressure(over.rise)
    );
    Some(finding(Behaviour::Hammers, true, over.margin, reason))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// 10 bar at rest, first closure to 15 bar, 8 bar across the circuit.
    fn found() -> Indicators {
        Indicators {
            inlet_pressure_at_rest: Some(10e5),
            inlet_peak_closing: Some(15e5),
            surge: Some(5e5),
            outlet_pressure_open: Some(3e5),
            ..Indicators::default()
        }
    }

    fn around() -> Circumstances {
        Circumstances { circuit_differential: 8e5, surge: Some(6e5), ..Circumstances::default() }
    }

    #[test]
    fn a_later_peak_above_the_limit_is_a_finding_and_uncertain_after_a_cavity_only() {
        let kept = Indicators { inlet_peak_later: Some(15.9e5), ..found() };
        assert_eq!(hammers_later(&kept, &around()), None);
        let broken = Indicators { inlet_peak_later: Some(16.2e5), ..found() };
        let sound = hammers_later(&broken, &around()).expect("a finding");
        assert!(sound.adverse && sound.behaviour == Behaviour::Hammers && !sound.reason.contains("uncertain"));
        assert!((sound.margin - 6.2 / 6.0).abs() < 1e-9 && sound.reason.contains("in front of"), "{sound:?}");
        let after = Indicators { largest_outlet_cavity: Some(1e-6), ..broken };
        assert!(hammers_later(&after, &around()).is_some_and(|f| f.reason.starts_with("uncertain:")));
    }

    #[test]
    fn the_outlet_counts_from_the_higher_of_rest_and_open() {
        let outlet = |peak: f64| Indicators { outlet_peak_later: Some(peak), ..found() };
        assert_eq!(hammers_later(&outlet(8.9e5), &around()), None);
        assert!(hammers_later(&outlet(9.1e5), &around()).is_some_and(|f| f.reason.contains("behind the valve")));
        let absolute = Circumstances { surge: None, peak_pressure: Some(9e5), ..around() };
        assert!(hammers_later(&outlet(9.1e5), &absolute).is_some());
    }
}
