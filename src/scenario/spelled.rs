//! What words stand for, in keys: the name of a pipe, and a fluid with its state.

use std::sync::Arc;

use super::layer::Given;
use crate::fluid::{Aggregation, Medium, Request, read_phrase};
use crate::pipe as trade;

/// The keys of a line and the numbers for which a pipe's name stands, SI; none where it is not understood.
pub(super) fn pipe(name: &str) -> Option<Vec<(&'static str, f64)>> {
    let pipe = trade::parse(name).ok()?;
    let elasticity = pipe.material.elasticity();
    Some(vec![
        ("bore", pipe.bore),
        ("wall_thickness", pipe.wall_thickness),
        ("wall_modulus", elasticity.modulus),
        ("poisson_ratio", elasticity.poisson_ratio),
    ])
}

/// Do the words state a pressure of their own, by itself or as that of a saturation temperature?
pub(super) fn has_pressure(text: &str, atmosphere: f64) -> bool {
    read_phrase(text, atmosphere).is_ok_and(|phrase| phrase.request.pressure.or(phrase.request.saturation).is_some())
}

/// What a fluid in words is in keys; nothing where the words are not understood, which their reader reports.
pub(super) fn fluid(text: &str, atmosphere: f64) -> Vec<(&'static str, Given)> {
    let Ok(phrase) = read_phrase(text, atmosphere) else { return Vec::new() };
    let Request { temperature, saturation, pressure, subcooling, superheat, aggregation } = phrase.request;
    let gas = aggregation == Some(Aggregation::Gas) || superheat.is_some();
    let medium = Medium::find(&phrase.name, phrase.mass_fraction, phrase.volume_fraction).ok();
    let saturated = saturation
        .zip(medium)
        .and_then(|(at, medium)| if gas { medium.dew_pressure(at).ok() } else { medium.bubble_pressure(at).ok() });
    // Saturation alone is a saturated state.
    let alone = saturation.is_some() && temperature.is_none() && subcooling.is_none() && superheat.is_none();
    let numbers = [
        ("temperature", temperature),
        ("pressure", pressure.or(saturated)),
        ("subcooling", subcooling.or((alone && !gas).then_some(0.0))),
        ("superheat", superheat.or((alone && gas).then_some(0.0))),
        ("mass_fraction", phrase.mass_fraction),
        ("volume_fraction", phrase.volume_fraction),
    ];
    let words: Arc<str> = Arc::from(format!("\"{text}\""));
    let stated = numbers.into_iter().filter_map(|(name, value)| Some((name, Given::Spelled(value?, words.clone()))));
    std::iter::once(("name", Given::Text(Arc::from(phrase.name.as_str())))).chain(stated).collect()
}
