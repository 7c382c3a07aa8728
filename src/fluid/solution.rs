//! Ethylene and propylene glycol in water, 0 to 60 % by mass, from the freezing temperature to 100 °C.
//!
//! Density, viscosity and freezing temperature: A. Melinder, "Properties of Secondary Working Fluids for Indirect Systems",
//! International Institute of Refrigeration, 2010, through a general fluid property library (`tables/regenerate/solutions.py`).
//! The sound speed is estimated, not measured: no measured table could be seen. The script says how; every state carries how
//! far off it may be.
//!
//! A concentration is by mass or by volume, and that must be said. By volume means: volumes of the unmixed liquids at 20 °C,
//! as they are poured together.

use crate::portable::Portable;
use std::sync::OnceLock;

use super::liquid_error::LiquidError;
use super::solution_table::{Property, Range, Table};
use super::water_vapour::{self, CRITICAL_PRESSURE};

/// Pressure to which the tables belong, Pa absolute.
const TABLE_PRESSURE: f64 = 101_325.0;
/// Highest pressure at which the linear effect of pressure is held to be good, Pa absolute. By judgement: the density is
/// then off by less than 0.1 %, the sound speed by less than its uncertainty.
const HIGHEST_PRESSURE: f64 = 20e6;
/// What rounding may take from a limit, K or mass fraction.
const SLACK: f64 = 1e-9;

/// How much of the solution is glycol.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Concentration {
    /// Mass of glycol per mass of solution.
    ByMass(f64),
    /// Volume of glycol per sum of the volumes of glycol and water before mixing, both at 20 °C.
    ByVolume(f64),
}

/// A glycol in water.
#[derive(Debug)]
pub struct Solution {
    /// Name of what is dissolved.
    pub name: &'static str,
    /// Name of the solution.
    pub full_name: &'static str,
    /// Other names under which it is asked for.
    pub aliases: &'static [&'static str],
    /// Molar mass of what is dissolved, kg/mol.
    molar_mass: f64,
    /// How far off the sound speed may be near the point that its estimate is taken through, as a share of it.
    nearby_uncertainty: f64,
    source: &'static str,
    uncertainty: &'static str,
    text: &'static str,
    tables: OnceLock<Tables>,
}

/// What is known of a solution in one state.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SolutionState {
    /// Density, kg/m³.
    pub density: f64,
    /// Sound speed in the unconfined liquid, m/s; estimated, not measured.
    pub sound_speed: f64,
    /// How far off the sound speed may be, as a share of it.
    pub sound_speed_uncertainty: f64,
    /// Dynamic viscosity, Pa·s.
    pub viscosity: f64,
    /// Vapour pressure, Pa absolute.
    pub vapour_pressure: f64,
    /// Critical pressure for the factor F_F, Pa absolute: that of water, since water makes the vapour.
    pub critical_pressure: f64,
    /// Where the first ice forms, K.
    pub freezing_temperature: f64,
}

#[derive(Debug)]
struct Tables {
    mass_fraction: Range,
    temperature: Range,
    /// Densities of the glycol and of water before mixing at 20 °C, kg/m³.
    unmixed_density: (f64, f64),
    density: Property,
    log_viscosity: Property,
    sound_speed: Property,
    freezing_temperature: Property,
}

impl Tables {
    fn read(text: &str) -> Option<Tables> {
        let table = Table::new(text);
        let (mass_fraction, temperature) = (table.pair("mass_fraction")?, table.pair("temperature")?);
        let surface = |name| table.surface(name, mass_fraction, temperature);
        Some(Tables {
            mass_fraction,
            temperature,
            unmixed_density: table.pair("unmixed_density")?,
            density: surface("density")?,
            log_viscosity: surface("log_viscosity")?,
            sound_speed: surface("sound_speed")?,
            freezing_temperature: surface("freezing_temperature")?,
        })
    }
}

