//! Random plausible scenarios: the numbers of a demonstration, each spread by up to a factor of three either way, the same every
//! time.

use quietseat::scenario::{Document, Row, Scenario, echo};

/// A small generator of the same numbers every time (xorshift: G. Marsaglia, Journal of Statistical Software 8 (2003)
/// no. 14, from memory).
pub(crate) struct Numbers(u64);

impl Numbers {
    /// Numbers that follow from a seed.
    pub(crate) fn new(seed: u64) -> Self {
        Numbers(seed.wrapping_mul(0x9e37_79b9_7f4a_7c15) | 1)
    }

    fn next(&mut self) -> u64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        self.0
    }

    /// A whole number below `end`.
    pub(crate) fn below(&mut self, end: usize) -> usize {
        (self.next() % end.max(1) as u64) as usize
    }

    /// Evenly between 0 and 1.
    pub(crate) fn share(&mut self) -> f64 {
        (self.next() >> 11) as f64 / (1u64 << 53) as f64
    }
}

/// What differs from plant to plant and from valve to valve.
const SPREAD: &[&str] = &[
    "supply.differential",
    "supply.pulsation",
    "supply.pulsation_frequency",
    "upstream.length",
    "upstream.bore",
    "downstream.length",
    "downstream.bore",
    "sink.throttle_kv",
    "flow.mass_flow",
    "flow.refrigerating_duty",
    "valve.pilot.diameter",
    "valve.pilot.length",
    "valve.bleed.diameter",
    "valve.bleed.length",
    "valve.chamber.volume",
    "valve.chamber.trapped_gas",
    "valve.main.effective_diameter",
    "valve.main.seat_diameter",
    "valve.main.lift",
    "valve.main.mass",
    "valve.main.preload",
    "valve.main.spring_rate",
    "valve.main.damping",
    "valve.main.diaphragm.bulge_compliance",
    "valve.main.diaphragm.bulge_resistance",
    "valve.inlet.volume",
    "valve.inlet.gas",
    "valve.outlet.volume",
    "duty.cycle_rate",
];

/// A demonstration of which one to four numbers were spread, with what was changed; none where the result is refused as a
/// scenario.
pub(crate) fn plausible(base: &Document, numbers: &mut Numbers) -> Option<(Scenario, String)> {
    let rows = echo(base).ok()?;
    let stated: Vec<&Row> =
        rows.iter().filter(|r| SPREAD.contains(&r.path.as_str()) && r.value != 0.0 && r.value.is_finite()).collect();
    let mut changed = base.clone();
    let mut said = base.name().to_owned();
    for _ in 0..=numbers.below(4) {
        let row = stated[numbers.below(stated.len())];
        let value = row.value * 3f64.powf(2.0 * numbers.share() - 1.0);
        changed = changed.with_number(&row.path, value).ok()?;
        said.push_str(&format!(" {}={value:e}", row.path));
    }
    Some((changed.scenario().ok()?.0, said))
}
