//! The parts of the valve and of its lines: what each is made of, in SI units. One struct serves the scenario file, the
//! equations and the parameter paths; there is no second description.

/// Compliant contact after Hunt and Crossley: F = k·δ^1.5·(1 + d·δ̇), never pulling.
#[derive(Clone, Debug, PartialEq)]
pub struct Contact {
    /// Contact stiffness k, N/m^1.5.
    pub stiffness: f64,
    /// Dissipation d, s/m.
    pub dissipation: f64,
}

/// What feeds the coil while it is energised.
#[derive(Clone, Debug, PartialEq)]
pub enum Voltage {
    /// Direct voltage U, V.
    Direct {
        /// Voltage, V.
        voltage: f64,
    },
    /// Alternating voltage u = √2·U·sin(2πft + φ), φ counted at the instant of switching on.
    Alternating {
        /// Effective (rms) voltage, V.
        voltage: f64,
        /// Supply frequency f, Hz.
        frequency: f64,
        /// Phase φ at switching on, rad.
        phase: f64,
    },
}

/// The winding, its magnetic circuit and its supply.
#[derive(Clone, Debug, PartialEq)]
pub struct Coil {
    /// Supply while energised.
    pub supply: Voltage,
    /// Winding resistance at 20 °C, Ω.
    pub resistance: f64,
    /// Number of turns N.
    pub turns: f64,
    /// Resistance of the switch-off path (suppressor) in series with the winding, Ω.
    pub clamp_resistance: f64,
    /// Eddy-current conductance of the iron G_e, S (one turn).
    pub eddy_conductance: f64,
    /// Reluctance of the fixed gaps in series R_par, 1/H.
    pub fixed_reluctance: f64,
    /// Reluctance of the leakage path R_leak, 1/H.
    pub leakage_reluctance: f64,
    /// Cross-section of the core, m².
    pub core_area: f64,
    /// Length of the iron path l_fe, m.
    pub iron_length: f64,
    /// Flux density B_s at which the iron needs the field `saturation_field`, T.
    pub saturation_flux_density: f64,
    /// Field strength H_s at B_s, A/m.
    pub saturation_field: f64,
    /// Area of the open (unshaded) pole face A_1, m².
    pub open_face_area: f64,
    /// Area of the second pole face A_2 (the shaded one where a ring is fitted), m².
    pub shaded_face_area: f64,
    /// Gap left when the armature rests on the pole, m (plating, wear, dirt).
    pub residual_gap: f64,
    /// Resistance of the shading ring, Ω; none: no ring.
    pub shading_ring: Option<f64>,
    /// Temperature of the winding.
    pub temperature: CoilTemperature,
}

/// How hot the winding is.
#[derive(Clone, Debug, PartialEq)]
pub enum CoilTemperature {
    /// At a stated temperature, K.
    Stated(f64),
    /// From its own heat at the duty: ambient, K, and one thermal resistance, K/W.
    FromHeat {
        /// Temperature of the surroundings, K.
        ambient: f64,
        /// Thermal resistance from the winding to the surroundings, K/W.
        thermal_resistance: f64,
    },
}

/// The armature with its return spring.
#[derive(Clone, Debug, PartialEq)]
pub struct Armature {
    /// Mass m_a, kg.
    pub mass: f64,
    /// Spring rate k_a, N/m.
    pub spring_rate: f64,
    /// Spring preload F_a0 on the pilot seat, N.
    pub preload: f64,
    /// Damping c_a, N·s/m.
    pub damping: f64,
    /// Stroke s_a from pilot seat to pole, m.
    pub stroke: f64,
    /// Contact with the pilot seat.
    pub seat: Contact,
    /// Contact with the pole.
    pub pole: Contact,
}

/// The pilot: a seat closed by the armature, then a bore.
#[derive(Clone, Debug, PartialEq)]
pub struct Pilot {
    /// Bore of the pilot orifice d_p, m.
    pub diameter: f64,
    /// Sealing diameter of the pilot seat d_ps, m.
    pub seat_diameter: f64,
    /// Length of the bore l_p, m.
    pub length: f64,
    /// Discharge coefficient of seat and bore.
    pub discharge_coefficient: f64,
}

/// The bleed orifice from the inlet to the control chamber.
#[derive(Clone, Debug, PartialEq)]
pub struct Bleed {
    /// Bore d_b, m.
    pub diameter: f64,
    /// Length l_b, m.
    pub length: f64,
    /// Discharge coefficient.
    pub discharge_coefficient: f64,
}

/// The control chamber above the main stage.
#[derive(Clone, Debug, PartialEq)]
pub struct Chamber {
    /// Volume with the main stage on its seat V_c0, m³.
    pub volume: f64,
    /// Gas held in a liquid-filled chamber, at the reference pressure V_g0, m³; always above zero.
    pub trapped_gas: f64,
    /// Pressure at which `trapped_gas` is counted, Pa absolute.
    pub trapped_gas_pressure: f64,
    /// Polytropic exponent of the trapped gas, 1 (isothermal) to γ.
    pub polytropic_exponent: f64,
    /// Wall heat conductance hA in gas service, W/K: 0 adiabatic, large isothermal.
    pub wall_conductance: f64,
}

