//! The measured pressure at a valve shut at the end of a long line, with vapour cavities, against the same line computed.

use super::case::{Case, Check, Obtained, Tolerance, check};
use super::closing_rig::{Choice, Trace, shut};
use super::overlay::Overlay;
use super::table::{Row, table};
use super::worst::Worst;

const FOLDER: &str = "bergant_simpson_1999_closing_valve";
const SOURCE: &str = "A. Bergant, A. R. Simpson, Pipeline column separation flow regimes, Journal of Hydraulic Engineering \
                      125(8), 1999, 835-848 (title from memory), as drawn in He, Li, Guo, Processes 13, 2025, 3510 (doi 10.3390/pr13113510); \
                      digitised by J. Lillywhite (MIT)";
/// Computed until then, s: some time into the third cavity, as far as the record goes.
const END: f64 = 0.8;
/// Above it the line holds no cavity at the valve, Pa: well above any cavity, well below any pulse.
const LEVEL: f64 = 5e5;

/// The cases.
pub(super) fn cases() -> Vec<Case> {
    vec![
        Case {
            folder: FOLDER,
            name: "Measured closing valve with column separation: length of the pulses",
            source: SOURCE,
            obtained: Obtained::Measured,
            reason: "fronts are drawn over 1 to 5 ms of a pulse of 56 ms; 3 % was set before the first run",
            misfit: None,
            checks: pulse_lengths,
        },
        Case {
            folder: FOLDER,
            name: "Measured closing valve with column separation: cavities and pressures",
            source: SOURCE,
            obtained: Obtained::Measured,
            reason: "bounds the misfit. The record itself is good to 0.7 % in pressures and durations, and 3 % (plateau), 4 % \
                     (cavities) and 5 % (maxima) would be reasonable bounds of a model: see the folder for what meets them",
            misfit: Some(
                "two causes. The memory of the wall, that of the turbulent flow before the closure, takes too much: it adds 1.4 % to \
                 the plateau and shortens the cavities by 2.5 and 12 %; a grid with the full history does the same, so it is \
                 the kernel and not its fit. And vapour opens at the valve only, not along the line: the second pulse gets \
                 a spike of 10 ms that the rig does not show, and that the same grid loses with vapour at its nodes",
            ),
            checks: cavities,
        },
        Case {
            folder: FOLDER,
            name: "Measured closing valve without the memory of the wall",
            source: SOURCE,
            obtained: Obtained::Measured,
            reason: "3 % and 4 % as above, set before the first run. The case was added when the misfit was seen, to find its cause: \
                     it is not what a run computes, and its second maximum is worse (61 % too high)",
            misfit: None,
            checks: steady_friction,
        },
        Case {
            folder: FOLDER,
            name: "Measured closing valve: what the record leaves open",
            source: SOURCE,
            obtained: Obtained::Measured,
            reason: "bounds the misfit for three laws of closing, four numbers of segments, friction 10 % less and more, and a \
                     hundred times the trace of gas",
            misfit: Some("as above; none of these brings all of it within the bounds"),
            checks: left_open,
        },
        Case {
            folder: FOLDER,
            name: "The same rig on a grid of characteristics",
            source: "own grid of 64 reaches with the full history of the wall's shear (validation/regenerate/closing_grid.py)",
            obtained: Obtained::Library("numpy"),
            reason: "the grid steps by 0.4 ms and the wall is lumped at six joints here; peaks that last less than a few steps \
                     are not compared",
            misfit: None,
            checks: on_a_grid,
        },
    ]
}

/// What is read off a trace, alike off the measured and the computed one. Pressures in Pa, durations in s.
#[derive(Clone, Copy, Debug)]
struct Features {
    /// Mean from 12 to 52 ms.
    plateau: f64,
    cavities: [f64; 2],
    /// Second and third pulse.
    pulses: [f64; 2],
    maxima: [f64; 2],
    /// Mean of the second pulse.
    mean: f64,
}

/// Durations in which the pressure stays below `level` for 10 ms, once it has been above: from, to. Where a front was drawn
/// (or rings) so that it crosses the level several times within 3 ms, the mean of these crossings counts.
fn cavities_below(trace: &[(f64, f64)], level: f64) -> Vec<(f64, f64)> {
    const SHORTEST: f64 = 10e-3;
    const FRONT: f64 = 3e-3;
    let crossing = |pair: &[(f64, f64)]| {
        let ((t_0, p_0), (t_1, p_1)) = (pair[0], pair[1]);
        let crosses = (p_0 < level) != (p_1 < level);
        crosses.then(|| (t_0 + (t_1 - t_0) * (level - p_0) / (p_1 - p_0), p_1 < level))
    };
    let mut crossings: Vec<(f64, bool)> = trace.windows(2).filter_map(crossing).collect();
    crossings.extend(trace.last().map(|last| (last.0, false)));
    let mean = |from: f64, to: f64| {
        let near: Vec<f64> = crossings.iter().map(|c| c.0).filter(|&t| t >= from && t <= to).collect();
        near.iter().sum::<f64>() / near.len() as f64
    };
    let stretches = crossings.windows(2).filter(|pair| pair[0].1 && pair[1].0 - pair[0].0 >= SHORTEST);
    stretches.map(|pair| (mean(pair[0].0 - FRONT, pair[0].0), mean(pair[1].0, pair[1].0 + FRONT))).collect()
}

