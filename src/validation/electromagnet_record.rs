//! Measured force of a saturating electromagnet against the project's magnet.

use super::case::{Case, Check, Obtained, Tolerance, check};
use super::held_magnet::{COLD, linear_coil};
use super::table::table;
use super::worst::Worst;
use crate::physics::parts::Coil;
use crate::physics::valve::magnet::{MU_0, Magnet};

const FOLDER: &str = "takahashi_1994_electromagnet";
const SOURCE: &str = "N. Takahashi, T. Nakata, H. Morishige, IEEE Transactions on Magnetics 30(5), 1994, 3483 (doi \
                      10.1109/20.312689)";
/// The coil's turns.
const TURNS: f64 = 381.0;
/// The point of the steel's curve that the law of saturation is given, T.
const SATURATION: f64 = 2.0;

/// The cases.
pub(super) fn cases() -> Vec<Case> {
    vec![
        Case {
            folder: FOLDER,
            name: "Law of saturation against a measured steel",
            source: SOURCE,
            obtained: Obtained::Measured,
            reason: "given one point of the curve, the ninth power has to do for the rest: 8 % where iron saturates. Below the \
                     knee it leaves out up to 600 A/m: over 10 cm of iron 60 of some 1000 ampere-turns",
            misfit: None,
            checks: steel,
        },
        Case {
            folder: FOLDER,
            name: "Measured force of a saturating electromagnet, one leakage fitted",
            source: SOURCE,
            obtained: Obtained::Measured,
            reason: "the lowest point is fitted, with the same reluctance beside the gap and at the pole's upper end; for the \
                     other three 10 %, since the record's flux densities in the gap give its lowest force to 15 % only",
            misfit: None,
            checks: one_leakage,
        },
        Case {
            folder: FOLDER,
            name: "Measured force, the leakage beside the gap only",
            source: SOURCE,
            obtained: Obtained::Measured,
            reason: "bounds the misfit",
            misfit: Some(
                "the pole's upper end meets no steel, so that flux has to cross air there too. Without that the fitted leakage \
                 saturates the pole at the lowest current already, and the force hardly grows from there",
            ),
            checks: beside_the_gap,
        },
        Case {
            folder: FOLDER,
            name: "Measured flux in the pole of that electromagnet",
            source: SOURCE,
            obtained: Obtained::Measured,
            reason: "bounds the misfit",
            misfit: Some(
                "probably since leakage leaves the pole all along its length: lumped at its two ends, less of it passes the pole \
                 than was measured",
            ),
            checks: pole_flux,
        },
        Case {
            folder: FOLDER,
            name: "Measured force, both reluctances from flux and force of the lowest point",
            source: SOURCE,
            obtained: Obtained::Measured,
            reason: "bounds the misfit",
            misfit: Some(
                "probably the same: one flux is taken for the whole length of the pole, which then saturates too early. With one \
                 reluctance fitted to the force alone this does not show, so its agreement is partly luck",
            ),
            checks: two_reluctances,
        },
    ]
}

/// What the record says at one current.
struct Point {
    ampere_turns: f64,
    force: f64,
    pole: f64,
}

fn points() -> Result<Vec<Point>, String> {
    let table = table!("takahashi_1994_electromagnet/force.csv")?;
    let mut all = Vec::new();
    for row in table.rows() {
        let [ampere_turns, force, pole] = row.numbers(["ampere_turns_A", "force_N", "pole_average_T"])?;
        all.push(Point { ampere_turns, force, pole });
    }
    Ok(all)
}

/// Field (A/m) and flux density (T) of the steel's curve.
fn curve() -> Result<Vec<(f64, f64)>, String> {
    let table = table!("takahashi_1994_electromagnet/steel.csv")?;
    table.rows().map(|row| Ok((row.number("H_A_per_m")?, row.number("B_T")?))).collect()
}

/// The magnet as far as its geometry and steel say: one gap, the pole as core. Its supply is one volt per ampere-turn.
fn coil() -> Result<Coil, String> {
    let table = table!("takahashi_1994_electromagnet/geometry.csv")?;
    let box_of = |part: &str| {
        let row = table.rows().find(|row| row.text("part").is_ok_and(|name| name == part));
        let numbers = row.ok_or_else(|| format!("no {part}"))?.numbers(["x0", "x1", "y0", "y1", "z0", "z1"])?;
        Ok::<[f64; 6], String>(numbers.map(|millimetres| 1e-3 * millimetres))
    };
    let ([x_0, x_1, y_0, y_1, z_0, z_1], window) = (box_of("pole")?, box_of("yoke window")?);
    let point = curve()?.into_iter().find(|(_, density)| *density == SATURATION);
    let (saturation_field, saturation_flux_density) = point.ok_or("the steel's curve lacks its point")?;
    Ok(Coil {
        iron_length: z_1 - z_0,
        saturation_flux_density,
        saturation_field,
        ..linear_coil((x_1 - x_0) * (y_1 - y_0), z_0 - window[4], TURNS, TURNS)
    })
}

