//! Duty, limits and settings of the run.

use super::defaults;
use super::model::{Duty, Limits, Run};
use super::reader::Reader;

/// How the coil is switched.
pub(super) fn duty(reader: &mut Reader<'_>) -> Duty {
    let mut duty = reader.table("duty");
    Duty { cycle_rate: duty.number("cycle_rate"), on_fraction: duty.number("on_fraction") }
}

/// What counts as too much.
pub(super) fn limits(reader: &mut Reader<'_>) -> Limits {
    let mut limits = reader.table("limits");
    Limits {
        peak_pressure: limits.optional("peak_pressure"),
        surge: limits.optional("surge"),
        seat_speed: limits.number_or("seat_speed", defaults::HARD_SEAT_SPEED),
        coil_temperature: limits.optional("coil_temperature"),
    }
}

/// Settings of the run.
pub(super) fn run(reader: &mut Reader<'_>) -> Run {
    let mut run = reader.table("run");
    Run {
        tolerance: run.number_or("tolerance", defaults::TOLERANCE),
        longest_on: run.number_or("longest_on", defaults::LONGEST_ON),
        longest_off: run.number_or("longest_off", defaults::LONGEST_OFF),
    }
}
