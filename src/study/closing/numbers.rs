//! The numbers of one closing.

use crate::indicator::phase::last_cycle;
use crate::indicator::{Firmness, Indicator};
use crate::physics::line::linear_closing::{LinearClosing, linear_stop_rise};
use crate::scenario::Scenario;
use crate::study::boiling::cavity_floor;
use crate::study::examined::Examined;
use crate::trace::Trace;
use crate::units::Dimension;
use crate::verdict::{LaterPeaks, Verdict};

/// A linear stop passes from 90 to 10 % in this share of its time.
const LINEAR_SHARE: f64 = 0.8;

/// What one simulated closing showed, and the exact cases beside it.
#[derive(Clone, Debug, PartialEq)]
pub struct Closing {
    /// Flow velocity in the upstream line before closing, m/s.
    pub velocity: f64,
    /// Flow before closing, kg/s.
    pub flow: f64,
    /// Inlet pressure with the valve shut and the line at rest, Pa absolute.
    pub rest_pressure: f64,
    /// Inlet pressure while open, Pa absolute.
    pub open_pressure: f64,
    /// First-closure peak at the inlet, Pa absolute.
    pub peak: f64,
    /// First-closure peak above rest, Pa.
    pub surge: f64,
    /// First-closure peak above the open inlet pressure, over ρ·a·v.
    pub surge_ratio: f64,
    /// Lowest outlet pressure at closing, Pa absolute.
    pub outlet_trough: f64,
    /// Lowest inlet pressure from switching off to the end of the run, Pa absolute.
    pub inlet_trough: f64,
    /// Peaks beside that of the first closure.
    pub later: LaterPeaks,
    /// Flow from 90 to 10 %, s.
    pub effective_time: Option<f64>,
    /// Largest share of the open flow that stops within one 2L/a: 1 is a sudden stop.
    pub steepest_stop: f64,
    /// Switching off to the first contact with the seat, s.
    pub total_time: f64,
    /// Speed at that contact, m/s.
    pub seat_speed: f64,
    /// ρ·a·v, Pa.
    pub sudden_rise: f64,
    /// 2L/a, s.
    pub wave_return: f64,
    /// Peak of a linear closing of the opening that stops the flow in the same effective time (Allievi), Pa absolute;
    /// liquids only.
    pub linear_opening_peak: Option<f64>,
    /// Peak of a linear stop of the flow in the same effective time (Michaud), Pa absolute; none within one return.
    pub linear_flow_peak: Option<f64>,
    /// Mean lift before closing, share of full lift.
    pub lift: f64,
    /// Largest vapour cavity at the inlet, m³.
    pub inlet_cavity: f64,
    /// Had a cavity at the inlet opened before the peak, so that the peak may be its collapse?
    pub uncertain: bool,
    /// What the run means.
    pub verdict: Verdict,
}

/// The numbers of an examined run; the reason where the valve did not open or did not shut.
pub(super) fn numbers(examined: &Examined, liquid: bool) -> Result<Closing, String> {
    let found = &examined.indicators;
    if found.largest_lift.unwrap_or(0.0) < 0.01 {
        return Err("the valve does not open".into());
    }
    let (Some(peak), Some(total_time)) = (found.inlet_peak_closing, found.closing_time) else {
        return Err(format!("the valve does not shut within {:.0} s", examined.phases.shut));
    };
    let known = |value: Option<f64>, name: &str| value.ok_or_else(|| format!("the run shows no {name}"));
    let line = &examined.record.installation.upstream.state;
    let flow = known(found.flow_open, "flow")?;
    let rest_pressure = known(found.inlet_pressure_at_rest, "pressure at rest")?;
    let open_pressure = known(found.inlet_pressure_open, "open inlet pressure")?;
    let sudden_rise = known(found.joukowsky_rise, "flow before closing")?;
    let wave_return = 2.0 * line.transit();
    let beside = Beside { scenario: &examined.scenario, rest_pressure, sudden_rise, wave_return };
    Ok(Closing {
        velocity: flow / (line.density * line.area),
        flow,
        rest_pressure,
        open_pressure,
        peak,
        surge: known(found.surge, "surge")?,
        surge_ratio: found.surge_ratio.unwrap_or(0.0),
        outlet_trough: known(found.outlet_trough_closing, "outlet trough")?,
        inlet_trough: lowest_inlet(&examined.record.trace).unwrap_or(f64::NAN),
        later: LaterPeaks::new(found, examined.scenario.differential()),
        effective_time: found.effective_closing_time,
        steepest_stop: found.steepest_stop.unwrap_or(0.0),
        total_time,
        seat_speed: found.first_seat_speed.unwrap_or(0.0),
        sudden_rise,
        wave_return,
        linear_opening_peak: found.effective_closing_time.filter(|_| liquid).and_then(|t| beside.linear_opening(t)),
        linear_flow_peak: found.effective_closing_time.and_then(|t| beside.linear_flow(t)),
        lift: found.mean_lift.unwrap_or(0.0),
        inlet_cavity: found.largest_inlet_cavity.unwrap_or(0.0),
        uncertain: after_a_cavity(&examined.record.trace, peak, cavity_floor(&examined.record.installation.inlet)),
        verdict: examined.verdict.clone(),
    })
}

