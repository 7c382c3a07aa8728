//! Wave speed of a liquid in a pipe whose wall gives way, and with free gas in it.

use super::case::{Case, Check, Obtained, Tolerance, check};
use super::table::{Row, table};
use super::worst::Worst;
use crate::physics::fluid::Liquid;
use crate::physics::line::wave_speed::{FreeGas, Support, Wall, in_elastic_line, in_thin_walled_line, with_free_gas};

const FOLDER: &str = "korteweg_1878_wave_speed";

const WAYS: [(&str, Support); 3] =
    [("upstream", Support::Upstream), ("throughout", Support::Throughout), ("joints", Support::Joints)];

pub(super) fn cases() -> Vec<Case> {
    vec![
        Case {
            folder: FOLDER,
            name: "Wave speed in an elastic pipe",
            source: "D. J. Korteweg, Annalen der Physik 241, 1878, 525-542, as stated in Tijsseling & Anderson 2006; \
                     factors of support and of thick walls after E. B. Wylie, V. L. Streeter, Fluid Transients in Systems, \
                     Prentice-Hall, 1993 (from memory)",
            obtained: Obtained::Exact,
            reason: "the same closed forms, to the ten digits of the table",
            misfit: None,
            checks: closed_forms,
        },
        Case {
            folder: FOLDER,
            name: "Thick walls against Lame's tube",
            source: "G. Lame, Lecons sur la theorie mathematique de l'elasticite, 1852 (any text on elasticity)",
            obtained: Obtained::Exact,
            reason: "the form is the exact tube, whatever its thickness; to the ten digits of the table",
            misfit: None,
            checks: lame_tube,
        },
        Case {
            folder: FOLDER,
            name: "What a thin-walled form would be off, D/e above 10",
            source: "the two closed forms of the first case against each other",
            obtained: Obtained::Exact,
            reason: "shows why the program takes the thick wall: the thin form is too fast by 2 % in metals and 10 % in soft \
                     plastics",
            misfit: None,
            checks: thin_against_thick,
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
        Case {
            folder: FOLDER,
            name: "Three copper pipes of a published table",
            source: "a table of laboratory pipes with speeds after Wylie & Streeter 1993, IWA Publishing, view-large 1085747",
            obtained: Obtained::Published,
            reason: "the table's modulus and support factor are not given; copper's modulus spreads the speed by 2 %",
            misfit: None,
            checks: thinner_copper,
        },
        Case {
            folder: FOLDER,
            name: "Free gas in an elastic pipe",
            source: "A. B. Wood, A Textbook of Sound, 1930 (from memory); volumes differentiated by number",
            obtained: Obtained::Exact,
            reason: "the same assumptions by another way, to the ten digits of the table",
            misfit: None,
            checks: free_gas,
        },
        Case {
            folder: FOLDER,
            name: "A ten-thousandth of air halves the wave speed",
            source: "I. S. Pearsall, The velocity of water hammer waves, 1965 (summary)",
            obtained: Obtained::Published,
            reason: "the source says 50 %, one digit and no pressure; taken at 1 atm in a rigid line",
            misfit: None,
            checks: trace_of_air,
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

/// The wall of a row.
fn wall(row: &Row<'_>, support: Support) -> Result<Wall, String> {
    let [modulus, poisson_ratio, bore, thickness] = row.numbers(["modulus_pa", "poisson", "bore_m", "wall_m"])?;
    Ok(Wall { bore, thickness, modulus, poisson_ratio, support })
}

fn place(wall: &Wall) -> String {
    format!("{} GPa, D/e {:.1}", wall.modulus / 1e9, wall.bore / wall.thickness)
}

fn closed_forms() -> Result<Vec<Check>, String> {
    let tolerance = Tolerance::Relative(1e-8);
    let mut thick = [
        Worst::new("thick wall held upstream, m/s", tolerance),
        Worst::new("thick wall held along its length, m/s", tolerance),
        Worst::new("thick wall free to slide, m/s", tolerance),
    ];
    let mut thin = [
        Worst::new("thin wall held upstream, m/s", tolerance),
        Worst::new("thin wall held along its length, m/s", tolerance),
        Worst::new("thin wall free to slide, m/s", tolerance),
    ];
    for row in table!("korteweg_1878_wave_speed/elastic_wall.csv")?.rows() {
        for ((way, support), (thick, thin)) in WAYS.iter().zip(thick.iter_mut().zip(&mut thin)) {
            let wall = wall(&row, *support)?;
            thick.note(in_elastic_line(&water(), &wall), row.number(&format!("thick_{way}"))?, || place(&wall));
            thin.note(in_thin_walled_line(&water(), &wall), row.number(&format!("thin_{way}"))?, || place(&wall));
        }
    }
    thick.into_iter().chain(thin).map(Worst::check).collect()
}

fn lame_tube() -> Result<Vec<Check>, String> {
    let mut worst = Worst::new("any support, D/e from 20 to 1, m/s", Tolerance::Relative(1e-8));
    for row in table!("korteweg_1878_wave_speed/lame_tube.csv")?.rows() {
        for (way, support) in WAYS {
            let wall = wall(&row, support)?;
            worst.note(in_elastic_line(&water(), &wall), row.number(way)?, || format!("{}, {way}", place(&wall)));
        }
    }
    Ok(vec![worst.check()?])
}

fn thin_against_thick() -> Result<Vec<Check>, String> {
    let mut metals = Worst::new("metals, thin form for thick, m/s", Tolerance::Relative(0.03));
    let mut plastics = Worst::new("plastics, thin form for thick, m/s", Tolerance::Relative(0.1));
    for row in table!("korteweg_1878_wave_speed/elastic_wall.csv")?.rows() {
        let wall = wall(&row, Support::Throughout)?;
        if wall.bore / wall.thickness > 10.0 {
            let group = if wall.modulus > 1e10 { &mut metals } else { &mut plastics };
            group.note(in_thin_walled_line(&water(), &wall), row.number("thick_throughout")?, || place(&wall));
        }
    }
    Ok(vec![metals.check()?, plastics.check()?])
}

fn copper_pipe(bore: f64, thickness: f64) -> f64 {
    let wall = Wall { bore, thickness, modulus: 120e9, poisson_ratio: 0.34, support: Support::Throughout };
    in_elastic_line(&water(), &wall)
}

fn copper() -> Result<Vec<Check>, String> {
    Ok(vec![check("wave speed, m/s", copper_pipe(22.1e-3, 1.63e-3), 1319.0, Tolerance::Relative(0.02))])
}

fn thinner_copper() -> Result<Vec<Check>, String> {
    let tolerance = Tolerance::Relative(0.02);
    Ok(vec![
        check("22.14 mm x 1.63 mm, m/s", copper_pipe(22.14e-3, 1.63e-3), 1319.0, tolerance),
        check("22.96 mm x 1.22 mm, m/s", copper_pipe(22.96e-3, 1.22e-3), 1273.0, tolerance),
        check("23.58 mm x 0.91 mm, m/s", copper_pipe(23.58e-3, 0.91e-3), 1217.0, tolerance),
    ])
}

fn free_gas() -> Result<Vec<Check>, String> {
    let mut worst = Worst::new("rigid, copper and polyethylene, m/s", Tolerance::Relative(1e-8));
    for row in table!("korteweg_1878_wave_speed/free_gas.csv")?.rows() {
        let wall = wall(&row, Support::Throughout)?;
        let [share, pressure] = row.numbers(["gas_share", "pressure_pa"])?;
        let speed = with_free_gas(&water(), in_elastic_line(&water(), &wall), &FreeGas { share, pressure });
        worst.note(speed, row.number("speed")?, || format!("{}, gas {share} at {pressure} Pa", place(&wall)));
    }
    Ok(vec![worst.check()?])
}

fn trace_of_air() -> Result<Vec<Check>, String> {
    let water = water();
    let gas = FreeGas { share: 1e-4, pressure: 101_325.0 };
    let left = with_free_gas(&water, water.sound_speed, &gas) / water.sound_speed;
    Ok(vec![check("wave speed left, share", left, 0.5, Tolerance::Absolute(0.1))])
}
