//! Friction of lines against exact transients; sources in `validation/SOURCES.md`.

mod baseline;
mod plain_pipe;
mod reference;

use plain_pipe::{Pipe, Stopped, WallFriction, run};
use quietseat::physics::parts::LineModel;
use quietseat::physics::state::*;
use quietseat::validation::part_alone::PartAlone;
use reference::{Table, relative};

const VISCOSITY: f64 = 39.67e-6;
const VELOCITY: f64 = 0.128;

fn oil_line(friction: WallFriction, segments: usize) -> Pipe {
    Pipe { length: 36.09, bore: 0.0254, wave_speed: 1324.0, density: 878.4, friction, segments }
}

/// Pressure changes at the shut valve over ρ·a·V_0 at the instants of the table, and those of the table's `column`.
fn changes(pipe: &Pipe, column: &str) -> Vec<(f64, f64, f64)> {
    let flow = pipe.mass_flow(VELOCITY);
    let (p_0, rise) = (1e6, pipe.density * pipe.wave_speed * VELOCITY);
    let state = pipe.state();
    let steady = p_0 - state.wall.loss(flow);
    let mut line = pipe.wave_line(p_0, flow);
    let within = 1e-4 * pipe.phase();
    let table: Vec<(f64, f64)> = Table::read("water_hammer/laminar_transient.csv")
        .rows()
        .map(|r| (r.number("phase"), r.number(column)))
        .collect();
    let mut seen = Vec::new();
    run(pipe, &mut line, &Stopped { flow, within }, 8.0 * pipe.phase(), 400, &[0.0, within], |_, s| {
        if let Some(&(phase, exact)) = table.get(seen.len()) {
            // Instants of the grid are multiples of 1/400 phase, and so are those of the table.
            if s.time >= phase * pipe.phase() * (1.0 - 1e-12) {
                seen.push((phase, (s.pressure - steady) / rise, exact));
            }
        }
    });
    assert_eq!(seen.len(), table.len());
    seen
}

fn largest(changes: &[(f64, f64, f64)]) -> f64 {
    changes.iter().map(|(_, ours, exact)| (ours - exact).abs()).fold(0.0, f64::max)
}

/// Laminar friction without memory, lumped at the joints of equal segments, tends to the exact line packing and decay.
/// Between the edges of its staircase the pressure is off by up to half a step, and steps are as high as 1/segments: each
/// doubling must about halve the largest error (by 0.62 from one to two); eight reach the 0.5 % of ρ·a·V_0 asked for.
#[test]
fn segments_converge_to_exact_line_packing() {
    let drop = oil_line(WallFriction::QuasiSteady(VISCOSITY), 1);
    let loss = drop.state().wall.loss(drop.mass_flow(VELOCITY));
    // Hagen-Poiseuille, closed form.
    assert!(relative(loss, 7984.2463).abs() < 1e-7, "{loss} Pa");
    let errors: Vec<f64> = [1, 2, 4, 8, 16]
        .map(|segments| largest(&changes(&oil_line(WallFriction::QuasiSteady(VISCOSITY), segments), "quasi_steady")))
        .to_vec();
    println!("largest error over rho a V for 1, 2, 4, 8, 16 segments: {errors:.5?}");
    for pair in errors.windows(2) {
        assert!(pair[1] < 0.65 * pair[0], "{errors:?}");
    }
    assert!(errors[3] < 5e-3, "{errors:?}");
}

/// The wall shear with memory against the exact frequency-dependent friction (recomputed). It keeps only the short-time
/// limit of the kernel, in five relaxing parts, lumped at eight joints. Measured: off by at most 0.071 of ρ·a·V_0, just
/// before the second front, where the staircase of the joints is a whole step off; by 0.042 after two phases. Friction
/// without memory is off by 0.59. This line is as viscous as any (ν·T/r² = 0.013 per phase); on water the memory is better.
#[test]
fn memory_of_the_wall_shear_against_the_exact_kernel() {
    let quasi = changes(&oil_line(WallFriction::QuasiSteady(VISCOSITY), 8), "memory");
    let memory = changes(&oil_line(WallFriction::WithMemory(VISCOSITY), 8), "memory");
    for (a, b) in quasi.iter().zip(&memory) {
        println!("phase {:5.2}: exact {:8.4}, with memory {:8.4}, without {:8.4}", a.0, a.2, b.1, a.1);
    }
    let (without, with) = (largest(&quasi), largest(&memory));
    println!("largest error over rho a V: with memory {with:.4}, without {without:.4}");
    assert!(with < 0.08 && with < 0.15 * without);
    let late: Vec<_> = memory.into_iter().filter(|(phase, _, _)| *phase > 2.0).collect();
    println!("after two phases: {:.4}", largest(&late));
    assert!(largest(&late) < 0.06);
}

/// A rigid column started by a constant differential against a loss: V_0·tanh(t/τ). Closed form; 1e-6 relative. The lumped
/// line of the installation itself, its port held at the start pressure.
#[test]
fn rigid_column_starts_like_a_hyperbolic_tangent() {
    let mut scenario = baseline::water();
    scenario.upstream.model = LineModel::Lumped;
    scenario.upstream.friction_factor = 0.0;
    scenario.upstream.loss_coefficient = 5.0;
    let quietseat::physics::fluid::Phase::Liquid(liquid) = &mut scenario.fluid.phase else { panic!("water") };
    liquid.viscosity = 0.0;
    let (density, length, drop) = (liquid.density, scenario.upstream.length, 1e5);
    let installation = quietseat::simulate::install(&scenario, 293.15);
    let velocity = (2.0 * drop / (density * 5.0)).sqrt();
    let tau = 2.0 * length / (5.0 * velocity);
    assert!(relative(velocity, 6.330255116).abs() < 1e-9 && relative(tau, 1.263772131).abs() < 1e-9);
    let flow = density * installation.upstream.state.area * velocity;
    let p_1 = 2e5;
    let mut y = installation.at_rest(p_1, p_1);
    let mut alone = PartAlone::new(&installation, &[UPSTREAM_FLOW]);
    alone.forcing[FROM_UPSTREAM] = p_1 + drop - installation.upstream.state.datum;
    let mut time = 0.0;
    for (to, share) in [(0.694197797, 0.5), (tau, 1.0_f64.tanh()), (3.344765560, 0.99)] {
        alone.advance(&mut y, time, to, 1e-10).expect("a column alone");
        time = to;
        assert!(relative(y[UPSTREAM_FLOW], share * flow).abs() < 1e-6, "{} of {flow} at {to}", y[UPSTREAM_FLOW]);
    }
}