/// Ethylene glycol in water.
pub static ETHYLENE_GLYCOL: Solution = Solution {
    name: "ethylene glycol",
    full_name: "ethylene glycol in water",
    aliases: &["monoethylene glycol", "1,2-ethanediol", "EG", "MEG"],
    molar_mass: 0.062_068,
    nearby_uncertainty: 0.02,
    source: "A. Melinder, Properties of Secondary Working Fluids, IIR 2010; vapour pressure: Raoult's law and IAPWS-95; \
             sound speed: estimated, not measured (through water, one measured point at 30 % and the pure glycol)",
    uncertainty: "density 0.3 %, viscosity 5 %, freezing 1 K up to 40 % and 3 K at 60 %, vapour pressure 2 %, \
                  sound speed (estimated, not measured) up to 2 % between 5 °C and 50 °C and up to 40 % by mass, else 4 %; \
                  inhibitors are not counted in",
    text: include_str!("tables/ethylene_glycol.txt"),
    tables: OnceLock::new(),
};

/// Propylene glycol in water.
pub static PROPYLENE_GLYCOL: Solution = Solution {
    name: "propylene glycol",
    full_name: "propylene glycol in water",
    aliases: &["monopropylene glycol", "1,2-propanediol", "PG", "MPG"],
    molar_mass: 0.076_095,
    nearby_uncertainty: 0.03,
    source: "A. Melinder, Properties of Secondary Working Fluids, IIR 2010; vapour pressure: Raoult's law and IAPWS-95; \
             sound speed: estimated, not measured (through water, a remembered point at 40 % and the pure glycol)",
    uncertainty: "density 0.5 %, viscosity 5 %, freezing 1 K up to 40 % and 3 K at 60 %, vapour pressure 4 %, \
                  sound speed (estimated, not measured) up to 3 % between 5 °C and 50 °C and up to 40 % by mass, else 4 %; \
                  inhibitors are not counted in",
    text: include_str!("tables/propylene_glycol.txt"),
    tables: OnceLock::new(),
};

/// All solutions that are known.
pub fn all() -> [&'static Solution; 2] {
    [&ETHYLENE_GLYCOL, &PROPYLENE_GLYCOL]
}

/// The solution of that name, in any case of letters.
pub fn find(name: &str) -> Option<&'static Solution> {
    let same = |other: &str| other.eq_ignore_ascii_case(name.trim());
    all().into_iter().find(|solution| same(solution.name) || solution.aliases.iter().any(|alias| same(alias)))
}

impl Solution {
    fn tables(&self) -> &Tables {
        let read = || Tables::read(self.text).expect("the tables are part of the program and read by its tests");
        self.tables.get_or_init(read)
    }

