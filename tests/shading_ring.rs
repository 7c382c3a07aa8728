//! The shading ring against two phasors; sources in `validation/README.md`.

mod baseline;
mod held_magnet;
mod reference;

use held_magnet::{Drive, HeldMagnet, linear_coil};
use quietseat::physics::magnet::{MU_0, Magnet};
use quietseat::physics::parts::{Coil, Voltage};
use reference::{Row, Table, Worst, relative};

/// Mean and least pull (N), both peak fluxes (Wb) of a row's circuit, in the periodic state.
///
/// A magnetomotive force is imposed by one turn fed from a resistance three million times its reactance: the current, and
/// with it the pull, is then the supply's to some 1e-7.
fn periodic(row: &Row<'_>) -> [f64; 4] {
    let frequency = row.number("frequency_hz");
    let (open, shaded) = (row.number("open_area_m2"), row.number("shaded_area_m2"));
    let gap = row.number("gap_m");
    let resistance = 3e6 * std::f64::consts::TAU * frequency * MU_0 * (open + shaded) / gap;
    let voltage = row.number("mmf_peak_a") * resistance / 2.0_f64.sqrt();
    let coil = Coil {
        supply: Voltage::Alternating { voltage, frequency, phase: 0.0 },
        open_face_area: open,
        shaded_face_area: shaded,
        shading_ring: Some(row.number("ring_ohm")),
        ..linear_coil(open + shaded, gap, 1.0, resistance)
    };
    let mut held = HeldMagnet::new(Magnet::new(&coil, 0.0, 293.15), 0.0, Drive::Supply);
    // The ring's own time constant decides how long its start lasts.
    let memory = 1.0 / (row.number("ring_ohm") * gap / (MU_0 * shaded));
    let periods = (30.0 * memory * frequency).ceil().max(3.0);
    held.advance(0.0, periods / frequency);
    held.samples_per_period(2000, frequency);
    held.advance(periods / frequency, (periods + 1.0) / frequency);
    let lines = held.pull_lines(frequency, &[0, 2], 0.0);
    let peak = |flux: fn(&[f64; 2]) -> f64| held.trail.iter().map(|(_, y)| flux(y).abs()).fold(0.0, f64::max);
    [lines[0], lines[0] - lines[1], peak(|y| y[0] - y[1]), peak(|y| y[1])]
}

/// All rows: mean and least pull to 1e-6 of the mean, fluxes to 1e-6 (read off 2000 samples a period).
#[test]
fn ring_splits_the_flux_into_two_phasors() {
    let [mut mean, mut least, mut open, mut shaded] = [(); 4].map(|()| Worst::default());
    for row in Table::read("electromagnetics/shading_ring.csv").rows() {
        let ours = periodic(&row);
        let place = || format!("gap {} ring {}", row.text("gap_m"), row.text("ring_ohm"));
        let reference = row.number("mean_pull_n");
        mean.note(relative(ours[0], reference), place);
        least.note((ours[1] - row.number("least_pull_n")) / reference, place);
        open.note(relative(ours[2], row.number("open_flux_wb")), place);
        shaded.note(relative(ours[3], row.number("shaded_flux_wb")), place);
    }
    mean.refuse_above(1e-6, "mean pull");
    least.refuse_above(1e-6, "least pull");
    open.refuse_above(2e-6, "flux of the open face");
    shaded.refuse_above(2e-6, "flux of the shaded face");
}

/// The least pull has a maximum over the ring's resistance: too good a ring shuts its face off, too poor a one is none.
#[test]
fn ring_has_a_best_resistance() {
    let table = Table::read("electromagnetics/shading_ring.csv");
    let circuit = |row: &Row<'_>| (row.text("frequency_hz").to_owned(), row.text("gap_m").to_owned());
    let mut circuits: Vec<_> = table.rows().map(|row| circuit(&row)).collect();
    circuits.sort();
    circuits.dedup();
    let mut within = 0;
    for (frequency, gap) in circuits {
        let rows = table.rows().filter(|row| circuit(row) == (frequency.clone(), gap.clone()));
        let least: Vec<f64> = rows.map(|row| periodic(&row)[1]).collect();
        let best = least.iter().copied().fold(f64::MIN, f64::max);
        println!("{frequency} Hz, gap {gap} m: least pull over rising ring resistance {least:.4?} N");
        let place = least.iter().position(|&pull| pull == best).expect("there is a best");
        let rises = least[..=place].windows(2).all(|pair| pair[1] > pair[0]);
        let falls = least[place..].windows(2).all(|pair| pair[1] < pair[0]);
        assert!(rises && falls && place > 0, "gap {gap}: {least:?}");
        within += usize::from(place + 1 < least.len());
    }
    // The narrowest gap has its best ring beyond the table at both frequencies, the widest at 60 Hz.
    assert_eq!(within, 3);
}
