//! The validation book for the eye and for programs: every number beside its reference.

mod json;
mod markdown;
mod terminal;
mod words;

pub use json::{BookDocument, book_document};
pub use markdown::{BEGIN, END, markdown, placed};
pub use terminal::table;
pub use words::{LEGEND, obtained, summary};
