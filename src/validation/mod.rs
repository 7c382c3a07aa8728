//! The validation book: published and exact cases, recomputed by the user's own binary.
//!
//! Each case builds its problem from the parts that run in every simulation - lines, restrictions, chambers, contacts,
//! magnet, solver - and compares what they answer with numbers that were not made by this program. The numbers lie as
//! tables in one folder per source under `validation/`, each with a README: what is claimed, with which inputs, how far
//! off the answer may be and why, and how the reference was obtained. The tables are built into the program.
//!
//! Cases that share a problem share a file; [`plain_pipe`], [`part_alone`] and [`orifice_pair`] are the test stands on
//! which parts are mounted.

mod armature_flight;
mod bistability;
pub mod case;
mod closed_energy;
mod closing_record;
mod closing_rig;
mod closure;
mod coil_circuit;
mod column_separation;
mod conductance;
mod contact;
mod copper_winding;
mod electromagnet_record;
pub mod emptying;
mod fluid_libraries;
mod fluid_point;
mod fluid_states;
mod gas_stop;
mod glycol_solution;
mod held_magnet;
mod impact;
mod inductance_record;
mod limit_cycle;
mod magnet;
mod nozzle;
pub mod orifice_pair;
pub mod overlay;
pub mod part_alone;
mod pipe_friction;
mod piped_motion;
mod piped_valve;
pub mod plain_pipe;
mod quarter_wave;
mod relief_installation;
mod relief_stability;
pub mod relief_valve;
mod resonance;
mod restitution;
mod rigid_column;
mod ring_record;
mod series_orifices;
pub mod servo_opening;
mod shading_ring;
mod signal;
mod sizing;
mod solver;
pub mod stiff_problems;
mod stoppage;
mod sudden_stop;
pub mod table;
mod trail;
mod wall_shear;
mod water_valve;
mod wave_speed;
pub mod worst;

use crate::parallel::*;
use case::{Case, Check};

/// All cases, in the order of the book.
pub fn book() -> Vec<Case> {
    [
        sudden_stop::cases(),
        wave_speed::cases(),
        closure::cases(),
        stoppage::cases(),
        wall_shear::cases(),
        pipe_friction::cases(),
        rigid_column::cases(),
        column_separation::cases(),
        closing_record::cases(),
        resonance::cases(),
        gas_stop::cases(),
        sizing::cases(),
        conductance::cases(),
        nozzle::cases(),
        series_orifices::cases(),
        servo_opening::cases(),
        emptying::cases(),
        glycol_solution::cases(),
        relief_stability::cases(),
        quarter_wave::cases(),
        relief_installation::cases(),
        limit_cycle::cases(),
        bistability::cases(),
        impact::cases(),
        contact::cases(),
        magnet::cases(),
        coil_circuit::cases(),
        shading_ring::cases(),
        electromagnet_record::cases(),
        inductance_record::cases(),
        ring_record::cases(),
        copper_winding::cases(),
        armature_flight::cases(),
        solver::cases(),
        closed_energy::cases(),
        signal::cases(),
        fluid_libraries::cases(),
        fluid_states::cases(),
    ]
    .concat()
}

/// A case with what came out.
#[derive(Clone)]
pub struct Outcome {
    /// The case.
    pub case: Case,
    /// Its numbers beside their references, or why there are none.
    pub checks: Result<Vec<Check>, String>,
}

impl Outcome {
    /// Is there at least one number, and are all within their tolerances?
    pub fn holds(&self) -> bool {
        self.checks.as_ref().is_ok_and(|checks| !checks.is_empty() && checks.iter().all(Check::holds))
    }
}

/// Compute cases on all cores; `finished` hears of each as it is done, in no order. The outcomes keep the cases' order.
pub fn run(cases: &[Case], finished: &(dyn Fn(&Outcome) + Sync)) -> Vec<Outcome> {
    cases
        .par_iter()
        // One at a time: the long cases stand side by side in the book.
        .with_max_len(1)
        .map(|case| {
            let outcome = Outcome { case: *case, checks: (case.checks)() };
            finished(&outcome);
            outcome
        })
        .collect()
}

/// All figures of the book.
pub fn overlays() -> Result<Vec<overlay::Overlay>, String> {
    Ok(vec![closing_record::overlay()?])
}

#[cfg(test)]
mod tests {
    use super::case::{Case, Check, Obtained, Tolerance};
    use super::{Outcome, run};
    use std::sync::atomic::{AtomicUsize, Ordering};

    fn case(name: &'static str, checks: fn() -> Result<Vec<Check>, String>) -> Case {
        let (source, reason) = ("none", "a test");
        Case { folder: "none", name, source, obtained: Obtained::Exact, reason, misfit: None, checks }
    }

    fn off_by(share: f64) -> Result<Vec<Check>, String> {
        let (ours, tolerance) = (2.0 * (1.0 + share), Tolerance::Relative(0.01));
        Ok(vec![Check { quantity: "x".into(), ours, reference: 2.0, tolerance }])
    }

    #[test]
    fn order_is_kept_and_only_what_was_compared_holds() {
        let cases = [
            case("near", || off_by(0.005)),
            case("far", || off_by(0.02)),
            case("no number", || off_by(f64::NAN)),
            case("empty", || Ok(Vec::new())),
            case("failed", || Err("why".into())),
        ];
        let heard = AtomicUsize::new(0);
        let outcomes = run(&cases, &|_| {
            heard.fetch_add(1, Ordering::Relaxed);
        });
        assert_eq!(heard.into_inner(), 5);
        assert_eq!(outcomes.iter().map(Outcome::holds).collect::<Vec<_>>(), [true, false, false, false, false]);
        assert!(outcomes.iter().zip(&cases).all(|(outcome, case)| outcome.case.name == case.name));
    }
}
