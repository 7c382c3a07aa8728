//! Wall shear with memory: the friction of a changing flow, as a sum of relaxing parts.
//!
//! ```text
//! Δp = Σ R_i·(ṁ − z_i)      dz_i/dt = β_i·(ṁ − z_i)
//! ```
//!
//! Each part is passive: it stores (R_i/β_i)·z_i²/2 and loses R_i·(ṁ − z_i)², per density. At steady flow nothing is left
//! of it. Where R_i and β_i come from: [`super::wall_layer`].

use super::wall_layer::{PARTS, Regime, WallLayer};
use crate::portable::Portable;

/// The relaxing parts of a stretch of line.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Shear {
    /// R_i, Pa·s/kg.
    pub resistance: [f64; PARTS],
    /// β_i, 1/s.
    pub rate: [f64; PARTS],
}

/// The memory z_i of a flow, kg/s.
pub type Memory = [f64; PARTS];

impl Shear {
    /// No shear.
    pub const NONE: Shear = Shear { resistance: [0.0; PARTS], rate: [1.0; PARTS] };

    /// Shear of a line by the layer at its wall; without viscosity there is none. Source: see [`super::wall_layer`].
    pub fn new(layer: &WallLayer, regime: Regime) -> Self {
        if layer.kinematic_viscosity <= 0.0 || layer.transit <= 0.0 {
            return Shear::NONE;
        }
        let (weights, rates) = layer.parts(regime);
        let (factor, unit) = (layer.factor(), layer.diffusion_rate());
        Shear { resistance: weights.map(|m| factor * m), rate: rates.map(|n| unit * n) }
    }

    /// The share `fraction` of this shear.
    pub fn share(self, fraction: f64) -> Self {
        Shear { resistance: self.resistance.map(|r| r * fraction), rate: self.rate }
    }

    /// Its parts that relax faster than `rate` (1/s).
    pub fn faster_than(self, rate: f64) -> Self {
        let kept = std::array::from_fn(|i| if self.rate[i] > rate { self.resistance[i] } else { 0.0 });
        Shear { resistance: kept, rate: self.rate }
    }

    /// This shear less some of its own parts.
    pub fn less(self, part: &Shear) -> Self {
        Shear { resistance: std::array::from_fn(|i| self.resistance[i] - part.resistance[i]), rate: self.rate }
    }

    /// ΣR_i, Pa·s/kg.
    #[inline]
    pub fn total(&self) -> f64 {
        self.resistance.iter().sum()
    }

    /// Power lost, W, times density: ΣR_i·(ṁ − z_i)².
    #[inline]
    pub fn loss(&self, memory: &Memory, flow: f64) -> f64 {
        (0..PARTS).map(|i| self.resistance[i] * (flow - memory[i]).to_the(2)).sum()
    }

    /// Energy stored, J, times density: Σ(R_i/β_i)·z_i²/2.
    pub fn energy(&self, memory: &Memory) -> f64 {
        (0..PARTS).map(|i| 0.5 * self.resistance[i] / self.rate[i] * memory[i] * memory[i]).sum()
    }

    /// What the memory will be after a time `h` (s) in which the flow follows a cubic that starts with `flow` and `slope`
    /// (kg/s, kg/s²): a linear function of the flow and slope at the end, exact for the cubic.
    #[inline]
    pub fn carry(&self, memory: &Memory, flow: f64, slope: f64, h: f64) -> Carried {
        let m = slope * h;
        let [j_0, j_1, j_2, j_3] = weights(&self.rate.map(|rate| rate * h));
        let (by_2, by_3) = (3.0 * flow + 2.0 * m, 2.0 * flow + m);
        Carried {
            kept: std::array::from_fn(|i| {
                (1.0 - j_0[i]) * memory[i] + j_0[i] * flow + j_1[i] * m - j_2[i] * by_2 + j_3[i] * by_3
            }),
            by_flow: std::array::from_fn(|i| 3.0 * j_2[i] - 2.0 * j_3[i]),
            by_slope: std::array::from_fn(|i| (j_3[i] - j_2[i]) * h),
        }
    }

    /// Sums over the parts that the balance of a junction needs.
    #[inline]
    pub fn sums(&self, carried: &Carried) -> Sums {
        let mut sums = Sums::default();
        for i in 0..PARTS {
            let (r, beta) = (self.resistance[i], self.resistance[i] * self.rate[i]);
            sums.kept += r * carried.kept[i];
            sums.by_flow += r * carried.by_flow[i];
            sums.by_slope += r * carried.by_slope[i];
            sums.rate_kept -= beta * carried.kept[i];
            sums.rate_by_flow += beta * (1.0 - carried.by_flow[i]);
            sums.rate_by_slope -= beta * carried.by_slope[i];
        }
        sums
    }
}

