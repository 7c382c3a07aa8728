//! The isentropic nozzle: perfect gas, and how far real gases are from it.

use super::case::{Case, Check, Obtained, Tolerance};
use super::table::table;
use super::worst::Worst;
use crate::physics::fluid::Gas;
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
            reason: "tables and reference come from the same equations, by different ways (isentrope in density and temperature \
                     against the top of the flux by pressure and entropy); methane has no table and is taken as a perfect gas, \
                     which it nearly is",
            misfit: None,
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

/// Ratio and flux as a run has them: from the table of the named gas through the nozzle of the physics.
fn real_gas() -> Result<Vec<Check>, String> {
    let mut checks = Vec::new();
    for row in table!("real_gas_critical_flow/critical_flow.csv")?.rows() {
        let (name, pressure, temperature) = (row.text("gas")?, row.number("inlet_pa")?, row.number("temperature_k")?);
        let label = format!("{name} {:.0} bar {:.0} °C", pressure / 1e5, temperature - 273.15);
        let named = crate::fluid::find(name).ok();
        let gas = match named {
            Some(fluid) => fluid.gas(temperature, pressure).map_err(|error| error.to_string())?.real_gas(),
            None => {
                let constant = MOLAR / row.number("molar_mass")?;
                Some(Gas::perfect(constant, row.number("exponent")?, temperature, f64::NAN))
            }
        };
        let gas = gas.ok_or_else(|| format!("{name} is no gas"))?;
        let expansion = gas.expansion();
        let density = pressure / (gas.gas_constant * temperature);
        let flux = (2.0 * pressure * density * 0.8 * expansion.expansibility(0.2_f64)).sqrt();
        let allowed = if named.is_some() { 1e-5 } else { 0.005 };
        for (quantity, ours, column) in [
            ("critical ratio", expansion.critical_ratio(), "critical_ratio"),
            ("choked flux, kg/(s·m²)", flux, "flux_kg_m2_s"),
        ] {
            let (quantity, reference) = (format!("{label}: {quantity}"), row.number(column)?);
            checks.push(Check { quantity, ours, reference, tolerance: Tolerance::Relative(allowed) });
        }
    }
    Ok(checks)
}
