//! How a number is to be told.

/// How a number is to be told.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Firmness {
    /// To three digits.
    Firm,
    /// As "about", to two digits.
    About,
}
