//! Faults of a size that suits a valve, each with its effect in words.

use crate::physics::parts::Function;
use crate::physics::valve::armature::GRAVITY;
use crate::physics::valve::magnet::MU_0;
use crate::scenario::Scenario;
use crate::simulate::coil_heat::{held, winding_temperature};
use crate::units::Dimension;

/// A fault to try.
pub(super) struct Sample {
    /// Its path.
    pub(super) path: &'static str,
    /// Kind of its size.
    pub(super) dimension: Dimension,
    /// A size that shows what it does on this valve, SI.
    pub(super) size: fn(&Scenario) -> f64,
    /// What it does, and how it is told from outside.
    pub(super) effect: &'static str,
}

/// All faults; common practice of the trade, no source, and what the simulation makes of each stands beside it.
pub(super) const SAMPLES: &[Sample] = &[
    Sample {
        path: "faults.cracked_ring",
        dimension: Dimension::Fraction,
        size: |_| 1.0,
        effect: "the pull falls to nothing twice in each period of the supply, and the armature leaves its pole (normally open: its \
                 seat) and strikes it again: a loud hum; the current hardly changes",
    },
    Sample {
        path: "faults.pole_dirt",
        dimension: Dimension::Length,
        size: |scenario| (0.25 * clean_way(scenario)).min(THICK_DIRT),
        effect: "the armature cannot come up to the pole: the holding force falls, and an alternating magnet hums and draws more \
                 current; cleaning cures it",
    },
    Sample {
        path: "faults.weak_armature_spring",
        dimension: Dimension::Fraction,
        size: |_| 1.0,
        effect: "normally closed: the armature lifts against more differential and drops back late, or not at all unless the coil is on \
                 top; normally open: the spring no longer opens the valve",
    },
    Sample {
        path: "faults.weak_main_spring",
        dimension: Dimension::Fraction,
        size: |_| 1.0,
        effect: "the main stage opens at less differential and closes later; mounted upside down it may stay open",
    },
    Sample {
        path: "faults.stuck_armature",
        dimension: Dimension::Force,
        size: |scenario| greatest_pull(scenario),
        effect: "the coil gets warm, hums or clicks, and nothing moves; on alternating current it draws its inrush current for as \
                 long as it is on, and may burn",
    },
    Sample {
        path: "faults.clogged_bleed",
        dimension: Dimension::Fraction,
        size: |_| 0.8,
        effect: "the valve opens faster and closes late, or not within the time it has to shut",
    },
    Sample {
        path: "faults.worn_bleed",
        dimension: Dimension::Fraction,
        size: |_| 1.0,
        effect: "the valve closes faster and harder, and needs more differential to open",
    },
    Sample {
        path: "faults.torn_diaphragm",
        dimension: Dimension::Length,
        size: |scenario| scenario.valve.servo().map_or(1e-3, |servo| servo.pilot.diameter),
        effect: "the chamber fills through the hole as fast as the pilot empties it: the valve opens only in part or not at all, and \
                 bangs shut where it does",
    },
    Sample {
        path: "faults.worn_ring",
        dimension: Dimension::Fraction,
        size: |_| 1.0,
        effect: "more leaks past the piston than the pilot takes away: the valve needs more differential to open, closes faster, and \
                 may not open at all",
    },
    Sample {
        path: "faults.leaking_pilot",
        dimension: Dimension::Length,
        size: |scenario| 0.1 * scenario.valve.link().map_or(scenario.valve.armature.stroke, |link| link.free_play),
        effect: "the chamber never quite fills: the valve closes late, or not at all",
    },
    Sample {
        path: "faults.air_bound_chamber",
        dimension: Dimension::Volume,
        size: |scenario| scenario.valve.servo().map_or(1e-6, |servo| 0.5 * servo.chamber.volume),
        effect: "the air has to be let out and compressed again: the valve responds late, and its stage is springy and may flutter",
    },
    Sample {
        path: "faults.magnetised_armature",
        dimension: Dimension::Current,
        size: sticking_force,
        effect: "the armature sticks where the magnet has drawn it, or releases late: a normally closed valve does not close, a normally \
                 open one does not open",
    },
    Sample {
        path: "faults.wrong_coil",
        dimension: Dimension::Voltage,
        size: |scenario| 2.0 * right_voltage(scenario),
        effect: "a coil for twice the voltage pulls with half of its current or less: it does not pull in, or hums and drops out",
    },
    Sample {
        path: "faults.wrong_coil",
        dimension: Dimension::Voltage,
        size: |scenario| 0.5 * right_voltage(scenario),
        effect: "a coil for half the voltage takes some four times the heat, on alternating current more, and burns out",
    },
];

/// No more dirt than this stays on a pole, m. Judgement.
const THICK_DIRT: f64 = 3e-4;

/// A pull over the whole gap that is not reached, N. An alternating pull comes to twice its mean; just after switching on its flux may
/// come to twice what it swings by later, and the pull goes with the square. A direct one comes to what it then stays at.
fn greatest_pull(scenario: &Scenario) -> f64 {
    let mean = held(&scenario.valve, 0.0, winding_temperature(scenario)).mean_pull;
    let supply = &scenario.valve.coil.supply;
    // The square of a half wave comes to four times its mean.
    let crest = match (supply.alternates(), supply.rectifier()) {
        (true, _) => 8.0,
        (false, Some(_)) => 5.0,
        (false, None) => 2.0,
    };
    crest * mean
}

/// Ampere-turns by which a seated armature is held against spring and weight, and what hangs from its link, without current, and half as
/// much again.
///
/// ```text
/// F = Φ²/(2·μ_0·A)        Θ = Φ·(g/(μ_0·A) + R_par)        A both faces, g residual gap
/// ```
///
/// Source: Maxwell's stress and Ampère's law without leakage and saturation (textbooks).
fn sticking_force(scenario: &Scenario) -> f64 {
    let (coil, armature) = (&scenario.valve.coil, &scenario.valve.armature);
    let faces = coil.open_face_area + coil.shaded_face_area;
    let main = &scenario.valve.main;
    let drawn = scenario.valve.link().map_or(0.0, |_| main.preload + main.spring_rate * main.lift);
    let load = armature.preload + armature.spring_rate * armature.stroke + armature.mass * GRAVITY + drawn;
    let flux = (2.0 * MU_0 * faces * load).sqrt();
    let gap = coil.residual_gap
        + match &scenario.valve.function {
            Function::NormallyClosed => 0.0,
            Function::NormallyOpen(open) => open.pole_clearance,
        };
    1.5 * flux * (gap / (MU_0 * faces) + coil.fixed_reluctance)
}

/// What dirt on the pole can take from, m: the armature's stroke, of a normally open valve the clearance below its seat.
fn clean_way(scenario: &Scenario) -> f64 {
    match &scenario.valve.function {
        Function::NormallyClosed => scenario.valve.armature.stroke,
        Function::NormallyOpen(open) => open.pole_clearance,
    }
}

/// Voltage of the right coil, V: as rated, else as applied.
fn right_voltage(scenario: &Scenario) -> f64 {
    scenario.rated_voltage.unwrap_or(scenario.valve.coil.supply.stated())
}
