//! Surges of several fluids as a document of their own, in SI base units.

use crate::study::surge::{Boiling, Flow, FluidRow, Outcome, Remedy, SurgeComparison, Trough};
use serde::Serialize;

/// The line.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SurgeLine {
    /// Pipe in words.
    pub pipe: String,
    /// How it is held.
    pub support: &'static str,
    /// Bore, m.
    pub bore: f64,
    /// Wall thickness, m.
    pub wall_thickness: f64,
    /// Length, m.
    pub length: f64,
}

/// What sets the velocity.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SurgeFlow {
    /// Flow coefficient A_v, m²; null with a stated velocity.
    pub flow_coefficient: Option<f64>,
    /// Differential of the open valve, Pa; null with a stated velocity.
    pub differential: Option<f64>,
    /// Velocity, m/s; null with a valve.
    pub velocity: Option<f64>,
}

/// One side of the valve.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SideRow {
    /// Pressure to which the wave would pull a liquid that does not boil, Pa; may be below zero.
    pub pulled_to: f64,
    /// "stays liquid", "cavity" or "boils in the open valve".
    pub outcome: &'static str,
    /// Is there vapour?
    pub cavity: bool,
    /// Least subcooling at the same pressure that avoids it, K; null where none is needed, none would, or it is not known.
    pub subcooling_that_avoids_it: Option<f64>,
    /// Would no subcooling avoid it?
    pub no_subcooling_avoids_it: bool,
}

/// What a liquid has that can boil.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct BoilingRow {
    /// Vapour pressure, Pa absolute.
    pub vapour_pressure: f64,
    /// Margin to boiling at rest, Pa.
    pub margin: f64,
    /// Subcooling at rest, K.
    pub subcooling: Option<f64>,
    /// Fastest flow whose sudden stop opens no cavity upstream, m/s.
    pub velocity_without_cavity: f64,
    /// Behind the valve.
    pub behind_valve: SideRow,
    /// Upstream of it, after one return.
    pub upstream: SideRow,
}

/// One fluid.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SurgeRow {
    /// Fluid and state in words.
    pub fluid: String,
    /// "liquid" or "gas".
    pub phase: &'static str,
    /// Temperature, K.
    pub temperature: f64,
    /// Pressure at rest, Pa absolute.
    pub pressure: f64,
    /// Density, kg/m³.
    pub density: f64,
    /// Sound speed in the unconfined fluid, m/s.
    pub sound_speed: f64,
    /// Wave speed in the line, m/s.
    pub wave_speed: f64,
    /// Surge per velocity in a rigid line, Pa·s/m.
    pub rigid_surge_per_velocity: f64,
    /// Surge per velocity in the line, Pa·s/m.
    pub surge_per_velocity: f64,
    /// The same over that of water.
    pub surge_over_water: f64,
    /// Return time 2·L/a, s.
    pub return_time: f64,
    /// The same over that of water.
    pub return_time_over_water: f64,
    /// Velocity that is stopped, m/s.
    pub velocity: f64,
    /// Surge of its sudden stop, Pa.
    pub surge: f64,
    /// Highest pressure upstream, Pa absolute.
    pub inlet_peak: f64,
    /// Boiling; null for a gas.
    pub boiling: Option<BoilingRow>,
}

/// The whole comparison.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SurgeDocument {
    /// Name of the program.
    pub program: &'static str,
    /// Its version.
    pub version: &'static str,
    /// "surge".
    pub command: &'static str,
    /// The line.
    pub line: SurgeLine,
    /// What sets the velocity.
    pub flow: SurgeFlow,
    /// The water against which the others are held.
    pub reference: String,
    /// One for each fluid.
    pub fluids: Vec<SurgeRow>,
    /// What the numbers say.
    pub findings: Vec<String>,
    /// What they rest on.
    pub remarks: Vec<String>,
    /// To be read with the answer.
    pub cautions: Vec<String>,
}

impl SurgeDocument {
    /// From a comparison.
    pub fn new(comparison: &SurgeComparison, cautions: &[&str]) -> SurgeDocument {
        let line = &comparison.line;
        SurgeDocument {
            program: env!("CARGO_PKG_NAME"),
            version: env!("CARGO_PKG_VERSION"),
            command: "surge",
            line: SurgeLine {
                pipe: line.pipe.name.clone(),
                support: line.held(),
                bore: line.pipe.bore,
                wall_thickness: line.pipe.wall_thickness,
                length: line.length,
            },
            flow: flow(comparison.flow),
            reference: comparison.reference.label.clone(),
            fluids: comparison.rows.iter().map(|each| row(comparison, each)).collect(),
            findings: comparison.findings.clone(),
            remarks: comparison.remarks.clone(),
            cautions: cautions.iter().map(ToString::to_string).collect(),
        }
    }

    /// The document as text.
    pub fn text(&self) -> String {
        serde_json::to_string_pretty(self).unwrap_or_default()
    }
}

fn flow(flow: Flow) -> SurgeFlow {
    match flow {
        Flow::Valve { coefficient, differential } => {
            SurgeFlow { flow_coefficient: Some(coefficient), differential: Some(differential), velocity: None }
        }
        Flow::Velocity(velocity) => SurgeFlow { flow_coefficient: None, differential: None, velocity: Some(velocity) },
    }
}

fn row(comparison: &SurgeComparison, row: &FluidRow) -> SurgeRow {
    let reference = &comparison.reference;
    SurgeRow {
        fluid: row.label.clone(),
        phase: if row.is_gas() { "gas" } else { "liquid" },
        temperature: row.state.temperature,
        pressure: row.state.pressure,
        density: row.state.density,
        sound_speed: row.state.sound_speed,
        wave_speed: row.wave_speed,
        rigid_surge_per_velocity: row.rigid_surge_per_velocity,
        surge_per_velocity: row.surge_per_velocity,
        surge_over_water: row.surge_per_velocity / reference.surge_per_velocity,
        return_time: row.return_time,
        return_time_over_water: row.return_time / reference.return_time,
        velocity: row.velocity,
        surge: row.surge,
        inlet_peak: row.peak(),
        boiling: row.boiling.as_ref().map(boiling),
    }
}

fn boiling(found: &Boiling) -> BoilingRow {
    BoilingRow {
        vapour_pressure: found.vapour_pressure,
        margin: found.margin,
        subcooling: found.subcooling,
        velocity_without_cavity: found.bearable_velocity,
        behind_valve: side(&found.behind),
        upstream: side(&found.upstream),
    }
}

fn side(trough: &Trough) -> SideRow {
    let remedy = trough.outcome.remedy();
    SideRow {
        pulled_to: trough.pulled_to,
        outcome: trough.outcome.words(),
        cavity: trough.outcome != Outcome::StaysLiquid,
        subcooling_that_avoids_it: match remedy {
            Some(Remedy::Subcooling(kelvin)) => Some(kelvin),
            _ => None,
        },
        no_subcooling_avoids_it: remedy == Some(Remedy::NoneWould),
    }
}
