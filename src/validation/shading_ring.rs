//! The shading ring against two phasors.

use super::case::{Case, Check, Obtained, Tolerance};
use super::held_magnet::{Drive, HeldMagnet, linear_coil};
use super::table::{Row, Table, table};
use super::worst::Worst;
use crate::physics::parts::{Coil, Voltage};
use crate::physics::valve::magnet::MU_0;

const SOURCE: &str = "two phasors, own derivation; the subject in H. C. Roters, Electromagnetic Devices, Wiley, 1941 (from \
                      memory)";

/// The cases.
pub(super) fn cases() -> Vec<Case> {
    vec![
        Case {
            folder: "shading_ring",
            name: "pull and fluxes of a magnet with a shading ring",
            source: SOURCE,
            obtained: Obtained::Exact,
            reason: "the imposed magnetomotive force is the supply's to 1e-7; peaks read off 2000 samples a period are up to \
                     1.2e-6 low",
            misfit: None,
            checks: two_phasors,
        },
        Case {
            folder: "shading_ring",
            name: "the best shading ring is neither the best nor the worst conductor",
            source: SOURCE,
            obtained: Obtained::Exact,
            reason: "the resistance, out of those of the table, at which the least pull is greatest: exact",
            misfit: None,
            checks: best_ring,
        },
    ]
}

fn circuits() -> Result<Table, String> {
    table!("shading_ring/circuits.csv")
}

/// A magnet in its periodic state.
struct Periodic {
    mean: f64,
    least: f64,
    open_flux: f64,
    shaded_flux: f64,
}

/// The periodic state of a row's circuit.
///
/// A magnetomotive force is imposed by one turn fed from a resistance three million times its reactance: the current, and
/// with it the pull, is then the supply's to some 1e-7.
fn periodic(row: &Row<'_>) -> Result<Periodic, String> {
    let [frequency, force, gap, ring] = row.numbers(["frequency_hz", "mmf_peak_a", "gap_m", "ring_ohm"])?;
    let [open, shaded] = row.numbers(["open_area_m2", "shaded_area_m2"])?;
    let resistance = 3e6 * std::f64::consts::TAU * frequency * MU_0 * (open + shaded) / gap;
    let voltage = force * resistance / std::f64::consts::SQRT_2;
    let coil = Coil {
        supply: Voltage::Alternating { voltage, frequency, phase: 0.0 },
        open_face_area: open,
        shaded_face_area: shaded,
        shading_ring: Some(ring),
        ..linear_coil(open + shaded, gap, 1.0, resistance)
    };
    let mut held = HeldMagnet::of(&coil, Drive::Supply);
    // The ring's own time constant decides how long its start lasts.
    let memory = MU_0 * shaded / (ring * gap);
    let periods = (30.0 * memory * frequency).ceil().max(3.0);
    held.advance(0.0, periods / frequency)?;
    held.samples_per_period(2000, frequency);
    held.advance(periods / frequency, (periods + 1.0) / frequency)?;
    let lines = held.pull_lines(frequency, &[0, 2], 0.0);
    Ok(Periodic {
        mean: lines[0],
        least: lines[0] - lines[1],
        open_flux: held.peak(|_, y| y[0] - y[1]),
        shaded_flux: held.peak(|_, y| y[1]),
    })
}

fn two_phasors() -> Result<Vec<Check>, String> {
    let mut mean = Worst::new("mean pull, N", Tolerance::Relative(1e-6));
    let mut least = Worst::new("least pull over the mean one", Tolerance::Absolute(1e-6));
    let mut open = Worst::new("flux of the open face, Wb", Tolerance::Relative(2e-6));
    let mut shaded = Worst::new("flux of the shaded face, Wb", Tolerance::Relative(2e-6));
    for row in circuits()?.rows() {
        let ours = periodic(&row)?;
        let place = format!("gap {} m, ring {} ohm", row.text("gap_m")?, row.text("ring_ohm")?);
        let reference = row.number("mean_pull_n")?;
        mean.note(ours.mean, reference, || place.clone());
        least.note(ours.least / reference, row.number("least_pull_n")? / reference, || place.clone());
        open.note(ours.open_flux, row.number("open_flux_wb")?, || place.clone());
        shaded.note(ours.shaded_flux, row.number("shaded_flux_wb")?, || place.clone());
    }
    Ok(vec![mean.check()?, least.check()?, open.check()?, shaded.check()?])
}

/// Ring resistance at which the least pull is greatest.
#[derive(Clone, Copy)]
struct Best {
    ring: f64,
    least: f64,
}

impl Best {
    fn none() -> Self {
        Best { ring: f64::NAN, least: f64::NEG_INFINITY }
    }
    fn look(&mut self, ring: f64, least: f64) {
        if least > self.least {
            *self = Best { ring, least };
        }
    }
}

fn best_ring() -> Result<Vec<Check>, String> {
    let table = circuits()?;
    let mut circuits: Vec<(String, Best, Best)> = Vec::new();
    for row in table.rows() {
        let circuit = format!("{} Hz, gap {} m", row.text("frequency_hz")?, row.text("gap_m")?);
        let known = circuits.iter().position(|(name, _, _)| *name == circuit);
        let place = known.unwrap_or(circuits.len());
        if known.is_none() {
            circuits.push((circuit, Best::none(), Best::none()));
        }
        let [ring, least] = row.numbers(["ring_ohm", "least_pull_n"])?;
        let (_, ours, reference) = &mut circuits[place];
        ours.look(ring, periodic(&row)?.least);
        reference.look(ring, least);
    }
    let compare = |(circuit, ours, reference): (String, Best, Best)| Check {
        quantity: format!("best ring of the table, ohm ({circuit})"),
        ours: ours.ring,
        reference: reference.ring,
        tolerance: Tolerance::Absolute(0.0),
    };
    Ok(circuits.into_iter().map(compare).collect())
}
