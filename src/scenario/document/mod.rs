//! A scenario as stated: its files laid over each other, and the settings laid over them. Changing one value is cheap, so
//! that a map can ask for thousands of scenarios.

mod one_pressure;
mod setting;

use std::path::Path;
use std::sync::Arc;

use super::chain;
use super::layer::{Entry, Given, Layer};
use super::problem::{Place, Problem, Problems};
use super::source::SourceFile;
use super::spelled;
use super::vocabulary::{self, join, within};
use crate::key::Kind;
use crate::quote;
use crate::units::{self, Dimension};

/// A scenario as stated in files and settings; see [`Document::scenario`] for what it means.
#[derive(Clone, Debug)]
pub struct Document {
    name: Arc<str>,
    file: Arc<SourceFile>,
    entries: Vec<Option<Entry>>,
    tables: Vec<Option<Place>>,
    problems: Arc<Vec<Problem>>,
    further: usize,
    broken: bool,
    must_be_liquid: bool,
    kept_pressure: Option<Arc<Kept>>,
    pub(super) left: Arc<Vec<(&'static str, Place)>>,
    settings: Vec<Arc<str>>,
}

/// A file that states another fluid than the file it is like, and leaves it that file's supply pressure.
#[derive(Clone, Debug)]
pub(super) struct Kept {
    /// Where the other fluid is stated.
    pub(super) fluid: Place,
    /// Where the supply's pressure is.
    pub(super) pressure: Place,
}

impl Document {
    /// Reads a file and the files that it is like.
    pub fn open(path: impl AsRef<Path>) -> Result<Document, Problems> {
        let path = path.as_ref();
        let shown = path.display().to_string();
        let text =
            chain::text(path).map_err(|error| Problem::of_file(&shown, format!("cannot be read: {}", error.cause)))?;
        Ok(Document::from_text(&shown, text))
    }

    /// The same for a text in memory; a `like` in it is looked for beside the name.
    pub fn from_text(name: &str, text: impl Into<String>) -> Document {
        let file = Arc::new(SourceFile::new(name.to_owned(), text.into(), false));
        let stem =
            Path::new(name).file_stem().map_or_else(|| name.to_owned(), |stem| stem.to_string_lossy().into_owned());
        let mut document = Document {
            name: Arc::from(quote::harmless(&stem)),
            file: file.clone(),
            entries: vec![None; vocabulary::parameters().len()],
            tables: vec![None; vocabulary::tables().len()],
            problems: Arc::default(),
            further: 0,
            broken: false,
            must_be_liquid: false,
            kept_pressure: None,
            left: Arc::default(),
            settings: Vec::new(),
        };
        let mut problems = Vec::new();
        let layers = chain::layers(file, &mut problems);
        // What a lost file would have stated must not be reported as missing.
        document.broken = !problems.is_empty();
        for layer in layers.into_iter().rev() {
            document.lay(layer, &mut problems);
        }
        document.problems = Arc::new(problems);
        document
    }

    /// Lays a file over what there is: removals first, then rivals of what it states, then what it states.
    fn lay(&mut self, layer: Layer, problems: &mut Vec<Problem>) {
        for path in &layer.removed {
            self.remove(path);
        }
        let path = |number: usize| vocabulary::parameters()[number].path.as_str();
        if layer.entries.iter().any(|(number, _)| self.states_supply(path(*number))) {
            self.kept_pressure = None;
        }
        self.kept_pressure = self.kept_pressure(&layer).map(Arc::new).or(self.kept_pressure.take());
        self.left = self.left_of_another(&layer).map_or(self.left.clone(), Arc::new);
        let named = layer.entries.iter().any(|(number, _)| path(*number) == "fluid.named.name");
        for (number, _) in &layer.entries {
            self.spell_out_pipe(path(*number));
            if !named {
                self.spell_out_state(path(*number));
            }
        }
        for (number, _) in &layer.tables {
            self.displace(vocabulary::tables()[*number].path);
        }
        for (number, _) in &layer.entries {
            self.displace(&vocabulary::parameters()[*number].path);
        }
        for (number, place) in layer.tables {
            self.tables[number] = Some(place);
        }
        for (number, entry) in layer.entries {
            self.entries[number] = Some(entry);
        }
        self.broken |= layer.broken;
        problems.extend(layer.problems);
        self.further += layer.further;
    }

