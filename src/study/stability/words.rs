//! Lists and shares in sentences.

/// "a", "a and b", "a, b and c".
pub(super) fn listed(words: &[String]) -> String {
    match words {
        [] => String::new(),
        [one] => one.clone(),
        [most @ .., last] => format!("{} and {last}", most.join(", ")),
    }
}

/// A share in per cent, never as nought.
pub(super) fn percent(share: f64) -> String {
    let digits = if share.abs() < 0.0995 { 1 } else { 0 };
    format!("{:.digits$} %", 100.0 * share)
}
