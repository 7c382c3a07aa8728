//! `quietseat heat`: how hot the winding gets over cycle rate and on-share.

use super::arguments::Heat;
use super::files::{finished, probe, written};
use super::outcome::{Failure, Outcome};
use super::{document, terminal};
use quietseat::output::caution::CAUTION;
use quietseat::output::csv;
use quietseat::output::figure::heat::heat as figure;
use quietseat::output::json::HeatDocument;
use quietseat::output::text::{heat_text, paragraph};
use quietseat::study::heat::{HeatJob, HeatStudy, heat};
use quietseat::units::{Dimension, parse};
use std::path::PathBuf;

/// Pixels per point of the PNG figure.
const PNG_SCALE: f64 = 2.0;

pub(super) fn run(arguments: &Heat) -> Result<Outcome, Failure> {
    let opened = document::open(&arguments.common)?;
    document::scenario(&opened, arguments.common.quiet)?;
    let job = job(arguments)?;
    probe(&arguments.out)?;
    let study = heat(&opened, &job)?;
    let files = save(arguments, &study);
    let words = if arguments.common.json {
        HeatDocument::new(&study).text()
    } else {
        let width = terminal::width();
        format!("{}\n{}", heat_text(&study, width), paragraph(CAUTION, width))
    };
    finished(files, terminal::print(&words), arguments.common.quiet)?;
    Ok(Outcome::of_verdict(study.adverse(), &arguments.strict))
}

fn job(arguments: &Heat) -> Result<HeatJob, Failure> {
    let rate = |option: &str, typed: &str| {
        let value = parse(typed, Dimension::CycleRate, f64::NAN).map_err(|e| Failure(format!("{option}: {e}")))?;
        // Beyond these no coil is switched, and a cycle would be no cycle.
        if (1e-7..=100.0).contains(&value) {
            return Ok(value);
        }
        Err(Failure(format!(
            "{option}: \"{typed}\" is beyond what coils are switched at, once in some months to 100 1/s"
        )))
    };
    let (from, to) = (rate("--from", &arguments.from)?, rate("--to", &arguments.to)?);
    if from >= to {
        return Err(Failure(format!("--from: \"{}\" is not below --to, \"{}\"", arguments.from, arguments.to)));
    }
    Ok(HeatJob { from, to, points: usize::from(arguments.points) })
}

fn save(arguments: &Heat, study: &HeatStudy) -> Result<Vec<PathBuf>, Failure> {
    let named = |ending: &str| arguments.out.join(format!("{}.heat.{ending}", study.scenario));
    let drawn = figure(study, CAUTION);
    let png = drawn.png(PNG_SCALE).map_err(|e| e.to_string())?;
    written(vec![(named("csv"), csv::heat(study)), (named("svg"), drawn.svg.into_bytes()), (named("png"), png)])
}