    /// Takes away what the given path excludes.
    fn displace(&mut self, path: &str) {
        for group in vocabulary::GROUPS {
            for place in group.replaced_by(path) {
                self.remove(place);
            }
        }
    }

    /// Where that path is bore or wall of a line that has a pipe, the pipe becomes the numbers it stands for, so that what is
    /// not restated stays: an axis along the bore keeps wall and material.
    fn spell_out_pipe(&mut self, path: &str) {
        let table = vocabulary::parent(path);
        let named = vocabulary::parameter(&join(table, "pipe")).and_then(|number| self.entries[number].clone());
        let Some(Entry { given: Given::Text(text), place }) = named else {
            return;
        };
        let measured = self.states(&join(table, "wave_speed"));
        let numbers = spelled::pipe(&text).unwrap_or_default();
        if !numbers.iter().any(|(name, _)| join(table, name) == path) && path != join(table, "material") {
            return;
        }
        for (name, value) in numbers.into_iter().filter(|(name, _)| !measured || *name == "bore") {
            if let Some(number) = vocabulary::parameter(&join(table, name)) {
                self.entries[number] = Some(Entry { given: Given::Spelled(value, text.clone()), place: place.clone() });
            }
        }
    }

    /// Where that path is a key of the named fluid's state and the fluid is stated in words, the words become the keys that they
    /// stand for: an axis along the subcooling keeps the fluid.
    pub(super) fn spell_out_state(&mut self, path: &str) {
        let table = "fluid.named";
        if vocabulary::parent(path) != table || path == join(table, "name") {
            return;
        }
        let Some(Entry { given: Given::Text(text), place }) = self.entry("fluid.state").cloned() else {
            return;
        };
        let keys = spelled::fluid(&text, self.atmosphere());
        self.displace(path);
        for (name, given) in keys {
            if let Some(number) = vocabulary::parameter(&join(table, name)) {
                self.entries[number] = Some(Entry { given, place: place.clone() });
            }
        }
    }

    /// Takes away a key, or a table with all that is in it.
    pub(super) fn remove(&mut self, path: &str) {
        if let Some(number) = vocabulary::parameter(path) {
            self.entries[number] = None;
            return;
        }
        for (entry, parameter) in self.entries.iter_mut().zip(vocabulary::parameters()) {
            if within(&parameter.path, path) {
                *entry = None;
            }
        }
        for (place, table) in self.tables.iter_mut().zip(vocabulary::tables()) {
            if within(table.path, path) {
                *place = None;
            }
        }
    }

    /// The same document, in which a named fluid must be a liquid: where it has boiled, that is a problem, see
    /// [`Problem::would_boil`], instead of a gas for which other keys are needed.
    pub fn as_liquid(&self) -> Document {
        Document { must_be_liquid: true, ..self.clone() }
    }

    /// The kind of quantity at a path; none where the path is unknown or not a number.
    pub fn dimension(&self, path: &str) -> Option<Dimension> {
        let parameter = &vocabulary::parameters()[vocabulary::parameter(path)?];
        match parameter.key.kind {
            Kind::AxisEnd => {
                let along = join_axis(&parameter.path);
                let axis = self.axis_path(along)?;
                vocabulary::parameter(&axis).and_then(|number| vocabulary::parameters()[number].key.kind.dimension())
            }
            kind => kind.dimension(),
        }
    }

    /// The parameter along an axis (`map.x` or `map.y`), as stated or by default.
    fn axis_path(&self, axis: &str) -> Option<String> {
        match self.entry(&format!("{axis}.path")) {
            None => super::defaults::axis(axis).map(|axis| axis.path.to_owned()),
            Some(Entry { given: Given::Text(path), .. }) => Some(path.to_string()),
            Some(_) => None,
        }
    }

    /// Paths of all parameters that are numbers, in the order of the vocabulary.
    pub fn paths(&self) -> Vec<&'static str> {
        let numeric = vocabulary::parameters().iter().filter(|p| self.dimension(&p.path).is_some());
        numeric.map(|parameter| parameter.path.as_str()).collect()
    }

