//! `quietseat fluids` and `quietseat fluid`: what is known of a fluid.

use super::arguments::{Fluid, Fluids};
use super::{Failure, Outcome, terminal};
use quietseat::fluid::{self, Medium, Phrase, Request, RequestError, State, sheet, unsaturated};
use quietseat::output::json::FluidDocument;
use quietseat::output::text::{fluid_list_text, fluid_state_text};
use quietseat::scenario::fluid_label;
use quietseat::units::{Dimension, parse};

pub(super) fn list(_: &Fluids) -> Result<Outcome, Failure> {
    terminal::print(&fluid_list_text(&fluid::all(), terminal::width()))?;
    Ok(Outcome::Done)
}

pub(super) fn run(arguments: &Fluid) -> Result<Outcome, Failure> {
    let atmosphere = parse(&arguments.atmosphere, Dimension::AbsolutePressure, f64::NAN)?;
    let phrase = fluid::read_phrase(&arguments.words.join(" "), atmosphere)?;
    let medium = Medium::find(&phrase.name, phrase.mass_fraction, phrase.volume_fraction)?;
    let states = states(&phrase, &medium, atmosphere)?;
    let mut documents = Vec::new();
    for (number, state) in states.iter().enumerate() {
        let (title, rows) = (fluid_label(&medium, state), sheet(&medium, state));
        let note = unsaturated(&medium, state);
        if arguments.json {
            documents.push(FluidDocument::new(title, medium.source(), note, &rows));
        } else {
            terminal::print(if number > 0 { "\n" } else { "" })?;
            terminal::print(&fluid_state_text(&title, &medium, &rows, note.as_deref(), terminal::width()))?;
        }
    }
    if arguments.json {
        terminal::print(&FluidDocument::list_text(&documents))?;
    }
    Ok(Outcome::Done)
}

/// The state that is asked for; both saturated states where only a temperature or a pressure is said of something that
/// condenses.
fn states(phrase: &Phrase, medium: &Medium, atmosphere: f64) -> Result<Vec<State>, RequestError> {
    let said = &phrase.request;
    match said.resolve_alone(medium, atmosphere) {
        Err(RequestError::Lacking { nothing: false, .. }) => {}
        other => return other.map(|state| vec![state]),
    }
    let both = [Request { subcooling: Some(0.0), ..*said }, Request { superheat: Some(0.0), ..*said }];
    let wanted = both.into_iter().filter(|request| match (request.subcooling, said.aggregation) {
        (_, None) => true,
        (Some(_), Some(phase)) => phase == fluid::Aggregation::Liquid,
        (None, Some(phase)) => phase == fluid::Aggregation::Gas,
    });
    wanted.map(|request| request.resolve(medium, None)).collect()
}
