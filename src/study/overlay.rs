//! Theory over the simulated map: the Hopf boundary of the floating stage, and where the two disagree.

use super::axis::Grid;
use super::map::{Cell, CellResult, Guide, GuideKind};
use super::stability::boundary::{HopfCurve, hopf_curves};
use super::stability::point::{Answer, Question};
use crate::scenario::{Document, Scenario};
use crate::stability::equilibria::Rest;
use crate::units::{UnitSystem, show};
use crate::verdict::Behaviour;

/// Growth slower than this over the judged time may not have shown in a run, 1/s.
const SLOW: f64 = 1.0;

/// Hopf boundaries as guides, and sentences on where theory and simulation differ. Once `stop` says so, they end early.
pub fn overlay(
    document: &Document,
    scenario: &Scenario,
    grid: &Grid,
    columns: &[Vec<Cell>],
    stop: &dyn Fn() -> bool,
) -> (Vec<Guide>, Vec<String>) {
    let Ok(question) = Question::of(document, scenario) else { return (Vec::new(), Vec::new()) };
    let curves = hopf_curves(document, &question, grid, stop);
    let guides = curves
        .iter()
        .map(|curve| Guide {
            label: match curve.hard {
                Some(true) => "edge of growth (theory), hard onset".into(),
                Some(false) => "edge of growth (theory), soft onset".into(),
                None => "edge of growth (theory)".into(),
            },
            kind: GuideKind::Theory,
            points: curve.points.clone(),
        })
        .collect();
    let pulsates = scenario.supply.pulsation > 0.0;
    (guides, if pulsates { Vec::new() } else { disagreements(grid, columns, &curves) })
}

fn oscillates(behaviour: Behaviour) -> bool {
    matches!(behaviour, Behaviour::Chatters | Behaviour::Flutters | Behaviour::ChattersIfDisturbed)
}

fn done(cell: &Cell) -> Option<&CellResult> {
    match cell {
        Cell::Done(result) => Some(result),
        _ => None,
    }
}

/// What a cell's run does when energised: the behaviour that leads its verdict.
fn behaviour(cell: &Cell) -> Option<Behaviour> {
    done(cell)?.verdict.leading().map(|f| f.behaviour)
}

fn disagreements(grid: &Grid, columns: &[Vec<Cell>], curves: &[HopfCurve]) -> Vec<String> {
    let cells = || columns.iter().flatten();
    let growing = |cell: &&Cell| {
        let grown = done(cell).and_then(|r| r.disturbance.grown);
        grown.is_some_and(|g| g.growth > SLOW && !oscillates(g.behaviour))
    };
    let count = cells().filter(growing).count();
    let mut sentences = Vec::new();
    if count > 0 {
        sentences.push(format!(
            "Theory against simulation: in {count} cells the valve comes to rest although small oscillations should grow there, and a \
             second look from near that rest found none; they are not known to be quiet."
        ));
    }
    sentences.extend(beyond(grid, columns, curves));
    let lasting = |column: &Vec<Cell>| {
        column.iter().take(if grid.rate_is_up { 1 } else { column.len() }).cloned().collect::<Vec<_>>()
    };
    let judged: Vec<Cell> = columns.iter().flat_map(lasting).collect();
    let from_shut = judged.iter().filter(|c| {
        let small = done(c).and_then(|r| r.disturbance.small);
        small.is_some_and(|s| s.rest != Rest::Floating && s.answer == Answer::Stable)
            && behaviour(c).is_some_and(oscillates)
    });
    let from_shut = from_shut.count();
    if from_shut > 0 {
        sentences.push(format!(
            "In {} the stage oscillates although it has no growing float: shut or open it would rest, but the \
             opening itself (or a knock) throws it into an oscillation that lasts.",
            if from_shut == 1 { "one cell".to_owned() } else { format!("{from_shut} cells") }
        ));
    }
    sentences
}

/// How far simulated oscillation reaches beyond the boundary of small ones, in the row where it reaches furthest.
fn beyond(grid: &Grid, columns: &[Vec<Cell>], curves: &[HopfCurve]) -> Option<String> {
    let stable_float = |cell: &Cell| {
        let small = done(cell).and_then(|r| r.disturbance.small);
        small.is_some_and(|s| s.rest == Rest::Floating && s.answer == Answer::Stable)
            && behaviour(cell).is_some_and(oscillates)
    };
    // Short on-times end within the transient: where the cycle rate is up, only the lowest row tells what lasts.
    let rows = if grid.rate_is_up { 1 } else { grid.y.values.len() };
    let reach = |row: usize| columns.iter().filter(|column| stable_float(&column[row])).count();
    let most = (0..rows).map(reach).max().filter(|n| *n > 0)?;
    let outermost = |column: &&[Cell]| column.iter().take(rows).any(stable_float);
    let furthest = columns.iter().map(Vec::as_slice).zip(&grid.x.values).rev().find(|(c, _)| outermost(c))?.1;
    let (number, unit) = show(*furthest, grid.x.dimension, UnitSystem::Si);
    let steps = if most == 1 { "one grid step".into() } else { format!("{most} grid steps") };
    let why = if curves.iter().any(|c| c.hard == Some(true)) {
        "the onset is hard, so that the swing of opening, or a knock, keeps up an oscillation that a small disturbance would \
         not start"
    } else {
        "the swing of opening, or a knock, is no small disturbance"
    };
    Some(format!("Oscillation reaches {steps} beyond the edge of growth, up to {number} {unit}: there {why}."))
}
