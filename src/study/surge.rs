//! Fluids side by side, by hand: the same line and the same valve, and what each fluid makes of a sudden stop.
//!
//! ```text
//! Δp = ρ·a·Δv                 surge of a stop that takes no longer than the return time
//! 2·L/a                       return time of the wave
//! v = (A_v/A)·√(Δp_v/ρ)       velocity that the open valve gives a liquid
//! ```
//!
//! ρ density, a wave speed in the line of bore area A and length L, A_v flow coefficient and Δp_v differential of the open
//! valve. Friction and free gas are left out. Sources: N. Joukowsky, 1898 (surge, from memory); the rest from its
//! definition. Nothing is simulated.

pub(super) mod boiling;
mod finding;
mod line;
mod row;

pub use boiling::{Boiling, Outcome, Remedy, Trough};
pub use line::{Flow, Line};
pub use row::{FluidRow, Reference, SurgeComparison};

use self::line::wave_speed;
use crate::fluid::{self, Aggregation, Medium, State, distance_from_saturation};
use crate::quote;
use crate::scenario::fluid_label;
use crate::units::{Dimension, text};
use std::collections::HashSet;
use std::fmt;

/// The fluids that are compared where none is named: water, and what refrigeration puts in its place.
pub const USUAL_STATES: [&str; 6] = [
    WATER,
    "R134a liquid, 35 °C, 5 K subcooled",
    "R410A liquid, 35 °C, 5 K subcooled",
    "R290 liquid, 35 °C, 5 K subcooled",
    "R717 liquid, 35 °C, 5 K subcooled",
    "R744 liquid, -10 °C, 5 K subcooled",
];

/// The reference where no water is among the fluids.
const WATER: &str = "water 20 °C, 7 bar(g)";

/// Share of the wave speed above which a flow is too fast for ρ·a·Δv of small waves. Judgement.
const FAST: f64 = 0.2;

/// Why there is no comparison.
#[derive(Clone, Debug, PartialEq)]
pub enum SurgeError {
    /// A fluid or its state is not understood: the words, and why.
    State(String, String),
    /// A number that must be above zero is not.
    NotPositive(&'static str),
    /// No fluid is named.
    NoFluid,
}

impl fmt::Display for SurgeError {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            SurgeError::State(words, cause) => write!(out, "'{}': {cause}", quote::word(words)),
            SurgeError::NotPositive(what) => write!(out, "the {what} must be above zero"),
            SurgeError::NoFluid => out.write_str("no fluid is named"),
        }
    }
}

impl std::error::Error for SurgeError {}

/// Compares the fluids that the phrases name; gauge pressures count from `atmosphere`, Pa absolute.
pub fn compare(phrases: &[String], line: Line, flow: Flow, atmosphere: f64) -> Result<SurgeComparison, SurgeError> {
    refuse_what_is_not_positive(&line, flow)?;
    let mut found = Vec::new();
    for phrase in phrases {
        found.push(read(phrase, atmosphere)?);
    }
    if found.is_empty() {
        return Err(SurgeError::NoFluid);
    }
    let mut rows: Vec<FluidRow> = found.iter().map(|(medium, state)| row(medium, state, &line, flow)).collect();
    rows.iter().try_for_each(|row| refuse_impossible(row, flow))?;
    tell_apart(&mut rows);
    let reference = reference(&found, &rows, &line)?;
    let remarks = remarks(&found, &rows, &line, flow);
    let mut comparison = SurgeComparison { line, flow, rows, reference, findings: Vec::new(), remarks };
    comparison.findings = finding::findings(&comparison);
    Ok(comparison)
}

fn refuse_what_is_not_positive(line: &Line, flow: Flow) -> Result<(), SurgeError> {
    let needed = match flow {
        Flow::Valve { coefficient, differential } => {
            [("flow coefficient", coefficient), ("differential", differential)]
        }
        Flow::Velocity(velocity) => [("velocity", velocity); 2],
    };
    let wrong =
        std::iter::once(("length", line.length)).chain(needed).find(|(_, value)| value.is_nan() || *value <= 0.0);
    wrong.map_or(Ok(()), |(what, _)| Err(SurgeError::NotPositive(what)))
}

/// A differential that the pressure cannot give, or a velocity that no small wave can stop, is a slip of the pen.
fn refuse_impossible(row: &FluidRow, flow: Flow) -> Result<(), SurgeError> {
    let why = if flow.differential() >= row.state.pressure {
        format!(
            "a differential of {} across the open valve is more than its pressure, {}, can give",
            text(flow.differential(), Dimension::PressureDifference),
            text(row.state.pressure, Dimension::AbsolutePressure)
        )
    } else if row.velocity >= row.wave_speed {
        format!(
            "{} in the line is not below its wave speed, {}",
            text(row.velocity, Dimension::Velocity),
            text(row.wave_speed, Dimension::Velocity)
        )
    } else {
        return Ok(());
    };
    Err(SurgeError::State(row.label.clone(), why))
}

