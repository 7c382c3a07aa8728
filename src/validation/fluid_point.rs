//! One published number of a fluid, as a row of a table, and what the fluid tables say of the same state.

use super::case::{Check, Tolerance};
use super::table::{Row, Table};
use crate::fluid::{self, FluidError, State, Substance};
use crate::portable::Portable;

/// The tabulated value of what a row states: its columns `fluid`, `state` (bubble, dew, liquid, gas, critical), temperature,
/// pressure or density, and `property`.
pub(super) fn value(row: &Row) -> Result<f64, String> {
    let fluid = fluid::find(row.text("fluid")?).map_err(|error| error.to_string())?;
    let (property, critical) = (row.text("property")?, row.text("state")? == "critical");
    let found = match property {
        "temperature" if critical => fluid.critical_temperature(),
        "pressure" if critical => fluid.critical_pressure(),
        "glide" => fluid.glide(row.number("pressure_Pa")?).map_err(|error| error.to_string())?,
        _ => {
            let state = state(fluid, row)?;
            match property {
                "temperature" => state.temperature,
                "celsius" => state.temperature - 273.15,
                "pressure" => state.pressure,
                "density" => state.density,
                "sound_speed" => state.sound_speed,
                "viscosity" => state.viscosity,
                other => return Err(format!("{other} is no property of a state")),
            }
        }
    };
    Ok(found)
}

fn state(fluid: &Substance, row: &Row) -> Result<State, String> {
    let text = |error: FluidError| format!("{}: {error}", fluid.name());
    let known = (row.given("temperature_K")?, row.given("pressure_Pa")?, row.given("density_kg_m3")?);
    match (row.text("state")?, known) {
        ("bubble", (Some(t), ..)) => fluid.liquid(t, fluid.bubble_pressure(t).map_err(text)?).map_err(text),
        ("bubble", (None, Some(p), _)) => fluid.liquid(fluid.bubble_temperature(p).map_err(text)?, p).map_err(text),
        ("dew", (Some(t), ..)) => fluid.gas(t, fluid.dew_pressure(t).map_err(text)?).map_err(text),
        ("dew", (None, Some(p), _)) => fluid.gas(fluid.dew_temperature(p).map_err(text)?, p).map_err(text),
        ("liquid", (Some(t), Some(p), _)) => fluid.liquid(t, p).map_err(text),
        ("gas", (Some(t), Some(p), _)) => fluid.gas(t, p).map_err(text),
        ("liquid", (Some(t), None, Some(density))) => {
            let lowest = fluid.bubble_pressure(t).map_err(text)?;
            at_density(|p| fluid.liquid(t, p), (lowest, fluid.highest_pressure()), density).map_err(text)
        }
        ("gas", (Some(t), None, Some(density))) => {
            let highest = fluid.dew_pressure(t).unwrap_or_else(|_| fluid.highest_pressure());
            at_density(|p| fluid.gas(t, p), (1.0, highest), density).map_err(text)
        }
        (other, _) => Err(format!("{}: too little is stated of \"{other}\"", fluid.name())),
    }
}

/// The state of a density, between two pressures, by halving; a pressure that is refused is above it.
fn at_density(
    at: impl Fn(f64) -> Result<State, FluidError>,
    (mut low, mut high): (f64, f64),
    density: f64,
) -> Result<State, FluidError> {
    for _ in 0..200 {
        let middle = 0.5 * (low + high);
        match at(middle) {
            Ok(state) if state.density < density => low = middle,
            _ => high = middle,
        }
    }
    at(low)
}

/// One unit in the last written digit of a number such as 0.4294e6.
pub(super) fn last_digit(text: &str) -> Result<f64, String> {
    let (digits, power) = text.split_once('e').unwrap_or((text, "0"));
    let behind_point = digits.split_once('.').map_or(0, |(_, decimals)| decimals.len());
    let power: i32 = power.parse().map_err(|_| format!("{text:?} is no number"))?;
    Ok(10.0_f64.to_the(power - i32::try_from(behind_point).map_err(|e| e.to_string())?))
}

/// The furthest of one kind: largest in terms of its own tolerance.
struct Furthest {
    kind: String,
    count: usize,
    place: String,
    check: Check,
}

