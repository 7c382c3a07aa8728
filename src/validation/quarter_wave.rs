//! A spring-loaded valve at the end of a lossless pipe: from which length on the pipe's quarter wave makes it oscillate.
//!
//! Once by the characteristic equation of [`crate::stability`] with the pipe as it is, once in time with the wave line and the
//! solver of every run, where the valve's port has a small capacity (its limit is the pipe that ends at the valve).

use super::case::{Case, Check, Obtained, Tolerance};
use super::piped_motion::{Motion, motion};
use super::piped_valve::PipedValve;
use super::table::{Row, table};
use super::worst::Worst;
use crate::stability::characteristic::C64;
use crate::stability::roots::Band;
use std::f64::consts::TAU;

pub(super) fn cases() -> Vec<Case> {
    let case = |name, reason, checks| Case {
        folder: "quarter_wave_pipe",
        name,
        source: "closed form for a valve on a lossless pipe, own derivation; the phenomenon: C. Hős, A. R. Champneys, \
                 K. Paul, M. McNeely, Dynamic behaviour of direct spring loaded pressure relief valves III, 2016 \
                 (abstract read)",
        obtained: Obtained::Exact,
        reason,
        misfit: None,
        checks,
    };
    vec![
        case(
            "Quarter-wave chatter, by theory",
            "Newton's method to rounding; the tables have ten to twelve digits",
            theory,
        ),
        case(
            "Quarter-wave chatter, in time",
            "growth is read off a decay of some tens of periods (1e-4 of the lift, so second-order terms are far below) and \
             the port's capacity, 0.01 cm³, shifts the length by less than 1e-4",
            in_time,
        ),
    ]
}

fn place(row: &Row<'_>) -> String {
    let text = |name| row.text(name).unwrap_or("?").to_owned();
    format!("valve {}, damping {}", text("valve"), text("damping_ratio"))
}

/// Length at which the mode near `frequency` has no growth, and its frequency, Hz.
fn critical(row: &Row<'_>, near: f64, frequency: f64) -> Result<(f64, f64), String> {
    let root = |length: f64| -> Result<C64, String> {
        let matrix = PipedValve::of(row, length)?.characteristic();
        matrix.root_near(C64::new(0.0, TAU * frequency)).ok_or_else(|| "no root".to_owned())
    };
    let (mut a, mut b) = (0.99 * near, 1.01 * near);
    let (mut at_a, mut at_b) = (root(a)?, root(b)?);
    for _ in 0..30 {
        if at_a.re == at_b.re || (b - a).abs() < 1e-14 * b {
            break;
        }
        let next = b - at_b.re * (b - a) / (at_b.re - at_a.re);
        (a, at_a) = (b, at_b);
        (b, at_b) = (next, root(next)?);
    }
    Ok((b, at_b.im / TAU))
}

fn theory() -> Result<Vec<Check>, String> {
    let mut length = Worst::new("critical length, m", Tolerance::Relative(1e-8));
    let mut frequency = Worst::new("frequency there, Hz", Tolerance::Relative(1e-8));
    let mut growth = Worst::new("growth beside it, 1/s", Tolerance::Relative(1e-8));
    let mut fastest = Worst::new("fastest growth up to 6.3 times that frequency, 1/s", Tolerance::Relative(1e-8));
    let valves = table!("quarter_wave_pipe/critical_length.csv")?;
    let modes = table!("quarter_wave_pipe/growth_rate.csv")?;
    for row in valves.rows() {
        let (l, f) = (row.number("critical_length_m")?, row.number("critical_frequency_hz")?);
        let ours = critical(&row, l, f)?;
        length.note(ours.0, l, || place(&row));
        frequency.note(ours.1, f, || place(&row));
        let same = |name: &str, other: &Row<'_>| Ok::<_, String>(row.text(name)? == other.text(name)?);
        for mode in modes.rows() {
            if !(same("valve", &mode)? && same("damping_ratio", &mode)?) {
                continue;
            }
            let share = mode.number("length_share")?;
            let matrix = PipedValve::of(&row, share * l)?.characteristic();
            let followed = mode.number("followed_growth_per_s")?;
            let guess = C64::new(0.97 * followed, 1.01 * TAU * mode.number("followed_frequency_hz")?);
            let found = matrix.root_near(guess).ok_or("no root")?;
            growth.note(found.re, followed, || format!("{}, {share} of the length", place(&row)));
            let band = Band { lowest: 0.05 * f, highest: 6.3 * f };
            let leading = matrix.modes(band, &[]).first().copied().ok_or("no mode")?;
            fastest.note(leading.re, mode.number("fastest_growth_per_s")?, || {
                format!("{}, {share} of the length", place(&row))
            });
        }
    }
    [length, frequency, growth, fastest].into_iter().map(Worst::check).collect()
}

/// Growth and frequency on pipes a little shorter and longer than critical.
fn in_time() -> Result<Vec<Check>, String> {
    let mut sides =
        Worst::new("growth changes its sign within 1 % of the critical length (1: yes)", Tolerance::Absolute(0.0));
    let mut growth = Worst::new("growth at 0.95 and 1.05 of it, 1/s", Tolerance::Relative(0.02));
    let mut frequency = Worst::new("frequency there, Hz", Tolerance::Relative(0.005));
    let valves = table!("quarter_wave_pipe/critical_length.csv")?;
    let modes = table!("quarter_wave_pipe/growth_rate.csv")?;
    // Strongly damped valves bring a second mode of the pipe close to the first: their growth is not that of one mode.
    for row in valves.rows() {
        if row.number("damping_ratio")? > 0.05 {
            continue;
        }
        let (l, f) = (row.number("critical_length_m")?, row.number("critical_frequency_hz")?);
        let at = |share: f64| -> Result<Motion, String> { motion(&PipedValve::of(&row, share * l)?, f) };
        let changes = at(0.99)?.growth < 0.0 && at(1.01)?.growth > 0.0;
        sides.note(f64::from(u8::from(changes)), 1.0, || place(&row));
        for mode in modes.rows() {
            let share = mode.number("length_share")?;
            let same = mode.text("valve")? == row.text("valve")?
                && mode.text("damping_ratio")? == row.text("damping_ratio")?;
            if same && (share == 0.95 || share == 1.05) {
                let found = at(share)?;
                let place = || format!("{}, {share} of the length", place(&row));
                growth.note(found.growth, mode.number("followed_growth_per_s")?, place);
                frequency.note(found.frequency, mode.number("followed_frequency_hz")?, place);
            }
        }
    }
    [sides, growth, frequency].into_iter().map(Worst::check).collect()
}
