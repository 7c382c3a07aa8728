//! The parts of the valve and of its lines: what each is made of, in SI units. One declaration serves the scenario file, the
//! equations and the parameter paths; there is no second description (`src/key/declaration.rs` tells its form).

use crate::key::{declared, part, ways};

part! {
    /// Compliant contact after Hunt and Crossley: F = k·δ^1.5·(1 + d·δ̇), never pulling.
    pub struct Contact {
        /// contact stiffness
        stiffness: ContactStiffness "k", Positive, "contact stiffness of the {}", usually 1e4 to 1e12;
        /// contact dissipation
        dissipation: Dissipation "d", NotNegative, "contact dissipation of the {}", usually 0.0 to 1e3;
    }
}

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
        clamp_resistance: Resistance, NotNegative, "resistance of the switch-off path", usually 0.0 to 1e6;
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
    }
    and {
        /// Supply while energised.
        supply: Voltage;
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
    }
}

part! {
    /// The armature with its return spring.
    pub struct Armature {
        /// mass of the armature
        mass: Mass "m_a", Positive, "armature mass", usually 3e-4 to 0.5;
        /// rate of the return spring
        spring_rate: SpringRate "k_a", NotNegative, "armature spring rate", usually 0.0 to 1e5;
        /// spring preload on the pilot seat
        preload: Force "F_a0", NotNegative, "armature spring preload", usually 0.0 to 300.0;
        /// damping of the armature
        damping: Damping "c_a", NotNegative, "armature damping", usually 0.0 to 1e3;
        /// stroke from the pilot seat to the pole
        stroke: Length "s_a", Positive, "armature stroke", usually 5e-5 to 0.02;
    }
    and {
        /// Contact with the pilot seat.
        seat: Contact;
        /// Contact with the pole.
        pole: Contact;
    }
}

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
    }
    and {
        /// Diaphragm or piston.
        kind: StageKind;
        /// Contact with the seat.
        seat: Contact;
        /// Contact with the upper stop.
        stop: Contact;
    }
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

declared! {
    /// The whole valve.
    pub struct Valve {
        /// attitude in which the valve is mounted: coil on top, to the side, or below
        /// The angle of the coil's axis from upright: 0 coil on top, π/2 lying, π hanging.
        attitude: Attitude, HalfTurn, "tilt of the valve from upright";
    }
    and {
        /// Winding and magnetic circuit.
        coil: Coil;
        /// Armature.
        armature: Armature;
        /// How the armature commands the main stage.
        control: ControlParts;
        /// Main stage.
        main: MainStage;
        /// Body cavity at the inlet.
        inlet: Port;
        /// Body cavity at the outlet.
        outlet: Port;
    }
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

declared! {
    /// The body cavity at a port and any gas held there.
    pub struct Port {
        /// volume of the body cavity
        volume: Volume, Positive, "body cavity volume at the {}", usually 1e-8 to 0.05;
        /// gas held at the port
        /// A pocket, a surge volume, or the trace from which a vapour cavity grows.
        gas: Volume, Positive, "gas volume at the {}", usually 0.0 to 0.05, or none;
        /// pressure at which `gas` is counted
        gas_pressure: AbsolutePressure, Positive, "pressure at which the gas at the {} is counted", usually 1e3 to 500e5, or none;
        /// polytropic exponent of that gas
        polytropic_exponent: Number, Polytropic, "polytropic exponent of the gas at the {}", or none;
    }
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

declared! {
    /// A line between the valve and a place of known pressure.
    pub struct Line {
        /// length of the line
        length: Length "L", Positive, "length of the {}", usually 0.02 to 5e3;
        /// bore of the line
        bore: Length "D", Positive, "bore of the {}", usually 1e-3 to 1.0, or none;
        /// speed of pressure waves in the line, without free gas
        wave_speed: Velocity "a", Positive, "wave speed in the {}", usually 1.0 to 5e3, or none;
        /// density of a gas at the line's far end, where it was throttled
        /// Where it is not p/(R'·T) of the supply.
        density: Density(Option<f64>), Positive, "gas density in the {}", usually 1e-3 to 3e3;
        /// Darcy friction factor
        friction_factor: Number "λ", NotNegative, "Darcy friction factor of the {}", usually 0.0 to 10.0;
        /// sum of the loss coefficients of fittings, entrance and exit
        /// Placed at the far end.
        loss_coefficient: Number "K", NotNegative, "loss coefficients of the {}", usually 0.0 to 1e4;
        /// segments over which the wall friction is spread
        segments: Count(usize), Pieces, "friction segments of the {}";
    }
    and {
        /// Model.
        model: LineModel;
    }
}

declared! {
    /// The upstream end of the installation.
    pub struct Source {
        /// supply pressure at no flow
        pressure: AbsolutePressure "P_s", Positive, "supply pressure", usually 1e3 to 500e5, or none;
        /// amplitude of a pulsation of the supply
        pulsation: PressureDifference, NotNegative, "pulsation amplitude of the supply", or none;
        /// frequency of that pulsation
        pulsation_frequency: Frequency, Positive, "pulsation frequency of the supply", usually 1e-3 to 1e4, or none;
    }
    and {
        /// Fall of pressure with the square of flow (pump curve), Pa/(kg/s)².
        droop: f64;
    }
}

declared! {
    /// The downstream end of the installation.
    pub struct Sink {
        /// pressure behind the consumer
        pressure: AbsolutePressure "P_k", Positive, "pressure behind the consumer";
    }
    and {
        /// What a shut line drains to in the end, Pa absolute: that pressure, or less where the throttle flashes and the line is
        /// therefore computed to a higher one.
        drained: f64;
        /// Throttle (consumer) at the far end, Pa/(kg/s)² at the line's own density.
        throttle: f64;
    }
}

impl Sink {
    /// How far a flashing throttle holds its line above what it drains to, Pa. Source: definition.
    pub fn held(&self) -> f64 {
        self.pressure - self.drained
    }
}
