//! `quietseat run`: one duty.

use super::arguments::Run;
use super::files::{finished, probe, written};
use super::outcome::{Failure, Outcome};
use super::{document, terminal};
use quietseat::output::caution::CAUTION;
use quietseat::output::figure::cycle::examined as drawn;
use quietseat::output::text::{Extent, LedgerLine, indicator_table, ledger_table, paragraph, verdict_text};
use quietseat::output::{csv, json};
use quietseat::simulate::{ALLOWED_RESIDUE, CROSS_CHECK_LEAK_SHARE, Integrator};
use quietseat::study::asked::{Asked, asked};
use quietseat::study::examine::{examine, examine_at};
use quietseat::study::examined::Examined;
use quietseat::study::range;
use quietseat::units::{UnitSystem, show};
use std::fmt::Write;
use std::path::PathBuf;

/// Pixels per point of the PNG figures.
const PNG_SCALE: f64 = 2.0;

pub(super) fn run(arguments: &Run) -> Result<Outcome, Failure> {
    let opened = document::open(&arguments.common)?;
    let scenario = document::scenario(&opened, arguments.common.quiet)?;
    probe(&arguments.out)?;
    let examined = examine(&scenario)?;
    let asked = asked(&opened, &scenario)?;
    let files = save(arguments, &asked, &examined);
    let words = if arguments.common.json {
        format!("{}\n", json::run_answer(&asked, &examined).text())
    } else {
        text(arguments, &asked, &examined)
    };
    finished(files, terminal::print(&words), arguments.common.quiet)?;
    if arguments.cross_check {
        let text = cross_check(&examined, arguments.common.quiet)?;
        if arguments.common.json { terminal::say(text.trim_end()) } else { terminal::print(&text)? }
    }
    Ok(Outcome::of_verdict(examined.verdict.adverse(), &arguments.strict))
}

fn save(arguments: &Run, asked: &Asked, examined: &Examined) -> Result<Vec<PathBuf>, Failure> {
    let figure = drawn(asked, examined);
    let named = |ending: &str| arguments.out.join(format!("{}.run.{ending}", asked.scenario));
    let files = vec![
        (named("csv"), csv::trace(&examined.record.trace)),
        (named("svg"), figure.svg.clone().into_bytes()),
        (named("png"), figure.png(PNG_SCALE).map_err(|e| e.to_string())?),
    ];
    written(files)
}

fn text(arguments: &Run, asked: &Asked, examined: &Examined) -> String {
    let width = terminal::width();
    let mut out = String::new();
    let _ = writeln!(out, "{}\n{}", asked.question, asked.data);
    for setting in &asked.overrides {
        let _ = writeln!(out, "changed: {setting}");
    }
    out.push('\n');
    out.push_str(&verdict_text(&examined.verdict, width, terminal::colouring()));
    out.push('\n');
    let chief = examined.indicators.chief();
    let shown = if arguments.all { &examined.indicators } else { &chief };
    out.push_str(&indicator_table(shown, Extent::Shown, width));
    let beyond = range::remarks(&examined.scenario, &examined.indicators);
    for remark in asked.remarks.iter().chain(&beyond) {
        // The excerpt of the file below it is shown on stderr; here it would run into the sentence.
        let sentence = remark.lines().next().unwrap_or_default();
        let _ = writeln!(out, "\n{}", paragraph(&format!("Remark: {sentence}"), width));
    }
    let record = &examined.record;
    let lines: Vec<LedgerLine<'_>> =
        record.balances.iter().map(|b| LedgerLine { name: b.name, value: b.relative(), unit: "" }).collect();
    let _ = writeln!(
        out,
        "\nledger, residues relative to the larger side (at most {ALLOWED_RESIDUE:.0e}), at tolerance {:.0e}:",
        record.tolerance
    );
    out.push_str(&ledger_table(&lines, width));
    let c = &record.counters;
    let _ = writeln!(
        out,
        "simulated {:.2} s in {} steps ({} rejected), {} evaluations",
        record.duration, c.accepted, c.rejected, c.evaluations
    );
    let _ = writeln!(out, "\n{}", paragraph(CAUTION, width));
    out
}

/// Every indicator by both methods, on the same installation.
fn cross_check(examined: &Examined, quiet: bool) -> Result<String, Failure> {
    if !quiet {
        terminal::say("cross-check: repeating the run with an explicit method …");
    }
    let again = |integrator| {
        let temperature = examined.record.coil_temperature;
        examine_at(examined.scenario.clone(), examined.phases, temperature, integrator)
    };
    let (stiff, explicit) = (again(Integrator::StiffForCrossCheck)?, again(Integrator::Explicit)?);
    let mut out = format!(
        "\ncross-check of the integration: the same valve by the stiff Rosenbrock method and by the explicit one of Dormand and\n\
         Prince. In both its shut pilot leaks as if {:.1} % open, without which the explicit method could not follow; so the\n\
         numbers differ a little from those above. What counts is that the two columns agree.\n\n{:<30} {:>18} {:>18}  {}\n",
        100.0 * CROSS_CHECK_LEAK_SHARE,
        "",
        "stiff",
        "explicit",
        "deviation"
    );
    for (a, b) in stiff.indicators.list().iter().zip(explicit.indicators.list()) {
        let (Some(one), Some(other)) = (a.value, b.value) else { continue };
        let shown = |value| {
            let (number, unit) = show(value, a.dimension, UnitSystem::Si);
            format!("{number} {unit}")
        };
        let size = one.abs().max(other.abs());
        let deviation = if size > 0.0 { (one - other).abs() / size } else { 0.0 };
        let name = a.name.replace('_', " ");
        let _ = writeln!(out, "{name:<30} {:>18} {:>18}  {deviation:.1e}", shown(one), shown(other));
    }
    let (a, b) = (stiff.record.counters.evaluations, explicit.record.counters.evaluations);
    let _ = writeln!(out, "evaluations of the right-hand side: {a} stiff, {b} explicit");
    Ok(out)
}
