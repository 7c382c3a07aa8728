//! Hand values and time limits beside a map, and where they disagree with it.

use super::axis::{CYCLE_RATE, Grid, is_differential};
use super::judgement::{energised, hand};
use super::map::{Cell, CellResult, Guide, GuideKind};
use crate::portable::Portable;
use crate::scenario::Scenario;
use crate::simulate::coil_heat::winding_temperature;
use crate::simulate::throttle::prepare;
use crate::simulate::{install, transits};
use crate::units::{Dimension, UnitSystem, show};
use crate::verdict::Behaviour;

/// A hand value further off than this factor is reported.
const DISAGREEMENT: f64 = 1.5;

/// Guides of a map and sentences of disagreement.
pub fn guides(scenario: &Scenario, grid: &Grid, columns: &[Vec<Cell>]) -> (Vec<Guide>, Vec<String>) {
    let mut guides = Vec::new();
    let mut sentences: Vec<String> = joukowsky(columns).into_iter().collect();
    // Values by hand are those of the own point: they hold for every row only where rows differ by the duty alone.
    let comparable = is_differential(&grid.x) && grid.y.path.starts_with("duty.");
    if let (true, Ok(ready)) = (comparable, prepare(scenario)) {
        let temperature = winding_temperature(&ready);
        let installation = install(&ready, temperature);
        let by_hand = hand(&ready, &installation, temperature);
        // Counted from the stated sink, as the circuit's differential is; a flashing throttle holds its line above that.
        let held = ready.sink.held();
        // Where a flow is stated the throttle is another in every column, and so the valve's share of the circuit is.
        let full = by_hand.full_lift_differential.filter(|_| scenario.flow.is_none());
        let full = full.map(|across| installation.circuit_for(across) + held);
        let lift_off = by_hand.lift_off_differential.map(|across| across + held);
        let (bottom, top) = (grid.y.values[0], grid.y.values[grid.y.values.len() - 1]);
        let (first, last) = (grid.x.values[0], grid.x.values[grid.x.values.len() - 1]);
        let mut upright = |label: &str, x: Option<f64>| {
            if let Some(x) = x.filter(|x| *x >= first && *x <= last) {
                guides.push(Guide { label: label.into(), kind: GuideKind::Hand, points: vec![(x, bottom), (x, top)] });
            }
        };
        upright("lift-off by hand", lift_off);
        upright("full lift by hand", full);
        upright(
            energised(scenario).choose("magnet's limit by hand", "spring's limit by hand"),
            by_hand.highest_opening_differential,
        );
        sentences.extend(compare("lift-off", lift_off, leaves_seat(grid, columns)));
        sentences.extend(compare("full lift", full, reaches_stop(grid, columns)));
    }
    if grid.y.path == CYCLE_RATE {
        guides.extend(time_limits(scenario, grid, columns));
    }
    (guides, sentences)
}

/// Scales of a scenario's own point: the wave's return and Λ.
pub fn scales(scenario: &Scenario) -> Vec<String> {
    let Ok(ready) = prepare(scenario) else { return Vec::new() };
    let (number, unit) = show(2.0 * transits(&ready).0, Dimension::Time, UnitSystem::Si);
    let lambda = install(&ready, winding_temperature(&ready)).gearing_number();
    let mut scales = vec![format!("2L/a of the upstream line is {number} {unit}: closing within it is sudden.")];
    scales.extend(lambda.map(|lambda| {
        format!("Λ is {lambda:.2}: below 0.3 a floating stage on liquid is quiet; gas can chatter at any value.")
    }));
    scales
}

fn done(cell: &Cell) -> Option<&CellResult> {
    match cell {
        Cell::Done(result) => Some(result),
        _ => None,
    }
}

