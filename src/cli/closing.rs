//! `quietseat closing`: would a slower closing avoid the hammer, and what is the smallest change that does?

use super::arguments::Closing;
use super::{Failure, Outcome, cautions, document, terminal};
use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};
use quietseat::file::write;
use quietseat::output::figure::closing::closing as figure;
use quietseat::output::text::{Points, closing_text, paragraph};
use quietseat::output::{csv, json};
use quietseat::scenario::{Document, Scenario};
use quietseat::study::closing::{ClosingJob, ClosingStudy, Goal, closing};
use quietseat::units::{Dimension, parse};
use std::io::IsTerminal;
use std::path::PathBuf;

/// Pixels per point of the PNG figure.
const PNG_SCALE: f64 = 2.0;

pub(super) fn run(arguments: &Closing) -> Result<Outcome, Failure> {
    let opened = document::open(&arguments.common)?;
    let scenario = document::scenario(&opened, arguments.common.quiet)?;
    let goal = goal(arguments, &scenario)?;
    let least_bleed = least_bleed(arguments)?;
    // A directory that cannot be written is found out before the work, not after it.
    write::write(&arguments.out.join(".quietseat"), b"")?;
    let _ = std::fs::remove_file(arguments.out.join(".quietseat"));
    let study = compute(arguments, &opened, goal, least_bleed)?;
    let files = save(arguments, &scenario, &study)?;
    if arguments.common.json {
        let mut out = document::json(json::Command::Closing, &opened, &scenario)?;
        out.closing = Some(json::closing_part(&study));
        terminal::print(&format!("{}\n", out.text()));
    } else {
        let points = if arguments.all { Points::All } else { Points::Bleed };
        terminal::print(&closing_text(&study, points, terminal::width()));
        terminal::print(&format!("\n{}\n", paragraph(cautions::CAUTION, terminal::width())));
    }
    if !arguments.common.quiet {
        for file in files {
            eprintln!("wrote {}", file.display());
        }
    }
    Ok(Outcome::of_verdict(study.adverse(), &arguments.strict))
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
        return Err(wrong("--target-surge", &"must be above zero"));
    }
    Ok(Some(Goal::Surge(limit)))
}

fn least_bleed(arguments: &Closing) -> Result<f64, Failure> {
    let least = parse(&arguments.least_bleed, Dimension::Length, f64::NAN)
        .map_err(|e| Failure(format!("--least-bleed: {e}")))?;
    if least > 0.0 { Ok(least) } else { Err(Failure("--least-bleed: must be above zero".into())) }
}

fn compute(
    arguments: &Closing,
    opened: &Document,
    goal: Option<Goal>,
    least_bleed: f64,
) -> Result<ClosingStudy, Failure> {
    let hidden = arguments.common.quiet || !std::io::stderr().is_terminal();
    let target = if hidden { ProgressDrawTarget::hidden() } else { ProgressDrawTarget::stderr() };
    let style = ProgressStyle::with_template("{msg} {bar:40} {pos}/{len}  left: {eta}");
    let bar = ProgressBar::with_draw_target(Some(0), target)
        .with_message("runs")
        .with_style(style.unwrap_or_else(|_| ProgressStyle::default_bar()));
    let planned = |runs: usize| bar.set_length(runs as u64);
    let finished = || {
        bar.inc(1);
        if Some(bar.position()) == bar.length() {
            bar.set_message("solving");
        }
    };
    let job = ClosingJob { goal, least_bleed, only: None, planned: &planned, finished: &finished };
    let pool = rayon::ThreadPoolBuilder::new().num_threads(arguments.threads.unwrap_or(0)).build()?;
    let study = pool.install(|| closing(opened, &job))?;
    bar.finish_and_clear();
    Ok(study)
}

fn save(arguments: &Closing, scenario: &Scenario, study: &ClosingStudy) -> Result<Vec<PathBuf>, Failure> {
    let named = |ending: &str| arguments.out.join(format!("{}.closing.{ending}", scenario.name));
    let drawn = figure(study, cautions::CAUTION);
    let files = [
        (named("csv"), csv::closing(study)),
        (named("svg"), drawn.svg.clone().into_bytes()),
        (named("png"), drawn.png(PNG_SCALE).map_err(|e| e.to_string())?),
    ];
    super::written(files)
}
