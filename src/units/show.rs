//! SI to what a reader sees.

use super::Dimension;
use super::table::{Unit, units};
use crate::portable::Portable;

/// Which units are shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum UnitSystem {
    /// Metric units of the trade: bar, mm, °C, L/min.
    Si,
    /// United States units of the trade: psi, in, °F, gpm.
    Us,
}

/// Significant digits of a shown number: gauges and data sheets hardly carry more.
const DIGITS: i32 = 4;

/// A value as a number and a unit that suit its size, such as ("0.8", "mm"). At most four significant digits, without
/// trailing zeros; whole numbers up to a million are shown in full.
pub fn show(value: f64, dimension: Dimension, system: UnitSystem) -> (String, &'static str) {
    let (unit, name) = fitting(value, dimension, system);
    let number = unit.in_unit(value);
    // The offset of a temperature scale leaves rounding where it crosses zero.
    let crossing = dimension == Dimension::Temperature && number.abs() < 1e-9;
    // A larger unit would be needed to write it down, which no value of a valve calls for.
    if number.is_infinite() && value.is_finite() {
        return (if value > 0.0 { "above 1e308" } else { "below -1e308" }.to_owned(), name);
    }
    (digits(if crossing { 0.0 } else { number }), name)
}

/// The same in metric units as one text, such as "0.8 mm".
pub fn text(value: f64, dimension: Dimension) -> String {
    let (number, unit) = show(value, dimension, UnitSystem::Si);
    if unit.is_empty() { number } else { format!("{number} {unit}") }
}

/// Unit for a whole column or axis: shown = SI·scale + offset.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ColumnUnit {
    /// Factor.
    pub scale: f64,
    /// Offset.
    pub offset: f64,
    /// Name of the unit.
    pub name: &'static str,
}

/// The unit of a whole column or axis in a unit system.
pub fn column_unit(dimension: Dimension, system: UnitSystem) -> ColumnUnit {
    let ladder = ladder(dimension, system);
    let &(name, _) = ladder.iter().find(|step| step.0 == column_name(dimension, system)).unwrap_or(&ladder[0]);
    let (scale, offset) = named(dimension, name).scale_and_offset();
    ColumnUnit { scale, offset, name }
}

/// The unit in which a value of that size is best read. Sizes are compared a little above their value so that 1 mm, which
/// in binary may fall just short of its threshold, does not turn into 1000 µm.
fn fitting(value: f64, dimension: Dimension, system: UnitSystem) -> (Unit, &'static str) {
    let size = value.abs() * (1.0 + 1e-9);
    let name = if value == 0.0 || !value.is_finite() {
        column_name(dimension, system)
    } else {
        let ladder = ladder(dimension, system);
        ladder.iter().rev().find(|step| size >= step.1).unwrap_or(&ladder[0]).0
    };
    (named(dimension, name), name)
}

/// The unit of that shown name. Absolute pressures are shown with their reference, which the table of bare units lacks.
fn named(dimension: Dimension, name: &str) -> Unit {
    let bare = match dimension {
        Dimension::AbsolutePressure => name.strip_suffix("(a)").or(name.strip_suffix('a')).unwrap_or(name),
        _ => name,
    };
    let all = units(dimension);
    all.iter().copied().find(|unit| unit.name == bare).unwrap_or(all[0])
}

fn digits(number: f64) -> String {
    if number.is_nan() {
        return "unknown".to_owned();
    }
    if number.is_infinite() {
        return if number > 0.0 { "infinite" } else { "-infinite" }.to_owned();
    }
    if number == 0.0 {
        return "0".to_owned();
    }
    let rounded: f64 = format!("{number:.*e}", (DIGITS - 1) as usize).parse().unwrap_or(number);
    let exponent = rounded.abs().decimal_logarithm().floor() as i32;
    if !(-3..6).contains(&exponent) {
        let text = format!("{number:.*e}", (DIGITS - 1) as usize);
        let (mantissa, power) = text.split_once('e').unwrap_or((&text, "0"));
        return format!("{}e{power}", trimmed(mantissa));
    }
    trimmed(&format!("{number:.*}", (DIGITS - 1 - exponent).max(0) as usize)).to_owned()
}

