//! A designation cut into numbers, units and words, and these sorted by what they say.

use super::material::Material;

/// Unit of a number in a designation.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Unit {
    Millimetre,
    Inch,
}

impl Unit {
    /// Metres, by the same arithmetic as a length with its unit.
    pub(super) fn metres(self, value: f64) -> f64 {
        match self {
            Unit::Millimetre => value / 1000.0,
            Unit::Inch => value * 254.0 / 10_000.0,
        }
    }
}

/// A number as it was written.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Number {
    pub(super) value: f64,
    pub(super) text: String,
    pub(super) unit: Option<Unit>,
    pub(super) fraction: bool,
}

/// State of a copper tube.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Temper {
    Soft,
    Hard,
}

/// What a designation says.
#[derive(Clone, Debug, Default)]
pub(super) struct Parts {
    /// Numbers that state sizes.
    pub(super) sizes: Vec<Number>,
    /// An "x" stands between sizes.
    pub(super) by: bool,
    /// "ACR".
    pub(super) acr: bool,
    /// An inside diameter is claimed.
    pub(super) inside: bool,
    pub(super) dn: Option<f64>,
    pub(super) schedule: Option<f64>,
    pub(super) sdr: Option<f64>,
    pub(super) temper: Option<Temper>,
    pub(super) material: Option<Material>,
}

#[derive(Clone, Debug, PartialEq)]
enum Token {
    Number(Number),
    Unit(Unit),
    By,
    Word(String),
}

const FRACTIONS: &[(char, &str)] =
    &[('½', "1/2"), ('¼', "1/4"), ('¾', "3/4"), ('⅛', "1/8"), ('⅜', "3/8"), ('⅝', "5/8"), ('⅞', "7/8")];

/// Lower case with blanks between numbers and letters, plain fractions and no signs of other kinds.
fn plain(text: &str) -> String {
    let lower = text.to_lowercase().replace("pe-x", "pex").replace("o.d.", "od").replace("i.d.", "id");
    let characters: Vec<char> = lower.chars().collect();
    let mut out = String::new();
    for (at, &character) in characters.iter().enumerate() {
        let before = at.checked_sub(1).map(|at| characters[at]);
        if let Some((_, spelled)) = FRACTIONS.iter().find(|(sign, _)| *sign == character) {
            out.extend([" ", spelled, " "]);
            continue;
        }
        match character {
            '×' | '*' => out.push_str(" x "),
            '"' | '″' | '”' => out.push_str(" in "),
            '⁄' => out.push('/'),
            '-' | '‑' | '–' | '_' | ',' | ';' | '(' | ')' | 'ø' | '⌀' => out.push(' '),
            _ => {
                let turns = before.is_some_and(|c| {
                    (c.is_ascii_digit() && character.is_alphabetic())
                        || (c.is_alphabetic() && character.is_ascii_digit())
                });
                if turns {
                    out.push(' ');
                }
                out.push(character);
            }
        }
    }
    out
}

fn number(chunk: &str) -> Option<Number> {
    let (value, fraction) = match chunk.split_once('/') {
        Some((above, below)) => (above.parse::<f64>().ok()? / below.parse::<f64>().ok()?, true),
        None => (chunk.parse::<f64>().ok()?, false),
    };
    let sound = chunk.starts_with(|c: char| c.is_ascii_digit() || c == '.') && value.is_finite() && value > 0.0;
    sound.then(|| Number { value, text: chunk.to_owned(), unit: None, fraction })
}

fn tokens(text: &str) -> Vec<Token> {
    let mut found: Vec<Token> = Vec::new();
    for chunk in plain(text).split_whitespace() {
        let token = match chunk {
            "x" => Token::By,
            "mm" => Token::Unit(Unit::Millimetre),
            "in" | "inch" | "inches" => Token::Unit(Unit::Inch),
            _ => number(chunk).map_or_else(|| Token::Word(chunk.to_owned()), Token::Number),
        };
        match (found.last_mut(), token) {
            // "1-1/8" and "1 1/8" are one number.
            (Some(Token::Number(whole)), Token::Number(part))
                if part.fraction && part.value < 1.0 && !whole.fraction && whole.value.fract() == 0.0 =>
            {
                whole.value += part.value;
                whole.text = format!("{}-{}", whole.text, part.text);
                whole.fraction = true;
            }
            (Some(Token::Number(number)), Token::Unit(unit)) => number.unit = Some(unit),
            (_, token) => found.push(token),
        }
    }
    found
}

/// Refuses what the rest would read in one of two ways: a minus sign before a size, a comma between digits.
fn unclear(text: &str) -> Result<(), String> {
    let text = text.trim();
    let characters: Vec<char> = text.chars().collect();
    let digit = |at: usize| characters.get(at).is_some_and(char::is_ascii_digit);
    for (at, &character) in characters.iter().enumerate() {
        let begins = at == 0 || characters[at - 1].is_whitespace() || ['x', '×'].contains(&characters[at - 1]);
        if ['-', '−'].contains(&character) && begins && digit(at + 1) {
            return Err(format!("\"{text}\" has a minus sign before a size; a pipe is above zero"));
        }
        if character == ',' && at > 0 && digit(at - 1) && digit(at + 1) {
            return Err(format!("\"{text}\" has a comma; the decimal sign is a point, as in \"22.5 x 1.2\""));
        }
    }
    Ok(())
}

/// Sorts a designation by what its words say.
pub(super) fn parts(text: &str) -> Result<Parts, String> {
    let mut parts = Parts::default();
    let mut words: Vec<String> = Vec::new();
    unclear(text)?;
    let mut tokens = tokens(text).into_iter().peekable();
    while let Some(token) = tokens.next() {
        let mut next = |what: &str| match tokens.next_if(|next| matches!(next, Token::Number(_))) {
            Some(Token::Number(number)) => Ok(Some(number.value)),
            _ => Err(format!("\"{}\" has no number behind {what}", text.trim())),
        };
        match token {
            Token::By => parts.by = true,
            Token::Unit(unit) => {
                if let Some(last) = parts.sizes.last_mut() {
                    last.unit.get_or_insert(unit);
                }
            }
            Token::Word(word) => match word.as_str() {
                "dn" => parts.dn = next("DN")?,
                "sch" | "schedule" => parts.schedule = next("the schedule")?,
                "sdr" => parts.sdr = next("SDR")?,
                "acr" => parts.acr = true,
                "hard" | "drawn" => parts.temper = Some(Temper::Hard),
                "soft" | "annealed" => parts.temper = Some(Temper::Soft),
                "id" | "inside" | "inner" | "bore" => parts.inside = true,
                "od" | "outside" | "nps" | "tube" | "pipe" => {}
                // A standard behind the size says nothing more: it is found from the size.
                "en" | "din" | "iso" | "astm" | "asme" => break,
                _ => words.push(word),
            },
            // "PE 100" is a class of the material, but "PE 100 x 9.1" would be a size.
            Token::Number(class)
                if words.last().is_some_and(|word| ["pe", "hdpe"].contains(&word.as_str()))
                    && (class.value == 80.0 || class.value == 100.0)
                    && tokens.peek() != Some(&Token::By) =>
            {
                words.push(class.text);
            }
            Token::Number(number) => parts.sizes.push(number),
        }
    }
    if !words.is_empty() {
        parts.material = Some(Material::from_name(&words.join(" "))?);
    }
    Ok(parts)
}
