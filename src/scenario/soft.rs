//! What makes a valve close softly, and what leaks past its piston.

use super::defaults;
use super::reader::Reader;
use super::vocabulary::join;
use crate::key::Key;
use crate::physics::parts::{Clearance, Cushion, Pin, RingLeak, SplitRing};
use crate::units::Dimension;

/// The pin of the bleed, where its table is stated.
pub(super) fn pin(reader: &mut Reader<'_>) -> Option<Pin> {
    let table = "valve.bleed.pin";
    if !reader.states(table) {
        return None;
    }
    let pin = Pin::read(&mut reader.table(table));
    let how = if pin.taper.is_some() { "a linear taper, as stated" } else { "a step: no taper is stated" };
    reader.derived("valve.bleed.pin.narrows_over", pin.shoulder(), Dimension::Length, how);
    Some(pin)
}

/// The cushion of the main stage, where its table is stated.
pub(super) fn cushion(reader: &mut Reader<'_>) -> Option<Cushion> {
    let table = "valve.main.cushion";
    reader.states(table).then(|| Cushion::read(&mut reader.table(table)))
}

/// What leaks past the piston: nothing, unless a gap or a ring is stated.
pub(super) fn leak(reader: &mut Reader<'_>) -> RingLeak {
    let table = "valve.main.piston";
    let gap = leads(reader, table, &Clearance::radial_clearance, Clearance::KEYS);
    let ring = leads(reader, table, &SplitRing::ring_orifice, SplitRing::KEYS);
    match reader.choice("the leak past the piston") {
        Some(0) if gap => RingLeak::Clearance(Clearance::read(&mut reader.table(table).or(defaults::LYING_PISTON))),
        Some(_) if ring => RingLeak::SplitRing(SplitRing::read(&mut reader.table(table))),
        Some(_) | None => RingLeak::Tight,
    }
}

/// Is the key stated without which the others of its group mean nothing? Those are remarked on where it is not.
fn leads(reader: &mut Reader<'_>, table: &str, first: &Key, all: &[Key]) -> bool {
    let stated = reader.states(&join(table, first.name));
    for other in all {
        let path = join(table, other.name);
        if !stated && reader.states(&path) {
            reader
                .warn(&path, format!("`{}` is not used, since no `{}` is stated in [{table}]", other.name, first.name));
        }
    }
    stated
}
