//! The vocabulary of a scenario file: each table, each key, its kind, what it may be and what it means, declared once. The
//! path of a key, such as `valve.bleed.diameter`, is its name in the file, in settings and on the axes of a map.

mod actuator;
mod alternatives;
mod installation;
mod run;
mod valve;

use std::collections::HashMap;
use std::sync::LazyLock;

use crate::quote;
use crate::units::{Dimension, nearest};

pub(super) use alternatives::{GROUPS, exclude, group};
pub(super) use valve::DIRECT_OPERATED;

/// What kind of value a key takes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Kind {
    /// A number with its unit, as text (a bare number where the quantity has no unit).
    Quantity(Dimension),
    /// An angle, or a word that stands for one, rad.
    Attitude(&'static [(&'static str, f64)]),
    /// A whole number.
    Count,
    /// One of some words.
    Word(&'static [&'static str]),
    /// Free text.
    Text,
    /// The path of a parameter.
    Path,
    /// A quantity of the kind of the axis' parameter.
    AxisEnd,
}

/// Which values are possible at all.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Range {
    /// Any value.
    Any,
    /// Above zero.
    Positive,
    /// Zero or above.
    NotNegative,
    /// Above zero and below one.
    Inside,
    /// Above zero, at most one.
    UpToOne,
    /// Zero or above, below one.
    BelowOne,
    /// Above one.
    AboveOne,
    /// Above a half.
    AboveHalf,
    /// From isothermal (1) to the isentropic exponent of a gas of single atoms (5/3).
    Polytropic,
    /// From zero to 0.5.
    Poisson,
    /// From 0 to π.
    HalfTurn,
    /// A whole number from 1 to 1000.
    Pieces,
    /// A whole number from 2 to 1000.
    Points,
}

/// A key of a table.
#[derive(Clone, Copy, Debug)]
pub struct Key {
    /// Name in its table.
    pub name: &'static str,
    /// Title of an axis or column, in the words of the trade; `{}` stands for what its table is about.
    title: &'static str,
    /// Kind of value.
    pub kind: Kind,
    /// Possible values.
    pub range: Range,
    /// What it is.
    pub meaning: &'static str,
}

/// A table of the file.
#[derive(Clone, Copy, Debug)]
pub(super) struct Table {
    /// Path; empty for the head of the file.
    pub(super) path: &'static str,
    /// What it is about, where several tables have the same keys; else empty.
    of: &'static str,
    /// Its keys.
    pub(super) keys: &'static [Key],
}

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

const fn key(name: &'static str, title: &'static str, kind: Kind, range: Range, meaning: &'static str) -> Key {
    Key { name, title, kind, range, meaning }
}

static TABLES: LazyLock<Vec<Table>> = LazyLock::new(|| [installation::TABLES, valve::TABLES, run::TABLES].concat());

static PARAMETERS: LazyLock<Vec<Parameter>> = LazyLock::new(|| {
    let numbered = TABLES.iter().enumerate();
    let all = numbered.flat_map(|(index, table)| {
        table.keys.iter().map(move |key| Parameter {
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

/// A path from its table and the name in it.
pub(super) fn join(table: &str, name: &str) -> String {
    if table.is_empty() { name.to_owned() } else { format!("{table}.{name}") }
}

/// Is that path the place itself or inside it?
pub(super) fn within(path: &str, place: &str) -> bool {
    path.strip_prefix(place).is_some_and(|rest| rest.is_empty() || rest.starts_with('.'))
}

/// The table above a path; empty for the head of the file.
pub(super) fn parent(path: &str) -> &str {
    path.rsplit_once('.').map_or("", |(above, _)| above)
}

/// Names that may stand in a table: its keys and its tables.
pub(super) fn names_in(table: &str) -> Vec<&'static str> {
    let keys = TABLES.iter().filter(|t| t.path == table).flat_map(|t| t.keys.iter().map(|key| key.name));
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
        .filter(|t| t.keys.iter().any(|key| key.name == name))
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

impl Kind {
    /// The dimension of a number of this kind, where it does not depend on another key.
    pub fn dimension(self) -> Option<Dimension> {
        match self {
            Kind::Quantity(dimension) => Some(dimension),
            Kind::Attitude(_) => Some(Dimension::Angle),
            Kind::Count => Some(Dimension::Number),
            Kind::Word(_) | Kind::Text | Kind::Path | Kind::AxisEnd => None,
        }
    }

    /// What is wanted, in words with an example.
    pub fn wanted(self) -> String {
        match self {
            Kind::Quantity(Dimension::Number) => "a plain number such as 0.65".to_owned(),
            Kind::Quantity(Dimension::Fraction) => "a share such as \"30 %\" or 0.3".to_owned(),
            Kind::Quantity(dimension) => {
                format!("{} as text with its unit, such as \"{}\"", dimension.words(), dimension.example())
            }
            Kind::Attitude(words) => {
                format!("{} or an angle such as \"30 °\"", quoted(words.iter().map(|(word, _)| *word)))
            }
            Kind::Count => "a whole number such as 4".to_owned(),
            Kind::Word(words) => format!("one of {}", quoted(words.iter().copied())),
            Kind::Text => "text in quotation marks".to_owned(),
            Kind::Path => "the path of a parameter, such as \"supply.differential\"".to_owned(),
            Kind::AxisEnd => "a value as text in a unit of the axis' parameter".to_owned(),
        }
    }
}

/// Words in quotation marks, separated by commas.
pub(super) fn quoted<'w>(words: impl Iterator<Item = &'w str>) -> String {
    words.map(|word| format!("\"{word}\"")).collect::<Vec<_>>().join(", ")
}

impl Range {
    /// Is the value possible?
    pub fn allows(self, value: f64) -> bool {
        match self {
            Range::Any => true,
            Range::Positive => value > 0.0,
            Range::NotNegative => value >= 0.0,
            Range::Inside => value > 0.0 && value < 1.0,
            Range::UpToOne => value > 0.0 && value <= 1.0,
            Range::BelowOne => (0.0..1.0).contains(&value),
            Range::AboveOne => value > 1.0,
            Range::AboveHalf => value > 0.5,
            Range::Polytropic => (1.0..=5.0 / 3.0 + 1e-9).contains(&value),
            Range::Poisson => (0.0..=0.5).contains(&value),
            Range::HalfTurn => (0.0..=std::f64::consts::PI + 1e-9).contains(&value),
            Range::Pieces => (1.0..=1000.0).contains(&value),
            Range::Points => (2.0..=1000.0).contains(&value),
        }
    }

    /// The possible values in words, as in "must be above zero".
    pub fn words(self) -> &'static str {
        match self {
            Range::Any => "any value",
            Range::Positive => "above zero",
            Range::NotNegative => "zero or above",
            Range::Inside => "above 0 and below 1 (100 %)",
            Range::UpToOne => "above 0 and at most 1",
            Range::BelowOne => "0 or above and below 1",
            Range::AboveOne => "above 1",
            Range::AboveHalf => "above 0.5 (perfect gases lie from 1.05 to 1.67, a dense vapour may be below 1)",
            Range::Polytropic => "from 1 (isothermal) to 1.667",
            Range::Poisson => "from 0 to 0.5",
            Range::HalfTurn => "from 0 ° (upright) to 180 ° (hanging)",
            Range::Pieces => "from 1 to 1000",
            Range::Points => "from 2 to 1000",
        }
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
