//! One pressure at the valve, as it is read: a file that states both the fluid's and the supply's states one value twice, and
//! where they disagree it is refused.

use super::document::Document;
use super::model::NamedFluid;
use super::reader::Reader;
use super::vocabulary::pressure::{ABOVE_SINK, SINK, STATE, SUPPLY};
use crate::units::{Dimension, text};

/// Do two axes move the same pressure?
pub(super) fn same_pressure(one: &str, other: &str) -> bool {
    let supply = |path: &str| path == SUPPLY || path == ABOVE_SINK;
    (one == STATE && supply(other)) || (other == STATE && supply(one))
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