fn trimmed(number: &str) -> &str {
    if number.contains('.') { number.trim_end_matches('0').trim_end_matches('.') } else { number }
}

type Ladder = &'static [(&'static str, f64)];

/// The unit of columns and axes and of the value zero.
fn column_name(dimension: Dimension, system: UnitSystem) -> &'static str {
    use Dimension as D;
    match (dimension, system) {
        (D::Length, UnitSystem::Si) => "mm",
        (D::Area, UnitSystem::Si) => "cm²",
        (D::Volume, UnitSystem::Si) => "cm³",
        (D::Time, _) => "s",
        (D::Frequency, _) => "Hz",
        (D::Velocity, UnitSystem::Si) => "m/s",
        (D::Velocity, UnitSystem::Us) => "ft/s",
        (D::Viscosity, UnitSystem::Si) => "mPa·s",
        (D::AbsolutePressure, UnitSystem::Si) => "bar(a)",
        (D::PressureDifference, UnitSystem::Si) => "bar",
        (D::ElasticModulus, UnitSystem::Si) => "GPa",
        (D::Force, UnitSystem::Si) => "N",
        (D::MassFlow, UnitSystem::Si) => "kg/s",
        (D::Power, _) => "W",
        (D::Energy, _) => "mJ",
        (D::Voltage, _) => "V",
        (D::Current, _) => "A",
        (D::Resistance, _) => "Ω",
        (D::FluxDensity, _) => "T",
        _ => ladder(dimension, system)[0].0,
    }
}

