//! What the layer at the wall of a line remembers: kernels of unsteady wall friction, and their sum of relaxing parts.
//!
//! On top of the friction of steady flow, a changing flow has the drop
//!
//! ```text
//! Δp = K·F(σ)·ṁ      K = (4·ν/r²)·(L/A)·(1 + (γ − 1)/√Pr)      σ = s·r²/ν      (s: Laplace variable)
//! F ≈ Σ m_i·σ/(σ + n_i)        R_i = K·m_i        β_i = n_i·ν/r²
//! laminar:    F = (z/2)·I_3(z)/I_2(z),  z = √σ        (= Σ σ/(σ + j²) over the zeros j of J_2, the first j² = 26.37)
//! turbulent:  F = σ/(2·√(σ + B)),  B = Re^κ/12.86,  κ = log10(15.29/Re^0.0567)
//! ```
//!
//! ν kinematic viscosity, r radius of the bore, L length, A area, I modified Bessel functions, Pr Prandtl number; the last
//! bracket of K for gases only: heat given to the wall.
//!
//! The laminar kernel is exact: it is what N = 1/(1 − 2·I_1(z)/(z·I_0(z))) leaves beyond inertia and Poiseuille's law (own
//! algebra). The turbulent one freezes the viscosity across the bore at the Reynolds number of a steady flow in a smooth
//! pipe: valid for departures from that flow, such as the closing of a valve. Ringing after closure becomes laminar: there
//! B is too large, and the kernel damps the slowest modes (ω below some B·ν/r²) too weakly; far above B both kernels tend to
//! one another, the turbulent one higher by 1.25 of some √(ω·r²/(8·ν)).
//!
//! Sources: W. Zielke, "Frequency-dependent friction in transient pipe flow", J. Basic Eng. 90 (1968) 109-115; A. E. Vardy,
//! J. M. B. Brown, "Transient turbulent friction in smooth pipe flows", J. Sound Vib. 259 (2003) 1011-1036 (both from memory;
//! the laminar one checked in `validation`); heat: G. Kirchhoff (1868), wide-tube limit (from memory). Sum: own fit.

use crate::portable::{Portable, PortableComplex};
use nalgebra::Complex;

/// Number of relaxing parts that stand for a kernel.
pub const PARTS: usize = 5;
/// Prandtl number of gases: 0.7 to 0.8 for most (handbooks, from memory).
const GAS_PRANDTL: f64 = 0.71;
/// Flow in a line turns turbulent above this Reynolds number (textbooks: 2000 to 2300 in undisturbed lines).
const LAMINAR_LIMIT: f64 = 2300.0;
/// Upper end of the fitted band, rad/s: beyond 10 kHz nothing here is resolved or heard.
const HIGHEST: f64 = 6e4;
/// Lower end of the fitted band times the transit time: a quarter of the quarter wave's π/2.
const LOWEST_BY_TRANSIT: f64 = 0.4;
/// Widest ratio of the band's ends: up to 19 quarter waves. Faster parts lumped at a joint would stand for no real friction:
/// they throw a front back as a spike, where the real wall smears it over the segment. Above the band damping no longer grows.
const WIDEST: f64 = 75.0;

/// How the flow beside the layer moves.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Regime {
    /// In layers.
    Laminar,
    /// Turbulent in a smooth pipe, frozen at a Reynolds number.
    Turbulent {
        /// Reynolds number of the steady flow.
        reynolds: f64,
    },
}

/// The layer at the wall of a line.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WallLayer {
    /// Kinematic viscosity ν, m²/s.
    pub kinematic_viscosity: f64,
    /// Radius of the bore r, m.
    pub radius: f64,
    /// Length of the line L, m.
    pub length: f64,
    /// Transit time L/a, s.
    pub transit: f64,
    /// Ratio of heat capacities γ = c_p/c_v of a gas, real or perfect.
    pub heat_ratio: Option<f64>,
}

impl WallLayer {
    /// Regime of a steady volume flow (m³/s): Re = 2·Q/(π·r·ν).
    pub fn regime(&self, volume_flow: f64) -> Regime {
        let reynolds = 2.0 * volume_flow.abs() / (std::f64::consts::PI * self.radius * self.kinematic_viscosity);
        if reynolds > LAMINAR_LIMIT { Regime::Turbulent { reynolds } } else { Regime::Laminar }
    }

    /// Diffusion of momentum over the radius ν/r², 1/s: what one unit of dimensionless rate is.
    pub fn diffusion_rate(&self) -> f64 {
        self.kinematic_viscosity / (self.radius * self.radius)
    }

    /// K, Pa·s/kg.
    pub fn factor(&self) -> f64 {
        let heat = self.heat_ratio.map_or(1.0, |gamma| 1.0 + (gamma - 1.0) / GAS_PRANDTL.sqrt());
        let area = std::f64::consts::PI * self.radius * self.radius;
        4.0 * self.diffusion_rate() * self.length / area * heat
    }

    /// Ends of the band in which the parts follow the kernel, rad/s.
    pub fn band(&self) -> (f64, f64) {
        let lowest = (LOWEST_BY_TRANSIT / self.transit).min(0.1 * HIGHEST);
        (lowest, (WIDEST * lowest).min(HIGHEST))
    }

    /// Weights m_i and rates n_i of the relaxing parts.
    pub fn parts(&self, regime: Regime) -> ([f64; PARTS], [f64; PARTS]) {
        let (lowest, highest) = self.band();
        let unit = self.diffusion_rate();
        let rates = rates(regime.slowest(), lowest / unit, highest / unit);
        (weights(regime, &rates, lowest / unit, highest / unit), rates)
    }
}