fn read(words: &str, atmosphere: f64) -> Result<(Medium, State), SurgeError> {
    let wrong = |cause: &dyn fmt::Display| SurgeError::State(words.trim().to_owned(), cause.to_string());
    let phrase = fluid::read_phrase(words, atmosphere).map_err(|e| wrong(&e))?;
    let medium = Medium::find(&phrase.name, phrase.mass_fraction, phrase.volume_fraction).map_err(|e| wrong(&e))?;
    let state = phrase.request.resolve_alone(&medium, atmosphere).map_err(|e| wrong(&e))?;
    Ok((medium, state))
}

fn row(medium: &Medium, state: &State, line: &Line, flow: Flow) -> FluidRow {
    let wave_speed = wave_speed(state, line);
    let surge_per_velocity = state.density * wave_speed;
    let velocity = flow.velocity(state, line);
    FluidRow {
        name: if medium.name() == "water" && state.aggregation == Aggregation::Gas {
            "steam".to_owned()
        } else {
            medium.name()
        },
        label: fluid_label(medium, state),
        distance: distance_from_saturation(medium, state),
        state: *state,
        wave_speed,
        surge_per_velocity,
        rigid_surge_per_velocity: state.density * state.sound_speed,
        return_time: 2.0 * line.length / wave_speed,
        velocity,
        surge: surge_per_velocity * velocity,
        boiling: boiling::boiling(medium, state, line, flow),
    }
}

/// Rows of one fluid are named by their number among these.
fn tell_apart(rows: &mut [FluidRow]) {
    let names: Vec<String> = rows.iter().map(|row| row.name.clone()).collect();
    for (i, row) in rows.iter_mut().enumerate() {
        let same = |upto: &[String]| upto.iter().filter(|name| **name == names[i]).count();
        if same(&names) > 1 {
            row.name = format!("{} ({})", names[i], same(&names[..=i]));
        }
    }
}

fn reference(found: &[(Medium, State)], rows: &[FluidRow], line: &Line) -> Result<Reference, SurgeError> {
    let is_water =
        |(medium, state): &(Medium, State)| medium.name() == "water" && state.aggregation == Aggregation::Liquid;
    if let Some(number) = found.iter().position(is_water) {
        let row = &rows[number];
        let (surge_per_velocity, return_time) = (row.surge_per_velocity, row.return_time);
        return Ok(Reference { label: row.label.clone(), surge_per_velocity, return_time, row: Some(number) });
    }
    let (medium, state) = read(WATER, 101_325.0)?;
    let speed = wave_speed(&state, line);
    Ok(Reference {
        label: fluid_label(&medium, &state),
        surge_per_velocity: state.density * speed,
        return_time: 2.0 * line.length / speed,
        row: None,
    })
}

fn remarks(found: &[(Medium, State)], rows: &[FluidRow], line: &Line, flow: Flow) -> Vec<String> {
    let mut all = Vec::new();
    all.extend(line.pipe.remark.clone());
    all.extend(line.pipe.material.caution().map(|caution| format!("{}: {caution}.", line.pipe.material.name())));
    for ((medium, _), row) in found.iter().zip(rows) {
        all.extend(medium.uncertainty().map(|words| format!("{}, uncertainty: {words}.", medium.name())));
        all.extend(medium.caution().map(|words| format!("{}: {words}.", medium.name())));
        if let Some(words) = line.pipe.material.attacked_by(&medium.name()) {
            all.push(format!("{} is shown in this pipe for comparison only: {words}.", medium.name()));
        }
        if row.velocity > FAST * row.wave_speed {
            all.push(format!(
                "{}: the velocity is above {FAST} of the wave speed, where ρ·a·Δv of small waves is only a guide.",
                row.name
            ));
        }
    }
    if matches!(flow, Flow::Velocity(_)) {
        all.push("With a stated velocity the open valve is taken to throttle nothing.".into());
    }
    all.push(
        "Left out: friction, free gas, what the line can bear. A little free gas lowers a and ρ·a; the line behind the \
         valve is taken as the same pipe, full of the same fluid, and only the first waves count: a throttle at its far end pulls deeper."
            .into(),
    );
    // Two states of one fluid have one remark.
    let mut seen = HashSet::new();
    all.retain(|remark| seen.insert(remark.clone()));
    all
}