/// Units by rising size: each is used from its SI threshold on; the first also below it.
#[rustfmt::skip]
fn ladder(dimension: Dimension, system: UnitSystem) -> Ladder {
    use Dimension as D;
    let us = system == UnitSystem::Us;
    match dimension {
        D::Length if us => &[("in", 0.0), ("ft", 0.9144)],
        D::Length => &[("µm", 0.0), ("mm", 1e-4), ("m", 1.0)],
        D::Area if us => &[("in²", 0.0), ("ft²", 0.1)],
        D::Area => &[("mm²", 0.0), ("cm²", 1e-5), ("m²", 0.1)],
        D::Volume if us => &[("in³", 0.0), ("gal", 3.785e-3)],
        D::Volume => &[("mm³", 0.0), ("cm³", 1e-7), ("L", 1e-3), ("m³", 1.0)],
        D::Mass if us => &[("oz", 0.0), ("lb", 0.453)],
        D::Mass => &[("g", 0.0), ("kg", 1.0)],
        D::Time => &[("µs", 0.0), ("ms", 1e-3), ("s", 1.0), ("min", 120.0), ("h", 7200.0)],
        D::Frequency => &[("1/h", 0.0), ("Hz", 0.1), ("kHz", 1e4)],
        D::CycleRate => &[("1/h", 0.0), ("1/min", 1.0 / 60.0), ("1/s", 1.0)],
        D::Velocity if us => &[("in/s", 0.0), ("ft/s", 0.3048)],
        D::Velocity => &[("mm/s", 0.0), ("m/s", 0.1)],
        D::Density => if us { &[("lb/ft³", 0.0)] } else { &[("kg/m³", 0.0)] },
        D::Viscosity if us => &[("cP", 0.0)],
        D::Viscosity => &[("µPa·s", 0.0), ("mPa·s", 1e-4), ("Pa·s", 1.0)],
        D::AbsolutePressure if us => &[("psia", 0.0)],
        D::AbsolutePressure => &[("mbar(a)", 0.0), ("bar(a)", 1e4)],
        D::PressureDifference if us => &[("psi", 0.0)],
        D::PressureDifference => &[("Pa", 0.0), ("mbar", 100.0), ("bar", 1000.0)],
        D::ElasticModulus if us => &[("psi", 0.0), ("ksi", 1e9)],
        D::ElasticModulus => &[("MPa", 0.0), ("GPa", 1e9)],
        D::Force if us => &[("lbf", 0.0)],
        D::Force => &[("mN", 0.0), ("N", 0.1), ("kN", 1e4)],
        D::SpringRate => if us { &[("lbf/in", 0.0)] } else { &[("N/m", 0.0)] },
        D::Damping => if us { &[("lbf·s/in", 0.0)] } else { &[("N·s/m", 0.0)] },
        D::VolumeFlow if us => &[("gpm", 0.0)],
        D::VolumeFlow => &[("L/min", 0.0), ("m³/h", 2.7e-3)],
        D::MassFlow if us => &[("lb/min", 0.0)],
        D::MassFlow => &[("g/s", 0.0), ("kg/s", 0.1)],
        D::Power if us => &[("mW", 0.0), ("W", 0.1), ("kW", 1000.0), ("ton", 3516.8)],
        D::Power => &[("mW", 0.0), ("W", 0.1), ("kW", 1000.0)],
        D::ApparentPower => &[("VA", 0.0), ("kVA", 1e4)],
        D::Energy => &[("µJ", 0.0), ("mJ", 1e-4), ("J", 1.0), ("kJ", 1000.0)],
        D::SpecificEnergy => if us { &[("Btu/lb", 0.0)] } else { &[("kJ/kg", 0.0)] },
        D::Voltage => &[("mV", 0.0), ("V", 0.1)],
        D::Current => &[("mA", 0.0), ("A", 0.1)],
        D::Resistance => &[("µΩ", 0.0), ("mΩ", 1e-3), ("Ω", 0.1), ("kΩ", 1e4)],
        D::Conductance => &[("S", 0.0)],
        D::Reluctance => &[("1/H", 0.0)],
        D::FluxDensity => &[("mT", 0.0), ("T", 0.1)],
        D::FieldStrength => &[("A/m", 0.0), ("kA/m", 1000.0)],
        D::Flux => &[("µWb", 0.0), ("mWb", 1e-3), ("Wb", 1.0)],
        D::Temperature => if us { &[("°F", 0.0)] } else { &[("°C", 0.0)] },
        D::TemperatureDifference => if us { &[("Δ°F", 0.0)] } else { &[("K", 0.0)] },
        D::ThermalResistance => if us { &[("°F·h/Btu", 0.0)] } else { &[("K/W", 0.0)] },
        D::ThermalConductance => if us { &[("Btu/(h·°F)", 0.0)] } else { &[("W/K", 0.0)] },
        D::ThermalCapacity => if us { &[("Btu/°F", 0.0)] } else { &[("J/K", 0.0), ("kJ/K", 1e4)] },
        D::Angle => &[("°", 0.0)],
        D::Fraction => &[("%", 0.0)],
        D::Number => &[("", 0.0)],
        D::Impedance => if us { &[("psi/(ft/s)", 0.0)] } else { &[("bar/(m/s)", 0.0)] },
        D::FlowCoefficient => if us { &[("Cv", 0.0)] } else { &[("Kv", 0.0)] },
        D::ContactStiffness => if us { &[("lbf/in^1.5", 0.0)] } else { &[("N/m^1.5", 0.0)] },
        D::Dissipation => if us { &[("s/in", 0.0)] } else { &[("s/m", 0.0)] },
        D::BulgeCompliance => if us { &[("in³/psi", 0.0)] } else { &[("cm³/bar", 0.0)] },
        D::BulgeResistance => if us { &[("psi·s/in³", 0.0)] } else { &[("Pa·s/m³", 0.0)] },
        D::GasConstant => if us { &[("ft·lbf/(lb·°R)", 0.0)] } else { &[("J/(kg·K)", 0.0)] },
        D::HeatCapacity => if us { &[("Btu/(lb·°F)", 0.0)] } else { &[("kJ/(kg·K)", 0.0)] },
        D::MolarMass => &[("g/mol", 0.0)],
        D::QuadraticResistance => if us { &[("psi/(lb/s)²", 0.0)] } else { &[("bar/(kg/s)²", 0.0)] },
    }
}
