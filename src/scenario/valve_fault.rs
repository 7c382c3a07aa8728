//! What is wrong with the valve: the faults of a scenario, laid over the sound valve that it states.

use super::reader::Reader;
use crate::physics::fluid::{Fluid, Phase};
use crate::physics::parts::{Faults, Valve};
use crate::physics::valve::fault::{Around, Changed, Faulty};
use crate::scenario::vocabulary::{join, title};
use crate::units::text;

/// The valve with the stated faults in it, and the voltage for which its coil is then rated. Each fault is told in a remark with what
/// it changes; one that the valve cannot have is a problem.
pub(super) fn read(
    reader: &mut Reader<'_>,
    valve: Valve,
    fluid: &Fluid,
    supply_pressure: f64,
    rated_voltage: Option<f64>,
) -> (Faults, Valve, Option<f64>) {
    let faults = Faults::read(&mut reader.table(TABLE));
    let liquid = matches!(fluid.phase, Phase::Liquid(_));
    let faulty = Faulty::new(valve, &faults, Around { supply_pressure, liquid, rated_voltage });
    for impossible in &faulty.impossible {
        let path = join(TABLE, impossible.fault);
        reader.problem(&path, format!("{path}: {}", impossible.why));
    }
    for changes in faulty.changed.chunk_by(|a, b| a.fault == b.fault) {
        let path = join(TABLE, changes[0].fault);
        let told: Vec<String> = changes.iter().map(told).collect();
        reader.warn(&path, format!("a fault is switched on: {}", told.join(", ")));
    }
    (faults, faulty.valve, faulty.rated_voltage)
}

const TABLE: &str = "faults";

fn told(changed: &Changed) -> String {
    let shown = |value: Option<f64>| value.map_or("none".to_owned(), |value| text(value, changed.dimension));
    format!("{} {} instead of {}", title(changed.path).unwrap_or(changed.path), shown(changed.to), shown(changed.from))
}
