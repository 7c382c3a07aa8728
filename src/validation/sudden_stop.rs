//! A frictionless line whose flow is stopped at once.

use super::case::{Case, Check, Obtained, Tolerance};
use super::plain_pipe::{Pipe, Sample, Stopped, WallFriction, run};
use super::table::table;
use super::worst::Worst;

/// Pressure at the far end, Pa.
const FAR_END: f64 = 3e5;
/// Velocity before the stop, m/s.
const VELOCITY: f64 = 0.5;

pub(super) fn cases() -> Vec<Case> {
    vec![Case {
        folder: "tijsseling_2006_sudden_stop",
        name: "Sudden stop of a frictionless line",
        source: "A. S. Tijsseling, A. Anderson, The Joukowsky equation for fluids and solids, report RANA 06-08, \
                 Technische Universiteit Eindhoven, 2006",
        obtained: Obtained::Exact,
        reason: "a wave is exact between its knots, so rounding of the knots' times is all that is left, over 20 periods",
        misfit: None,
        checks,
    }]
}

/// Ten metres of water pipe.
pub(super) fn ten_metres(segments: usize) -> Pipe {
    Pipe { length: 10.0, bore: 0.016, wave_speed: 1200.0, density: 998.2, friction: WallFriction::None, segments }
}

/// Samples at the valve over 20 periods; the stop takes a thousandth of 2L/a.
fn samples(pipe: &Pipe) -> Vec<Sample> {
    let flow = pipe.mass_flow(VELOCITY);
    let within = 1e-3 * pipe.phase();
    let mut line = pipe.wave_line(FAR_END, flow);
    let mut samples = Vec::new();
    run(pipe, &mut line, &Stopped { flow, within }, 40.0 * pipe.phase(), 40, &[0.0, within], |_, s| samples.push(s));
    samples
}

fn checks() -> Result<Vec<Check>, String> {
    let tolerance = Tolerance::Relative(1e-9);
    let mut wave = Worst::new("rise or fall at the valve over ρ·a·v, 20 periods", tolerance);
    let mut listed = Worst::new("pressure at the valve, as listed, Pa", tolerance);
    let table = table!("tijsseling_2006_sudden_stop/square_wave.csv")?;
    for segments in [1, 4] {
        let pipe = ten_metres(segments);
        let samples = samples(&pipe);
        let rise = pipe.density * pipe.wave_speed * VELOCITY;
        for s in &samples {
            let phases = s.time / pipe.phase();
            if (0.01..0.99).contains(&phases.fract()) {
                let sign = if phases.rem_euclid(2.0) < 1.0 { 1.0 } else { -1.0 };
                wave.note((s.pressure - FAR_END) / rise, sign, || format!("{segments} segments, {phases:.2} phases"));
            }
        }
        for row in table.rows() {
            let time = row.number("time_s")?;
            let near = samples.iter().min_by(|a, b| (a.time - time).abs().total_cmp(&(b.time - time).abs()));
            let near = near.ok_or("no sample of the pipe")?;
            listed.note(near.pressure, row.number("valve_pressure_pa")?, || format!("{:.3} ms", 1e3 * time));
        }
    }
    Ok(vec![wave.check()?, listed.check()?])
}
