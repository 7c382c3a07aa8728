//! Tables of reference numbers, kept beside their README under `validation/` and built into the program.

/// A table: named columns, comments after `#`.
pub struct Table {
    file: &'static str,
    names: Vec<String>,
    rows: Vec<Vec<String>>,
}

/// One row of a table.
pub struct Row<'a> {
    table: &'a Table,
    fields: &'a [String],
}

/// The table of that path under `validation/`.
macro_rules! table {
    ($path:literal) => {
        $crate::validation::table::Table::parse(
            $path,
            include_str!(concat!(env!("CARGO_MANIFEST_DIR"), "/validation/", $path)),
        )
    };
}
pub(crate) use table;

impl Table {
    /// Read the text of `file`.
    pub fn parse(file: &'static str, text: &str) -> Result<Self, String> {
        let mut reader =
            csv::ReaderBuilder::new().comment(Some(b'#')).trim(csv::Trim::All).from_reader(text.as_bytes());
        let names = reader.headers().map_err(|e| format!("{file}: {e}"))?.iter().map(str::to_owned).collect();
        let mut rows = Vec::new();
        for record in reader.records() {
            let record = record.map_err(|e| format!("{file}: {e}"))?;
            rows.push(record.iter().map(str::to_owned).collect());
        }
        if rows.is_empty() {
            return Err(format!("{file}: the table is empty"));
        }
        Ok(Table { file, names, rows })
    }

    /// All rows.
    pub fn rows(&self) -> impl Iterator<Item = Row<'_>> {
        self.rows.iter().map(|fields| Row { table: self, fields })
    }
}

impl<'a> Row<'a> {
    /// The text under a heading.
    pub fn text(&self, name: &str) -> Result<&'a str, String> {
        let place = self.table.names.iter().position(|n| n == name);
        let field = place.and_then(|place| self.fields.get(place));
        field.map(String::as_str).ok_or_else(|| format!("{}: no column {name}", self.table.file))
    }

    /// The number under a heading.
    pub fn number(&self, name: &str) -> Result<f64, String> {
        let text = self.text(name)?;
        text.parse().map_err(|_| format!("{}: {name}: {text:?} is no number", self.table.file))
    }

    /// Several numbers at once.
    pub fn numbers<const N: usize>(&self, names: [&str; N]) -> Result<[f64; N], String> {
        let mut found = [0.0; N];
        for (number, name) in found.iter_mut().zip(names) {
            *number = self.number(name)?;
        }
        Ok(found)
    }

    /// The number under a heading, or none where nothing is given.
    pub fn given(&self, name: &str) -> Result<Option<f64>, String> {
        if self.text(name)?.is_empty() { Ok(None) } else { self.number(name).map(Some) }
    }
}

#[cfg(test)]
mod tests {
    use super::Table;

    #[test]
    fn numbers_blanks_and_faults_are_told_apart() {
        let table = Table::parse("a.csv", "# why\nx,y\n1.5, \n2,two\n").expect("a sound table");
        let rows: Vec<_> = table.rows().collect();
        assert_eq!((rows[0].number("x"), rows[0].given("y")), (Ok(1.5), Ok(None)));
        assert!(rows[1].given("y").expect_err("no number").contains("a.csv"));
        assert!(rows[1].number("z").expect_err("no column").contains("no column z"));
        assert!(Table::parse("b.csv", "x,y\n1\n").is_err() && Table::parse("c.csv", "x\n").is_err());
    }
}
