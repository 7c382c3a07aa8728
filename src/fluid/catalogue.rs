//! The known fluids by their names, and the text of their tables.

use super::{oil, solution, table};

macro_rules! tables {
    ($($name:literal),* $(,)?) => {
        /// The embedded tables, in the order in which they are listed.
        pub(super) static TABLES: &[(&str, &str)] = &[$(($name, include_str!(concat!("tables/", $name, ".txt")))),*];
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
pub(super) fn other_names() -> impl Iterator<Item = &'static str> {
    TABLES.iter().flat_map(|(_, text)| aliases(text))
}

/// Other names of a tabulated fluid.
pub(super) fn aliases(text: &'static str) -> impl Iterator<Item = &'static str> {
    table::word(text, "aliases").split('|').map(str::trim).filter(|alias| !alias.is_empty())
}
