//! Is the coil on the voltage that it was wound for? A coil on another one pulls too weakly or burns, and every number of the run
//! is that of the wrong coil.

use super::wrong_supply::{WrongSupply, wrong_supply};
use crate::physics::parts::{Coil, CoilTemperature, Voltage};
use crate::physics::valve::copper::winding_resistance;
use crate::portable::Portable;
use crate::scenario::Scenario;
use crate::simulate::coil_heat::{held, winding_temperature};
use crate::simulate::contact::lasting;
use crate::units::{Dimension, text};
use crate::verdict::{BURNING_VOLTAGE, BeyondRating};

/// Usual tolerance of a rated voltage, shares of it. Common practice, no source.
const TOLERANCE: (f64, f64) = (0.85, 1.1);
/// Without a rated voltage, shares of the estimate beyond which a word is due: less than the step to the next usual voltage, to either
/// side. Judgement.
const FAR: (f64, f64) = (0.6, BURNING_VOLTAGE);
/// Heat of a winding on direct voltage that is on for ever, per cross-section of its core, W/m²: some 9 W on a core of 10 mm.
/// Common practice, no source.
const HEAT_PER_CORE: f64 = 12e4;
/// Peak flux density for which cores on alternating voltage are wound, T: below the knee of mild steel. Common practice, no
/// source.
const PEAK_FLUX_DENSITY: f64 = 1.1;

/// The voltage that a winding is for, V.
///
/// ```text
/// direct        U = √(P·R_20)               P = 12 W/cm²·A_core: what it bears as heat
/// alternating   U = √2·π·f·N·B·A_core       B = 1.1 T: what magnetises the core, and so holds
/// rectified     as direct, over the mean    2√2/π of a bridge, √2/π of a half wave
/// ```
///
/// An estimate within some 30 %; coils for little heat are for less. Source: Joule's and Faraday's laws; the two numbers are
/// common practice, no source.
pub fn estimated_rating(coil: &Coil) -> f64 {
    match coil.supply {
        Voltage::Direct { .. } | Voltage::Bridge { .. } | Voltage::HalfWave { .. } => {
            (HEAT_PER_CORE * coil.core_area * coil.resistance).sqrt() / mean_share(&coil.supply)
        }
        Voltage::Alternating { frequency, .. } => {
            let angular = std::f64::consts::SQRT_2 * std::f64::consts::PI * frequency;
            angular * coil.turns * PEAK_FLUX_DENSITY * coil.core_area
        }
    }
}

/// Mean of a voltage that goes one way only over what is stated of it, one else. Source: integral of a sine.
pub fn mean_share(supply: &Voltage) -> f64 {
    let half = std::f64::consts::SQRT_2 / std::f64::consts::PI;
    match supply {
        Voltage::Direct { .. } | Voltage::Alternating { .. } => 1.0,
        Voltage::Bridge { .. } => 2.0 * half,
        Voltage::HalfWave { .. } => half,
    }
}

/// What is to be held against the rating, V: of a winding that is rated for direct voltage, the mean.
pub(super) fn applied(scenario: &Scenario) -> f64 {
    let supply = &scenario.valve.coil.supply;
    let as_direct = scenario.rated_frequency == Some(0.0) && supply.rectifier().is_some();
    supply.stated() * if as_direct { mean_share(supply) } else { 1.0 }
}

/// The same coil on another voltage, V: rms where it alternates, before a rectifier.
pub(super) fn on_voltage(coil: &Coil, applied: f64) -> Coil {
    let mut coil = coil.clone();
    match &mut coil.supply {
        Voltage::Direct { voltage }
        | Voltage::Alternating { voltage, .. }
        | Voltage::Bridge { voltage, .. }
        | Voltage::HalfWave { voltage, .. } => *voltage = applied,
    }
    coil
}

/// The same once an economiser has taken over, V.
fn lasting_voltage(scenario: &Scenario) -> f64 {
    applied(scenario) * lasting(&scenario.valve.coil, true).share
}

