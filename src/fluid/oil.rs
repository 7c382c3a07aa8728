//! Mineral oils by viscosity class: typical oils, not one certain product.
//!
//! Viscosities at 40 °C are those of the classes of ISO 3448. What else describes each oil (viscosity at 100 °C, density at
//! 15 °C) is typical of the trade and from memory. Viscosities of a hydraulic oil (32 and 5.4 mm²/s, index 100) and of a
//! naphthenic one (29.5 and 4.37 mm²/s, index 7) of class VG 32 were seen in print and agree.

use super::liquid_error::LiquidError;
use crate::portable::Portable;

const ATMOSPHERE: f64 = 101_325.0;
/// Lowest and highest temperature, K: above the pour point of such oils, and where the viscosity is above 2 mm²/s.
const TEMPERATURES: (f64, f64) = (253.15, 373.15);
/// Highest pressure, Pa absolute. By judgement: the exponential law of the viscosity overstates beyond.
const HIGHEST_PRESSURE: f64 = 30e6;
/// What rounding may take from a limit, K.
const SLACK: f64 = 1e-9;

/// Vapour pressure, Pa absolute: an upper bound up to 100 °C, by judgement. Oil does not boil in a valve: what comes out of
/// it below atmospheric pressure is dissolved air.
pub const VAPOUR_PRESSURE: f64 = 10.0;
/// Critical pressure, Pa absolute, for the factor F_F only: its size, after alkanes of 25 carbon atoms (from memory). At a
/// vapour pressure next to nothing F_F does not depend on it.
pub const CRITICAL_PRESSURE: f64 = 1e6;

/// What everyone who computes waves in oil ought to know.
pub const CAUTION: &str = "mineral oil holds some 9 % of its volume of dissolved air (from memory), which comes out below \
                           atmospheric pressure and goes back slowly; 0.02 % of free air at 1 bar halves the sound \
                           speed and 1 % leaves a thirteenth: the value here is that of oil without bubbles";

/// A mineral oil.
#[derive(Debug, PartialEq)]
pub struct Oil {
    /// Name.
    pub name: &'static str,
    /// Other names under which it is asked for.
    pub aliases: &'static [&'static str],
    /// Kinematic viscosities at 40 °C and at 100 °C, m²/s.
    pub kinematic_viscosities: (f64, f64),
    /// Density at 15 °C and 1 atm, kg/m³.
    pub density: f64,
    /// Rise of the logarithm of the viscosity with pressure, 1/Pa.
    pub pressure_coefficient: f64,
    /// How far off the sound speed may be, as a share of it.
    pub sound_speed_uncertainty: f64,
}

/// What is known of an oil in one state.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OilState {
    /// Density, kg/m³.
    pub density: f64,
    /// Sound speed in the unconfined oil without air bubbles, m/s.
    pub sound_speed: f64,
    /// How far off the sound speed may be, as a share of it.
    pub sound_speed_uncertainty: f64,
    /// Dynamic viscosity, Pa·s.
    pub viscosity: f64,
    /// Vapour pressure, Pa absolute: an upper bound.
    pub vapour_pressure: f64,
    /// Critical pressure for the factor F_F, Pa absolute.
    pub critical_pressure: f64,
}

const fn hydraulic(
    name: &'static str,
    aliases: &'static [&'static str],
    kinematic_viscosities: (f64, f64),
    density: f64,
) -> Oil {
    Oil { name, aliases, kinematic_viscosities, density, pressure_coefficient: 2.0e-8, sound_speed_uncertainty: 0.03 }
}

/// The oils: paraffinic hydraulic oils of viscosity index near 100, and a naphthenic refrigeration oil of index near 5.
static OILS: [Oil; 5] = [
    hydraulic("mineral oil ISO VG 22", &["hydraulic oil ISO VG 22"], (22e-6, 4.3e-6), 865.0),
    hydraulic("mineral oil ISO VG 32", &["hydraulic oil ISO VG 32", "mineral oil"], (32e-6, 5.4e-6), 870.0),
    hydraulic("mineral oil ISO VG 46", &["hydraulic oil ISO VG 46"], (46e-6, 6.8e-6), 875.0),
    hydraulic("mineral oil ISO VG 68", &["hydraulic oil ISO VG 68"], (68e-6, 8.7e-6), 880.0),
    Oil {
        name: "naphthenic oil ISO VG 32",
        aliases: &["refrigeration oil ISO VG 32"],
        kinematic_viscosities: (32e-6, 4.5e-6),
        density: 919.0,
        pressure_coefficient: 2.5e-8,
        sound_speed_uncertainty: 0.04,
    },
];

/// All oils that are known.
pub fn all() -> &'static [Oil] {
    &OILS
}

/// The oil of that name, in any case of letters.
pub fn find(name: &str) -> Option<&'static Oil> {
    let same = |other: &str| other.eq_ignore_ascii_case(name.trim());
    OILS.iter().find(|oil| same(oil.name) || oil.aliases.iter().any(|alias| same(alias)))
}

