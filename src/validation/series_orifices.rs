//! Bleed and pilot in series: the pressure between them, which is the chamber's.

use super::case::{Case, Check, Obtained, Tolerance};
use super::orifice_pair::{Bore, Medium, pressure_between};
use super::table::table;
use super::worst::Worst;
use crate::physics::valve::passage::Passage;

pub(super) fn cases() -> Vec<Case> {
    vec![Case {
        folder: "series_orifices",
        name: "Bleed and pilot in series: pressure between them",
        source: "liquid: losses in series, own algebra; gas: equal flows of two isentropic nozzles, own search for the root",
        obtained: Obtained::Exact,
        reason: "ten digits and more in the table",
        misfit: None,
        checks,
    }]
}

fn checks() -> Result<Vec<Check>, String> {
    let mut liquid = Worst::new("liquid, pressure between, Pa", Tolerance::Relative(1e-9));
    let mut gas = Worst::new("gas, choked or not, pressure between, Pa", Tolerance::Relative(1e-9));
    for row in table!("series_orifices/series_orifices.csv")?.rows() {
        let (p_1, p_2) = (row.number("inlet_pa")?, row.number("outlet_pa")?);
        let share = row.number("pilot_over_bleed")?;
        let (medium, worst) = match row.given("exponent")? {
            None => (Medium::Liquid(998.2), &mut liquid),
            Some(exponent) => (Medium::Gas(exponent, 287.05 * 293.15), &mut gas),
        };
        let bore =
            |area: f64| Bore { passage: Passage::new(5e-3, 1e-3, 998.2, 0.0), inverse_square: 1.0 / (area * area) };
        let between = pressure_between(&bore(1e-6), &bore(share * 1e-6), medium, p_1, p_2);
        worst.note(between, row.number("between_pa")?, || format!("R = {share}, {} bar", p_1 / 1e5));
    }
    Ok(vec![liquid.check()?, gas.check()?])
}
