//! A case of the validation book: what is claimed, what it is compared with, and how far off it may be.

/// How a reference value was obtained.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Obtained {
    /// Read in a source text, or in a general-purpose library's own published test values.
    Published,
    /// Measured, as published.
    Measured,
    /// A closed form, evaluated to all its digits.
    Exact,
    /// Computed by a general-purpose library, named with its version.
    Library(&'static str),
    /// A rule of thumb without a source.
    CommonPractice,
    /// A formula or number that nobody looked up for this project.
    FromMemory,
}

/// How far a number may be off.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Tolerance {
    /// Share of the reference.
    Relative(f64),
    /// In the quantity's own unit.
    Absolute(f64),
}

/// One number against its reference. A case of many numbers reports the worst of each kind.
#[derive(Clone, Debug, PartialEq)]
pub struct Check {
    /// What is compared, with its unit: "peak after the first phase, over ρ·a·v".
    pub quantity: String,
    /// Number of this program.
    pub ours: f64,
    /// Reference.
    pub reference: f64,
    /// Allowed deviation.
    pub tolerance: Tolerance,
}

impl Check {
    /// Deviation in the terms of the tolerance.
    pub fn deviation(&self) -> f64 {
        match self.tolerance {
            Tolerance::Relative(_) => (self.ours - self.reference).abs() / self.reference.abs(),
            Tolerance::Absolute(_) => (self.ours - self.reference).abs(),
        }
    }

    /// Is it within its tolerance? What is not a number is not.
    pub fn holds(&self) -> bool {
        let (Tolerance::Relative(allowed) | Tolerance::Absolute(allowed)) = self.tolerance;
        self.deviation() <= allowed
    }
}

/// One comparison.
pub(super) fn check(quantity: impl Into<String>, ours: f64, reference: f64, tolerance: Tolerance) -> Check {
    Check { quantity: quantity.into(), ours, reference, tolerance }
}

/// A case of the book.
#[derive(Clone, Copy)]
pub struct Case {
    /// Folder under `validation/` with its data and README.
    pub folder: &'static str,
    /// What it is about, a few words.
    pub name: &'static str,
    /// Author, title, place, year.
    pub source: &'static str,
    /// How the reference was obtained.
    pub obtained: Obtained,
    /// Why the tolerance is what it is.
    pub reason: &'static str,
    /// A misfit that is known and shown, with its cause; the tolerance then bounds the misfit itself.
    pub misfit: Option<&'static str>,
    /// Recompute it through the project's own parts.
    pub checks: fn() -> Result<Vec<Check>, String>,
}
