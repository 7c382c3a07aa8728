//! The kinds of quantity that the program knows.

macro_rules! dimensions {
    ($( $name:ident, $words:literal, $example:literal, $doc:literal; )*) => {
        /// A kind of quantity. Pressure has two kinds (absolute, difference) and temperature too, since a number that is
        /// right for one is wrong for the other.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
        pub enum Dimension {
            $( #[doc = $doc] $name, )*
        }

        impl Dimension {
            /// Every kind, in the order of declaration.
            pub const ALL: &'static [Dimension] = &[ $( Dimension::$name, )* ];

            /// The kind in words, with its article, such as "a length".
            pub fn words(self) -> &'static str {
                match self { $( Dimension::$name => $words, )* }
            }

            /// A correctly written value, for messages.
            pub fn example(self) -> &'static str {
                match self { $( Dimension::$name => $example, )* }
            }
        }
    };
}

dimensions! {
    Length, "a length", "0.8 mm", "Length, m.";
    Area, "an area", "0.8 cm²", "Area, m².";
    Volume, "a volume", "9 cm³", "Volume, m³.";
    Mass, "a mass", "35 g", "Mass, kg.";
    Time, "a time", "20 ms", "Time, s.";
    Frequency, "a frequency", "50 Hz", "Frequency, 1/s.";
    CycleRate, "a cycle rate", "6 1/h", "Switching cycles per time, 1/s.";
    Velocity, "a velocity", "1300 m/s", "Velocity, m/s.";
    Density, "a density", "998 kg/m³", "Density, kg/m³.";
    Viscosity, "a dynamic viscosity", "1 mPa·s", "Dynamic viscosity, Pa·s.";
    AbsolutePressure, "a pressure with its reference", "2 bar(a)", "Pressure counted from vacuum, Pa.";
    PressureDifference, "a pressure difference", "0.05 bar", "Difference of two pressures, Pa.";
    ElasticModulus, "an elastic modulus", "200 GPa", "Modulus of elasticity of a solid, Pa.";
    Force, "a force", "4.2 N", "Force, N.";
    SpringRate, "a spring rate", "600 N/m", "Force per length, N/m.";
    Damping, "a damping", "5 N·s/m", "Force per velocity, N·s/m.";
    VolumeFlow, "a volume flow", "20 L/min", "Volume per time, m³/s.";
    MassFlow, "a mass flow", "0.3 kg/s", "Mass per time, kg/s.";
    Power, "a power", "10 W", "Power, W.";
    Energy, "an energy", "3 mJ", "Energy, J.";
    SpecificEnergy, "an energy per mass", "160 kJ/kg", "Energy per mass, J/kg.";
    Voltage, "a voltage", "24 V", "Voltage, V.";
    Current, "a current", "0.4 A", "Current, A.";
    Resistance, "an electrical resistance", "57.6 ohm", "Electrical resistance, Ω.";
    Conductance, "an electrical conductance", "4000 S", "Electrical conductance, S.";
    Reluctance, "a reluctance", "2e6 1/H", "Magnetic reluctance, 1/H.";
    FluxDensity, "a flux density", "1.5 T", "Magnetic flux density, T.";
    FieldStrength, "a magnetic field strength", "3 kA/m", "Magnetic field strength, A/m.";
    Flux, "a magnetic flux", "40 µWb", "Magnetic flux, Wb.";
    Temperature, "a temperature", "20 °C", "Temperature, K.";
    TemperatureDifference, "a temperature difference", "5 K", "Difference of two temperatures, K.";
    ThermalResistance, "a thermal resistance", "8 K/W", "Temperature difference per heat flow, K/W.";
    ThermalConductance, "a thermal conductance", "0.5 W/K", "Heat flow per temperature difference, W/K.";
    Angle, "an angle", "90 °", "Angle, rad.";
    Fraction, "a share", "30 %", "Share of a whole.";
    Number, "a plain number", "0.65", "Number without a unit.";
    Impedance, "a pressure per velocity", "13 bar/(m/s)", "Pressure difference per velocity, Pa·s/m.";
    FlowCoefficient, "a flow coefficient", "3 Kv", "Flow coefficient A_v = q·√(ρ/Δp), m².";
    ContactStiffness, "a contact stiffness", "1.5e8 N/m^1.5", "Force per indentation to the power 1.5, N/m^1.5.";
    Dissipation, "a contact dissipation", "2.5 s/m", "Relative contact damping per velocity, s/m.";
    BulgeCompliance, "a volume per pressure", "0.05 cm³/bar", "Volume per pressure difference, m³/Pa.";
    BulgeResistance, "a pressure per volume flow", "4e8 Pa·s/m³", "Pressure difference per volume flow, Pa·s/m³.";
    GasConstant, "a specific gas constant", "287 J/(kg·K)", "Specific gas constant, J/(kg·K).";
    HeatCapacity, "a specific heat capacity", "4.18 kJ/(kg·K)", "Heat per mass and temperature difference, J/(kg·K).";
    MolarMass, "a molar mass", "28.96 g/mol", "Mass per amount of substance, kg/mol.";
    QuadraticResistance, "a pressure per squared mass flow", "2 bar/(kg/s)²", "Pressure difference per squared mass flow, Pa/(kg/s)².";
}
