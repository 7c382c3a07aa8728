//! Waves in a frictionless line against closed forms and the interlocking equations; sources in `validation/SOURCES.md`.

mod plain_pipe;
mod reference;

use plain_pipe::{ClosingOpening, Pipe, Prescribed, Stopped, WallFriction, run};
use reference::{Table, Worst, relative};

const GRAVITY: f64 = 9.80665;

fn ten_metres(segments: usize) -> Pipe {
    Pipe { length: 10.0, bore: 0.016, wave_speed: 1200.0, density: 998.2, friction: WallFriction::None, segments }
}

/// Joukowsky's square wave: exact at every plateau, and after 20 periods as high as at first. The line is exact between
/// knots, so only the rounding of the knots' times is left: 1e-9, over four segments too. The stop takes a thousandth of 2L/a.
#[test]
fn sudden_stop_makes_an_undamped_square_wave() {
    for segments in [1, 4] {
        let pipe = ten_metres(segments);
        let (velocity, p_0, phase) = (0.5, 3e5, pipe.phase());
        let flow = pipe.mass_flow(velocity);
        let ramp = 1e-3 * phase;
        let law = Stopped { flow, within: ramp };
        let mut line = pipe.wave_line(p_0, flow);
        let mut samples = Vec::new();
        run(&pipe, &mut line, &law, 40.0 * phase, 40, &[0.0, ramp], |_, s| samples.push(s));
        let rise = pipe.density * pipe.wave_speed * velocity;
        assert!((rise - 598_920.0).abs() < 1e-6);
        let mut worst = Worst::default();
        for s in samples.iter().filter(|s| (s.time / phase).fract() > 0.01 && (s.time / phase).fract() < 0.99) {
            let sign = if (s.time / phase).rem_euclid(2.0) < 1.0 { 1.0 } else { -1.0 };
            worst.note((s.pressure - p_0 - sign * rise) / rise, || format!("{:.3} phases", s.time / phase));
        }
        worst.refuse_above(1e-9, "square wave over 20 periods");
        let mut published = Worst::default();
        for row in Table::read("water_hammer/square_wave.csv").rows() {
            let time = row.number("time_s");
            let near = samples.iter().min_by(|a, b| (a.time - time).abs().total_cmp(&(b.time - time).abs()));
            let near = near.expect("there are samples");
            published.note((near.pressure - row.number("valve_pressure_pa")) / rise, || format!("{time} s"));
        }
        published.refuse_above(1e-9, "square wave at the valve, table");
    }
}

/// Highest head over H0 while the opening shuts, when, head after one phase and when shut.
fn closure(rho: f64, theta: f64, per_phase: usize, phases: &[f64]) -> (f64, f64, Vec<f64>) {
    let pipe = ten_metres(1);
    let p_0 = 2e5;
    let phase = pipe.phase();
    // ρ_A = a·V/(2·g·H0) = ρ·a·V/(2·p_0)
    let velocity = 2.0 * rho * p_0 / (pipe.density * pipe.wave_speed);
    let law = ClosingOpening { closing_time: theta * phase, full_flow: pipe.mass_flow(velocity), pressure: p_0 };
    let mut line = pipe.wave_line(p_0, law.full_flow);
    let end = phases.iter().fold(theta, |a, &b| a.max(b)) * phase;
    let (mut highest, mut when) = (1.0, 0.0);
    let mut heads = vec![f64::NAN; phases.len()];
    run(&pipe, &mut line, &law, end, per_phase, &[0.0, theta * phase], |_, s| {
        let head = s.pressure / p_0;
        if head > highest + 1e-9 && s.time <= theta * phase * (1.0 + 1e-12) {
            (highest, when) = (head, s.time / phase);
        }
        for (slot, &at) in heads.iter_mut().zip(phases) {
            if slot.is_nan() && s.time >= at * phase * (1.0 - 1e-13) {
                *slot = head;
            }
        }
    });
    (highest, when, heads)
}

