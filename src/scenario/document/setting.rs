//! One value of a document changed: by a setting as typed, or by a number of a study.

use std::sync::Arc;

use super::Document;
use crate::key::Kind;
use crate::scenario::layer::{self, Entry, Given};
use crate::scenario::problem::{LISTED, Place, Problem, Problems};
use crate::scenario::value::{number_of, path_of, text_of, word_of};
use crate::scenario::vocabulary;

impl Document {
    /// The same document with one setting as typed, such as `valve.bleed.diameter=0.6 mm`; it replaces what it excludes.
    pub fn with_setting(&self, setting: &str) -> Result<Document, Problem> {
        let mut changed = self.clone();
        changed.set(setting).map_err(|message| Problem::of_setting(setting.trim(), message()))?;
        Ok(changed)
    }

    /// The same with several, one after the other; every wrong one is a problem.
    pub fn with_settings(&self, settings: &[impl AsRef<str>]) -> Result<Document, Problems> {
        let (mut changed, mut problems, mut further) = (self.clone(), Vec::new(), 0);
        for setting in settings.iter().map(AsRef::as_ref) {
            match changed.set(setting) {
                Ok(()) => {}
                Err(message) if problems.len() < LISTED => {
                    problems.push(Problem::of_setting(setting.trim(), message()));
                }
                Err(_) => further += 1,
            }
        }
        if problems.is_empty() { Ok(changed) } else { Err(Problems(problems, further)) }
    }

    /// Lays a setting over what there is, or says why not, in words that are only made when they are wanted; then nothing has
    /// changed.
    fn set<'s>(&mut self, setting: &'s str) -> Result<(), Box<dyn Fn() -> String + 's>> {
        let wrong = |message: String| -> Box<dyn Fn() -> String> { Box::new(move || message.clone()) };
        let Some((path, value)) = setting.split_once('=') else {
            let form = "is not of the form PATH=VALUE, such as valve.bleed.diameter=0.6 mm";
            return Err(wrong(form.to_owned()));
        };
        let (path, value) = (path.trim(), value.trim());
        if value.trim_matches('"') == "none" && layer::removable(path) {
            self.remove(path);
            self.settings.push(Arc::from(setting.trim()));
            return Ok(());
        }
        let Some(number) = vocabulary::parameter(path) else {
            return Err(Box::new(move || vocabulary::unknown_path(path)));
        };
        if path == "like" {
            return Err(wrong("`like` can be stated in a file only".to_owned()));
        }
        let given = layer::given_by_hand(value, vocabulary::parameters()[number].key.kind);
        let entry = Entry { given, place: Place::Setting(Arc::from(setting.trim())) };
        self.check_alone(number, &entry).map_err(|message| wrong(format!("{path}: {message}")))?;
        self.put(number, entry);
        self.settings.push(Arc::from(setting.trim()));
        Ok(())
    }

    /// The same document with one number in SI, exactly as given; it replaces what it excludes.
    pub fn with_number(&self, path: &str, value: f64) -> Result<Document, Problem> {
        let wrong = |message: String| Problem::of_setting(path, message);
        let number = vocabulary::parameter(path).ok_or_else(|| wrong(vocabulary::unknown_path(path)))?;
        if self.dimension(path).is_none() {
            return Err(wrong(format!("`{path}` is not a number")));
        }
        let mut changed = self.clone();
        changed.put(number, Entry { given: Given::Si(value), place: Place::Number });
        Ok(changed)
    }

    /// Checks one value by itself, without its place.
    fn check_alone(&self, number: usize, entry: &Entry) -> Result<(), String> {
        let parameter = &vocabulary::parameters()[number];
        match parameter.key.kind {
            Kind::Text => text_of(parameter, entry).map(|_| ()),
            Kind::Path => path_of(parameter, entry).map(|_| ()),
            Kind::Word(words) => word_of(words, parameter, entry).map(|_| ()),
            _ => match self.dimension(&parameter.path) {
                Some(dimension) => number_of(parameter, dimension, entry, self.atmosphere()).map(|_| ()),
                None => Ok(()),
            },
        }
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
}
