//! A fluid by its name and state, in words or in keys.

use super::layer::Given;
use super::model::NamedFluid;
use super::one_pressure::{self, disagree};
use super::reader::Reader;
use super::vocabulary::join;
use crate::fluid::{Aggregation, Medium, Phrase, Request, State, distance_from_saturation, read_phrase};
use crate::physics::fluid::{Fluid, Liquid, Phase};
use crate::units::{Dimension, text};

/// A state of the fluid and the supply disagree where their pressures differ by more than this share: below, it is rounding,
/// since 1 % of a refrigerant's pressure is some 0.4 K.
const OTHER_PRESSURE: f64 = 0.02;

/// What is read: the fluid for the physics, and what names it.
pub(super) type Read = (Fluid, Option<NamedFluid>);

/// Stands for a fluid that could not be read; the scenario is refused anyway.
pub(super) fn nothing() -> Fluid {
    let phase = Phase::Liquid(Liquid {
        density: f64::NAN,
        sound_speed: f64::NAN,
        viscosity: f64::NAN,
        vapour_pressure: f64::NAN,
        critical_pressure: f64::NAN,
    });
    Fluid { name: String::new(), source: String::new(), phase }
}

/// The fluid of `fluid.state`.
pub(super) fn in_words(reader: &mut Reader<'_>, supply_pressure: f64) -> Read {
    let text = reader.text("fluid.state");
    let atmosphere = reader.atmosphere();
    match read_phrase(&text, atmosphere) {
        Ok(phrase) => found(reader, &phrase, supply_pressure, &|_| "fluid.state"),
        Err(error) => {
            reader.misread("fluid.state", error.to_string());
            (nothing(), None)
        }
    }
}

/// The fluid of `[fluid.named]`.
pub(super) fn in_keys(reader: &mut Reader<'_>, supply_pressure: f64) -> Read {
    let name = reader.text("fluid.named.name");
    let mut key = |name: &str| reader.optional(&join("fluid.named", name));
    let request = Request {
        temperature: key("temperature"),
        saturation: None,
        pressure: key("pressure"),
        subcooling: key("subcooling"),
        superheat: key("superheat"),
        aggregation: None,
    };
    let fractions = (key("mass_fraction"), key("volume_fraction"));
    let wrong =
        [request.temperature, request.pressure, request.subcooling, request.superheat, fractions.0, fractions.1];
    if name.is_empty() || wrong.iter().any(|value| value.is_some_and(f64::is_nan)) {
        return (nothing(), None);
    }
    let phrase = Phrase { name, mass_fraction: fractions.0, volume_fraction: fractions.1, request };
    found(reader, &phrase, supply_pressure, &|what| match what {
        Blame::Name => "fluid.named.name",
        Blame::State if request.temperature.is_some() => "fluid.named.temperature",
        Blame::State => "fluid.named",
    })
}

/// The pressure of a fluid whose state is stated in full without the supply's, Pa absolute; none where it is not.
pub(super) fn own_pressure(reader: &Reader<'_>) -> Option<f64> {
    let words = |path: &str| match &reader.document().entry(path)?.given {
        Given::Text(words) => Some(words.to_string()),
        Given::Bare(..) | Given::Si(_) | Given::Spelled(..) | Given::Other(_) => None,
    };
    let phrase = match words("fluid.state") {
        Some(state) => read_phrase(&state, reader.atmosphere()).ok()?,
        None => {
            let key = |name: &str| reader.value(&format!("fluid.named.{name}"));
            let request = Request {
                temperature: key("temperature"),
                saturation: None,
                pressure: key("pressure"),
                subcooling: key("subcooling"),
                superheat: key("superheat"),
                aggregation: None,
            };
            let (mass_fraction, volume_fraction) = (key("mass_fraction"), key("volume_fraction"));
            Phrase { name: words("fluid.named.name")?, mass_fraction, volume_fraction, request }
        }
    };
    let medium = Medium::find(&phrase.name, phrase.mass_fraction, phrase.volume_fraction).ok()?;
    Some(phrase.request.resolve(&medium, None).ok()?.pressure)
}

/// What is at fault.
#[derive(Clone, Copy)]
enum Blame {
    Name,
    State,
}

fn found(
    reader: &mut Reader<'_>,
    phrase: &Phrase,
    supply_pressure: f64,
    place: &dyn Fn(Blame) -> &'static str,
) -> Read {
    let medium = match Medium::find(&phrase.name, phrase.mass_fraction, phrase.volume_fraction) {
        Ok(medium) => medium,
        Err(error) => {
            reader.misread(place(Blame::Name), error.to_string());
            return (nothing(), None);
        }
    };
    // A supply pressure that could not be read has been reported already.
    let default = Some(supply_pressure).filter(|pressure| pressure.is_finite());
    let mut request = phrase.request;
    if reader.document().must_be_liquid() && request.superheat.is_none() {
        request.aggregation = request.aggregation.or(Some(Aggregation::Liquid));
    }
    match request.resolve(&medium, default) {
        Ok(state) => {
            if at_other_pressure(state.pressure, supply_pressure) {
                let at = place(Blame::State);
                let message = disagree(reader.document(), at, state.pressure, supply_pressure);
                reader.problem(at, message);
            } else if phrase.request.resolve(&medium, None).is_err() {
                one_pressure::kept(reader, supply_pressure);
            }
            note(reader, &medium, &state);
            let fluid = Fluid { name: label(&medium, &state), source: medium.source(), phase: phase(&state) };
            (fluid, Some(NamedFluid { medium, state }))
        }
        Err(error) => {
            if error.boiled() && reader.document().must_be_liquid() {
                reader.would_boil(place(Blame::State), error.to_string());
            } else if default.is_some() || phrase.request.pressure.is_some() {
                reader.problem(place(Blame::State), error.to_string());
            }
            (nothing(), None)
        }
    }
}

