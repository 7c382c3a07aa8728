//! The output door: figures, tables, texts and documents, from invented data.

mod documents;
mod figures;
mod synthetic_map;
mod synthetic_trace;
