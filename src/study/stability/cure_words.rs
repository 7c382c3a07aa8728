//! What a run makes of the point, and what quiets it, in sentences.

use super::cure::{Attempt, Cure, Direction};
use super::growth::Outcome;
use super::lever::By;
use super::reading::Change;
use super::trial::Quiet;
use super::words::{listed, percent};
use crate::study::quoted::said;
use crate::units::{Dimension, text};
use crate::verdict::{Behaviour, Finding};

/// Cures of one kind that are named in the sentence.
const NAMED: usize = 4;

/// What the simulated valve does.
pub(super) fn today(finding: &Finding) -> String {
    let driven = if finding.behaviour == Behaviour::RattlesWithSupply {
        " The theory of small motions leaves the supply's pulsation out: its edges are those of the valve without it. What quiets \
         the swing is confirmed in runs with the pulsation on."
    } else {
        ""
    };
    format!("Simulated, it {}: {}.{driven}", finding.behaviour.words(), finding.reason)
}

/// What quiets it; none where nothing was looked for.
pub(super) fn sentences(attempts: &[Attempt]) -> Vec<String> {
    if attempts.is_empty() {
        return Vec::new();
    }
    let kinds =
        [(By::Site, "On site"), (By::Part, "With a part that is bought"), (By::Maker, "By the valve's maker only")];
    let named: Vec<String> = kinds.into_iter().filter_map(|(by, words)| kind(attempts, by, words)).collect();
    let mut all = if named.is_empty() {
        vec!["No single change within reach is quiet in simulated runs, knocked and at 1.25 times the change.".into()]
    } else {
        let head = "Each of these alone is quiet in simulated runs, undisturbed and knocked, as quoted and up to 1.25 times the \
                    change.";
        std::iter::once(head.to_owned()).chain(named).collect()
    };
    all.extend(windows(attempts));
    all.extend(turned(attempts));
    all
}

fn kind(attempts: &[Attempt], by: By, words: &str) -> Option<String> {
    let own = || {
        let cures = attempts.iter().filter(|a| a.lever.by == by).filter_map(|a| Some((a, a.cure.as_ref()?)));
        // The rest that may stay is told with the removal.
        cures.filter(|(a, cure)| !(a.mostly_gone(cure) && removal(attempts, a).is_some()))
    };
    let named: Vec<String> = own().take(NAMED).map(|(attempt, cure)| one(attempts, attempt, cure)).collect();
    let more = match own().count().saturating_sub(NAMED) {
        0 => String::new(),
        n => format!("; {n} more in the table"),
    };
    (!named.is_empty()).then(|| format!("{words}: {}{more}.", named.join("; ")))
}

/// The confirmed removal of the same thing.
fn removal<'a>(attempts: &'a [Attempt], of: &Attempt) -> Option<&'a Attempt> {
    let same = |a: &&Attempt| a.lever.path == of.lever.path && a.direction == Direction::Without && a.cure.is_some();
    attempts.iter().find(same)
}

/// How much of a thing may stay that is taken away.
fn rest(attempts: &[Attempt], of: &Attempt) -> String {
    let less = attempts.iter().find(|a| a.lever.path == of.lever.path && a.direction == Direction::Less);
    let Some((less, cure)) = less.and_then(|a| Some((a, a.cure.as_ref().filter(|cure| a.mostly_gone(cure))?))) else {
        return String::new();
    };
    let theory = less.theory.map_or(String::new(), |(edge, _)| {
        format!("; small motions alone die below {}", said(edge, of.lever.dimension))
    });
    format!("; at most {} of it may stay{theory}", said(cure.value, of.lever.dimension))
}

/// One cure: the value, today's, the theory's edge, the end.
fn one(attempts: &[Attempt], attempt: &Attempt, cure: &Cure) -> String {
    let lever = &attempt.lever;
    let today = text(lever.value, lever.dimension);
    let end = match cure.rests {
        Quiet::Floats => "",
        Quiet::Opens => " (it then opens fully)",
    };
    if attempt.direction == Direction::Without {
        return format!("{} taken away altogether ({today} today{}){end}", lever.words, rest(attempts, attempt));
    }
    let side = if attempt.direction == Direction::Less { "or less" } else { "or more" };
    let by = match attempt.change() {
        Some(Change::Pressure(by)) => signed(text(by, Dimension::PressureDifference), by),
        Some(Change::Share(share)) => signed(percent(share), share),
        None => String::new(),
    };
    let theory = attempt.theory.filter(|(_, outcome)| *outcome != Outcome::StaysShut);
    let theory = theory.map_or(String::new(), |(edge, outcome)| {
        let what = if outcome == Outcome::Opens { "open by theory" } else { "small motions die" };
        format!(", {what} from {} on", said(edge, lever.dimension))
    });
    let ends = cure
        .ends
        .as_ref()
        .map_or(String::new(), |(at, why)| format!(", but not at {}: {why}", said(*at, lever.dimension)));
    let ends = format!("; tried to {}{ends}", said(cure.sure_to, lever.dimension));
    format!("{} {} {side} instead of {today} ({by}{theory}{ends}){end}", lever.words, said(cure.value, lever.dimension))
}

fn signed(text: String, value: f64) -> String {
    if value > 0.0 { format!("+{text}") } else { text.replace('-', "−") }
}

/// Stretches that are quiet and then not again, where nothing beyond them is sure.
fn windows(attempts: &[Attempt]) -> Option<String> {
    let unsure = attempts.iter().filter(|a| a.cure.is_none() && !a.windows.is_empty());
    let each: Vec<String> = unsure
        .map(|a| {
            let window = &a.windows[0];
            let value = |v: f64| said(v, a.lever.dimension);
            format!("{} {} (at {}: {})", a.lever.words, value(window.first), value(window.fails_at), window.why)
        })
        .collect();
    (!each.is_empty()).then(|| format!("Quiet only in a narrow window, and so no cure: {}.", listed(&each)))
}

/// Parameters that quiet it the way which the slope of the growth advises against.
fn turned(attempts: &[Attempt]) -> Option<String> {
    let cured = |path: &str, more: bool| {
        let own = |a: &&Attempt| a.lever.path == path && (a.direction == Direction::More) == more;
        attempts.iter().filter(own).any(|a| a.cure.is_some())
    };
    let against = |a: &&Attempt| {
        let slope = a.slope.unwrap_or(0.0);
        let advised = slope < 0.0;
        slope != 0.0 && cured(a.lever.path, !advised) && !cured(a.lever.path, advised)
    };
    let mut words: Vec<String> = attempts.iter().filter(against).map(|a| a.lever.words.to_owned()).collect();
    words.sort();
    words.dedup();
    (!words.is_empty()).then(|| {
        format!(
            "The slope at today's value, which tells of small motions near there only, advises the other way for: {}. Further off \
             the growth turns, and of a large swing the runs decide.",
            listed(&words)
        )
    })
}
