//! Which units each kind of quantity is written in, and what they are in SI.
//!
//! Factors are products and quotients of exact definitions: 1 in = 0.0254 m, 1 lb = 0.453 592 37 kg,
//! g_n = 9.806 65 m/s², 1 US gal = 231 in³, 1 Btu(IT)/lb = 2326 J/kg, 0 °C = 273.15 K, 1 bar = 10⁵ Pa, 1 L = 10⁻³ m³,
//! 1 ton of refrigeration = 12 000 Btu(IT)/h (BIPM, The International System of Units, 9th ed., 2019; A. Thompson and
//! B. N. Taylor, Guide for the Use of the International System of Units, NIST Special Publication 811, 2008, appendix B;
//! both from memory). The columns of mercury and of water are the conventional ones of that appendix.

use super::Dimension;

/// One unit: SI value = (number + `before`)·`times`/`over`. The quotient is kept apart because dividing by a power of ten
/// rounds once, whereas multiplying by its inexact reciprocal rounds twice.
#[derive(Clone, Copy, Debug)]
pub(super) struct Unit {
    /// How it is shown, and the spelling that is recommended.
    pub(super) name: &'static str,
    /// Further accepted spellings, in the plain form that [`super::spelling::plain`] gives.
    pub(super) also: &'static [&'static str],
    before: f64,
    times: f64,
    over: f64,
}

impl Unit {
    /// A number in this unit, as SI.
    pub(super) fn to_si(self, number: f64) -> f64 {
        (number + self.before) * self.times / self.over
    }

    /// Scale and offset of the same: number = SI value · scale + offset.
    pub(super) fn scale_and_offset(self) -> (f64, f64) {
        (self.over / self.times, -self.before)
    }

    /// Is this the SI unit itself?
    pub(super) fn is_base(self) -> bool {
        self.before == 0.0 && self.times == self.over
    }

    /// An SI value, in this unit.
    pub(super) fn in_unit(self, value: f64) -> f64 {
        let scaled = value * self.over / self.times;
        // Of huge numbers, the product may be too large where the quotient is not.
        let scaled = if scaled.is_infinite() { value / self.times * self.over } else { scaled };
        scaled - self.before
    }
}