/// Share of liquid in a throttled gas that is not worth a word: rounding, and a gas stated at its dew point.
const DRY: f64 = 1e-3;

/// Remarks on a named gas that would condense on its way to the sink.
pub(super) fn condensing(reader: &mut Reader<'_>, named: &NamedFluid, sink_pressure: f64) {
    let gas = named.state.enthalpy.filter(|_| named.throttled(sink_pressure).is_some());
    let flash = gas.and_then(|enthalpy| named.medium.flash(enthalpy, sink_pressure));
    let wet = flash.map_or(0.0, |flash| 1.0 - flash.by_mass);
    if wet > DRY {
        let message = format!(
            "throttled from {} to {} this gas would be {:.1} % liquid by mass at equilibrium; the run takes it to stay dry, in \
             the valve and behind it",
            text(named.state.pressure, Dimension::AbsolutePressure),
            text(sink_pressure, Dimension::AbsolutePressure),
            100.0 * wet
        );
        reader.warn("sink.pressure", message);
    }
}

impl NamedFluid {
    /// A gas throttled to a pressure (Pa absolute) below its own: as dry as a valve's milliseconds leave it.
    pub(super) fn throttled(&self, pressure: f64) -> Option<State> {
        let below = pressure > 0.0 && pressure < self.state.pressure;
        let gas = self.state.aggregation == Aggregation::Gas;
        self.medium.throttled(self.state.enthalpy.filter(|_| gas && below)?, pressure)
    }
}

/// Is a state at another pressure than the supply's, both Pa absolute?
fn at_other_pressure(state: f64, supply: f64) -> bool {
    (state / supply - 1.0).abs() > OTHER_PRESSURE
}

/// Such as "R410A, 35 °C, 24.3 bar(a), 5 K subcooled".
pub fn label(medium: &Medium, state: &State) -> String {
    let temperature = text(state.temperature, Dimension::Temperature);
    let pressure = text(state.pressure, Dimension::AbsolutePressure);
    let mut label = format!("{}, {temperature}, {pressure}", medium.name());
    if let Some(distance) = distance_from_saturation(medium, state) {
        label.push_str(", ");
        label.push_str(&distance);
    }
    label
}

fn phase(state: &State) -> Phase {
    state.real_gas().map_or_else(|| Phase::Liquid(state.liquid()), Phase::Gas)
}

/// Records what the name and the state stand for.
fn note(reader: &mut Reader<'_>, medium: &Medium, state: &State) {
    let from = match medium {
        Medium::Substance(_) => "from the table of the fluid",
        Medium::Solution(..) | Medium::Oil(_) => "estimated from the literature on the fluid",
    };
    let bubble = medium.bubble_temperature(state.pressure).ok();
    let dew = medium.dew_temperature(state.pressure).ok();
    for (path, value) in [("fluid.named.temperature", state.temperature), ("fluid.named.pressure", state.pressure)] {
        let dimension = if path.ends_with("pressure") { Dimension::AbsolutePressure } else { Dimension::Temperature };
        reader.derived_unless_stated(path, value, dimension, "state of the fluid");
    }
    let offset = match state.aggregation {
        Aggregation::Liquid => bubble.map(|t| ("fluid.named.subcooling", t - state.temperature)),
        Aggregation::Gas => dew.map(|t| ("fluid.named.superheat", state.temperature - t)),
    };
    if let Some((path, kelvin)) = offset {
        // Rounding of a saturated state is no distance from saturation.
        let kelvin = if kelvin.abs() < 1e-6 { 0.0 } else { kelvin };
        reader.derived_unless_stated(path, kelvin, Dimension::TemperatureDifference, from);
    }
    match phase(state) {
        Phase::Liquid(liquid) => {
            reader.derived("fluid.liquid.density", liquid.density, Dimension::Density, from);
            reader.derived("fluid.liquid.sound_speed", liquid.sound_speed, Dimension::Velocity, from);
            reader.derived("fluid.liquid.viscosity", liquid.viscosity, Dimension::Viscosity, from);
            reader.derived("fluid.liquid.vapour_pressure", liquid.vapour_pressure, Dimension::AbsolutePressure, from);
            let (path, critical) = ("fluid.liquid.critical_pressure", liquid.critical_pressure);
            let from = match medium {
                Medium::Substance(_) => from,
                Medium::Solution(..) => "that of water",
                Medium::Oil(_) => "a stand-in, which hardly matters",
            };
            reader.derived(path, critical, Dimension::AbsolutePressure, from);
        }
        Phase::Gas(gas) => {
            reader.derived("fluid.gas.gas_constant", gas.gas_constant, Dimension::GasConstant, from);
            reader.derived("fluid.gas.isentropic_exponent", gas.isentropic_exponent, Dimension::Number, from);
            reader.derived("fluid.gas.temperature", gas.temperature, Dimension::Temperature, from);
            reader.derived("fluid.gas.viscosity", gas.viscosity, Dimension::Viscosity, from);
            let heat = gas.isobaric_heat_capacity;
            reader.derived("fluid.gas.heat_capacity_ratio", gas.heat_capacity_ratio, Dimension::Number, from);
            reader.derived("fluid.gas.isobaric_heat_capacity", heat, Dimension::HeatCapacity, from);
            let (ratio, factor) = (gas.critical_pressure_ratio, gas.critical_flow_factor);
            reader.derived("fluid.gas.critical_pressure_ratio", ratio, Dimension::Number, from);
            reader.derived("fluid.gas.critical_flow_factor", factor, Dimension::Number, from);
        }
    }
}
