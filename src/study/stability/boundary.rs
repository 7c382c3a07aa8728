//! Hopf boundaries: along the differential, and as curves in any two parameters.

use super::curve::{Branch, CurvePoint};
use super::point::{Question, leading_float};
use crate::portable::Portable;
use crate::scenario::Document;
use crate::stability::continuation::{Place, follow};
use crate::stability::equilibria::Rest;
use crate::stability::onset::Onset;
use crate::study::axis::{Axis, Grid};
use std::cell::RefCell;

/// Halvings of a gap between two points of the curve, after which the boundary is known to 10⁻⁹ of the gap.
const HALVINGS: usize = 30;

/// A Hopf boundary met along the differential.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Crossing {
    /// Circuit differential, Pa.
    pub differential: f64,
    /// Lift over full lift.
    pub lift: f64,
    /// Differential across the valve, Pa.
    pub across: f64,
    /// Frequency of the neutral mode, Hz.
    pub frequency: f64,
    /// Does the oscillation begin with a jump, so that a large disturbance starts it beyond the boundary too? None where the
    /// coefficient could not be formed.
    pub hard: Option<bool>,
    /// First Lyapunov coefficient in scaled states.
    pub lyapunov: Option<f64>,
    /// Is the stage quiet above this differential (and oscillating below)?
    pub quiet_above: bool,
}

fn float(point: &CurvePoint) -> Option<&Branch> {
    let growth = |b: &&Branch| b.growth.unwrap_or(f64::NEG_INFINITY);
    let floating = point.branches.iter().filter(|b| b.rest == Rest::Floating && b.growth.is_some());
    floating.max_by(|a, b| growth(a).total_cmp(&growth(b)))
}

/// Growth of the leading mode of the floating stage, 1/s, at a differential.
fn growth_at(question: &Question<'_>, differential: f64) -> Option<f64> {
    leading_float(&question.at_differential(differential).ok()?, None).map(|(_, mode)| mode.growth())
}

/// Boundaries met along a curve, from below.
pub fn crossings(question: &Question<'_>, curve: &[CurvePoint]) -> Vec<Crossing> {
    curve
        .windows(2)
        .filter_map(|pair| {
            let (a, b) = (float(&pair[0])?.growth?, float(&pair[1])?.growth?);
            ((a > 0.0) != (b > 0.0))
                .then(|| crossing(question, (pair[0].differential, pair[1].differential), a > 0.0))?
        })
        .collect()
}

fn crossing(question: &Question<'_>, gap: (f64, f64), quiet_above: bool) -> Option<Crossing> {
    let (mut low, mut high) = gap;
    for _ in 0..HALVINGS {
        let middle = 0.5 * (low + high);
        if (growth_at(question, middle)? > 0.0) == quiet_above { low = middle } else { high = middle }
    }
    let differential = 0.5 * (low + high);
    let valve = question.at_differential(differential).ok()?;
    let (equilibrium, mode) = leading_float(&valve, None)?;
    let onset = valve.onset(&equilibrium, mode.root);
    Some(Crossing {
        differential,
        lift: equilibrium.lift / question.scenario().valve.main.lift,
        across: equilibrium.held.inlet_pressure - equilibrium.held.outlet_pressure,
        frequency: mode.frequency(),
        hard: onset.map(|o| o.onset == Onset::Hard),
        lyapunov: onset.map(|o| o.coefficient),
        quiet_above,
    })
}

/// A Hopf boundary as a curve over the axes of a map.
#[derive(Clone, Debug, PartialEq)]
pub struct HopfCurve {
    /// Points (x, y), SI.
    pub points: Vec<(f64, f64)>,
    /// Is its onset hard in the middle of the curve? None where that could not be told.
    pub hard: Option<bool>,
}

/// Looks along x, and rows in which curves are looked for.
const LOOKS: usize = 40;
const ROWS: [f64; 3] = [0.1, 0.5, 0.9];
/// A zero nearer to a known curve than this, in sides of the map, lies on it.
const KNOWN: f64 = 0.02;

