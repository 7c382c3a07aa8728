//! Vapour pressure of water, alone and above a solution.
//!
//! Source: W. Wagner and A. Pruß, J. Phys. Chem. Ref. Data 31 (2002) 387-535, equation for the vapour pressure (constants
//! from memory; checked against the industrial formulation's printed value in `tests/input/solutions.rs`).

use crate::portable::Portable;

/// Critical temperature of water, K.
const CRITICAL_TEMPERATURE: f64 = 647.096;
/// Critical pressure of water, Pa absolute.
pub(super) const CRITICAL_PRESSURE: f64 = 22_064_000.0;
/// Molar mass of water, kg/mol.
const MOLAR_MASS: f64 = 0.018_015_27;

/// Vapour pressure of pure water, Pa absolute.
///
/// ```text
/// ln(p/p_c) = T_c/T·(a1·τ + a2·τ^1.5 + a3·τ^3 + a4·τ^3.5 + a5·τ^4 + a6·τ^7.5),  τ = 1 − T/T_c
/// ```
///
/// Valid from the triple point to the critical point; below 0 °C it follows the supercooled liquid, 1 % at −20 °C, and there
/// the pressure is too small to matter.
pub(super) fn pure(temperature: f64) -> f64 {
    let tau = 1.0 - temperature / CRITICAL_TEMPERATURE;
    let sum = -7.859_517_83 * tau + 1.844_082_59 * tau.power(1.5) - 11.786_649_7 * tau.to_the(3)
        + 22.680_741_1 * tau.power(3.5)
        - 15.961_871_9 * tau.to_the(4)
        + 1.801_225_02 * tau.power(7.5);
    CRITICAL_PRESSURE * (CRITICAL_TEMPERATURE / temperature * sum).exponential()
}

/// Vapour pressure above a solution, Pa absolute: Raoult's law for the water, nothing for what is dissolved in it.
///
/// ```text
/// p_v = x_w·p_w(T),  x_w = ((1 − w)/M_w)/((1 − w)/M_w + w/M)
/// ```
///
/// Source: Raoult's law, any textbook of physical chemistry. At 100 °C ethylene glycol alone has some 2 kPa, propylene
/// glycol some 3 kPa; by leaving that out the sum is low by less than 1 kPa at 60 % by mass.
pub(super) fn above_solution(mass_fraction: f64, molar_mass: f64, temperature: f64) -> f64 {
    let (water, dissolved) = ((1.0 - mass_fraction) / MOLAR_MASS, mass_fraction / molar_mass);
    water / (water + dissolved) * pure(temperature)
}
