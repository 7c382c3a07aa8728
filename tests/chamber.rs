//! Emptying of the control chamber in its limits; sources in `validation/SOURCES.md`.

mod reference;

use quietseat::dual::Real;
use quietseat::physics::cell::Cell;
use quietseat::physics::chamber::{ChamberRates, Filling};
use quietseat::physics::restriction::{LiquidChoking, Series, liquid, nozzle_expansibility};
use quietseat::solver::{Counters, Interval, Method, Settings, State, Step, StepSize, System, Then, integrate};
use reference::{Table, Worst, relative};

/// A chamber of constant volume that empties through a C·A to a constant outlet.
struct Emptying {
    filling: Filling,
    volume: f64,
    area: f64,
    outlet: f64,
}

impl System<2, 0, 1> for Emptying {
    fn forcing(&self, _: f64) -> ([f64; 0], [f64; 0]) {
        ([], [])
    }
    fn rates<T: Real>(&self, _: &[T; 0], y: &[T; 2], rate: &mut [T; 2], heat: &mut [T; 1]) {
        let zero = T::constant(0.0);
        let now = self.filling.state(y[0], y[1], T::constant(self.volume));
        let outlet = T::constant(self.outlet);
        let outflow = match &self.filling {
            Filling::Gas { exponent, .. } => {
                let expansibility = nozzle_expansibility(outlet * now.pressure.recip(), *exponent);
                (now.density * (now.pressure - outlet) * expansibility * 2.0).sqrt() * self.area
            }
            Filling::Liquid { density, .. } => {
                let choking = LiquidChoking { recovery_factor: 10.0, critical_vapour_pressure: 0.0 };
                let restrictions = Series { curtain: T::constant(1.0), bore: self.area };
                liquid(restrictions, *density, now.pressure, outlet, choking, 1e-3).mass_flow
            }
        };
        let balance = self.filling.balance(ChamberRates { inflow: zero, outflow, growth: zero }, now);
        *rate = [balance.content_rate, balance.energy_rate];
        heat[0] = balance.heat;
    }
    fn longest_step(&self, _: f64) -> f64 {
        f64::INFINITY
    }
    fn accepted(&mut self, _: &Step<'_, 2, 1>) -> Then {
        Then::Continue
    }
}

impl Emptying {
    fn pressure(&self, y: &[f64; 2]) -> f64 {
        self.filling.state(y[0], y[1], self.volume).pressure
    }

    /// Pressure after a time, from that state.
    fn pressure_after(&mut self, y: [f64; 2], time: f64) -> f64 {
        let settings = Settings {
            method: Method::Rodas5P,
            relative_tolerance: 1e-10,
            absolute_tolerance: [1e-10 * y[0].abs(), 1e-10 * y[1].abs().max(1e-6)],
            most_steps: 100_000,
        };
        let mut state = State::at_start(y);
        let first = StepSize::Controlled { first: None };
        let interval = Interval { from: 0.0, to: time };
        integrate::<4, 2, 0, 1, _>(self, interval, &mut state, first, &settings, &mut Counters::default())
            .expect("an emptying chamber can be integrated");
        self.pressure(&state.y)
    }
}

/// Gas through a choked nozzle, the wall's conductance nothing (adiabatic) or as good as infinite (isothermal). Closed form;
/// compared at the exact time by the pressure reached, 1e-6. The heat that keeps a chamber isothermal is some 150 W; with
/// 10⁹ W/K the gas is 10⁻⁷ K colder than the wall.
#[test]
fn gas_chamber_empties_adiabatically_and_isothermally() {
    let mut worst = Worst::default();
    let (mut adiabatic, mut isothermal) = (0, 0);
    for row in Table::read("chamber/blowdown.csv").rows() {
        let wall_conductance = match row.text("limit") {
            "adiabatic" => 0.0,
            "isothermal" => 1e9,
            other => panic!("unknown limit {other}"),
        };
        if wall_conductance > 0.0 {
            isothermal += 1
        } else {
            adiabatic += 1
        }
        let (exponent, volume) = (row.number("exponent"), row.number("volume_m3"));
        let (gas_constant, temperature) = (row.number("gas_constant"), row.number("temperature_k"));
        let start = row.number("start_pa");
        // 1 kPa behind the nozzle: choked to the end, as the closed form has it.
        let mut chamber = Emptying {
            filling: Filling::Gas { gas_constant, exponent, temperature, wall_conductance },
            volume,
            area: row.number("flow_area_m2"),
            outlet: 1e3,
        };
        let y = [start * volume / (gas_constant * temperature), start * volume / (exponent - 1.0)];
        let reached = chamber.pressure_after(y, row.number("time_s"));
        worst.note(relative(reached, row.number("target_pa")), || format!("{} to {reached} Pa", row.text("limit")));
    }
    assert!(adiabatic >= 5 && isothermal >= 5);
    worst.refuse_above(1e-6, "pressure of the emptying gas");
}

/// A finite conductance lies between both limits and moves from one to the other.
#[test]
fn wall_conductance_lies_between_both_limits() {
    let after = |wall_conductance: f64| {
        let (volume, gas_constant, temperature, start) = (1e-5, 287.05, 293.15, 7e5);
        let filling = Filling::Gas { gas_constant, exponent: 1.4, temperature, wall_conductance };
        let mut chamber = Emptying { filling, volume, area: 1e-6, outlet: 1e3 };
        chamber.pressure_after([start * volume / (gas_constant * temperature), start * volume / 0.4], 0.01)
    };
    let pressures: Vec<f64> = [0.0, 0.05, 0.5, 5.0, 1e9].map(after).to_vec();
    assert!(pressures.windows(2).all(|pair| pair[1] > pair[0]), "{pressures:?}");
}

/// Compressed liquid relieved through an orifice: pressure falls as the square of the time left, to nothing in a finite
/// time. Closed form; 1e-6 of the start's differential (the last row ends at nothing, where only a share of the start makes
/// sense, and within the laminar blend of 1 mPa).
#[test]
fn compressed_liquid_is_relieved_in_finite_time() {
    let mut worst = Worst::default();
    for row in Table::read("chamber/liquid_relief.csv").rows() {
        let (start, target, outlet) = (row.number("start_pa"), row.number("target_pa"), 1e5);
        let compliance = row.number("volume_m3") / row.number("bulk_modulus_pa");
        // 1e-30 m³ of gas: none, for a cell that needs a trace of it.
        let cell = Cell::new(compliance, outlet, 0.0, 1e-30, outlet, 1.0);
        let y = [cell.content(outlet + start), 0.0];
        let mut chamber = Emptying {
            filling: Filling::Liquid { cell, density: row.number("density") },
            volume: row.number("volume_m3"),
            area: row.number("flow_area_m2"),
            outlet,
        };
        let reached = chamber.pressure_after(y, row.number("time_s")) - outlet;
        worst.note((reached - target) / start, || format!("to {target} Pa"));
    }
    worst.refuse_above(1e-6, "differential of the relieved liquid");
}
