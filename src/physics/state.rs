//! The state of the installed valve, the known functions of time that drive it, and the running integrals of its ledger:
//! their places, names and scales.

use crate::trace::Quantity;
use crate::units::Dimension;

macro_rules! places {
    (
        leaves { $( $(#[$leaf_doc:meta])* $leaf:ident, $leaf_name:literal, $leaf_dimension:ident, $leaf_scale:literal; )* }
        core { $( $(#[$doc:meta])* $place:ident, $name:literal, $dimension:ident, $scale:literal; )* }
    ) => {
        #[allow(non_camel_case_types, clippy::upper_case_acronyms)]
        enum Order { $($leaf,)* $($place),* }
        $( $(#[$leaf_doc])* pub const $leaf: usize = Order::$leaf as usize; )*
        $( $(#[$doc])* pub const $place: usize = Order::$place as usize; )*
        /// So many states come first as leaves: none enters the rate of another of them, and each damps itself.
        pub const LEAF_STATES: usize = [$($leaf_name),*].len();
        /// How many states there are.
        pub const STATES: usize = LEAF_STATES + [$($name),*].len();
        /// Every state with its usual size, which times the tolerance gives its absolute tolerance.
        pub const STATE_TABLE: [(Quantity, f64); STATES] = [
            $( state($leaf_name, Dimension::$leaf_dimension, concat!("state: ", $leaf_name), $leaf_scale), )*
            $( state($name, Dimension::$dimension, concat!("state: ", $name), $scale), )*
        ];
    };
}

const fn state(name: &'static str, dimension: Dimension, meaning: &'static str, scale: f64) -> (Quantity, f64) {
    (Quantity { name, dimension, meaning }, scale)
}

places! {
    leaves {
        /// Total flux of the core φ_t, Wb.
        FLUX, "core_flux", Flux, 1e-5;
        /// Pilot mass flow, kg/s. Scale set by the installation.
        PILOT_FLOW, "pilot_flow", MassFlow, 1.0;
        /// Bleed mass flow, kg/s. Scale set by the installation.
        BLEED_FLOW, "bleed_flow", MassFlow, 1.0;
        /// Column flow of a lumped upstream line, kg/s. Scale set by the installation.
        UPSTREAM_FLOW, "upstream_column_flow", MassFlow, 1.0;
        /// Column flow of a lumped downstream line, kg/s. Scale set by the installation.
        DOWNSTREAM_FLOW, "downstream_column_flow", MassFlow, 1.0;
        /// Leak flow past the piston from the inlet into the chamber, kg/s. Scale set by the installation.
        RING_LEAK_FLOW, "ring_leak_flow", MassFlow, 1.0;
        /// Elastic deflection of the dry friction of the piston, or of an armature that is the stage, before it slides, m.
        DEFLECTION, "friction_deflection", Length, 1e-5;
        /// The same of the armature's, m.
        ARMATURE_DEFLECTION, "armature_friction_deflection", Length, 1e-5;
    }
    core {
        /// Flux of the shaded face φ_2, Wb.
        RING_FLUX, "shaded_face_flux", Flux, 1e-5;
        /// Armature travel x_a from the pilot seat, m.
        TRAVEL, "armature_travel", Length, 1e-4;
        /// Armature speed, m/s; the scale is that of its flight, so that its micrometre tremble on the pole costs no steps.
        TRAVEL_RATE, "armature_velocity", Velocity, 10.0;
        /// Main stage lift x from the seat, m.
        LIFT, "lift", Length, 1e-3;
        /// Main stage speed v, m/s.
        LIFT_RATE, "stage_velocity", Velocity, 0.1;
        /// Liquid: content of the control chamber, m³. Gas: mass in it, kg. Scale set by the installation.
        CHAMBER, "chamber_content", Volume, 1.0;
        /// Gas: internal energy in the control chamber, J. Liquid: not used.
        CHAMBER_ENERGY, "chamber_energy", Energy, 1.0;
        /// Volume of the diaphragm's bulge w, m³.
        BULGE, "bulge_volume", Volume, 1e-8;
        /// Content of the inlet port, m³. Scale set by the installation.
        INLET, "inlet_content", Volume, 1.0;
        /// Content of the outlet port, m³. Scale set by the installation.
        OUTLET, "outlet_content", Volume, 1.0;
    }
}

/// Known functions of time: coil voltage; what arrives from upstream and from downstream (a wave's characteristic
/// pressure, or the end pressure of a lumped line), Pa above the line's datum.
pub const FORCINGS: usize = 3;
/// Coil voltage, V.
pub const VOLTAGE: usize = 0;
/// From upstream, Pa above the datum.
pub const FROM_UPSTREAM: usize = 1;
/// From downstream, Pa above the datum.
pub const FROM_DOWNSTREAM: usize = 2;

macro_rules! integrals {
    ($( $(#[$doc:meta])* $place:ident; )*) => {
        #[allow(non_camel_case_types, clippy::upper_case_acronyms)]
        enum IntegralOrder { $($place),* }
        $( $(#[$doc])* pub const $place: usize = IntegralOrder::$place as usize; )*
        /// How many running integrals there are.
        pub const INTEGRALS: usize = [$(stringify!($place)),*].len();
    };
}

integrals! {
    /// Mass from the upstream line into the inlet port, kg.
    INLET_MASS;
    /// Mass from the outlet port into the downstream line, kg.
    OUTLET_MASS;
    /// Liquid: work of the upstream line on the inlet port, J. Gas: work of the inlet port on the valve (perturbation).
    INLET_WORK;
    /// Liquid: work of the outlet port on the downstream line, J. Gas: work of the valve on the outlet port (perturbation).
    OUTLET_WORK;
    /// Electrical work, J.
    ELECTRIC_WORK;
    /// Heat in the coil's circuit, J.
    CIRCUIT_HEAT;
    /// Heat in eddy currents and ring, J.
    IRON_HEAT;
    /// Liquid: throttling loss of the main stage, J. Gas: work of the streams on stage, bulge and armature, J.
    MAIN_LOSS;
    /// Liquid: loss of the pilot, J. Gas: enthalpy leaving through it, J.
    PILOT_LOSS;
    /// Liquid: loss of the bleed, J. Gas: enthalpy entering through it, J.
    BLEED_LOSS;
    /// Liquid: loss of the leak past the piston, J. Gas: enthalpy entering by it, J.
    RING_LEAK_LOSS;
    /// Loss of the bulge's motion, J.
    BULGE_LOSS;
    /// Damping, dry friction and contacts of the main stage, J.
    STAGE_LOSS;
    /// Damping and contacts of the armature, J.
    ARMATURE_LOSS;
    /// Friction of the upstream line that is reckoned at the valve (waves) or as one column (lumped), J.
    UPSTREAM_LOSS;
    /// The same for the downstream line, J.
    DOWNSTREAM_LOSS;
    /// Heat from the wall into the chamber's gas, J.
    WALL_HEAT;
    /// Work of the far ends on lumped lines, J.
    END_WORK;
    /// Heat in the winding alone, J.
    WINDING_HEAT;
    /// Mass through a pilot that vents to a place of its own, kg.
    VENT_MASS;
    /// Liquid: volume that has gone there, less what came back under the armature's tip, m³.
    VENT_VOLUME;
}
