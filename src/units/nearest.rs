//! The word that was meant, perhaps.

/// The nearest of some words to one that is not among them; none when nothing is near. Names of keys and units are short,
/// so that a Jaro-Winkler similarity above 0.7 separates slips of the finger from other words (judgement).
pub fn nearest<'w>(word: &str, among: impl Iterator<Item = &'w str>) -> Option<&'w str> {
    if crate::quote::is_no_name(word) {
        return None;
    }
    let lower = word.to_lowercase();
    among
        .map(|candidate| (strsim::jaro_winkler(&lower, &candidate.to_lowercase()), candidate))
        .filter(|(likeness, _)| *likeness > 0.7)
        .max_by(|a, b| a.0.total_cmp(&b.0))
        .map(|(_, candidate)| candidate)
}
