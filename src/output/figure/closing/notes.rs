//! Legend and sentences below the figure.

use super::OUT_OF_REACH;
use super::curve::{self, Look};
use super::mark;
use super::panel::Panel;
use crate::output::plot::Rect;
use crate::output::plot::canvas::{Canvas, Stroke};
use crate::output::plot::colour::{BLACK, GREY};
use crate::output::plot::legend::Entry;
use crate::output::unit::{Units, fitting_units, reading};
use crate::study::closing::ClosingStudy;

fn middle(sample: &Rect) -> (f64, f64) {
    ((sample.left + sample.right) / 2.0, (sample.top + sample.bottom) / 2.0)
}

/// The legend's entries: what occurs in the panels.
pub(super) fn entries<'a>(study: &ClosingStudy, panels: &[Panel]) -> Vec<Entry<'a>> {
    let order = [
        Look::Simulated,
        Look::Later,
        Look::Sudden,
        Look::LinearOpening,
        Look::LinearFlow,
        Look::Outlet,
        Look::Effective,
        Look::Total,
    ];
    let occurs = |look: Look| panels.iter().any(|p| p.curves.iter().any(|c| c.look == look && c.points.len() > 1));
    let line = |look: Look| {
        Entry::new(look.words(), move |canvas: &mut Canvas, sample: &Rect| {
            let y = middle(sample).1;
            canvas.line((sample.left, y), (sample.right, y), look.stroke());
            if look == Look::Simulated {
                curve::disc(canvas, middle(sample), false);
            }
        })
    };
    let mut all: Vec<Entry> = order.into_iter().filter(|look| occurs(*look)).map(line).collect();
    all.push(Entry::new("today", |canvas, sample| mark::ring(canvas, middle(sample), BLACK)));
    if let Some(cure) = study.leading_change().and_then(|change| change.answer.cure()) {
        let dimension = study.leading().parameter.dimension;
        let bore = |value: f64| reading(value, &Units { us: None, ..fitting_units(dimension, value) });
        let words = match (&cure.size, study.bleeds()) {
            (Some(_), _) => "next drill size",
            (None, Some(_)) => "widest bleed that is enough",
            (None, None) => "largest that is enough",
        };
        let words = format!("{words}, {}", bore(cure.recommended().0));
        all.push(Entry::new(words, |canvas, sample| mark::square(canvas, middle(sample), mark::CHANGE)));
        let words = format!("enough: from {} down", bore(cure.value));
        all.push(Entry::new(words, |canvas, sample| {
            canvas.fill_rect(sample, mark::ENOUGH);
            canvas.outline(sample, Stroke::solid(GREY, 0.5));
        }));
    }
    if study.leading_change().is_some_and(|change| !change.windows.is_empty()) {
        all.push(Entry::new("enough in a window only", |canvas, sample| {
            canvas.fill_rect(sample, mark::PASSING);
            canvas.outline(sample, Stroke::solid(GREY, 0.5));
        }));
    }
    if study.leading().closings().any(|(_, closing)| closing.uncertain) {
        all.push(Entry::new("after a cavity, uncertain", |canvas, sample| curve::disc(canvas, middle(sample), true)));
    }
    if study.leading().points.iter().any(|p| p.value < study.least()) {
        all.push(Entry::new("out of reach", |canvas, sample| {
            canvas.fill_rect(sample, OUT_OF_REACH);
            canvas.outline(sample, Stroke::solid(GREY, 0.5));
        }));
    }
    all
}

/// Sentences below the legend.
pub(super) fn remarks(study: &ClosingStudy, panels: &[Panel]) -> Vec<String> {
    let mut all = vec![study.quote.clone()];
    let lines: Vec<&str> = panels.iter().flat_map(|p| &p.levels).map(|l| l.told.as_str()).collect();
    if !lines.is_empty() {
        all.push(format!("Dashed level lines: {}.", lines.join("; ")));
    }
    let beyond: Vec<&str> = panels.iter().flat_map(|p| &p.beyond).map(String::as_str).collect();
    if !beyond.is_empty() {
        all.push(format!("Too far from the curves to be drawn: {}.", beyond.join("; ")));
    }
    all.push(
        "Exact cases: without friction, at the effective closing time (flow 90 to 10 %) of each run, drawn from the pressure at \
         rest; the sudden stop from the open inlet pressure. The linear stop of flow is exact for that alone, beyond 2L/a, and \
         no upper bound for a closing opening."
            .to_owned(),
    );
    let failed: Vec<&str> =
        study.leading().points.iter().filter_map(|p| p.outcome.as_ref().err().map(String::as_str)).collect();
    if let Some(first) = failed.first() {
        let (what, least) = if study.bleeds().is_some() { ("Bleeds", "narrowest") } else { ("Points", "smallest") };
        all.push(format!("{what} without a result: {}; the {least}: {first}.", failed.len()));
    }
    all
}
