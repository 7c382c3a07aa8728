//! `quietseat map`: many duties.

use super::arguments::Map;
use super::resume::{Keeper, fingerprint, known};
use super::{Failure, Outcome, cautions, document, terminal};
use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};
use quietseat::file::write;
use quietseat::output::figure::stability_map::stability_map as figure;
use quietseat::output::text::{map_summary, paragraph};
use quietseat::output::{csv, json};
use quietseat::scenario::{Document, Scenario};
use quietseat::study::map::{Cell, StabilityMap};
use quietseat::study::mappable::unmappable;
use quietseat::study::stability_map::{MapJob, grid, stability_map};
use std::collections::BTreeMap;
use std::io::IsTerminal;
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicBool, Ordering};

/// Pixels per point of the PNG figure.
const PNG_SCALE: f64 = 2.0;

/// Set by Ctrl-C.
static STOP: AtomicBool = AtomicBool::new(false);

pub(super) fn run(arguments: &Map) -> Result<Outcome, Failure> {
    let opened = document::open(&arguments.common)?;
    let scenario = document::scenario(&opened, arguments.common.quiet)?;
    if let Some(reason) = unmappable(&opened, &scenario, &grid(&opened)?.0) {
        return Err(Failure(reason));
    }
    let partial = arguments.out.join(format!("{}.map.partial", scenario.name));
    let inputs = fingerprint(&opened);
    let already = if arguments.resume { known(&partial, inputs) } else { BTreeMap::new() };
    if arguments.resume && !arguments.common.quiet {
        eprintln!("resume: {} columns with the same inputs are kept", already.len());
    }
    let keeper = Keeper::open(&partial, inputs, arguments.resume)
        .map_err(|e| format!("cannot write {}: {e}; choose another directory with --out", partial.display()))?;
    let map = compute(arguments, &opened, already, &keeper)?;
    if let Some(reason) = without_any_result(&map) {
        // A figure without a single result would show nothing.
        let _ = std::fs::remove_file(&partial);
        return Err(Failure(reason));
    }
    let files = save(arguments, &scenario, &map)?;
    let cancelled = map.cells.contains(&Cell::Missing);
    if !cancelled {
        let _ = std::fs::remove_file(&partial);
    }
    if arguments.common.json {
        let mut out = document::json(json::Command::Map, &opened, &scenario)?;
        out.map = Some(json::map_part(&map));
        out.counters = counters(&map);
        terminal::print(&format!("{}\n", out.text()));
    } else {
        let width = terminal::width();
        terminal::print(&map_summary(&map, width, terminal::colouring()));
        terminal::print(&format!("\n{}\n", paragraph(cautions::CAUTION, width)));
    }
    if !arguments.common.quiet {
        for file in files {
            eprintln!("wrote {}", file.display());
        }
    }
    if cancelled {
        return Err(Failure(format!(
            "interrupted; {} of {} columns are whole and kept. Go on with the same command and --resume ({})",
            whole_columns(&map),
            map.x.values.len(),
            partial.display()
        )));
    }
    Ok(Outcome::of_verdict(map.adverse_at_own_point() == Some(true), &arguments.strict))
}

/// Columns of which every cell is done.
fn whole_columns(map: &StabilityMap) -> usize {
    let columns = map.x.values.len();
    let whole = |column: &usize| !map.cells.iter().skip(*column).step_by(columns).any(|cell| *cell == Cell::Missing);
    (0..columns).filter(whole).count()
}

/// Why no cell has a result, if none has.
fn without_any_result(map: &StabilityMap) -> Option<String> {
    let reason = |cell: &Cell| match cell {
        Cell::WouldBoil(reason) | Cell::Failed(reason) => Some(reason.clone()),
        Cell::Done(_) | Cell::Missing => None,
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

fn compute(
    arguments: &Map,
    opened: &Document,
    already: BTreeMap<usize, Vec<Cell>>,
    keeper: &Keeper,
) -> Result<StabilityMap, Failure> {
    let (grid, _) = grid(opened)?;
    let (columns, rows) = (grid.x.values.len() as u64, grid.y.values.len());
    // A second handler in one process is refused; the first then serves.
    let _ = ctrlc::set_handler(|| STOP.store(true, Ordering::SeqCst));
    let bar = progress(arguments.common.quiet, columns * rows as u64);
    bar.inc((already.len() * rows) as u64);
    let stop = || STOP.load(Ordering::SeqCst);
    let finished = |column: usize, cells: &[Cell]| {
        keeper.keep(column, cells);
        bar.inc(cells.len() as u64);
    };
    let refined = |gaps: usize| {
        if bar.message() != "boundaries" {
            bar.set_message("boundaries");
            bar.set_length(gaps as u64);
            bar.set_position(0);
        }
        bar.inc(1);
    };
    let job = MapJob { known: already, stop: &stop, finished: &finished, refined: &refined };
    let pool = rayon::ThreadPoolBuilder::new().num_threads(arguments.threads.unwrap_or(0)).build()?;
    let map = pool.install(|| stability_map(opened, &job))?;
    bar.finish_and_clear();
    Ok(map)
}

fn progress(quiet: bool, length: u64) -> ProgressBar {
    let hidden = quiet || !std::io::stderr().is_terminal();
    let target = if hidden { ProgressDrawTarget::hidden() } else { ProgressDrawTarget::stderr() };
    let bar = ProgressBar::with_draw_target(Some(length), target).with_message("cells");
    let style = ProgressStyle::with_template("{msg} {bar:40} {pos}/{len}  left: {eta}");
    bar.with_style(style.unwrap_or_else(|_| ProgressStyle::default_bar()))
}

fn save(arguments: &Map, scenario: &Scenario, map: &StabilityMap) -> Result<Vec<PathBuf>, Failure> {
    let named = |ending: &str| arguments.out.join(format!("{}.map.{ending}", scenario.name));
    let mut written = Vec::new();
    let mut put = |path: PathBuf, content: &[u8]| -> Result<(), Failure> {
        put(&path, content)?;
        written.push(path);
        Ok(())
    };
    put(named("csv"), &csv::map(map))?;
    let drawn = figure(map, cautions::CAUTION);
    put(named("svg"), drawn.svg.as_bytes())?;
    put(named("png"), &drawn.png(PNG_SCALE).map_err(|e| e.to_string())?)?;
    Ok(written)
}

fn put(path: &Path, content: &[u8]) -> Result<(), Failure> {
    Ok(write::write(path, content)?)
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
