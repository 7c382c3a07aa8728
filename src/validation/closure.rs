//! A valve at the end of a frictionless line whose opening closes linearly.

use super::case::{Case, Check, Obtained, Tolerance};
use super::plain_pipe::{ClosingOpening, run};
use super::sudden_stop::ten_metres;
use super::table::{Table, table};
use super::worst::Worst;
use crate::parallel::*;

const FOLDER: &str = "allievi_1925_closure";
const SOURCE: &str = "L. Allievi, Theory of Water Hammer, 1902, English 1925; chain form as in J. Parmakian, Waterhammer \
                      Analysis, Prentice-Hall, 1955 (from memory; a grid of characteristics agreed with it to 7e-15)";
/// Instants per phase: a wave is a chain of cubics, whose error falls with the fourth power of this.
const FINE: usize = 2000;

pub(super) fn cases() -> Vec<Case> {
    vec![
        Case {
            folder: FOLDER,
            name: "Valve closing within one return of the wave",
            source: SOURCE,
            obtained: Obtained::Exact,
            reason: "closed form 1 + 2ρ; the wave is a chain of cubics",
            misfit: None,
            checks: within_one_return,
        },
        Case {
            folder: FOLDER,
            name: "Valve closing over several returns of the wave",
            source: SOURCE,
            obtained: Obtained::Exact,
            reason: "heads at whole phases have ten digits; the highest head was sought on a grid of 1/2000 phase: 2e-5, \
                     and its instant to 0.002 phases",
            misfit: None,
            checks: over_several_returns,
        },
        Case {
            folder: FOLDER,
            name: "Heads at whole phases, before and after the closing",
            source: SOURCE,
            obtained: Obtained::Exact,
            reason: "twelve digits in the table; the wave is a chain of cubics",
            misfit: None,
            checks: series,
        },
        Case {
            folder: "michaud_1878_stoppage",
            name: "Michaud's estimate is no upper bound of a closing valve",
            source: "estimate: J. Michaud, Coups de bélier dans les conduites, Bulletin de la Société Vaudoise des \
                     Ingénieurs, 1878 (from memory); heads: Allievi's interlocking equations",
            obtained: Obtained::Exact,
            reason: "the highest head was sought on a grid of 1/2000 phase",
            misfit: None,
            checks: michaud,
        },
    ]
}

/// What a closing showed, heads over H_0 and times over 2L/a.
struct Closing {
    highest: f64,
    when: f64,
    heads: Vec<f64>,
}

/// Close over `theta` phases; heads are read at `phases`, the highest one until the valve is shut.
fn close(rho: f64, theta: f64, phases: &[f64]) -> Closing {
    let pipe = ten_metres(1);
    let (p_0, phase) = (2e5, pipe.phase());
    // ρ = a·V/(2·g·H_0) = ρ_w·a·V/(2·p_0)
    let velocity = 2.0 * rho * p_0 / (pipe.density * pipe.wave_speed);
    let law = ClosingOpening { closing_time: theta * phase, full_flow: pipe.mass_flow(velocity), pressure: p_0 };
    let mut line = pipe.wave_line(p_0, law.full_flow);
    let end = phases.iter().fold(theta, |a, &b| a.max(b)) * phase;
    let mut seen = Closing { highest: 1.0, when: 0.0, heads: vec![f64::NAN; phases.len()] };
    run(&pipe, &mut line, &law, end, FINE, &[0.0, theta * phase], |_, s| {
        let head = s.pressure / p_0;
        if head > seen.highest + 1e-9 && s.time <= theta * phase * (1.0 + 1e-12) {
            (seen.highest, seen.when) = (head, s.time / phase);
        }
        for (slot, &at) in seen.heads.iter_mut().zip(phases) {
            if slot.is_nan() && s.time >= at * phase * (1.0 - 1e-13) {
                *slot = head;
            }
        }
    });
    seen
}

/// A row of the table of closings.
struct Listed {
    rho: f64,
    theta: f64,
    highest: f64,
    when: f64,
    after_one: f64,
    shut: f64,
}

/// The rows of the table of closings that are wanted, with what the program makes of each.
fn closings(wanted: impl Fn(&Listed) -> bool) -> Result<Vec<(Listed, Closing)>, String> {
    let table = table!("allievi_1925_closure/linear_area_closure.csv")?;
    let listed = |row: super::table::Row<'_>| -> Result<Listed, String> {
        Ok(Listed {
            rho: row.number("rho")?,
            theta: row.number("theta")?,
            highest: row.number("highest_head")?,
            when: row.number("phase_of_highest")?,
            after_one: row.number("head_after_one_phase")?,
            shut: row.number("head_when_shut")?,
        })
    };
    let mut rows = table.rows().map(listed).collect::<Result<Vec<_>, _>>()?;
    rows.retain(wanted);
    let computed = |row: Listed| {
        let seen = close(row.rho, row.theta, &[1.0, row.theta]);
        (row, seen)
    };
    Ok(rows.into_par_iter().map(computed).collect())
}

