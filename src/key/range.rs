//! Ranges in which a stated number must lie.

/// Which values are possible at all.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Range {
    /// Any value.
    Any,
    /// Above zero.
    Positive,
    /// Zero or above.
    NotNegative,
    /// Above zero and below one.
    Inside,
    /// Above zero, at most one.
    UpToOne,
    /// Zero or above, below one.
    BelowOne,
    /// From zero to one.
    UpToWhole,
    /// One or above.
    AtLeastOne,
    /// Above one.
    AboveOne,
    /// Above a half.
    AboveHalf,
    /// From isothermal (1) to the isentropic exponent of a gas of single atoms (5/3).
    Polytropic,
    /// From zero to 0.5.
    Poisson,
    /// From 0 to π.
    HalfTurn,
    /// A whole number from 1 to 1000.
    Pieces,
    /// A whole number from 2 to 1000.
    Points,
}

impl Range {
    /// Is the value possible?
    pub fn allows(self, value: f64) -> bool {
        match self {
            Range::Any => true,
            Range::Positive => value > 0.0,
            Range::NotNegative => value >= 0.0,
            Range::Inside => value > 0.0 && value < 1.0,
            Range::UpToOne => value > 0.0 && value <= 1.0,
            Range::BelowOne => (0.0..1.0).contains(&value),
            Range::UpToWhole => (0.0..=1.0).contains(&value),
            Range::AtLeastOne => value >= 1.0,
            Range::AboveOne => value > 1.0,
            Range::AboveHalf => value > 0.5,
            Range::Polytropic => (1.0..=5.0 / 3.0 + 1e-9).contains(&value),
            Range::Poisson => (0.0..=0.5).contains(&value),
            Range::HalfTurn => (0.0..=std::f64::consts::PI + 1e-9).contains(&value),
            Range::Pieces => (1.0..=1000.0).contains(&value),
            Range::Points => (2.0..=1000.0).contains(&value),
        }
    }

    /// The possible values in words, as in "must be above zero".
    pub fn words(self) -> &'static str {
        match self {
            Range::Any => "any value",
            Range::Positive => "above zero",
            Range::NotNegative => "zero or above",
            Range::Inside => "above 0 and below 1 (100 %)",
            Range::UpToOne => "above 0 and at most 1",
            Range::BelowOne => "0 or above and below 1",
            Range::UpToWhole => "from 0 to 1 (100 %)",
            Range::AtLeastOne => "1 or above",
            Range::AboveOne => "above 1",
            Range::AboveHalf => "above 0.5 (perfect gases lie from 1.05 to 1.67, a dense vapour may be below 1)",
            Range::Polytropic => "from 1 (isothermal) to 1.667",
            Range::Poisson => "from 0 to 0.5",
            Range::HalfTurn => "from 0 ° (upright) to 180 ° (hanging)",
            Range::Pieces => "from 1 to 1000",
            Range::Points => "from 2 to 1000",
        }
    }
}
