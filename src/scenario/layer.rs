//! One file as entries: what it states, where, and what it removes; nothing interpreted yet.

use std::sync::Arc;

use toml::Spanned;
use toml::de::{DeString, DeTable, DeValue};

use super::problem::{Place, Problem, SourceFile};
use super::vocabulary::{self, Kind, join};

/// A value as found.
#[derive(Clone, Debug)]
pub(super) enum Given {
    /// Text.
    Text(Arc<str>),
    /// A bare number: its value and its text.
    Bare(f64, Arc<str>),
    /// A number in SI, from a study.
    Si(f64),
    /// A number in SI that words stood for, such as a pipe's name or a state, and those words.
    Spelled(f64, Arc<str>),
    /// Something that is neither, in words.
    Other(&'static str),
}

/// A value and its place.
#[derive(Clone, Debug)]
pub(super) struct Entry {
    /// The value.
    pub(super) given: Given,
    /// The place.
    pub(super) place: Place,
}

/// What one file says.
#[derive(Debug)]
pub(super) struct Layer {
    /// The file.
    pub(super) file: Arc<SourceFile>,
    /// Values by parameter number.
    pub(super) entries: Vec<(usize, Entry)>,
    /// Tables by number, with the place of their heading.
    pub(super) tables: Vec<(usize, Place)>,
    /// Paths of keys and tables that are removed with "none".
    pub(super) removed: Vec<String>,
    /// What cannot be understood.
    pub(super) problems: Vec<Problem>,
    /// The text is not TOML throughout: values may be lost.
    pub(super) broken: bool,
}

/// Tables that may be removed as a whole.
const REMOVABLE_TABLES: &[&str] = &["flow", "limits", "run", "map", "map.x", "map.y"];

/// Keys that are needed only in some scenarios or have a documented default, and so may be removed with "none".
const REMOVABLE_KEYS: &[&str] = &[
    "fluid.named.temperature",
    "fluid.named.pressure",
    "fluid.named.subcooling",
    "fluid.named.superheat",
    "fluid.named.mass_fraction",
    "fluid.named.volume_fraction",
    "valve.coil.rated",
    "valve.coil.shading_ring",
    "supply.pressure",
    "supply.differential",
    "supply.pulsation",
    "supply.pulsation_frequency",
    "supply.pressure_fall",
    "supply.pressure_fall_mass_flow",
    "supply.pressure_fall_volume_flow",
    "sink.throttle_kv",
    "upstream.poisson_ratio",
    "downstream.poisson_ratio",
    "upstream.support",
    "downstream.support",
    "upstream.free_gas",
    "downstream.free_gas",
    "valve.chamber.trapped_gas",
    "valve.chamber.trapped_gas_pressure",
    "valve.chamber.polytropic_exponent",
    "valve.inlet.gas",
    "valve.inlet.gas_pressure",
    "valve.inlet.polytropic_exponent",
    "valve.outlet.gas",
    "valve.outlet.gas_pressure",
    "valve.outlet.polytropic_exponent",
    "limits.peak_pressure",
    "limits.surge",
    "limits.coil_temperature",
];

/// Does "none" at that path remove what stands there?
pub(super) fn removable(path: &str) -> bool {
    REMOVABLE_TABLES.contains(&path) || REMOVABLE_KEYS.contains(&path)
}

/// Reads a file's text.
pub(super) fn read(file: Arc<SourceFile>) -> Layer {
    let mut layer = Layer {
        file: file.clone(),
        entries: Vec::new(),
        tables: Vec::new(),
        removed: Vec::new(),
        problems: Vec::new(),
        broken: false,
    };
    let (document, errors) = DeTable::parse_recoverable(&file.text);
    for error in errors {
        let place = layer.place(error.span().unwrap_or(0..0));
        layer.problems.push(Problem::at(&place, format!("this is not TOML: {}", one_line(error.message()))));
        layer.broken = true;
    }
    layer.walk(document.get_ref(), "");
    layer
}

fn one_line(message: &str) -> String {
    message.split('\n').collect::<Vec<_>>().join(", ")
}

impl Layer {
    fn place(&self, span: std::ops::Range<usize>) -> Place {
        Place::File { file: self.file.clone(), span }
    }

