//! Built-in fluids against published states and standards.

use super::case::{Case, Check, Obtained, Tolerance};
use super::fluid_point::{compare, last_digit, quantity};
use super::table::{Row, table};

pub(super) fn cases() -> Vec<Case> {
    let mut cases = published();
    cases.extend(saturation());
    cases
}

fn published() -> Vec<Case> {
    vec![
        Case {
            folder: "iapws_water",
            name: "Fluid tables: water against the formulations of IAPWS",
            source: "IAPWS releases R6-95, R7-97(2012), R12-08: verification tables",
            obtained: Obtained::Published,
            reason: "R6-95 is the tables' own equation: their interpolation, 5e-6 (viscosity of R12-08: 2e-4). The industrial \
                     formulation is another equation: 1e-5 in density, 1e-3 in sound speed, 1e-4 in saturation pressure",
            misfit: None,
            checks: water,
        },
        Case {
            folder: "published_fluid_states",
            name: "Fluid tables: printed tables of the same equations",
            source: "Tillner-Roth and Baehr 1994; Tillner-Roth and Yokozeki 1997; Lemmon et al. 2009; Bücker and Wagner 2006; Span and \
                     Wagner 1996; Span et al. 2000; Thol and Lemmon 2016; Lemmon 2003 (full titles in the folder)",
            obtained: Obtained::Published,
            reason: "one unit in the last printed digit, by way of public code whose authors note last digits that differ; the \
                     tables' interpolation, 5e-6, where more digits are printed",
            misfit: None,
            checks: same_equations,
        },
        Case {
            folder: "published_fluid_states",
            name: "Fluid tables: printed tables of other equations",
            source: "Baehr and Tillner-Roth 1995; Younglove 1982; Younglove and Ely 1987; Moran and Shapiro, table A-7; Richter et \
                     al. 2011 (full titles in the folder)",
            obtained: Obtained::Published,
            reason: "what the equations of two decades differ by: pressure 0.2 %, density 0.3 %, sound speed 1.2 % (0.3 % but for \
                     one warm liquid), viscosity 5.5 % (propane gas of 1987)",
            misfit: None,
            checks: other_equations,
        },
        Case {
            folder: "published_fluid_states",
            name: "Fluid tables: printed viscosities",
            source: "Fenghour et al. 1995 and 1998; Vogel et al. 1998; Lemmon and Jacobsen 2004; Huber et al. 2003; Geller et al. 2000 \
                     (full titles in the folder)",
            obtained: Obtained::Published,
            reason: "same correlation with densities of another equation of state: 0.2 %; carbon dioxide by a later correlation: \
                     0.5 %; blends: 2.2 %, as the library's own tests note",
            misfit: None,
            checks: viscosity,
        },
        Case {
            folder: "published_fluid_states",
            name: "Fluid tables: viscosities that disagree",
            source: "Monogenidou et al. 2018; a public data page of R448A (full titles in the folder)",
            obtained: Obtained::Published,
            reason: "bounds the misfit of each fluid",
            misfit: Some(
                "the library's correlation of ammonia is older than the reference; R448A is an estimate from its components",
            ),
            checks: viscosity_apart,
        },
        Case {
            folder: "measured_sound_speed",
            name: "Fluid tables: measured sound speed of water and air",
            source: "W. Marczak, J. Acoust. Soc. Am. 102 (1997) 2776; H. C. Hardy, D. Telfair, W. H. Pielemeier, J. Acoust. Soc. Am. \
                     13 (1942) 226",
            obtained: Obtained::FromMemory,
            reason: "spread of the measurements, 5e-5",
            misfit: None,
            checks: measured_sound_speed,
        },
    ]
}

