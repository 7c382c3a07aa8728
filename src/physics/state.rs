//! The state of the installed valve, the known functions of time that drive it, and the running integrals of its ledger:
//! their places, names and scales.

use crate::trace::Quantity;
use crate::units::Dimension;

macro_rules! places {
    ($(#[$list:meta])* $count:ident, $table:ident: $( $(#[$doc:meta])* $place:ident = $index:literal, $name:literal, $dimension:ident, $scale:literal; )*) => {
        $( $(#[$doc])* pub const $place: usize = $index; )*
        /// How many there are.
        pub const $count: usize = [$($index),*].len();
        $(#[$list])*
        pub const $table: [(Quantity, f64); $count] = [ $( (Quantity {
            name: $name,
            dimension: Dimension::$dimension,
            meaning: concat!("state: ", $name),
        }, $scale), )* ];
    };
}

places! {
    /// Every state with its usual size, which times the tolerance gives its absolute tolerance.
    STATES, STATE_TABLE:
    /// Total flux of the core φ_t, Wb.
    FLUX = 0, "core_flux", Flux, 1e-5;
    /// Pilot mass flow, kg/s. Scale set by the installation.
    PILOT_FLOW = 1, "pilot_flow", MassFlow, 1.0;
    /// Bleed mass flow, kg/s. Scale set by the installation.
    BLEED_FLOW = 2, "bleed_flow", MassFlow, 1.0;
    /// Column flow of a lumped upstream line, kg/s. Scale set by the installation.
    UPSTREAM_FLOW = 3, "upstream_column_flow", MassFlow, 1.0;
    /// Column flow of a lumped downstream line, kg/s. Scale set by the installation.
    DOWNSTREAM_FLOW = 4, "downstream_column_flow", MassFlow, 1.0;
    /// Elastic deflection of the piston's dry friction before it slides, m.
    DEFLECTION = 5, "friction_deflection", Length, 1e-5;
    /// Flux of the shaded face φ_2, Wb.
    RING_FLUX = 6, "shaded_face_flux", Flux, 1e-5;
    /// Armature travel x_a from the pilot seat, m.
    TRAVEL = 7, "armature_travel", Length, 1e-4;
    /// Armature speed, m/s; the scale is that of its flight, so that its micrometre tremble on the pole costs no steps.
    TRAVEL_RATE = 8, "armature_velocity", Velocity, 10.0;
    /// Main stage lift x from the seat, m.
    LIFT = 9, "lift", Length, 1e-3;
    /// Main stage speed v, m/s.
    LIFT_RATE = 10, "stage_velocity", Velocity, 0.1;
    /// Liquid: content of the control chamber, m³. Gas: mass in it, kg. Scale set by the installation.
    CHAMBER = 11, "chamber_content", Volume, 1.0;
    /// Gas: internal energy in the control chamber, J. Liquid: not used.
    CHAMBER_ENERGY = 12, "chamber_energy", Energy, 1.0;
    /// Volume of the diaphragm's bulge w, m³.
    BULGE = 13, "bulge_volume", Volume, 1e-8;
    /// Content of the inlet port, m³. Scale set by the installation.
    INLET = 14, "inlet_content", Volume, 1.0;
    /// Content of the outlet port, m³. Scale set by the installation.
    OUTLET = 15, "outlet_content", Volume, 1.0;
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
    ($( $(#[$doc:meta])* $place:ident = $index:literal; )*) => {
        $( $(#[$doc])* pub const $place: usize = $index; )*
        /// How many running integrals there are.
        pub const INTEGRALS: usize = [$($index),*].len();
    };
}

integrals! {
    /// Mass from the upstream line into the inlet port, kg.
    INLET_MASS = 0;
    /// Mass from the outlet port into the downstream line, kg.
    OUTLET_MASS = 1;
    /// Liquid: work of the upstream line on the inlet port, J. Gas: work of the inlet port on the valve (perturbation).
    INLET_WORK = 2;
    /// Liquid: work of the outlet port on the downstream line, J. Gas: work of the valve on the outlet port (perturbation).
    OUTLET_WORK = 3;
    /// Electrical work, J.
    ELECTRIC_WORK = 4;
    /// Heat in the coil's circuit, J.
    CIRCUIT_HEAT = 5;
    /// Heat in eddy currents and ring, J.
    IRON_HEAT = 6;
    /// Liquid: throttling loss of the main stage, J. Gas: work of the streams on stage, bulge and armature, J.
    MAIN_LOSS = 7;
    /// Liquid: loss of the pilot, J. Gas: enthalpy leaving through it, J.
    PILOT_LOSS = 8;
    /// Liquid: loss of the bleed, J. Gas: enthalpy entering through it, J.
    BLEED_LOSS = 9;
    /// Loss of the bulge's motion, J.
    BULGE_LOSS = 10;
    /// Damping, dry friction and contacts of the main stage, J.
    STAGE_LOSS = 11;
    /// Damping and contacts of the armature, J.
    ARMATURE_LOSS = 12;
    /// Friction of the upstream line that is reckoned at the valve (waves) or as one column (lumped), J.
    UPSTREAM_LOSS = 13;
    /// The same for the downstream line, J.
    DOWNSTREAM_LOSS = 14;
    /// Heat from the wall into the chamber's gas, J.
    WALL_HEAT = 15;
    /// Work of the far ends on lumped lines, J.
    END_WORK = 16;
    /// Heat in the winding alone, J.
    WINDING_HEAT = 17;
}
