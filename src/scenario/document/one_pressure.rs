//! One pressure at the valve: the fluid's state is at the supply's pressure. A setting or an axis along one of the keys that
//! state it moves the other with it.

use super::{Document, Kept};
use crate::scenario::layer::{Given, Layer};
use crate::scenario::problem::Place;
use crate::scenario::spelled;
use crate::scenario::vocabulary::pressure::{ABOVE_SINK, SINK, STATE, SUPPLY};
use crate::scenario::vocabulary::{self, within};

/// What else belongs to a fluid and its plant.
const OTHERS: [&str; 2] = [SINK, "flow.refrigerating_effect"];
/// The ways of stating a fluid.
const FLUIDS: [&str; 4] = ["fluid.state", "fluid.named", "fluid.liquid", "fluid.gas"];

impl Document {
    /// The supply's pressure that a file keeps from the one it is like, although it states another fluid: asked before that
    /// file is laid over. One number of a state, such as the subcooling, may change at the pressure that is kept.
    pub(super) fn kept_pressure(&self, layer: &Layer) -> Option<Kept> {
        let stated = || {
            layer.entries.iter().map(|(number, entry)| (vocabulary::parameters()[*number].path.as_str(), &entry.place))
        };
        let counted = if self.states(ABOVE_SINK) { [SUPPLY, ABOVE_SINK, SINK] } else { [SUPPLY, ABOVE_SINK, SUPPLY] };
        if stated().any(|(path, _)| counted.contains(&path)) {
            return None;
        }
        let pressure = [SUPPLY, ABOVE_SINK].into_iter().find(|path| self.states(path))?;
        let (_, fluid) = stated().find(|(path, _)| self.another_fluid(path))?;
        Some(Kept { fluid: fluid.clone(), pressure: self.place_of(pressure) })
    }

    /// Does stating that path replace the fluid?
    fn another_fluid(&self, path: &str) -> bool {
        match FLUIDS.iter().position(|way| within(path, way)) {
            Some(0) => true,
            Some(1) => path == "fluid.named.name",
            Some(way) => FLUIDS.iter().enumerate().any(|(other, table)| other != way && self.states(table)),
            None => false,
        }
    }

    /// What a file that states a fluid by another name leaves as it is in the file that it is like, with its places; none where
    /// the fluid is the same.
    pub(super) fn left_of_another(&self, layer: &Layer) -> Option<Vec<(&'static str, Place)>> {
        let stated = || {
            layer.entries.iter().map(|(number, entry)| (vocabulary::parameters()[*number].path.as_str(), &entry.given))
        };
        stated().find(|(path, _)| self.another_fluid(path))?;
        let new = stated().find_map(|(path, given)| self.name_in(path, given));
        let old = ["fluid.state", "fluid.named.name"].into_iter().find_map(|p| self.name_in(p, &self.entry(p)?.given));
        if new.is_some() && new == old {
            return None;
        }
        let kept = |path: &&str| self.states(path) && !stated().any(|(other, _)| other == *path);
        Some(OTHERS.into_iter().filter(kept).map(|path| (path, self.place_of(path))).collect())
    }

    /// The fluid's name in what is stated at a path, in small letters.
    fn name_in(&self, path: &str, given: &Given) -> Option<String> {
        let Given::Text(words) = given else { return None };
        let name = match path {
            "fluid.named.name" => words.to_string(),
            "fluid.state" => match spelled::fluid(words, self.atmosphere()).into_iter().next()? {
                (_, Given::Text(name)) => name.to_string(),
                _ => return None,
            },
            _ => return None,
        };
        Some(name.to_lowercase())
    }

    /// Does stating that path, in a file or a setting, state the supply's pressure?
    pub(super) fn states_supply(&self, path: &str) -> bool {
        path == SUPPLY || path == ABOVE_SINK || path == STATE || (path == SINK && self.states(ABOVE_SINK))
    }

    /// What a setting or an axis along that path does to the other pressure: along the supply's the state follows, along the
    /// state's the supply follows.
    pub(super) fn follow_pressure(&mut self, path: &str) {
        if path == STATE {
            for place in [SUPPLY, ABOVE_SINK] {
                self.remove(place);
            }
        } else if self.states_supply(path) {
            if let Some(Given::Text(words)) = self.entry("fluid.state").map(|entry| &entry.given)
                && spelled::has_pressure(words, self.atmosphere())
            {
                self.spell_out_state(STATE);
            }
            self.remove(STATE);
        }
    }
}
