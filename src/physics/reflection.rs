//! A wave line as the valve hears it at one complex frequency: what comes back of a small wave that the valve sends.

use super::junction::Site;
use super::line::LineState;
use nalgebra::Complex;

/// A number that depends on the complex frequency s, with its slope by s.
#[derive(Clone, Copy, Debug)]
pub struct Heard {
    /// Value.
    pub value: Complex<f64>,
    /// Derivative by s.
    pub slope: Complex<f64>,
}

impl Heard {
    /// A number that does not depend on s.
    pub fn constant(value: f64) -> Self {
        Heard { value: value.into(), slope: 0.0.into() }
    }

    fn times(self, other: Self) -> Self {
        Heard { value: self.value * other.value, slope: self.slope * other.value + self.value * other.slope }
    }

    fn plus(self, other: Self) -> Self {
        Heard { value: self.value + other.value, slope: self.slope + other.slope }
    }

    fn scaled(self, factor: f64) -> Self {
        Heard { value: self.value * factor, slope: self.slope * factor }
    }

    fn inverse(self) -> Self {
        let value = self.value.inv();
        Heard { value, slope: -self.slope * value * value }
    }
}

/// A wave line about a steady flow, in the segments and with the friction of [`super::waves::WaveLine`].
#[derive(Clone, Debug)]
pub struct Reflection {
    impedance: f64,
    /// Transit time of one segment, s.
    delay: f64,
    /// Inner junctions and, last, the far end.
    sites: Vec<Site>,
    /// Steady flow, kg/s.
    flow: f64,
}

impl Reflection {
    /// The line `state` in `segments` segments, about the steady flow `flow` (kg/s, either sign).
    pub fn new(state: &LineState, segments: usize, flow: f64) -> Self {
        let n = segments.max(1);
        Reflection {
            impedance: state.impedance(),
            delay: state.transit() / n as f64,
            sites: (1..=n).map(|node| Site::of(state, n, node)).collect(),
            flow,
        }
    }

    /// Wave impedance Z, Pa·s/kg.
    pub fn impedance(&self) -> f64 {
        self.impedance
    }

    /// Time for a wave to the far end and back, s.
    pub fn return_time(&self) -> f64 {
        2.0 * self.delay * self.sites.len() as f64
    }

    /// Ratio H(s) of the characteristic that arrives at the valve to the one that the valve sends, and its slope.
    ///
    /// ```text
    /// far end:   Γ = (R' − Z)/(R' + Z)           R'(s) = R_l + 2·R·|Q_0| + Σ R_i·s/(s + β_i)
    /// junction:  Γ = (1 − k) + k²·G/(1 − G·(1 − k))     k = 2·Z/(2·Z + R'),  G = Γ_beyond·e^(−2sτ)
    /// H = Γ_1·e^(−2sτ)                            τ: transit time of a segment
    /// ```
    ///
    /// This is the linearised [`super::waves::WaveLine`], exact in its delays and with the same lumping of friction, so that
    /// growth rates are those of the simulated line. Valid for Re s > −β of the slowest relaxation off the real axis.
    /// Source: own derivation from the junction's balance.
    pub fn at(&self, s: Complex<f64>) -> Heard {
        let delay = (s * (-2.0 * self.delay)).exp();
        let delay = Heard { value: delay, slope: delay * (-2.0 * self.delay) };
        let one = Heard::constant(1.0);
        let mut beyond: Option<Heard> = None;
        for site in self.sites.iter().rev() {
            let resistance = self.resistance(site, s);
            let gamma = match beyond {
                None => {
                    let sum = resistance.plus(Heard::constant(site.impedance)).inverse();
                    resistance.plus(Heard::constant(-site.impedance)).times(sum)
                }
                Some(beyond) => {
                    let k = resistance.plus(Heard::constant(site.impedance)).inverse().scaled(site.impedance);
                    let rest = one.plus(k.scaled(-1.0));
                    let loop_gain = one.plus(beyond.times(rest).scaled(-1.0)).inverse();
                    rest.plus(k.times(k).times(beyond).times(loop_gain))
                }
            };
            beyond = Some(gamma.times(delay));
        }
        beyond.unwrap_or(one)
    }

    /// Resistance of a site to a small change of flow, Pa·s/kg.
    fn resistance(&self, site: &Site, s: Complex<f64>) -> Heard {
        let mut sum = Heard::constant(site.resistance.slope(self.flow));
        for (resistance, rate) in site.shear.resistance.iter().zip(&site.shear.rate) {
            let inverse = (s + rate).inv();
            sum.value += s * inverse * *resistance;
            sum.slope += inverse * inverse * (resistance * rate);
        }
        sum
    }
}
