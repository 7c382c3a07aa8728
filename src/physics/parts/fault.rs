//! What can be wrong with a valve.

use crate::key::part;

part! {
    /// What is wrong with the valve: each fault changes the sound valve that the other tables state.
    #[derive(Default)]
    pub struct Faults {
        /// share of the shading ring's cross-section that is cracked, 100 % a broken ring
        cracked_ring: Fraction(Option<f64>), UpToOne, "cracked share of the shading ring", or none;
        /// thickness of dirt, rust or a burr on the pole face
        pole_dirt: Length(Option<f64>), Positive, "dirt on the pole face", usually 1e-6 to 5e-3, or none;
        /// share of the armature spring's force that is lost, 100 % a broken spring
        weak_armature_spring: Fraction(Option<f64>), UpToOne, "lost share of the armature spring", or none;
        /// share of the main spring's force that is lost, 100 % a broken spring
        weak_main_spring: Fraction(Option<f64>), UpToOne, "lost share of the main spring", or none;
        /// force by which dirt, limescale or a dented tube holds the armature
        stuck_armature: Force(Option<f64>), Positive, "force that holds a stuck armature", usually 1e-2 to 300.0, or none;
        /// share of the bleed orifice's cross-section that dirt has closed
        clogged_bleed: Fraction(Option<f64>), Inside, "clogged share of the bleed orifice", or none;
        /// growth of the bleed orifice's cross-section by wear
        worn_bleed: Fraction(Option<f64>), Positive, "growth of the bleed orifice by wear", usually 1e-2 to 10.0, or none;
        /// diameter of a hole torn into the diaphragm
        torn_diaphragm: Length(Option<f64>), Positive, "hole in the diaphragm", usually 1e-5 to 0.02, or none;
        /// growth of the gap past the piston, or of what its ring lets pass, by wear
        worn_ring: Fraction(Option<f64>), Positive, "growth of the gap past the piston by wear", usually 1e-2 to 10.0, or none;
        /// gap by which dirt or wear keeps the pilot seat open
        leaking_pilot: Length(Option<f64>), Positive, "gap left at the shut pilot seat", usually 1e-6 to 1e-3, or none;
        /// volume of air, at the supply's pressure, that is caught in the control chamber
        air_bound_chamber: Volume(Option<f64>), Positive, "air caught in the control chamber", usually 1e-10 to 0.02, or none;
        /// magnetomotive force that the magnetised armature keeps up without current
        magnetised_armature: Current(Option<f64>), Positive, "ampere-turns of the magnetised armature", usually 1.0 to 500.0, or none;
        /// voltage of the coil that has been fitted in place of the right one
        wrong_coil: Voltage(Option<f64>), Positive, "voltage of the wrong coil", usually 1.0 to 700.0, or none;
    }
}
