//! Wave speed of a liquid in a pipe whose wall gives way.

use super::case::{Case, Check, Obtained, Tolerance};
use super::table::table;
use super::worst::Worst;
use crate::physics::fluid::Liquid;
use crate::physics::wave_speed::{Wall, in_elastic_line};

const FOLDER: &str = "korteweg_1878_wave_speed";

pub(super) fn cases() -> Vec<Case> {
    vec![
        Case {
            folder: FOLDER,
            name: "Wave speed in an elastic pipe",
            source: "D. J. Korteweg, Annalen der Physik 241, 1878, 525-542, as stated in Tijsseling & Anderson 2006; \
                     factors of support after E. B. Wylie, V. L. Streeter, Fluid Transients in Systems, Prentice-Hall, \
                     1993 (from memory)",
            obtained: Obtained::Exact,
            reason: "the same closed form, to the ten digits of the table",
            misfit: None,
            checks: thin_wall,
        },
        Case {
            folder: FOLDER,
            name: "Thin-walled against thick-walled form, D/e above 10",
            source: "E. B. Wylie, V. L. Streeter, Fluid Transients in Systems, Prentice-Hall, 1993",
            obtained: Obtained::FromMemory,
            reason: "bounds the error of the thin-walled form: most in soft plastics, where the wall alone decides; in \
                     metals it is below 3 %",
            misfit: Some("the program knows the thin-walled form only, so the wave is taken as too fast"),
            checks: thick_wall,
        },
        Case {
            folder: FOLDER,
            name: "Copper pipe 22.1 mm x 1.63 mm, measured speed",
            source: "laboratory rig of A. Bergant and A. R. Simpson, Adelaide",
            obtained: Obtained::FromMemory,
            reason: "copper's modulus in handbooks spreads by 20 %, the speed by 2 %",
            misfit: None,
            checks: copper,
        },
    ]
}

fn water() -> Liquid {
    let (bulk, density): (f64, f64) = (2.19e9, 998.2);
    Liquid {
        density,
        sound_speed: (bulk / density).sqrt(),
        viscosity: 1e-3,
        vapour_pressure: 2339.0,
        critical_pressure: 22.064e6,
    }
}

fn thin_wall() -> Result<Vec<Check>, String> {
    let tolerance = Tolerance::Relative(1e-8);
    let mut held = Worst::new("wall held along its length, m/s", tolerance);
    let mut free = Worst::new("wall free to slide, m/s", tolerance);
    for row in table!("korteweg_1878_wave_speed/elastic_wall.csv")?.rows() {
        let (bore, thickness, modulus) = (row.number("bore_m")?, row.number("wall_m")?, row.number("modulus_pa")?);
        let speed = |poisson_ratio| in_elastic_line(&water(), &Wall { bore, thickness, modulus, poisson_ratio });
        let place = || format!("{} GPa, D/e {:.1}", modulus / 1e9, bore / thickness);
        held.note(speed(Some(row.number("poisson")?)), row.number("thin_throughout")?, place);
        free.note(speed(None), row.number("thin_joints")?, place);
    }
    Ok(vec![held.check()?, free.check()?])
}

fn thick_wall() -> Result<Vec<Check>, String> {
    let mut metals = Worst::new("metals, wall held, m/s", Tolerance::Relative(0.03));
    let mut plastics = Worst::new("plastics, wall held, m/s", Tolerance::Relative(0.1));
    for row in table!("korteweg_1878_wave_speed/elastic_wall.csv")?.rows() {
        let (bore, thickness, modulus) = (row.number("bore_m")?, row.number("wall_m")?, row.number("modulus_pa")?);
        if bore / thickness > 10.0 {
            let wall = Wall { bore, thickness, modulus, poisson_ratio: Some(row.number("poisson")?) };
            let group = if modulus > 1e10 { &mut metals } else { &mut plastics };
            let place = || format!("{} GPa, D/e {:.1}", modulus / 1e9, bore / thickness);
            group.note(in_elastic_line(&water(), &wall), row.number("thick_throughout")?, place);
        }
    }
    Ok(vec![metals.check()?, plastics.check()?])
}

fn copper() -> Result<Vec<Check>, String> {
    let wall = Wall { bore: 22.1e-3, thickness: 1.63e-3, modulus: 120e9, poisson_ratio: Some(0.34) };
    Ok(vec![Check {
        quantity: "wave speed, m/s".into(),
        ours: in_elastic_line(&water(), &wall),
        reference: 1319.0,
        tolerance: Tolerance::Relative(0.02),
    }])
}
