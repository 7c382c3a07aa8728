//! The text in which the properties of a solution are kept, over mass fraction and temperature.

use super::series::Surface;

/// Range of a variable.
pub(super) type Range = (f64, f64);

/// A property over mass fraction and temperature, both scaled from their ranges to −1..1.
#[derive(Debug)]
pub(super) struct Property {
    first: Range,
    second: Range,
    surface: Surface,
}

impl Property {
    /// Value at a point inside the ranges.
    pub(super) fn at(&self, first: f64, second: f64) -> f64 {
        self.surface.at(scaled(first, self.first), scaled(second, self.second))
    }
}

fn scaled(value: f64, (low, high): Range) -> f64 {
    (2.0 * value - low - high) / (high - low)
}

/// A table as written by `tables/regenerate/solutions.py`: lines of a word and its numbers, and surfaces, whose line gives
/// their name and orders and is followed by their rows.
pub(super) struct Table<'a> {
    lines: Vec<&'a str>,
}

impl<'a> Table<'a> {
    pub(super) fn new(text: &'a str) -> Self {
        Table { lines: text.lines().map(str::trim).filter(|line| !line.is_empty() && !line.starts_with('#')).collect() }
    }

    /// Index of the line that begins with a word, and the numbers behind it.
    fn line(&self, word: &str) -> Option<(usize, Vec<f64>)> {
        let index = self.lines.iter().position(|line| line.split_whitespace().next() == Some(word))?;
        Some((index, numbers(self.lines[index].strip_prefix(word)?)?))
    }

    /// The two numbers behind a word.
    pub(super) fn pair(&self, word: &str) -> Option<(f64, f64)> {
        match self.line(word)?.1[..] {
            [first, second] => Some((first, second)),
            _ => None,
        }
    }

    /// The surface of that name over the given ranges.
    pub(super) fn surface(&self, word: &str, first: Range, second: Range) -> Option<Property> {
        let (index, _) = self.line(word)?;
        let (height, width) = self.pair(word)?;
        let rows = self.lines.get(index + 1..index + 1 + height as usize)?;
        let rows: Vec<Vec<f64>> = rows.iter().map(|row| numbers(row)).collect::<Option<_>>()?;
        let width = width as usize;
        let whole = width > 0 && rows.iter().all(|row| row.len() == width);
        whole.then(|| Property { first, second, surface: Surface::new(rows.concat(), width) })
    }
}

fn numbers(text: &str) -> Option<Vec<f64>> {
    text.split_whitespace().map(|word| word.parse().ok()).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    const TEXT: &str = "# a remark\nwide 0 2\ntall 10 30\nthing 3 2\n1 2\n0.5 0\n0 4\nbroken 2 2\n1 2\n3\n";

    #[test]
    fn a_surface_is_the_sum_of_its_products() {
        let table = Table::new(TEXT);
        let (wide, tall) = (table.pair("wide").expect("two numbers"), table.pair("tall").expect("two numbers"));
        let surface = table.surface("thing", wide, tall).expect("well-formed");
        for (first, second) in [(0.0, 10.0), (2.0, 30.0), (0.3, 17.0), (1.9, 29.0)] {
            let (x, y): (f64, f64) = (first - 1.0, (second - 20.0) / 10.0);
            let wanted = 1.0 + 2.0 * y + 0.5 * x + 4.0 * (2.0 * x * x - 1.0) * y;
            assert!((surface.at(first, second) - wanted).abs() < 1e-14, "{first} {second}");
        }
    }

    #[test]
    fn a_table_with_a_short_row_or_without_the_name_is_refused() {
        let table = Table::new(TEXT);
        assert!(table.surface("broken", (0.0, 1.0), (0.0, 1.0)).is_none());
        assert!(table.surface("absent", (0.0, 1.0), (0.0, 1.0)).is_none());
        assert!(table.pair("1").is_none());
    }
}
