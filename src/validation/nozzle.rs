//! The isentropic nozzle: perfect gas, and how far real gases are from it.

use super::case::{Case, Check, Obtained, Tolerance};
use super::table::table;
use super::worst::Worst;
use crate::physics::restriction::{critical_pressure_ratio, nozzle_expansibility};

/// Molar gas constant, J/(mol·K), exact since 2019.
const MOLAR: f64 = 8.314_462_618;

pub(super) fn cases() -> Vec<Case> {
    vec![
        Case {
            folder: "shapiro_1953_nozzle",
            name: "Isentropic nozzle of a perfect gas",
            source: "A. H. Shapiro, The Dynamics and Thermodynamics of Compressible Fluid Flow, Ronald Press, 1953 (formula \
                     from memory)",
            obtained: Obtained::Exact,
            reason: "exponents such as 5/3 are rounded to ten digits in the table, and the ratio with them; the flow function \
                     has twelve",
            misfit: None,
            checks: perfect_gas,
        },
        Case {
            folder: "real_gas_critical_flow",
            name: "Critical flow of real gases",
            source: "isentropic critical flow of real gases by the equations of state of the library",
            obtained: Obtained::Library("CoolProp 8.0.0"),
            reason: "bounds the misfit: dense vapours depart most in the critical ratio (6 to 10 % at 40 °C), while the \
                     errors of ratio and density partly cancel in the flow",
            misfit: Some(
                "gases are perfect here, with cp/cv as exponent: a dense vapour is taken to choke only at a lower outlet pressure \
                 than it does, and to pass a little too little",
            ),
            checks: real_gas,
        },
    ]
}

/// ψ with ṁ = A·p_1/√(R·T_1)·ψ, from ṁ² = A²·2ρ·Δp·Y².
fn flow_function(ratio: f64, exponent: f64) -> f64 {
    (2.0 * (1.0 - ratio) * nozzle_expansibility(ratio, exponent)).sqrt()
}

fn perfect_gas() -> Result<Vec<Check>, String> {
    let mut ratio = Worst::new("critical pressure ratio", Tolerance::Relative(2e-9));
    let mut choked = Worst::new("flow function when choked", Tolerance::Relative(2e-9));
    let mut function = Worst::new("flow function", Tolerance::Absolute(2e-10));
    for row in table!("shapiro_1953_nozzle/critical_ratio.csv")?.rows() {
        let k = row.number("exponent")?;
        ratio.note(critical_pressure_ratio(k), row.number("critical_ratio")?, || format!("k {k}"));
        choked.note(flow_function(0.2, k), row.number("choked_flow_function")?, || format!("k {k}"));
    }
    for row in table!("shapiro_1953_nozzle/nozzle_function.csv")?.rows() {
        let (k, r) = (row.number("exponent")?, row.number("ratio")?);
        function.note(flow_function(r, k), row.number("flow_function")?, || format!("k {k}, ratio {r}"));
    }
    Ok(vec![ratio.check()?, choked.check()?, function.check()?])
}

/// Ratio and flux as a user would have them, who states molar mass, temperature and cp/cv.
fn real_gas() -> Result<Vec<Check>, String> {
    let mut checks = Vec::new();
    for row in table!("real_gas_critical_flow/critical_flow.csv")?.rows() {
        let (k, pressure, temperature) =
            (row.number("exponent")?, row.number("inlet_pa")?, row.number("temperature_k")?);
        let r_t = MOLAR / row.number("molar_mass")? * temperature;
        let gas = format!("{} {:.0} bar {:.0} °C", row.text("gas")?, pressure / 1e5, temperature - 273.15);
        // Light gases are nearly perfect; vapours near saturation are not.
        let near_perfect = matches!(row.text("gas")?, "air" | "nitrogen" | "methane");
        let (of_ratio, of_flux) = if near_perfect { (0.005, 0.005) } else { (0.11, 0.03) };
        for (quantity, ours, column, allowed) in [
            ("critical ratio", critical_pressure_ratio(k), "critical_ratio", of_ratio),
            ("choked flux, kg/(s·m²)", pressure / r_t.sqrt() * flow_function(0.2, k), "flux_kg_m2_s", of_flux),
        ] {
            let (quantity, reference) = (format!("{gas}: {quantity}"), row.number(column)?);
            checks.push(Check { quantity, ours, reference, tolerance: Tolerance::Relative(allowed) });
        }
    }
    Ok(checks)
}