/// The map's axes as the sides of a square.
struct Sides<'a> {
    x: &'a Axis,
    y: &'a Axis,
}

impl Sides<'_> {
    fn value(axis: &Axis, share: f64) -> f64 {
        let (from, to) = (axis.values[0], axis.values[axis.values.len() - 1]);
        if axis.logarithmic { from * (to / from).power(share) } else { from + share * (to - from) }
    }
    fn at(&self, place: Place) -> (f64, f64) {
        (Self::value(self.x, place.0), Self::value(self.y, place.1))
    }
}

/// Tables whose settings do not move the equilibria: a boundary does not depend on them.
const IRRELEVANT: [&str; 3] = ["duty.", "run.", "limits."];

/// Hopf boundaries of the floating stage over the axes of a map. Once `stop` says so, they end early.
pub fn hopf_curves(
    document: &Document,
    question: &Question<'_>,
    grid: &Grid,
    stop: &dyn Fn() -> bool,
) -> Vec<HopfCurve> {
    let sides = Sides { x: &grid.x, y: &grid.y };
    let matters = |axis: &Axis| !IRRELEVANT.iter().any(|table| axis.path.starts_with(table));
    if !matters(&grid.x) {
        return Vec::new();
    }
    let upright = !matters(&grid.y) && document.dimension(&grid.y.path).is_some();
    let hint = RefCell::new(None);
    let valve_at = |place: Place| {
        let (x, y) = sides.at(place);
        let both = [(grid.x.path.as_str(), x), (grid.y.path.as_str(), y)];
        question.with(if upright { &both[..1] } else { &both })
    };
    let growth = |place: Place| {
        if stop() {
            return None;
        }
        let found = leading_float(&valve_at(place)?, *hint.borrow());
        *hint.borrow_mut() = found.map(|(_, mode)| mode.root);
        found.map(|(_, mode)| mode.growth())
    };
    let rows: &[f64] = if upright { &[0.5] } else { &ROWS };
    let mut curves: Vec<Vec<Place>> = Vec::new();
    for &row in rows {
        for zero in zeros(&growth, row) {
            let near = |p: &Place| (p.0 - zero).length_with(p.1 - row) < KNOWN;
            if curves.iter().flatten().any(near) {
                continue;
            }
            curves.push(if upright { vec![(zero, 0.0), (zero, 1.0)] } else { follow(&growth, (zero, row)) });
        }
    }
    let hard = |curve: &[Place]| {
        let middle = if upright { (curve[0].0, 0.5) } else { curve[curve.len() / 2] };
        let valve = valve_at(middle)?;
        let (equilibrium, mode) = leading_float(&valve, None)?;
        valve.onset(&equilibrium, mode.root).map(|o| o.onset == Onset::Hard)
    };
    curves
        .iter()
        .map(|curve| HopfCurve { points: curve.iter().map(|p| sides.at(*p)).collect(), hard: hard(curve) })
        .collect()
}

/// Zeros of the growth along a row.
fn zeros(growth: &dyn Fn(Place) -> Option<f64>, row: f64) -> Vec<f64> {
    let places: Vec<f64> = (0..=LOOKS).map(|i| i as f64 / LOOKS as f64).collect();
    let values: Vec<Option<f64>> = places.iter().map(|&x| growth((x, row))).collect();
    let mut found = Vec::new();
    for i in 0..LOOKS {
        let (Some(a), Some(b)) = (values[i], values[i + 1]) else { continue };
        if (a > 0.0) == (b > 0.0) {
            continue;
        }
        let (mut low, mut high) = (places[i], places[i + 1]);
        for _ in 0..24 {
            let middle = 0.5 * (low + high);
            match growth((middle, row)) {
                Some(g) if (g > 0.0) == (a > 0.0) => low = middle,
                Some(_) => high = middle,
                None => break,
            }
        }
        found.push(0.5 * (low + high));
    }
    found
}
