//! `quietseat map`: many duties.

use super::arguments::Map;
use super::resume::{Keeper, owner};
use super::watch::Watch;
use super::{Failure, Outcome, cautions, document, interrupt, terminal, threads};
use quietseat::output::figure::stability_map::stability_map as figure;
use quietseat::output::text::{map_summary, paragraph};
use quietseat::output::{csv, json};
use quietseat::scenario::{Document, Scenario};
use quietseat::study::kept::Known;
use quietseat::study::map::{Cell, StabilityMap};
use quietseat::study::mappable::unmappable;
use quietseat::study::stability_map::{MapError, MapJob, Progress, grid, stability_map};
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
    if let Some(reason) = without_any_result(&map) {
        // A figure without a single result would show nothing.
        keeper.remove();
        return Err(Failure(reason));
    }
    let files = files(arguments, &scenario, &map)?;
    if interrupt::asked() {
        return Err(stopped(&keeper, grid.x.values.len()));
    }
    let files = saved(files, &keeper, grid.x.values.len());
    super::finished(files, print(arguments, &opened, &scenario, &map), arguments.common.quiet)?;
    Ok(Outcome::of_verdict(map.adverse_at_own_point() == Some(true), &arguments.strict))
}

/// What a map that was stopped leaves: its kept part, and what to do with it.
fn stopped(keeper: &Keeper, columns: usize) -> Failure {
    Failure(format!("interrupted; no map is written. {}", keeper.finish(columns)))
}

/// Writes the files; where that fails, what was computed is kept.
fn saved(files: Vec<(PathBuf, Vec<u8>)>, keeper: &Keeper, columns: usize) -> Result<Vec<PathBuf>, Failure> {
    match super::written(files) {
        Ok(paths) => {
            keeper.remove();
            Ok(paths)
        }
        Err(Failure(reason)) => Err(Failure(format!("{reason}. {}", keeper.finish(columns)))),
    }
}

fn print(arguments: &Map, opened: &Document, scenario: &Scenario, map: &StabilityMap) -> Result<(), Failure> {
    if arguments.common.json {
        let mut out = document::json(json::Command::Map, opened, scenario)?;
        out.map = Some(json::map_part(map));
        out.counters = counters(map);
        return terminal::print(&format!("{}\n", out.text()));
    }
    let width = terminal::width();
    let summary = map_summary(map, width, terminal::colouring());
    terminal::print(&format!("{summary}\n{}\n", paragraph(cautions::CAUTION, width)))
}

/// Why no cell has a result, if none has.
fn without_any_result(map: &StabilityMap) -> Option<String> {
    let reason = |cell: &Cell| match cell {
        Cell::WouldBoil(reason) | Cell::Failed(reason) => Some(reason.clone()),
        Cell::Done(_) => None,
    };
    let reasons: Vec<String> = map.cells.iter().map(reason).collect::<Option<_>>()?;
    let (all, first) = (reasons.len(), reasons.first().map_or("", String::as_str));
    Some(match count(map, |cell| matches!(cell, Cell::WouldBoil(_))) {
        0 => format!("all {all} cells failed; the first: {first}"),
        boil if boil == all => format!("in all {all} cells the liquid would boil; the first: {first}"),
        boil => {
            format!("of {all} cells none has a result: {boil} would boil, {} failed; the first: {first}", all - boil)
        }
    })
}

fn count(map: &StabilityMap, member: fn(&Cell) -> bool) -> usize {
    map.cells.iter().filter(|cell| member(cell)).count()
}

fn files(arguments: &Map, scenario: &Scenario, map: &StabilityMap) -> Result<Vec<(PathBuf, Vec<u8>)>, Failure> {
    let named = |ending: &str| arguments.out.join(format!("{}.map.{ending}", scenario.name));
    let drawn = figure(map, cautions::CAUTION);
    let png = drawn.png(PNG_SCALE).map_err(|e| e.to_string())?;
    Ok(vec![(named("csv"), csv::map(map)), (named("svg"), drawn.svg.into_bytes()), (named("png"), png)])
}

/// Sums over all cells that were simulated themselves.
fn counters(map: &StabilityMap) -> Vec<json::CounterRow> {
    let own = map.cells.iter().filter_map(|cell| match cell {
        Cell::Done(result) if result.reused_from_row.is_none() => Some(result),
        _ => None,
    });
    let (runs, steps, evaluations) =
        own.fold((0, 0, 0), |(n, s, e), result| (n + 1, s + result.steps, e + result.evaluations));
    let row = |name: &str, value: u64| json::CounterRow { name: name.into(), value };
    vec![
        row("cells", map.cells.len() as u64),
        row("cells with a run of their own", runs),
        row("cells that would boil", count(map, |cell| matches!(cell, Cell::WouldBoil(_))) as u64),
        row("failed cells", count(map, |cell| matches!(cell, Cell::Failed(_))) as u64),
        row("steps", steps),
        row("evaluations of the right-hand side", evaluations),
    ]
}
