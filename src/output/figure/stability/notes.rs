//! Legend and remarks below the panels.

use super::mark;
use super::sheet::Sheet;
use crate::output::answer::{self, stroke};
use crate::output::plot::Rect;
use crate::output::plot::canvas::{Canvas, Stroke};
use crate::output::plot::legend::Entry;
use crate::study::stability::point::Answer;

fn middle(sample: &Rect) -> (f64, f64) {
    ((sample.left + sample.right) / 2.0, (sample.top + sample.bottom) / 2.0)
}

fn level(canvas: &mut Canvas, sample: &Rect, stroke: Stroke) {
    let y = middle(sample).1;
    canvas.line((sample.left, y), (sample.right, y), stroke);
}

/// The legend: answers, boundaries, the user's own point; only what occurs.
pub(super) fn entries<'a>(sheet: &Sheet) -> Vec<Entry<'a>> {
    let mut all = Vec::new();
    let occurs = |a: Answer| sheet.branches.all().any(|s| s.answer == a);
    for a in answer::ALL.into_iter().filter(|&a| occurs(a)) {
        all.push(Entry::new(a.words(), move |canvas, sample| level(canvas, sample, stroke(a))));
    }
    let onsets = [(Some(true), "boundary, hard onset"), (Some(false), "boundary, soft onset"), (None, "boundary")];
    for (hard, words) in onsets {
        if sheet.study.crossings.iter().any(|c| c.hard == hard) {
            all.push(Entry::new(words, move |canvas, sample| {
                mark::draw_boundary(canvas, middle(sample), hard);
            }));
        }
    }
    if sheet.across.holds(sheet.study.differential) {
        all.push(Entry::new("your point", |canvas, sample| mark::draw_own(canvas, middle(sample))));
    }
    all
}

/// Sentences below the explanation.
pub(super) fn remarks(sheet: &Sheet) -> Vec<String> {
    let study = sheet.study;
    let mut all = study.remarks.clone();
    if !sheet.across.holds(study.differential) {
        all.push(format!(
            "Your point ({}) lies outside the differentials of the curve.",
            mark::reading(sheet, study.differential)
        ));
    }
    if sheet.branches.floating.is_empty() {
        all.push("The stage floats at no differential of the curve: there is no growth to be drawn.".into());
    }
    let failed: Vec<_> =
        study.curve.iter().filter_map(|p| p.failure.as_deref().map(|why| (p.differential, why))).collect();
    if let Some((at, why)) = failed.first() {
        all.push(format!(
            "{} of {} differentials could not be computed; the first, at {}: {}",
            failed.len(),
            study.curve.len(),
            mark::reading(sheet, *at),
            why.lines().next().unwrap_or_default()
        ));
    }
    let miscounted = study.here.miscounted();
    if miscounted > 0 {
        all.push(format!(
            "Do not trust the growth rates: at {miscounted} equilibria the count of growing modes differs."
        ));
    }
    all
}
