//! Built-in fluids against the library that made their tables, and against others.

use super::case::{Case, Check, Obtained, Tolerance};
use super::fluid_point::{compare, quantity};
use super::table::{Row, table};
use super::worst::Worst;
use crate::fluid::{self, FluidError};

const MADE_WITH: &str = "I. H. Bell, J. Wronski, S. Quoilin, V. Lemort, Ind. Eng. Chem. Res. 53 (2014) 2498-2508, with the equations \
                         named in the tables";

pub(super) fn cases() -> Vec<Case> {
    let mut cases = own();
    cases.extend(others());
    cases
}

fn own() -> Vec<Case> {
    let case = |name, reason, checks| Case {
        folder: "fluid_tables",
        name,
        source: MADE_WITH,
        obtained: Obtained::Library("CoolProp 8.0.0"),
        reason,
        misfit: None,
        checks,
    };
    vec![
        case(
            "Fluid tables: random states of all fluids",
            "neglected terms of the series; the density is solved for, which multiplies them near the critical point",
            random_states,
        ),
        case("Fluid tables: random saturated states of all fluids", "neglected terms of the series", saturated_states),
        case(
            "Fluid tables: largest errors when they were written",
            "over 2000 states a patch; read from the table of errors, not recomputed here",
            largest_errors,
        ),
    ]
}

fn others() -> Vec<Case> {
    let case = |name, source, library, reason, misfit, checks| Case {
        folder: "second_library",
        name,
        source,
        obtained: Obtained::Library(library),
        reason,
        misfit,
        checks,
    };
    const FITS: &str = "VDI Heat Atlas; fits to the reference program of NIST; by way of the library";
    vec![
        case(
            "Fluid tables: other programs for the same equations",
            "equations of state of the literature, programmed by others",
            "PYroMat 2.2.6, iapws 1.5.5",
            "single phase: interpolation, 1e-5. Saturation by the other program's short formulas: 0.06 % in pressure, 0.4 % in density",
            None,
            programs,
        ),
        case(
            "Fluid tables: water by the industrial formulation",
            "IAPWS R7-97(2012) and R12-08",
            "iapws 1.5.5",
            "two formulations: density 1.5e-4, sound speed 0.2 %, saturation pressure 2e-4; viscosity is one formulation: 3e-4",
            None,
            water,
        ),
        case(
            "Fluid tables: fitted vapour pressures and densities",
            FITS,
            "thermo 0.6.1",
            "what fits of other authors to other data differ by: 0.3 % in pressure, 0.25 % in density",
            None,
            correlations,
        ),
        case(
            "Fluid tables: fitted viscosities that agree",
            FITS,
            "thermo 0.6.1",
            "of fluids with a correlation of their own in the library: 1.2 %",
            None,
            viscosities,
        ),
        case(
            "Fluid tables: fitted viscosities that disagree",
            FITS,
            "thermo 0.6.1",
            "bounds the misfit of each fluid",
            Some(
                "where the library has only a general correlation (R22, R32, R1234yf, R1234ze(E)) its viscosity is off: R22 as a liquid by \
                 23 %, the gases by 6 to 17 %. Ammonia and R134a: other sources differ among themselves",
            ),
            viscosities_apart,
        ),
        case(
            "Fluid tables: blends by their components alone",
            "D.-Y. Peng, D. B. Robinson, Ind. Eng. Chem. Fundam. 15 (1976) 59, without interaction parameters",
            "thermo 0.6.1",
            "no fit to any blend: 3.2 % where the components are alike, 6.5 % with R1234yf, 11.5 % for R454B, half of it its strongest \
             pair; would show a wrong composition",
            None,
            blends,
        ),
    ]
}

fn text(error: FluidError) -> String {
    error.to_string()
}

fn random_states() -> Result<Vec<Check>, String> {
    let relative = |quantity, share| Worst::new(quantity, Tolerance::Relative(share));
    let mut density = relative("density, kg/m³", 3e-6);
    let mut sound = relative("sound speed, m/s", 5e-6);
    let mut viscosity = relative("viscosity, Pa·s", 2e-4);
    let mut enthalpy = Worst::new("enthalpy, J/kg", Tolerance::Absolute(2.0));
    let mut ratio = relative("critical pressure ratio", 2e-5);
    let mut flow = relative("critical flow factor", 5e-6);
    for row in table!("fluid_tables/random_states.csv")?.rows() {
        let [t, p, rho, a, mu, h] = row.numbers([
            "temperature_K",
            "pressure_Pa",
            "density_kg_m3",
            "sound_speed_m_s",
            "viscosity_Pa_s",
            "enthalpy_J_kg",
        ])?;
        let name = row.text("fluid")?;
        let state = fluid::find(name).and_then(|fluid| fluid.state(t, p)).map_err(text)?;
        let place = || format!("{name} {t:.0} K {:.1} bar", p / 1e5);
        density.note(state.density, rho, place);
        sound.note(state.sound_speed, a, place);
        viscosity.note(state.viscosity, mu, place);
        enthalpy.note(state.enthalpy.unwrap_or(f64::NAN), h, place);
        if let Some(gas) = state.gas {
            ratio.note(gas.critical_ratio, row.number("critical_ratio")?, place);
            flow.note(gas.flow_factor, row.number("flow_factor")?, place);
        }
    }
    [density, sound, viscosity, enthalpy, ratio, flow].into_iter().map(Worst::check).collect()
}

