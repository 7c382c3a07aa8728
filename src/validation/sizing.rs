//! Liquid flow through a valve of a known flow coefficient.

use super::case::{Case, Check, Obtained, Tolerance};
use super::table::table;
use crate::physics::restriction::{LiquidChoking, Series, critical_ratio_factor, liquid};
use crate::units::{Dimension, parse};

const FOLDER: &str = "iec_60534_sizing";
/// A curtain so wide that only the bore counts: its share of the loss is 10⁻¹⁶.
const OPEN: f64 = 1e4;
/// Water of both examples: density (kg/m³), inlet, vapour and critical pressure (Pa).
const WATER: (f64, f64, f64, f64) = (965.4, 680e3, 70.1e3, 22.12e6);

pub(super) fn cases() -> Vec<Case> {
    vec![
        Case {
            folder: FOLDER,
            name: "Liquid flow of a sized valve, open and choked",
            source: "IEC 60534-2-1:2011, examples 1 and 2, by way of the test values of the library fluids",
            obtained: Obtained::Library("fluids 1.3.1"),
            reason: "both follow the same formula; the densities of water in Kv are accounted for, digits of the standard's \
                     constants are left",
            misfit: None,
            checks: examples,
        },
        Case {
            folder: FOLDER,
            name: "Flow coefficients by definition",
            source: "definitions of Kv and Cv; gallon of 231 in3, pound-force per square inch of 6894.757 Pa",
            obtained: Obtained::Exact,
            reason: "definitions; the pound-force per square inch has seven digits in some tables, so not to rounding",
            misfit: None,
            checks: definitions,
        },
    ]
}

/// C·A at a flow coefficient, m²: half of the squared velocity makes the differential.
fn area_of(coefficient: &str) -> Result<f64, String> {
    let area = parse(coefficient, Dimension::FlowCoefficient, f64::NAN).map_err(|e| e.to_string())?;
    Ok(area / 2.0_f64.sqrt())
}

fn check(quantity: String, ours: f64, reference: f64, allowed: f64) -> Check {
    Check { quantity, ours, reference, tolerance: Tolerance::Relative(allowed) }
}

fn examples() -> Result<Vec<Check>, String> {
    let (density, p_1, vapour_pressure, critical_pressure) = WATER;
    let factor = critical_ratio_factor(vapour_pressure, critical_pressure);
    let mut checks = vec![check("critical pressure ratio factor FF".into(), factor, 0.944_237_522_523_33, 1e-12)];
    const LIBRARY_WATER: f64 = 999.103_290_757_023_3;
    for row in table!("iec_60534_sizing/examples.csv")?.rows() {
        let kv = format!("{} Kv", row.number("kv")?);
        let area = area_of(&kv)? * (LIBRARY_WATER / 1000.0).sqrt();
        let recovery_factor = row.number("recovery_factor")?;
        let choking = LiquidChoking { recovery_factor, critical_vapour_pressure: factor * vapour_pressure };
        let flow = liquid(Series { curtain: OPEN, bore: area }, density, p_1, 220e3, choking, 1e-3).mass_flow;
        let quantity = format!("{}, flow, m³/h", row.text("example")?);
        checks.push(check(quantity, flow / density * 3600.0, row.number("flow_m3_h")?, 1e-6));
    }
    let quantity = "outlet pressure below which the ball valve is choked, Pa".into();
    checks.push(check(quantity, choked_below(factor), 459_028.778_118, 1e-9));
    Ok(checks)
}

/// Outlet pressure below which the flow no longer depends on it, Pa.
fn choked_below(factor: f64) -> f64 {
    let (density, p_1, vapour_pressure, _) = WATER;
    let choking = LiquidChoking { recovery_factor: 0.6, critical_vapour_pressure: factor * vapour_pressure };
    let flow = |p_2: f64| liquid(Series { curtain: OPEN, bore: 1e-4 }, density, p_1, p_2, choking, 1e-3).mass_flow;
    let most = flow(1e4);
    // The flow is exactly the choked one below, so the search is for a step.
    super::orifice_pair::falling_root(1e4, p_1, |p_2| if flow(p_2) == most { 1.0 } else { -1.0 })
}

fn definitions() -> Result<Vec<Check>, String> {
    let unit = area_of("1 Kv")?;
    // No choking: a jet that recovers nothing and boils at nothing.
    let choking = LiquidChoking { recovery_factor: 10.0, critical_vapour_pressure: 0.0 };
    let flow = liquid(Series { curtain: OPEN, bore: unit }, 1000.0, 3e5, 2e5, choking, 1e-3).mass_flow;
    Ok(vec![
        check("C·A at Kv = 1, m²".into(), unit, 1.964_185_503_295_97e-5, 1e-10),
        check("Kv at Cv = 1, m³/h".into(), area_of("1 Cv")? / unit, 0.864_977_655_442_302, 1e-10),
        check("water through Kv = 1 at 1 bar, m³/h".into(), flow * 3.6, 1.0, 1e-10),
    ])
}
