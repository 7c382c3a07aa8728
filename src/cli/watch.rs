//! A map on its way, told to who waits for it: a bar on a terminal, else a line for each stage and how long it may take.

use super::terminal;
use indicatif::ProgressBar;
use quietseat::study::axis::Grid;
use quietseat::study::kept::Known;
use quietseat::study::map_job::Progress;
use std::io::IsTerminal;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use std::time::{Duration, Instant};

/// Cells from which on time and memory are told before the work.
const MANY: usize = 10_000;

/// Memory of a cell, bytes, with the text of what is kept of it: 10 kB from map to map of the air demonstration (384 and 1536
/// cells), and something for longer verdicts.
const MEMORY: usize = 12_000;

/// Time of which nothing needs to be told.
const SHORT: Duration = Duration::from_secs(3);

pub(super) struct Watch {
    bar: ProgressBar,
    lines: bool,
    begun: Instant,
    rows: usize,
    /// Columns that are not known from before.
    columns: usize,
    threads: usize,
    found: AtomicUsize,
    refining: AtomicBool,
}

impl Watch {
    pub(super) fn new(quiet: bool, grid: &Grid, known: &Known, threads: usize) -> Watch {
        let (columns, rows) = (grid.x.values.len(), grid.y.values.len());
        let bar = terminal::progress(quiet, (columns * rows) as u64, "{msg} {bar:40} {pos}/{len}  left: {eta}");
        bar.set_message("cells");
        let lines = !quiet && !std::io::stderr().is_terminal();
        let cells = columns * rows;
        if lines || (!quiet && cells >= MANY) {
            terminal::say(format!("map: {columns} × {rows} = {cells} cells on {threads} threads{}", memory(cells)));
        }
        Watch {
            bar,
            lines,
            begun: Instant::now(),
            rows,
            columns: columns - known.columns.len().min(columns),
            threads,
            found: AtomicUsize::new(0),
            refining: AtomicBool::new(false),
        }
    }

    pub(super) fn tell(&self, progress: &Progress<'_>, known: &Known) {
        match *progress {
            Progress::Column(column, cells) => {
                self.bar.inc(cells.len() as u64);
                if !known.columns.contains_key(&column) {
                    self.estimate(self.found.fetch_add(1, Ordering::SeqCst) + 1);
                }
            }
            Progress::Edge { of, .. } => {
                if !self.refining.swap(true, Ordering::SeqCst) {
                    self.stage("boundaries");
                    self.bar.set_length(of as u64);
                    self.bar.set_position(0);
                }
                self.bar.inc(1);
            }
            Progress::Theory => self.stage("theory"),
        }
    }

    fn stage(&self, name: &'static str) {
        self.bar.set_message(name);
        if self.lines {
            terminal::say(format!("map: {name}"));
        }
    }

    /// How long it takes, once, by the first columns: one for each thread or some of many, as the very first may be quick.
    fn estimate(&self, found: usize) {
        let enough = self.threads.max(self.columns / 16);
        let told = self.lines || self.rows * self.columns >= MANY;
        if found != enough || found == self.columns || !told {
            return;
        }
        let left = self.begun.elapsed().mul_f64((self.columns - found) as f64 / found as f64);
        if left < SHORT {
            return;
        }
        self.bar.suspend(|| {
            let left = long(left);
            terminal::say(format!("map: about {left} to go, by the first {found} columns; boundaries come after"));
        });
    }

    pub(super) fn clear(&self) {
        self.bar.finish_and_clear();
    }
}

fn memory(cells: usize) -> String {
    match (cells * MEMORY) as f64 / 1e9 {
        little if little < 0.2 => String::new(),
        much => format!(", about {much:.1} GB of memory"),
    }
}

fn long(time: Duration) -> String {
    match time.as_secs() {
        seconds if seconds < 100 => format!("{seconds} s"),
        seconds if seconds < 6000 => format!("{} min", seconds.div_ceil(60)),
        seconds if seconds < 360_000 => format!("{} h", seconds.div_ceil(3600)),
        seconds => format!("{} days", seconds.div_ceil(86_400)),
    }
}
