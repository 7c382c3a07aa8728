//! A wave line as the valve hears it at one complex frequency: what comes back of a small wave that the valve sends.

use super::heard::Heard;
use super::junction::Site;
use super::state::LineState;
use super::waves::delays;
use crate::portable::PortableComplex;
use nalgebra::Complex;

/// A wave line about a steady flow.
#[derive(Clone, Debug)]
pub struct Reflection {
    impedance: f64,
    transit: f64,
    /// Steady flow, kg/s.
    flow: f64,
    form: Form,
}

/// Where the friction of the wall is.
#[derive(Clone, Debug)]
enum Form {
    /// Spread evenly, as in the real line.
    Spread(Box<LineState>),
    /// In the middles of stretches, as [`super::waves::WaveLine`] has it.
    Lumped {
        /// Times between the places, from the valve on, s.
        delays: Vec<f64>,
        /// Middles of the stretches and, last, the far end.
        sites: Vec<Site>,
    },
}

impl Reflection {
    /// The real line, its friction spread evenly, about the steady flow `flow` (kg/s, either sign).
    pub fn spread(state: &LineState, flow: f64) -> Self {
        let form = Form::Spread(Box::new(state.clone()));
        Reflection { impedance: state.impedance(), transit: state.transit(), flow, form }
    }

    /// The line as [`super::waves::WaveLine`] simulates it, its friction in `segments` stretches.
    pub fn lumped(state: &LineState, segments: usize, flow: f64) -> Self {
        let delays = delays(state, segments);
        let n = delays.len() - 1;
        let sites = (0..n).map(|_| Site::stretch(state, n)).chain([Site::far_end(state, n)]).collect();
        Reflection {
            impedance: state.impedance(),
            transit: state.transit(),
            flow,
            form: Form::Lumped { delays, sites },
        }
    }

    /// Wave impedance Z, Pa·s/kg.
    pub fn impedance(&self) -> f64 {
        self.impedance
    }

    /// Time for a wave to the far end and back, s.
    pub fn return_time(&self) -> f64 {
        2.0 * self.transit
    }

    /// Ratio H(s) of the characteristic that arrives at the valve to the one that the valve sends, and its slope.
    ///
    /// Valid for small changes about the steady flow, off the negative real axis. Source: beside each form, below.
    pub fn at(&self, s: Complex<f64>) -> Heard {
        match &self.form {
            Form::Spread(state) => spread(state, self.flow, s),
            Form::Lumped { delays, sites } => lumped(delays, sites, self.flow, s),
        }
    }
}

/// H(s) of the real line.
///
/// ```text
/// H = (Z_in − Z)/(Z_in + Z)           Z_in = (R_e + Z·g·t)/(1 + R_e·sT·t/Z)
/// g = sT + T·(R' + K·F(σ))/I          t = tanh(Γ)/Γ,  Γ² = sT·g
/// ```
///
/// with transit time T, inertance I = L/A, R' and R_e the slopes of the wall's and of the end's loss at the steady flow, and
/// K·F(σ) the kernel of the changing flow ([`super::wall_layer`]) itself, not its sum of relaxing parts. As a ratio of pressure
/// waves H counts the flow towards the valve; without friction Γ = sT and H = −e^(−2sT).
/// Source: transmission line with distributed friction (E. B. Wylie, V. L. Streeter, "Fluid Transients in Systems",
/// Prentice Hall, 1993, from memory); this form, without a root in it, own derivation.
fn spread(state: &LineState, flow: f64, s: Complex<f64>) -> Heard {
    let (z, transit) = (state.impedance(), state.transit());
    let end = Heard::constant(state.end.slope(flow));
    let s_t = Heard { value: s * transit, slope: transit.into() };
    let friction = state.shear_kernel(s).plus(Heard::constant(state.wall.slope(flow)));
    let g = s_t.plus(friction.scaled(transit / state.inertance()));
    let t = tanh_over_root(s_t.times(g));
    let above = end.plus(g.times(t).scaled(z));
    let below = Heard::constant(1.0).plus(end.times(s_t).times(t).scaled(1.0 / z));
    let sum = above.plus(below.scaled(z)).inverse();
    above.plus(below.scaled(-z)).times(sum)
}

/// tanh(√w)/√w, which is even in √w and so has no branch.
fn tanh_over_root(w: Heard) -> Heard {
    /// Below this the series is good to rounding.
    const SMALL: f64 = 1e-4;
    let value = if w.value.length() < SMALL {
        // 1 − w/3 + 2w²/15 − 17w³/315
        let w = w.value;
        Complex::from(1.0) - w / 3.0 + w * w * (2.0 / 15.0) - w * w * w * (17.0 / 315.0)
    } else {
        let root = w.value.root();
        let back = (root * -2.0).exponential();
        (Complex::from(1.0) - back) / ((Complex::from(1.0) + back) * root)
    };
    // d/dw: (1 − w·t² − t)/(2w), which tends to −1/3.
    let by_w = if w.value.length() < SMALL {
        Complex::from(-1.0 / 3.0) + w.value * (4.0 / 15.0) - w.value * w.value * (17.0 / 105.0)
    } else {
        (Complex::from(1.0) - w.value * value * value - value) / (w.value * 2.0)
    };
    Heard { value, slope: by_w * w.slope }
}

/// H(s) of the simulated line.
///
/// ```text
/// far end:   Γ = (R' − Z)/(R' + Z)           R'(s) = R_l + 2·R·|Q_0| + Σ R_i·s/(s + β_i)
/// junction:  Γ = (1 − k) + k²·G/(1 − G·(1 − k))     k = 2·Z/(2·Z + R'),  G = Γ_beyond·e^(−2sτ)
/// H = Γ_1·e^(−2sτ)                            τ: time to the next junction
/// ```
///
/// This is the linearised [`super::waves::WaveLine`], exact in its delays and with the same lumping of friction, so that
/// growth rates are those of the simulated line. Valid for Re s > −β of the slowest relaxation off the real axis.
/// Source: own derivation from the junction's balance.
fn lumped(delays: &[f64], sites: &[Site], flow: f64, s: Complex<f64>) -> Heard {
    let one = Heard::constant(1.0);
    let mut beyond: Option<Heard> = None;
    for (site, delay) in sites.iter().zip(delays).rev() {
        let resistance = resistance(site, flow, s);
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
        let there_and_back = (s * (-2.0 * delay)).exponential();
        beyond = Some(gamma.times(Heard { value: there_and_back, slope: there_and_back * (-2.0 * delay) }));
    }
    beyond.unwrap_or(one)
}

/// Resistance of a site to a small change of flow, Pa·s/kg.
fn resistance(site: &Site, flow: f64, s: Complex<f64>) -> Heard {
    let mut sum = Heard::constant(site.resistance.slope(flow));
    for (resistance, rate) in site.shear.resistance.iter().zip(&site.shear.rate) {
        let inverse = (s + rate).inv();
        sum.value += s * inverse * *resistance;
        sum.slope += inverse * inverse * (resistance * rate);
    }
    sum
}
