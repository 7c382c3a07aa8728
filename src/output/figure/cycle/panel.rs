//! What each panel shows, and over which range.

use super::RunFigure;
use crate::output::plot::axis::{Axis, Spacing};
use crate::output::plot::canvas::{Dash, Stroke};
use crate::output::plot::colour::{BLACK, BLUE, Colour, VERMILLION};
use crate::output::plot::limit::LevelLine;
use crate::output::unit::{Units, reading, units};
use crate::trace::Channel;
use crate::units::Dimension;

/// Title and channels of each panel, from above.
const PLAN: [(&str, &[&str]); 6] = [
    ("pressure", &["inlet_pressure", "outlet_pressure", "chamber_pressure"]),
    ("travel", &["lift", "armature_travel"]),
    ("magnet", &["coil_current", "magnet_force"]),
    ("flow", &["main_flow", "supply_flow", "sink_flow"]),
    ("pilot flow", &["pilot_flow", "bleed_flow"]),
    ("cavity", &["inlet_cavity", "outlet_cavity"]),
];

const LIMIT_COLOUR: Colour = Colour(150, 30, 0);
const VAPOUR_COLOUR: Colour = Colour(0, 60, 110);

/// One panel.
pub(super) struct Panel<'a> {
    pub(super) title: String,
    pub(super) channels: Vec<&'a Channel>,
    pub(super) units: Units,
    pub(super) range: (f64, f64),
    pub(super) levels: Vec<LevelLine>,
    /// Limits too far from the data to be drawn.
    pub(super) beyond: Vec<String>,
}

impl Panel<'_> {
    pub(super) fn has(&self, name: &str) -> bool {
        self.channels.iter().any(|c| c.quantity.name == name)
    }

    pub(super) fn axis(&self, top: f64, bottom: f64) -> Axis {
        Axis::new(Spacing::Linear, self.range, (bottom, top))
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

/// The panels for which the run recorded something; quantities of different kinds never share a scale.
pub(super) fn panels<'a>(figure: &RunFigure<'a>) -> Vec<Panel<'a>> {
    let mut all: Vec<Panel> = Vec::new();
    for (title, names) in PLAN {
        let mut groups: Vec<(Dimension, Vec<&Channel>)> = Vec::new();
        for channel in names.iter().filter_map(|name| figure.trace.channel(name)) {
            let cavity = channel.quantity.dimension == Dimension::Volume;
            let empty = channel.values.iter().all(|v| !v.is_finite() || (cavity && *v == 0.0));
            if empty {
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
            let title = if alone { title.to_owned() } else { words(channels[0]) };
            all.push(panel(figure, title, dimension, channels));
        }
    }
    all
}

fn panel<'a>(figure: &RunFigure<'a>, title: String, dimension: Dimension, channels: Vec<&'a Channel>) -> Panel<'a> {
    let units = units(dimension);
    let finite = || channels.iter().flat_map(|c| &c.values).copied().filter(|v| v.is_finite());
    let (mut low, mut high) = (finite().fold(f64::INFINITY, f64::min), finite().fold(f64::NEG_INFINITY, f64::max));
    if dimension != Dimension::Temperature {
        (low, high) = (low.min(0.0), high.max(0.0));
    }
    let (mut levels, mut beyond) = (Vec::new(), Vec::new());
    for (label, value, colour) in lines(figure, dimension) {
        let label = format!("{label} {}", reading(value, &units));
        // A limit far away would press the data into a thin line; it is named below the figure instead.
        if value <= low + 2.2 * (high - low) && value >= high - 2.2 * (high - low) {
            levels.push(LevelLine { value, label, colour });
        } else {
            beyond.push(label);
        }
    }
    for line in &levels {
        (low, high) = (low.min(line.value), high.max(line.value));
    }
    let air = 0.07 * (high - low);
    let below = if low == 0.0 { 0.02 * (high - low) } else { air };
    Panel { title, channels, units, range: (low - below, high + air), levels, beyond }
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
