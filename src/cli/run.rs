//! `quietseat run`: one duty.

use super::arguments::Run;
use super::{Failure, Outcome, cautions, document, terminal};
use quietseat::indicator::Indicators;
use quietseat::output::figure::Origin;
use quietseat::output::figure::cycle::{Limit, RunFigure, cycle};
use quietseat::output::text::{Extent, LedgerLine, indicator_table, ledger_table, paragraph, verdict_text};
use quietseat::output::{csv, json};
use quietseat::physics::fluid::Phase;
use quietseat::scenario::{Document, Scenario};
use quietseat::simulate::{ALLOWED_RESIDUE, CROSS_CHECK_LEAK_SHARE, Integrator};
use quietseat::study::coil_voltage::far_from_rated;
use quietseat::study::examine::{Examined, examine, examine_at};
use quietseat::units::{Dimension, UnitSystem, show};
use quietseat::verdict::Verdict;
use std::fmt::Write;
use std::path::PathBuf;

/// Pixels per point of the PNG figures.
const PNG_SCALE: f64 = 2.0;

pub(super) fn run(arguments: &Run) -> Result<Outcome, Failure> {
    let opened = document::open(&arguments.common)?;
    let scenario = document::scenario(&opened, arguments.common.quiet)?;
    super::probe(&arguments.out)?;
    let examined = examine(&scenario)?;
    let files = save(arguments, &opened, &scenario, &examined);
    let words = if arguments.common.json {
        json_text(&opened, &scenario, &examined).map(|text| format!("{text}\n"))
    } else {
        Ok(text(arguments, &opened, &scenario, &examined))
    };
    super::finished(files, words.and_then(|words| terminal::print(&words)), arguments.common.quiet)?;
    if arguments.cross_check {
        let text = cross_check(&examined, arguments.common.quiet)?;
        if arguments.common.json { terminal::say(text.trim_end()) } else { terminal::print(&text)? }
    }
    Ok(Outcome::of_verdict(examined.verdict.adverse(), &arguments.strict))
}

fn save(arguments: &Run, opened: &Document, scenario: &Scenario, examined: &Examined) -> Result<Vec<PathBuf>, Failure> {
    let overrides: Vec<String> = opened.settings().iter().map(ToString::to_string).collect();
    let told: Vec<String> = told(&examined.verdict)
        .into_iter()
        .chain(far_from_rated(scenario).map(|remark| format!("Remark: {remark}.")))
        .collect();
    let figure = cycle(&RunFigure {
        told: &told,
        trace: &examined.record.trace,
        origin: Origin {
            question: &scenario.question,
            scenario: &scenario.name,
            data: &scenario.data,
            overrides: &overrides,
        },
        limits: &limits(scenario),
        vapour_pressure: match &scenario.fluid.phase {
            Phase::Liquid(liquid) => Some(liquid.vapour_pressure),
            Phase::Gas(_) => None,
        },
        caution: cautions::CAUTION,
    });
    let named = |ending: &str| arguments.out.join(format!("{}.run.{ending}", scenario.name));
    let files = vec![
        (named("csv"), csv::trace(&examined.record.trace)),
        (named("svg"), figure.svg.clone().into_bytes()),
        (named("png"), figure.png(PNG_SCALE).map_err(|e| e.to_string())?),
    ];
    super::written(files)
}

/// The verdict in words for the figure, with what is not judged.
fn told(verdict: &Verdict) -> Vec<String> {
    let words: Vec<&str> = verdict.findings.iter().map(|finding| finding.behaviour.words()).collect();
    let found = (!words.is_empty()).then(|| format!("Verdict: {}.", words.join(", ")));
    found.into_iter().chain(verdict.reservation()).collect()
}

fn limits(scenario: &Scenario) -> Vec<Limit> {
    let pressure = |label: &str, value| Limit { label: label.into(), dimension: Dimension::AbsolutePressure, value };
    let mut limits = Vec::new();
    limits.extend(scenario.limits.peak_pressure.map(|p| pressure("allowed pressure", p)));
    limits.extend(scenario.limits.surge.map(|s| pressure("allowed surge", scenario.supply.pressure + s)));
    limits
}

fn json_text(opened: &Document, scenario: &Scenario, examined: &Examined) -> Result<String, Failure> {
    let mut out = document::json(json::Command::Run, opened, scenario)?;
    out.indicators = json::indicator_rows(&examined.indicators);
    out.verdict = Some(json::verdict_part(&examined.verdict));
    out.ledger = document::ledger_rows(&examined.record.balances);
    out.counters = document::counter_rows(&examined.record.counters);
    Ok(out.text())
}