    /// Settings as typed, in their order.
    pub fn settings(&self) -> Vec<&str> {
        self.settings.iter().map(AsRef::as_ref).collect()
    }

    /// Short name: the stem of the file.
    pub fn name(&self) -> &str {
        &self.name
    }

    pub(super) fn entry(&self, path: &str) -> Option<&Entry> {
        self.entries[vocabulary::parameter(path)?].as_ref()
    }

    pub(super) fn entry_at(&self, number: usize) -> Option<&Entry> {
        self.entries[number].as_ref()
    }

    /// Place of the heading of a table, else of the nearest table above it, else the start of the file.
    pub(super) fn table_place(&self, table: &str) -> Place {
        let mut path = table;
        while !path.is_empty() {
            if let Some(place) = vocabulary::table(path).and_then(|number| self.tables[number].clone()) {
                return place;
            }
            path = vocabulary::parent(path);
        }
        Place::File { file: self.file.clone(), span: 0..0 }
    }

    /// Is that key, or that table or anything in it, stated?
    pub(super) fn states(&self, path: &str) -> bool {
        if let Some(number) = vocabulary::parameter(path) {
            return self.entries[number].is_some();
        }
        let heading =
            vocabulary::tables().iter().zip(&self.tables).any(|(t, place)| place.is_some() && within(t.path, path));
        heading || vocabulary::parameters().iter().zip(&self.entries).any(|(p, e)| e.is_some() && within(&p.path, path))
    }

    /// Where that key or table is stated first.
    pub(super) fn place_of(&self, path: &str) -> Place {
        let entry = |number: usize| self.entries[number].as_ref().map(|entry| entry.place.clone());
        if let Some(place) = vocabulary::parameter(path).and_then(entry) {
            return place;
        }
        let inside =
            vocabulary::parameters().iter().position(|p| within(&p.path, path) && self.entry(&p.path).is_some());
        match vocabulary::table(path).and_then(|number| self.tables[number].clone()) {
            Some(place) => place,
            None => inside.and_then(entry).unwrap_or_else(|| self.table_place(vocabulary::parent(path))),
        }
    }

    /// Where a file states another fluid than the one it is like, and leaves it that file's supply pressure.
    pub(super) fn kept(&self) -> Option<&Kept> {
        self.kept_pressure.as_deref()
    }

    /// The file behind a value, where it is another than the one that was opened.
    pub(super) fn other_file(&self, path: &str) -> Option<String> {
        match &self.entry(path)?.place {
            Place::File { file, .. } if !Arc::ptr_eq(file, &self.file) => {
                Path::new(&file.name).file_name().map(|name| quote::word(&name.to_string_lossy()).into_owned())
            }
            Place::File { .. } | Place::Setting(_) | Place::Number => None,
        }
    }

    /// The file behind a value, where none of its text may be shown.
    pub(super) fn foreign_file(&self, path: &str) -> Option<&str> {
        match &self.entry(path)?.place {
            Place::File { file, .. } if file.foreign => Some(&file.name),
            Place::File { .. } | Place::Setting(_) | Place::Number => None,
        }
    }

    pub(super) fn problems(&self) -> &[Problem] {
        &self.problems
    }

    /// How many problems with the files there are beside these.
    pub(super) fn further(&self) -> usize {
        self.further
    }

    pub(super) fn must_be_liquid(&self) -> bool {
        self.must_be_liquid
    }

    pub(super) fn broken(&self) -> bool {
        self.broken
    }

    /// Atmospheric pressure, Pa; not a number where it is missing or wrong, which the reader reports by itself.
    pub(super) fn atmosphere(&self) -> f64 {
        match self.entry("atmosphere").map(|entry| &entry.given) {
            Some(Given::Text(text)) => units::parse(text, Dimension::AbsolutePressure, f64::NAN).unwrap_or(f64::NAN),
            Some(Given::Si(value)) if value.is_finite() => *value,
            _ => f64::NAN,
        }
    }
}

/// The axis table of one of its ends.
fn join_axis(path: &str) -> &str {
    vocabulary::parent(path)
}
