//! A table of texts in aligned columns.

use crate::output::text::layout::{length, padded, shortened};

/// Side on which the texts of a column stand.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Align {
    /// Words.
    Left,
    /// Numbers.
    Right,
}

/// Spaces before the first column.
const INDENT: usize = 2;
/// Spaces between columns, and where room is short.
const GAPS: [usize; 2] = [2, 1];
/// The first column is not shortened below this.
const LEAST_FIRST: usize = 8;

/// The rows below their heads; where they are too wide for `width`, columns move together, and then the words of the first
/// column are shortened.
pub(super) fn table<const N: usize>(
    head: &[&str; N],
    align: &[Align; N],
    rows: &[[String; N]],
    width: usize,
) -> String {
    let widest = |n: usize| rows.iter().map(|row| length(&row[n])).chain([length(head[n])]).max().unwrap_or(0);
    let mut wide: [usize; N] = std::array::from_fn(widest);
    let all = |gap: usize| INDENT + wide.iter().sum::<usize>() + gap * N.saturating_sub(1);
    let gap = if all(GAPS[0]) <= width { GAPS[0] } else { GAPS[1] };
    let all = all(gap);
    wide[0] = wide[0].saturating_sub(all.saturating_sub(width)).max(LEAST_FIRST.min(wide[0]));
    let line = |cells: [&str; N]| -> String {
        let written: Vec<String> = (0..N)
            .map(|n| {
                let cell = shortened(cells[n], wide[n]);
                match align[n] {
                    Align::Left => padded(&cell, wide[n]),
                    Align::Right => " ".repeat(wide[n].saturating_sub(length(&cell))) + &cell,
                }
            })
            .collect();
        format!("{}{}", " ".repeat(INDENT), written.join(&" ".repeat(gap))).trim_end().to_owned() + "\n"
    };
    let body: String = rows.iter().map(|row| line(std::array::from_fn(|n| row[n].as_str()))).collect();
    line(*head) + &body
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn columns_are_aligned_and_only_the_first_gives_way() {
        let rows = [["length of the downstream line".to_owned(), "1.5 m".to_owned()], ["x".into(), "12 m".into()]];
        let wide = table(&["parameter", "today"], &[Align::Left, Align::Right], &rows, 80);
        let line = |words: &str, value: &str| format!("  {words:<29}  {value:>5}\n");
        let lines = [line("parameter", "today"), line("length of the downstream line", "1.5 m"), line("x", "12 m")];
        assert_eq!(wide, lines.concat());
        let narrow = table(&["parameter", "today"], &[Align::Left, Align::Right], &rows, 24);
        assert!(narrow.lines().all(|l| length(l) <= 24) && narrow.contains("length of the d… 1.5 m"), "{narrow}");
    }
}
