//! Interpolation between stated states of a liquid.

use crate::physics::fluid::{Fluid, Liquid, Phase};

/// One state of a liquid.
#[derive(Clone, Copy, Debug)]
pub(super) struct State {
    /// Temperature, °C.
    pub(super) celsius: f64,
    /// Bubble-point pressure, Pa.
    pub(super) vapour_pressure: f64,
    /// Density, kg/m³.
    pub(super) density: f64,
    /// Sound speed, m/s.
    pub(super) sound_speed: f64,
    /// Dynamic viscosity, Pa·s.
    pub(super) viscosity: f64,
}

/// A substance with its states by rising temperature.
#[derive(Clone, Copy, Debug)]
pub(super) struct Substance {
    /// Name by which it is asked for.
    pub(super) name: &'static str,
    /// Where its properties come from.
    pub(super) source: &'static str,
    /// Critical pressure, Pa.
    pub(super) critical_pressure: f64,
    /// States.
    pub(super) states: &'static [State],
}

impl Substance {
    /// Lowest and highest temperature, °C.
    pub(super) fn range(&self) -> (f64, f64) {
        let ends = |state: Option<&State>| state.map_or(f64::NAN, |state| state.celsius);
        // The lowest state of water is its triple point; the hundredth of a kelvin down to 0 °C is within its cubic.
        (ends(self.states.first()).floor(), ends(self.states.last()))
    }

    /// The liquid at a temperature inside the range.
    ///
    /// Density and sound speed are interpolated over the temperature; the logarithms of vapour pressure and viscosity over
    /// its inverse, in which they are nearly straight (Clausius and Clapeyron; Andrade).
    pub(super) fn liquid(&self, celsius: f64) -> Fluid {
        let plain = |state: &State| state.celsius;
        let inverse = |state: &State| -1.0 / (state.celsius + 273.15);
        let at = -1.0 / (celsius + 273.15);
        let phase = Phase::Liquid(Liquid {
            density: self.interpolate(celsius, plain, |state| state.density),
            sound_speed: self.interpolate(celsius, plain, |state| state.sound_speed),
            viscosity: self.interpolate(at, inverse, |state| state.viscosity.ln()).exp(),
            vapour_pressure: self.interpolate(at, inverse, |state| state.vapour_pressure.ln()).exp(),
            critical_pressure: self.critical_pressure,
        });
        let name = format!("{}, {} °C", self.name, (celsius * 100.0).round() / 100.0);
        Fluid { name, source: self.source.to_owned(), phase }
    }

    /// Cubic through the two states beside `at`, with the slopes of parabolas through three states each, so that the slope
    /// is continuous. Source: C. de Boor, A Practical Guide to Splines, 1978, chapter 4 (cubic Hermite, from memory).
    fn interpolate(&self, at: f64, x: impl Fn(&State) -> f64, y: impl Fn(&State) -> f64) -> f64 {
        let states = self.states;
        let last = states.len() - 1;
        let left = states.partition_point(|state| x(state) <= at).clamp(1, last) - 1;
        let secant = |i: usize| (y(&states[i + 1]) - y(&states[i])) / (x(&states[i + 1]) - x(&states[i]));
        let width = |i: usize| x(&states[i + 1]) - x(&states[i]);
        let slope = |i: usize| match i {
            0 => secant(0) + (secant(0) - secant(1)) * width(0) / (width(0) + width(1)),
            i if i == last => {
                secant(i - 1) + (secant(i - 1) - secant(i - 2)) * width(i - 1) / (width(i - 1) + width(i - 2))
            }
            i => (secant(i - 1) * width(i) + secant(i) * width(i - 1)) / (width(i - 1) + width(i)),
        };
        let h = width(left);
        let t = (at - x(&states[left])) / h;
        let (s, u) = (t * t * (3.0 - 2.0 * t), 1.0 - t);
        let ends = y(&states[left]) * (1.0 - s) + y(&states[left + 1]) * s;
        ends + h * t * u * (u * slope(left) - t * slope(left + 1))
    }
}
