//! Whole runs of plausible scenarios with odd values: a verdict or a refusal, and every output whole.

use crate::door;
use crate::hand::{finite, odd, refused, scenario};
use crate::plausible::Numbers;
use crate::target::{Answer, Judged, Target, reason, whole};
use quietseat::output::figure::Origin;
use quietseat::output::figure::cycle::{RunFigure, cycle};
use quietseat::output::text::{Colouring, Extent, indicator_table, verdict_text};
use quietseat::output::{csv, json};
use quietseat::scenario::{Document, Scenario};
use quietseat::study::examine::examine;
use quietseat::study::examined::Examined;
use std::time::Duration;

/// Its limit is that of a run of the most evaluations on a busy machine; it is these that are bounded.
pub(crate) const RUNS: Target = Target { name: "runs", share: 2, limit: Duration::from_secs(300), make, check };

/// Longest phases, s.
const LONGEST: f64 = 1.0;

/// Evaluations of one run.
const MOST_EVALUATIONS: usize = 20_000_000;

fn make(numbers: &mut Numbers) -> String {
    odd(numbers)
}

fn check(input: &str) -> Judged {
    let (document, mut scenario) = match scenario(input)? {
        Ok(found) => found,
        Err(refusal) => return reason("a scenario", &refusal, input).map(|()| Answer::Refused(refusal)),
    };
    door::read(&document, input)?;
    scenario.run.longest_on = scenario.run.longest_on.min(LONGEST);
    scenario.run.longest_off = scenario.run.longest_off.min(LONGEST);
    match examine(&scenario) {
        Ok(examined) => told(&document, &scenario, &examined),
        Err(error) => refused(&error, input),
    }
}

fn told(document: &Document, scenario: &Scenario, examined: &Examined) -> Judged {
    let counters = &examined.record.counters;
    if counters.evaluations > MOST_EVALUATIONS {
        return Err(format!("a run of {} evaluations", counters.evaluations));
    }
    finite(&examined.indicators)?;
    let leading = examined.verdict.leading().ok_or("a run without a finding")?;
    for finding in &examined.verdict.findings {
        if !finding.margin.is_finite() {
            return Err(format!("{} by {}", finding.behaviour.words(), finding.margin));
        }
        reason("a finding", &finding.reason, "")?;
    }
    for extent in [Extent::Shown, Extent::All] {
        whole("the table", &indicator_table(&examined.indicators, extent, 100), "")?;
    }
    whole("the verdict", &verdict_text(&examined.verdict, 100, Colouring::Plain), "")?;
    let rows = String::from_utf8(csv::trace(&examined.record.trace)).map_err(|error| error.to_string())?;
    if rows.lines().count() != examined.record.trace.time.len() + 1 {
        return Err(format!("{} lines of {} instants", rows.lines().count(), examined.record.trace.time.len()));
    }
    whole("the trace", &rows, "")?;
    drawn(document, scenario, examined)?;
    written(examined)?;
    Ok(Answer::Taken(leading.behaviour.words().to_owned()))
}

fn drawn(document: &Document, scenario: &Scenario, examined: &Examined) -> Result<(), String> {
    let overrides: Vec<String> = document.settings().iter().map(ToString::to_string).collect();
    let told: Vec<String> = examined.verdict.findings.iter().map(|finding| finding.reason.clone()).collect();
    let figure = cycle(&RunFigure {
        trace: &examined.record.trace,
        origin: Origin {
            question: &scenario.question,
            scenario: &scenario.name,
            data: &scenario.data,
            overrides: &overrides,
        },
        limits: &[],
        vapour_pressure: None,
        told: &told,
        caution: "",
    });
    if !figure.svg.trim_end().ends_with("</svg>") {
        return Err("the figure has no end".to_owned());
    }
    whole("the figure", &figure.svg, "")
}

/// The numbers of the answer for programs: as many as there are, none lost as null.
fn written(examined: &Examined) -> Result<(), String> {
    let rows = json::indicator_rows(&examined.indicators);
    let (text, part) = (serde_json::to_string(&rows), serde_json::to_string(&json::verdict_part(&examined.verdict)));
    let (text, part) = (text.map_err(|error| error.to_string())?, part.map_err(|error| error.to_string())?);
    let shown = examined.indicators.list().iter().filter(|row| row.value.is_some()).count();
    let stated = rows.iter().filter(|row| row.value.is_some_and(f64::is_finite) && row.us_value.is_some()).count();
    if stated != shown || part.contains("\"margin\":null") {
        return Err(format!("{shown} numbers, of which {stated} are written: {text} {part}"));
    }
    Ok(())
}