impl Regime {
    /// The slowest relaxation of the kernel: first squared zero of J_2, or B.
    fn slowest(self) -> f64 {
        match self {
            Regime::Laminar => 26.374_616_427_163_39,
            Regime::Turbulent { reynolds } => {
                let exponent = (15.29 / reynolds.power(0.0567)).decimal_logarithm();
                reynolds.power(exponent) / 12.86
            }
        }
    }

    /// F(σ).
    pub fn kernel(self, sigma: Complex<f64>) -> Complex<f64> {
        match self {
            Regime::Laminar => laminar(sigma),
            Regime::Turbulent { .. } => 0.5 * sigma / (sigma + self.slowest()).root(),
        }
    }

    /// F(σ) with dF/dσ.
    ///
    /// ```text
    /// laminar: dF/dσ = ¼ − F·(2 + F)/σ        turbulent: dF/dσ = F·(1/σ − ½/(σ + B))
    /// ```
    ///
    /// The laminar slope tends to 1/12 at σ = 0. Source: d(I_3/I_2)/dz = 1 − 5·(I_3/I_2)/z − (I_3/I_2)², from the recurrences of
    /// Bessel functions (textbooks); own algebra.
    pub fn kernel_with_slope(self, sigma: Complex<f64>) -> (Complex<f64>, Complex<f64>) {
        let value = self.kernel(sigma);
        let slope = match self {
            // Below, what is lost by cancellation is more than what the slope differs from its limit.
            Regime::Laminar if sigma.length() < 1e-6 => Complex::from(1.0 / 12.0),
            Regime::Laminar => Complex::from(0.25) - value * (value + 2.0) / sigma,
            Regime::Turbulent { .. } => {
                let from_slowest = (sigma + self.slowest()).inv();
                0.5 * from_slowest.root() * (Complex::from(1.0) - 0.5 * sigma * from_slowest)
            }
        };
        (value, slope)
    }
}

/// Up to this |z| the continued fraction of [`laminar`] is summed, beyond it the series in 1/z is good to 10⁻⁸ (measured).
const LARGEST_IN_FRACTION: f64 = 30.0;
/// Series of the laminar kernel less z/2 in falling powers of z. Source: W. Zielke (1968), short-time series (from memory;
/// the last by own expansion; checked in `validation`).
const LARGE: [f64; 6] = [-1.25, 0.9375, 0.9375, 0.527_343_75, -0.703_125, -7425.0 / 2048.0];

/// (z/2)·I_3(z)/I_2(z) = ½·σ/(6 + σ/(8 + σ/(10 + …))). Source: recurrence of Bessel functions (textbooks).
fn laminar(sigma: Complex<f64>) -> Complex<f64> {
    let z = sigma.root();
    if z.length() > LARGEST_IN_FRACTION {
        let inverse = z.inv();
        return 0.5 * z + LARGE.iter().rev().fold(Complex::from(0.0), |sum, c| sum * inverse + c);
    }
    let terms = 20 + 2 * z.length() as usize;
    let below =
        (0..terms).rev().fold(Complex::from(2.0 * terms as f64 + 6.0), |below, k| sigma / below + 2.0 * k as f64 + 6.0);
    0.5 * sigma / below
}

/// Rates of the parts over a band: `slowest` plus a sequence whose spacing grows towards both ends, as that of the best sum
/// for a root does. Source: own fit of the spacing over bands of 400 to 40 000.
fn rates(slowest: f64, lowest: f64, highest: f64) -> [f64; PARTS] {
    let from = lowest.max(slowest);
    let width = (highest / from).logarithm().max(0.0);
    let (near, far) = (0.62 + 0.19 * width, 2.16 + 0.315 * width);
    let middle = from * (0.5 * width).exponential();
    [-far, -near, 0.0, near, far].map(|step: f64| slowest + middle * step.exponential())
}

/// Frequencies at which the kernel is met.
const SAMPLES: usize = 32;
/// Rounds of the weights' equations: they settle to 10⁻⁴ within (measured).
const ROUNDS: usize = 400;

/// Weights for given rates: least squares of the relative misfit over the band, none below zero, so that each is passive.
fn weights(regime: Regime, rates: &[f64; PARTS], lowest: f64, highest: f64) -> [f64; PARTS] {
    let mut matrix = [[0.0; PARTS]; PARTS];
    let mut right = [0.0; PARTS];
    for k in 0..SAMPLES {
        let share = k as f64 / (SAMPLES - 1) as f64;
        let sigma = Complex::new(0.0, lowest * (highest / lowest).power(share));
        let scale = regime.kernel(sigma).inv();
        let columns = rates.map(|n| sigma / (sigma + n) * scale);
        for (i, a) in columns.iter().enumerate() {
            right[i] += a.re;
            for (j, b) in columns.iter().enumerate() {
                matrix[i][j] += (a * b.conj()).re;
            }
        }
    }
    // Each weight in turn meets its own equation, or stops at zero: tends to the constrained least squares.
    let mut weights = [0.0; PARTS];
    for _ in 0..ROUNDS {
        for i in 0..PARTS {
            let others: f64 = (0..PARTS).filter(|&j| j != i).map(|j| matrix[i][j] * weights[j]).sum();
            weights[i] = f64::max(0.0, (right[i] - others) / matrix[i][i]);
        }
    }
    weights
}