/// What the exact cases are computed from.
struct Beside<'a> {
    scenario: &'a Scenario,
    rest_pressure: f64,
    sudden_rise: f64,
    wave_return: f64,
}

impl Beside<'_> {
    /// Peak of the linear closing of an opening. The head that drives the flow is the circuit's differential: the exact case
    /// has neither friction nor a second line, so opening and consumer are one.
    fn linear_opening(&self, effective_time: f64) -> Option<f64> {
        let head = self.scenario.differential();
        if head <= 0.0 || self.sudden_rise <= 0.0 || effective_time <= 0.0 || self.wave_return <= 0.0 {
            return None;
        }
        let line_number = self.sudden_rise / (2.0 * head);
        let closing = LinearClosing::stopping_in(line_number, effective_time / self.wave_return);
        Some(self.rest_pressure + (closing.highest_head() - 1.0) * head)
    }

    fn linear_flow(&self, effective_time: f64) -> Option<f64> {
        let returns = effective_time / LINEAR_SHARE / self.wave_return;
        linear_stop_rise(self.sudden_rise, returns).map(|rise| self.rest_pressure + rise)
    }
}

fn lowest_inlet(trace: &Trace) -> Option<f64> {
    let cycle = last_cycle(trace)?;
    let values = trace.values("inlet_pressure").get(trace.window(cycle.shut, cycle.end))?;
    values.iter().copied().reduce(f64::min)
}

/// Did a cavity at the inlet open between switching off and the instant of the peak?
fn after_a_cavity(trace: &Trace, peak: f64, floor: f64) -> bool {
    let Some(cycle) = last_cycle(trace) else { return false };
    let window = trace.window(cycle.shut, cycle.end);
    let pressures = trace.values("inlet_pressure");
    let reaches = |i: &usize| pressures.get(*i).is_some_and(|p| *p >= peak);
    let Some(at) = window.clone().find(reaches) else { return false };
    trace.values("inlet_gas_volume").get(window.start..at).is_some_and(|v| v.iter().any(|volume| *volume > floor))
}

impl Closing {
    /// Effective closing time over 2L/a.
    pub fn returns(&self) -> Option<f64> {
        self.effective_time.filter(|_| self.wave_return > 0.0).map(|t| t / self.wave_return)
    }

    /// Peak of a sudden stop, Pa absolute.
    pub fn sudden_peak(&self) -> f64 {
        self.open_pressure + self.sudden_rise
    }

