//! A valve shut at the end of a long line of water, until after its second cavity: the rig of a measured record.

use super::table::{Table, table};
use crate::dual::Real;
use crate::fluid;
use crate::physics::line::LineState;
use crate::physics::line::far_end::EndPressure;
use crate::physics::line::shear::Shear;
use crate::physics::line::waves::WaveLine;
use crate::physics::parts::{Fittings, Line, LineModel};
use crate::physics::restriction::{LiquidChoking, Series, critical_ratio_factor, liquid};
use crate::physics::valve::armature::GRAVITY;
use crate::physics::valve::cell::Cell;
use crate::portable::Portable;
use crate::solver::{Counters, Interval, Method, Settings, State, Step, StepSize, System, Then, integrate};

/// Segments that a line of this transit gets where a scenario states none.
pub(super) const SEGMENTS: usize = 6;
/// Share of the port's volume taken as free gas at the atmosphere's pressure: what a scenario gets that states none.
const TRACE: f64 = 1e-5;
/// The differential below which the closing valve's flow is laminar-like, Pa.
const BLEND: f64 = 5.0;

/// What the record leaves open.
#[derive(Clone, Copy, Debug)]
pub(super) struct Choice {
    /// Segments of the line.
    pub(super) segments: usize,
    /// m of the closing law: the opening's area falls as (1 − t/T)^m.
    pub(super) power: f64,
    /// Darcy friction factor over the stated one.
    pub(super) friction: f64,
    /// Free gas at the port over the trace that a scenario gets.
    pub(super) gas: f64,
    /// Does the wall's shear have its memory?
    pub(super) memory: bool,
}

impl Choice {
    /// The area falls linearly; the rest as a scenario gets it that states nothing.
    pub(super) const PLAIN: Choice = Choice { segments: SEGMENTS, power: 1.0, friction: 1.0, gas: 1.0, memory: true };
}

/// Time (s) since the valve began to shut, and pressure at the valve, Pa absolute.
pub(super) type Trace = Vec<(f64, f64)>;

struct Rig {
    line: WaveLine,
    impedance: f64,
    port: Cell,
    density: f64,
    /// Area-like coefficient of the full opening, m².
    opening: f64,
    closing_time: f64,
    power: f64,
    choking: LiquidChoking,
    atmosphere: f64,
    seen: Trace,
}

impl Rig {
    /// Opening at `time` over the full one, and its slope, 1/s.
    fn opening(&self, time: f64) -> (f64, f64) {
        let left = (1.0 - time / self.closing_time).max(0.0);
        let slope = if left > 0.0 { -self.power * left.power(self.power - 1.0) / self.closing_time } else { 0.0 };
        (left.power(self.power), slope)
    }

    /// Flow that the valve lets out, kg/s.
    fn drawn<T: Real>(&self, opening: T, pressure: T) -> T {
        // The bore behind the ball is wide against any opening of it.
        let restrictions = Series { curtain: opening * self.opening, bore: 1e3 * self.opening };
        liquid(restrictions, self.density, pressure, T::constant(self.atmosphere), self.choking, BLEND).mass_flow
    }
}

/// The state is the content of the port; it is driven by the arriving wave and the opening.
impl System<1, 2, 0> for Rig {
    fn forcing(&self, time: f64) -> ([f64; 2], [f64; 2]) {
        let ((wave, wave_slope), (opening, opening_slope)) = (self.line.arriving(time), self.opening(time));
        ([wave, opening], [wave_slope, opening_slope])
    }

    fn rates<T: Real>(&self, forcing: &[T; 2], y: &[T; 1], rate: &mut [T; 1], _: &mut [T; 0]) {
        let pressure = self.port.pressure(y[0]);
        let fed = (forcing[0] - pressure) * (1.0 / self.impedance);
        rate[0] = (fed - self.drawn(forcing[1], pressure)) * (1.0 / self.density);
    }

    fn longest_step(&self, time: f64) -> f64 {
        let known = self.line.longest_step(time).min(2e-4);
        if time < self.closing_time { known.min(self.closing_time - time).max(1e-9) } else { known }
    }

