//! Everything that is known of a fluid at a state, as rows.

use super::medium::Medium;
use super::state::{Aggregation, State};
use crate::units::Dimension;

/// One row: what, its SI value, its kind, and a word on it where it needs one.
#[derive(Clone, Debug, PartialEq)]
pub struct SheetRow {
    /// What, such as "density".
    pub name: &'static str,
    /// Value, SI.
    pub value: f64,
    /// Kind of quantity.
    pub dimension: Dimension,
    /// A word on it.
    pub remark: &'static str,
}

/// All rows of a state, in a fixed order; what is not known has no row.
pub fn sheet(medium: &Medium, state: &State) -> Vec<SheetRow> {
    let mut rows = vec![
        row("temperature", state.temperature, Dimension::Temperature, ""),
        row("pressure", state.pressure, Dimension::AbsolutePressure, ""),
    ];
    saturation(medium, state, &mut rows);
    rows.extend([
        row("density", state.density, Dimension::Density, ""),
        row("sound speed", state.sound_speed, Dimension::Velocity, "in the unconfined fluid"),
        row(
            "bulk modulus",
            state.bulk_modulus(),
            Dimension::ElasticModulus,
            "isentropic, density times sound speed squared",
        ),
        row("surge per flow velocity", state.density * state.sound_speed, Dimension::Impedance, "in a rigid line"),
        row("viscosity", state.viscosity, Dimension::Viscosity, "dynamic"),
    ]);
    if let Some(heat) = state.heat_capacity {
        rows.push(row("heat capacity", heat, Dimension::HeatCapacity, "at constant pressure"));
    }
    if let Some(gas) = &state.gas {
        rows.extend([
            row("isochoric heat capacity", gas.isochoric_heat_capacity, Dimension::HeatCapacity, ""),
            row(
                "isentropic exponent",
                state.isentropic_exponent(),
                Dimension::Number,
                "of the real gas: density times sound \
                speed squared over pressure",
            ),
            row("compressibility factor", gas.compressibility, Dimension::Number, ""),
            row(
                "critical pressure ratio",
                gas.critical_ratio,
                Dimension::Number,
                "outlet over inlet pressure at which a nozzle \
                chokes, real gas that stays dry",
            ),
            row(
                "critical flow factor",
                gas.flow_factor,
                Dimension::Number,
                "choked mass flow per area over the root of pressure \
                times density, if it stays dry",
            ),
        ]);
    }
    // A solution has that of its water and an oil a stand-in, which only the sizing equations of the seat read.
    if matches!(medium, Medium::Substance(_)) {
        rows.push(row("critical pressure", state.critical_pressure, Dimension::AbsolutePressure, ""));
    }
    rows
}

/// Why rows on saturation are missing, where the reader would look for them.
pub fn unsaturated(medium: &Medium, state: &State) -> Option<String> {
    if !medium.condenses() {
        return None;
    }
    let error = match state.aggregation {
        Aggregation::Liquid => medium.bubble_temperature(state.pressure).err(),
        Aggregation::Gas => medium.dew_temperature(state.pressure).err(),
    };
    error.map(|error| format!("no distance from saturation: {error}"))
}

fn row(name: &'static str, value: f64, dimension: Dimension, remark: &'static str) -> SheetRow {
    SheetRow { name, value, dimension, remark }
}

/// Distance from saturation, and what saturation is there.
fn saturation(medium: &Medium, state: &State, rows: &mut Vec<SheetRow>) {
    let bubble = medium.bubble_temperature(state.pressure).ok();
    let dew = medium.dew_temperature(state.pressure).ok();
    match state.aggregation {
        Aggregation::Liquid => {
            let subcooling = bubble.map(|t| {
                row(
                    "subcooling",
                    settled(t - state.temperature),
                    Dimension::TemperatureDifference,
                    "below the bubble point",
                )
            });
            rows.extend(subcooling);
        }
        Aggregation::Gas => {
            let superheat = dew.map(|t| {
                row(
                    "superheat",
                    settled(state.temperature - t),
                    Dimension::TemperatureDifference,
                    "above the dew point",
                )
            });
            rows.extend(superheat);
        }
    }
    rows.extend(bubble.map(|t| row("bubble point", t, Dimension::Temperature, "at this pressure")));
    rows.extend(dew.map(|t| row("dew point", t, Dimension::Temperature, "at this pressure")));
    if let (Some(bubble), Some(dew)) = (bubble, dew)
        && settled(dew - bubble) > 0.0
    {
        rows.push(row("glide", settled(dew - bubble), Dimension::TemperatureDifference, "from bubble to dew point"));
    }
    let vapour =
        state.bubble_pressure.map(|p| row("vapour pressure", p, Dimension::AbsolutePressure, vapour_remark(medium)));
    rows.extend(vapour);
    if let (Some(bubble), Aggregation::Liquid) = (state.bubble_pressure, state.aggregation) {
        rows.push(row(
            "margin to boiling",
            state.pressure - bubble,
            Dimension::PressureDifference,
            "pressure above the vapour pressure",
        ));
    }
}

fn vapour_remark(medium: &Medium) -> &'static str {
    match medium {
        Medium::Substance(_) => "bubble point at this temperature",
        Medium::Solution(..) => "of the water in the solution at this temperature",
        Medium::Oil(_) => "an upper bound: an oil hardly boils, but gives off the air it holds",
    }
}

/// A distance from saturation without what rounding leaves of a saturated state.
fn settled(kelvin: f64) -> f64 {
    if kelvin.abs() < 1e-6 { 0.0 } else { kelvin }
}