    /// Where the properties come from, and that the sound speed is an estimate.
    pub fn source(&self) -> &'static str {
        self.source
    }

    /// How far off each property may be, in words. By judgement, from comparing printed tables with each other.
    pub fn uncertainty(&self) -> &'static str {
        self.uncertainty
    }

    /// Highest known mass fraction.
    pub fn highest_mass_fraction(&self) -> f64 {
        self.tables().mass_fraction.1
    }

    /// Lowest and highest known temperature at a mass fraction, K.
    pub fn temperature_range(&self, mass_fraction: f64) -> Result<(f64, f64), LiquidError> {
        Ok((self.freezing_temperature(mass_fraction)?, self.tables().temperature.1))
    }

    /// Mass fraction of a concentration.
    pub fn mass_fraction(&self, concentration: Concentration) -> f64 {
        match concentration {
            Concentration::ByMass(fraction) => fraction,
            Concentration::ByVolume(fraction) => self.mass_fraction_of_volume(fraction),
        }
    }

    /// Mass fraction w of a volume fraction φ of the unmixed liquids at 20 °C.
    ///
    /// ```text
    /// w = φ·ρ_g/(φ·ρ_g + (1 − φ)·ρ_w)
    /// ```
    ///
    /// Source: definition. Per volume of the mixed solution, which shrinks, the same mass fraction would count as up to one
    /// percentage point more.
    pub fn mass_fraction_of_volume(&self, volume_fraction: f64) -> f64 {
        let (glycol, water) = self.tables().unmixed_density;
        let (glycol, water) = (volume_fraction * glycol, (1.0 - volume_fraction) * water);
        glycol / (glycol + water)
    }

    /// Volume fraction of the unmixed liquids at 20 °C of a mass fraction: the inverse of
    /// [`mass_fraction_of_volume`](Self::mass_fraction_of_volume).
    pub fn volume_fraction_of_mass(&self, mass_fraction: f64) -> f64 {
        let (glycol, water) = self.tables().unmixed_density;
        let (glycol, water) = (mass_fraction / glycol, (1.0 - mass_fraction) / water);
        glycol / (glycol + water)
    }

    /// Temperature at which the first ice forms, K.
    pub fn freezing_temperature(&self, mass_fraction: f64) -> Result<f64, LiquidError> {
        let (low, highest) = self.tables().mass_fraction;
        // Not-a-number fails both.
        if mass_fraction >= low - SLACK && mass_fraction <= highest + SLACK {
            return Ok(self.tables().freezing_temperature.at(mass_fraction, TABLE_PRESSURE));
        }
        Err(LiquidError::Concentration { name: self.full_name, mass_fraction, highest })
    }

    /// The liquid at a mass fraction, a temperature, K, and a pressure, Pa absolute.
    ///
    /// ```text
    /// ρ = ρ0·(1 + (p − p0)/(ρ0·a0²)),  a = a0 + (p − p0)·da/dp,  p0 = 1 atm
    /// ```
    ///
    /// Source: definition of the bulk modulus; the isentropic one stands for the isothermal one, which is up to 15 % lower.
    /// da/dp is 1.7 m/s per MPa in water (IAPWS-95) and 3.8 in propylene glycol (T. Eisenbach et al., J. Phys. Chem. Ref. Data
    /// 50, 2021), both near 25 °C; between them it is taken as linear in the mass fraction, for both glycols. The viscosity
    /// is that at p0.
    pub fn liquid(&self, mass_fraction: f64, temperature: f64, pressure: f64) -> Result<SolutionState, LiquidError> {
        let freezing_temperature = self.freezing_temperature(mass_fraction)?;
        let tables = self.tables();
        let (name, hottest) = (self.full_name, tables.temperature.1);
        if temperature < freezing_temperature - SLACK {
            return Err(LiquidError::Frozen { name, mass_fraction, freezing_temperature, temperature });
        }
        if temperature.is_nan() || temperature > hottest + SLACK {
            return Err(LiquidError::Temperature { name, range: (freezing_temperature, hottest), temperature });
        }
        let vapour_pressure = self.vapour_pressure(mass_fraction, temperature);
        if pressure < vapour_pressure {
            return Err(LiquidError::Boiling { name, vapour_pressure, pressure, temperature });
        }
        if pressure.is_nan() || pressure > HIGHEST_PRESSURE {
            return Err(LiquidError::Pressure { name, highest: HIGHEST_PRESSURE, pressure });
        }
        let density = tables.density.at(mass_fraction, temperature);
        let sound_speed = tables.sound_speed.at(mass_fraction, temperature);
        let above = pressure - TABLE_PRESSURE;
        Ok(SolutionState {
            density: density * (1.0 + above / (density * sound_speed.to_the(2))),
            sound_speed: sound_speed + above * (1.7e-6 + 2.1e-6 * mass_fraction),
            sound_speed_uncertainty: self.sound_speed_uncertainty(mass_fraction, temperature),
            viscosity: tables.log_viscosity.at(mass_fraction, temperature).exponential(),
            vapour_pressure,
            critical_pressure: CRITICAL_PRESSURE,
            freezing_temperature,
        })
    }

    /// Vapour pressure at a mass fraction and temperature (K), Pa absolute: Raoult's law for the water, see
    /// [`source`](Self::source).
    pub fn vapour_pressure(&self, mass_fraction: f64, temperature: f64) -> f64 {
        water_vapour::above_solution(mass_fraction, self.molar_mass, temperature)
    }

    /// How far off the sound speed may be, as a share of it. By judgement: nothing dissolved leaves water's, which is exact
    /// here; one point of ethylene glycol was measured; nothing was below 5 °C or above 50 °C.
    fn sound_speed_uncertainty(&self, mass_fraction: f64, temperature: f64) -> f64 {
        let inside = (278.15..=323.15).contains(&temperature) && mass_fraction <= 0.4;
        let bound = if inside { self.nearby_uncertainty } else { 0.04 };
        bound.min(0.002 + 0.15 * mass_fraction)
    }
}
