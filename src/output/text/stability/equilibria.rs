//! The equilibria with their modes.

use super::column::{Align, table};
use super::words::{both, indented, pressure, value};
use crate::output::answer::terminal_colour;
use crate::output::text::colouring::Colouring;
use crate::stability::equilibria::Rest;
use crate::stability::modes::{Mode, Part};
use crate::stability::roots::USUAL_BAND;
use crate::study::stability::StabilityStudy;
use crate::study::stability::point::{Answer, EquilibriumModes};
use crate::study::stability::reading::doubling_time;
use crate::units::Dimension;

/// Modes shown of a stage in contact.
const FEW: usize = 2;

pub(super) fn text(study: &StabilityStudy, width: usize, colouring: Colouring) -> String {
    let mut text = format!("\nEquilibria at {} circuit differential\n", both(study.differential));
    for e in &study.here.equilibria {
        text += &equilibrium(e, study.full_lift, width, colouring);
    }
    let note = "growth in 1/s; time to double (×2) or halve (÷2); shares of the parts; lag of the lift behind the differential \
                across the valve; does the valve feed the mode or damp it?";
    text + &indented(note, width)
}

fn equilibrium(e: &EquilibriumModes, full_lift: f64, width: usize, colouring: Colouring) -> String {
    let head = ["state", "lift", "across valve", "flow", "stiffness", "answer"];
    let share = (e.equilibrium.lift / full_lift).clamp(0.0, 1.0);
    let row = [
        e.equilibrium.rest.words().to_owned(),
        format!("{:.1} % ({})", 100.0 * share, millimetres(share * full_lift)),
        pressure(e.across),
        value(e.flow, Dimension::MassFlow),
        value(e.equilibrium.stiffness, Dimension::SpringRate),
        e.answer.words().to_owned(),
    ];
    let align = [Align::Left, Align::Right, Align::Right, Align::Right, Align::Right, Align::Left];
    let mut text = painted(&table(&head, &align, &[row], width), e.answer, colouring);
    if let Some(rate) = e.runaway {
        text += &format!("    leaves without oscillation, growing at {rate:.3} 1/s\n");
    }
    // A stage on its seat or its stop does not chatter: the slowest modes of the lines are enough.
    let most = if e.equilibrium.rest == Rest::Floating { e.modes.len() } else { e.modes.len().min(FEW) };
    text += &modes(&e.modes[..most], e.equilibrium.rest == Rest::Floating, width);
    if most < e.modes.len() {
        text += &format!("    and {} that die faster\n", e.modes.len() - most);
    }
    text
}

fn millimetres(lift: f64) -> String {
    format!("{:.2} mm", 1e3 * lift)
}

fn modes(modes: &[Mode], floats: bool, width: usize) -> String {
    if modes.is_empty() {
        return format!("    no oscillating mode between {} and {} Hz\n", USUAL_BAND.lowest, USUAL_BAND.highest);
    }
    let rows: Vec<[String; 10]> = modes.iter().map(|m| mode(m, floats)).collect();
    let head = ["growth", "freq.", "damp.", "×2, ÷2 in", "inlet", "cham.", "stage", "arm.", "outl.", "lag"];
    let align = [Align::Right; 10];
    let last: Vec<&str> = modes.iter().map(|m| if m.conductance < 0.0 { "feeds" } else { "damps" }).collect();
    let table = table(&head, &align, &rows, width.saturating_sub(9));
    let lines = table.lines().zip(std::iter::once("valve").chain(last));
    lines.map(|(line, valve)| format!("  {line}  {valve}\n")).collect()
}

/// A mode as a row; the lift of a stage in contact hardly moves, and its phase says nothing.
fn mode(mode: &Mode, floats: bool) -> [String; 10] {
    let share = |part: usize| format!("{:.0} %", 100.0 * mode.shares[part]);
    [
        format!("{:+.2}", mode.growth()).replace('-', "−"),
        value(mode.frequency(), Dimension::Frequency),
        format!("{:.3}", mode.damping()).replace('-', "−"),
        value(doubling_time(mode), Dimension::Time),
        share(0),
        share(1),
        share(2),
        share(3),
        share(4),
        if floats { format!("{:.0}°", mode.lag.to_degrees()).replace('-', "−") } else { "–".to_owned() },
    ]
}

/// Colours the answer in the table's last line.
fn painted(table: &str, answer: Answer, colouring: Colouring) -> String {
    let words = answer.words();
    match (colouring, table.rfind(words)) {
        (Colouring::Coloured, Some(at)) => {
            let (before, after) = (&table[..at], &table[at + words.len()..]);
            format!("{before}\u{1b}[38;5;{}m{words}\u{1b}[0m{after}", terminal_colour(answer))
        }
        _ => table.to_owned(),
    }
}

/// The order of the shares in the table's heads.
const _: () =
    assert!(matches!(Part::ALL, [Part::InletLine, Part::Chamber, Part::Stage, Part::Armature, Part::OutletLine]));
