//! One pressure at the valve: the fluid's state is at the supply's pressure. A setting or an axis along one of the keys that
//! state it moves the other with it; a file that states both states one value twice, and where they disagree it is refused.

use super::document::Document;
use super::layer::{Given, Layer};
use super::model::NamedFluid;
use super::problem::Place;
use super::reader::Reader;
use super::vocabulary::{self, within};
use crate::units::{Dimension, text};

/// The state's own pressure.
const STATE: &str = "fluid.named.pressure";
/// The supply's pressure, by itself and counted from the sink.
const SUPPLY: &str = "supply.pressure";
const ABOVE_SINK: &str = "supply.differential";
const SINK: &str = "sink.pressure";
/// What else belongs to a fluid and its plant.
const OTHERS: [&str; 2] = [SINK, "flow.refrigerating_effect"];
/// The ways of stating a fluid.
const FLUIDS: [&str; 4] = ["fluid.state", "fluid.named", "fluid.liquid", "fluid.gas"];

/// A file that states another fluid than the file it is like, and leaves it that file's supply pressure.
#[derive(Clone, Debug)]
pub(super) struct Kept {
    /// Where the other fluid is stated.
    pub(super) fluid: Place,
    /// Where the supply's pressure is.
    pub(super) pressure: Place,
}

/// Do two axes move the same pressure?
pub(super) fn same_pressure(one: &str, other: &str) -> bool {
    let supply = |path: &str| path == SUPPLY || path == ABOVE_SINK;
    (one == STATE && supply(other)) || (other == STATE && supply(one))
}

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
            "fluid.state" => match super::named_fluid::keys(words, self.atmosphere()).into_iter().next()? {
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
                && super::named_fluid::has_pressure(words, self.atmosphere())
            {
                self.spell_out_state(STATE);
            }
            self.remove(STATE);
        }
    }
}

/// Why a fluid's state cannot be at another pressure than the supply's: both values, both places, and the mend.
pub(super) fn disagree(document: &Document, fluid: &str, state: f64, supply: f64) -> String {
    let words = |value: f64| text(value, Dimension::AbsolutePressure);
    let by = if document.states(SUPPLY) { SUPPLY } else { ABOVE_SINK };
    let counted = if by == SUPPLY { "" } else { ", counted from the sink" };
    let mend = if document.states(STATE) && fluid != "fluid.state" {
        format!("take `{STATE}` away")
    } else {
        "leave one of temperature, pressure, and subcooling or superheat out".to_owned()
    };
    format!(
        "the state of the fluid is at {}, but the supply is at {} (`{by}`{counted}, {}): one valve has one pressure before it. \
         {}, and the fluid takes the supply's; or restate `{by}`",
        words(state),
        words(supply),
        document.place_of(by),
        capital(&mend)
    )
}

/// Reports a supply pressure that was meant for another fluid; one that could not be read has been reported already.
pub(super) fn kept(reader: &mut Reader<'_>, supply: f64) {
    let Some(kept) = reader.document().kept().filter(|_| supply.is_finite()) else { return };
    let message = format!(
        "another fluid than in the file that this one is like, at that file's supply pressure of {} ({}): state `pressure` or \
         `differential` in [supply] here too, be it the same value",
        text(supply, Dimension::AbsolutePressure),
        kept.pressure
    );
    reader.problem_at(&kept.fluid, message);
}

/// Remarks on what was meant for the fluid of the file that this one is like.
pub(super) fn left(reader: &mut Reader<'_>, named: Option<&NamedFluid>) {
    for (path, place) in reader.document().left.iter() {
        let Some(value) = reader.value(path).filter(|_| reader.document().place_of(path).same(place)) else { continue };
        let Some(dimension) = reader.document().dimension(path) else { continue };
        let boils = named.filter(|_| *path == SINK).and_then(|named| named.medium.bubble_temperature(value).ok());
        let at = boils
            .map_or(String::new(), |at| format!(", at which this fluid boils at {}", text(at, Dimension::Temperature)));
        let message = format!(
            "{} is that of the file that this one is like, which has another fluid{at}: is it meant? Where it is, state it here too",
            text(value, dimension)
        );
        reader.warn(path, message);
    }
}

fn capital(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}
