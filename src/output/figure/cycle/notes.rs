//! Legend and remarks below the run.

use super::panel::{Panel, Panels};
use super::subject::{ENERGISED, RunFigure};
use super::{curve, event, panel, window};
use crate::output::plot::canvas::Stroke;
use crate::output::plot::colour::GREY;
use crate::output::plot::legend::Entry;
use crate::output::unit::{fitting_units, reading, units};
use crate::portable::Portable;
use crate::trace::{Event, EventKind, Trace};
use crate::units::Dimension;

/// Channels without which the figure is not complete.
const EXPECTED: [&str; 5] = ["inlet_pressure", "outlet_pressure", "lift", "coil_current", "main_flow"];

/// The legend's entries: shading and marks.
pub(super) fn entries<'a>(trace: &Trace, panels: &[Panel], banded: bool) -> Vec<Entry<'a>> {
    let mut all = Vec::new();
    if !panels.is_empty() && !window::energised(trace).is_empty() {
        all.push(Entry::new("coil energised", |canvas, sample| {
            canvas.fill_rect(sample, ENERGISED);
            canvas.outline(sample, Stroke::solid(GREY, 0.5));
        }));
    }
    if banded {
        all.push(Entry::new("fast swing, its bounds", |canvas, sample| {
            curve::draw_sample(canvas, sample);
        }));
    }
    for mark in event::occurring(trace, panels) {
        all.push(Entry::new(mark.words, move |canvas, sample| {
            let middle = ((sample.left + sample.right) / 2.0, (sample.top + sample.bottom) / 2.0);
            event::draw_mark(canvas, middle, mark);
        }));
    }
    all
}

/// Sentences below the legend.
pub(super) fn remarks(figure: &RunFigure, panels: &Panels, own: bool) -> Vec<String> {
    let mut all = Vec::new();
    let seen =
        |name: &str| figure.trace.channel(name).is_some_and(|c| panel::extremes(c.values.iter().copied()).is_some());
    if panels.all.is_empty() && panels.still.is_empty() {
        all.push("The run recorded nothing that could be drawn.".to_owned());
    } else {
        let absent: Vec<String> =
            EXPECTED.iter().filter(|name| !seen(name)).map(|name| name.replace('_', " ")).collect();
        if !absent.is_empty() {
            all.push(format!("Not recorded: {}.", absent.join(", ")));
        }
    }
    if !panels.still.is_empty() {
        all.push(format!("Constant, not drawn: {}.", panels.still.join("; ")));
    }
    all.extend(contacts(figure.trace));
    if own {
        all.push("“Own scale”: this window's pressures have the numbers at its left edge, for only there are they spread wide enough to be seen.".to_owned());
    }
    let lines: Vec<&str> = panels.all.iter().flat_map(|p| &p.levels).map(|l| l.told.as_str()).collect();
    if !lines.is_empty() {
        all.push(format!("Dashed lines: {}.", lines.join("; ")));
    }
    let beyond: Vec<String> = panels.all.iter().flat_map(|p| p.beyond.iter().cloned()).collect();
    if !beyond.is_empty() {
        all.push(format!("Too far from the curves to be drawn: {}.", beyond.join("; ")));
    }
    all
}

/// Number of seat contacts, the hardest of them, and the first after the valve is asked to shut.
fn contacts(trace: &Trace) -> Option<String> {
    let contacts: Vec<&Event> =
        trace.events.iter().filter(|e| e.kind == EventKind::SeatContact && e.magnitude.is_finite()).collect();
    let hardest = contacts.iter().max_by(|a, b| a.magnitude.total_cmp(&b.magnitude))?;
    let told = |e: &Event| {
        format!("{}, with about {}", instant(trace, e), reading(two_figures(e.magnitude), &units(Dimension::Velocity)))
    };
    let asking = window::asking(trace);
    let shutting = trace.events.iter().find(|e| e.kind == asking.shut).map(|e| e.time);
    let first = shutting.and_then(|asked| contacts.iter().find(|e| e.time >= asked));
    let part = if event::one_travel(trace) { "armature" } else { "main stage" };
    let mut words = match contacts.len() {
        1 => format!("One contact of the {part} with its seat: {}", told(hardest)),
        n => format!("{n} contacts of the {part} with its seat; the hardest {}", told(hardest)),
    };
    if let Some(first) = first.filter(|first| first.time != hardest.time) {
        words += &format!("; the first {} {}", asking.after_shut, told(first));
    }
    Some(words + ".")
}

/// Blows are firm to no more.
fn two_figures(value: f64) -> f64 {
    let unit = 10_f64.power(value.abs().max(f64::MIN_POSITIVE).decimal_logarithm().floor() - 1.0);
    (value / unit).round() * unit
}

/// When an event happened, counted from the last switching.
fn instant(trace: &Trace, event: &Event) -> String {
    let switching = |e: &&Event| matches!(e.kind, EventKind::CoilOn | EventKind::CoilOff) && e.time <= event.time;
    match trace.events.iter().rev().find(switching) {
        Some(last) => {
            let way = if last.kind == EventKind::CoilOn { "on" } else { "off" };
            let since = event.time - last.time;
            format!("{} after switching {way}", reading(since, &fitting_units(Dimension::Time, since)))
        }
        None => format!("at {}", reading(event.time, &units(Dimension::Time))),
    }
}