/// What the main stage is.
#[derive(Clone, Debug, PartialEq)]
pub enum StageKind {
    /// A diaphragm that bulges under its differential.
    Diaphragm {
        /// Bulge volume per differential C_d, m³/Pa; zero: stiff.
        bulge_compliance: f64,
        /// Resistance of the bulge's motion R_d, Pa·s/m³.
        bulge_resistance: f64,
    },
    /// A piston with dry friction.
    Piston {
        /// Break-away (and sliding) friction, N; zero: none.
        friction: f64,
        /// Elastic stiffness before it slides, N/m.
        presliding_stiffness: f64,
    },
}

/// The main stage and its seat.
#[derive(Clone, Debug, PartialEq)]
pub struct MainStage {
    /// Diaphragm or piston.
    pub kind: StageKind,
    /// Effective diameter D_d, m.
    pub effective_diameter: f64,
    /// Main seat diameter D_s, m.
    pub seat_diameter: f64,
    /// Full lift x_max, m.
    pub lift: f64,
    /// Moving mass m, kg.
    pub mass: f64,
    /// Spring preload on the seat F_0, N.
    pub preload: f64,
    /// Spring rate k, N/m.
    pub spring_rate: f64,
    /// Damping c, N·s/m.
    pub damping: f64,
    /// Discharge coefficient of the curtain between seat and stage.
    pub curtain_coefficient: f64,
    /// Discharge coefficient of the seat bore and the body behind it, referred to the seat area.
    pub bore_coefficient: f64,
    /// Flow-force factor k_ff.
    pub flow_force_factor: f64,
    /// Liquid pressure recovery factor F_L.
    pub pressure_recovery_factor: f64,
    /// Critical pressure ratio b of each restriction in gas service.
    pub critical_pressure_ratio: f64,
    /// Contact with the seat.
    pub seat: Contact,
    /// Contact with the upper stop.
    pub stop: Contact,
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
}

/// How the armature commands the main stage, with the parts that this takes: what makes the kind of a valve.
#[derive(Clone, Debug, PartialEq)]
pub enum ControlParts {
    /// By a pilot: normally closed, lifted by the differential alone.
    Servo(ServoParts),
}

/// The whole valve.
#[derive(Clone, Debug, PartialEq)]
pub struct Valve {
    /// Angle of the coil's axis from upright, rad: 0 coil on top, π/2 lying, π hanging.
    pub attitude: f64,
    /// Winding and magnetic circuit.
    pub coil: Coil,
    /// Armature.
    pub armature: Armature,
    /// How the armature commands the main stage.
    pub control: ControlParts,
    /// Main stage.
    pub main: MainStage,
    /// Body cavity at the inlet.
    pub inlet: Port,
    /// Body cavity at the outlet.
    pub outlet: Port,
}

impl Valve {
    /// Its servo, if it has one.
    pub fn servo(&self) -> Option<&ServoParts> {
        match &self.control {
            ControlParts::Servo(servo) => Some(servo),
        }
    }

    /// The same, to change a part of it.
    pub fn servo_mut(&mut self) -> Option<&mut ServoParts> {
        match &mut self.control {
            ControlParts::Servo(servo) => Some(servo),
        }
    }
}

/// The body cavity at a port and any gas held there.
#[derive(Clone, Debug, PartialEq)]
pub struct Port {
    /// Volume of fluid, m³.
    pub volume: f64,
    /// Gas at the port (pocket, surge volume, or the trace from which a vapour cavity grows), m³ at `gas_pressure`.
    pub gas: f64,
    /// Pressure at which `gas` is counted, Pa absolute.
    pub gas_pressure: f64,
    /// Polytropic exponent of that gas.
    pub polytropic_exponent: f64,
}

/// How a line is computed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LineModel {
    /// Lumped where the wave crosses it within the resolved motion, else waves.
    Auto,
    /// One volume and one column.
    Lumped,
    /// Travelling waves with exact delay.
    Waves,
}

/// A line between the valve and a place of known pressure.
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    /// Length L, m.
    pub length: f64,
    /// Bore D, m.
    pub bore: f64,
    /// Wave speed a, m/s.
    pub wave_speed: f64,
    /// Density of a gas at its far end, kg/m³, where it is not p/(R'·T) of the supply: a real gas has been throttled.
    pub density: Option<f64>,
    /// Darcy friction factor λ.
    pub friction_factor: f64,
    /// Sum of loss coefficients K of fittings, entrance and exit, placed at the far end.
    pub loss_coefficient: f64,
    /// Segments over which wall friction is spread.
    pub segments: usize,
    /// Model.
    pub model: LineModel,
}

/// The upstream end of the installation.
#[derive(Clone, Debug, PartialEq)]
pub struct Source {
    /// Pressure at no flow P_s, Pa absolute.
    pub pressure: f64,
    /// Fall of pressure with the square of flow (pump curve), Pa/(kg/s)².
    pub droop: f64,
    /// Amplitude of a pulsation, Pa.
    pub pulsation: f64,
    /// Frequency of the pulsation, Hz.
    pub pulsation_frequency: f64,
}

/// The downstream end of the installation.
#[derive(Clone, Debug, PartialEq)]
pub struct Sink {
    /// Pressure behind the throttle P_k, Pa absolute.
    pub pressure: f64,
    /// What a shut line drains to in the end, Pa absolute: that pressure, or less where the throttle flashes and the line is
    /// therefore computed to a higher one.
    pub drained: f64,
    /// Throttle (consumer) at the far end, Pa/(kg/s)² at the line's own density.
    pub throttle: f64,
}

impl Sink {
    /// How far a flashing throttle holds its line above what it drains to, Pa. Source: definition.
    pub fn held(&self) -> f64 {
        self.pressure - self.drained
    }
}