fn saturation() -> Vec<Case> {
    vec![
        Case {
            folder: "refrigerant_saturation",
            name: "Fluid tables: boiling points and glide at one atmosphere",
            source: "ASHRAE Standard 34, tables of refrigerants and blends",
            obtained: Obtained::FromMemory,
            reason: "standards print 0.1 K, and for blends the value of the model of their day: 0.3 K (1.2 % of pressure); a glide \
                     is a difference of two: 0.6 K",
            misfit: None,
            checks: boiling_points,
        },
        Case {
            folder: "refrigerant_saturation",
            name: "Fluid tables: saturation pressures of service charts",
            source: "two public charts and a data page (R448A), see the folder",
            obtained: Obtained::Published,
            reason: "0.1 psi of the charts is 0.4 % at one atmosphere; 1.2 % for R454B, whose interaction of components was \
                     fitted anew since",
            misfit: None,
            checks: pressures,
        },
    ]
}

/// By property alone.
fn by_property(row: &Row) -> Result<Option<String>, String> {
    Ok(Some(quantity(row)?.to_owned()))
}

fn of_fluid(row: &Row) -> Result<Option<String>, String> {
    Ok(Some(format!("{}, {}", quantity(row)?, row.text("fluid")?)))
}

fn water() -> Result<Vec<Check>, String> {
    let kind = |row: &Row| Ok(Some(format!("{}, {}", quantity(row)?, row.text("source")?)));
    compare(&table!("iapws_water/states.csv")?, kind, |row| {
        let (source, property) = (row.text("source")?, row.text("property")?);
        Ok(match property {
            "viscosity" => Tolerance::Relative(2e-4),
            "temperature" => Tolerance::Absolute(0.01),
            _ if source.starts_with("IAPWS-95") => Tolerance::Relative(5e-6),
            "density" => Tolerance::Relative(1e-5),
            "pressure" => Tolerance::Relative(1e-4),
            _ => Tolerance::Relative(1e-3),
        })
    })
}

fn same_equations() -> Result<Vec<Check>, String> {
    compare(&table!("published_fluid_states/equations.csv")?, by_property, |row| {
        let unit = last_digit(row.text("value")?)?;
        Ok(Tolerance::Absolute(unit.max(5e-6 * row.number("value")?)))
    })
}

fn other_equations() -> Result<Vec<Check>, String> {
    compare(&table!("published_fluid_states/other_equations.csv")?, by_property, |row| {
        Ok(match row.text("property")? {
            "temperature" => Tolerance::Absolute(0.03),
            "pressure" => Tolerance::Relative(2e-3),
            "density" => Tolerance::Relative(3e-3),
            "sound_speed" => Tolerance::Relative(1.2e-2),
            _ => Tolerance::Relative(5.5e-2),
        })
    })
}

fn viscosity() -> Result<Vec<Check>, String> {
    compare(&table!("published_fluid_states/viscosity.csv")?, of_fluid, |row| {
        Ok(Tolerance::Relative(match row.text("fluid")? {
            "R410A" | "R407C" | "R404A" | "R507A" => 2.2e-2,
            "R744" => 5e-3,
            _ => 2e-3,
        }))
    })
}

fn viscosity_apart() -> Result<Vec<Check>, String> {
    let kind = |row: &Row| Ok(Some(format!("viscosity, Pa·s, {} {}", row.text("fluid")?, row.text("state")?)));
    compare(&table!("published_fluid_states/viscosity_apart.csv")?, kind, |row| {
        Ok(Tolerance::Relative(match row.text("fluid")? {
            "R448A" => 0.05,
            _ => 0.03,
        }))
    })
}

fn measured_sound_speed() -> Result<Vec<Check>, String> {
    compare(&table!("measured_sound_speed/sound_speed.csv")?, of_fluid, |_| Ok(Tolerance::Relative(5e-5)))
}

fn boiling_points() -> Result<Vec<Check>, String> {
    compare(&table!("refrigerant_saturation/boiling_points.csv")?, by_property, |row| {
        Ok(Tolerance::Absolute(if row.text("property")? == "glide" { 0.6 } else { 0.3 }))
    })
}

fn pressures() -> Result<Vec<Check>, String> {
    compare(&table!("refrigerant_saturation/pressures.csv")?, of_fluid, |row| {
        Ok(Tolerance::Relative(if row.text("fluid")? == "R454B" { 1.2e-2 } else { 4e-3 }))
    })
}
