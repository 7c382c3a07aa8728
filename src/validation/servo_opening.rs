//! The differential at which a servo stage lifts off its seat, by the balances of an installation at rest.

use super::case::{Case, Check, Obtained, Tolerance};
use super::orifice_pair::{Bore, Medium, falling_root, pressure_between};
use super::part_alone::mounted;
use super::table::{Row, table};
use super::water_valve::{NO_SERVO, inviscid_water_valve};
use super::worst::Worst;
use crate::parallel::*;
use crate::physics::fluid::Phase;
use crate::physics::installation::Installation;
use crate::physics::state::*;
use crate::physics::valve::servo::Servo;
use crate::portable::Portable;
use crate::scenario::Scenario;

const FOLDER: &str = "servo_opening";

pub(super) fn cases() -> Vec<Case> {
    vec![
        Case {
            folder: FOLDER,
            name: "Least differential that opens a servo stage",
            source: "statics of the stage with bleed and pilot as bores alone, own derivation",
            obtained: Obtained::Exact,
            reason: "twelve digits in the table, and the rounding of pressures at differentials of some hundred pascals",
            misfit: None,
            checks: least_differential,
        },
        Case {
            folder: FOLDER,
            name: "Widest pilot that never opens the stage",
            source: "statics of the stage with bleed and pilot as bores alone, own derivation",
            obtained: Obtained::Exact,
            reason: "sought at 100 bar with a preload of 1 mN, which counts for some 1e-7 there",
            misfit: None,
            checks: widest_useless_pilot,
        },
    ]
}

/// Net opening force on the stage just on its seat, N, at those pressures (Pa absolute), by the installation's balances.
fn opening_force(installation: &Installation, servo: &Servo, p_1: f64, p_c: f64, p_2: f64) -> f64 {
    let mut y = installation.at_rest(p_1, p_2);
    y[LIFT] = 0.0;
    [y[CHAMBER], y[CHAMBER_ENERGY]] = servo.chamber.filling.fill(p_c, servo.volume(&installation.stage, &y));
    let (mut rate, mut flux) = ([0.0; STATES], [0.0; INTEGRALS]);
    installation.evaluate(&installation.nearby(), &[0.0; FORCINGS], &y, &mut rate, &mut flux);
    rate[LIFT_RATE] * installation.stage.part.mass
}

/// Which restrictions a pilot counts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PilotArea {
    /// The bore alone, as in the closed forms.
    Bore,
    /// Bore and the curtain at full stroke of the armature.
    BoreAndCurtain,
}

fn bores(servo: &Servo, stroke: f64, pilot: PilotArea) -> [Bore; 2] {
    let pilot = match pilot {
        PilotArea::Bore => servo.pilot.bore(),
        PilotArea::BoreAndCurtain => servo.pilot.area(stroke),
    };
    [
        Bore { passage: servo.bleed.passage.clone(), inverse_square: servo.bleed.area().to_the(-2) },
        Bore { passage: servo.pilot.passage.clone(), inverse_square: pilot.to_the(-2) },
    ]
}

fn medium(scenario: &Scenario) -> Medium {
    match &scenario.fluid.phase {
        Phase::Liquid(liquid) => Medium::Liquid(liquid.density),
        Phase::Gas(gas) => Medium::Gas(gas.isentropic_exponent, gas.gas_constant * gas.temperature),
    }
}

/// Opening force on the stage with its chamber between bleed and pilot, N, at a differential (Pa); not-a-number without a servo.
fn force_at(scenario: &Scenario, pilot: PilotArea, differential: f64) -> f64 {
    let p_2 = scenario.sink.pressure;
    let p_1 = p_2 + differential;
    let mut at = scenario.clone();
    at.supply.pressure = p_1;
    let installation = mounted(&at, 293.15);
    let Some(servo) = installation.control.servo() else { return f64::NAN };
    let [bleed, pilot] = bores(servo, installation.armature.part.stroke, pilot);
    let p_c = pressure_between(&bleed, &pilot, medium(&at), p_1, p_2);
    opening_force(&installation, servo, p_1, p_c, p_2)
}

/// Differential at which the stage's forces balance on the seat, Pa.
pub fn lift_off(scenario: &Scenario, pilot: PilotArea) -> f64 {
    falling_root(10.0, 5e5, |differential| -force_at(scenario, pilot, differential))
}

/// The water valve with the areas and the preload of a row, and a pilot of that area over the bleed's.
fn valve(row: &Row<'_>, preload: f64) -> Result<Scenario, String> {
    let diameter = |area: f64| (area / std::f64::consts::FRAC_PI_4).sqrt();
    let mut scenario = inviscid_water_valve()?;
    let valve = &mut scenario.valve;
    valve.attitude = 0.0;
    valve.main.effective_diameter = diameter(row.number("effective_area_m2")?);
    valve.main.seat_diameter = diameter(row.number("seat_area_m2")?);
    valve.main.preload = preload;
    let servo = valve.servo_mut().ok_or(NO_SERVO)?;
    servo.pilot.discharge_coefficient = servo.bleed.discharge_coefficient;
    servo.pilot.diameter = servo.bleed.diameter * row.number("pilot_over_bleed")?.sqrt();
    Ok(scenario)
}

fn least_differential() -> Result<Vec<Check>, String> {
    let table = table!("servo_opening/least_opening_differential.csv")?;
    let rows: Vec<Row<'_>> = table.rows().collect();
    let found = rows.par_iter().map(|row| -> Result<(f64, f64, f64), String> {
        let preload = row.number("preload_n")?;
        Ok((preload, row.number("pilot_over_bleed")?, lift_off(&valve(row, preload)?, PilotArea::Bore)))
    });
    let found = found.collect::<Result<Vec<_>, _>>()?;
    let mut worst = Worst::new("least differential, Pa", Tolerance::Relative(1e-7));
    for (row, (preload, share, ours)) in rows.iter().zip(found) {
        worst.note(ours, row.number("differential_pa")?, || format!("{preload} N, R = {share}"));
    }
    Ok(vec![worst.check()?])
}

/// The pilot is widened until the stage lifts at a differential that dwarfs its preload.
fn widest_useless_pilot() -> Result<Vec<Check>, String> {
    let mut checks = Vec::new();
    for row in table!("servo_opening/widest_useless_pilot.csv")?.rows() {
        let at_limit = valve(&row, 1e-3)?;
        let bleed = at_limit.valve.servo().ok_or(NO_SERVO)?.bleed.diameter;
        let force = |share: f64| {
            let mut scenario = at_limit.clone();
            if let Some(servo) = scenario.valve.servo_mut() {
                servo.pilot.diameter = bleed * share.sqrt();
            }
            force_at(&scenario, PilotArea::Bore, 1e7)
        };
        let (effective, seat) = (row.number("effective_area_m2")?, row.number("seat_area_m2")?);
        checks.push(Check {
            quantity: format!("pilot over bleed, seat {:.0} % of the stage's area", 100.0 * seat / effective),
            ours: falling_root(0.1, 10.0, |share| -force(share)),
            reference: row.number("pilot_over_bleed")?,
            tolerance: Tolerance::Relative(1e-6),
        });
    }
    Ok(checks)
}
