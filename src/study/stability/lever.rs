//! What can be changed to quiet a stage, and by whom.

use super::point::Question;
use crate::physics::fluid::Phase;
use crate::scenario::{Document, title};
use crate::study::axis::DIFFERENTIAL;
use crate::study::own_point::own_value;
use crate::study::quoted::said;
use crate::units::Dimension;

/// Who can make a change.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum By {
    /// Whoever looks after the plant, on site.
    Site,
    /// The same, with a part that is bought.
    Part,
    /// Only the valve's maker.
    Maker,
}

/// How a thing is taken away altogether.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Removal {
    /// It cannot be.
    Impossible,
    /// By nought.
    Nought,
    /// By these settings.
    Settings(&'static [&'static str]),
}

use By::{Maker, Part, Site};
use Removal::{Impossible, Nought, Settings};

const INLET_GAS: &str = "valve.inlet.gas";
const TRAPPED_GAS: &str = "valve.chamber.trapped_gas";
const PULSATION: &str = "supply.pulsation";
const UNPULSATED: &[&str] = &["supply.pulsation=none", "supply.pulsation_frequency=none"];
/// Path of the bleed bore.
pub(super) const BLEED: &str = "valve.bleed.diameter";

/// All that is tried, in this order where changes are equally large.
const LEVERS: &[(&str, By, Removal)] = &[
    (DIFFERENTIAL, Site, Impossible),
    ("flow.mass_flow", Site, Impossible),
    ("sink.throttle_kv", Site, Impossible),
    (INLET_GAS, Site, Settings(&["valve.inlet.gas=none"])),
    (TRAPPED_GAS, Site, Settings(&["valve.chamber.trapped_gas=none"])),
    ("upstream.length", Site, Impossible),
    ("upstream.bore", Site, Impossible),
    ("upstream.loss_coefficient", Site, Nought),
    ("downstream.length", Site, Impossible),
    ("downstream.bore", Site, Impossible),
    ("downstream.loss_coefficient", Site, Nought),
    (PULSATION, Part, Settings(UNPULSATED)),
    (BLEED, Part, Impossible),
    ("valve.inlet.volume", Part, Impossible),
    ("valve.outlet.volume", Part, Impossible),
    ("valve.pilot.diameter", Maker, Impossible),
    ("valve.pilot.length", Maker, Impossible),
    ("valve.chamber.volume", Maker, Impossible),
    ("valve.main.preload", Maker, Impossible),
    ("valve.main.spring_rate", Maker, Impossible),
    ("valve.main.damping", Maker, Impossible),
    ("valve.main.seat_diameter", Maker, Impossible),
    ("valve.main.mass", Maker, Impossible),
];

/// A parameter that can be changed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lever {
    /// Path.
    pub path: &'static str,
    /// Its title.
    pub words: &'static str,
    /// Kind of quantity.
    pub dimension: Dimension,
    /// Who can change it.
    pub by: By,
    /// Today's value, SI.
    pub value: f64,
    removal: Removal,
}

impl Lever {
    /// One value as a user sets it.
    pub(super) fn spoken(&self, value: f64) -> Vec<String> {
        vec![format!("{}={}", self.path, said(value, self.dimension))]
    }

    /// What a user sets to take it away; none where it is needed.
    pub(super) fn removed(&self) -> Option<Vec<String>> {
        match self.removal {
            Impossible => None,
            Nought => Some(vec![format!("{}=0", self.path)]),
            Settings(settings) => Some(settings.iter().map(ToString::to_string).collect()),
        }
    }

    /// Can most of it be taken away? Of that a small rest may already be too much.
    pub(super) fn reducible(&self) -> bool {
        [INLET_GAS, TRAPPED_GAS, PULSATION].contains(&self.path)
    }

    /// Is it the length of a line, which a short one may exceed many times?
    pub(super) fn is_length(&self) -> bool {
        ["upstream.length", "downstream.length"].contains(&self.path)
    }
}

/// The levers of a document: those that it has a value for. A trace of gas from which cavities grow is no pocket.
pub(super) fn levers(document: &Document, question: &Question<'_>) -> Vec<Lever> {
    let scenario = question.scenario();
    let liquid = matches!(scenario.fluid.phase, Phase::Liquid(_));
    let stated = |path: &str| match path {
        "flow.mass_flow" => scenario.flow.is_some(),
        "sink.throttle_kv" => scenario.flow.is_none() && scenario.sink.throttle > 0.0,
        INLET_GAS | TRAPPED_GAS => liquid,
        _ => true,
    };
    let lever = |&(path, by, removal): &(&'static str, By, Removal)| {
        let value = own_value(document, scenario, path).filter(|v| *v > 0.0 && stated(path))?;
        (path != INLET_GAS || value > TRACE).then_some(Lever {
            path,
            words: title(path)?,
            dimension: document.dimension(path)?,
            by,
            value,
            removal,
        })
    };
    LEVERS.iter().filter_map(lever).collect()
}

/// Gas at a port that is only the seed of cavities, m³ (see `closing`).
const TRACE: f64 = 1e-9;

/// A lever for tests.
#[cfg(test)]
pub(super) fn sample(path: &'static str, by: By, value: f64) -> Lever {
    Lever { path, words: path, dimension: Dimension::Number, by, value, removal: Impossible }
}
