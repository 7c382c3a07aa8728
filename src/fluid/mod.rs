//! Named fluids and their states: density, sound speed, viscosity, saturation and choking from embedded tables.
//!
//! Pure fluids and blends are tabulated from a general-purpose library of equations of state (see `tables/regenerate/`),
//! over temperature and density, by Chebyshev series. A table is parsed when its fluid is first asked for. Outside its range
//! there is an error, never an extrapolation. Solutions of glycol and mineral oils have tables and equations of their own. How far the tables are from the library is measured in
//! `validation/fluid_tables/`.

mod catalogue;
mod error;
mod library;
pub mod liquid_error;
mod medium;
pub mod oil;
mod phrase;
mod request;
mod series;
mod sheet;
pub mod solution;
mod solution_table;
mod state;
mod substance;
mod table;
mod water_vapour;

pub use catalogue::names;
pub use error::{FluidError, Quantity};
pub use library::{all, find};
pub use medium::Medium;
pub use phrase::{Phrase, PhraseError, read as read_phrase};
pub use request::{Request, RequestError, distance_from_saturation};
pub use sheet::{SheetRow, sheet, unsaturated};
pub use state::{Aggregation, Flash, GasState, State};
pub use substance::Substance;