/// A memory after a lapse of time: z = kept + by_flow·ṁ + by_slope·dṁ/dt with flow and slope at the end of the lapse.
#[derive(Clone, Copy, Debug)]
pub struct Carried {
    kept: Memory,
    by_flow: Memory,
    by_slope: Memory,
}

impl Carried {
    /// The memory, once flow and slope at the end are known.
    #[inline]
    pub fn memory(&self, flow: f64, slope: f64) -> Memory {
        std::array::from_fn(|i| self.kept[i] + self.by_flow[i] * flow + self.by_slope[i] * slope)
    }
}

/// ΣR·z (Pa) and ΣR·β·(ṁ − z) (Pa/s) as linear functions of flow and slope at the end of a lapse.
#[derive(Clone, Copy, Debug, Default)]
pub struct Sums {
    /// ΣR·z at no flow and slope.
    pub kept: f64,
    /// ∂/∂flow of ΣR·z.
    pub by_flow: f64,
    /// ∂/∂slope of ΣR·z.
    pub by_slope: f64,
    /// ΣR·β·(ṁ − z) at no flow and slope.
    pub rate_kept: f64,
    /// ∂/∂flow of it.
    pub rate_by_flow: f64,
    /// ∂/∂slope of it.
    pub rate_by_slope: f64,
}

/// Up to here the series of [`weights`] is good to 10⁻¹², and beyond it the closed form is (own estimates).
const LARGEST_IN_SERIES: f64 = 0.7;
/// 3!/(m + 4)! for m = 0..10.
const SERIES: [f64; 11] = {
    let mut series = [0.25; 11];
    let mut m = 1;
    while m < series.len() {
        series[m] = series[m - 1] / (m + 4) as f64;
        m += 1;
    }
    series
};

/// J_k(y) = ∫₀¹ y·e^(−y(1−u))·u^k du for k = 0..3 and each y.
#[inline]
fn weights(y: &[f64; PARTS]) -> [[f64; PARTS]; 4] {
    // For small y: J_3 = Σ_m (−1)^m·y^(m+1)·3!/(m+4)!, below 10⁻¹² after eleven terms; the others by
    // J_(k−1) = (1 − J_k)·y/k, which loses nothing. Reckoned for all parts at once, that costs less than to ask.
    let mut sum = [0.0; PARTS];
    for coefficient in SERIES.iter().rev() {
        for i in 0..PARTS {
            sum[i] = coefficient - y[i] * sum[i];
        }
    }
    let third: [f64; PARTS] = std::array::from_fn(|i| y[i] * sum[i]);
    let second: [f64; PARTS] = std::array::from_fn(|i| (1.0 - third[i]) * y[i] * (1.0 / 3.0));
    let first: [f64; PARTS] = std::array::from_fn(|i| (1.0 - second[i]) * y[i] * 0.5);
    let zeroth: [f64; PARTS] = std::array::from_fn(|i| (1.0 - first[i]) * y[i]);
    let mut j = [zeroth, first, second, third];
    for i in 0..PARTS {
        if y[i] > LARGEST_IN_SERIES {
            let per_y = 1.0 / y[i];
            j[0][i] = 1.0 - (-y[i]).exponential();
            j[1][i] = 1.0 - j[0][i] * per_y;
            j[2][i] = 1.0 - 2.0 * j[1][i] * per_y;
            j[3][i] = 1.0 - 3.0 * j[2][i] * per_y;
        }
    }
    j
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn memory_of_a_cubic_is_exact() {
        // z' = β(q − z) with q = t³ and z(0) = 0 at β = 3, t = 2: z = t³ − 3t²/β + 6t/β² − 6/β³·(1 − e^(−βt)).
        let shear = Shear { resistance: [1.0; PARTS], rate: [3.0; PARTS] };
        let z = shear.carry(&[0.0; PARTS], 0.0, 0.0, 2.0).memory(8.0, 12.0);
        let exact = 8.0 - 4.0 + 12.0 / 9.0 - 6.0 / 27.0 * (1.0 - (-6.0_f64).exponential());
        assert!((z[0] - exact).abs() < 1e-12);
        let near = Shear { resistance: [1.0; PARTS], rate: [0.3; PARTS] };
        let z = near.carry(&[0.0; PARTS], 0.0, 0.0, 2.0).memory(8.0, 12.0);
        let b = 0.3_f64;
        let exact = 8.0 - 12.0 / b + 12.0 / (b * b) - 6.0 / b.to_the(3) * (1.0 - (-2.0 * b).exponential());
        assert!((z[0] - exact).abs() < 1e-11);
    }
}