impl Oil {
    /// Where the properties come from.
    pub fn source(&self) -> &'static str {
        "typical oil of its ISO 3448 class; density after ISO 91 / ASTM D1250, viscosity after ASTM D341, bulk modulus after \
         A. T. J. Hayward 1970 (from memory); no air bubbles"
    }

    /// How far off each property may be, in words. By judgement.
    pub fn uncertainty(&self) -> &'static str {
        "density 3 % between oils, viscosity 10 % within the class (15 % below 10 °C), sound speed 3 to 4 % without air \
         bubbles; vapour pressure: an upper bound"
    }

    /// Lowest and highest known temperature, K.
    pub fn temperature_range(&self) -> (f64, f64) {
        TEMPERATURES
    }

    /// The oil at a temperature, K, and a pressure, Pa absolute.
    ///
    /// ```text
    /// ρ = ρ_T/(1 − P/K̄),  a² = K/ρ,  μ = ν_T·ρ_T·exp(α·P),  P = p − 1 atm
    /// K̄ = K_T + 5.6·P,  K = K̄·(K̄ − P)/K_T
    /// ```
    ///
    /// with the isentropic secant bulk modulus K̄ and the tangent one K that follows from it.
    ///
    /// Source: A. T. J. Hayward, "How to estimate the bulk modulus of hydraulic fluids", Hydraulic Pneumatic Power, 1970 (from
    /// memory). α after C. Barus; its values after the tables of G. Stachowiak, A. Batchelor, "Engineering Tribology" (light
    /// machine and spindle oils at 30 °C: 1.8e-8 to 2.8e-8 1/Pa).
    pub fn liquid(&self, temperature: f64, pressure: f64) -> Result<OilState, LiquidError> {
        let name = self.name;
        // Not-a-number fails.
        if !(temperature >= TEMPERATURES.0 - SLACK && temperature <= TEMPERATURES.1 + SLACK) {
            return Err(LiquidError::Temperature { name, range: TEMPERATURES, temperature });
        }
        if pressure < VAPOUR_PRESSURE {
            let vapour_pressure = VAPOUR_PRESSURE;
            return Err(LiquidError::Boiling { name, vapour_pressure, pressure, temperature });
        }
        if pressure.is_nan() || pressure > HIGHEST_PRESSURE {
            return Err(LiquidError::Pressure { name, highest: HIGHEST_PRESSURE, pressure });
        }
        let above = pressure - ATMOSPHERE;
        let (density, modulus) = (self.density_at_atmosphere(temperature), self.modulus_at_atmosphere(temperature));
        let secant = modulus + 5.6 * above;
        let tangent = secant * (secant - above) / modulus;
        let pressed = density / (1.0 - above / secant);
        Ok(OilState {
            density: pressed,
            sound_speed: (tangent / pressed).sqrt(),
            sound_speed_uncertainty: self.sound_speed_uncertainty,
            viscosity: self.kinematic_viscosity(temperature)
                * density
                * (self.pressure_coefficient * above).exponential(),
            vapour_pressure: VAPOUR_PRESSURE,
            critical_pressure: CRITICAL_PRESSURE,
        })
    }

    /// Density at 1 atm, kg/m³.
    ///
    /// ```text
    /// ρ = ρ_15·exp(−α·ΔT·(1 + 0.8·α·ΔT)),  α = 0.6278/ρ_15,  ΔT = T − 15 °C
    /// ```
    ///
    /// Source: lubricating oils in ISO 91 / ASTM D1250 (API Manual of Petroleum Measurement Standards, chapter 11.1); the
    /// constant is 0.34878 there, per °F.
    fn density_at_atmosphere(&self, temperature: f64) -> f64 {
        let expansion = 0.6278 / self.density * (temperature - 288.15);
        self.density * (-expansion * (1.0 + 0.8 * expansion)).exponential()
    }

    /// Isentropic bulk modulus at 1 atm, Pa.
    ///
    /// ```text
    /// K = (1.57 + 0.15·lg ν_20)·10^(0.0024·(20 − t))·1e9,  ν_20 in mm²/s at 20 °C, t in °C
    /// ```
    ///
    /// Source: A. T. J. Hayward 1970, as above (from memory); 5 % as he held.
    fn modulus_at_atmosphere(&self, temperature: f64) -> f64 {
        let viscosity = self.kinematic_viscosity(293.15) * 1e6;
        (1.57 + 0.15 * viscosity.decimal_logarithm()) * 10f64.power(0.0024 * (293.15 - temperature)) * 1e9
    }

    /// Kinematic viscosity at 1 atm, m²/s.
    ///
    /// ```text
    /// lg lg(ν + 0.7) = A − B·lg T,  ν in mm²/s
    /// ```
    ///
    /// Source: C. Walther 1931; ASTM D341, for ν above 2 mm²/s.
    fn kinematic_viscosity(&self, temperature: f64) -> f64 {
        let twice = |viscosity: f64| (viscosity * 1e6 + 0.7).decimal_logarithm().decimal_logarithm();
        let (warm, hot) = (twice(self.kinematic_viscosities.0), twice(self.kinematic_viscosities.1));
        let (from, to) = (313.15f64.decimal_logarithm(), 373.15f64.decimal_logarithm());
        let share = (temperature.decimal_logarithm() - from) / (to - from);
        (10f64.power(10f64.power(warm + (hot - warm) * share)) - 0.7) * 1e-6
    }
}
