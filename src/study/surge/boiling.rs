//! Where a sudden stop lets a liquid boil, and the subcooling that would keep it liquid.
//!
//! ```text
//! behind the valve, at once          p − Δp_v − ρ·a·v
//! upstream, from 2·L/a on            p − ρ·a·v          the returned wave, without friction
//! ```
//!
//! A cavity opens where this is below the vapour pressure p_v(T). p is the pressure at rest upstream, Δp_v the differential
//! of the open valve. Source: superposition of waves; the far end of the upstream line holds its pressure.

use super::line::{Flow, Line, wave_speed};
use crate::fluid::{Aggregation, FluidError, Medium, State};

/// Step of the search down from the bubble point, K, and its longest way.
const STEP: f64 = 0.5;
const STEPS: usize = 600;
/// Halvings of the step that brackets the answer: to a millionth of it.
const HALVINGS: usize = 20;

/// What a liquid has that can boil.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Boiling {
    /// Vapour pressure at its temperature, Pa absolute.
    pub vapour_pressure: f64,
    /// Margin to boiling at rest p − p_v, Pa.
    pub margin: f64,
    /// Subcooling at rest, K; none where the saturation is not tabulated.
    pub subcooling: Option<f64>,
    /// Fastest flow whose sudden stop the margin bears upstream: margin/(ρ·a), m/s.
    pub bearable_velocity: f64,
    /// Behind the valve, at once.
    pub behind: Trough,
    /// Upstream of the valve, after one return.
    pub upstream: Trough,
}

/// The lowest pressure on one side of the valve.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Trough {
    /// Pressure to which the wave would pull a liquid that does not boil, Pa; below zero where it would have to bear tension.
    pub pulled_to: f64,
    /// What comes of it.
    pub outcome: Outcome,
}

/// What comes of a trough.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Outcome {
    /// It stays liquid.
    StaysLiquid,
    /// A cavity opens.
    Cavity(Remedy),
    /// It boils already in the open valve: the outlet is below the vapour pressure.
    BoilsOpen(Remedy),
}

impl Outcome {
    /// Is there vapour?
    pub fn boils(self) -> bool {
        self.remedy().is_some()
    }

    /// In words.
    pub fn words(self) -> &'static str {
        match self {
            Outcome::StaysLiquid => "stays liquid",
            Outcome::Cavity(_) => "cavity",
            Outcome::BoilsOpen(_) => "boils in the open valve",
        }
    }

    /// What would avoid it.
    pub fn remedy(self) -> Option<Remedy> {
        match self {
            Outcome::StaysLiquid => None,
            Outcome::Cavity(remedy) | Outcome::BoilsOpen(remedy) => Some(remedy),
        }
    }
}

/// What would avoid a cavity at the same pressure.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Remedy {
    /// This subcooling, K, or more.
    Subcooling(f64),
    /// None would: even at the cold end of the table the wave pulls below vacuum.
    NoneWould,
    /// Not down to the lowest temperature of the table, or the saturation is not tabulated.
    NotKnown,
}

/// The side of the valve.
#[derive(Clone, Copy)]
enum Side {
    Behind,
    Upstream,
}

/// What the liquid does; none for a gas and for what has no vapour pressure at its temperature.
pub(super) fn boiling(medium: &Medium, state: &State, line: &Line, flow: Flow) -> Option<Boiling> {
    let vapour_pressure = state.bubble_pressure.filter(|_| state.aggregation == Aggregation::Liquid)?;
    let margin = state.pressure - vapour_pressure;
    let bubble = medium.bubble_temperature(state.pressure).ok();
    let trough = |side| {
        let pull = pull(state, line, flow, side);
        let boils_open = matches!(side, Side::Behind) && flow.differential() > margin;
        // Rounding alone must not make a liquid that just bears the wave boil.
        let outcome = if pull <= margin * (1.0 + 1e-12) {
            Outcome::StaysLiquid
        } else {
            let remedy = bubble.map_or_else(
                || if pull >= state.pressure { Remedy::NoneWould } else { Remedy::NotKnown },
                |bubble| remedy(medium, state.pressure, bubble, line, flow, side),
            );
            if boils_open { Outcome::BoilsOpen(remedy) } else { Outcome::Cavity(remedy) }
        };
        Trough { pulled_to: state.pressure - pull, outcome }
    };
    Some(Boiling {
        vapour_pressure,
        margin,
        subcooling: bubble.map(|t| (t - state.temperature).max(0.0)),
        bearable_velocity: margin / (state.density * wave_speed(state, line)),
        behind: trough(Side::Behind),
        upstream: trough(Side::Upstream),
    })
}

/// How far below the pressure at rest the stop pulls, Pa.
fn pull(state: &State, line: &Line, flow: Flow, side: Side) -> f64 {
    let surge = state.density * wave_speed(state, line) * flow.velocity(state, line);
    match side {
        Side::Behind => surge + flow.differential(),
        Side::Upstream => surge,
    }
}

/// The least subcooling at the same pressure with which the liquid stays liquid. Most liquids get stiffer and denser as they
/// get colder, so that the wave pulls deeper too (water below some 70 °C does not): the state is taken anew at each temperature.
fn remedy(medium: &Medium, pressure: f64, bubble: f64, line: &Line, flow: Flow, side: Side) -> Remedy {
    // What is left above the vapour pressure, and above vacuum.
    let left = |subcooling: f64| {
        let state = colder(medium, bubble - subcooling, pressure).ok()?;
        let above_vacuum = pressure - pull(&state, line, flow, side);
        Some((above_vacuum - state.bubble_pressure?, above_vacuum))
    };
    least_subcooling(left)
}

/// The least subcooling (K) from which on the first of `left` is not negative: what is left above the vapour pressure; the
/// second is what is left above vacuum. `left` has none where the liquid is not known.
pub(in crate::study) fn least_subcooling(left: impl Fn(f64) -> Option<(f64, f64)>) -> Remedy {
    let mut last = None;
    for step in 1..=STEPS {
        let subcooling = STEP * step as f64;
        let Some((above_vapour, above_vacuum)) = left(subcooling) else { break };
        if above_vapour >= 0.0 {
            let (mut boils, mut stays) = (subcooling - STEP, subcooling);
            for _ in 0..HALVINGS {
                let middle = 0.5 * (boils + stays);
                if left(middle).is_some_and(|(above, _)| above >= 0.0) { stays = middle } else { boils = middle }
            }
            return Remedy::Subcooling(stays);
        }
        last = Some(above_vacuum);
    }
    // At the cold end of the table the wave alone pulls below vacuum. Colder still, water freezes and the others get stiffer.
    if last.is_some_and(|above| above <= 0.0) { Remedy::NoneWould } else { Remedy::NotKnown }
}

/// The state of a liquid at another temperature and the same pressure.
pub(in crate::study) fn colder(medium: &Medium, temperature: f64, pressure: f64) -> Result<State, FluidError> {
    medium.state_of(Aggregation::Liquid, temperature, pressure)
}
