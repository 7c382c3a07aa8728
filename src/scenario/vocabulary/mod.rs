//! The vocabulary of a scenario file: its tables, each with the keys of the part that it states, and what excludes what. The
//! path of a key, such as `valve.bleed.diameter`, is its name in the file, in settings and on the axes of a map.

mod alternatives;
mod installation;
pub(super) mod pressure;
mod run;
mod table;
mod valve;

use std::collections::HashMap;
use std::sync::LazyLock;

use crate::key::Key;
use crate::quote;
use crate::units::nearest;

pub(super) use alternatives::{GROUPS, exclude, group};
pub(super) use table::{Table, join, parent, within};
pub(super) use valve::{ASSISTED_LIFT, COIL_SIDE, DIRECT_OPERATED, FORCED_LIFT, MAINS_SIDE, NORMALLY_OPEN};

/// A key in its place.
#[derive(Clone, Debug)]
pub struct Parameter {
    /// Path, such as `valve.bleed.diameter`.
    pub path: String,
    /// Title in the words of the trade, such as "bleed orifice diameter": unlike any other parameter's.
    pub title: String,
    /// Index of its table.
    pub(super) table: usize,
    /// The key.
    pub key: &'static Key,
}

static TABLES: LazyLock<Vec<Table>> = LazyLock::new(|| [installation::TABLES, valve::TABLES, run::TABLES].concat());

static PARAMETERS: LazyLock<Vec<Parameter>> = LazyLock::new(|| {
    let numbered = TABLES.iter().enumerate();
    let all = numbered.flat_map(|(index, table)| {
        table.keys().map(move |key| Parameter {
            path: join(table.path, key.name),
            title: key.title.replace("{}", table.of),
            table: index,
            key,
        })
    });
    all.collect()
});

static BY_PATH: LazyLock<HashMap<&'static str, usize>> = LazyLock::new(|| {
    PARAMETERS.iter().enumerate().map(|(index, parameter)| (parameter.path.as_str(), index)).collect()
});

static TABLE_BY_PATH: LazyLock<HashMap<&'static str, usize>> =
    LazyLock::new(|| TABLES.iter().enumerate().map(|(index, table)| (table.path, index)).collect());

/// Every parameter that a scenario file can state, in the order in which they are best written.
pub fn parameters() -> &'static [Parameter] {
    &PARAMETERS
}

/// Every table, in the same order.
pub(super) fn tables() -> &'static [Table] {
    &TABLES
}

/// The title of the parameter with that path.
pub fn title(path: &str) -> Option<&'static str> {
    parameter(path).map(|number| PARAMETERS[number].title.as_str())
}

/// Number of the parameter with that path.
pub(super) fn parameter(path: &str) -> Option<usize> {
    BY_PATH.get(path).copied()
}

/// Number of the table with that path.
pub(super) fn table(path: &str) -> Option<usize> {
    TABLE_BY_PATH.get(path).copied()
}

/// Names that may stand in a table: its keys and its tables.
pub(super) fn names_in(table: &str) -> Vec<&'static str> {
    let keys = TABLES.iter().filter(|t| t.path == table).flat_map(|t| t.keys().map(|key| key.name));
    let tables = TABLES.iter().map(|t| t.path).filter(|path| !path.is_empty() && parent(path) == table);
    keys.chain(tables.map(|path| path.rsplit('.').next().unwrap_or(path))).collect()
}

/// Help for a name that is not known in a table: the nearest known name, or where that name belongs, or what is known.
pub(super) fn help(table: &str, name: &str) -> String {
    let names = names_in(table);
    let path = join(table, name);
    if name.contains('.') && (parameter(&path).is_some() || self::table(&path).is_some()) {
        return format!("write it without quotation marks: {name}");
    }
    if let Some(near) = nearest(name, names.iter().copied()) {
        return format!("did you mean `{near}`?");
    }
    let elsewhere: Vec<&str> = TABLES
        .iter()
        .filter(|t| t.keys().any(|key| key.name == name))
        .map(|t| if t.path.is_empty() { "the head of the file" } else { t.path })
        .collect();
    match elsewhere.as_slice() {
        [] => format!("known here: {}", names.join(", ")),
        places => {
            format!("it belongs in {}", places.iter().map(|place| bracketed(place)).collect::<Vec<_>>().join(" or "))
        }
    }
}

