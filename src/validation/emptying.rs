//! A control chamber that empties, in its limits.

use super::case::{Case, Check, Obtained, Tolerance};
use super::table::table;
use super::worst::Worst;
use crate::dual::Real;
use crate::physics::fluid::Gas;
use crate::physics::restriction::{LiquidChoking, Series, liquid};
use crate::physics::valve::cell::Cell;
use crate::physics::valve::chamber::{ChamberRates, Filling};
use crate::physics::valve::confined_gas::ConfinedGas;
use crate::solver::{Counters, Interval, Method, Settings, State, Step, StepSize, System, Then, integrate};

const FOLDER: &str = "chamber_emptying";

pub(super) fn cases() -> Vec<Case> {
    vec![
        Case {
            folder: FOLDER,
            name: "Gas chamber emptying through a choked nozzle",
            source: "own integration of mass and energy of a perfect gas",
            obtained: Obtained::Exact,
            reason: "the solver works at 1e-10; the isothermal chamber is 1e-7 K colder than its wall",
            misfit: None,
            checks: gas_chamber,
        },
        Case {
            folder: FOLDER,
            name: "Relief of a compressed liquid through an orifice",
            source: "own integration: the differential falls as the square of the time left",
            obtained: Obtained::Exact,
            reason: "the solver works at 1e-10; the last row ends at nothing, within the laminar blend of 1 mPa, so shares \
                     are of the start",
            misfit: None,
            checks: liquid_chamber,
        },
    ]
}

/// A chamber of constant volume that empties through a C·A to a constant outlet.
pub struct Emptying {
    /// What fills it.
    pub filling: Filling,
    /// Volume, m³.
    pub volume: f64,
    /// C·A of the way out, m².
    pub area: f64,
    /// Pressure outside, Pa.
    pub outlet: f64,
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
            Filling::Gas(gas) => {
                let expansibility = gas.expansion.expansibility(outlet * now.pressure.recip());
                (now.density * (now.pressure - outlet) * expansibility * 2.0).sqrt() * self.area
            }
            Filling::Liquid { density, .. } => {
                let choking = LiquidChoking { recovery_factor: 10.0, critical_vapour_pressure: 0.0 };
                let restrictions = Series { curtain: T::constant(1.0), bore: self.area };
                liquid(restrictions, *density, now.pressure, outlet, choking, 1e-3).mass_flow
            }
        };
        let balance = self.filling.balance(ChamberRates { inflow: zero, leak: zero, outflow, growth: zero }, now);
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
    ///
    /// # Errors
    ///
    /// Where the solver gives up.
    pub fn pressure_after(&mut self, y: [f64; 2], time: f64) -> Result<f64, String> {
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
            .map_err(|e| format!("an emptying chamber: {e}"))?;
        Ok(self.pressure(&state.y))
    }
}

/// 1 kPa behind the nozzle: choked to the end, as the closed form has it. The heat that keeps a chamber isothermal is some
/// 150 W; with 10⁹ W/K the gas is 10⁻⁷ K colder than the wall.
fn gas_chamber() -> Result<Vec<Check>, String> {
    let mut adiabatic = Worst::new("adiabatic, pressure at the exact time, Pa", Tolerance::Relative(1e-6));
    let mut isothermal = Worst::new("isothermal, pressure at the exact time, Pa", Tolerance::Relative(1e-6));
    for row in table!("chamber_emptying/blowdown.csv")?.rows() {
        let (wall_conductance, worst) = match row.text("limit")? {
            "adiabatic" => (0.0, &mut adiabatic),
            "isothermal" => (1e9, &mut isothermal),
            other => return Err(format!("unknown limit {other}")),
        };
        let (exponent, volume) = (row.number("exponent")?, row.number("volume_m3")?);
        let (gas_constant, temperature) = (row.number("gas_constant")?, row.number("temperature_k")?);
        let start = row.number("start_pa")?;
        let gas = Gas::perfect(gas_constant, exponent, temperature, 0.0);
        let gas = ConfinedGas::new(&gas, start, wall_conductance);
        let y = gas.fill(start, volume);
        let mut chamber =
            Emptying { filling: Filling::Gas(gas), volume, area: row.number("flow_area_m2")?, outlet: 1e3 };
        let reached = chamber.pressure_after(y, row.number("time_s")?)?;
        let target = row.number("target_pa")?;
        worst.note(reached, target, || format!("k {exponent}, 7 to {} bar", target / 1e5));
    }
    Ok(vec![adiabatic.check()?, isothermal.check()?])
}

fn liquid_chamber() -> Result<Vec<Check>, String> {
    let mut worst = Worst::new("differential at the exact time, share of the start's", Tolerance::Absolute(1e-6));
    for row in table!("chamber_emptying/liquid_relief.csv")?.rows() {
        let (start, target, outlet) = (row.number("start_pa")?, row.number("target_pa")?, 1e5);
        let volume = row.number("volume_m3")?;
        // 1e-30 m³ of gas: none, for a cell that needs a trace of it.
        let cell = Cell::new(volume / row.number("bulk_modulus_pa")?, outlet, 0.0, 1e-30, outlet, 1.0);
        let y = [cell.content(outlet + start), 0.0];
        let filling = Filling::Liquid { cell, density: row.number("density")? };
        let mut chamber = Emptying { filling, volume, area: row.number("flow_area_m2")?, outlet };
        let reached = chamber.pressure_after(y, row.number("time_s")?)? - outlet;
        worst.note(reached / start, target / start, || format!("5 to {} bar", target / 1e5));
    }
    Ok(vec![worst.check()?])
}
