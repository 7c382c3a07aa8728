//! What is written: figures, tables, text and documents. Nothing here computes physics; every number comes from a trace, a
//! verdict, a study or the validation book and is only placed, rounded for the eye or put into its unit.

pub mod answer;
pub mod appearance;
#[cfg(feature = "book")]
pub mod book;
pub mod caution;
pub mod csv;
pub mod figure;
pub mod json;
pub mod plot;
pub mod text;
pub mod unit;
