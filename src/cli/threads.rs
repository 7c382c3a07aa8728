//! How many threads.

use super::outcome::Failure;
use rayon::{ThreadPool, ThreadPoolBuilder};
use std::num::NonZero;

/// Threads that may be asked for, per core: more only wait for each other.
const PER_CORE: usize = 10;

/// The threads asked for; as many as cores unless stated, or with 0.
pub(super) fn pool(asked: Option<usize>) -> Result<ThreadPool, Failure> {
    let cores = std::thread::available_parallelism().map_or(1, NonZero::get);
    match asked.unwrap_or(0) {
        0 => Ok(ThreadPoolBuilder::new().num_threads(cores).build()?),
        threads if threads <= PER_CORE * cores => Ok(ThreadPoolBuilder::new().num_threads(threads).build()?),
        threads => Err(Failure(format!(
            "--threads {threads}: this machine has {} and takes at most {}; leave --threads out to use every core",
            if cores == 1 { "1 core".to_owned() } else { format!("{cores} cores") },
            PER_CORE * cores
        ))),
    }
}