fn bracketed(place: &str) -> String {
    if place.contains(' ') { place.to_owned() } else { format!("[{place}]") }
}

/// Why a path is refused that is not known, with up to three nearest ones.
pub(super) fn unknown_path(path: &str) -> String {
    format!("`{}` is not a path; {}", quote::word(path), nearest_paths(path))
}

fn nearest_paths(path: &str) -> String {
    let last = path.rsplit('.').next().unwrap_or(path);
    let likeness = |known: &str| {
        let name = known.rsplit('.').next().unwrap_or(known);
        strsim::jaro_winkler(path, known).max(0.99 * strsim::jaro_winkler(last, name))
    };
    let mut near: Vec<(f64, &str)> = PARAMETERS
        .iter()
        .filter(|_| !quote::is_no_name(path))
        .map(|p| (likeness(&p.path), p.path.as_str()))
        .filter(|(likeness, _)| *likeness > 0.75)
        .collect();
    near.sort_by(|a, b| b.0.total_cmp(&a.0));
    let names: Vec<String> = near.iter().take(3).map(|(_, path)| format!("`{path}`")).collect();
    if names.is_empty() {
        "no known path is near it (`quietseat check` with --paths lists all)".to_owned()
    } else {
        format!("nearest known: {}", names.join(", "))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::HashSet;

    /// Reads well beside a number: words, no key, short enough for the side of a figure.
    #[test]
    fn every_parameter_has_a_title_of_its_own_in_words() {
        let mut seen = HashSet::new();
        for Parameter { path, title, .. } in parameters() {
            assert!(seen.insert(title.as_str()), "{path}: \"{title}\" is another parameter's title too");
            assert!(!title.is_empty() && title.chars().count() <= 60, "{path}: \"{title}\"");
            assert!(!title.contains(['_', '.', '{', '}', '`']), "{path}: \"{title}\"");
            assert!(!title.contains("  ") && title.trim() == title, "{path}: \"{title}\"");
        }
        for table in tables() {
            let shared = tables().iter().any(|t| t.path != table.path && std::ptr::eq(t.keys, table.keys));
            assert_eq!(
                shared && !table.keys.is_empty(),
                !table.of.is_empty(),
                "{}: named where it has a twin",
                table.path
            );
        }
    }

    /// The ways of a group are numbered as those of the thing that it states, and lead to their keys.
    #[test]
    fn every_way_leads_to_its_own_keys() {
        use crate::key::Way;
        use crate::physics::parts::{Coil, CoilTemperature, StageKind, Suppressor, Voltage};
        fn of<T>(ways: &[Way<T>]) -> Vec<&'static [Key]> {
            ways.iter().map(|way| way.keys).collect()
        }
        let keys = |what: &str| match what {
            "the voltage" => of(Voltage::WAYS),
            "the main stage" => of(StageKind::WAYS),
            "the switch-off path" => [vec![&[Coil::clamp_resistance][..]], of(Suppressor::WAYS)].concat(),
            _ => of(CoilTemperature::WAYS),
        };
        for what in ["the voltage", "the main stage", "the switch-off path", "the winding temperature"] {
            let group = group(what);
            assert_eq!(group.ways.len(), keys(what).len(), "{what}");
            for (way, keys) in group.ways.iter().zip(keys(what)) {
                let headed = table(way[0]).is_some();
                let table = if headed { way[0] } else { group.table };
                let paths: Vec<String> = keys.iter().map(|key| join(table, key.name)).collect();
                assert!(headed || paths == *way, "{what}: {paths:?} in the place of {way:?}");
                for (key, path) in keys.iter().zip(&paths) {
                    let found = parameter(path).map(|number| parameters()[number].key.meaning);
                    assert_eq!(found, Some(key.meaning), "{what}: {path}");
                }
            }
        }
    }

    #[test]
    fn titles_say_what_the_trade_says() {
        for (path, wanted) in [
            ("flow.volume_flow", "volume flow"),
            ("fluid.named.subcooling", "subcooling at the supply"),
            ("valve.bleed.diameter", "bleed orifice diameter"),
            ("downstream.length", "length of the downstream line"),
            ("valve.main.seat.stiffness", "contact stiffness of the main seat"),
            ("supply.differential", "circuit differential pressure"),
        ] {
            assert_eq!(title(path), Some(wanted));
        }
        assert_eq!(title("no.such.path"), None);
    }
}
