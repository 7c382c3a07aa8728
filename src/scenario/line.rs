//! A line.

use super::defaults;
use super::reader::Reader;
use super::vocabulary::join;
use crate::physics::fluid::{Fluid, Phase};
use crate::physics::parts::{Line, LineModel};
use crate::physics::wave_speed::{self, Wall};
use crate::units::Dimension;

/// The line of that table.
pub(super) fn read(reader: &mut Reader<'_>, table: &'static str, fluid: &Fluid) -> Line {
    let mut keys = reader.table(table);
    let length = keys.number("length");
    let bore = keys.number("bore");
    let friction_factor = keys.number("friction_factor");
    let loss_coefficient = keys.number("loss_coefficient");
    let wave_speed = wave_speed(reader, table, fluid, bore);
    let segments = reader.count_or(&join(table, "segments"), defaults::segments(length / wave_speed));
    let model = match reader.word(&join(table, "model")) {
        Some("lumped") => LineModel::Lumped,
        Some("waves") => LineModel::Waves,
        _ => LineModel::Auto,
    };
    Line { length, bore, wave_speed, friction_factor, loss_coefficient, segments, model }
}

/// The wave speed: as stated, from the wall, or for a gas its sound speed.
fn wave_speed(reader: &mut Reader<'_>, table: &'static str, fluid: &Fluid, bore: f64) -> f64 {
    let what = if table == "upstream" { "the wave speed upstream" } else { "the wave speed downstream" };
    let path = join(table, "wave_speed");
    let gas = matches!(fluid.phase, Phase::Gas(_));
    let way = if gas || !reader.states(table) { reader.choice(what) } else { reader.needed_choice(what) };
    match (way, &fluid.phase) {
        (Some(0), _) => reader.number(&path),
        (Some(_), Phase::Liquid(liquid)) => {
            let mut keys = reader.table(table);
            let wall = Wall {
                bore,
                thickness: keys.number("wall_thickness"),
                modulus: keys.number("wall_modulus"),
                poisson_ratio: keys.optional("poisson_ratio"),
            };
            let speed = wave_speed::in_elastic_line(liquid, &wall);
            reader.derived(&path, speed, Dimension::Velocity, "from the liquid and the wall");
            speed
        }
        (way, Phase::Gas(gas)) => {
            if way.is_some() {
                reader.warn(&join(table, "wall_thickness"), "the wall is not used: it is rigid against a gas");
            }
            let speed = wave_speed::of_gas(gas);
            reader.derived(&path, speed, Dimension::Velocity, "sound speed of the gas");
            speed
        }
        (None, Phase::Liquid(_)) => f64::NAN,
    }
}