    fn accepted(&mut self, step: &Step<'_, 1, 0>) -> Then {
        let (arriving, slope) = self.line.arriving(step.to);
        let pressure = self.port.pressure(step.new_y[0]);
        let flow = (arriving - pressure) / self.impedance;
        let pressure_slope = self.port.pressure_slope(step.new_y[0]) * step.new_rates[0];
        self.line.send(step.to, flow, (slope - pressure_slope) / self.impedance);
        self.seen.push((step.to, pressure));
        Then::Continue
    }
}

fn stated(table: &Table, quantity: &str) -> Result<f64, String> {
    let row = table.rows().find(|row| row.text("quantity").is_ok_and(|name| name == quantity));
    row.ok_or_else(|| format!("the rig has no {quantity}"))?.number("value")
}

fn rig(choice: Choice) -> Result<Rig, String> {
    let table = table!("bergant_simpson_1999_closing_valve/rig.csv")?;
    let of = |quantity: &str| stated(&table, quantity);
    let (atmosphere, bore) = (of("atmosphere")?, of("bore")?);
    let water = fluid::find("water").map_err(|e| e.to_string())?;
    let water = water.liquid(of("temperature")?, 3.0 * atmosphere).map_err(|e| e.to_string())?;
    let vapour = water.bubble_pressure.ok_or("water has no vapour pressure")?;
    let line = Line {
        length: of("pipe length")?,
        bore,
        wave_speed: of("wave speed")?,
        density: None,
        friction_factor: choice.friction * of("friction factor")?,
        loss_coefficient: 0.0,
        segments: choice.segments,
        model: LineModel::Waves,
        fittings: Fittings::default(),
    };
    let state = LineState::new(&line, water.density, water.viscosity, 0.0, 0.0, None);
    let flow = water.density * state.area * of("velocity before the closure")?;
    let beside = state.beside(flow);
    let state = if choice.memory { beside } else { LineState { shear: Shear::NONE, ..beside } };
    // The line is level in the model. Its pressures are counted at the height of the valve, so that the cavity opens there at
    // its own vapour pressure; what the reservoir stands above its end is then less by the rise.
    let rise = of("rise of the valve end above the reservoir end")?;
    let head = of("reservoir head above the reservoir end")? - rise;
    let end = EndPressure { mean: atmosphere + water.density * GRAVITY * head, amplitude: 0.0, angular_frequency: 0.0 };
    let at_valve = end.mean - state.wall.loss(flow);
    let volume = of("volume of the port")?;
    let compliance = volume / (water.density * water.sound_speed.to_the(2));
    let line = WaveLine::steady(&state, end, choice.segments, 0.0, 1.0, flow);
    Ok(Rig {
        line,
        impedance: state.impedance(),
        port: Cell::new(compliance, at_valve, vapour, choice.gas * TRACE * volume, atmosphere, 1.0),
        density: water.density,
        opening: flow / (2.0 * water.density * (at_valve - atmosphere)).sqrt(),
        closing_time: of("time of closure")?,
        power: choice.power,
        choking: LiquidChoking {
            recovery_factor: 1.0,
            critical_vapour_pressure: critical_ratio_factor(vapour, water.critical_pressure) * vapour,
        },
        atmosphere,
        seen: vec![(0.0, at_valve)],
    })
}

/// Shut the valve and watch the pressure at it until `end`, s.
pub(super) fn shut(choice: Choice, end: f64) -> Result<Trace, String> {
    let mut rig = rig(choice)?;
    let start = rig.port.content(rig.seen[0].1);
    let settings = Settings {
        method: Method::Rodas5P,
        relative_tolerance: 1e-6,
        absolute_tolerance: [1e-6 * rig.port.compliance * 1e5],
        most_steps: 1_000_000,
    };
    let mut state = State::at_start([start]);
    let interval = Interval { from: 0.0, to: end };
    let first = StepSize::Controlled { first: Some(1e-7) };
    integrate::<4, 1, 2, 0, _>(&mut rig, interval, &mut state, first, &settings, &mut Counters::default())
        .map_err(|e| format!("the closing rig: {e}"))?;
    Ok(rig.seen)
}
