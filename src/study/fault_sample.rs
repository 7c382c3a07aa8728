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
        effect: "the pull falls to nothing twice in each period of the supply, and the armature drops off the pole and strikes it: \
                 a loud hum; the current hardly changes",
    },
    Sample {
        path: "faults.pole_dirt",
        dimension: Dimension::Length,
        size: |scenario| (0.25 * clean_way(scenario)).min(THICK_DIRT),
        effect: "the armature cannot seat on the pole: the pull that holds it is less, an alternating magnet hums and draws more \
                 current; cleaning cures it",
    },
    Sample {
        path: "faults.weak_armature_spring",
        dimension: Dimension::Fraction,
        size: |_| 1.0,
        effect: "the armature lifts against more differential and falls back later, by its weight alone where the coil is on top; \
                 mounted otherwise it may not fall at all. Normally open, it opens again against less differential, or not",
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
        effect: "the valve opens faster and closes late, or not within the off-time",
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
        effect: "the chamber never fills quite: the valve closes late, or stays open when it should shut",
    },
    Sample {
        path: "faults.air_bound_chamber",
        dimension: Dimension::Volume,
        size: |scenario| scenario.valve.servo().map_or(1e-6, |servo| 0.5 * servo.chamber.volume),
        effect: "the air has to be let out and pressed together again: the valve answers late, and its stage is soft and may flutter",
    },
    Sample {
        path: "faults.magnetised_armature",
        dimension: Dimension::Current,
        size: sticking_force,
        effect: "without current the armature stays where the magnet has drawn it, or leaves late: the valve does not close, or, \
                 normally open, not open",
    },
    Sample {
        path: "faults.wrong_coil",
        dimension: Dimension::Voltage,
        size: |scenario| 2.0 * right_voltage(scenario),
        effect: "a coil for twice the voltage pulls with half of its current or less: it does not draw the armature in, or hums and drops it",
    },
    Sample {
        path: "faults.wrong_coil",
        dimension: Dimension::Voltage,
        size: |scenario| 0.5 * right_voltage(scenario),
        effect: "a coil for half the voltage draws some four times its heat, on alternating current more, and burns out",
    },
];

/// No more dirt than this stays on a pole, m. Judgement.
const THICK_DIRT: f64 = 3e-4;

/// A pull over the whole gap that is not reached, N. An alternating pull comes to twice its mean; just after switching on its flux may
/// come to twice what it swings by later, and the pull goes with the square. A direct one comes to what it then stays at.
fn greatest_pull(scenario: &Scenario) -> f64 {
    let mean = held(&scenario.valve, 0.0, winding_temperature(scenario)).mean_pull;
    (if scenario.valve.coil.supply.alternates() { 8.0 } else { 2.0 }) * mean
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
