//! Numbers read off a trace, each defined once in `list.rs`. A simulated run and a recorded one are read alike.

mod chief;
pub mod cycle;
mod energised;
mod firm;
mod firmness;
mod list;
mod magnet;
mod motion;
pub mod phase;
mod power;
mod pressure;
mod reference;

pub use energised::Energised;
pub use firm::noise;
pub use firmness::Firmness;
pub use list::{Indicator, Indicators};
pub use reference::{Hand, Rectified, Reference};

use crate::trace::Trace;

/// All indicators of a trace.
pub fn read(trace: &Trace, reference: &Reference) -> Indicators {
    let mut found = Indicators {
        lift_off_differential: reference.hand.lift_off_differential,
        full_lift_differential: reference.hand.full_lift_differential,
        highest_opening_differential: reference.hand.highest_opening_differential,
        inrush_current: reference.hand.inrush_current,
        inrush_apparent_power: reference.hand.inrush_apparent_power,
        gearing_number: reference.hand.gearing_number,
        pull_in_margin: reference.hand.pull_in_margin,
        holding_margin: reference.hand.holding_margin,
        wave_return_time: Some(reference.upstream_return),
        coil_temperature: Some(reference.coil_temperature),
        mains_frequency: reference.mains_frequency,
        ..Indicators::default()
    };
    let Some(cycle) = phase::last_cycle_of(trace, reference.energised) else { return found };
    found.open_time = Some(cycle.shut - cycle.open);
    found.shut_time = Some(cycle.end - cycle.shut);
    let start = cycle::judged_start(trace, cycle, reference);
    let steady = cycle::steady_start(cycle, start, reference);
    motion::read(trace, cycle, [start, steady], reference, &mut found);
    pressure::read(trace, cycle, [start, steady], reference, &mut found);
    let spans = magnet::spans(trace, cycle, [start, steady], reference, &mut found);
    magnet::read(trace, spans, reference, &mut found);
    power::read(trace, spans, reference, &mut found);
    found
}

#[cfg(test)]
mod tests;
