//! Reference numbers from the `validation` folder, and how far ours are from them.
#![allow(dead_code)]

use std::path::Path;

/// A table of reference numbers: named columns, comments after `#`.
pub(crate) struct Table {
    names: Vec<String>,
    rows: Vec<Vec<String>>,
}

/// One row of a table.
pub(crate) struct Row<'a> {
    names: &'a [String],
    fields: &'a [String],
}

impl Table {
    /// Read `validation/<file>`.
    pub(crate) fn read(file: &str) -> Self {
        let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("validation").join(file);
        let text = std::fs::read_to_string(&path).unwrap_or_else(|e| panic!("{}: {e}", path.display()));
        let mut lines = text.lines().filter(|line| !line.starts_with('#') && !line.trim().is_empty());
        let split = |line: &str| line.split(',').map(|field| field.trim().to_owned()).collect::<Vec<_>>();
        let names = split(lines.next().expect("a table has a heading"));
        let rows: Vec<_> = lines.map(split).collect();
        assert!(rows.iter().all(|row| row.len() == names.len()), "{file}: ragged");
        assert!(!rows.is_empty(), "{file}: empty");
        Table { names, rows }
    }

    /// All rows.
    pub(crate) fn rows(&self) -> impl Iterator<Item = Row<'_>> {
        self.rows.iter().map(|fields| Row { names: &self.names, fields })
    }
}

impl Row<'_> {
    /// The text under a heading.
    pub(crate) fn text(&self, name: &str) -> &str {
        let place = self.names.iter().position(|n| n == name);
        &self.fields[place.unwrap_or_else(|| panic!("no column {name}"))]
    }

    /// The number under a heading.
    pub(crate) fn number(&self, name: &str) -> f64 {
        let text = self.text(name);
        text.parse().unwrap_or_else(|_| panic!("{name}: {text:?} is no number"))
    }

    /// Is nothing given under a heading?
    pub(crate) fn is_blank(&self, name: &str) -> bool {
        self.text(name).is_empty()
    }
}

/// Largest deviation seen so far, with where it was.
#[derive(Debug, Default)]
pub(crate) struct Worst {
    /// The deviation.
    pub(crate) deviation: f64,
    /// Where.
    pub(crate) place: String,
}

impl Worst {
    /// Note a deviation; not-a-number counts as infinite.
    pub(crate) fn note(&mut self, deviation: f64, place: impl FnOnce() -> String) {
        let size = if deviation.is_nan() { f64::INFINITY } else { deviation.abs() };
        if size > self.deviation {
            *self = Worst { deviation: size, place: place() };
        }
    }

    /// Print it under a name and refuse it above `allowed`.
    pub(crate) fn refuse_above(&self, allowed: f64, name: &str) {
        println!("{name}: {:.2e} (allowed {allowed:.0e}) at {}", self.deviation, self.place);
        assert!(self.deviation <= allowed, "{name}: {:e} at {}", self.deviation, self.place);
    }
}

/// Deviation of `ours` relative to `reference`.
pub(crate) fn relative(ours: f64, reference: f64) -> f64 {
    (ours - reference) / reference
}