/// Force (N) and flux density in the pole (T).
fn steady(coil: &Coil, ampere_turns: f64) -> (f64, f64) {
    let magnet = Magnet::new(coil, 0.0, COLD);
    let (flux, ring_flux) = magnet.steady_flux(ampere_turns, 0.0);
    (magnet.state(ampere_turns, flux, ring_flux, 0.0).pull, flux / coil.core_area)
}

fn steel() -> Result<Vec<Check>, String> {
    // Nothing but iron: the magnetomotive force over the length is the field.
    let coil = Coil { residual_gap: 1e-15, iron_length: 1.0, ..coil()? };
    let magnet = Magnet::new(&coil, 0.0, COLD);
    let field = |density: f64| TURNS * magnet.state(0.0, density * coil.core_area, 0.0, 0.0).current;
    let mut saturated = Worst::new("field, 1.5 to 2.1 T, A/m", Tolerance::Relative(0.08));
    let mut below = Worst::new("field below 1.5 T, A/m", Tolerance::Absolute(600.0));
    for (measured, density) in curve()? {
        let worst = if density < 1.5 { &mut below } else { &mut saturated };
        if density <= 2.1 {
            worst.note(field(density), measured, || format!("{density} T"));
        }
    }
    Ok(vec![saturated.check()?, below.check()?])
}

/// Where the fitted reluctance stands.
#[derive(Clone, Copy, PartialEq)]
enum Leakage {
    /// From the pole to the yoke beside the gap.
    BesideGap,
    /// The same at the pole's upper end as well, where it meets no steel and the flux has no other way.
    BothEnds,
}

/// The magnet with one reluctance fitted to the force of one point.
fn fitted(point: &Point, leakage: Leakage) -> Result<Coil, String> {
    let bare = coil()?;
    let gap = bare.residual_gap / (MU_0 * bare.core_area);
    let with = |reluctance: f64| match leakage {
        Leakage::BesideGap => Coil { leakage_reluctance: reluctance, ..bare.clone() },
        Leakage::BothEnds => Coil { leakage_reluctance: reluctance, fixed_reluctance: reluctance, ..bare.clone() },
    };
    // Beside the gap a higher reluctance leaves it more flux; at the upper end, which then decides, less.
    let rises = leakage == Leakage::BesideGap;
    let (mut low, mut high) = if rises { (1e-3 * gap, 10.0 * gap) } else { (0.3 * gap, 10.0 * gap) };
    for _ in 0..60 {
        let middle = 0.5 * (low + high);
        let too_much = steady(&with(middle), point.ampere_turns).0 > point.force;
        if too_much == rises { high = middle } else { low = middle }
    }
    Ok(with(low))
}

/// One row a point; the first is fitted.
fn forces(coil: &Coil, points: &[Point], allowed: f64) -> Vec<Check> {
    let row = |(i, point): (usize, &Point)| {
        let how = if i == 0 { " (fitted)" } else { "" };
        let quantity = format!("force at {} ampere-turns{how}, N", point.ampere_turns);
        let tolerance = Tolerance::Relative(if i == 0 { 1e-6 } else { allowed });
        check(quantity, steady(coil, point.ampere_turns).0, point.force, tolerance)
    };
    points.iter().enumerate().map(row).collect()
}

fn one_leakage() -> Result<Vec<Check>, String> {
    let points = points()?;
    Ok(forces(&fitted(&points[0], Leakage::BothEnds)?, &points, 0.1))
}

fn beside_the_gap() -> Result<Vec<Check>, String> {
    let points = points()?;
    Ok(forces(&fitted(&points[0], Leakage::BesideGap)?, &points, 0.9))
}

fn pole_flux() -> Result<Vec<Check>, String> {
    let points = points()?;
    let coil = fitted(&points[0], Leakage::BothEnds)?;
    let mut worst = Worst::new("flux density in the pole, T", Tolerance::Relative(0.25));
    for point in &points {
        let place = || format!("{} ampere-turns", point.ampere_turns);
        worst.note(steady(&coil, point.ampere_turns).1, point.pole, place);
    }
    Ok(vec![worst.check()?])
}

/// Leakage beside the gap and reluctance in series, so that force and flux of the lowest point are met.
fn two_reluctances() -> Result<Vec<Check>, String> {
    let points = points()?;
    let (lowest, bare) = (&points[0], coil()?);
    let gap_flux = (2.0 * MU_0 * bare.core_area * lowest.force).sqrt();
    let (drop, flux) = (gap_flux * bare.residual_gap / (MU_0 * bare.core_area), lowest.pole * bare.core_area);
    let iron = Coil { residual_gap: 1e-15, ..bare.clone() };
    let iron = TURNS * Magnet::new(&iron, 0.0, COLD).state(0.0, flux, 0.0, 0.0).current;
    let coil = Coil {
        leakage_reluctance: drop / (flux - gap_flux),
        fixed_reluctance: (lowest.ampere_turns - drop - iron) / flux,
        ..bare
    };
    Ok(forces(&coil, &points, 0.4))
}
