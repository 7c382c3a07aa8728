//! Which case comes when: every cycle has each target's share of cases, spread evenly, so that the case of a number never depends
//! on how fast the machine is.

use crate::target::Target;

/// The order of one cycle.
#[derive(Debug)]
pub(crate) struct Schedule {
    /// For each place in a cycle: the target, and how many of its cases came before in that cycle.
    places: Vec<(usize, u64)>,
    shares: Vec<u64>,
}

impl Schedule {
    pub(crate) fn new(targets: &[Target]) -> Schedule {
        let mut places: Vec<(f64, usize, u64)> = Vec::new();
        for (index, target) in targets.iter().enumerate() {
            places.extend((0..target.share).map(|n| ((n as f64 + 0.5) / target.share as f64, index, n as u64)));
        }
        places.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
        Schedule {
            places: places.into_iter().map(|(_, index, n)| (index, n)).collect(),
            shares: targets.iter().map(|target| target.share as u64).collect(),
        }
    }

    /// Cases in a cycle.
    pub(crate) fn cycle(&self) -> u64 {
        self.places.len() as u64
    }

    /// The target of that case and the case's number there.
    pub(crate) fn case(&self, number: u64) -> (usize, u64) {
        let (target, before) = self.places[(number % self.cycle()) as usize];
        (target, number / self.cycle() * self.shares[target] + before)
    }
}
