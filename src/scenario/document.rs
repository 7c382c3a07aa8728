//! A scenario as stated: its files laid over each other, and the settings laid over them. Changing one value is cheap, so
//! that a map can ask for thousands of scenarios.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::layer::{self, Entry, Given, Layer};
use super::line_wall;
use super::model::Scenario;
use super::named_fluid;
use super::one_pressure::Kept;
use super::problem::{Place, Problem, Problems, SourceFile, Warning};
use super::reader::{self, Reader};
use super::vocabulary::{self, Kind, join, within};
use crate::units::{self, Dimension};

/// A scenario as stated in files and settings; see [`Document::scenario`] for what it means.
#[derive(Clone, Debug)]
pub struct Document {
    name: Arc<str>,
    file: Arc<SourceFile>,
    entries: Vec<Option<Entry>>,
    tables: Vec<Option<Place>>,
    problems: Arc<Vec<Problem>>,
    broken: bool,
    must_be_liquid: bool,
    kept_pressure: Option<Arc<Kept>>,
    pub(super) left: Arc<Vec<(&'static str, Place)>>,
    settings: Vec<Arc<str>>,
}

impl Document {
    /// Reads a file and the files that it is like.
    pub fn open(path: impl AsRef<Path>) -> Result<Document, Problems> {
        let path = path.as_ref();
        let shown = path.display().to_string();
        let text = std::fs::read_to_string(path)
            .map_err(|error| Problem::of_file(&shown, format!("cannot be read: {error}")))?;
        Ok(Document::from_text(&shown, text))
    }

    /// The same for a text in memory; a `like` in it is looked for beside the name.
    pub fn from_text(name: &str, text: impl Into<String>) -> Document {
        let file = Arc::new(SourceFile { name: name.to_owned(), text: text.into() });
        let stem =
            Path::new(name).file_stem().map_or_else(|| name.to_owned(), |stem| stem.to_string_lossy().into_owned());
        let mut document = Document {
            name: Arc::from(stem),
            file: file.clone(),
            entries: vec![None; vocabulary::parameters().len()],
            tables: vec![None; vocabulary::tables().len()],
            problems: Arc::default(),
            broken: false,
            must_be_liquid: false,
            kept_pressure: None,
            left: Arc::default(),
            settings: Vec::new(),
        };
        let mut problems = Vec::new();
        let layers = layers(file, &mut problems);
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
        let numbers = line_wall::numbers(&text).unwrap_or_default();
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
        let keys = named_fluid::keys(&text, self.atmosphere());
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

    /// The same document with one setting as typed, such as `valve.bleed.diameter=0.6 mm`; it replaces what it excludes.
    pub fn with_setting(&self, setting: &str) -> Result<Document, Problem> {
        let wrong = |message: String| Problem::of_setting(setting.trim(), message);
        let (path, value) = setting
            .split_once('=')
            .ok_or_else(|| wrong("is not of the form PATH=VALUE, such as valve.bleed.diameter=0.6 mm".to_owned()))?;
        let (path, value) = (path.trim(), value.trim());
        let mut changed = self.clone();
        changed.settings.push(Arc::from(setting.trim()));
        if value.trim_matches('"') == "none" && layer::removable(path) {
            changed.remove(path);
            return Ok(changed);
        }
        let number = vocabulary::parameter(path)
            .ok_or_else(|| wrong(format!("`{path}` is not a path; {}", vocabulary::nearest_paths(path))))?;
        let kind = vocabulary::parameters()[number].key.kind;
        if path == "like" {
            return Err(wrong("`like` can be stated in a file only".to_owned()));
        }
        let entry =
            Entry { given: layer::given_by_hand(value, kind), place: Place::Setting(Arc::from(setting.trim())) };
        changed.put(number, entry);
        reader::check_alone(&changed, number).map_err(|message| wrong(format!("{path}: {message}")))?;
        Ok(changed)
    }

    /// The same document with one number in SI, exactly as given; it replaces what it excludes.
    pub fn with_number(&self, path: &str, value: f64) -> Result<Document, Problem> {
        let wrong = |message: String| Problem::of_setting(path, message);
        let number = vocabulary::parameter(path)
            .ok_or_else(|| wrong(format!("`{path}` is not a path; {}", vocabulary::nearest_paths(path))))?;
        if self.dimension(path).is_none() {
            return Err(wrong(format!("`{path}` is not a number")));
        }
        let mut changed = self.clone();
        changed.put(number, Entry { given: Given::Si(value), place: Place::Number });
        Ok(changed)
    }

    fn put(&mut self, number: usize, entry: Entry) {
        let path = &vocabulary::parameters()[number].path;
        self.spell_out_pipe(path);
        self.spell_out_state(path);
        self.displace(path);
        if self.states_supply(path) {
            self.kept_pressure = None;
        }
        self.follow_pressure(path);
        if path == "fluid.named.pressure"
            && let Some(supply) = vocabulary::parameter("supply.pressure")
        {
            self.entries[supply] = Some(entry.clone());
        }
        self.entries[number] = Some(entry);
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

    /// What it means: the scenario and what is odd about it, or every problem at once.
    pub fn scenario(&self) -> Result<(Scenario, Vec<Warning>), Problems> {
        reader::scenario(self).map(|reading| (reading.scenario, reading.warnings))
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
                Path::new(&file.name).file_name().map(|name| name.to_string_lossy().into_owned())
            }
            Place::File { .. } | Place::Setting(_) | Place::Number => None,
        }
    }

    pub(super) fn problems(&self) -> &[Problem] {
        &self.problems
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
            Some(Given::Si(value)) => *value,
            _ => f64::NAN,
        }
    }

    /// Reads for the reader only.
    pub(super) fn reader(&self) -> Reader<'_> {
        Reader::new(self)
    }
}

/// The axis table of one of its ends.
fn join_axis(path: &str) -> &str {
    vocabulary::parent(path)
}

/// The file and those that it is like, the nearest first.
fn layers(file: Arc<SourceFile>, problems: &mut Vec<Problem>) -> Vec<Layer> {
    let mut seen = vec![canonical(Path::new(&file.name))];
    let mut layers = vec![layer::read(file)];
    while let Some((like, place)) = layers.last().and_then(Layer::like) {
        let above = layers.last().map_or("", |layer| &layer.file.name);
        let path = Path::new(above).parent().unwrap_or(Path::new("")).join(like.as_ref());
        let name = path.display().to_string();
        if seen.contains(&canonical(&path)) {
            problems.push(Problem::at(&place, format!("`like` runs in a circle: {name} is already in the chain")));
            break;
        }
        match std::fs::read_to_string(&path) {
            Ok(text) => layers.push(layer::read(Arc::new(SourceFile { name, text }))),
            Err(error) => {
                problems.push(Problem::at(&place, format!("{name} cannot be read: {error}")));
                break;
            }
        }
        seen.push(canonical(&path));
    }
    layers
}

fn canonical(path: &Path) -> PathBuf {
    path.canonicalize().unwrap_or_else(|_| path.to_owned())
}