/// Linear closing of the opening against Allievi's interlocking equations (recomputed). At whole phases 1e-8: the heads of
/// the table have ten digits, and a wave is a chain of cubics whose error falls with the fourth power of the 2000 instants a
/// phase. The highest head was sought on a grid of 1/2000 phase: 2e-5, its time to 0.002 phases.
#[test]
fn linear_closing_of_the_opening_follows_allievi() {
    let (mut one, mut shut, mut high, mut time) =
        (Worst::default(), Worst::default(), Worst::default(), Worst::default());
    for row in Table::read("water_hammer/linear_area_closure.csv").rows() {
        let (rho, theta) = (row.number("rho"), row.number("theta"));
        let (highest, when, heads) = closure(rho, theta, 2000, &[1.0, theta]);
        let place = || format!("rho {rho}, theta {theta}");
        if theta > 1.0 {
            one.note(relative(heads[0], row.number("head_after_one_phase")), place);
        }
        shut.note(relative(heads[1], row.number("head_when_shut")), place);
        high.note(relative(highest, row.number("highest_head")), place);
        // A flat top has no sharp time: only where the top stands out by more than the table's digits.
        if highest - heads[1] > 1e-4 && theta > 1.0 {
            time.note(when - row.number("phase_of_highest"), place);
        }
        if theta <= 1.0 {
            high.note(relative(highest, 1.0 + 2.0 * rho), place);
        }
    }
    one.refuse_above(1e-8, "head after one phase");
    shut.refuse_above(1e-8, "head when shut");
    high.refuse_above(2e-5, "highest head");
    time.refuse_above(0.002, "phase of the highest head");
}

/// ρ, θ, and heads by phase.
type Case = (f64, f64, Vec<(f64, f64)>);

/// The series of heads at whole phases, before and after the valve has shut: twelve digits in the table; 1e-8 as above.
#[test]
fn heads_at_whole_phases_follow_allievi() {
    let table = Table::read("water_hammer/linear_area_phases.csv");
    let mut cases: Vec<Case> = Vec::new();
    for row in table.rows() {
        let (rho, theta) = (row.number("rho"), row.number("theta"));
        if cases.last().is_none_or(|c| (c.0, c.1) != (rho, theta)) {
            cases.push((rho, theta, Vec::new()));
        }
        let point = (row.number("phase"), row.number("head"));
        cases.last_mut().expect("just pushed").2.push(point);
    }
    let mut worst = Worst::default();
    for (rho, theta, points) in cases {
        let phases: Vec<f64> = points.iter().map(|p| p.0).collect();
        let (_, _, heads) = closure(rho, theta, 2000, &phases);
        for (ours, (phase, head)) in heads.iter().zip(&points) {
            worst.note(relative(*ours, *head), || format!("rho {rho}, theta {theta}, phase {phase}"));
        }
    }
    worst.refuse_above(1e-8, "series of heads");
}

/// The dimensional example: 300 m, 1200 m/s, 1 m/s, 60 m of head, shut in 1.5 s. Recomputed, ten digits: 1e-8.
#[test]
fn dimensional_example_of_a_slow_closing() {
    let rho = 1200.0 / (2.0 * GRAVITY * 60.0);
    let (_, _, heads) = closure(rho, 3.0, 2000, &[1.0, 2.0, 3.0, 4.0, 5.0]);
    let expected = [85.17158728, 83.81435222, 84.39406655, 35.60593345, 84.39406655];
    let mut worst = Worst::default();
    for (ours, reference) in heads.iter().zip(expected) {
        worst.note(relative(60.0 * ours, reference), || format!("{reference} m"));
    }
    worst.refuse_above(1e-8, "head at the valve");
}