impl Furthest {
    /// Deviation in tolerances; what is not a number is the worst of all.
    fn share(check: &Check) -> f64 {
        let (Tolerance::Relative(allowed) | Tolerance::Absolute(allowed)) = check.tolerance;
        let share = check.deviation() / allowed;
        if share.is_nan() { f64::INFINITY } else { share }
    }

    fn check(self) -> Check {
        let Furthest { kind, count, place, check } = self;
        let quantity = if count == 1 { kind } else { format!("{kind} (worst of {count}: {place})") };
        Check { quantity, ..check }
    }
}

/// Compare the rows of a table for which `kind` has a name, and keep the worst of each kind.
pub(super) fn compare(
    table: &Table,
    kind: impl Fn(&Row) -> Result<Option<String>, String>,
    allowed: impl Fn(&Row) -> Result<Tolerance, String>,
) -> Result<Vec<Check>, String> {
    let mut kept: Vec<Furthest> = Vec::new();
    for row in table.rows() {
        let Some(kind) = kind(&row)? else { continue };
        let (ours, reference, tolerance) = (value(&row)?, row.number("value")?, allowed(&row)?);
        let check = Check { quantity: String::new(), ours, reference, tolerance };
        let fixed = row
            .given("temperature_K")?
            .map(|t| format!("{t} K"))
            .or(row.given("pressure_Pa")?.map(|p| format!("{p} Pa")));
        let place = [row.text("fluid")?, row.text("state")?, &fixed.unwrap_or_default()].join(" ").trim().to_owned();
        match kept.iter_mut().find(|furthest| furthest.kind == kind) {
            None => kept.push(Furthest { kind, count: 1, place, check }),
            Some(furthest) => {
                furthest.count += 1;
                if Furthest::share(&check) > Furthest::share(&furthest.check) {
                    (furthest.place, furthest.check) = (place, check);
                }
            }
        }
    }
    Ok(kept.into_iter().map(Furthest::check).collect())
}

/// What is compared, with its unit.
pub(super) fn quantity(row: &Row) -> Result<&'static str, String> {
    Ok(match row.text("property")? {
        "temperature" => "temperature, K",
        "celsius" => "boiling or dew point, °C",
        "glide" => "glide, K",
        "pressure" => "saturation or critical pressure, Pa",
        "density" => "density, kg/m³",
        "sound_speed" => "sound speed, m/s",
        "viscosity" => "viscosity, Pa·s",
        other => return Err(format!("{other} is no property of a state")),
    })
}

#[cfg(test)]
mod tests {
    use super::{compare, last_digit};
    use crate::validation::case::{Check, Tolerance};
    use crate::validation::table::Table;

    const HEAD: &str = "fluid,state,temperature_K,pressure_Pa,density_kg_m3,property,value,source\n";

    #[test]
    fn the_last_digit_is_that_of_the_text() {
        let near = |text: &str, wanted: f64| (last_digit(text).expect("a number") / wanted - 1.0).abs() < 1e-12;
        assert!(near("0.4294e6", 100.0) && near("1038.0", 0.1) && near("2e5", 1e5) && near("142.93e-6", 1e-8));
        assert!(last_digit("1ex").is_err());
    }

    #[test]
    fn a_state_by_its_density_is_that_by_its_pressure_and_the_worst_is_kept() {
        let rows = format!(
            "{HEAD}air,gas,300,1e5,,density,1.1617,x\nair,gas,300,,1.1617,density,1.1617,x\nair,gas,300,1e5,,density,2,x\n\
             water,bubble,,1e5,,temperature,372.76,x\n"
        );
        let table = Table::parse("x.csv", &rows).expect("a table");
        let of_density = |row: &super::Row| Ok((row.text("property")? == "density").then(|| "density".to_owned()));
        let checks = compare(&table, of_density, |_| Ok(Tolerance::Relative(0.01))).expect("compared");
        assert_eq!(checks.len(), 1);
        assert!(checks[0].quantity.contains("worst of 3") && !checks.iter().all(Check::holds));
        let few = Table::parse("x.csv", &rows.replace("density,2,x", "density,1.16,x")).expect("a table");
        assert!(
            compare(&few, of_density, |_| Ok(Tolerance::Relative(0.01))).expect("compared").iter().all(Check::holds)
        );
        let bad = Table::parse("x.csv", &format!("{HEAD}air,gas,,1e5,,density,1,x\n")).expect("a table");
        assert!(compare(&bad, of_density, |_| Ok(Tolerance::Relative(0.01))).is_err());
    }
}
