//! Axes of the map.

use super::defaults::{self, DefaultAxis};
use super::model::{AxisRange, MapAxes};
use super::one_pressure::same_pressure;
use super::reader::Reader;
use super::usual;
use super::vocabulary::{self, join};

/// Both axes, each as stated or by default.
pub(super) fn read(reader: &mut Reader<'_>) -> MapAxes {
    let x = axis(reader, "map.x", &defaults::MAP_X);
    let y = axis(reader, "map.y", &defaults::MAP_Y);
    if x.path == y.path && !x.path.is_empty() {
        reader.problem("map.y.path", format!("both axes of the map are `{}`; choose two parameters", x.path));
    }
    if vocabulary::exclude(&x.path, &y.path) || same_pressure(&x.path, &y.path) {
        let message = format!("`{}` and `{}` exclude each other: they cannot both be axes of a map", x.path, y.path);
        reader.problem("map.y.path", message);
    }
    MapAxes { x, y }
}

/// One axis. Its ends have a default only along the default parameter; there spacing is logarithmic by default too, and
/// elsewhere wherever the lower end is above zero, since behaviour changes by ratios.
fn axis(reader: &mut Reader<'_>, table: &'static str, default: &DefaultAxis) -> AxisRange {
    let stated = reader.optional_text(&join(table, "path"));
    let wrong_path = stated.is_none() && reader.states(&join(table, "path"));
    let path = stated.unwrap_or_else(|| default.path.to_owned());
    let usual = path == default.path;
    let mut end = |name: &str, usual_end: f64| {
        let key = join(table, name);
        if wrong_path {
            f64::NAN
        } else if usual {
            reader.number_or(&key, usual_end)
        } else {
            reader.number(&key)
        }
    };
    let from = end("from", default.from);
    let to = end("to", default.to);
    let points = reader.count_or(&join(table, "points"), default.points);
    let logarithmic = match reader.word(&join(table, "spacing")) {
        Some("linear") => false,
        Some(_) => true,
        None => from > 0.0,
    };
    for (name, value) in [("from", from), ("to", to)] {
        possible(reader, &path, &join(table, name), value);
    }
    if from >= to {
        reader.problem(
            &join(table, "to"),
            format!("the axis ends where it starts or below: `to` must be above `from` in [{table}]"),
        );
    }
    if logarithmic && from <= 0.0 {
        reader.problem(
            &join(table, "from"),
            "a logarithmic axis must start above zero; raise `from` or set spacing = \"linear\"",
        );
    }
    AxisRange { path, from, to, points, logarithmic }
}

/// Reports an end that its parameter could never take; a not-a-number has been reported already.
fn possible(reader: &mut Reader<'_>, path: &str, end: &str, value: f64) {
    let Some(number) = vocabulary::parameter(path) else {
        return;
    };
    let key = vocabulary::parameters()[number].key;
    if !value.is_nan() && !key.range.allows(value) {
        let message = format!("`{path}` must be {} along the whole axis", key.range.words());
        reader.problem(end, message);
    } else if let Some(message) = usual::impossible(key, value) {
        reader.problem(end, format!("`{path}` at this end of the axis: {message}"));
    }
}
