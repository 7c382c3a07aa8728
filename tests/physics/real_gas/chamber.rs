//! The control chamber filled with a real gas: stiffnesses, thermal time, emptying, isentropes.

use super::vapour::{ISENTROPES, R134A, R290};
use quietseat::physics::fluid::Gas;
use quietseat::physics::valve::chamber::{ChamberRates, ChamberState, Filling};
use quietseat::physics::valve::confined_gas::ConfinedGas;
use quietseat::validation::emptying::Emptying;

const PRESSURE: f64 = 8e5;
const VOLUME: f64 = 5e-6;

/// A gas like R134a at 40 °C, with any exponent of sound; heat capacities that keep γ above it.
fn gas(kappa: f64) -> Gas {
    let gamma = 1.22 * kappa.max(1.0);
    Gas { isentropic_exponent: kappa, heat_capacity_ratio: gamma, ..R134A.gas() }
}

/// The law of [`ConfinedGas`] once more, by temperature and density.
struct Law {
    constant: f64,
    crowding: f64,
    attraction: f64,
    isochoric: f64,
}

impl Law {
    fn new(gas: &Gas) -> Law {
        let (kappa, gamma) = (gas.isentropic_exponent, gas.heat_capacity_ratio);
        let density = PRESSURE / (gas.gas_constant * gas.temperature);
        let isochoric = gas.isobaric_heat_capacity / gamma;
        // Thermal pressure from c_p − c_v = T·(∂p/∂T)²/(ρ²·∂p/∂ρ).
        let stiffness = kappa / gamma * PRESSURE / density;
        let thermal =
            ((gas.isobaric_heat_capacity - isochoric) * density * density * stiffness / gas.temperature).sqrt();
        let crowded = thermal / density - (2.0 - kappa / gamma) * gas.gas_constant;
        Law {
            constant: (2.0 - kappa / gamma) * gas.gas_constant,
            crowding: crowded / density,
            attraction: (thermal * gas.temperature - PRESSURE) / (density * density),
            isochoric,
        }
    }

    fn pressure(&self, density: f64, temperature: f64) -> f64 {
        density * (self.constant + self.crowding * density) * temperature - self.attraction * density * density
    }

    /// dρ/dt and dT/dt of a vessel that empties, with heat from its wall.
    fn rates(&self, [density, temperature]: [f64; 2], area: f64, flow_factor: f64, wall: [f64; 2]) -> [f64; 2] {
        let outflow = area * flow_factor * (self.pressure(density, temperature) * density).sqrt();
        let thinning = -outflow / VOLUME;
        // Along an isentrope dT/dρ = T·(∂p/∂T)/(ρ²·c_v).
        let cooling = temperature * (self.constant + self.crowding * density) / (density * self.isochoric);
        let heating = wall[0] * (wall[1] - temperature) / (density * VOLUME * self.isochoric);
        [thinning, cooling * thinning + heating]
    }
}

/// Pressure after a time by the classical Runge-Kutta method in density and temperature.
fn independently(gas: &Gas, wall_conductance: f64, area: f64, time: f64) -> f64 {
    let law = Law::new(gas);
    let mut y = [PRESSURE / (gas.gas_constant * gas.temperature), gas.temperature];
    let steps = 4000;
    let h = time / f64::from(steps);
    let rates = |y| law.rates(y, area, gas.critical_flow_factor, [wall_conductance, gas.temperature]);
    let ahead = |y: [f64; 2], k: [f64; 2], h: f64| [y[0] + h * k[0], y[1] + h * k[1]];
    for _ in 0..steps {
        let k_1 = rates(y);
        let k_2 = rates(ahead(y, k_1, 0.5 * h));
        let k_3 = rates(ahead(y, k_2, 0.5 * h));
        let k_4 = rates(ahead(y, k_3, h));
        for i in 0..2 {
            y[i] += h / 6.0 * (k_1[i] + 2.0 * (k_2[i] + k_3[i]) + k_4[i]);
        }
    }
    law.pressure(y[0], y[1])
}

/// Emptying from 8 bar to some 2.5 bar, choked, with and without heat from the wall: mass and energy in the code, density and
/// temperature here. Both to 1e-8, what the solver leaves at 1e-10.
#[test]
fn emptying_agrees_with_an_independent_integration() {
    for kappa in [0.98, 1.0, 1.0067, 1.3] {
        for wall_conductance in [0.0, 0.05, 5.0] {
            let (gas, area, time) = (gas(kappa), 2e-7, 0.3);
            let confined = ConfinedGas::new(&gas, PRESSURE, wall_conductance);
            let y = confined.fill(PRESSURE, VOLUME);
            let mut chamber = Emptying { filling: Filling::Gas(confined), volume: VOLUME, area, outlet: 1e3 };
            let ours = chamber.pressure_after(y, time).expect("an emptying chamber can be integrated");
            let theirs = independently(&gas, wall_conductance, area, time);
            println!("kappa {kappa}, {wall_conductance} W/K: {ours:.3} Pa, independently {theirs:.3} Pa");
            assert!(ours < 0.5 * PRESSURE && (ours / theirs - 1.0).abs() < 1e-8);
        }
    }
}

