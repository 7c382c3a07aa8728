//! Which parameters are varied, over which values, and how far each can be changed.

use super::numbers::Closing;
use crate::physics::fluid::Phase;
use crate::physics::parts::{Bleed, RingLeak, StageKind, Valve};
use crate::portable::Portable;
use crate::scenario::{Scenario, title};
use crate::study::axis::DIFFERENTIAL;
use crate::study::quoted::{BORE_STEP, said};
use crate::study::window::Side;
use crate::units::{Dimension, text};

/// Path of the bleed bore.
pub const BLEED: &str = "valve.bleed.diameter";
/// Path of the flow.
pub const FLOW: &str = "flow.mass_flow";
/// Path of the gas volume at the valve's inlet.
pub const INLET_GAS: &str = "valve.inlet.gas";

/// Exponent of a gas volume that the scenario does not have yet: between isothermal and adiabatic (judgement).
const GAS_EXPONENT: f64 = 1.2;
/// Exponents between which a gas volume works, and with both of which it has to suffice: isothermal, and adiabatic for air and
/// nitrogen (both from memory).
pub const GAS_EXPONENTS: [f64; 2] = [1.0, 1.4];
const EXPONENT: &str = "valve.inlet.polytropic_exponent";
/// Gas volumes tried, m³: from what barely softens a valve body to a small vessel.
const GAS_VOLUMES: [f64; 7] = [1e-6, 3e-6, 1e-5, 3e-5, 1e-4, 3e-4, 1e-3];
/// Bleed bores tried that are no change within reach, as multiples of today's; what is within reach is tried in half steps of
/// drill sizes.
const BLEEDS: [f64; 11] = [0.2, 0.26, 0.35, 0.45, 0.55, 0.7, 0.85, 1.15, 1.4, 1.7, 2.0];
/// Flows tried: downwards only, more is asked by nobody whose pipe bangs; below a tenth the valve hardly opens.
const FLOWS: [f64; 6] = [0.1, 0.2, 0.35, 0.5, 0.65, 0.8];
/// Multiples tried of what the plant fixes or the valve's design sets.
const HALF_TO_DOUBLE: [f64; 4] = [0.5, 0.7, 1.4, 2.0];
/// Bores tried of the line: upwards only, a narrower one bangs harder at the same flow.
const BORES: [f64; 4] = [1.15, 1.3, 1.6, 2.0];
/// A length changes more from plant to plant.
const LENGTHS: [f64; 5] = [0.1, 0.25, 0.5, 2.0, 4.0];

/// May the parameter be changed to quiet the valve?
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Use {
    /// Yes, by whoever looks after the plant: the smallest change is solved for.
    Change,
    /// Yes, but only by the valve's maker: solved for as well.
    Maker,
    /// No: it is varied only to show what it does.
    Show,
}

/// A parameter that is varied.
#[derive(Clone, Debug, PartialEq)]
pub struct Parameter {
    /// Path.
    pub path: &'static str,
    /// In words, as the vocabulary of the scenario has it.
    pub title: &'static str,
    /// Kind of quantity.
    pub dimension: Dimension,
    /// Can it serve as a change?
    pub serves: Use,
    /// Today's value, SI; nought where there is none.
    pub today: f64,
    /// Values tried, SI, rising, without today's.
    pub values: Vec<f64>,
    /// Lowest and highest value that counts as a change within reach, SI.
    pub reach: (f64, f64),
    /// What has to be stated with it.
    pub beside: Vec<(&'static str, f64)>,
    /// For a gas volume: the polytropic exponent that it is computed with.
    pub exponent: Option<f64>,
}

impl Parameter {
    /// All settings for one value.
    pub fn settings(&self, value: f64) -> Vec<(&'static str, f64)> {
        std::iter::once((self.path, value)).chain(self.beside.iter().copied()).collect()
    }

    /// All settings for a gas volume with another exponent.
    pub(super) fn settings_at(&self, value: f64, exponent: f64) -> Vec<(&'static str, f64)> {
        self.settings(value).into_iter().chain([(EXPONENT, exponent)]).collect()
    }

    /// All settings for one value as a user writes them.
    pub(super) fn spoken(&self, value: f64) -> Vec<String> {
        let own = format!("{}={}", self.path, said(value, self.dimension));
        let beside = self.beside.iter().map(|(path, value)| {
            let dimension = if *path == EXPONENT { Dimension::Number } else { Dimension::AbsolutePressure };
            format!("{path}={}", text(*value, dimension))
        });
        std::iter::once(own).chain(beside).collect()
    }

