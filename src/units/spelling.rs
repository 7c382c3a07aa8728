//! One plain spelling for the many ways in which a unit is typed.

/// The plain spelling: no blanks or multiplication signs, ASCII digits for superscripts, `u` for micro, `ohm` for Ω, and
/// `°C`, `°F`, `°R` for the degrees. Letters keep their case, since it tells milli from mega.
pub(super) fn plain(unit: &str) -> String {
    let mut plain = String::with_capacity(unit.len());
    for letter in unit.chars() {
        match letter {
            ' ' | '\u{a0}' | '\u{202f}' | '\t' | '·' | '⋅' | '*' | '^' => {}
            '²' | '₂' => plain.push('2'),
            '³' => plain.push('3'),
            'µ' | 'μ' => plain.push('u'),
            'Ω' | '\u{2126}' => plain.push_str("ohm"),
            '℃' => plain.push_str("°C"),
            '℉' => plain.push_str("°F"),
            'º' => plain.push('°'),
            other => plain.push(other),
        }
    }
    if plain.contains("deg") {
        for (word, sign) in [("degC", "°C"), ("degF", "°F"), ("degR", "°R")] {
            plain = plain.replace(word, sign);
        }
    }
    plain
}

/// What a pressure is counted from, as its unit says.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Reference {
    /// From vacuum.
    Vacuum,
    /// From the atmosphere.
    Atmosphere,
    /// A difference of two pressures.
    Difference,
    /// Not said.
    Unsaid,
}

/// The bare pressure unit and what is said about its reference.
pub(super) fn reference(plain: &str) -> (&str, Reference) {
    let endings = [
        ("(a)", Reference::Vacuum),
        ("(abs)", Reference::Vacuum),
        ("(absolute)", Reference::Vacuum),
        ("absolute", Reference::Vacuum),
        ("abs", Reference::Vacuum),
        ("(g)", Reference::Atmosphere),
        ("(gauge)", Reference::Atmosphere),
        ("gauge", Reference::Atmosphere),
        ("(d)", Reference::Difference),
        ("(diff)", Reference::Difference),
    ];
    for (ending, reference) in endings {
        if let Some(bare) = plain.strip_suffix(ending) {
            return (bare, reference);
        }
    }
    // A single letter is an ending only behind a unit that is complete without it: the `a` of `Pa` is not one.
    for (ending, reference) in [('a', Reference::Vacuum), ('g', Reference::Atmosphere), ('d', Reference::Difference)] {
        if let Some(bare) = plain.strip_suffix(ending)
            && super::table::PRESSURES.iter().any(|unit| unit.name == bare || unit.also.contains(&bare))
        {
            return (bare, reference);
        }
    }
    (plain, Reference::Unsaid)
}
