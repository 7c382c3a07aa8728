//! No text makes the reading of scenarios panic: a small fuzz that is the same every time.

use quietseat::scenario::{Document, parameters};
use quietseat::units::Dimension;

const WATER: &str = "scenarios/water-bang.toml";

fn water() -> String {
    std::fs::read_to_string(WATER).expect("the demonstration is there")
}

/// A small generator of the same numbers every time (xorshift: G. Marsaglia, Journal of Statistical Software 8 (2003)
/// no. 14, from memory).
struct Numbers(u64);

impl Numbers {
    fn below(&mut self, end: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 % end.max(1) as u64) as usize
    }
}

#[test]
fn no_text_panics() {
    let pieces = [
        "[",
        "]",
        "=",
        "\"",
        "'",
        "\n",
        "none",
        "like = \"",
        "[valve]",
        "valve.main",
        ".",
        "{",
        "}",
        ",",
        "°",
        "µ",
        "−",
        "1e999",
        "nan",
        "0x",
        "-",
        "\t",
        "\r\n",
        "bar(a)",
        "[[",
        "\u{0}",
        "\u{feff}",
        "5 bar(",
        "é",
        "[supply]\npressure",
        "\"\"\"",
        "#",
        "\\u12",
        "1979-05-27",
        "true",
        "1_000",
        "e",
        "+",
        ",5",
    ];
    let text = water();
    let mut numbers = Numbers(0x9e37_79b9_7f4a_7c15);
    for _ in 0..1500 {
        let mut letters: Vec<char> = text.chars().collect();
        for _ in 0..=numbers.below(6) {
            let at = numbers.below(letters.len());
            let cut = (at + numbers.below(12)).min(letters.len());
            let piece = pieces[numbers.below(pieces.len())];
            letters.splice(at..cut, piece.chars());
        }
        let document = Document::from_text("fuzz.toml", letters.into_iter().collect::<String>());
        if let Err(problems) = document.scenario() {
            assert!(!problems.to_string().is_empty());
        }
    }
    for _ in 0..3000 {
        let words: String = (0..numbers.below(12)).map(|_| pieces[numbers.below(pieces.len())]).collect();
        let document = Document::from_text("fuzz.toml", words.clone());
        let _ = document.scenario().map_err(|problems| problems.to_string());
        let _ = document.with_setting(&words);
        for parameter in parameters().iter().step_by(17) {
            let _ = document.with_setting(&format!("{}={words}", parameter.path)).map(|document| document.scenario());
        }
        for &dimension in Dimension::ALL {
            let _ = quietseat::units::parse(&words, dimension, 1e5);
        }
    }
}
