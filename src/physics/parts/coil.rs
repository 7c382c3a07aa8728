//! Coil and voltage.

use super::feed::Feed;
use crate::key::{part, ways};

ways! {
    /// What feeds the coil while it is energised.
    pub enum Voltage {
        /// Direct voltage.
        Direct {
            /// direct voltage
            voltage: Voltage "U", Positive, "coil voltage (DC)", usually 1.0 to 500.0;
        }
        /// Alternating voltage u = √2·U·sin(2πft + φ), φ counted at the instant of switching on.
        Alternating {
            /// effective (rms) voltage
            voltage: Voltage "U", Positive, "coil voltage (AC, rms)", usually 4.0 to 700.0;
            /// supply frequency
            frequency: Frequency "f", Positive, "mains frequency of the coil", usually 15.0 to 450.0;
            /// phase of the voltage at switching on
            phase: Angle "φ", Any, "switch-on phase of the coil voltage";
        }
        /// Alternating voltage through a bridge of four diodes: both half waves.
        Bridge {
            /// effective (rms) voltage before the bridge rectifier
            voltage: Voltage "U", Positive, "voltage before the bridge rectifier (rms)", usually 4.0 to 700.0;
            /// frequency before the bridge rectifier
            frequency: Frequency "f", Positive, "mains frequency of the bridge rectifier", usually 15.0 to 450.0;
            /// phase of the voltage before the bridge rectifier at switching on
            phase: Angle "φ", Any, "switch-on phase of the bridge rectifier";
            /// forward voltage of one diode of the bridge, of which two carry the current
            forward_voltage: Voltage "V_d", NotNegative, "forward voltage of a bridge diode", usually 0.2 to 1.5;
        }
        /// Alternating voltage through one diode, with a second across the coil for the current to run on.
        HalfWave {
            /// effective (rms) voltage before the half-wave rectifier
            voltage: Voltage "U", Positive, "voltage before the half-wave rectifier (rms)", usually 4.0 to 700.0;
            /// frequency before the half-wave rectifier
            frequency: Frequency "f", Positive, "mains frequency of the half-wave rectifier", usually 15.0 to 450.0;
            /// phase of the voltage before the half-wave rectifier at switching on
            phase: Angle "φ", Any, "switch-on phase of the half-wave rectifier";
            /// forward voltage of either diode of the half-wave rectifier
            forward_voltage: Voltage "V_d", NotNegative, "forward voltage of a half-wave diode", usually 0.2 to 1.5;
        }
    }
}

/// A rectifier between alternating voltage and coil.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rectifier {
    /// Does it pass both half waves?
    pub both_half_waves: bool,
    /// Forward voltage of all diodes that the coil's current goes through, V.
    pub forward: f64,
}

impl Voltage {
    /// Stated voltage, V: rms where it alternates, before a rectifier.
    pub fn stated(&self) -> f64 {
        match *self {
            Voltage::Direct { voltage }
            | Voltage::Alternating { voltage, .. }
            | Voltage::Bridge { voltage, .. }
            | Voltage::HalfWave { voltage, .. } => voltage,
        }
    }

    /// Frequency of the mains, Hz; none of a direct voltage.
    pub fn mains_frequency(&self) -> Option<f64> {
        match *self {
            Voltage::Direct { .. } => None,
            Voltage::Alternating { frequency, .. }
            | Voltage::Bridge { frequency, .. }
            | Voltage::HalfWave { frequency, .. } => Some(frequency),
        }
    }

    /// The rectifier, if there is one.
    pub fn rectifier(&self) -> Option<Rectifier> {
        match *self {
            Voltage::Direct { .. } | Voltage::Alternating { .. } => None,
            Voltage::Bridge { forward_voltage, .. } => {
                Some(Rectifier { both_half_waves: true, forward: 2.0 * forward_voltage })
            }
            Voltage::HalfWave { forward_voltage, .. } => {
                Some(Rectifier { both_half_waves: false, forward: forward_voltage })
            }
        }
    }

    /// Does the coil's current alternate?
    pub fn alternates(&self) -> bool {
        self.mains_frequency().is_some() && self.rectifier().is_none()
    }
}

