//! `quietseat surge`: what the same line and the same valve make of each fluid, by hand.

use super::arguments::{Held, Surge};
use super::{Failure, Outcome, cautions, terminal};
use quietseat::output::csv;
use quietseat::output::figure::surge::surge as figure;
use quietseat::output::json::SurgeDocument;
use quietseat::output::text::{paragraph, surge_text};
use quietseat::physics::wave_speed::Support;
use quietseat::pipe;
use quietseat::study::surge::{Flow, Line, SurgeComparison, USUAL_STATES, compare};
use quietseat::units::{Dimension, parse};
use std::path::PathBuf;

/// Pixels per point of the PNG figure.
const PNG_SCALE: f64 = 2.0;

pub(super) fn run(arguments: &Surge) -> Result<Outcome, Failure> {
    let comparison = compared(arguments)?;
    let files = save(arguments, &comparison);
    let words = if arguments.json {
        SurgeDocument::new(&comparison, &cautions::CAUTIONS).text()
    } else {
        let width = terminal::width();
        format!("{}\n{}", surge_text(&comparison, width), paragraph(cautions::CAUTION, width))
    };
    super::finished(files, terminal::print(&format!("{words}\n")), arguments.quiet)?;
    Ok(Outcome::Done)
}

fn compared(arguments: &Surge) -> Result<SurgeComparison, Failure> {
    let atmosphere = number("--atmosphere", &arguments.atmosphere, Dimension::AbsolutePressure)?;
    let support = match arguments.support {
        Held::Throughout => Support::Throughout,
        Held::Upstream => Support::Upstream,
        Held::Joints => Support::Joints,
    };
    let line = Line {
        pipe: pipe::parse(&arguments.pipe).map_err(|e| Failure(format!("--pipe: {e}")))?,
        length: positive("--length", &arguments.length, Dimension::Length, "10 m")?,
        support,
    };
    let flow = match &arguments.velocity {
        Some(text) => Flow::Velocity(positive("--velocity", text, Dimension::Velocity, "1 m/s")?),
        None => Flow::Valve {
            coefficient: positive("--kv", &arguments.kv, Dimension::FlowCoefficient, "2 Kv")?,
            differential: positive(
                "--differential",
                &arguments.differential,
                Dimension::PressureDifference,
                "0.1 bar",
            )?,
        },
    };
    let usual = || USUAL_STATES.map(String::from).to_vec();
    let states = if arguments.states.is_empty() { usual() } else { arguments.states.clone() };
    Ok(compare(&states, line, flow, atmosphere)?)
}

fn number(option: &str, text: &str, dimension: Dimension) -> Result<f64, Failure> {
    parse(text, dimension, f64::NAN).map_err(|e| Failure(format!("{option}: {e}")))
}

fn positive(option: &str, text: &str, dimension: Dimension, example: &str) -> Result<f64, Failure> {
    let value = number(option, text, dimension)?;
    if value > 0.0 {
        Ok(value)
    } else {
        Err(Failure(format!("{option}: \"{text}\" must be above zero, such as \"{example}\"")))
    }
}

fn save(arguments: &Surge, comparison: &SurgeComparison) -> Result<Vec<PathBuf>, Failure> {
    let named = |ending: &str| arguments.out.join(format!("surge.{ending}"));
    let drawn = figure(comparison, cautions::CAUTION);
    let png = drawn.png(PNG_SCALE).map_err(|e| e.to_string())?;
    super::written(vec![
        (named("csv"), csv::surge(comparison)),
        (named("svg"), drawn.svg.into_bytes()),
        (named("png"), png),
    ])
}
