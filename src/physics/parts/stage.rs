//! What moves: the armature and the main stage, with all that they meet.

use super::soft::Cushion;
use crate::key::{part, ways};

part! {
    /// Compliant contact after Hunt and Crossley: F = k·δ^1.5·(1 + d·δ̇), never pulling.
    pub struct Contact {
        /// contact stiffness
        stiffness: ContactStiffness "k", Positive, "contact stiffness of the {}", usually 1e4 to 1e12;
        /// contact dissipation
        dissipation: Dissipation "d", NotNegative, "contact dissipation of the {}", usually 0.0 to 1e3;
    }
}

part! {
    /// The armature with its return spring.
    pub struct Armature {
        /// mass of the armature
        mass: Mass "m_a", Positive, "armature mass", usually 3e-4 to 0.5;
        /// rate of the return spring
        spring_rate: SpringRate "k_a", NotNegative, "armature spring rate", usually 0.0 to 1e5;
        /// spring preload without current
        /// On its seat, of a normally open valve at its upper stop.
        preload: Force "F_a0", NotNegative, "armature spring preload", usually 0.0 to 300.0;
        /// damping of the armature
        damping: Damping "c_a", NotNegative, "armature damping", usually 0.0 to 1e3;
        /// dry friction of the armature in its tube
        /// Break-away and sliding; none: it slides freely.
        friction: Force(Option<f64>), Positive, "armature friction", usually 1e-3 to 300.0, or none;
        /// stroke from its seat
        /// To the pole, of a normally open valve to its upper stop.
        stroke: Length "s_a", Positive, "armature stroke", usually 5e-5 to 0.02;
    }
    and {
        /// Contact with its seat.
        seat: Contact;
        /// Contact with the pole.
        pole: Contact;
    }
}

ways! {
    /// What the main stage is.
    pub enum StageKind {
        /// A diaphragm that bulges under its differential.
        Diaphragm {
            /// bulge volume of the diaphragm per differential
            /// Zero: stiff.
            bulge_compliance: BulgeCompliance "C_d", NotNegative, "diaphragm bulge per differential", usually 0.0 to 1e-8;
            /// resistance of the bulge's motion
            bulge_resistance: BulgeResistance "R_d", NotNegative, "resistance to diaphragm bulging", usually 0.0 to 1e14;
        }
        /// A piston with dry friction.
        Piston {
            /// friction of the piston
            /// Break-away and sliding; zero: none.
            friction: Force, NotNegative, "piston friction", usually 0.0 to 1e4;
            /// elastic stiffness before the piston slides
            presliding_stiffness: SpringRate, NotNegative, "piston stiffness before sliding", usually 0.0 to 1e9;
        }
    }
}

part! {
    /// The main stage and its seat.
    pub struct MainStage {
        /// effective diameter of the main stage
        effective_diameter: Length "D_d", Positive, "effective diameter of the main stage", usually 3e-3 to 0.4;
        /// main seat diameter
        seat_diameter: Length "D_s", Positive, "main seat diameter", usually 1e-3 to 0.25;
        /// full lift
        lift: Length "x_max", Positive, "full lift of the main stage", usually 1e-4 to 0.1;
        /// moving mass of the main stage
        mass: Mass "m", Positive, "moving mass of the main stage", usually 3e-4 to 10.0;
        /// closing force on the main seat: spring preload and own weight as mounted
        preload: Force "F_0", NotNegative, "preload on the main seat", usually 0.0 to 5e3;
        /// rate of the main spring
        spring_rate: SpringRate "k", NotNegative, "main spring rate", usually 0.0 to 1e6;
        /// damping of the main stage
        damping: Damping "c", NotNegative, "damping of the main stage", usually 0.0 to 1e5;
        /// discharge coefficient of the curtain between seat and stage
        curtain_coefficient: Number, UpToOne, "discharge coefficient of the main seat curtain", usually 0.1 to 1.5;
        /// discharge coefficient of seat bore and body, referred to the seat area
        bore_coefficient: Number, UpToOne, "discharge coefficient of the main seat bore", usually 0.1 to 1.5;
        /// flow-force factor
        flow_force_factor: Number "k_ff", NotNegative, "flow-force factor of the main stage", usually 0.0 to 10.0;
        /// liquid pressure recovery factor
        pressure_recovery_factor: Number "F_L", UpToOne, "liquid pressure recovery factor", usually 0.05 to 1.0;
        /// critical pressure ratio of the seat in gas service, the b of ISO 6358's ellipse (not the gas's own)
        critical_pressure_ratio: Number "b", BelowOne, "critical pressure ratio of the valve";
        /// power of the lift with which the free area grows on a shaped plug
        /// None or 1: a flat seat. The area at full lift is that of the flat seat.
        plug_exponent: Number(Option<f64>) "n", AtLeastOne, "exponent of the main plug", usually 1.0 to 5.0, or none;
    }
    and {
        /// Diaphragm or piston.
        kind: StageKind;
        /// Contact with the seat.
        seat: Contact;
        /// Contact with the upper stop.
        stop: Contact;
        /// A dashpot near the seat.
        cushion: Option<Cushion>;
    }
}
