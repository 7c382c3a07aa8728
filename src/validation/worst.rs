//! The worst of many numbers of one kind.

use super::case::{Check, Tolerance};

/// Sees many numbers beside their references and keeps the one that is furthest off.
pub struct Worst {
    quantity: &'static str,
    tolerance: Tolerance,
    count: usize,
    kept: Option<(Check, String)>,
}

impl Worst {
    /// None seen yet.
    pub fn new(quantity: &'static str, tolerance: Tolerance) -> Self {
        Worst { quantity, tolerance, count: 0, kept: None }
    }

    /// See a number; `place` says where it stands among the others. What is not a number is the worst of all.
    pub fn note(&mut self, ours: f64, reference: f64, place: impl FnOnce() -> String) {
        self.count += 1;
        let check = Check { quantity: self.quantity.to_owned(), ours, reference, tolerance: self.tolerance };
        let size = |check: &Check| if check.deviation().is_nan() { f64::INFINITY } else { check.deviation() };
        if self.kept.as_ref().is_none_or(|(kept, _)| size(&check) > size(kept)) {
            self.kept = Some((check, place()));
        }
    }

    /// The number that is furthest off. Where none was seen nothing was checked, which is a fault.
    pub fn check(self) -> Result<Check, String> {
        let (check, place) = self.kept.ok_or_else(|| format!("{}: nothing was compared", self.quantity))?;
        if self.count == 1 {
            return Ok(check);
        }
        Ok(Check { quantity: format!("{} (worst of {}: {place})", self.quantity, self.count), ..check })
    }
}

#[cfg(test)]
mod tests {
    use super::Worst;
    use crate::validation::case::Tolerance;

    #[test]
    fn the_furthest_is_kept_and_no_number_is_further_than_any() {
        let mut worst = Worst::new("x", Tolerance::Relative(0.1));
        worst.note(1.01, 1.0, || "a".into());
        worst.note(2.1, 2.0, || "b".into());
        worst.note(3.0, 3.0, || "c".into());
        let check = worst.check().expect("something was compared");
        assert_eq!((check.quantity.as_str(), check.ours, check.holds()), ("x (worst of 3: b)", 2.1, true));
        let mut worst = Worst::new("x", Tolerance::Absolute(1.0));
        worst.note(f64::NAN, 1.0, || "a".into());
        worst.note(9.0, 1.0, || "b".into());
        assert!(!worst.check().expect("something was compared").holds());
        assert!(Worst::new("x", Tolerance::Absolute(1.0)).check().is_err());
    }
}
