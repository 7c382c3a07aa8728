//! Friction of a viscous liquid in a line whose flow is stopped at once.

use super::case::{Case, Check, Obtained, Tolerance};
use super::plain_pipe::{Pipe, Stopped, WallFriction, run};
use super::table::table;
use super::worst::Worst;

const FOLDER: &str = "zielke_1968_wall_shear";
const SOURCE: &str = "W. Zielke, Frequency-dependent friction in transient pipe flow, Journal of Basic Engineering 90, 1968, \
                      109-115 (kernel from memory); line of E. L. Holmboe, W. T. Rouleau, Journal of Basic Engineering \
                      89, 1967, 174-180 (dimensions from memory)";
/// Kinematic viscosity, m²/s.
const VISCOSITY: f64 = 39.67e-6;
/// Velocity before the stop, m/s.
const VELOCITY: f64 = 0.128;
/// How far the memory of the wall's shear may be off, over ρ·a·v: at all instants, and after two phases.
const ALLOWED: (f64, f64) = (0.08, 0.06);
/// Why, and what is known to be wrong.
const ALLOWED_REASON: &str = "bounds the misfit: largest just before the second front, where the staircase of the eight \
                              joints is a whole step off; this line is as viscous as any, on water the memory is better";
const MISFIT: &str =
    "the memory keeps only the short-time limit of the kernel, in five relaxing parts lumped at eight joints";

pub(super) fn cases() -> Vec<Case> {
    vec![
        Case {
            folder: FOLDER,
            name: "Laminar friction without memory: line packing and decay",
            source: "exact Laplace-domain solution with Hagen-Poiseuille friction, inverted numerically at two orders; line \
                     of E. L. Holmboe, W. T. Rouleau, Journal of Basic Engineering 89, 1967, 174-180 (dimensions from memory)",
            obtained: Obtained::Library("mpmath 1.4.1"),
            reason: "friction is lumped at the joints: between the edges of its staircase the pressure is off by up to half \
                     a step, and steps are as high as 1/segments; eight segments must reach 0.5 %",
            misfit: None,
            checks: without_memory,
        },
        Case {
            folder: FOLDER,
            name: "Frequency-dependent laminar friction",
            source: SOURCE,
            obtained: Obtained::Library("mpmath 1.4.1"),
            reason: ALLOWED_REASON,
            misfit: Some(MISFIT),
            checks: with_memory,
        },
    ]
}

fn oil_line(friction: WallFriction, segments: usize) -> Pipe {
    Pipe { length: 36.09, bore: 0.0254, wave_speed: 1324.0, density: 878.4, friction, segments }
}

/// Phase, pressure change at the shut valve over ρ·a·V_0, and that of the table's `column`.
fn changes(pipe: &Pipe, column: &str) -> Result<Vec<(f64, f64, f64)>, String> {
    let flow = pipe.mass_flow(VELOCITY);
    let (p_0, rise) = (1e6, pipe.density * pipe.wave_speed * VELOCITY);
    let steady = p_0 - pipe.state().wall.loss(flow);
    let mut line = pipe.wave_line(p_0, flow);
    let within = 1e-4 * pipe.phase();
    let table = table!("zielke_1968_wall_shear/laminar_transient.csv")?;
    let listed: Vec<(f64, f64)> =
        table.rows().map(|row| Ok((row.number("phase")?, row.number(column)?))).collect::<Result<_, String>>()?;
    let mut seen = Vec::new();
    run(pipe, &mut line, &Stopped { flow, within }, 8.0 * pipe.phase(), 400, &[0.0, within], |_, s| {
        if let Some(&(phase, exact)) = listed.get(seen.len()) {
            // Instants of the grid are multiples of 1/400 phase, and so are those of the table.
            if s.time >= phase * pipe.phase() * (1.0 - 1e-12) {
                seen.push((phase, (s.pressure - steady) / rise, exact));
            }
        }
    });
    if seen.len() == listed.len() { Ok(seen) } else { Err("the table goes on after the run's end".into()) }
}

fn worst(quantity: &'static str, allowed: f64, changes: &[(f64, f64, f64)]) -> Result<Check, String> {
    let mut worst = Worst::new(quantity, Tolerance::Absolute(allowed));
    for &(phase, ours, exact) in changes {
        worst.note(ours, exact, || format!("phase {phase}"));
    }
    worst.check()
}

fn without_memory() -> Result<Vec<Check>, String> {
    let pipe = |segments| oil_line(WallFriction::QuasiSteady(VISCOSITY), segments);
    let steady = Check {
        quantity: "steady loss of the line (Hagen-Poiseuille), Pa".into(),
        ours: pipe(1).state().wall.loss(pipe(1).mass_flow(VELOCITY)),
        reference: 7984.2463,
        tolerance: Tolerance::Relative(1e-7),
    };
    let mut checks = vec![steady];
    for (quantity, segments, allowed) in [
        ("change at the valve over ρ·a·v, 4 segments", 4, 1e-2),
        ("change at the valve over ρ·a·v, 8 segments", 8, 5e-3),
        ("change at the valve over ρ·a·v, 16 segments", 16, 2.5e-3),
    ] {
        checks.push(worst(quantity, allowed, &changes(&pipe(segments), "quasi_steady")?)?);
    }
    Ok(checks)
}

fn with_memory() -> Result<Vec<Check>, String> {
    let all = changes(&oil_line(WallFriction::WithMemory(VISCOSITY), 8), "memory")?;
    let late: Vec<_> = all.iter().copied().filter(|(phase, _, _)| *phase > 2.0).collect();
    let (allowed, allowed_late) = ALLOWED;
    Ok(vec![
        worst("change at the valve over ρ·a·v", allowed, &all)?,
        worst("the same after two phases", allowed_late, &late)?,
    ])
}
