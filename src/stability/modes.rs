//! Modes of small motions about an equilibrium: growth, frequency, who takes part, and how the stage moves against its
//! differential.

use super::characteristic::{C64, Characteristic};
use super::equilibria::Equilibrium;
use super::onset::{FirstLyapunov, first_lyapunov};
use super::roots::Band;
use super::valve::Energised;
use crate::physics::state::*;
use crate::portable::PortableComplex;
use nalgebra::DVector;
use std::f64::consts::TAU;

/// Parts of the installation that can take part in a mode.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Part {
    /// Upstream line with the inlet port.
    InletLine,
    /// Control chamber with bulge, pilot and bleed.
    Chamber,
    /// Main stage.
    Stage,
    /// Armature and magnet.
    Armature,
    /// Downstream line with the outlet port.
    OutletLine,
}

impl Part {
    /// All parts, from inlet to outlet.
    pub const ALL: [Part; 5] = [Part::InletLine, Part::Chamber, Part::Stage, Part::Armature, Part::OutletLine];

    /// In words.
    pub fn words(self) -> &'static str {
        match self {
            Part::InletLine => "inlet line",
            Part::Chamber => "control chamber",
            Part::Stage => "main stage",
            Part::Armature => "armature",
            Part::OutletLine => "outlet line",
        }
    }

    /// The part that a state belongs to.
    fn of_state(state: usize) -> Part {
        match state {
            INLET | UPSTREAM_FLOW => Part::InletLine,
            OUTLET | DOWNSTREAM_FLOW => Part::OutletLine,
            LIFT | LIFT_RATE | DEFLECTION => Part::Stage,
            FLUX | RING_FLUX | TRAVEL | TRAVEL_RATE | ARMATURE_DEFLECTION => Part::Armature,
            _ => Part::Chamber,
        }
    }
}

/// A mode.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Mode {
    /// The root s = σ + iω, 1/s.
    pub root: C64,
    /// Participation of each part, in the order of [`Part::ALL`]; they add to 1.
    pub shares: [f64; 5],
    /// Angle by which the lift lags the differential across the valve, rad, from −π to π.
    pub lag: f64,
    /// Flow that the valve draws in phase with the differential across it, kg/(s·Pa): below zero it feeds the oscillation.
    pub conductance: f64,
}

/// A part takes part in a mode from this share on.
const TAKES_PART: f64 = 0.15;

impl Mode {
    /// Growth rate σ, 1/s.
    pub fn growth(&self) -> f64 {
        self.root.re
    }

    /// Frequency, Hz.
    pub fn frequency(&self) -> f64 {
        self.root.im / TAU
    }

    /// Damping ratio −σ/|s|.
    pub fn damping(&self) -> f64 {
        -self.root.re / self.root.length()
    }

    /// The parts that take part, the largest share first.
    pub fn participants(&self) -> Vec<Part> {
        let mut ranked: Vec<usize> = (0..5).collect();
        ranked.sort_by(|&a, &b| self.shares[b].total_cmp(&self.shares[a]));
        let takes = |&&i: &&usize| self.shares[i] >= TAKES_PART || i == ranked[0];
        ranked.iter().filter(takes).map(|&i| Part::ALL[i]).collect()
    }
}

impl Energised {
    /// The characteristic matrix about an equilibrium.
    pub fn characteristic(&self, equilibrium: &Equilibrium) -> Characteristic {
        let model = self.about(&equilibrium.held);
        Characteristic::of(&model, &model.point(&equilibrium.held))
    }

    /// Oscillating modes about an equilibrium in a band, the fastest growing first; `hints` are roots of a neighbouring case.
    pub fn modes(&self, equilibrium: &Equilibrium, band: Band, hints: &[C64]) -> Vec<Mode> {
        let matrix = self.characteristic(equilibrium);
        matrix.modes(band, hints).into_iter().filter_map(|root| self.mode(&matrix, equilibrium, root)).collect()
    }

    /// The mode of a root.
    pub fn mode(&self, matrix: &Characteristic, equilibrium: &Equilibrium, root: C64) -> Option<Mode> {
        let (right, left) = matrix.null_vectors(root)?;
        let shape = |state: usize| matrix.place(state).map_or(C64::from(0.0), |row| right[row] * matrix.scale(row));
        let y = &equilibrium.held.y;
        let inlet = shape(INLET);
        let pressure = [
            inlet * self.installation.inlet.pressure_slope_near(y[INLET], &self.near.inlet),
            shape(OUTLET) * self.installation.outlet.pressure_slope_near(y[OUTLET], &self.near.outlet),
        ];
        let differential = pressure[0] - pressure[1];
        let from_line = self.upstream_flow(matrix, &right, pressure[0]);
        let drawn = from_line - root * inlet * self.installation.upstream.state.density;
        Some(Mode {
            root,
            shares: shares(matrix, root, &right, &left),
            lag: (differential * shape(LIFT).conj()).angle(),
            conductance: (drawn * differential.conj()).re / differential.norm_sqr(),
        })
    }

    /// Change of the flow out of the upstream line in a mode, kg/s.
    fn upstream_flow(&self, matrix: &Characteristic, right: &DVector<C64>, pressure: C64) -> C64 {
        let line = &self.installation.upstream;
        if let Some(row) = matrix.place(UPSTREAM_FLOW) {
            return right[row] * matrix.scale(row);
        }
        let row = matrix.place(STATES).unwrap_or(0);
        let arriving = right[row] * matrix.scale(row);
        (arriving - pressure) / line.state.impedance()
    }

    /// First Lyapunov coefficient of a root on a Hopf boundary.
    pub fn onset(&self, equilibrium: &Equilibrium, root: C64) -> Option<FirstLyapunov> {
        let model = self.about(&equilibrium.held);
        let point = model.point(&equilibrium.held);
        let matrix = Characteristic::of(&model, &point);
        first_lyapunov(&model, point, &matrix, root)
    }
}

/// Participation of the parts: |p_i·(Δ'q)_i| of every state and every line, over their sum.
///
/// p·Δ'·q = 1 splits a mode among its variables; of ordinary equations this is the usual participation factor.
fn shares(matrix: &Characteristic, root: C64, right: &DVector<C64>, left: &DVector<C64>) -> [f64; 5] {
    let weighted = matrix.matrix(root).slope * right;
    let mut sums = [0.0; 5];
    for row in 0..matrix.size() {
        let origin = matrix.origin(row);
        let part = match origin.checked_sub(matrix.all_states()) {
            None => Part::of_state(origin),
            Some(0) => Part::InletLine,
            Some(_) => Part::OutletLine,
        };
        sums[Part::ALL.iter().position(|p| *p == part).unwrap_or(0)] += (left[row] * weighted[row]).length();
    }
    let total: f64 = sums.iter().sum();
    sums.map(|s| s / total)
}
