//! A line.

use super::defaults;
use super::line_wall::{self, Line as Place};
use super::reader::Reader;
use super::vocabulary::join;
use crate::fluid::State;
use crate::key::{Key, Stated};
use crate::physics::fluid::Fluid;
use crate::physics::parts::{CheckValve, Fittings, Line, LineModel, Strainer};

/// The line of that table; `pressure` is that of the end from which it is filled, `throttled` what a named gas is there.
pub(super) fn read(
    reader: &mut Reader<'_>,
    table: &'static str,
    fluid: &Fluid,
    pressure: f64,
    throttled: Option<&State>,
) -> Line {
    let length = reader.table(table).number(&Line::length);
    let place = Place { table, fluid, pressure, throttled };
    let pipe = line_wall::pipe(reader, table);
    let bore = line_wall::bore(reader, table, &pipe);
    let mut keys = reader.table(table);
    let friction_factor = keys.number(&Line::friction_factor);
    let loss_coefficient = keys.number(&Line::loss_coefficient);
    let wave_speed = line_wall::wave_speed(reader, &place, bore, &pipe);
    let density = line_wall::density(reader, &place);
    let segments = reader.count_or(&join(table, Line::segments.name), defaults::segments(length / wave_speed));
    let model = match reader.word(&join(table, "model")) {
        Some("lumped") => LineModel::Lumped,
        Some("waves") => LineModel::Waves,
        _ => LineModel::Auto,
    };
    let fittings = fittings(reader, table);
    Line { length, bore, wave_speed, density, friction_factor, loss_coefficient, segments, model, fittings }
}

/// Strainer and check valve, each there where one of its keys is stated.
fn fittings(reader: &mut Reader<'_>, table: &'static str) -> Fittings {
    let states = |reader: &Reader<'_>, keys: &[Key]| keys.iter().any(|key| reader.states(&join(table, key.name)));
    let strainer =
        states(reader, Strainer::KEYS).then(|| Strainer::read(&mut reader.table(table).or(defaults::CLEAN_STRAINER)));
    let check_valve = states(reader, CheckValve::KEYS).then(|| CheckValve::read(&mut reader.table(table)));
    Fittings { strainer, check_valve }
}
