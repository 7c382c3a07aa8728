//! What a map needs beside its document, what it tells on its way, and why there may be none.

use super::kept::Known;
use super::map::Cell;
use crate::scenario::Problems;
use std::fmt;

/// What a map needs beside its document.
pub struct MapJob<'a> {
    /// What is known from before.
    pub known: &'a Known,
    /// Asked often: give up?
    pub stop: &'a (dyn Fn() -> bool + Sync),
    /// Told how it goes, by many threads.
    pub told: &'a (dyn Fn(Progress<'_>) + Sync),
}

/// How a map goes.
#[derive(Clone, Copy, Debug)]
pub enum Progress<'a> {
    /// A column is finished, or known from before.
    Column(usize, &'a [Cell]),
    /// A boundary is refined, or known from before: its column and row, its x, and the number of all.
    Edge {
        /// Column and row of the cell before it.
        place: (usize, usize),
        /// Where it is, SI.
        x: f64,
        /// Number of all boundaries.
        of: usize,
    },
    /// All boundaries are refined: the theory's line is computed.
    Theory,
}

/// Why there is no map at all.
#[derive(Clone, Debug)]
pub enum MapError {
    /// The scenario has problems.
    Scenario(Problems),
    /// An axis names no number.
    Axis(String),
    /// It was stopped; what was told is good.
    Stopped,
}

impl fmt::Display for MapError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            MapError::Scenario(problems) => problems.fmt(f),
            MapError::Axis(path) => write!(f, "map axis {path} is no number of the scenario"),
            MapError::Stopped => f.write_str("stopped before the map was whole"),
        }
    }
}

impl std::error::Error for MapError {}
