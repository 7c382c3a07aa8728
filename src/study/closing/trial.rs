//! Does a value of a parameter keep the target? Simulated once each, and remembered.

use super::numbers::Closing;
use super::parameter::GAS_EXPONENTS;
use super::sweep::{Sweep, closing, point};
use super::target::Target;
use super::words::pressure;
use crate::scenario::Document;
use crate::study::quoted::said;
use crate::study::setting::scenario_at;
use crate::units::Dimension;

/// The runs of one parameter.
pub(super) struct Trials<'a> {
    pub(super) document: &'a Document,
    pub(super) sweep: &'a mut Sweep,
    pub(super) target: &'a Target,
    /// Gas volumes at the other exponents: volume, exponent, what was found.
    gases: Vec<(f64, f64, Result<Closing, String>)>,
}

impl<'a> Trials<'a> {
    pub(super) fn new(document: &'a Document, sweep: &'a mut Sweep, target: &'a Target) -> Trials<'a> {
        Trials { document, sweep, target, gases: Vec::new() }
    }

    /// Does the value keep the target, by the first closure and by later peaks? Why not, in words.
    pub(super) fn keeps(&mut self, value: f64) -> Result<(), String> {
        if value <= 0.0 {
            return Err("there is nothing left of it".into());
        }
        if self.sweep.point_at(value).is_none() {
            let tried = point(self.document, &self.sweep.parameter, value);
            self.sweep.insert(tried);
        }
        let found = self.sweep.point_at(value).map(|point| &point.outcome);
        found.map_or_else(|| Err(String::new()), |outcome| judged(self.target, outcome))?;
        if self.sweep.parameter.exponent.is_none() {
            return Ok(());
        }
        for exponent in GAS_EXPONENTS {
            let at = |why: String| format!("{why}, with an exponent of {}", said(exponent, Dimension::Number));
            judged(self.target, self.gas(value, exponent)).map_err(at)?;
        }
        Ok(())
    }

    fn gas(&mut self, value: f64, exponent: f64) -> &Result<Closing, String> {
        let known = self.gases.iter().position(|(v, e, _)| *v == value && *e == exponent);
        let at = known.unwrap_or_else(|| {
            let settings = self.sweep.parameter.settings_at(value, exponent);
            let outcome = scenario_at(self.document, &settings).and_then(|scenario| closing(&scenario));
            self.gases.push((value, exponent, outcome));
            self.gases.len() - 1
        });
        &self.gases[at].2
    }

    /// What a gas volume gives at the other exponents: exponent and closing.
    pub(super) fn at_exponents(&self, value: f64) -> Vec<(f64, Closing)> {
        let own = self.gases.iter().filter(|(v, _, _)| *v == value);
        own.filter_map(|(_, exponent, found)| Some((*exponent, found.as_ref().ok()?.clone()))).collect()
    }
}

/// Does a closing keep the target? Why not, in words.
pub(super) fn judged(target: &Target, outcome: &Result<Closing, String>) -> Result<(), String> {
    let closing = outcome.as_ref().map_err(String::clone)?;
    if !target.met(closing) {
        return Err(format!("the first closure reaches {}", pressure(closing.peak)));
    }
    match target.broken_later(closing) {
        Some(over) => {
            let uncertain = if closing.later.after_cavity { " (uncertain)" } else { "" };
            Err(format!("a later peak {} reaches {}{uncertain}", over.side, pressure(over.peak)))
        }
        None => Ok(()),
    }
}
