//! Tables of fluids, each parsed when its fluid is first asked for.

use super::catalogue::{TABLES, aliases};
use super::error::FluidError;
use super::substance::Substance;
use super::table;
use std::sync::OnceLock;

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