/// Pressure, density and energy rate of a filled vessel, and its state.
fn filled(confined: &ConfinedGas) -> (Filling, [f64; 2]) {
    (Filling::Gas(confined.clone()), confined.fill(PRESSURE, VOLUME))
}

/// Fast compression has the stiffness κ·p, slow compression κ·p/γ, so that the wall's heat damps for every κ; a disturbed
/// temperature relaxes in M·c_v/(h·A); a stream at the wall's temperature passes without effect on it.
#[test]
fn small_changes_are_those_of_the_real_gas() {
    let cases = [0.6, 0.98, 1.0, 1.0067, 1.3].map(gas);
    for gas in cases.into_iter().chain([R134A.gas(), Gas::perfect(287.05, 1.4, 293.15, 0.0)]) {
        let (kappa, gamma) = (gas.isentropic_exponent, gas.heat_capacity_ratio);
        let confined = ConfinedGas::new(&gas, PRESSURE, 0.0);
        let (filling, y) = filled(&confined);
        let after = |growth: f64| {
            // Second order in the work done: the pressure falls by half of its change on the way.
            let energy = y[1] - PRESSURE * growth * (1.0 - 0.5 * kappa * growth / VOLUME);
            filling.state(y[0], energy, VOLUME + growth).pressure
        };
        let step = 1e-4 * VOLUME;
        let fast = -VOLUME * (after(step) - after(-step)) / (2.0 * step) / PRESSURE;
        let dense = |p: f64| confined.density(p).ln();
        let slow = 2e-4 / (dense(PRESSURE * 1.0001) - dense(PRESSURE * 0.9999));
        println!("kappa {kappa}: fast {fast:.8}, slow {slow:.8}");
        assert!((fast / kappa - 1.0).abs() < 1e-6 && (slow * gamma / kappa - 1.0).abs() < 1e-6);
        assert!(slow < fast);

        let warm = ConfinedGas::new(&gas, PRESSURE, 1.0);
        let (filling, y) = filled(&warm);
        let c_v = gas.isobaric_heat_capacity / gamma;
        let heated = |energy: f64| -> ChamberState<f64> { filling.state(y[0], energy, VOLUME) };
        let still = ChamberRates { inflow: 0.0, leak: 0.0, outflow: 0.0, growth: 0.0 };
        let excess = y[0] * c_v;
        let rate = filling.balance(still, heated(y[1] + excess)).energy_rate;
        assert!((rate + 1.0).abs() < 1e-9, "1 K above the wall loses {rate} W at 1 W/K");
        let through = ChamberRates { inflow: 1e-4, leak: 0.0, outflow: 1e-4, growth: 0.0 };
        assert!(filling.balance(through, heated(y[1])).energy_rate.abs() < 1e-9);
    }
}

/// Vessels of R134a and R290 emptied without heat follow the isentropes of the reference equations of state: pressure at equal
/// density within 0.9 % down to half of it and 2.6 % down to a quarter. A constant exponent of sound would be 2.4 and 8.3 % off.
#[test]
fn isentropes_are_those_of_the_reference_equations() {
    for (state, column) in [(R134A, 0), (R290, 1)] {
        let (gas, pressure) = (state.gas(), state.at[1]);
        let confined = ConfinedGas::new(&gas, pressure, 0.0);
        let y = confined.fill(pressure, VOLUME);
        for (share, densities) in ISENTROPES {
            let density = densities[column] * y[0] / VOLUME;
            let off = isentrope(&confined, y, density) / (share * pressure) - 1.0;
            println!("{} at {share} of the pressure: {:+.3} %", state.name, 100.0 * off);
            assert!(off.abs() < if share >= 0.5 { 0.009 } else { 0.026 });
        }
    }
}

/// Pressure at a density on the isentrope through a filled vessel: what leaves takes its enthalpy along, du = h·dρ; by the
/// midpoint rule.
fn isentrope(confined: &ConfinedGas, y: [f64; 2], density: f64) -> f64 {
    let (mut u, mut d) = (y[1] / VOLUME, y[0] / VOLUME);
    let steps = 2000;
    let step = (density - d) / f64::from(steps);
    let enthalpy = |u: f64, d: f64| confined.heat(confined.pressure(d, u), d).own;
    for _ in 0..steps {
        let half = u + 0.5 * step * enthalpy(u, d);
        u += step * enthalpy(half, d + 0.5 * step);
        d += step;
    }
    confined.pressure(d, u)
}
