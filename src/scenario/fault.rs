//! What is wrong with the text of a file: kept as found, since only the first of thousands are put into words.

use super::vocabulary;
use crate::quote;

/// What is wrong at one place.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Fault {
    /// It is not TOML, as its parser says.
    NotToml(Box<str>),
    /// A name that is not known in its table.
    Unknown {
        /// The table.
        above: Box<str>,
        /// The name.
        name: Box<str>,
        /// Does it head a table?
        table: bool,
    },
    /// The table of that path cannot be removed.
    Needed(String),
    /// A value stands where the table of that path is wanted.
    IsTable(String),
}

impl Fault {
    /// What was found and what is wanted.
    pub(super) fn message(&self) -> String {
        match self {
            Fault::NotToml(message) => format!("this is not TOML: {}", message.replace('\n', ", ")),
            Fault::Unknown { above, name, table } => {
                let place = if above.is_empty() { "at the head of the file".into() } else { format!("in [{above}]") };
                let what = if *table { "table" } else { "key" };
                format!("unknown {what} `{}` {place}; {}", quote::word(name), vocabulary::help(above, name))
            }
            Fault::Needed(path) => format!("[{path}] is needed and cannot be removed"),
            Fault::IsTable(path) => format!("`{path}` is a table: write [{path}]"),
        }
    }

    /// What was probably meant, by the line in which it stands.
    pub(super) fn hint(&self, line: &str) -> Option<&'static str> {
        if !matches!(self, Fault::NotToml(_)) {
            return None;
        }
        let value = line.split_once('=').map_or(line, |(_, value)| value).trim_start();
        let digits = |text: &str| text.bytes().take_while(u8::is_ascii_digit).count();
        let comma = |text: &str| {
            let behind = text[digits(text)..].strip_prefix(',');
            digits(text) > 0 && behind.is_some_and(|rest| digits(rest) > 0)
        };
        if line.contains(['“', '”', '„', '‟', '‘', '’']) {
            return Some("quotation marks must be straight ones, such as \"22 mm\"");
        }
        if line.contains('"') && line.contains('\\') {
            return Some("write the folders of a path with / instead of \\");
        }
        if comma(value) {
            return Some(
                "the decimal sign is a point, and a value with its unit stands in quotation marks, such as \"1.5 m\"",
            );
        }
        None
    }

    /// The same without a word of the file.
    pub(super) fn kind(&self) -> &'static str {
        match self {
            Fault::NotToml(_) => "this is not TOML",
            Fault::Unknown { table: true, .. } => "unknown table",
            Fault::Unknown { table: false, .. } => "unknown key",
            Fault::Needed(_) => "this table cannot be removed",
            Fault::IsTable(_) => "a table is wanted",
        }
    }
}
