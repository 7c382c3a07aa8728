//! Flow through restrictions: one bore, or a curtain followed by a bore.

use crate::dual::Real;
use crate::portable::Portable;

pub use super::expansion::{critical_pressure_ratio, nozzle_expansibility};

/// Flow through curtain and bore in series, and the pressure regained between them.
#[derive(Clone, Copy, Debug)]
pub struct Throughflow<T> {
    /// Mass flow, kg/s, positive from inlet to outlet.
    pub mass_flow: T,
    /// Recovery φ = (p_s − p_2)/(p_1 − p_2): the pressure between curtain and bore.
    pub recovery: T,
}

/// Area-like coefficients C·A of the curtain (m², of the moving part) and of the bore behind it (m²).
#[derive(Clone, Copy, Debug)]
pub struct Series<T> {
    /// Curtain: discharge coefficient × circumference × opening.
    pub curtain: T,
    /// Bore: discharge coefficient × area.
    pub bore: f64,
}

/// Signed square root of a differential, smooth at zero: Δp/(Δp² + δ²)^(1/4).
///
/// δ is the differential below which the flow is laminar-like (linear), Pa. Far above, √|Δp|·sgn Δp; the relative
/// deviation is (δ/Δp)²/4. Source: own choice of blend.
#[inline(always)]
pub fn smooth_root<T: Real>(differential: T, blend: f64) -> T {
    let d = differential.value();
    let w = d * d + blend * blend;
    let fourth = w.sqrt().sqrt();
    differential.chain(d / fourth, (0.5 * d * d + blend * blend) / (w * fourth))
}

/// Combined C·A of two restrictions in series, m²: C_c·C_b/√(C_c² + C_b²).
///
/// Source: losses add; own algebra (incompressible).
#[inline(always)]
pub fn series<T: Real>(restrictions: Series<T>) -> T {
    let sum = (restrictions.curtain.square() + restrictions.bore * restrictions.bore).sqrt();
    restrictions.curtain * sum.recip() * restrictions.bore
}

/// Liquid choking: the differential beyond which flow no longer grows is F_L²·(p_up − F_F·p_v).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LiquidChoking {
    /// F_L, pressure recovery factor.
    pub recovery_factor: f64,
    /// F_F·p_v, Pa absolute.
    pub critical_vapour_pressure: f64,
}

/// Liquid critical pressure ratio factor F_F = 0.96 − 0.28·√(p_v/p_crit).
///
/// Source: IEC 60534-2-1:2011, equation for F_F (seen through a general-purpose library's test values, see
/// `validation`).
pub fn critical_ratio_factor(vapour_pressure: f64, critical_pressure: f64) -> f64 {
    0.96 - 0.28 * (vapour_pressure / critical_pressure).sqrt()
}

/// Liquid through curtain and bore.
///
/// ```text
/// ṁ = C·√(2ρ)·√Δp_eff     C = series of both     Δp_eff = min(Δp, F_L²·(p_up − F_F·p_v))
/// φ = C_c²/(C_c² + C_b²)
/// ```
///
/// Valid for turbulent flow above the blend. Source: IEC 60534-2-1:2011 for choking; recovery: own derivation (two
/// sudden losses in series).
#[inline(always)]
pub fn liquid<T: Real>(
    restrictions: Series<T>,
    density: f64,
    p_1: T,
    p_2: T,
    choking: LiquidChoking,
    blend: f64,
) -> Throughflow<T> {
    let differential = p_1 - p_2;
    let squared = restrictions.curtain.square();
    let recovery = squared * (squared + restrictions.bore * restrictions.bore).recip();
    let limit = |upstream: T| (upstream - choking.critical_vapour_pressure) * choking.recovery_factor.to_the(2);
    let effective =
        if differential.value() >= 0.0 { differential.least(limit(p_1)) } else { -((-differential).least(limit(p_2))) };
    let mass_flow = series(restrictions) * smooth_root(effective, blend) * (2.0 * density).sqrt();
    Throughflow { mass_flow, recovery }
}

