//! The measured phase that a shading ring makes, against the project's ring: a plausibility.

use super::case::{Case, Check, Obtained, Tolerance, check};
use super::held_magnet::{Drive, HeldMagnet, linear_coil};
use super::table::table;
use crate::physics::parts::{Coil, Voltage};
use crate::physics::valve::magnet::MU_0;
use crate::portable::{Portable, PortableComplex};
use nalgebra::Complex;
use std::f64::consts::{SQRT_2, TAU};

const FOLDER: &str = "ring_phase";
const SOURCE: &str = "abstract of an old paper whose author is not shown; of the record only two phases are known";
/// The supply's frequency, Hz: not stated. With the ring fitted, nothing depends on it.
const FREQUENCY: f64 = 50.0;
/// Area of either part of the pole, m²: not stated; nothing depends on it either.
const AREA: f64 = 1e-4;

/// The cases.
pub(super) fn cases() -> Vec<Case> {
    vec![
        Case {
            folder: FOLDER,
            name: "Measured phase of a shading ring: one gap makes both numbers",
            source: SOURCE,
            obtained: Obtained::Measured,
            reason: "gap and ring are fitted to the two phases, so that no number is predicted; that the magnet has both in time \
                     is asked to 0.01 degrees",
            misfit: None,
            checks: phases,
        },
        Case {
            folder: FOLDER,
            name: "The gap that these phases ask for",
            source: "residual gaps of closed magnets, 0.05 to 0.2 mm",
            obtained: Obtained::CommonPractice,
            reason: "a plausibility: the middle of what is usual, and as much to either side",
            misfit: None,
            checks: gap,
        },
    ]
}

/// How far the armature was moved (m), and the phase (rad), at its stop and away from it.
fn points() -> Result<[(f64, f64); 2], String> {
    let table = table!("ring_phase/phase.csv")?;
    let mut all = Vec::new();
    for row in table.rows() {
        all.push((1e-3 * row.number("gap_mm")?, row.number("phase_degree")?.to_radians()));
    }
    all.try_into().map_err(|_| "two phases are wanted".into())
}

/// The gap left at the stop, m: tan θ = ω/(R_ring·R_2) falls as one over the gap, own algebra from the ring's law.
fn residual(points: &[(f64, f64); 2]) -> f64 {
    let [(from, shut), (to, open)] = *points;
    (to - from) * open.tangent() / (shut.tangent() - open.tangent())
}

/// Phase between the fluxes of the two parts of the pole after the ring's start has died away, rad.
fn phase(gap: f64, ring: f64) -> Result<f64, String> {
    const SAMPLES: usize = 1000;
    let resistance = 3e6 * TAU * FREQUENCY * MU_0 * 2.0 * AREA / gap;
    let supply = Voltage::Alternating { voltage: 100.0 * resistance / SQRT_2, frequency: FREQUENCY, phase: 0.0 };
    let coil = Coil { supply, shading_ring: Some(ring), ..linear_coil(2.0 * AREA, gap, 1.0, resistance) };
    let mut held = HeldMagnet::of(&coil, Drive::Supply);
    let periods = (30.0 * MU_0 * AREA / (ring * gap) * FREQUENCY).ceil().max(3.0);
    held.advance(0.0, periods / FREQUENCY)?;
    held.samples_per_period(SAMPLES, FREQUENCY);
    held.advance(periods / FREQUENCY, (periods + 1.0) / FREQUENCY)?;
    let phasor = |read: fn(&[f64; 2]) -> f64| -> Complex<f64> {
        held.trail.iter().map(|(time, y)| Complex::from_polar(read(y), -TAU * FREQUENCY * time)).sum()
    };
    Ok((phasor(|y| y[0] - y[1]) / phasor(|y| y[1])).angle())
}

fn phases() -> Result<Vec<Check>, String> {
    let points = points()?;
    let residual = residual(&points);
    let [(_, shut), _] = points;
    let ring = TAU * FREQUENCY * MU_0 * AREA / (residual * shut.tangent());
    let row = |(moved, measured): (f64, f64)| {
        let quantity = format!("phase {} mm away from the stop, degrees (fitted)", 1e3 * moved);
        let ours = phase(residual + moved, ring)?.to_degrees();
        Ok(check(quantity, ours, measured.to_degrees(), Tolerance::Absolute(0.01)))
    };
    points.into_iter().map(row).collect()
}

fn gap() -> Result<Vec<Check>, String> {
    let ours = 1e3 * residual(&points()?);
    Ok(vec![check("gap left at the stop, mm", ours, 0.125, Tolerance::Absolute(0.1))])
}
