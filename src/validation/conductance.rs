//! Gas flow by sonic conductance and critical pressure ratio.

use super::case::{Case, Check, Obtained, Tolerance};
use super::table::table;
use crate::physics::restriction::{Series, critical_pressure_ratio, gas, nozzle_expansibility};

const FOLDER: &str = "iso_6358_conductance";
/// A curtain so wide that only the bore counts: its share of the loss is 10⁻¹⁶.
const OPEN: f64 = 1e4;

pub(super) fn cases() -> Vec<Case> {
    vec![
        Case {
            folder: FOLDER,
            name: "Ellipse of sonic conductance",
            source: "ISO 6358-1:2013 (formula from memory)",
            obtained: Obtained::Exact,
            reason: "the same closed form",
            misfit: None,
            checks: ellipse,
        },
        Case {
            folder: FOLDER,
            name: "Ellipse against the isentropic nozzle of air, b = 0.5283",
            source: "ISO 6358-1:2013 and A. H. Shapiro, The Dynamics and Thermodynamics of Compressible Fluid Flow, Ronald \
                     Press, 1953 (formulas from memory)",
            obtained: Obtained::Exact,
            reason: "the reference has three digits",
            misfit: None,
            checks: against_nozzle,
        },
    ]
}

/// Sonic conductance C (m³/(s·Pa) at 1.185 kg/m³ and 293.15 K) as the C·A that our ellipse starts from.
fn area_of_conductance(conductance: f64, b: f64, gas_constant: f64) -> f64 {
    conductance * 1.185 * (gas_constant * 293.15 / (1.0 - b)).sqrt()
}

fn ellipse() -> Result<Vec<Check>, String> {
    let r = 287.05;
    let mut checks = Vec::new();
    for row in table!("iso_6358_conductance/flows.csv")?.rows() {
        let (b, p_1, p_2) = (row.number("critical_ratio")?, row.number("inlet_pa")?, row.number("outlet_pa")?);
        let density = p_1 / (r * row.number("temperature_k")?);
        let restrictions = Series { curtain: OPEN, bore: area_of_conductance(1e-8, b, r) };
        checks.push(Check {
            quantity: format!("flow, b = {b}, {} to {} bar, kg/s", p_1 / 1e5, p_2 / 1e5),
            ours: gas(restrictions, density, p_1, p_2, b, 1e-3).mass_flow,
            reference: row.number("mass_flow_kg_s")?,
            tolerance: Tolerance::Relative(1e-10),
        });
    }
    Ok(checks)
}

/// Both with equal choked flow: how far apart they are at most, and at which pressure ratio.
fn against_nozzle() -> Result<Vec<Check>, String> {
    let (p_1, density, b) = (6e5, 7.0, critical_pressure_ratio(1.4));
    let nozzle = |r: f64| (2.0 * density * p_1 * (1.0 - r) * nozzle_expansibility(r, 1.4)).sqrt();
    let ellipse = |r: f64| gas(Series { curtain: OPEN, bore: 1.0 }, density, p_1, r * p_1, b, 1e-9).mass_flow;
    let difference = |r: f64| (ellipse(r) / ellipse(0.1) - nozzle(r) / nozzle(0.1)).abs();
    let ratios = (0..2000).map(|i| 0.5 + f64::from(i) * 2.5e-4);
    let (largest, at) = ratios.map(|r| (difference(r), r)).fold((0.0, 0.0), |a, b| if b.0 > a.0 { b } else { a });
    let check = |quantity: &str, ours: f64, reference: f64, allowed: f64| Check {
        quantity: quantity.into(),
        ours,
        reference,
        tolerance: Tolerance::Absolute(allowed),
    };
    Ok(vec![
        check("largest difference, share of the choked flow", largest, 0.00152, 5e-6),
        check("pressure ratio of the largest difference", at, 0.871, 2e-3),
        // With equal flow at small differentials, as the parts of the program have it.
        check("choked flow of the ellipse over the nozzle's", ellipse(0.1) / nozzle(0.1), 1.003, 5e-4),
    ])
}