/// Gas through curtain and bore, each with its own choking at the critical pressure ratio b.
///
/// ```text
/// each:  ṁ² = (C·A)²·2ρ_up·Δp·(1 − Δp/(2·(1 − b)·p_up))   below choking; constant beyond Δp = (1 − b)·p_up
/// ```
///
/// (the ellipse of ISO 6358-1:2013, rewritten with the incompressible C·A as its slope at small Δp). The pressure between
/// the two follows in closed form from equal flows, at constant stagnation temperature. With ideal nozzles (b = 0.528)
/// the choked flow is 0.3 % above the isentropic one.
/// `density` is that of the upstream gas at p_up, kg/m³. Source: ISO 6358-1 (ellipse, from memory); series: own derivation.
#[inline(always)]
pub fn gas<T: Real>(restrictions: Series<T>, density: T, p_1: T, p_2: T, b: f64, blend: f64) -> Throughflow<T> {
    let bore = T::constant(restrictions.bore);
    if p_1.value() >= p_2.value() {
        gas_one_way(restrictions.curtain, bore, density, p_1, p_2, b, blend)
    } else {
        let back = gas_one_way(bore, restrictions.curtain, density, p_2, p_1, b, blend);
        Throughflow { mass_flow: -back.mass_flow, recovery: -back.recovery + 1.0 }
    }
}

#[inline]
fn gas_one_way<T: Real>(first: T, second: T, density: T, p_1: T, p_2: T, b: f64, blend: f64) -> Throughflow<T> {
    let drop = p_1 - p_2;
    let k = 1.0 / (1.0 - b);
    let (f2, s2) = (first.square(), second.square());
    let total = f2 + s2;
    if total.value() <= 0.0 {
        return Throughflow { mass_flow: T::constant(0.0), recovery: T::constant(0.0) };
    }
    let share = first_drop_share(f2, s2, p_1, p_2, drop, b);
    let taken = share * drop;
    let allowed = p_1 * (1.0 - b);
    let factor = if taken.value() > allowed.value() {
        allowed * 0.5 * (drop + blend).recip()
    } else {
        share * (-(taken * p_1.recip() * (0.5 * k)) + 1.0)
    };
    let mass_flow = first * (factor * density * 2.0).sqrt() * smooth_root(drop, blend);
    Throughflow { mass_flow, recovery: -share + 1.0 }
}

/// Share of the whole drop that falls across the first restriction.
#[inline]
fn first_drop_share<T: Real>(f2: T, s2: T, p_1: T, p_2: T, drop: T, b: f64) -> T {
    let k = 1.0 / (1.0 - b);
    let root = |a2: T, a1: T, a0: T| {
        let inner = (a1.square() - a2 * a0 * 4.0).positive_part().sqrt();
        -(a0 * 2.0) * (a1 + inner).recip()
    };
    if drop.value() > (1.0 - b) * p_1.value() {
        // Second restriction choked: f²·(p_1·d − k·d²/2) = s²·(p_1 − d)²·(1 − b)/2.
        let half = s2 * (0.5 * (1.0 - b));
        let d = root(-(f2 * (0.5 * k)) - half, (f2 + half * 2.0) * p_1, -(half * p_1.square()));
        let choked_first = d.value() > (1.0 - b) * p_1.value();
        let between = if choked_first { p_1 * f2.sqrt() * s2.sqrt().recip() } else { p_1 - d };
        if p_2.value() < b * between.value() {
            let taken = if choked_first { p_1 - between } else { d };
            return taken * drop.recip();
        }
    }
    // Neither choked: f²·(p_1·d − k·d²/2) = s²·((p_1 − d)(D − d) − k·(D − d)²/2), divided through by D.
    let a2 = -(f2 * (0.5 * k)) - s2 * (1.0 - 0.5 * k);
    let a1 = f2 * p_1 + s2 * (p_1 + drop * (1.0 - k));
    let share = root(a2 * drop, a1, -(s2 * (p_1 - drop * (0.5 * k))));
    if share.value() * drop.value() <= (1.0 - b) * p_1.value() {
        return share;
    }
    // First choked only: s²·(p_2·e + e²·(1 − k/2)) = f²·p_1²·(1 − b)/2.
    let m = f2 * s2.recip() * p_1.square() * (0.5 * (1.0 - b));
    let e = root(T::constant(1.0 - 0.5 * k), p_2, -m);
    -(e * drop.recip()) + 1.0
}
