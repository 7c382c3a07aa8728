//! `quietseat fluids` and `quietseat fluid`: what is known of a fluid.

use super::arguments::{Fluid, Fluids};
use super::outcome::{Failure, Outcome};
use super::terminal;
use quietseat::fluid::{self, Medium, sheet, unsaturated};
use quietseat::output::json::FluidDocument;
use quietseat::output::text::{fluid_list_text, fluid_state_text};
use quietseat::quote;
use quietseat::scenario::fluid_label;
use quietseat::units::{Dimension, parse};

pub(super) fn list(_: &Fluids) -> Result<Outcome, Failure> {
    terminal::print(&fluid_list_text(&fluid::all(), terminal::width()))?;
    Ok(Outcome::Done)
}

pub(super) fn run(arguments: &Fluid) -> Result<Outcome, Failure> {
    let atmosphere = atmosphere(&arguments.atmosphere)?;
    let phrase = fluid::read_phrase(&arguments.words.join(" "), atmosphere)?;
    let medium = Medium::find(&phrase.name, phrase.mass_fraction, phrase.volume_fraction)?;
    let states = phrase.states(&medium, atmosphere)?;
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

/// Atmospheres on Earth lie well within these, Pa absolute; beyond, a slip of the unit made a gauge pressure wrong.
const ATMOSPHERES: (f64, f64) = (1e4, 1e6);

/// The atmosphere as typed.
pub(super) fn atmosphere(typed: &str) -> Result<f64, Failure> {
    let told = |message: String| Failure(format!("--atmosphere: {message}"));
    let pascal = parse(typed, Dimension::AbsolutePressure, f64::NAN).map_err(|error| told(error.to_string()))?;
    if (ATMOSPHERES.0..=ATMOSPHERES.1).contains(&pascal) {
        return Ok(pascal);
    }
    let typed = quote::word(typed);
    Err(told(format!("\"{typed}\" is no atmosphere; wanted 0.1 to 10 bar(a), such as \"1.01325 bar(a)\"")))
}
