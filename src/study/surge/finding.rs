//! What the numbers of a comparison say, in sentences.

use super::boiling::{Boiling, Outcome, Remedy};
use super::row::{FluidRow, SurgeComparison};
use crate::units::{Dimension, UnitSystem, show};

/// The sentences, the most general first.
pub(super) fn findings(comparison: &SurgeComparison) -> Vec<String> {
    let liquids: Vec<&FluidRow> = comparison.rows.iter().filter(|row| !row.is_gas()).collect();
    let mut all: Vec<String> = Vec::new();
    all.extend(against_water(comparison));
    all.extend(sudden(&liquids));
    all.extend(boiling(&liquids));
    all.extend(comparison.rows.iter().filter(|row| row.is_gas()).map(|row| gas(comparison, row)));
    all
}

/// A number of so many figures, without trailing zeros.
fn figures(value: f64, count: usize) -> String {
    let rounded = format!("{value:.*e}", count - 1).parse().unwrap_or(value);
    format!("{rounded}")
}

/// Two figures are enough to compare.
fn two_figures(value: f64) -> String {
    figures(value, 2)
}

fn range(values: impl Iterator<Item = f64> + Clone) -> String {
    let low = two_figures(values.clone().fold(f64::INFINITY, f64::min));
    let high = two_figures(values.fold(0.0, f64::max));
    if low == high { low } else { format!("{low} to {high}") }
}

fn against_water(comparison: &SurgeComparison) -> Option<String> {
    let reference = &comparison.reference;
    let others = || {
        let apart = comparison.rows.iter().enumerate().filter(|(i, row)| Some(*i) != reference.row && !row.is_gas());
        apart.map(|(_, row)| row)
    };
    let count = others().count();
    let first = others().next()?;
    let subject = if count == 1 { first.name.clone() } else { "The other liquids".into() };
    let surges = range(others().map(|row| row.surge_per_velocity / reference.surge_per_velocity));
    let returns = range(others().map(|row| row.return_time / reference.return_time));
    let (has, wave) = if count == 1 { ("has", "its wave comes") } else { ("have", "their waves come") };
    Some(format!(
        "{subject} {has} {surges} times water's surge per velocity; {wave} back after {returns} times its time."
    ))
}

fn sudden(liquids: &[&FluidRow]) -> Option<String> {
    let quickest = liquids.iter().min_by(|a, b| a.return_time.total_cmp(&b.return_time))?;
    let slowest = liquids.iter().max_by(|a, b| a.return_time.total_cmp(&b.return_time))?;
    let (short, long) = (time(quickest.return_time), time(slowest.return_time));
    let told = if short == long {
        format!("A stop within {short} is sudden here and makes the full surge.")
    } else {
        format!(
            "A stop within 2L/a is sudden and makes the full surge: with {} it takes one within {short}, with {} one within {long} \
             will do. A closing slow enough for the one can be sudden for the other.",
            quickest.name, slowest.name
        )
    };
    Some(told)
}

fn boiling(liquids: &[&FluidRow]) -> Vec<String> {
    let named = |of: &dyn Fn(&FluidRow) -> bool| -> Vec<&str> {
        liquids.iter().filter(|row| of(row)).map(|row| row.name.as_str()).collect()
    };
    let outcome = |of: fn(&Boiling) -> Outcome, row: &FluidRow| row.boiling.as_ref().map(of);
    let behind = |row: &FluidRow| outcome(|b| b.behind.outcome, row);
    let upstream = |row: &FluidRow| outcome(|b| b.upstream.outcome, row);
    let boils = |found: Option<Outcome>| found.is_some_and(Outcome::boils);
    let mut all = Vec::new();
    let open = named(&|row| matches!(behind(row), Some(Outcome::BoilsOpen(_))));
    if !open.is_empty() {
        all.push(format!(
            "Flash gas in the open valve already (its differential exceeds the margin to boiling): {}. The flow is then less \
             than stated here, and so are its velocity and surge.",
            open.join(", ")
        ));
    }
    let cavity = named(&|row| boils(upstream(row)) || boils(behind(row)));
    if !cavity.is_empty() {
        all.push(format!(
            "The sudden stop pulls vapour cavities: {}. When a cavity collapses it can knock harder than the surge stated here.",
            cavity.join(", ")
        ));
    }
    let hopeless = named(&|row| {
        let none = |found: Option<Outcome>| found.and_then(Outcome::remedy) == Some(Remedy::NoneWould);
        none(upstream(row)) || none(behind(row))
    });
    if !hopeless.is_empty() {
        all.push(format!(
            "No subcooling at this pressure keeps {} liquid on both sides: its wave pulls too deep however cold it is. Only \
             a lower velocity, a slower stop or a higher pressure does.",
            hopeless.join(", ")
        ));
    }
    let whole = named(&|row| row.boiling.is_some() && !boils(upstream(row)) && !boils(behind(row)));
    if !whole.is_empty() {
        all.push(format!("Liquid throughout, on both sides: {}.", whole.join(", ")));
    }
    all
}

fn gas(comparison: &SurgeComparison, row: &FluidRow) -> String {
    let share = row.surge_per_velocity / comparison.reference.surge_per_velocity;
    format!(
        "{} is a gas: its surge per velocity is {} of water's, and it cannot boil. Where a gas line bangs, look for liquid in it: \
         a slug, or vapour that condenses on cold liquid.",
        row.name,
        two_figures(share)
    )
}

fn time(seconds: f64) -> String {
    let (number, unit) = show(seconds, Dimension::Time, UnitSystem::Si);
    format!("{} {unit}", number.parse().map_or(number, |value| figures(value, 3)))
}
