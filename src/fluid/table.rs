//! Tables of one fluid as embedded text: what is in it, and how it is read.
//!
//! A table holds curves over the temperature (bubble and dew pressure) and patches over temperature and density, where an
//! equation of state is smooth even beside saturation; pressures are solved for a density. All are Chebyshev series, written
//! as whole numbers times a step. `tables/regenerate/` writes them.

use super::series::{Series, Surface};
use crate::portable::Portable;

/// One fluid's table.
#[derive(Clone, Debug)]
pub(super) struct Table {
    pub(super) head: Head,
    /// Bubble and dew pressure; none for a gas far above its critical temperature.
    pub(super) saturation: Option<(Curve, Curve)>,
    pub(super) liquid: Option<Patch>,
    /// Patches of the gas, the colder first.
    pub(super) gas: Vec<Patch>,
}

/// What a table says of itself.
#[derive(Clone, Debug, Default)]
pub(super) struct Head {
    pub(super) title: String,
    /// What is known to be less certain than the rest; empty where nothing is.
    pub(super) remark: String,
    pub(super) library: String,
    pub(super) equation: String,
    pub(super) viscosity: String,
    pub(super) mixture: bool,
    pub(super) molar_mass: f64,
    /// Specific gas constant by which the compressibility counts, J/(kg·K).
    pub(super) gas_constant: f64,
    pub(super) critical_temperature: f64,
    pub(super) critical_pressure: f64,
    pub(super) highest_pressure: f64,
}

/// A temperature scale mapped to [−1, 1]: the temperature itself, or the root of its distance from the critical one, in
/// which saturation is smooth.
#[derive(Clone, Copy, Debug)]
pub(super) struct Scale {
    pub(super) low: f64,
    pub(super) high: f64,
    /// Critical temperature, where the root is taken.
    critical: Option<f64>,
}

impl Scale {
    fn raw(&self, temperature: f64) -> f64 {
        self.critical.map_or(temperature, |critical| (1.0 - temperature / critical).max(0.0).sqrt())
    }

    fn position(&self, temperature: f64) -> f64 {
        let (a, b) = (self.raw(self.low), self.raw(self.high));
        (2.0 * self.raw(temperature) - a - b) / (b - a)
    }

    pub(super) fn holds(&self, temperature: f64) -> bool {
        // What a sum of °C and 273.15 loses must not push a temperature out of its own range.
        temperature >= self.low - 1e-9 && temperature <= self.high + 1e-9
    }
}

/// A curve over the temperature, stored as logarithm or as it is.
#[derive(Clone, Debug)]
pub(super) struct Curve {
    pub(super) scale: Scale,
    series: Series,
    logarithm: bool,
}

impl Curve {
    pub(super) fn at(&self, temperature: f64) -> f64 {
        let value = self.series.at(self.scale.position(temperature));
        if self.logarithm { value.exponential() } else { value }
    }
}

/// Properties over temperature and density.
#[derive(Clone, Debug)]
pub(super) struct Patch {
    pub(super) scale: Scale,
    /// Lowest density; none where it is zero.
    low: Option<Curve>,
    high: Option<Curve>,
    surfaces: Vec<(Property, Surface)>,
}

/// What a patch holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Property {
    Pressure,
    Compressibility,
    SoundSpeed,
    Viscosity,
    Enthalpy,
    HeatCapacity,
    IsochoricHeatCapacity,
    CriticalRatio,
    FlowFactor,
}

impl Property {
    fn of(word: &str) -> Option<Property> {
        Some(match word {
            "pressure" => Property::Pressure,
            "compressibility" => Property::Compressibility,
            "sound_speed" => Property::SoundSpeed,
            "viscosity" => Property::Viscosity,
            "enthalpy" => Property::Enthalpy,
            "heat_capacity" => Property::HeatCapacity,
            "isochoric_heat_capacity" => Property::IsochoricHeatCapacity,
            "critical_ratio" => Property::CriticalRatio,
            "flow_factor" => Property::FlowFactor,
            _ => return None,
        })
    }
}

impl Patch {
    /// Lowest and highest density at a temperature, kg/m³.
    pub(super) fn densities(&self, temperature: f64) -> (f64, f64) {
        let at = |curve: &Option<Curve>| curve.as_ref().map_or(0.0, |curve| curve.at(temperature));
        (at(&self.low), at(&self.high))
    }

