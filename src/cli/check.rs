//! `quietseat check`: what was understood.

use super::arguments::Check;
use super::outcome::{Failure, Outcome};
use super::{document, terminal};
use quietseat::indicator::Indicators;
use quietseat::output::caution::CAUTIONS;
use quietseat::output::json;
use quietseat::output::text::{Extent, indicator_table, paragraph};
use quietseat::physics::assembly::is_lumped;
use quietseat::scenario::{Document, Scenario, echo, parameters};
use quietseat::simulate::install;
use quietseat::simulate::throttle::prepare;
use quietseat::study::asked::asked;
use quietseat::study::boiling::{OpenMargins, open_margins};
use quietseat::study::by_hand::{by_hand, low_voltage_objection, objection};
use quietseat::units::{Dimension, UnitSystem, show};
use std::fmt::Write;

pub(super) fn run(arguments: &Check) -> Result<Outcome, Failure> {
    if arguments.paths {
        terminal::print(&paths())?;
        return Ok(Outcome::Done);
    }
    let opened = document::open(&arguments.common)?;
    let scenario = document::scenario(&opened, arguments.common.quiet)?;
    let indicators = by_hand(&scenario)?;
    if arguments.common.json {
        let answer = json::check_answer(&asked(&opened, &scenario)?, &indicators);
        terminal::print(&format!("{}\n", answer.text()))?;
    } else {
        terminal::print(&text(&opened, &scenario, &indicators)?)?;
    }
    Ok(Outcome::Done)
}

fn paths() -> String {
    parameters().iter().fold(String::new(), |mut text, parameter| {
        let _ = writeln!(text, "{:<44} {}", parameter.path, parameter.key.meaning);
        text
    })
}

fn text(opened: &Document, scenario: &Scenario, indicators: &Indicators) -> Result<String, Failure> {
    let width = terminal::width();
    let mut out = String::new();
    let _ = writeln!(out, "{}\n{}\n", scenario.question, scenario.data);
    let rows = echo(opened)?;
    let widest = |column: fn(&quietseat::scenario::Row) -> &str| {
        rows.iter().map(|row| column(row).chars().count()).max().unwrap_or(0)
    };
    let (a, b, c) = (widest(|r| &r.path), widest(|r| &r.si), widest(|r| &r.us));
    for row in &rows {
        let _ = writeln!(out, "{:<a$}  {:<b$}  {:<c$}  {}", row.path, row.si, row.us, row.typed);
    }
    let source = format!("fluid: {} ({})", scenario.fluid.name, scenario.fluid.source);
    let _ = write!(out, "\n{}", paragraph(&source, width));
    for (name, line) in [("upstream", &scenario.upstream), ("downstream", &scenario.downstream)] {
        let how = if is_lumped(line) {
            "one volume and one column (the wave crosses it faster than anything moves)".into()
        } else {
            format!("travelling waves over {} segments", line.segments)
        };
        let _ = writeln!(out, "{name} line: {how}");
    }
    let ready = prepare(scenario)?;
    if ready.sink.pressure != scenario.sink.pressure {
        let note = format!(
            "the sink is below the liquid's vapour pressure: the throttle flashes and is choked, so the line in front of it \
             is taken to end just above saturation, at {:.3} bar(a). At a standstill it drains the line behind the valve to the \
             sink: the armature must then open against {:.2} bar. The rush of liquid into that emptied line is not computed",
            ready.sink.pressure / 1e5,
            (ready.supply.pressure - ready.sink.drained) / 1e5
        );
        let _ = writeln!(out, "{}", paragraph(&note, width));
    }
    let installation = install(&ready, 293.15);
    if let Some(margins) = open_margins(&ready, &installation) {
        let _ = writeln!(out, "{}", paragraph(&margins_in_words(&margins), width));
    }
    let kv = installation.flow_coefficient();
    let _ = writeln!(out, "valve, fully open: Kv {kv:.3} m³/h (Cv {:.3})\n", kv * 1.156_099);
    out.push_str(&indicator_table(indicators, Extent::Shown, width));
    if let Some(objection) = objection(scenario, indicators).or_else(|| low_voltage_objection(scenario, indicators)) {
        let _ = write!(out, "\n{}", paragraph(&objection, width));
    }
    out.push('\n');
    for caution in CAUTIONS {
        out.push_str(&paragraph(caution, width));
    }
    Ok(out)
}

/// How far the open valve is from boiling, in a sentence.
fn margins_in_words(margins: &OpenMargins) -> String {
    let both = |value: f64, dimension: Dimension| {
        let (si, us) = (show(value, dimension, UnitSystem::Si), show(value, dimension, UnitSystem::Us));
        format!("{} {} ({} {})", si.0, si.1, us.0, us.1)
    };
    let side = |name: &str, pressure: f64, subcooling: Option<f64>| {
        let margin = both(pressure - margins.vapour, Dimension::PressureDifference);
        let kelvin = subcooling
            .map_or(String::new(), |value| format!(", {} subcooled", both(value, Dimension::TemperatureDifference)));
        format!(
            "the {name} has {}: {margin} above the vapour pressure{kelvin}",
            both(pressure, Dimension::AbsolutePressure)
        )
    };
    format!(
        "open, by hand, at {}: {}; {}",
        both(margins.flow, Dimension::MassFlow),
        side("inlet", margins.inlet, margins.subcooling.map(|(inlet, _)| inlet)),
        side("outlet", margins.outlet, margins.subcooling.map(|(_, outlet)| outlet))
    )
}