const fn unit(name: &'static str, also: &'static [&'static str], times: f64, over: f64) -> Unit {
    shifted(name, also, 0.0, times, over)
}

const fn shifted(name: &'static str, also: &'static [&'static str], before: f64, times: f64, over: f64) -> Unit {
    Unit { name, also, before, times, over }
}

/// 1 lb, kg.
const POUND: f64 = 0.453_592_37;
/// 1 lbf, N: the pound under standard gravity.
const POUND_FORCE: f64 = POUND * 9.806_65;
/// 1 in, m.
const INCH: f64 = 0.0254;
/// 1 ft, m.
const FOOT: f64 = 0.3048;
/// 1 psi, Pa.
const PSI: f64 = POUND_FORCE / (INCH * INCH);
/// 1 in³, m³.
const CUBIC_INCH: f64 = INCH * INCH * INCH;
/// 1 US gallon, m³.
const GALLON: f64 = 231.0 * CUBIC_INCH;
/// 1 Btu(IT), J.
const BTU: f64 = 2326.0 * POUND;
/// Kv = 1 as A_v, m²: 1 m³/h of water of 1000 kg/m³ at 1 bar, A_v = q·√(ρ/Δp) = (1/3600)·√(1000/10⁵).
const KV: f64 = 1.0 / 36_000.0;
/// √(1000 kg/m³ / 1 psi), s/m: √(1000/6894.757 293 168), written out because a square root is not a constant expression.
const ROOT_DENSITY_PER_PSI: f64 = 0.380_838_204_136_887;

const RATES: &[Unit] = &[
    unit("Hz", &["hz"], 1.0, 1.0),
    unit("kHz", &[], 1000.0, 1.0),
    unit("1/s", &["/s", "pers", "persecond", "cycles/s", "cycle/s"], 1.0, 1.0),
    unit("1/min", &["/min", "permin", "perminute", "cycles/min", "cycle/min"], 1.0, 60.0),
    unit("1/h", &["/h", "perh", "perhour", "cycles/h", "cycle/h", "1/hr", "/hr"], 1.0, 3600.0),
    unit("1/d", &["/d", "perday", "cycles/day"], 1.0, 86_400.0),
];

/// Pressure units before it is said what they are counted from.
pub(super) const PRESSURES: &[Unit] = &[
    unit("bar", &[], 1e5, 1.0),
    unit("mbar", &[], 100.0, 1.0),
    unit("Pa", &[], 1.0, 1.0),
    unit("hPa", &[], 100.0, 1.0),
    unit("kPa", &[], 1000.0, 1.0),
    unit("MPa", &[], 1e6, 1.0),
    unit("psi", &["lbf/in2"], PSI, 1.0),
    unit("inHg", &[], 3386.389, 1.0),
    unit("mmHg", &[], 133.322_4, 1.0),
    unit("inH₂O", &["inH2O", "inwc"], 249.088_9, 1.0),
    unit("mmH₂O", &["mmH2O"], 9.806_65, 1.0),
];

/// The units of a kind; for an absolute pressure those from which the spellings with a reference are built.
#[rustfmt::skip]
pub(super) fn units(dimension: Dimension) -> &'static [Unit] {
    match dimension {
        Dimension::Length => const { &[
            unit("m", &[], 1.0, 1.0), unit("cm", &[], 1.0, 100.0), unit("mm", &[], 1.0, 1000.0),
            unit("µm", &["um"], 1.0, 1e6), unit("in", &["inch", "inches", "\""], 254.0, 10_000.0),
            unit("ft", &["foot", "feet"], 3048.0, 10_000.0),
        ] },
        Dimension::Area => const { &[
            unit("m²", &["m2"], 1.0, 1.0), unit("cm²", &["cm2"], 1.0, 1e4), unit("mm²", &["mm2"], 1.0, 1e6),
            unit("in²", &["in2", "sqin"], 64_516.0, 1e8), unit("ft²", &["ft2", "sqft"], FOOT * FOOT, 1.0),
        ] },
        Dimension::Volume => const { &[
            unit("m³", &["m3"], 1.0, 1.0), unit("L", &["l", "dm3", "liter", "litre"], 1.0, 1000.0),
            unit("cm³", &["cm3", "mL", "ml"], 1.0, 1e6), unit("mm³", &["mm3"], 1.0, 1e9),
            unit("in³", &["in3", "cuin"], CUBIC_INCH, 1.0), unit("ft³", &["ft3", "cuft"], FOOT * FOOT * FOOT, 1.0),
            unit("gal", &["USgal"], GALLON, 1.0),
        ] },
        Dimension::Mass => const { &[
            unit("kg", &[], 1.0, 1.0), unit("g", &[], 1.0, 1000.0), unit("mg", &[], 1.0, 1e6),
            unit("lb", &["lbm", "lbs"], POUND, 1.0), unit("oz", &[], POUND, 16.0),
        ] },
        Dimension::Time => const { &[
            unit("s", &["sec"], 1.0, 1.0), unit("ms", &[], 1.0, 1000.0), unit("µs", &["us"], 1.0, 1e6),
            unit("min", &[], 60.0, 1.0), unit("h", &["hr"], 3600.0, 1.0),
        ] },
        Dimension::Frequency | Dimension::CycleRate => RATES,
        Dimension::Velocity => const { &[
            unit("m/s", &[], 1.0, 1.0), unit("mm/s", &[], 1.0, 1000.0), unit("cm/s", &[], 1.0, 100.0),
            unit("ft/s", &["fps"], 3048.0, 10_000.0), unit("in/s", &[], 254.0, 10_000.0),
        ] },
        Dimension::Density => const { &[
            unit("kg/m³", &["kg/m3"], 1.0, 1.0), unit("g/cm³", &["g/cm3", "kg/L", "kg/l"], 1000.0, 1.0),
            unit("lb/ft³", &["lb/ft3"], POUND / (FOOT * FOOT * FOOT), 1.0),
        ] },
        Dimension::Viscosity => const { &[
            unit("Pa·s", &["Pas"], 1.0, 1.0), unit("mPa·s", &["mPas"], 1.0, 1000.0), unit("cP", &[], 1.0, 1000.0),
            unit("µPa·s", &["uPas"], 1.0, 1e6), unit("lb/(ft·s)", &["lb/(fts)"], POUND / FOOT, 1.0),
        ] },
        Dimension::AbsolutePressure | Dimension::PressureDifference => PRESSURES,
        Dimension::ElasticModulus => const { &[
            unit("GPa", &["kN/mm2"], 1e9, 1.0), unit("MPa", &["N/mm2"], 1e6, 1.0), unit("Pa", &[], 1.0, 1.0),
            unit("psi", &[], PSI, 1.0), unit("ksi", &[], 1000.0 * PSI, 1.0),
        ] },
        Dimension::Force => const { &[
            unit("N", &[], 1.0, 1.0), unit("mN", &[], 1.0, 1000.0), unit("kN", &[], 1000.0, 1.0),
            unit("lbf", &[], POUND_FORCE, 1.0), unit("ozf", &[], POUND_FORCE, 16.0),
        ] },
        Dimension::SpringRate => const { &[
            unit("N/m", &[], 1.0, 1.0), unit("N/mm", &[], 1000.0, 1.0), unit("kN/m", &[], 1000.0, 1.0),
            unit("lbf/in", &["lb/in"], POUND_FORCE / INCH, 1.0),
        ] },
        Dimension::Damping => const { &[
            unit("N·s/m", &["Ns/m", "kg/s"], 1.0, 1.0), unit("lbf·s/in", &["lbfs/in"], POUND_FORCE / INCH, 1.0),
        ] },
        Dimension::VolumeFlow => const { &[
            unit("m³/s", &["m3/s"], 1.0, 1.0), unit("m³/h", &["m3/h"], 1.0, 3600.0), unit("L/s", &["l/s"], 1.0, 1000.0),
            unit("L/min", &["l/min", "lpm"], 1.0, 60_000.0), unit("L/h", &["l/h"], 1.0, 3.6e6),
            unit("gpm", &["gal/min", "USgpm"], GALLON, 60.0), unit("cfm", &["ft3/min"], FOOT * FOOT * FOOT, 60.0),
        ] },
        Dimension::MassFlow => const { &[
            unit("kg/s", &[], 1.0, 1.0), unit("g/s", &[], 1.0, 1000.0), unit("kg/min", &[], 1.0, 60.0),
            unit("kg/h", &[], 1.0, 3600.0), unit("lb/s", &[], POUND, 1.0), unit("lb/min", &[], POUND, 60.0),
            unit("lb/h", &["lb/hr"], POUND, 3600.0),
        ] },
        Dimension::Power => const { &[
            unit("W", &[], 1.0, 1.0), unit("mW", &[], 1.0, 1000.0), unit("kW", &[], 1000.0, 1.0),
            unit("Btu/h", &["BTU/h", "Btu/hr", "BTU/hr", "btu/h"], BTU, 3600.0),
            unit("ton", &["tons", "TR", "tonofrefrigeration", "tonsofrefrigeration"], 12_000.0 * BTU, 3600.0),
        ] },
        Dimension::ApparentPower => const { &[unit("VA", &["V·A"], 1.0, 1.0), unit("kVA", &[], 1000.0, 1.0)] },
        Dimension::Energy => const { &[
            unit("J", &[], 1.0, 1.0), unit("mJ", &[], 1.0, 1000.0), unit("µJ", &["uJ"], 1.0, 1e6),
            unit("kJ", &[], 1000.0, 1.0), unit("Wh", &[], 3600.0, 1.0), unit("Btu", &["BTU"], BTU, 1.0),
            unit("ft·lbf", &["ftlbf"], FOOT * POUND_FORCE, 1.0),
        ] },
        Dimension::SpecificEnergy => const { &[
            unit("kJ/kg", &["J/g"], 1000.0, 1.0), unit("J/kg", &[], 1.0, 1.0),
            unit("Btu/lb", &["BTU/lb", "btu/lb"], 2326.0, 1.0),
        ] },
        Dimension::Voltage => const { &[
            unit("V", &[], 1.0, 1.0), unit("mV", &[], 1.0, 1000.0), unit("kV", &[], 1000.0, 1.0),
        ] },
        Dimension::Current => const { &[unit("A", &[], 1.0, 1.0), unit("mA", &[], 1.0, 1000.0)] },
        Dimension::Resistance => const { &[
            unit("Ω", &["ohm", "ohms"], 1.0, 1.0), unit("mΩ", &["mohm"], 1.0, 1000.0),
            unit("µΩ", &["uohm"], 1.0, 1e6), unit("kΩ", &["kohm"], 1000.0, 1.0), unit("MΩ", &["Mohm"], 1e6, 1.0),
        ] },
        Dimension::Conductance => const { &[
            unit("S", &["1/ohm"], 1.0, 1.0), unit("kS", &[], 1000.0, 1.0), unit("mS", &[], 1.0, 1000.0),
        ] },
        Dimension::Reluctance => const { &[
            unit("1/H", &["/H", "A/Wb"], 1.0, 1.0), unit("1/µH", &["1/uH"], 1e6, 1.0),
        ] },
        Dimension::FluxDensity => const { &[
            unit("T", &["Wb/m2"], 1.0, 1.0), unit("mT", &[], 1.0, 1000.0), unit("G", &[], 1.0, 1e4),
        ] },
        Dimension::FieldStrength => const { &[
            unit("A/m", &[], 1.0, 1.0), unit("kA/m", &["A/mm"], 1000.0, 1.0), unit("A/cm", &[], 100.0, 1.0),
        ] },
        Dimension::Flux => const { &[
            unit("Wb", &["Vs"], 1.0, 1.0), unit("mWb", &["mVs"], 1.0, 1000.0), unit("µWb", &["uWb"], 1.0, 1e6),
        ] },
        Dimension::Temperature => const { &[
            shifted("°C", &["C"], 273.15, 1.0, 1.0), unit("K", &[], 1.0, 1.0),
            shifted("°F", &["F"], 459.67, 5.0, 9.0), unit("°R", &[], 5.0, 9.0),
        ] },
        Dimension::TemperatureDifference => const { &[
            unit("K", &["°C", "C"], 1.0, 1.0), unit("Δ°F", &["°F", "F", "°R"], 5.0, 9.0),
        ] },
        Dimension::ThermalResistance => const { &[
            unit("K/W", &["°C/W"], 1.0, 1.0), unit("°F·h/Btu", &["°Fh/Btu"], 5.0 * 3600.0, 9.0 * BTU),
        ] },
        Dimension::ThermalConductance => const { &[
            unit("W/K", &["W/°C"], 1.0, 1.0), unit("Btu/(h·°F)", &["Btu/(h°F)"], 9.0 * BTU, 5.0 * 3600.0),
        ] },
        Dimension::ThermalCapacity => const { &[
            unit("J/K", &["J/°C"], 1.0, 1.0), unit("kJ/K", &["kJ/°C"], 1000.0, 1.0), unit("Btu/°F", &[], 9.0 * BTU, 5.0),
        ] },
        Dimension::Angle => const { &[
            unit("°", &["deg", "degree", "degrees"], std::f64::consts::PI, 180.0), unit("rad", &[], 1.0, 1.0),
        ] },
        Dimension::Fraction => const { &[unit("%", &["percent"], 1.0, 100.0), unit("", &[], 1.0, 1.0)] },
        Dimension::Number => const { &[unit("", &[], 1.0, 1.0)] },
        Dimension::Impedance => const { &[
            unit("Pa·s/m", &["Pas/m"], 1.0, 1.0), unit("bar/(m/s)", &["bar·s/m"], 1e5, 1.0),
            unit("psi/(ft/s)", &["psi·s/ft"], PSI / FOOT, 1.0),
        ] },
        Dimension::FlowCoefficient => const { &[
            unit("Kv", &["kv", "m3/h"], KV, 1.0),
            unit("Cv", &["cv", "gpm", "gpm/psi0.5"], GALLON * ROOT_DENSITY_PER_PSI, 60.0),
        ] },
        Dimension::ContactStiffness => const { &[
            unit("N/m^1.5", &["N/m1.5"], 1.0, 1.0), unit("lbf/in^1.5", &["lbf/in1.5"], POUND_FORCE / (INCH * ROOT_INCH), 1.0),
        ] },
        Dimension::Dissipation => const { &[unit("s/m", &[], 1.0, 1.0), unit("s/in", &[], 1.0, INCH)] },
        Dimension::BulgeCompliance => const { &[
            unit("m³/Pa", &["m3/Pa"], 1.0, 1.0), unit("cm³/bar", &["cm3/bar"], 1.0, 1e11),
            unit("mm³/bar", &["mm3/bar"], 1.0, 1e14), unit("in³/psi", &["in3/psi"], CUBIC_INCH / PSI, 1.0),
        ] },
        Dimension::BulgeResistance => const { &[
            unit("Pa·s/m³", &["Pas/m3"], 1.0, 1.0), unit("bar·s/cm³", &["bars/cm3"], 1e11, 1.0),
            unit("psi·s/in³", &["psis/in3"], PSI / CUBIC_INCH, 1.0),
        ] },
        Dimension::GasConstant => const { &[
            unit("J/(kg·K)", &["J/(kgK)", "J/kg/K", "J/kgK"], 1.0, 1.0), unit("kJ/(kg·K)", &["kJ/(kgK)", "kJ/kgK"], 1000.0, 1.0),
            unit("Btu/(lb·°R)", &["Btu/(lb°R)", "Btu/(lb°F)"], 4186.8, 1.0),
            unit("ft·lbf/(lb·°R)", &["ftlbf/(lb°R)"], FOOT * 9.806_65 * 9.0, 5.0),
        ] },
        Dimension::HeatCapacity => const { &[
            unit("kJ/(kg·K)", &["kJ/(kgK)", "kJ/kgK"], 1000.0, 1.0), unit("J/(kg·K)", &["J/(kgK)", "J/kgK"], 1.0, 1.0),
            unit("Btu/(lb·°F)", &["Btu/(lb°F)"], 4186.8, 1.0),
        ] },
        Dimension::MolarMass => const { &[
            unit("g/mol", &["kg/kmol", "lb/lbmol"], 1.0, 1000.0), unit("kg/mol", &[], 1.0, 1.0),
        ] },
        Dimension::QuadraticResistance => const { &[
            unit("Pa/(kg/s)²", &["Pa/(kg/s)2"], 1.0, 1.0), unit("bar/(kg/s)²", &["bar/(kg/s)2"], 1e5, 1.0),
            unit("psi/(lb/s)²", &["psi/(lb/s)2"], PSI / (POUND * POUND), 1.0),
        ] },
    }
}

/// √(1 in), m^0.5: √0.0254, written out because a square root is not a constant expression.
const ROOT_INCH: f64 = 0.159_373_774_505_092_27;
