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
