//! Reference numbers as text in comma-separated columns, and the worst of many comparisons.

use super::case::{Check, Tolerance};

/// A table of reference numbers: one line of headings, comments after `#`.
pub(super) struct Table {
    headings: Vec<String>,
    rows: Vec<Vec<String>>,
}

/// One row of a table.
pub(super) struct Row<'a> {
    headings: &'a [String],
    fields: &'a [String],
}

impl Table {
    /// Read a text.
    pub(super) fn parse(text: &str) -> Result<Self, String> {
        let mut lines = text.lines().filter(|line| !line.starts_with('#') && !line.trim().is_empty());
        let split = |line: &str| line.split(',').map(|field| field.trim().to_owned()).collect::<Vec<_>>();
        let headings = split(lines.next().ok_or("a table without headings")?);
        let rows: Vec<_> = lines.map(split).collect();
        if rows.is_empty() {
            return Err(format!("a table without rows below {headings:?}"));
        }
        match rows.iter().find(|row| row.len() != headings.len()) {
            Some(row) => Err(format!("a row of other length than its headings: {row:?}")),
            None => Ok(Table { headings, rows }),
        }
    }

    /// All rows.
    pub(super) fn rows(&self) -> impl Iterator<Item = Row<'_>> {
        self.rows.iter().map(|fields| Row { headings: &self.headings, fields })
    }
}

impl<'a> Row<'a> {
    /// The text under a heading.
    pub(super) fn text(&self, heading: &str) -> Result<&'a str, String> {
        let place = self.headings.iter().position(|h| h == heading);
        place.map(|i| self.fields[i].as_str()).ok_or_else(|| format!("no column {heading:?}"))
    }

    /// The number under a heading.
    pub(super) fn number(&self, heading: &str) -> Result<f64, String> {
        let text = self.text(heading)?;
        text.parse().map_err(|_| format!("{text:?} under {heading:?} is no number"))
    }

    /// Several numbers at once.
    pub(super) fn numbers<const N: usize>(&self, headings: [&str; N]) -> Result<[f64; N], String> {
        let mut found = [0.0; N];
        for (number, heading) in found.iter_mut().zip(headings) {
            *number = self.number(heading)?;
        }
        Ok(found)
    }
}

/// Of many comparisons of one quantity, the one that is furthest off.
pub(super) struct Worst {
    quantity: &'static str,
    tolerance: Tolerance,
    check: Option<Check>,
}

impl Worst {
    /// Nothing compared yet.
    pub(super) fn of(quantity: &'static str, tolerance: Tolerance) -> Self {
        Worst { quantity, tolerance, check: None }
    }

    /// Compare one number; `place` says which, where the quantity alone does not.
    pub(super) fn note(&mut self, ours: f64, reference: f64, place: &str) {
        let quantity = if place.is_empty() { self.quantity.to_owned() } else { format!("{} ({place})", self.quantity) };
        let check = Check { quantity, ours, reference, tolerance: self.tolerance };
        let deviation = check.deviation();
        // What is not a number is worse than any number.
        let worse = |old: &Check| deviation.is_nan() || deviation > old.deviation();
        if self.check.as_ref().is_none_or(worse) {
            self.check = Some(check);
        }
    }

    /// The worst of them; an error if there was none.
    pub(super) fn check(self) -> Result<Check, String> {
        self.check.ok_or_else(|| format!("nothing was compared for {}", self.quantity))
    }
}

/// One comparison.
pub(super) fn check(quantity: impl Into<String>, ours: f64, reference: f64, tolerance: Tolerance) -> Check {
    Check { quantity: quantity.into(), ours, reference, tolerance }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rows_are_read_and_ragged_ones_refused() {
        let table = Table::parse("# of hand\na,b\n1,x\n2.5,y\n").expect("a table");
        let read: Vec<_> = table.rows().map(|row| (row.number("a"), row.text("b"))).collect();
        assert_eq!(read, [(Ok(1.0), Ok("x")), (Ok(2.5), Ok("y"))]);
        assert!(table.rows().all(|row| row.number("b").is_err() && row.number("c").is_err()));
        assert!(Table::parse("a,b\n1\n").is_err() && Table::parse("a\n").is_err() && Table::parse("").is_err());
    }

    #[test]
    fn what_is_not_a_number_is_the_worst() {
        let mut worst = Worst::of("size", Tolerance::Relative(0.1));
        worst.note(1.0, 1.0, "first");
        worst.note(f64::NAN, 1.0, "second");
        worst.note(5.0, 1.0, "third");
        let found = worst.check().expect("three were compared");
        assert!(found.ours.is_nan() && !found.holds());
        assert!(Worst::of("size", Tolerance::Relative(0.1)).check().is_err());
    }
}
