//! How the answer of an equilibrium to a small disturbance looks: the same in figures and tables.

use super::plot::canvas::{Dash, Stroke};
use super::plot::colour::{BLUE, GREY, VERMILLION};
use crate::study::stability::point::Answer;

/// All answers, the order of legends.
pub const ALL: [Answer; 3] = [Answer::Stable, Answer::Oscillates, Answer::RunsAway];

/// The line of an answer: told apart by dashes in a grey print, and by colour and lightness otherwise.
pub fn stroke(answer: Answer) -> Stroke {
    match answer {
        Answer::Stable => Stroke { colour: BLUE, width: 1.8, dash: Dash::Solid },
        Answer::Oscillates => Stroke { colour: VERMILLION, width: 1.8, dash: Dash::Dashed },
        Answer::RunsAway => Stroke { colour: GREY, width: 1.3, dash: Dash::Dotted },
    }
}

/// Colour number of a text terminal (of the 256), near to that of [`stroke`].
pub fn terminal_colour(answer: Answer) -> u8 {
    match answer {
        Answer::Stable => 32,
        Answer::Oscillates => 166,
        Answer::RunsAway => 245,
    }
}

/// A word for programs.
pub fn word(answer: Answer) -> &'static str {
    match answer {
        Answer::Stable => "stable",
        Answer::Oscillates => "oscillates",
        Answer::RunsAway => "runs_away",
    }
}