    /// A property at a temperature, the density given as its share of the way from the lowest to the highest.
    pub(super) fn value(&self, property: Property, temperature: f64, share: f64) -> Option<f64> {
        let surface = &self.surfaces.iter().find(|(known, _)| *known == property)?.1;
        Some(surface.at(self.scale.position(temperature), 2.0 * share - 1.0))
    }
}

/// Value of a word of the head, without reading the rest.
pub(super) fn word<'t>(text: &'t str, word: &str) -> &'t str {
    let line = text.lines().take(12).find_map(|line| line.strip_prefix(word));
    line.map_or("", str::trim)
}

/// The whole table; none where the text is not one (a test reads them all).
pub(super) fn read(text: &str) -> Option<Table> {
    let number = |key: &str| word(text, key).parse::<f64>().ok();
    let head = Head {
        title: word(text, "title").to_owned(),
        remark: word(text, "remark").to_owned(),
        library: word(text, "library").to_owned(),
        equation: word(text, "equation").to_owned(),
        viscosity: word(text, "viscosity").to_owned(),
        mixture: text.lines().any(|line| line.starts_with("mixture")),
        molar_mass: number("molar_mass")?,
        gas_constant: number("gas_constant")?,
        critical_temperature: number("critical_temperature")?,
        critical_pressure: number("critical_pressure")?,
        highest_pressure: number("highest_pressure")?,
    };
    let mut lines = text.lines().skip_while(|line| !line.starts_with("curve") && !line.starts_with("patch"));
    let mut saturation = Vec::new();
    let mut patches: Vec<(bool, Patch)> = Vec::new();
    let mut scale = Scale { low: f64::NAN, high: f64::NAN, critical: None };
    for line in &mut lines {
        let mut words = line.split_ascii_whitespace();
        let first = words.next()?;
        match first {
            "curve" => {
                let mut end = || words.next().and_then(|word| word.parse().ok());
                scale = Scale { low: end()?, high: end()?, critical: Some(head.critical_temperature) };
            }
            "patch" => {
                let liquid = words.next()? == "liquid";
                let mut end = || words.next().and_then(|word| word.parse().ok());
                let (low, high) = (end()?, end()?);
                let critical = (words.next()? == "root").then_some(head.critical_temperature);
                scale = Scale { low, high, critical };
                patches.push((liquid, Patch { scale, low: None, high: None, surfaces: Vec::new() }));
            }
            "bubble" | "dew" | "low" | "high" => {
                let (_, coefficients, logarithm) = numbers(words, 1)?;
                let curve = Curve { scale, series: Series::new(coefficients), logarithm };
                match first {
                    "low" => patches.last_mut()?.1.low = Some(curve),
                    "high" => patches.last_mut()?.1.high = Some(curve),
                    _ => saturation.push(curve),
                }
            }
            property => {
                let (columns, coefficients, _) = numbers(words, 2)?;
                let surface = Surface::new(coefficients, columns);
                patches.last_mut()?.1.surfaces.push((Property::of(property)?, surface));
            }
        }
    }
    let mut saturation = saturation.into_iter();
    let mut table = Table { head, saturation: saturation.next().zip(saturation.next()), liquid: None, gas: Vec::new() };
    for (liquid, patch) in patches {
        if liquid { table.liquid = Some(patch) } else { table.gas.push(patch) }
    }
    Some(table)
}

/// Sizes, step and whole numbers: the length of the last dimension, the coefficients, and is it a logarithm.
fn numbers<'w>(mut words: impl Iterator<Item = &'w str>, dimensions: usize) -> Option<(usize, Vec<f64>, bool)> {
    let mut sizes = Vec::new();
    for _ in 0..dimensions {
        sizes.push(words.next()?.parse::<usize>().ok()?);
    }
    let step: f64 = words.next()?.parse().ok()?;
    let mut logarithm = false;
    let mut coefficients = Vec::with_capacity(sizes.iter().product());
    for word in words {
        if word == "log" {
            logarithm = true;
        } else {
            coefficients.push(word.parse::<i64>().ok()? as f64 * step);
        }
    }
    (coefficients.len() == sizes.iter().product::<usize>()).then_some(())?;
    Some((*sizes.last()?, coefficients, logarithm))
}
