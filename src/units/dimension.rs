//! The kinds of quantity that the program knows.

/// The SI unit of a kind, for documentation.
macro_rules! si {
    [Length] => { "m" };
    [Area] => { "m²" };
    [Volume] => { "m³" };
    [Mass] => { "kg" };
    [Time] => { "s" };
    [Frequency] => { "Hz" };
    [CycleRate] => { "1/s" };
    [Velocity] => { "m/s" };
    [Density] => { "kg/m³" };
    [Viscosity] => { "Pa·s" };
    [AbsolutePressure] => { "Pa absolute" };
    [PressureDifference] => { "Pa" };
    [ElasticModulus] => { "Pa" };
    [Force] => { "N" };
    [SpringRate] => { "N/m" };
    [Damping] => { "N·s/m" };
    [VolumeFlow] => { "m³/s" };
    [MassFlow] => { "kg/s" };
    [Power] => { "W" };
    [ApparentPower] => { "VA" };
    [Energy] => { "J" };
    [SpecificEnergy] => { "J/kg" };
    [Voltage] => { "V" };
    [Current] => { "A" };
    [Resistance] => { "Ω" };
    [Conductance] => { "S" };
    [Reluctance] => { "1/H" };
    [FluxDensity] => { "T" };
    [FieldStrength] => { "A/m" };
    [Flux] => { "Wb" };
    [Temperature] => { "K" };
    [TemperatureDifference] => { "K" };
    [ThermalResistance] => { "K/W" };
    [ThermalConductance] => { "W/K" };
    [ThermalCapacity] => { "J/K" };
    [Angle] => { "rad" };
    [Fraction] => { "1" };
    [Number] => { "1" };
    [Impedance] => { "Pa·s/m" };
    [FlowCoefficient] => { "m²" };
    [ContactStiffness] => { "N/m^1.5" };
    [Dissipation] => { "s/m" };
    [BulgeCompliance] => { "m³/Pa" };
    [BulgeResistance] => { "Pa·s/m³" };
    [GasConstant] => { "J/(kg·K)" };
    [HeatCapacity] => { "J/(kg·K)" };
    [MolarMass] => { "kg/mol" };
    [QuadraticResistance] => { "Pa/(kg/s)²" };
}

pub(crate) use si;

macro_rules! dimensions {
    ($( $name:ident, $words:literal, $example:literal, $what:literal; )*) => {
        /// A kind of quantity. Pressure has two kinds (absolute, difference) and temperature too, since a number that is
        /// right for one is wrong for the other.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
        pub enum Dimension {
            $( #[doc = concat!($what, ", ", si!($name), ".")] $name, )*
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

        #[cfg(test)]
        const DOCUMENTED: &[(Dimension, &str)] = &[ $( (Dimension::$name, si!($name)), )* ];
    };
}

dimensions! {
    Length, "a length", "0.8 mm", "Length";
    Area, "an area", "0.8 cm²", "Area";
    Volume, "a volume", "9 cm³", "Volume";
    Mass, "a mass", "35 g", "Mass";
    Time, "a time", "20 ms", "Time";
    Frequency, "a frequency", "50 Hz", "Frequency";
    CycleRate, "a cycle rate", "6 1/h", "Switching cycles per time";
    Velocity, "a velocity", "1300 m/s", "Velocity";
    Density, "a density", "998 kg/m³", "Density";
    Viscosity, "a dynamic viscosity", "1 mPa·s", "Dynamic viscosity";
    AbsolutePressure, "a pressure with its reference", "2 bar(a)", "Pressure counted from vacuum";
    PressureDifference, "a pressure difference", "0.05 bar", "Difference of two pressures";
    ElasticModulus, "an elastic modulus", "200 GPa", "Modulus of elasticity of a solid";
    Force, "a force", "4.2 N", "Force";
    SpringRate, "a spring rate", "600 N/m", "Force per length";
    Damping, "a damping", "5 N·s/m", "Force per velocity";
    VolumeFlow, "a volume flow", "20 L/min", "Volume per time";
    MassFlow, "a mass flow", "0.3 kg/s", "Mass per time";
    Power, "a power", "10 W", "Power";
    ApparentPower, "an apparent power", "40 VA", "Effective voltage times effective current";
    Energy, "an energy", "3 mJ", "Energy";
    SpecificEnergy, "an energy per mass", "160 kJ/kg", "Energy per mass";
    Voltage, "a voltage", "24 V", "Voltage";
    Current, "a current", "0.4 A", "Current";
    Resistance, "an electrical resistance", "57.6 ohm", "Electrical resistance";
    Conductance, "an electrical conductance", "4000 S", "Electrical conductance";
    Reluctance, "a reluctance", "2e6 1/H", "Magnetic reluctance";
    FluxDensity, "a flux density", "1.5 T", "Magnetic flux density";
    FieldStrength, "a magnetic field strength", "3 kA/m", "Magnetic field strength";
    Flux, "a magnetic flux", "40 µWb", "Magnetic flux";
    Temperature, "a temperature", "20 °C", "Temperature";
    TemperatureDifference, "a temperature difference", "5 K", "Difference of two temperatures";
    ThermalResistance, "a thermal resistance", "8 K/W", "Temperature difference per heat flow";
    ThermalConductance, "a thermal conductance", "0.5 W/K", "Heat flow per temperature difference";
    ThermalCapacity, "a heat capacity", "60 J/K", "Heat per temperature difference";
    Angle, "an angle", "90 °", "Angle";
    Fraction, "a share", "30 %", "Share of a whole";
    Number, "a plain number", "0.65", "Number without a unit";
    Impedance, "a pressure per velocity", "13 bar/(m/s)", "Pressure difference per velocity";
    FlowCoefficient, "a flow coefficient", "3 Kv", "Flow coefficient A_v = q·√(ρ/Δp)";
    ContactStiffness, "a contact stiffness", "1.5e8 N/m^1.5", "Force per indentation to the power 1.5";
    Dissipation, "a contact dissipation", "2.5 s/m", "Relative contact damping per velocity";
    BulgeCompliance, "a volume per pressure", "0.05 cm³/bar", "Volume per pressure difference";
    BulgeResistance, "a pressure per volume flow", "4e8 Pa·s/m³", "Pressure difference per volume flow";
    GasConstant, "a specific gas constant", "287 J/(kg·K)", "Specific gas constant";
    HeatCapacity, "a specific heat capacity", "4.18 kJ/(kg·K)", "Heat per mass and temperature difference";
    MolarMass, "a molar mass", "28.96 g/mol", "Mass per amount of substance";
    QuadraticResistance, "a pressure per squared mass flow", "2 bar/(kg/s)²", "Pressure difference per squared mass flow";
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_documentation_names_the_unit_that_numbers_have() {
        for (dimension, documented) in DOCUMENTED {
            let unit = match *documented {
                "1" => "",
                "Pa absolute" => "Pa",
                // Of switching cycles.
                "1/s" => "Hz",
                unit => unit,
            };
            assert_eq!(unit, crate::units::base_unit(*dimension), "{dimension:?}");
        }
    }
}
