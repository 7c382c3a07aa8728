//! What each panel shows, and over which range.

use super::subject::RunFigure;
use crate::output::plot::canvas::{Dash, Stroke};
use crate::output::plot::colour::{BLACK, BLUE, Colour, VERMILLION};
use crate::output::plot::limit::LevelLine;
use crate::output::unit::{Units, fitting_units, largest_size, reading};
use crate::trace::Channel;
use crate::units::Dimension;

/// Title and channels of each panel, from above.
const PLAN: [(&str, &[&str]); 7] = [
    ("pressure", &["inlet_pressure", "outlet_pressure", "chamber_pressure"]),
    ("travel", &["lift", "armature_travel"]),
    ("current", &["coil_current"]),
    ("force", &["magnet_force", "armature_load"]),
    ("flow", &["main_flow", "inlet_flow", "outlet_flow"]),
    ("pilot flow", &["pilot_flow", "bleed_flow"]),
    ("gas and vapour", &["inlet_gas_volume", "outlet_gas_volume"]),
];

/// Cavities that stay below this are the gas that every liquid carries, m³ (judgement: 1 mm³ moves no column).
const LEAST_CAVITY: f64 = 1e-9;
/// A quantity that moves by less than this share of itself stands still on paper.
const STILL: f64 = 1e-6;

const LIMIT_COLOUR: Colour = Colour(150, 30, 0);
const VAPOUR_COLOUR: Colour = Colour(0, 60, 110);

/// One panel.
pub(super) struct Panel<'a> {
    pub(super) title: String,
    pub(super) dimension: Dimension,
    pub(super) channels: Vec<&'a Channel>,
    pub(super) units: Units,
    pub(super) range: (f64, f64),
    pub(super) levels: Vec<LevelLine>,
    /// Limits too far from the data to be drawn.
    pub(super) beyond: Vec<String>,
}

/// The panels of a figure, and what they leave out.
pub(super) struct Panels<'a> {
    pub(super) all: Vec<Panel<'a>>,
    /// Channels that stand still, with their values.
    pub(super) still: Vec<String>,
}

impl Panel<'_> {
    pub(super) fn has(&self, name: &str) -> bool {
        self.channels.iter().any(|c| c.quantity.name == name)
    }
}

/// Style of the n-th curve of a panel; told apart in grey by dashes.
pub(super) fn stroke(n: usize) -> Stroke {
    match n {
        0 => Stroke { colour: BLUE, width: 1.3, dash: Dash::Solid },
        1 => Stroke { colour: VERMILLION, width: 1.2, dash: Dash::Dashed },
        _ => Stroke { colour: BLACK, width: 1.1, dash: Dash::Dotted },
    }
}

/// Words of a channel.
pub(super) fn words(channel: &Channel) -> String {
    channel.quantity.name.replace('_', " ")
}

/// The panels in which something happens; quantities of different kinds never share a scale.
pub(super) fn panels<'a>(figure: &RunFigure<'a>) -> Panels<'a> {
    let mut panels = Panels { all: Vec::new(), still: Vec::new() };
    for (title, names) in PLAN {
        let mut groups: Vec<(Dimension, Vec<&Channel>)> = Vec::new();
        for channel in names.iter().filter_map(|name| figure.trace.channel(name)) {
            if extremes(channel.values.iter().copied()).is_none() {
                continue;
            }
            let dimension = channel.quantity.dimension;
            match groups.iter_mut().find(|(d, _)| *d == dimension) {
                Some((_, group)) => group.push(channel),
                None => groups.push((dimension, vec![channel])),
            }
        }
        let alone = groups.len() == 1;
        for (dimension, channels) in groups {
            if channels.iter().all(|c| stands_still(c)) {
                panels.still.extend(channels.iter().filter_map(|c| still(c)));
                continue;
            }
            let title = if alone { title.to_owned() } else { words(channels[0]) };
            panels.all.push(panel(figure, title, dimension, channels));
        }
    }
    panels
}

/// Lowest and highest of the values that are numbers.
pub(super) fn extremes(values: impl Iterator<Item = f64>) -> Option<(f64, f64)> {
    let (low, high) = values
        .filter(|v| v.is_finite())
        .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), v| (low.min(v), high.max(v)));
    (low <= high).then_some((low, high))
}

fn stands_still(channel: &Channel) -> bool {
    extremes(channel.values.iter().copied()).is_none_or(|(low, high)| {
        let cavity = channel.quantity.dimension == Dimension::Volume;
        (cavity && high < LEAST_CAVITY) || high - low <= STILL * high.abs().max(low.abs())
    })
}

/// The value of a channel that stands still; nothing is said of what is nought throughout.
fn still(channel: &Channel) -> Option<String> {
    let value = channel.values.iter().copied().find(|v| v.is_finite())?;
    let cavity = channel.quantity.dimension == Dimension::Volume;
    let told = || format!("{} {}", words(channel), reading(value, &fitting_units(channel.quantity.dimension, value)));
    (value != 0.0 && !cavity).then(told)
}

/// The range of an axis for data: from nought where the data come near it, else close about them.
pub(super) fn spread(data: (f64, f64), dimension: Dimension) -> (f64, f64) {
    const NEAR: f64 = 0.3;
    let (mut low, mut high) = data;
    if dimension != Dimension::Temperature {
        if low > 0.0 && low <= NEAR * high {
            low = 0.0;
        }
        if high < 0.0 && high >= NEAR * low {
            high = 0.0;
        }
    }
    (low, high)
}

/// A range with some air about it.
pub(super) fn aired(range: (f64, f64)) -> (f64, f64) {
    let air = 0.07 * (range.1 - range.0);
    let below = if range.0 == 0.0 { 0.02 * (range.1 - range.0) } else { air };
    (range.0 - below, range.1 + air)
}

fn panel<'a>(figure: &RunFigure<'a>, title: String, dimension: Dimension, channels: Vec<&'a Channel>) -> Panel<'a> {
    // A limit further off than this share of the data's own spread would press them into a thin line; it is named below
    // the figure instead.
    const REACH: f64 = 0.8;
    let data = extremes(channels.iter().flat_map(|c| c.values.iter().copied())).unwrap_or((0.0, 1.0));
    let (mut low, mut high) = spread(data, dimension);
    let reach = REACH * (high - low);
    let (least, most) = (low - reach, high + reach);
    let (mut levels, mut beyond) = (Vec::new(), Vec::new());
    for (label, value, colour) in lines(figure, dimension) {
        let told = format!("{label} {}", reading(value, &fitting_units(dimension, value)));
        if (least..=most).contains(&value) {
            levels.push(LevelLine { value, label: label.to_owned(), told, colour });
            (low, high) = (low.min(value), high.max(value));
        } else {
            beyond.push(told);
        }
    }
    let units = fitting_units(dimension, largest_size([low, high].into_iter()));
    Panel { title, dimension, channels, units, range: aired((low, high)), levels, beyond }
}

fn lines<'a>(figure: &RunFigure<'a>, dimension: Dimension) -> Vec<(&'a str, f64, Colour)> {
    let limits = figure.limits.iter().filter(|l| l.dimension == dimension);
    let mut all: Vec<(&str, f64, Colour)> = limits.map(|l| (l.label.as_str(), l.value, LIMIT_COLOUR)).collect();
    if dimension == Dimension::AbsolutePressure {
        all.extend(figure.vapour_pressure.map(|p| ("vapour pressure", p, VAPOUR_COLOUR)));
    }
    // A limit without a value limits nothing.
    all.retain(|line| line.1.is_finite());
    all
}
