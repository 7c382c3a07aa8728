//! What makes a valve close or open softly, and what leaks past its piston.

use crate::key::part;

part! {
    /// A pin on the main stage that narrows the bleed near the seat.
    pub struct Pin {
        /// bore that the pin leaves free in the bleed
        /// As the diameter of a round orifice of the same area.
        diameter: Length, Positive, "bleed bore that the pin leaves free", usually 5e-5 to 0.015;
        /// lift above which the pin is out of the bleed
        lift: Length "x_t", Positive, "lift at which the pin leaves the bleed", usually 1e-4 to 0.1;
        /// length of lift over which the bleed narrows; a step where none is stated
        taper: Length(Option<f64>), Positive, "taper of the pin in the bleed", usually 1e-5 to 0.1, or none;
    }
}

part! {
    /// A dashpot that the main stage enters near its seat: the liquid under its rim has to leave through a small passage.
    pub struct Cushion {
        /// area with which the main stage presses on the liquid in the cushion
        area: Area "A_k", Positive, "area of the cushion", usually 1e-7 to 0.05;
        /// lift below which the cushion is shut but for its passage
        depth: Length "x_k", Positive, "depth of the cushion", usually 5e-5 to 0.05;
        /// bore by which the cushion empties
        passage_diameter: Length "d_k", Positive, "bore by which the cushion empties", usually 1e-4 to 0.03;
        /// discharge coefficient of the cushion's passage and of its rim
        discharge_coefficient: Number, UpToOne, "discharge coefficient of the cushion", usually 0.05 to 1.0;
    }
}

part! {
    /// The gap between a piston without a ring and its bore.
    pub struct Clearance {
        /// clearance between piston and bore, on the radius
        radial_clearance: Length "δ", Positive, "radial clearance of the piston", usually 1e-6 to 1e-3, or none;
        /// length of the gap along the piston
        land_length: Length "L", Positive, "land length of the piston", usually 5e-4 to 0.2, or none;
        /// distance of the piston from the middle of its bore, as a share of the clearance
        eccentricity: Fraction "e", UpToWhole, "eccentricity of the piston", or none;
    }
}

part! {
    /// The gap that a piston ring leaves, as an orifice of the same flow.
    pub struct SplitRing {
        /// bore of an orifice that leaks as the piston ring does
        ring_orifice: Length "d_r", Positive, "equivalent orifice of the piston ring", usually 1e-5 to 0.015, or none;
        /// height of the piston ring, the length of the path past it
        ring_height: Length "l_r", Positive, "height of the piston ring", usually 2e-4 to 0.05, or none;
        /// discharge coefficient of the ring's equivalent orifice
        ring_coefficient: Number, UpToOne, "discharge coefficient of the piston ring", usually 0.05 to 1.0, or none;
    }
}

/// What leaks past the piston from the inlet into the control chamber.
#[derive(Clone, Debug, PartialEq)]
pub enum RingLeak {
    /// Nothing, or a diaphragm.
    Tight,
    /// A gap all round.
    Clearance(Clearance),
    /// What a ring leaves.
    SplitRing(SplitRing),
}
