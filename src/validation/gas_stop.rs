//! A gas that moves in a line and is stopped at once: sound against shock.

use super::case::{Case, Check, Obtained, Tolerance};
use super::table::table;
use super::worst::Worst;
use crate::physics::fluid::Gas;
use crate::physics::line::LineState;
use crate::physics::line::far_end::EndPressure;
use crate::physics::line::wave_speed::of_gas;
use crate::physics::line::waves::WaveLine;
use crate::physics::parts::{Fittings, Line, LineModel};

const FOLDER: &str = "liepmann_1957_gas_stop";

pub(super) fn cases() -> Vec<Case> {
    vec![
        Case {
            folder: FOLDER,
            name: "Sudden stop of a gas: acoustic answer",
            source: "linear acoustics, textbook: p2/p1 = 1 + k·M",
            obtained: Obtained::Exact,
            reason: "the line is linear about its end: only rounding is left",
            misfit: None,
            checks: acoustic,
        },
        Case {
            folder: FOLDER,
            name: "Sudden stop of a gas: against the shock",
            source: "H. W. Liepmann, A. Roshko, Elements of Gasdynamics, Wiley, 1957 (from memory; algebra checked)",
            obtained: Obtained::Exact,
            reason: "bounds the misfit: the first term left out is k·(k+1)/4·M² of the pressure before the stop, 0.84 M² \
                     for air; 0.9 M² allows for the terms behind it",
            misfit: Some("gas lines are linear: good to 1 % of the absolute pressure up to Mach 0.1, too low beyond"),
            checks: shock,
        },
    ]
}

/// Pressure ratio at the closed end of a line in which gas of that Mach number is stopped at once.
fn stopped(exponent: f64, mach: f64) -> f64 {
    let gas = Gas::perfect(287.05, exponent, 293.15, 0.0);
    let p_1 = 5e5;
    let density = p_1 / (gas.gas_constant * gas.temperature);
    let line = Line {
        length: 10.0,
        bore: 0.016,
        wave_speed: of_gas(&gas),
        density: None,
        friction_factor: 0.0,
        loss_coefficient: 0.0,
        segments: 1,
        model: LineModel::Waves,
        fittings: Fittings::default(),
    };
    let state = LineState::new(&line, density, 0.0, p_1, 0.0, Some(exponent));
    let end = EndPressure { mean: 0.0, amplitude: 0.0, angular_frequency: 0.0 };
    let mut waves = WaveLine::steady(&state, end, 1, 0.0, 0.0, density * state.area * mach * line.wave_speed);
    waves.send(1e-6, 0.0, 0.0);
    let (arriving, _) = waves.arriving(1e-6);
    (p_1 + arriving) / p_1
}

fn acoustic() -> Result<Vec<Check>, String> {
    let mut worst = Worst::new("pressure after the stop over that before", Tolerance::Relative(1e-12));
    for row in table!("liepmann_1957_gas_stop/gas_sudden_stop.csv")?.rows() {
        let (exponent, mach) = (row.number("exponent")?, row.number("mach")?);
        worst.note(stopped(exponent, mach), row.number("acoustic_ratio")?, || format!("k {exponent}, Mach {mach}"));
    }
    Ok(vec![worst.check()?])
}

fn shock() -> Result<Vec<Check>, String> {
    let steps = [
        ("pressure ratio, Mach 0.01", 0.01),
        ("pressure ratio, Mach 0.05", 0.05),
        ("pressure ratio, Mach 0.1", 0.1),
        ("pressure ratio, Mach 0.2", 0.2),
        ("pressure ratio, Mach 0.3", 0.3),
        ("pressure ratio, Mach 0.5", 0.5),
    ];
    let table = table!("liepmann_1957_gas_stop/gas_sudden_stop.csv")?;
    let mut checks = Vec::new();
    for (quantity, mach) in steps {
        let mut worst = Worst::new(quantity, Tolerance::Relative(0.9 * mach * mach / (1.0 + 1.4 * mach)));
        for row in table.rows() {
            if row.number("mach")? == mach {
                let exponent = row.number("exponent")?;
                worst.note(stopped(exponent, mach), row.number("shock_ratio")?, || format!("k {exponent}"));
            }
        }
        checks.push(worst.check()?);
    }
    Ok(checks)
}
