//! `quietseat surge`: what the same line and the same valve make of each fluid, by hand.

use super::arguments::{Held, Surge};
use super::files::{finished, written};
use super::outcome::{Failure, Outcome};
use super::{fluid, terminal};
use quietseat::output::caution::{CAUTION, CAUTIONS};
use quietseat::output::csv;
use quietseat::output::figure::surge::surge as figure;
use quietseat::output::json::SurgeDocument;
use quietseat::output::text::{paragraph, surge_text};
use quietseat::physics::line::wave_speed::Support;
use quietseat::pipe;
use quietseat::quote;
use quietseat::study::surge::{Flow, Line, SurgeComparison, USUAL_STATES, compare};
use quietseat::units::{Dimension, parse, text};
use std::path::PathBuf;

/// Pixels per point of the PNG figure.
const PNG_SCALE: f64 = 2.0;

pub(super) fn run(arguments: &Surge) -> Result<Outcome, Failure> {
    let comparison = compared(arguments)?;
    let files = save(arguments, &comparison);
    let words = if arguments.json {
        SurgeDocument::new(&comparison, &CAUTIONS).text()
    } else {
        let width = terminal::width();
        format!("{}\n{}", surge_text(&comparison, width), paragraph(CAUTION, width))
    };
    finished(files, terminal::print(&format!("{words}\n")), arguments.quiet)?;
    Ok(Outcome::Done)
}

fn compared(arguments: &Surge) -> Result<SurgeComparison, Failure> {
    let atmosphere = fluid::atmosphere(&arguments.atmosphere)?;
    let support = match arguments.support {
        Held::Throughout => Support::Throughout,
        Held::Upstream => Support::Upstream,
        Held::Joints => Support::Joints,
    };
    let line = Line {
        pipe: pipe::parse(&arguments.pipe).map_err(|e| Failure(format!("--pipe: {e}")))?,
        length: within("--length", &arguments.length, Dimension::Length, LENGTHS, "10 m")?,
        support,
    };
    let flow = match &arguments.velocity {
        Some(typed) => Flow::Velocity(within("--velocity", typed, Dimension::Velocity, VELOCITIES, "1 m/s")?),
        None => Flow::Valve {
            coefficient: within("--kv", &arguments.kv, Dimension::FlowCoefficient, COEFFICIENTS, "2 Kv")?,
            differential: within(
                "--differential",
                &arguments.differential,
                Dimension::PressureDifference,
                DIFFERENTIALS,
                "0.1 bar",
            )?,
        },
    };
    let usual = || USUAL_STATES.map(String::from).to_vec();
    let states = if arguments.states.is_empty() { usual() } else { arguments.states.clone() };
    Ok(compare(&states, line, flow, atmosphere)?)
}

/// Ranges of what can be typed, SI: wide enough for any line, too narrow for slips of a unit (judgement).
const LENGTHS: (f64, f64) = (1e-3, 1e6);
const VELOCITIES: (f64, f64) = (1e-6, 1e4);
const COEFFICIENTS: (f64, f64) = (1e-10, 1e2);
const DIFFERENTIALS: (f64, f64) = (1e-3, 1e9);

/// A value that must lie in a range.
fn within(option: &str, typed: &str, kind: Dimension, range: (f64, f64), example: &str) -> Result<f64, Failure> {
    let value = parse(typed, kind, f64::NAN).map_err(|e| Failure(format!("{option}: {e}")))?;
    if (range.0..=range.1).contains(&value) {
        return Ok(value);
    }
    let found = quote::word(typed);
    let wanted = if value > 0.0 {
        format!("is beyond what this is for, {} to {}", text(range.0, kind), text(range.1, kind))
    } else {
        "must be above zero".to_owned()
    };
    Err(Failure(format!("{option}: \"{found}\" {wanted}; write it such as \"{example}\"")))
}

fn save(arguments: &Surge, comparison: &SurgeComparison) -> Result<Vec<PathBuf>, Failure> {
    let named = |ending: &str| arguments.out.join(format!("surge.{ending}"));
    let drawn = figure(comparison, CAUTION);
    let png = drawn.png(PNG_SCALE).map_err(|e| e.to_string())?;
    written(vec![(named("csv"), csv::surge(comparison)), (named("svg"), drawn.svg.into_bytes()), (named("png"), png)])
}