part! {
    /// The winding, its magnetic circuit and its supply.
    pub struct Coil {
        /// winding resistance at 20 °C
        resistance: Resistance, Positive, "winding resistance at 20 °C", usually 1.0 to 5e4;
        /// number of turns
        turns: Number "N", Positive, "turns of the winding", usually 50.0 to 1e5;
        /// resistance of the switch-off path in series with the winding
        /// None: the path is another, see [`Feed`].
        clamp_resistance: Resistance(Option<f64>), NotNegative, "resistance of the switch-off path", usually 0.0 to 1e6, or none;
        /// eddy-current conductance of the iron, for one turn
        eddy_conductance: Conductance "G_e", NotNegative, "eddy-current conductance", usually 0.0 to 1e6;
        /// reluctance of the fixed gaps in series
        fixed_reluctance: Reluctance "R_par", NotNegative, "reluctance of the fixed gaps", usually 0.0 to 1e9;
        /// reluctance of the leakage path
        leakage_reluctance: Reluctance "R_leak", Positive, "reluctance of the leakage path", usually 1e4 to 1e10;
        /// cross-section of the core
        core_area: Area, Positive, "core cross-section", usually 3e-6 to 5e-3;
        /// length of the iron path
        iron_length: Length "l_fe", Positive, "length of the iron path", usually 5e-3 to 1.0;
        /// flux density at which the iron needs `saturation_field`
        saturation_flux_density: FluxDensity "B_s", Positive, "saturation flux density of the iron", usually 0.3 to 2.5;
        /// field strength that the iron needs at `saturation_flux_density`
        saturation_field: FieldStrength "H_s", NotNegative, "field strength at saturation of the iron", usually 0.0 to 1e5;
        /// area of the pole face outside the shading ring
        open_face_area: Area "A_1", Positive, "pole face area outside the shading ring", usually 1e-6 to 5e-3;
        /// area of the second pole face, inside the shading ring where there is one
        shaded_face_area: Area "A_2", Positive, "pole face area inside the shading ring", usually 1e-6 to 5e-3;
        /// gap left when the armature rests on the pole
        /// By plating, wear or dirt.
        residual_gap: Length, Positive, "residual air gap", usually 2e-6 to 2e-3;
        /// resistance of the shading ring
        /// None: no ring.
        shading_ring: Resistance(Option<f64>), Positive, "shading ring resistance", usually 1e-6 to 1.0, or none;
        /// magnetomotive force that the magnetised iron keeps up by itself, the way the current does: ampere-turns
        /// Of a hard or magnetised armature: a constant, as of a permanent magnet. None: iron that keeps nothing.
        coercive_force: Current(Option<f64>) "F_c", NotNegative, "coercive magnetomotive force of the iron", usually 1.0 to 500.0, or none;
    }
    and {
        /// Supply while energised.
        supply: Voltage;
        /// What stands between mains and winding, and where the current goes at switching off.
        feed: Feed;
        /// Temperature of the winding.
        temperature: CoilTemperature;
    }
}

ways! {
    /// How hot the winding is.
    pub enum CoilTemperature {
        /// At a stated temperature.
        Stated {
            /// winding temperature
            temperature: Temperature, Positive, "winding temperature", usually 200.0 to 500.0;
        }
        /// From its own heat at the duty, by one thermal resistance to its surroundings.
        FromHeat {
            /// temperature of the surroundings of the coil
            ambient: Temperature, Positive, "ambient temperature of the coil", usually 200.0 to 400.0;
            /// thermal resistance from the winding to its surroundings
            thermal_resistance: ThermalResistance, NotNegative, "thermal resistance of the coil", usually 0.0 to 200.0;
        }
        /// From its own heat at the duty, by winding and body as two stores of heat, see [`crate::physics::coil_heat`].
        Network {
            /// temperature of the air around the coil
            ambient: Temperature "T_a", Positive, "ambient temperature around coil and body", usually 200.0 to 400.0;
            /// temperature of the medium in the valve; of a fluid by name or a gas that of the fluid unless stated
            medium: Temperature "T_m", Positive, "temperature of the medium at the body", usually 60.0 to 600.0, or none;
            /// heat capacity of the winding: 385 J/(kg·K) of copper, with its bobbin and resin some half more
            winding_capacity: ThermalCapacity "C_w", Positive, "heat capacity of the winding", usually 1.0 to 1e4;
            /// heat capacity of frame, armature tube and valve body: 460 J/(kg·K) of steel, 380 of brass
            body_capacity: ThermalCapacity "C_b", Positive, "heat capacity of the body", usually 5.0 to 1e6;
            /// thermal resistance from the winding to the body
            winding_to_body: ThermalResistance "R_wb", Positive, "thermal resistance from winding to body", usually 0.01 to 100.0;
            /// thermal resistance from the body to the air around it
            body_to_ambient: ThermalResistance "R_ba", Positive, "thermal resistance from body to ambient", usually 0.01 to 200.0;
            /// thermal resistance from the body to the medium in the valve
            body_to_medium: ThermalResistance "R_bm", Positive, "thermal resistance from body to medium", usually 0.01 to 1e4;
        }
    }
}