fn mean_between(trace: &[(f64, f64)], from: f64, to: f64) -> f64 {
    let inside = trace.windows(2).filter(|pair| pair[0].0 >= from && pair[1].0 <= to);
    let (area, width) = inside.fold((0.0, 0.0), |(area, width), pair| {
        let step = pair[1].0 - pair[0].0;
        (area + 0.5 * step * (pair[0].1 + pair[1].1), width + step)
    });
    area / width
}

fn features(trace: &[(f64, f64)], level: f64) -> Result<Features, String> {
    let [first, second, third, ..] = cavities_below(trace, level)[..] else {
        return Err("the trace has no three cavities".into());
    };
    let highest = |from: f64, to: f64| {
        let inside = trace.iter().filter(|(time, _)| (from..=to).contains(time));
        inside.map(|(_, pressure)| *pressure).fold(f64::NEG_INFINITY, f64::max)
    };
    Ok(Features {
        plateau: mean_between(trace, 12e-3, 52e-3),
        cavities: [first.1 - first.0, second.1 - second.0],
        pulses: [second.0 - first.1, third.0 - second.1],
        maxima: [highest(first.1, second.0), highest(second.1, third.0)],
        mean: mean_between(trace, first.1, second.0),
    })
}

fn measured_trace() -> Result<Trace, String> {
    let table = table!("bergant_simpson_1999_closing_valve/valve_pressure.csv")?;
    let point = |row: Row<'_>| Ok((row.number("t_s")?, 1e3 * row.number("p_abs_kPa")?));
    table.rows().map(point).collect()
}

fn measured() -> Result<Features, String> {
    features(&measured_trace()?, LEVEL)
}

fn computed(choice: Choice) -> Result<Features, String> {
    features(&shut(choice, END)?, LEVEL)
}

fn pulse_lengths() -> Result<Vec<Check>, String> {
    let (ours, measured) = (computed(Choice::PLAIN)?, measured()?);
    let allowed = Tolerance::Relative(0.03);
    Ok(vec![
        check("length of the second pulse, s", ours.pulses[0], measured.pulses[0], allowed),
        check("length of the third pulse, s", ours.pulses[1], measured.pulses[1], allowed),
    ])
}

fn cavities() -> Result<Vec<Check>, String> {
    let (ours, measured) = (computed(Choice::PLAIN)?, measured()?);
    let allowed = Tolerance::Relative;
    let kpa = |pressure: f64| 1e-3 * pressure;
    Ok(vec![
        check(
            "plateau of the first pulse, mean 12 to 52 ms, kPa",
            kpa(ours.plateau),
            kpa(measured.plateau),
            allowed(0.05),
        ),
        check("length of the first cavity, s", ours.cavities[0], measured.cavities[0], allowed(0.08)),
        check("mean of the second pulse, kPa", kpa(ours.mean), kpa(measured.mean), allowed(0.06)),
        check("highest of the second pulse, kPa", kpa(ours.maxima[0]), kpa(measured.maxima[0]), allowed(0.4)),
        check("length of the second cavity, s", ours.cavities[1], measured.cavities[1], allowed(0.15)),
        check("highest of the third pulse, kPa", kpa(ours.maxima[1]), kpa(measured.maxima[1]), allowed(0.25)),
    ])
}

fn steady_friction() -> Result<Vec<Check>, String> {
    let (ours, measured) = (computed(Choice { memory: false, ..Choice::PLAIN })?, measured()?);
    let allowed = Tolerance::Relative;
    Ok(vec![
        check("plateau of the first pulse, kPa", 1e-3 * ours.plateau, 1e-3 * measured.plateau, allowed(0.03)),
        check("length of the first cavity, s", ours.cavities[0], measured.cavities[0], allowed(0.04)),
        check("length of the second cavity, s", ours.cavities[1], measured.cavities[1], allowed(0.04)),
    ])
}

/// The plain choice with one thing changed each, and its name.
fn others() -> Vec<(String, Choice)> {
    let plain = Choice::PLAIN;
    let mut all: Vec<(String, Choice)> = Vec::new();
    all.extend([0.5, 1.5, 2.0].map(|power| (format!("opening (1 - t/T)^{power}"), Choice { power, ..plain })));
    all.extend([2, 4, 12, 24].map(|segments| (format!("{segments} segments"), Choice { segments, ..plain })));
    all.extend([0.9, 1.1].map(|friction| (format!("{friction} of the friction"), Choice { friction, ..plain })));
    all.push(("100 times the trace of gas".into(), Choice { gas: 100.0, ..plain }));
    all
}

