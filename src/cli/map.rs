//! `quietseat map`: many duties.

use super::arguments::Map;
use super::files::{finished, written};
use super::outcome::{Failure, Outcome};
use super::resume::{Keeper, owner};
use super::watch::Watch;
use super::{document, interrupt, terminal, threads};
use quietseat::output::caution::CAUTION;
use quietseat::output::figure::stability_map::stability_map as figure;
use quietseat::output::text::{map_summary, paragraph};
use quietseat::output::{csv, json};
use quietseat::scenario::{Document, Scenario};
use quietseat::study::asked::asked;
use quietseat::study::kept::Known;
use quietseat::study::map::StabilityMap;
use quietseat::study::map_job::{MapError, MapJob, Progress};
use quietseat::study::mappable::unmappable;
use quietseat::study::stability_map::{grid, stability_map};
use std::path::PathBuf;

/// Pixels per point of the PNG figure.
const PNG_SCALE: f64 = 2.0;

pub(super) fn run(arguments: &Map) -> Result<Outcome, Failure> {
    let opened = document::open(&arguments.common)?;
    let scenario = document::scenario(&opened, arguments.common.quiet)?;
    let (grid, _) = grid(&opened)?;
    if let Some(reason) = unmappable(&opened, &scenario, &grid) {
        return Err(Failure(reason));
    }
    let pool = threads::pool(arguments.threads)?;
    // From here on there is something to keep.
    interrupt::hold();
    let (keeper, before) = Keeper::open(&arguments.out, &scenario.name, &owner(&opened, &grid)?)?;
    if !arguments.common.quiet {
        before.remarks(arguments.resume).iter().for_each(terminal::say);
    }
    let known = if arguments.resume { before.reading.known } else { Known::default() };
    let watch = Watch::new(arguments.common.quiet, &grid, &known, pool.current_num_threads());
    let told = |progress: Progress<'_>| {
        keeper.keep(&progress);
        watch.tell(&progress, &known);
    };
    let job = MapJob { known: &known, stop: &interrupt::asked, told: &told };
    let map = pool.install(|| stability_map(&opened, &job));
    watch.clear();
    let map = match map {
        Err(MapError::Stopped) => return Err(stopped(&keeper, grid.x.values.len())),
        map => map?,
    };
    if let Some(reason) = map.without_any_result() {
        keeper.remove();
        return Err(Failure(reason));
    }
    let files = files(arguments, &scenario, &map)?;
    if interrupt::asked() {
        return Err(stopped(&keeper, grid.x.values.len()));
    }
    let files = saved(files, &keeper, grid.x.values.len());
    finished(files, print(arguments, &opened, &scenario, &map), arguments.common.quiet)?;
    Ok(Outcome::of_verdict(map.adverse_at_own_point() == Some(true), &arguments.strict))
}

/// What a map that was stopped leaves: its kept part, and what to do with it.
fn stopped(keeper: &Keeper, columns: usize) -> Failure {
    Failure(format!("interrupted; no map is written. {}", keeper.finish(columns)))
}

/// Writes the files; where that fails, what was computed is kept.
fn saved(files: Vec<(PathBuf, Vec<u8>)>, keeper: &Keeper, columns: usize) -> Result<Vec<PathBuf>, Failure> {
    match written(files) {
        Ok(paths) => {
            keeper.remove();
            Ok(paths)
        }
        Err(Failure(reason)) => Err(Failure(format!("{reason}. {}", keeper.finish(columns)))),
    }
}

fn print(arguments: &Map, opened: &Document, scenario: &Scenario, map: &StabilityMap) -> Result<(), Failure> {
    if arguments.common.json {
        let answer = json::map_answer(&asked(opened, scenario)?, map);
        return terminal::print(&format!("{}\n", answer.text()));
    }
    let width = terminal::width();
    let summary = map_summary(map, width, terminal::colouring());
    terminal::print(&format!("{summary}\n{}\n", paragraph(CAUTION, width)))
}

fn files(arguments: &Map, scenario: &Scenario, map: &StabilityMap) -> Result<Vec<(PathBuf, Vec<u8>)>, Failure> {
    let named = |ending: &str| arguments.out.join(format!("{}.map.{ending}", scenario.name));
    let drawn = figure(map, CAUTION);
    let png = drawn.png(PNG_SCALE).map_err(|e| e.to_string())?;
    Ok(vec![(named("csv"), csv::map(map)), (named("svg"), drawn.svg.into_bytes()), (named("png"), png)])
}