/// Cycle rates at which the time asked to be shut is the closing time, and that asked to be open the opening time, from the lowest row.
fn time_limits(scenario: &Scenario, grid: &Grid, columns: &[Vec<Cell>]) -> Vec<Guide> {
    let energised = energised(scenario);
    let open = energised.choose(scenario.duty.on_fraction, 1.0 - scenario.duty.on_fraction);
    let (low, high) = (grid.y.values[0], grid.y.values[grid.y.values.len() - 1]);
    let curve = |label: &str, share: f64, time: &dyn Fn(&CellResult) -> Option<f64>| {
        let points: Vec<(f64, f64)> = columns
            .iter()
            .zip(&grid.x.values)
            .filter_map(|(column, &x)| {
                let rate = share / time(done(&column[0])?).filter(|t| *t > 0.0)?;
                (rate >= low && rate <= high).then_some((x, rate))
            })
            .collect();
        (points.len() > 1).then(|| Guide { label: label.into(), kind: GuideKind::Hand, points })
    };
    let closing = curve(energised.choose("off-time = closing time", "on-time = closing time"), 1.0 - open, &|r| {
        r.indicators.closing_time
    });
    let opening = curve(energised.choose("on-time = opening time", "off-time = opening time"), open, &|r| {
        r.indicators.opening_time_90
    });
    closing.into_iter().chain(opening).collect()
}

/// Middle of the first gap, in the lowest row, in which `holds` turns from false to true.
fn turning(grid: &Grid, columns: &[Vec<Cell>], holds: impl Fn(Behaviour) -> bool) -> Option<f64> {
    let state: Vec<Option<bool>> = columns
        .iter()
        .map(|column| done(&column[0]).and_then(|r| r.verdict.leading()).map(|f| holds(f.behaviour)))
        .collect();
    let i = state.windows(2).position(|pair| pair == [Some(false), Some(true)])?;
    Some(super::axis::middle(&grid.x, grid.x.values[i], grid.x.values[i + 1]))
}

fn leaves_seat(grid: &Grid, columns: &[Vec<Cell>]) -> Option<f64> {
    turning(grid, columns, |b| {
        !matches!(b, Behaviour::StaysShut | Behaviour::WillNotOpen | Behaviour::FailsShut | Behaviour::PassesBackwards)
    })
}

fn reaches_stop(grid: &Grid, columns: &[Vec<Cell>]) -> Option<f64> {
    turning(grid, columns, |b| b == Behaviour::OpensFully)
}

fn pressure(value: f64) -> String {
    let (number, unit) = show(value, Dimension::PressureDifference, UnitSystem::Si);
    format!("{number} {unit}")
}

fn compare(what: &str, by_hand: Option<f64>, simulated: Option<f64>) -> Option<String> {
    let (by_hand, simulated) = (by_hand?, simulated?);
    let ratio = (by_hand / simulated).max(simulated / by_hand);
    (ratio > DISAGREEMENT).then(|| {
        format!("{what}: {} by hand, {} simulated (factor {ratio:.1})", pressure(by_hand), pressure(simulated))
    })
}

/// Where closing is sudden for the line and no cavity opens, ρ·a·v must hold.
fn joukowsky(columns: &[Vec<Cell>]) -> Option<String> {
    let off = |r: &&CellResult| {
        let i = &r.indicators;
        let sudden = i.steady_wave_ratio.is_some_and(|ratio| ratio < 1.0);
        let cavity = i.largest_inlet_cavity.unwrap_or(0.0) > 0.0;
        let opened = r.verdict.has(Behaviour::OpensFully);
        let ratio = i.surge_ratio.unwrap_or(1.0);
        sudden && opened && !cavity && !(1.0 / DISAGREEMENT..=DISAGREEMENT).contains(&ratio)
    };
    let cells = columns.iter().flatten().filter_map(done);
    let (count, worst) = cells.filter(off).fold((0, 1.0_f64), |(n, worst), r| {
        let ratio = r.indicators.surge_ratio.unwrap_or(1.0);
        (n + 1, if (ratio.logarithm()).abs() > worst.logarithm().abs() { ratio } else { worst })
    });
    (count > 0).then(|| {
        format!("ρ·a·v: {count} cells close within 2L/a without a cavity, yet rise by other than ρ·a·v, at worst {worst:.2} of it")
    })
}