fn within_one_return() -> Result<Vec<Check>, String> {
    let mut highest = Worst::new("highest head over H0", Tolerance::Relative(1e-8));
    for (row, seen) in closings(|row| row.theta <= 1.0)? {
        highest.note(seen.highest, 1.0 + 2.0 * row.rho, || format!("ρ {}, θ {}", row.rho, row.theta));
    }
    Ok(vec![highest.check()?])
}

fn over_several_returns() -> Result<Vec<Check>, String> {
    let digits = Tolerance::Relative(1e-8);
    let mut one = Worst::new("head after one phase, over H0", digits);
    let mut shut = Worst::new("head when shut, over H0", digits);
    let mut highest = Worst::new("highest head over H0", Tolerance::Relative(2e-5));
    let mut when = Worst::new("instant of the highest head, phases", Tolerance::Absolute(0.002));
    for (row, seen) in closings(|row| row.theta > 1.0)? {
        let place = || format!("ρ {}, θ {}", row.rho, row.theta);
        one.note(seen.heads[0], row.after_one, place);
        shut.note(seen.heads[1], row.shut, place);
        highest.note(seen.highest, row.highest, place);
        // A flat top has no sharp time: only where the top stands out by more than the table's digits.
        if row.highest - row.shut > 1e-4 {
            when.note(seen.when, row.when, place);
        }
    }
    Ok(vec![one.check()?, shut.check()?, highest.check()?, when.check()?])
}

/// ρ, θ, phases and heads of one series.
type Series = (f64, f64, Vec<f64>, Vec<f64>);

fn listed_series(table: &Table) -> Result<Vec<Series>, String> {
    let mut all: Vec<Series> = Vec::new();
    for row in table.rows() {
        let (rho, theta) = (row.number("rho")?, row.number("theta")?);
        let (phase, head) = (row.number("phase")?, row.number("head")?);
        match all.last_mut() {
            Some(last) if (last.0, last.1) == (rho, theta) => {
                last.2.push(phase);
                last.3.push(head);
            }
            _ => all.push((rho, theta, vec![phase], vec![head])),
        }
    }
    Ok(all)
}

fn series() -> Result<Vec<Check>, String> {
    let all = listed_series(&table!("allievi_1925_closure/linear_area_phases.csv")?)?;
    let seen: Vec<Closing> = all.par_iter().map(|(rho, theta, phases, _)| close(*rho, *theta, phases)).collect();
    let mut worst = Worst::new("head over H0", Tolerance::Relative(1e-8));
    for ((rho, theta, phases, heads), seen) in all.iter().zip(&seen) {
        for ((ours, reference), phase) in seen.heads.iter().zip(heads).zip(phases) {
            worst.note(*ours, *reference, || format!("ρ {rho}, θ {theta}, phase {phase}"));
        }
    }
    Ok(vec![worst.check()?, example()?])
}

/// 300 m, 1200 m/s, 1 m/s, 60 m of head, shut in 1.5 s.
fn example() -> Result<Check, String> {
    const HEAD: f64 = 60.0;
    let table = table!("allievi_1925_closure/example.csv")?;
    let phases = table.rows().map(|row| row.number("phase")).collect::<Result<Vec<_>, _>>()?;
    let seen = close(1200.0 / (2.0 * 9.80665 * HEAD), 3.0, &phases);
    let mut worst = Worst::new("300 m shut in 1.5 s: head at the valve, m", Tolerance::Relative(1e-8));
    for ((ours, row), phase) in seen.heads.iter().zip(table.rows()).zip(&phases) {
        worst.note(HEAD * ours, row.number("head_m")?, || format!("phase {phase}"));
    }
    worst.check()
}

fn michaud() -> Result<Vec<Check>, String> {
    let table = table!("michaud_1878_stoppage/estimate.csv")?;
    let mut checks = Vec::new();
    for row in table.rows() {
        let (rho, theta) = (row.number("rho")?, row.number("theta")?);
        let estimate = 1.0 + 2.0 * rho / theta;
        let quantity = format!("highest head over Michaud's estimate, ρ {rho}, θ {theta}");
        let (ours, reference) = (close(rho, theta, &[]).highest / estimate, row.number("highest_head")? / estimate);
        checks.push(Check { quantity, ours, reference, tolerance: Tolerance::Relative(2e-5) });
    }
    Ok(checks)
}
