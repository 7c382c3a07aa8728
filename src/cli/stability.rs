//! `quietseat stability`: why the stage chatters, and what quiets it.

use super::arguments::Stability;
use super::files::{finished, probe, written};
use super::outcome::{Failure, Outcome};
use super::{document, terminal, threads};
use quietseat::output::caution::CAUTION;
use quietseat::output::figure::stability::stability as figure;
use quietseat::output::text::{paragraph, stability_text};
use quietseat::output::{csv, json};
use quietseat::scenario::{Document, Scenario};
use quietseat::study::asked::asked;
use quietseat::study::stability::{StabilityJob, StabilityStudy, stability};
use quietseat::units::{Dimension, parse};
use std::path::PathBuf;

/// Pixels per point of the PNG figure.
const PNG_SCALE: f64 = 2.0;

pub(super) fn run(arguments: &Stability) -> Result<Outcome, Failure> {
    let opened = document::open(&arguments.common)?;
    let scenario = document::scenario(&opened, arguments.common.quiet)?;
    let range = range(arguments)?;
    probe(&arguments.out)?;
    if !arguments.common.quiet {
        terminal::say(format!(
            "stability: equilibria and small motions at {} differentials; cures by runs …",
            arguments.points
        ));
    }
    let study = compute(arguments, &opened, range)?;
    let files = save(arguments, &study);
    finished(files, print(arguments, &opened, &scenario, &study), arguments.common.quiet)?;
    Ok(Outcome::of_verdict(study.adverse(), &arguments.strict))
}

fn print(arguments: &Stability, opened: &Document, scenario: &Scenario, study: &StabilityStudy) -> Result<(), Failure> {
    if arguments.common.json {
        let answer = json::stability_answer(&asked(opened, scenario)?, study);
        return terminal::print(&format!("{}\n", answer.text()));
    }
    let width = terminal::width();
    let text = stability_text(study, width, terminal::colouring());
    terminal::print(&format!("{text}\n{}\n", paragraph(CAUTION, width)))
}

/// The study on the threads asked for, with the progress of the search for cures.
fn compute(arguments: &Stability, opened: &Document, range: Option<(f64, f64)>) -> Result<StabilityStudy, Failure> {
    let bar = terminal::progress(arguments.common.quiet, 0, "{msg} {bar:40} {pos}/{len}");
    bar.set_message("changes tried");
    let planned = |searches: usize| bar.set_length(searches as u64);
    let finished = || bar.inc(1);
    let points = usize::from(arguments.points);
    let job =
        StabilityJob { range, points, cures: !arguments.no_cures, only: None, planned: &planned, finished: &finished };
    let pool = threads::pool(arguments.threads)?;
    let study = pool.install(|| stability(opened, &job))?;
    bar.finish_and_clear();
    Ok(study)
}

/// The ends of the curve, Pa; none unless stated.
fn range(arguments: &Stability) -> Result<Option<(f64, f64)>, Failure> {
    let (Some(from), Some(to)) = (&arguments.from, &arguments.to) else { return Ok(None) };
    let pressure = |option: &str, text: &str| {
        parse(text, Dimension::PressureDifference, f64::NAN).map_err(|e| Failure(format!("{option}: {e}")))
    };
    let (low, high) = (pressure("--from", from)?, pressure("--to", to)?);
    if low <= 0.0 || high <= low {
        return Err(Failure(format!(
            "--from {from} --to {to}: the curve needs a lower end above zero and an upper end above the lower one; write, for \
             example, --from '0.03 bar' --to '0.3 bar'"
        )));
    }
    Ok(Some((low, high)))
}

fn save(arguments: &Stability, study: &StabilityStudy) -> Result<Vec<PathBuf>, Failure> {
    let drawn = figure(study, CAUTION);
    let named = |ending: &str| arguments.out.join(format!("{}.stability.{ending}", study.scenario));
    let files = vec![
        (named("csv"), csv::stability(study)),
        (named("svg"), drawn.svg.clone().into_bytes()),
        (named("png"), drawn.png(PNG_SCALE).map_err(|e| e.to_string())?),
    ];
    written(files)
}