fn saturated_states() -> Result<Vec<Check>, String> {
    let mut pressures = Worst::new("bubble and dew pressure, Pa", Tolerance::Relative(1e-7));
    let mut temperatures = Worst::new("bubble and dew temperature, K", Tolerance::Relative(1e-8));
    for row in table!("fluid_tables/saturation.csv")?.rows() {
        let [t, bubble, dew] = row.numbers(["temperature_K", "bubble_pressure_Pa", "dew_pressure_Pa"])?;
        let fluid = fluid::find(row.text("fluid")?).map_err(text)?;
        let place = || format!("{} {t:.0} K", fluid.name());
        pressures.note(fluid.bubble_pressure(t).map_err(text)?, bubble, place);
        pressures.note(fluid.dew_pressure(t).map_err(text)?, dew, place);
        temperatures.note(fluid.bubble_temperature(bubble).map_err(text)?, t, place);
        temperatures.note(fluid.dew_temperature(dew).map_err(text)?, t, place);
    }
    Ok(vec![pressures.check()?, temperatures.check()?])
}

fn largest_errors() -> Result<Vec<Check>, String> {
    let mut checks = Vec::new();
    for (column, quantity, allowed) in [
        ("density_error", "density, share", 5e-6),
        ("sound_speed_error", "sound speed, share", 5e-6),
        ("viscosity_error", "viscosity, share", 2e-4),
        ("enthalpy_error_J_kg", "enthalpy, J/kg", 2.0),
        ("flow_factor_error", "critical flow factor, share", 2e-5),
    ] {
        let mut worst = Worst::new(quantity, Tolerance::Absolute(allowed));
        for row in table!("fluid_tables/errors.csv")?.rows() {
            let place = format!("{} {}", row.text("fluid")?, row.text("patch")?);
            worst.note(row.number(column)?, 0.0, || place);
        }
        checks.push(worst.check()?);
    }
    Ok(checks)
}

fn saturated(row: &Row) -> Result<bool, String> {
    Ok(matches!(row.text("state")?, "bubble" | "dew"))
}

fn programs() -> Result<Vec<Check>, String> {
    let kind = |row: &Row| {
        let phase = if saturated(row)? { "saturated" } else { "single phase" };
        Ok(Some(format!("{}, {phase}", quantity(row)?)))
    };
    compare(&table!("second_library/programs.csv")?, kind, |row| {
        Ok(Tolerance::Relative(match (saturated(row)?, row.text("property")?) {
            (true, "pressure") => 6e-4,
            (true, _) => 4e-3,
            _ => 1e-5,
        }))
    })
}

fn by_property(row: &Row) -> Result<Option<String>, String> {
    Ok(Some(quantity(row)?.to_owned()))
}

fn water() -> Result<Vec<Check>, String> {
    compare(&table!("second_library/water.csv")?, by_property, |row| {
        Ok(Tolerance::Relative(match row.text("property")? {
            "density" => 1.5e-4,
            "sound_speed" => 2e-3,
            "pressure" => 2e-4,
            _ => 3e-4,
        }))
    })
}

fn correlations() -> Result<Vec<Check>, String> {
    compare(&table!("second_library/correlations.csv")?, by_property, |row| {
        Ok(Tolerance::Relative(if row.text("property")? == "pressure" { 3e-3 } else { 2.5e-3 }))
    })
}

/// Does the library have a correlation of this fluid's own that the source knows as well?
fn same_viscosity(row: &Row) -> Result<bool, String> {
    Ok(match row.text("source")? {
        "VDI_TABULAR" => matches!(row.text("fluid")?, "R717" | "R290" | "R600a"),
        _ => matches!(row.text("fluid")?, "R744" | "R290" | "R600a" | "R134a"),
    })
}

fn viscosity_of(row: &Row) -> Result<String, String> {
    Ok(format!("viscosity, Pa·s, {} {}, {}", row.text("fluid")?, row.text("state")?, row.text("source")?))
}

fn viscosities() -> Result<Vec<Check>, String> {
    let kind = |row: &Row| Ok(if same_viscosity(row)? { Some(viscosity_of(row)?) } else { None });
    compare(&table!("second_library/viscosity.csv")?, kind, |_| Ok(Tolerance::Relative(1.2e-2)))
}

fn viscosities_apart() -> Result<Vec<Check>, String> {
    let kind = |row: &Row| Ok(if same_viscosity(row)? { None } else { Some(viscosity_of(row)?) });
    compare(&table!("second_library/viscosity.csv")?, kind, |row| {
        Ok(Tolerance::Relative(match (row.text("fluid")?, row.text("state")?) {
            ("R22", "bubble") => 0.24,
            ("R22", _) => 0.11,
            ("R1234yf" | "R1234ze(E)", "gas") => 0.18,
            ("R1234ze(E)", _) => 0.03,
            ("R717", "gas") => 0.01,
            ("R717", _) => 0.045,
            _ => 0.075,
        }))
    })
}

fn blends() -> Result<Vec<Check>, String> {
    let kind = |row: &Row| Ok(Some(format!("{}, {}", quantity(row)?, row.text("fluid")?)));
    compare(&table!("second_library/blends.csv")?, kind, |row| {
        Ok(Tolerance::Relative(match row.text("fluid")? {
            "R454B" => 0.115,
            "R448A" | "R449A" | "R513A" => 0.065,
            _ => 0.032,
        }))
    })
}
