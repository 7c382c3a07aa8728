//! What a pilot-operated valve has between armature and main stage.

use super::soft::{Pin, RingLeak};
use crate::key::{declared, part};

part! {
    /// The pilot: a seat closed by the armature, then a bore.
    pub struct Pilot {
        /// bore of the pilot orifice
        diameter: Length "d_p", Positive, "pilot orifice diameter", usually 2e-4 to 0.025;
        /// sealing diameter of the pilot seat
        seat_diameter: Length "d_ps", Positive, "pilot seat diameter", usually 2e-4 to 0.03;
        /// length of the pilot bore
        length: Length "l_p", Positive, "pilot orifice length", usually 1e-4 to 1.0;
        /// discharge coefficient of pilot seat and bore
        discharge_coefficient: Number, UpToOne, "discharge coefficient of the pilot orifice", usually 0.05 to 1.0;
        /// gap through which the shut pilot seat leaks
        /// None: it is tight, but for a trace that keeps the equations defined.
        leak_gap: Length(Option<f64>), Positive, "leak gap of the pilot seat", usually 1e-7 to 1e-3, or none;
        /// bore of a restrictor behind the pilot, by which the control chamber empties slowly
        /// None: no restrictor. Its discharge coefficient is the pilot's.
        restrictor_diameter: Length(Option<f64>), Positive, "restrictor behind the pilot orifice", usually 1e-4 to 0.025, or none;
    }
}

part! {
    /// The bleed orifice from the inlet to the control chamber.
    pub struct Bleed {
        /// bore of the bleed orifice
        diameter: Length "d_b", Positive, "bleed orifice diameter", usually 1e-4 to 0.015;
        /// length of the bleed orifice
        length: Length "l_b", Positive, "bleed orifice length", usually 1e-4 to 1.0;
        /// discharge coefficient of the bleed orifice
        discharge_coefficient: Number, UpToOne, "discharge coefficient of the bleed orifice", usually 0.05 to 1.0;
    }
    and {
        /// A pin that narrows it near the seat.
        pin: Option<Pin>;
    }
}

declared! {
    /// The control chamber above the main stage.
    pub struct Chamber {
        /// volume of the control chamber with the main stage on its seat
        volume: Volume "V_c0", Positive, "control chamber volume", usually 1e-8 to 0.02;
        /// gas held in a chamber filled with liquid
        /// Always above zero: where none is stated it is a trace.
        trapped_gas: Volume "V_g0", Positive, "gas trapped in the control chamber", usually 0.0 to 0.02, or none;
        /// pressure at which `trapped_gas` is counted
        trapped_gas_pressure: AbsolutePressure, Positive, "pressure at which the trapped gas is counted", usually 1e3 to 500e5, or none;
        /// polytropic exponent of the trapped gas
        polytropic_exponent: Number, Polytropic, "polytropic exponent of the trapped gas", or none;
        /// heat conductance from the chamber's gas to its wall
        /// In gas service: 0 adiabatic, large isothermal.
        wall_conductance: ThermalConductance "hA", NotNegative, "heat conductance to the control chamber wall", usually 0.0 to 1e3;
    }
}

part! {
    /// The link by which the armature of a forced lift draws the main stage after itself once its free play is used up. It pulls and
    /// never pushes; its damping goes with its force, so that a slack link does nothing.
    pub struct Link {
        /// stiffness of the link
        stiffness: SpringRate "k_l", Positive, "stiffness of the link to the main stage", usually 1.0 to 1e9;
        /// dissipation of the stretched link: relative damping per speed
        dissipation: Dissipation "d_l", NotNegative, "dissipation of the link to the main stage", usually 0.0 to 1e3;
        /// free play of the link: the gap of the pilot seat at which the armature begins to draw on the main stage
        free_play: Length "ℓ", Positive, "free play of the link to the main stage", usually 5e-5 to 0.02;
    }
}

/// What a forced lift is made of: the pilot seat is in the main stage.
#[derive(Clone, Debug, PartialEq)]
pub struct ForcedLiftParts {
    /// Pilot, bleed and chamber.
    pub servo: ServoParts,
    /// Link between armature and main stage.
    pub link: Link,
}

/// What a servo is made of.
#[derive(Clone, Debug, PartialEq)]
pub struct ServoParts {
    /// Pilot orifice.
    pub pilot: Pilot,
    /// Bleed orifice.
    pub bleed: Bleed,
    /// Control chamber.
    pub chamber: Chamber,
    /// What leaks past the piston.
    pub leak: RingLeak,
}
