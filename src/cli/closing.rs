//! `quietseat closing`: would a slower closing avoid the hammer, and what is the smallest change that does?

use super::arguments::Closing;
use super::{Failure, Outcome, document, terminal, threads};
use quietseat::output::caution::CAUTION;
use quietseat::output::figure::closing::closing as figure;
use quietseat::output::text::{Points, closing_text, paragraph};
use quietseat::output::{csv, json};
use quietseat::scenario::{Document, Scenario};
use quietseat::study::asked::asked;
use quietseat::study::closing::{ClosingJob, ClosingStudy, Goal, closing};
use quietseat::units::{Dimension, parse};
use std::path::PathBuf;

/// Pixels per point of the PNG figure.
const PNG_SCALE: f64 = 2.0;

pub(super) fn run(arguments: &Closing) -> Result<Outcome, Failure> {
    let opened = document::open(&arguments.common)?;
    let scenario = document::scenario(&opened, arguments.common.quiet)?;
    let goal = goal(arguments, &scenario)?;
    let least_bleed = least_bleed(arguments)?;
    super::probe(&arguments.out)?;
    let study = compute(arguments, &opened, goal, least_bleed)?;
    let files = save(arguments, &scenario, &study);
    super::finished(files, print(arguments, &opened, &scenario, &study), arguments.common.quiet)?;
    Ok(Outcome::of_verdict(study.adverse(), &arguments.strict))
}

fn print(arguments: &Closing, opened: &Document, scenario: &Scenario, study: &ClosingStudy) -> Result<(), Failure> {
    if arguments.common.json {
        let answer = json::closing_answer(&asked(opened, scenario)?, study);
        return terminal::print(&format!("{}\n", answer.text()));
    }
    let (points, width) = (if arguments.all { Points::All } else { Points::Leading }, terminal::width());
    let text = closing_text(study, points, width);
    terminal::print(&format!("{text}\n{}\n", paragraph(CAUTION, width)))
}

/// The target as typed.
fn goal(arguments: &Closing, scenario: &Scenario) -> Result<Option<Goal>, Failure> {
    let wrong = |option: &str, cause: &dyn std::fmt::Display| Failure(format!("{option}: {cause}"));
    if let Some(text) = &arguments.target {
        let limit = parse(text, Dimension::AbsolutePressure, scenario.atmosphere).map_err(|e| wrong("--target", &e))?;
        return Ok(Some(Goal::Peak(limit)));
    }
    let Some(text) = &arguments.target_surge else { return Ok(None) };
    let limit = parse(text, Dimension::PressureDifference, f64::NAN).map_err(|e| wrong("--target-surge", &e))?;
    if limit <= 0.0 {
        return Err(wrong("--target-surge", &format!("\"{text}\" must be above zero, such as \"2 bar\"")));
    }
    Ok(Some(Goal::Surge(limit)))
}

fn least_bleed(arguments: &Closing) -> Result<f64, Failure> {
    let least = parse(&arguments.least_bleed, Dimension::Length, f64::NAN)
        .map_err(|e| Failure(format!("--least-bleed: {e}")))?;
    if least > 0.0 {
        Ok(least)
    } else {
        Err(Failure(format!("--least-bleed: \"{}\" must be above zero, such as \"0.4 mm\"", arguments.least_bleed)))
    }
}

fn compute(
    arguments: &Closing,
    opened: &Document,
    goal: Option<Goal>,
    least_bleed: f64,
) -> Result<ClosingStudy, Failure> {
    let bar = terminal::progress(arguments.common.quiet, 0, "{msg} {bar:40} {pos}/{len}  left: {eta}");
    bar.set_message("runs");
    let planned = |runs: usize| bar.set_length(runs as u64);
    let finished = || {
        bar.inc(1);
        if Some(bar.position()) == bar.length() {
            bar.set_message("solving");
        }
    };
    let job = ClosingJob { goal, least_bleed, only: None, planned: &planned, finished: &finished };
    let pool = threads::pool(arguments.threads)?;
    let study = pool.install(|| closing(opened, &job))?;
    bar.finish_and_clear();
    Ok(study)
}

fn save(arguments: &Closing, scenario: &Scenario, study: &ClosingStudy) -> Result<Vec<PathBuf>, Failure> {
    let named = |ending: &str| arguments.out.join(format!("{}.closing.{ending}", scenario.name));
    let drawn = figure(study, CAUTION);
    let files = vec![
        (named("csv"), csv::closing(study)),
        (named("svg"), drawn.svg.clone().into_bytes()),
        (named("png"), drawn.png(PNG_SCALE).map_err(|e| e.to_string())?),
    ];
    super::written(files)
}
