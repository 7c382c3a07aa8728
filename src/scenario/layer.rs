//! One file as entries: what it states, where, and what it removes; nothing interpreted yet.

use std::ops::Range;
use std::sync::Arc;

use toml::de::{DeTable, DeValue};

use super::fault::Fault;
use super::problem::{LISTED, Place, Problem};
use super::source::SourceFile;
use super::vocabulary::{self, join};
use crate::key::Kind;
use crate::quote;

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
    /// What cannot be understood first.
    pub(super) problems: Vec<Problem>,
    /// How much more there is of that.
    pub(super) further: usize,
    /// The text is not TOML throughout: values may be lost.
    pub(super) broken: bool,
}

/// Tables that may be removed as a whole.
const REMOVABLE_TABLES: &[&str] =
    &["flow", "limits", "run", "map", "map.x", "map.y", "valve.bleed.pin", "valve.main.cushion"];

/// Does "none" at that path remove what stands there?
pub(super) fn removable(path: &str) -> bool {
    let key = vocabulary::parameter(path).map(|number| vocabulary::parameters()[number].key);
    REMOVABLE_TABLES.contains(&path) || key.is_some_and(|key| key.removable)
}

/// Reads a file's text.
pub(super) fn read(file: Arc<SourceFile>) -> Layer {
    let mut layer = Layer {
        file: file.clone(),
        entries: Vec::new(),
        tables: Vec::new(),
        removed: Vec::new(),
        problems: Vec::new(),
        further: 0,
        broken: false,
    };
    let (document, errors) = DeTable::parse_recoverable(&file.text);
    layer.broken = !errors.is_empty();
    let mut faults: Vec<(Range<usize>, Fault)> = errors.into_iter().map(of_toml).collect();
    let torn = Torn::by(&faults);
    layer.walk(document.get_ref(), "", &torn, &mut faults);
    layer.tell(faults);
    layer
}

fn of_toml(error: toml::de::Error) -> (Range<usize>, Fault) {
    (error.span().unwrap_or(0..0), Fault::NotToml(error.message().into()))
}

/// Where the text is not TOML: what was made of a value there is nobody's word, and is not told as one.
struct Torn(Vec<Range<usize>>);

impl Torn {
    fn by(faults: &[(Range<usize>, Fault)]) -> Torn {
        let mut spans: Vec<Range<usize>> = faults.iter().map(|(span, _)| span.clone()).collect();
        spans.sort_by_key(|span| span.start);
        Torn(spans)
    }

    /// Does the last fault that begins before the value's end reach into it?
    fn touches(&self, value: &Range<usize>) -> bool {
        let before = self.0.partition_point(|span| span.start <= value.end);
        before.checked_sub(1).is_some_and(|last| self.0[last].end >= value.start)
    }
}

impl Layer {
    fn place(&self, span: Range<usize>) -> Place {
        Place::File { file: self.file.clone(), span }
    }

    /// Makes problems of the first faults, and counts the others.
    fn tell(&mut self, mut faults: Vec<(Range<usize>, Fault)>) {
        faults.sort_by_key(|(span, _)| span.start);
        faults.dedup();
        self.further = faults.len().saturating_sub(LISTED);
        for (span, fault) in faults.iter().take(LISTED) {
            // A fault of the text between two signs is shown at the next one.
            let end = if matches!(fault, Fault::NotToml(_)) { span.end.max(span.start + 1) } else { span.end };
            let place = self.place(span.start..end);
            let hint = fault.hint(self.file.line_of(span.start)).map_or(String::new(), |hint| format!("; {hint}"));
            self.problems.push(Problem::quoting(&place, format!("{}{hint}", fault.message()), fault.kind()));
        }
    }

    fn walk(&mut self, table: &DeTable<'_>, above: &str, torn: &Torn, faults: &mut Vec<(Range<usize>, Fault)>) {
        let sound = |value: &DeValue<'_>, span| matches!(value, DeValue::Table(_)) || !torn.touches(&span);
        for (key, value) in table.iter().filter(|(_, value)| sound(value.get_ref(), value.span())) {
            let name: &str = key.get_ref();
            // A dot inside quotation marks is a part of the name, and leads into no table.
            if name.is_empty() || name.contains('.') {
                faults.push((key.span(), unknown(above, name, value.get_ref())));
                continue;
            }
            let path = join(above, name);
            match (value.get_ref(), vocabulary::table(&path), vocabulary::parameter(&path)) {
                (DeValue::Table(inner), Some(number), _) => {
                    let place = self.place(key.span());
                    self.tables.push((number, place));
                    self.walk(inner, &path, torn, faults);
                }
                (DeValue::String(word), Some(_), None) if word == "none" && removable(&path) => self.removed.push(path),
                (DeValue::String(word), Some(_), None) if word == "none" => {
                    faults.push((value.span(), Fault::Needed(path)));
                }
                (_, Some(_), None) => faults.push((value.span(), Fault::IsTable(path))),
                (DeValue::String(word), _, Some(_)) if word == "none" && removable(&path) => self.removed.push(path),
                (found, _, Some(number)) => self.enter(number, given(found), value.span()),
                (found, None, None) => faults.push((key.span(), unknown(above, name, found))),
            }
        }
    }

    fn enter(&mut self, number: usize, given: Given, span: Range<usize>) {
        let place = self.place(span);
        self.entries.push((number, Entry { given, place }));
    }

    /// What stands for the file that this one is like.
    pub(super) fn like(&self) -> Option<&Entry> {
        let number = vocabulary::parameter("like")?;
        self.entries.iter().find(|(index, _)| *index == number).map(|(_, entry)| entry)
    }
}

fn unknown(above: &str, name: &str, found: &DeValue<'_>) -> Fault {
    Fault::Unknown { above: above.into(), name: name.into(), table: matches!(found, DeValue::Table(_)) }
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
            Given::Text(text) => format!("\"{}\"", quote::word(text)),
            Given::Bare(_, text) => quote::word(text).into_owned(),
            Given::Si(value) => format!("{value:e}"),
            Given::Spelled(_, name) => format!("from {}", quote::word(name)),
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
        (true, Ok(number)) if number.is_finite() => Given::Bare(number, Arc::from(text)),
        _ => Given::Text(Arc::from(inner.unwrap_or(text))),
    }
}
