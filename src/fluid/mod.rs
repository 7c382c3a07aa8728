//! Named fluids and their states: density, sound speed, viscosity, saturation and choking from embedded tables.
//!
//! Pure fluids and blends are tabulated from a general-purpose library of equations of state (see `tables/regenerate/`),
//! over temperature and density, by Chebyshev series. A table is parsed when its fluid is first asked for. Outside its range
//! there is an error, never an extrapolation. Solutions of glycol and mineral oils have tables and equations of their own. How far the tables are from the library is measured in
//! `validation/fluid_tables/`.

mod error;
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

pub use error::{FluidError, Quantity};
pub use medium::Medium;
pub use phrase::{Phrase, PhraseError, read as read_phrase};
pub use request::{Request, RequestError, distance_from_saturation};
pub use sheet::{SheetRow, sheet, unsaturated};
pub use state::{Aggregation, Flash, GasState, State};
pub use substance::Substance;

use std::sync::OnceLock;

macro_rules! tables {
    ($($name:literal),* $(,)?) => {
        /// The embedded tables, in the order in which they are listed.
        static TABLES: &[(&str, &str)] = &[$(($name, include_str!(concat!("tables/", $name, ".txt")))),*];
    };
}

tables![
    "water",
    "air",
    "nitrogen",
    "R744",
    "R717",
    "R290",
    "R600a",
    "R134a",
    "R32",
    "R22",
    "R1234yf",
    "R1234ze(E)",
    "R410A",
    "R407C",
    "R404A",
    "R507A",
    "R448A",
    "R449A",
    "R454B",
    "R513A",
];

/// Names of all fluids: tabulated ones, solutions, oils.
pub fn names() -> Vec<&'static str> {
    let solutions = solution::all().into_iter().map(|solution| solution.name);
    let oils = oil::all().iter().map(|oil| oil.name);
    TABLES.iter().map(|(name, _)| *name).chain(solutions).chain(oils).collect()
}

/// Other names of the tabulated ones.
fn other_names() -> impl Iterator<Item = &'static str> {
    TABLES.iter().flat_map(|(_, text)| aliases(text))
}

/// All tabulated fluids.
pub fn all() -> Vec<&'static Substance> {
    (0..TABLES.len()).map(substance).collect()
}

/// The tabulated fluid of that name or alias, whatever its case, spaces and hyphens.
pub fn find(name: &str) -> Result<&'static Substance, FluidError> {
    let wanted = plain(name);
    let is = |(known, text): &(&'static str, &'static str)| {
        plain(known) == wanted || aliases(text).any(|alias| plain(alias) == wanted)
    };
    let number = TABLES.iter().position(is);
    number.map(substance).ok_or_else(|| FluidError::UnknownName { name: name.trim().to_owned() })
}

fn aliases(text: &'static str) -> impl Iterator<Item = &'static str> {
    table::word(text, "aliases").split('|').map(str::trim).filter(|alias| !alias.is_empty())
}

/// Lower case without spaces and hyphens: "R-410a" and "r410A" are one name.
fn plain(name: &str) -> String {
    name.chars().filter(|c| !c.is_whitespace() && *c != '-').flat_map(char::to_lowercase).collect()
}

/// The parsed table of that number, parsed once.
fn substance(number: usize) -> &'static Substance {
    static PARSED: [OnceLock<Substance>; TABLES.len()] = [const { OnceLock::new() }; TABLES.len()];
    PARSED[number].get_or_init(|| {
        let (name, text) = TABLES[number];
        let table = table::read(text).expect("an embedded table is whole; a test reads them all");
        Substance { name, aliases: aliases(text).collect(), table }
    })
}