/// Michaud's estimate 1 + 2ρ/θ is exceeded by a closing opening at low head and high velocity, the service of a valve at low
/// differential, and is safe only at small ρ. Recomputed heads.
#[test]
fn michaud_is_no_upper_bound() {
    for (rho, theta, exact) in
        [(8.0, 5.0, 4.440678905), (8.0, 3.0, 8.717593247), (4.0, 2.0, 5.844410204), (4.0, 1.5, 7.370114058)]
    {
        let (highest, _, _) = closure(rho, theta, 1000, &[]);
        assert!(relative(highest, exact).abs() < 1e-5, "{highest} for {exact}");
        assert!(highest > 1.05 * (1.0 + 2.0 * rho / theta));
    }
    for (rho, theta, exact) in [(1.0, 5.0, 1.232840594), (0.5, 4.0, 1.183934383)] {
        let (highest, _, _) = closure(rho, theta, 2000, &[]);
        assert!(relative(highest, exact).abs() < 2e-5, "{highest} for {exact}");
        assert!(highest < 1.0 + 2.0 * rho / theta);
    }
}

/// A flow (not an opening) that falls linearly over a whole number of periods makes a triangle between nothing and
/// 2ρLV/T_c and leaves no ringing. Closed form; straight pieces are exact for cubics, so rounding is left: 1e-9 of the top.
#[test]
fn linear_fall_of_flow_makes_a_triangle_and_leaves_no_ringing() {
    let pipe = ten_metres(1);
    let (velocity, p_0, phase) = (0.5, 3e5, pipe.phase());
    let flow = pipe.mass_flow(velocity);
    let closing = 8.0 * phase;
    let law = Prescribed(vec![(0.0, flow), (closing, 0.0)]);
    let mut line = pipe.wave_line(p_0, flow);
    let top = 2.0 * pipe.density * pipe.length * velocity / closing;
    assert!((top - 74_865.0).abs() < 0.1);
    let mut worst = Worst::default();
    run(&pipe, &mut line, &law, 14.0 * phase, 50, &[0.0, closing], |_, s| {
        let period = (s.time / (2.0 * phase)).fract();
        let triangle = if s.time < closing { top * (1.0 - (2.0 * period - 1.0).abs()) } else { 0.0 };
        worst.note((s.pressure - p_0 - triangle) / top, || format!("{:.3} phases", s.time / phase));
    });
    worst.refuse_above(1e-9, "triangle");
}

/// A shut line rings at its quarter wave: 1.5 m at 1350 m/s at 225 Hz. Closed form. The wave line by the instants of its
/// crossings; the lumped line by the frequency of its capacity and column, equal by construction of its share.
#[test]
fn shut_line_rings_at_a_quarter_wave() {
    let pipe = Pipe { length: 1.5, wave_speed: 1350.0, ..ten_metres(1) };
    let flow = pipe.mass_flow(0.1);
    let phase = pipe.phase();
    let law = Prescribed(vec![(0.0, flow), (0.4 * phase, 0.0)]);
    let mut line = pipe.wave_line(5e5, flow);
    let (mut last, mut crossings) = ((0.0, 0.0), Vec::new());
    run(&pipe, &mut line, &law, 40.0 * phase, 400, &[0.0, 0.4 * phase], |_, s| {
        let above = s.pressure - 5e5;
        if last.1 < 0.0 && above >= 0.0 {
            crossings.push(last.0 - last.1 * (s.time - last.0) / (above - last.1));
        }
        last = (s.time, above);
    });
    let count = crossings.len() - 1;
    let frequency = count as f64 / (crossings[count] - crossings[0]);
    assert!(count > 15 && relative(frequency, 225.0).abs() < 1e-9, "{frequency} Hz");
    let state = pipe.state();
    let capacity = quietseat::physics::line::LUMPED_SHARE * state.compliance() / state.density;
    // Per mass flow: the column's inertance L/A, the capacity divided by the density of what fills it.
    let lumped = 1.0 / (std::f64::consts::TAU * (state.inertance() * capacity * state.density.powi(2)).sqrt());
    assert!(relative(lumped, 225.0).abs() < 1e-12, "{lumped} Hz");
}
