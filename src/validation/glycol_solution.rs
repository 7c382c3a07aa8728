//! Built-in glycol solutions against printed tables.

use super::case::{Case, Check, Obtained, Tolerance};
use super::table::{Row, table};
use super::worst::Worst;
use crate::fluid::solution::{self, Concentration, ETHYLENE_GLYCOL, PROPYLENE_GLYCOL, Solution, SolutionState};

const FOLDER: &str = "glycol_solutions";
const ATMOSPHERE: f64 = 101_325.0;

pub(super) fn cases() -> Vec<Case> {
    let case = |name, source, obtained, reason, checks| Case {
        folder: FOLDER,
        name,
        source,
        obtained,
        reason,
        misfit: None,
        checks,
    };
    vec![
        case(
            "Propylene glycol by volume: freezing and density",
            "Lange's Handbook of Chemistry, 15th edition, table 5.13",
            Obtained::Published,
            "what \"by volume\" counts is not printed: one per cent of glycol, hence 1 K; its densities lie below \
             Melinder's by up to 0.45 %",
            by_volume,
        ),
        case(
            "Glycols by mass: freezing",
            "ASHRAE Handbook Fundamentals, physical properties of secondary coolants",
            Obtained::FromMemory,
            "printed tables part by 3 K at high concentrations, where the curve is steep",
            by_mass,
        ),
        case(
            "Half ethylene glycol, half water: vapour pressure",
            "Antoine constants printed by a producer",
            Obtained::Published,
            "Raoult's law in place of measured activities",
            vapour_pressure,
        ),
        case(
            "30 % ethylene glycol: sound speed without a temperature slope",
            "Ethylene glycol-water mixtures for use in ultrasound test objects, Journal of Clinical Ultrasound 7, 1979, \
             465-470 (abstract)",
            Obtained::Published,
            "3.5 m/s as stated, and 8 m/s since by mass or by volume is not said; the estimate goes through this point",
            sound_speed,
        ),
    ]
}

fn state(solution: &Solution, fraction: f64, celsius: f64) -> Result<SolutionState, String> {
    solution.liquid(fraction, celsius + 273.15, ATMOSPHERE).map_err(|error| error.to_string())
}

/// Freezing temperature, °C.
fn freezing(solution: &Solution, fraction: f64) -> Result<f64, String> {
    solution.freezing_temperature(fraction).map(|kelvin| kelvin - 273.15).map_err(|error| error.to_string())
}

fn by_volume() -> Result<Vec<Check>, String> {
    // Water at 15.6 °C, kg/m³.
    let water = 999.0;
    let mut cold = Worst::new("freezing, °C", Tolerance::Absolute(1.1));
    let mut dense = Worst::new("density at 15.6 °C, kg/m³", Tolerance::Relative(5e-3));
    for row in table!("glycol_solutions/freezing_and_density.csv")?.rows() {
        let volume = row.number("volume_fraction")?;
        let fraction = PROPYLENE_GLYCOL.mass_fraction(Concentration::ByVolume(volume));
        let place = || format!("{:.0} % by volume", volume * 100.0);
        cold.note(freezing(&PROPYLENE_GLYCOL, fraction)?, row.number("freezing_c")?, place);
        let density = state(&PROPYLENE_GLYCOL, fraction, 15.6)?.density;
        dense.note(density, row.number("specific_gravity")? * water, place);
    }
    Ok(vec![cold.check()?, dense.check()?])
}

fn by_mass() -> Result<Vec<Check>, String> {
    let mut thin = Worst::new("freezing up to 30 % by mass, °C", Tolerance::Absolute(0.6));
    let mut thick = Worst::new("freezing from 40 % by mass on, °C", Tolerance::Absolute(3.0));
    for row in table!("glycol_solutions/freezing_by_mass.csv")?.rows() {
        let (solution, fraction) = (named(&row)?, row.number("mass_fraction")?);
        let group = if fraction < 0.35 { &mut thin } else { &mut thick };
        let place = || format!("{}, {:.0} %", solution.name, fraction * 100.0);
        group.note(freezing(solution, fraction)?, row.number("freezing_c")?, place);
    }
    Ok(vec![thin.check()?, thick.check()?])
}

fn named(row: &Row) -> Result<&'static Solution, String> {
    let name = row.text("glycol")?;
    solution::find(name).ok_or_else(|| format!("no solution of {name}"))
}

fn vapour_pressure() -> Result<Vec<Check>, String> {
    let mut worst = Worst::new("vapour pressure, Pa", Tolerance::Relative(0.02));
    for row in table!("glycol_solutions/vapour_pressure.csv")?.rows() {
        let celsius = row.number("temperature_c")?;
        let ours = state(&ETHYLENE_GLYCOL, 0.5, celsius)?.vapour_pressure;
        worst.note(ours, row.number("pressure_pa")?, || format!("{celsius} °C"));
    }
    Ok(vec![worst.check()?])
}

fn sound_speed() -> Result<Vec<Check>, String> {
    let mut worst = Worst::new("sound speed, m/s", Tolerance::Relative(7e-3));
    for row in table!("glycol_solutions/sound_speed.csv")?.rows() {
        let celsius = row.number("temperature_c")?;
        for (kind, concentration) in [("mass", Concentration::ByMass(0.3)), ("volume", Concentration::ByVolume(0.3))] {
            let fraction = ETHYLENE_GLYCOL.mass_fraction(concentration);
            let ours = state(&ETHYLENE_GLYCOL, fraction, celsius)?.sound_speed;
            worst.note(ours, row.number("sound_speed_m_s")?, || format!("{celsius} °C, 30 % by {kind}"));
        }
    }
    Ok(vec![worst.check()?])
}