    /// Every number with its unit and its definition, in a fixed order.
    pub fn list(&self) -> Vec<Indicator> {
        use Dimension as D;
        let firmness = Firmness::Firm;
        let row = |name, value, dimension, definition| Indicator { name, value, dimension, definition, firmness };
        vec![
            row("inlet_peak_closing", Some(self.peak), D::AbsolutePressure, "First-closure peak at the inlet."),
            row("surge", Some(self.surge), D::PressureDifference, "First-closure peak above the pressure at rest."),
            row(
                "surge_ratio",
                Some(self.surge_ratio),
                D::Number,
                "First-closure peak above the open inlet pressure, over rho*a*v.",
            ),
            row(
                "outlet_trough_closing",
                Some(self.outlet_trough),
                D::AbsolutePressure,
                "Lowest outlet pressure at closing.",
            ),
            row(
                "inlet_trough",
                Some(self.inlet_trough),
                D::AbsolutePressure,
                "Lowest inlet pressure from asking to shut on.",
            ),
            row(
                "inlet_peak_later",
                self.later.inlet,
                D::AbsolutePressure,
                "Highest inlet pressure after the first closure (uncertain after a cavity).",
            ),
            row(
                "outlet_peak",
                self.later.outlet,
                D::AbsolutePressure,
                "Highest outlet pressure from asking to shut on (uncertain after a cavity).",
            ),
            row("effective_closing_time", self.effective_time, D::Time, "Main flow from 90 % to 10 %."),
            row(
                "steepest_stop",
                Some(self.steepest_stop),
                D::Fraction,
                "Largest share of the open flow that stops within one 2L/a.",
            ),
            row(
                "closing_time",
                Some(self.total_time),
                D::Time,
                "Asking to shut until the main stage first meets its seat.",
            ),
            row("wave_return_time", Some(self.wave_return), D::Time, "2L/a of the upstream line."),
            row(
                "first_seat_speed",
                Some(self.seat_speed),
                D::Velocity,
                "Speed of the main stage as it first meets its seat.",
            ),
            row("line_velocity", Some(self.velocity), D::Velocity, "Velocity in the upstream line before closing."),
            row("flow_open", Some(self.flow), D::MassFlow, "Flow before closing."),
            row("mean_lift", Some(self.lift), D::Fraction, "Mean lift before closing, share of full lift."),
            row("inlet_pressure_at_rest", Some(self.rest_pressure), D::AbsolutePressure, "Inlet pressure at rest."),
            row("inlet_pressure_open", Some(self.open_pressure), D::AbsolutePressure, "Inlet pressure before closing."),
            row("joukowsky_rise", Some(self.sudden_rise), D::PressureDifference, "rho*a*v: rise of a sudden stop."),
            row(
                "linear_opening_peak",
                self.linear_opening_peak,
                D::AbsolutePressure,
                "Exact peak of an opening that shuts linearly in the same effective time, without friction (Allievi).",
            ),
            row(
                "linear_flow_peak",
                self.linear_flow_peak,
                D::AbsolutePressure,
                "Peak of a flow that falls linearly in the same effective time (Michaud): exact for that beyond 2L/a, no upper bound for an opening.",
            ),
            row("largest_inlet_cavity", Some(self.inlet_cavity), D::Volume, "Largest vapour cavity at the inlet."),
        ]
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trace::{Channel, Event, EventKind, Quantity};

    /// On at 0, off at 1 s, then one value a second.
    fn trace(channels: &[(&'static str, Dimension, &[f64])]) -> Trace {
        let event = |time, kind| Event { time, kind, magnitude: 0.0 };
        let channel = |(name, dimension, values): &(&'static str, Dimension, &[f64])| Channel {
            quantity: Quantity { name, dimension: *dimension, meaning: "" },
            values: values.to_vec(),
        };
        Trace {
            time: (0..channels[0].2.len()).map(|i| i as f64).collect(),
            channels: channels.iter().map(channel).collect(),
            events: vec![event(0.0, EventKind::AskedOpen), event(1.0, EventKind::AskedShut)],
        }
    }

    #[test]
    fn a_peak_is_uncertain_only_after_a_cavity() {
        let pressures = ("inlet_pressure", Dimension::AbsolutePressure, &[2e5, 2e5, 9e5, 1e5, 3e5][..]);
        let cavity = |volumes: &'static [f64]| ("inlet_gas_volume", Dimension::Volume, volumes);
        let later = trace(&[pressures, cavity(&[0.0, 0.0, 0.0, 1e-6, 0.0])]);
        assert!(!after_a_cavity(&later, 9e5, 1e-9));
        let before = trace(&[pressures, cavity(&[0.0, 1e-6, 0.0, 0.0, 0.0])]);
        assert!(after_a_cavity(&before, 9e5, 1e-9) && !after_a_cavity(&before, 9e5, 1e-5));
    }
}