fn text(arguments: &Run, opened: &Document, scenario: &Scenario, examined: &Examined) -> String {
    let width = terminal::width();
    let mut out = String::new();
    let _ = writeln!(out, "{}\n{}", scenario.question, scenario.data);
    for setting in opened.settings() {
        let _ = writeln!(out, "changed: {setting}");
    }
    out.push('\n');
    out.push_str(&verdict_text(&examined.verdict, width, terminal::colouring()));
    out.push('\n');
    let chief = chief(&examined.indicators);
    let shown = if arguments.all { &examined.indicators } else { &chief };
    out.push_str(&indicator_table(shown, Extent::Shown, width));
    let odd = document::remarks(opened, scenario).unwrap_or_default().into_iter().map(|odd| format!("Remark: {odd}"));
    for remark in odd.chain(remarks(&examined.scenario, &examined.indicators)) {
        let _ = writeln!(out, "\n{}", paragraph(&remark, width));
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
    let _ = writeln!(out, "\n{}", paragraph(cautions::CAUTION, width));
    out
}

/// A gas line is linearised about its own end; by the exact relation for a sudden stop of a perfect gas the pressure is then
/// 0.8 % low at Mach 0.1 and 5.5 % low at 0.3 (normal shock relations, see validation).
const MACH_LIMIT: f64 = 0.3;

/// A gas line's density is that of its end: friction is off in proportion to the change of pressure along it.
const GAS_LINE_CHANGE: f64 = 0.1;

/// Where the model is used beyond its range.
fn remarks(scenario: &Scenario, found: &Indicators) -> Vec<String> {
    let mach = found.inlet_mach.unwrap_or(0.0).max(found.outlet_mach.unwrap_or(0.0));
    let mut remarks = Vec::new();
    if mach > MACH_LIMIT {
        remarks.push(format!(
            "Remark: a line reaches Mach {mach:.2}. Gas lines are computed as small disturbances; above Mach {MACH_LIMIT} their \
             pressures are more than 5 % off."
        ));
    }
    let change = |p: Option<f64>, end: f64| p.map_or(0.0, |p| (p - end).abs() / end);
    let spread = change(found.inlet_pressure_open, scenario.supply.pressure)
        .max(change(found.outlet_pressure_open, scenario.sink.pressure));
    if matches!(scenario.fluid.phase, Phase::Gas(_)) && spread > GAS_LINE_CHANGE {
        remarks.push(format!(
            "Remark: the pressure changes by {:.0} % along a line. A gas line is computed with the density of its own end; above \
             {:.0} % its friction and flow are off by about as much.",
            100.0 * spread,
            100.0 * GAS_LINE_CHANGE
        ));
    }
    let cavity = found.largest_inlet_cavity.unwrap_or(0.0).max(found.largest_outlet_cavity.unwrap_or(0.0));
    if cavity > 0.0 {
        remarks.push(
            "Remark: a vapour cavity opens at the valve. The first closure's peak is sound; what follows its collapse (later \
             peaks) is uncertain."
                .into(),
        );
    }
    remarks
}

/// The numbers that most questions turn on.
fn chief(all: &Indicators) -> Indicators {
    Indicators {
        opening_time_90: all.opening_time_90,
        closing_time: all.closing_time,
        effective_closing_time: all.effective_closing_time,
        wave_return_time: all.wave_return_time,
        mean_lift: all.mean_lift,
        oscillation: all.oscillation,
        oscillation_rate: all.oscillation_rate,
        seat_contact_rate: all.seat_contact_rate,
        first_seat_speed: all.first_seat_speed,
        differential_open: all.differential_open,
        flow_open: all.flow_open,
        inlet_peak_closing: all.inlet_peak_closing,
        outlet_trough_closing: all.outlet_trough_closing,
        surge: all.surge,
        surge_ratio: all.surge_ratio,
        joukowsky_rise: all.joukowsky_rise,
        inlet_peak_later: all.inlet_peak_later,
        largest_inlet_cavity: all.largest_inlet_cavity,
        largest_outlet_cavity: all.largest_outlet_cavity,
        least_magnet_force: all.least_magnet_force,
        armature_load: all.armature_load,
        coil_current: all.coil_current,
        coil_temperature: all.coil_temperature,
        highest_opening_differential: all.highest_opening_differential,
        lift_off_differential: all.lift_off_differential,
        full_lift_differential: all.full_lift_differential,
        inlet_mach: all.inlet_mach,
        outlet_mach: all.outlet_mach,
        ..Indicators::default()
    }
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