    /// The values tried within reach on one side, from today's outwards.
    pub(super) fn outwards(&self, side: Side) -> Vec<f64> {
        let beyond = |v: f64| if side == Side::Lower { v < self.today } else { v > self.today };
        let mut all: Vec<f64> = self.values.iter().copied().filter(|v| beyond(*v) && self.reachable(*v)).collect();
        if side == Side::Lower {
            all.reverse();
        }
        all
    }

    /// Is the value within reach of a change?
    pub fn reachable(&self, value: f64) -> bool {
        let slack = 1e-9;
        value >= self.reach.0 * (1.0 - slack) && value <= self.reach.1 * (1.0 + slack)
    }

    fn multiples(
        path: &'static str,
        dimension: Dimension,
        serves: Use,
        today: f64,
        factors: &[f64],
    ) -> Option<Parameter> {
        let values: Vec<f64> = factors.iter().map(|f| f * today).collect();
        let reach = (*values.first()?, *values.last()?);
        (today > 0.0).then_some(Parameter {
            path,
            title: title_of(path),
            dimension,
            serves,
            today,
            values,
            reach,
            beside: Vec::new(),
            exponent: None,
        })
    }
}

/// A path without a title is shown as it stands; `tests/study/closing.rs` sees that there is none.
fn title_of(path: &'static str) -> &'static str {
    title(path).unwrap_or(path)
}

/// The parameters of a scenario. `least_bleed`, m: the narrowest bleed that is kept free of dirt.
pub fn parameters(scenario: &Scenario, today: &Closing, least_bleed: f64) -> Vec<Parameter> {
    use Dimension as D;
    let valve = &scenario.valve;
    let of = Parameter::multiples;
    let differential = scenario.differential();
    let mut all: Vec<Parameter> = valve.servo().map(|servo| bleed(&servo.bleed, least_bleed)).into_iter().collect();
    all.extend(of(FLOW, D::MassFlow, Use::Change, today.flow, &FLOWS));
    all.extend(inlet_gas(scenario, today));
    all.extend(of(DIFFERENTIAL, D::PressureDifference, Use::Change, differential, &HALF_TO_DOUBLE));
    all.extend(of("upstream.bore", D::Length, Use::Change, scenario.upstream.bore, &BORES));
    all.extend(length(scenario.upstream.length));
    all.extend(chamber(scenario));
    all.extend(pin(scenario));
    match valve.main.kind {
        StageKind::Diaphragm { bulge_compliance, .. } => {
            let path = "valve.main.diaphragm.bulge_compliance";
            all.extend(of(path, D::BulgeCompliance, Use::Maker, bulge_compliance, &HALF_TO_DOUBLE));
        }
        StageKind::Piston { .. } => {}
    }
    let [preload, spring_rate, damping] = spring(valve);
    all.extend(of(preload.0, D::Force, Use::Show, preload.1, &HALF_TO_DOUBLE));
    all.extend(of(spring_rate.0, D::SpringRate, Use::Show, spring_rate.1, &HALF_TO_DOUBLE));
    all.extend(of(damping.0, D::Damping, Use::Show, damping.1, &[0.5, 2.0]));
    if let Some(servo) = valve.servo() {
        all.extend(of("valve.pilot.diameter", D::Length, Use::Show, servo.pilot.diameter, &[0.8, 1.25]));
        all.extend(leak(&servo.leak));
    }
    all
}

/// Paths and values of the preload, rate and damping of what moves on the main seat.
fn spring(valve: &Valve) -> [(&'static str, f64); 3] {
    let (main, armature) = (&valve.main, &valve.armature);
    if valve.armature_is_stage() {
        [
            ("valve.armature.preload", armature.preload),
            ("valve.armature.spring_rate", armature.spring_rate),
            ("valve.armature.damping", armature.damping),
        ]
    } else {
        [
            ("valve.main.preload", main.preload),
            ("valve.main.spring_rate", main.spring_rate),
            ("valve.main.damping", main.damping),
        ]
    }
}

/// A shorter line is a change, as where the valve is moved; a longer one only shows what it does.
fn length(today: f64) -> Option<Parameter> {
    let all = Parameter::multiples("upstream.length", Dimension::Length, Use::Change, today, &LENGTHS)?;
    Some(Parameter { reach: (all.reach.0, today), ..all })
}

/// A pin can be made another; it leaves no more free than the bleed, and leaves the bleed before the stage is at its stop.
fn pin(scenario: &Scenario) -> Vec<Parameter> {
    let Some(servo) = scenario.valve.servo() else { return Vec::new() };
    let Some(pin) = &servo.bleed.pin else { return Vec::new() };
    let below =
        |today: f64, limit: f64| -> Vec<f64> { HALF_TO_DOUBLE.into_iter().filter(|f| f * today <= limit).collect() };
    let of =
        |path, today, limit| Parameter::multiples(path, Dimension::Length, Use::Maker, today, &below(today, limit));
    let shoulder = pin.taper.unwrap_or(0.0);
    let bore = of("valve.bleed.pin.diameter", pin.diameter, servo.bleed.diameter);
    let mut lift = of("valve.bleed.pin.lift", pin.lift, scenario.valve.main.lift);
    if let Some(lift) = &mut lift {
        // A taper is no longer than the lift at which the pin leaves.
        lift.values.retain(|value| *value >= shoulder);
        lift.reach.0 = lift.values.first().copied().unwrap_or(lift.today);
    }
    bore.into_iter().chain(lift).collect()
}

/// What leaks past the piston is nobody's to choose, but shows what wear does.
fn leak(leak: &RingLeak) -> Option<Parameter> {
    let (path, today) = match leak {
        RingLeak::Tight => return None,
        RingLeak::Clearance(gap) => ("valve.main.piston.radial_clearance", gap.radial_clearance),
        RingLeak::SplitRing(ring) => ("valve.main.piston.ring_orifice", ring.ring_orifice),
    };
    Parameter::multiples(path, Dimension::Length, Use::Show, today, &HALF_TO_DOUBLE)
}

fn bleed(bleed: &Bleed, least: f64) -> Parameter {
    let today = bleed.diameter;
    // A pin that leaves more free than the bore would be none.
    let pin = bleed.pin.as_ref().map_or(0.0, |pin| pin.diameter);
    let least = least.max(pin.min(today));
    let mut values: Vec<f64> = BLEEDS.iter().map(|f| f * today).filter(|v| *v < 0.94 * least || *v > today).collect();
    let half = 0.5 * BORE_STEP;
    let steps = ((least / half).ceil() as usize)..((today / half).ceil() as usize);
    let distinct = |v: &f64| *v > least * (1.0 + 1e-6) && *v < today * (1.0 - 1e-6);
    values.extend(steps.map(|n| n as f64 * half).filter(distinct));
    if today > least {
        values.push(least);
    }
    values.retain(|value| *value >= pin);
    values.sort_by(f64::total_cmp);
    let reach = (least.min(today), today);
    Parameter {
        path: BLEED,
        title: title_of(BLEED),
        dimension: Dimension::Length,
        serves: Use::Change,
        today,
        values,
        reach,
        beside: Vec::new(),
        exponent: None,
    }
}

/// A gas volume at the valve's inlet, counted at the pressure at rest unless the scenario states another; liquids only.
fn inlet_gas(scenario: &Scenario, today: &Closing) -> Option<Parameter> {
    let Phase::Liquid(_) = scenario.fluid.phase else { return None };
    let port = &scenario.valve.inlet;
    // The trace from which cavities grow is no gas volume.
    let stated = port.gas > 1e-3 * GAS_VOLUMES[0];
    let values: Vec<f64> = GAS_VOLUMES.into_iter().filter(|&v| !stated || v > 1.05 * port.gas).collect();
    let reach = (*values.first()?, *values.last()?);
    let beside = if stated {
        Vec::new()
    } else {
        vec![("valve.inlet.gas_pressure", today.rest_pressure), (EXPONENT, GAS_EXPONENT)]
    };
    let own = if stated { port.gas } else { 0.0 };
    Some(Parameter {
        path: INLET_GAS,
        title: title_of(INLET_GAS),
        dimension: Dimension::Volume,
        serves: Use::Change,
        today: own,
        values,
        reach,
        beside,
        exponent: Some(if stated { port.polytropic_exponent } else { GAS_EXPONENT }),
    })
}

/// The chamber cannot be smaller than what the stage sweeps.
fn chamber(scenario: &Scenario) -> Option<Parameter> {
    let main = &scenario.valve.main;
    let swept = std::f64::consts::FRAC_PI_4 * main.effective_diameter.to_the(2) * main.lift;
    let today = scenario.valve.servo()?.chamber.volume;
    let factors: Vec<f64> = HALF_TO_DOUBLE.into_iter().filter(|f| f * today > 1.05 * swept).collect();
    Parameter::multiples("valve.chamber.volume", Dimension::Volume, Use::Maker, today, &factors)
}