/// A coil so far above its voltage that its winding burns, where no temperature is computed and judged.
///
/// ```text
/// heat ≥ (U/U_rated)²·on-fraction      over that of a winding always on its rated voltage
/// ```
///
/// Source: Joule's law; on alternating voltage saturation adds to it. That a winding bears its rated voltage for ever: common
/// practice, no source.
pub fn beyond_rating(scenario: &Scenario) -> Option<BeyondRating> {
    let coil = &scenario.valve.coil;
    let temperature_stated = match coil.temperature {
        CoilTemperature::Stated { .. } => true,
        CoilTemperature::FromHeat { .. } | CoilTemperature::Network { .. } => {
            if scenario.limits.coil_temperature.is_some() || scenario.insulation.is_some() {
                return None;
            }
            false
        }
    };
    if let Some(wrong) = wrong_supply(scenario) {
        return (wrong.heat > BURNING_VOLTAGE.to_the(2) && wrong.heat * scenario.duty.on_fraction > 1.0)
            .then(|| burnt_by_kind(scenario, &wrong, temperature_stated));
    }
    let (applied, rated) =
        (lasting_voltage(scenario), scenario.rated_voltage.unwrap_or_else(|| estimated_rating(coil)));
    let heat = (applied / rated).to_the(2) * scenario.duty.on_fraction;
    let estimated = scenario.rated_voltage.is_none();
    (applied > BURNING_VOLTAGE * rated && heat > 1.0).then_some(BeyondRating {
        applied,
        rated,
        estimated,
        temperature_stated,
        heat,
        wrong_supply: None,
    })
}

fn burnt_by_kind(scenario: &Scenario, wrong: &WrongSupply, temperature_stated: bool) -> BeyondRating {
    let applied = applied(scenario);
    BeyondRating {
        applied,
        rated: scenario.rated_voltage.unwrap_or(applied),
        estimated: false,
        temperature_stated,
        heat: wrong.heat * scenario.duty.on_fraction,
        wrong_supply: Some(wrong.words.clone()),
    }
}

/// What is to be said of a coil far from its voltage; nothing where it is near.
pub fn far_from_rated(scenario: &Scenario) -> Option<String> {
    let coil = &scenario.valve.coil;
    let (at_first, later) = (applied(scenario), lasting_voltage(scenario));
    let volts = |value: f64| text(value, Dimension::Voltage);
    // To be drawn in it needs its voltage at first; what it bears is for good.
    let beyond = |rated: f64, (low, high): (f64, f64)| {
        if later > high * rated { Some(later) } else { Some(at_first).filter(|volts| *volts < low * rated) }
    };
    if let Some(rated) = scenario.rated_voltage {
        return beyond(rated, TOLERANCE).map(|applied| {
            format!(
                "the coil is rated for {} and is on {}, {:.0} % of that: outside the usual tolerance of −15 to +10 %{}",
                volts(rated),
                volts(applied),
                100.0 * applied / rated,
                burning(applied / rated)
            )
        });
    }
    let rated = estimated_rating(coil);
    beyond(rated, FAR).map(|applied| {
        format!(
            "on {} this winding draws {} and is for about {}, estimated from its wire and core: is the voltage meant? Where it \
             is, state `rated` in [valve.coil]{}",
            volts(applied),
            text(current(scenario, applied), Dimension::Current),
            about(rated),
            burning(applied / rated)
        )
    })
}

/// What so many times its voltage make of a winding, in words.
fn burning(times: f64) -> String {
    if times <= BURNING_VOLTAGE {
        return String::new();
    }
    format!(
        "; its heat grows at least with the square, here {} times while it is on",
        text(figures(times * times), Dimension::Number)
    )
}

/// Effective holding current, A.
fn current(scenario: &Scenario, applied: f64) -> f64 {
    let temperature = winding_temperature(scenario);
    match scenario.valve.coil.supply {
        Voltage::Direct { .. } => applied / winding_resistance(scenario.valve.coil.resistance, temperature),
        Voltage::Alternating { .. } | Voltage::Bridge { .. } | Voltage::HalfWave { .. } => {
            held(&scenario.valve, scenario.valve.armature.stroke, temperature).current
        }
    }
}

/// An estimate has two figures.
fn about(value: f64) -> String {
    text(figures(value), Dimension::Voltage)
}

fn figures(value: f64) -> f64 {
    let unit = 10_f64.power(value.abs().decimal_logarithm().floor() - 1.0);
    (value / unit).round() * unit
}