fn left_open() -> Result<Vec<Check>, String> {
    let measured = measured()?;
    let worst = |quantity, allowed| Worst::new(quantity, Tolerance::Relative(allowed));
    let mut plateau = worst("plateau of the first pulse, kPa", 0.06);
    let mut first = worst("length of the first cavity, s", 0.1);
    let mut pulse = worst("length of the second pulse, s", 0.03);
    let mut highest = worst("highest of the second pulse, kPa", 0.45);
    let mut second = worst("length of the second cavity, s", 0.18);
    for (name, choice) in others() {
        let ours = computed(choice).map_err(|e| format!("{name}: {e}"))?;
        plateau.note(1e-3 * ours.plateau, 1e-3 * measured.plateau, || name.clone());
        first.note(ours.cavities[0], measured.cavities[0], || name.clone());
        pulse.note(ours.pulses[0], measured.pulses[0], || name.clone());
        highest.note(1e-3 * ours.maxima[0], 1e-3 * measured.maxima[0], || name.clone());
        second.note(ours.cavities[1], measured.cavities[1], || name.clone());
    }
    [plateau, first, pulse, highest, second].into_iter().map(Worst::check).collect()
}

/// Against the rows of the grid that have no vapour along the line either.
fn on_a_grid() -> Result<Vec<Check>, String> {
    let mut plateau = Worst::new("plateau of the first pulse, kPa", Tolerance::Relative(0.005));
    let mut durations = Worst::new("lengths of cavities and pulses, s", Tolerance::Relative(0.02));
    for row in table!("bergant_simpson_1999_closing_valve/grid.csv")?.rows() {
        if row.number("vapour_along_the_line")? != 0.0 {
            continue;
        }
        let memory = row.number("memory_of_the_wall")? != 0.0;
        let words = if memory { "with" } else { "without" };
        let ours = computed(Choice { memory, ..Choice::PLAIN })?;
        plateau.note(1e-3 * ours.plateau, row.number("plateau_kpa")?, || format!("{words} memory"));
        let listed = row.numbers(["first_cavity_s", "second_pulse_s", "second_cavity_s", "third_pulse_s"])?;
        let found = [ours.cavities[0], ours.pulses[0], ours.cavities[1], ours.pulses[1]];
        let names = ["first cavity", "second pulse", "second cavity", "third pulse"];
        for ((ours, reference), name) in found.into_iter().zip(listed).zip(names) {
            durations.note(ours, reference, || format!("{name}, {words} memory"));
        }
    }
    Ok(vec![plateau.check()?, durations.check()?])
}

/// Measured and computed trace for a figure.
pub(super) fn overlay() -> Result<Overlay, String> {
    let (measured, computed) = (measured_trace()?, shut(Choice::PLAIN, END)?);
    let (theirs, ours) = (features(&measured, LEVEL)?, features(&computed, LEVEL)?);
    let off = |ours: f64, theirs: f64| format!("{:+.0} %", 100.0 * (ours / theirs - 1.0));
    Ok(Overlay {
        folder: FOLDER,
        file: "valve_pressure",
        title: "Pressure at a shut valve: measured, and computed by this program",
        source: SOURCE,
        remarks: vec![
            "Copper pipe of 37.23 m x 22.1 mm, water at 1.40 m/s, valve shut in 9 ms (law not stated; computed: area falling \
             linearly). Nothing is fitted. The time of the measured trace is as drawn (its zero may be off by 4 ms), and so is \
             the gauge's offset: -15 to -30 kPa in the cavities."
                .into(),
            format!(
                "Length of the cavities {} and {}: half and all of it by the memory of the wall. Highest of the second pulse {}: vapour opens at the \
                 valve only, not along the line.",
                off(ours.cavities[0], theirs.cavities[0]),
                off(ours.cavities[1], theirs.cavities[1]),
                off(ours.maxima[0], theirs.maxima[0])
            ),
        ],
        measured,
        computed,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Read by eye off the drawing, at the middle of the fronts.
    #[test]
    fn the_reader_finds_what_the_eye_found() {
        let found = features(&measured_trace().expect("a table"), 1e6).expect("three cavities");
        let near = |ours: f64, eye: f64, doubt: f64| assert!((ours - eye).abs() <= doubt, "{ours} {eye}: {found:?}");
        near(found.plateau, 2.083e6, 15e3);
        near(found.cavities[0], 0.3255, 0.002);
        near(found.pulses[0], 0.0560, 0.001);
        near(found.maxima[0], 2.035e6, 15e3);
        near(found.cavities[1], 0.2860, 0.002);
        near(found.pulses[1], 0.0552, 0.001);
    }

    #[test]
    fn a_front_drawn_to_and_fro_counts_once() {
        let trace =
            [(0.0, 0.0), (0.1, 2.0), (0.2, 2.0), (0.201, 0.0), (0.202, 2.0), (0.203, 0.0), (0.3, 0.0), (0.302, 2.0)];
        let [(from, to)] = cavities_below(&trace, 1.0)[..] else { panic!("one cavity") };
        assert!((from - 0.2015).abs() < 1e-9 && (to - 0.3015).abs() < 1e-9, "{from} {to}");
    }
}