    fn problem(&mut self, span: std::ops::Range<usize>, message: String) {
        let place = self.place(span);
        self.problems.push(Problem::at(&place, message));
    }

    fn walk(&mut self, table: &DeTable<'_>, above: &str) {
        for (key, value) in table {
            let path = join(above, key.get_ref());
            match (value.get_ref(), vocabulary::table(&path), vocabulary::parameter(&path)) {
                (DeValue::Table(inner), Some(number), _) => {
                    let place = self.place(key.span());
                    self.tables.push((number, place));
                    self.walk(inner, &path);
                }
                (DeValue::String(word), Some(_), None) if word == "none" => self.remove(&path, value.span()),
                (_, Some(_), None) => self.problem(value.span(), format!("`{path}` is a table: write [{path}]")),
                (DeValue::String(word), _, Some(_)) if word == "none" && removable(&path) => self.removed.push(path),
                (found, _, Some(number)) => self.enter(number, given(found), value.span()),
                (found, None, None) => self.unknown(above, key, matches!(found, DeValue::Table(_))),
            }
        }
    }

    fn enter(&mut self, number: usize, given: Given, span: std::ops::Range<usize>) {
        let place = self.place(span);
        self.entries.push((number, Entry { given, place }));
    }

    fn remove(&mut self, path: &str, span: std::ops::Range<usize>) {
        if removable(path) {
            self.removed.push(path.to_owned());
        } else {
            self.problem(span, format!("[{path}] is needed and cannot be removed"));
        }
    }

    fn unknown(&mut self, above: &str, key: &Spanned<DeString<'_>>, table: bool) {
        let name: &str = key.get_ref();
        let place = if above.is_empty() { "at the head of the file".to_owned() } else { format!("in [{above}]") };
        let help = vocabulary::help(above, name);
        let what = if table { "table" } else { "key" };
        self.problem(key.span(), format!("unknown {what} `{name}` {place}; {help}"));
    }

    /// The file that this one is like, and where it says so.
    pub(super) fn like(&self) -> Option<(Arc<str>, Place)> {
        let number = vocabulary::parameter("like")?;
        let (_, entry) = self.entries.iter().find(|(index, _)| *index == number)?;
        match &entry.given {
            Given::Text(text) => Some((text.clone(), entry.place.clone())),
            _ => None,
        }
    }
}

fn given(value: &DeValue<'_>) -> Given {
    match value {
        DeValue::String(text) => Given::Text(Arc::from(text.as_ref())),
        DeValue::Integer(number) => {
            let text = number.to_string();
            let value = i64::from_str_radix(number.as_str(), number.radix()).map_or(f64::NAN, |whole| whole as f64);
            Given::Bare(value, Arc::from(text))
        }
        DeValue::Float(number) => Given::Bare(number.as_str().parse().unwrap_or(f64::NAN), Arc::from(number.as_str())),
        DeValue::Boolean(_) => Given::Other("a truth value"),
        DeValue::Datetime(_) => Given::Other("a date or time"),
        DeValue::Array(_) => Given::Other("a list"),
        DeValue::Table(_) => Given::Other("a table"),
    }
}

impl Given {
    /// The value as it was typed.
    pub(super) fn typed(&self) -> String {
        match self {
            Given::Text(text) => format!("\"{text}\""),
            Given::Bare(_, text) => text.to_string(),
            Given::Si(value) => format!("{value}"),
            Given::Spelled(_, name) => format!("from {name}"),
            Given::Other(what) => (*what).to_owned(),
        }
    }
}

/// A setting's value as typed on a command line: quotation marks are not needed, a bare number counts as one.
pub(super) fn given_by_hand(text: &str, kind: Kind) -> Given {
    let text = text.trim();
    let inner = text.strip_prefix('"').and_then(|rest| rest.strip_suffix('"'));
    let bare = inner.is_none() && kind == Kind::Count;
    match (bare, text.parse::<f64>()) {
        (true, Ok(number)) => Given::Bare(number, Arc::from(text)),
        _ => Given::Text(Arc::from(inner.unwrap_or(text))),
    }
}
