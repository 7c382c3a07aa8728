//! Steady friction of a line, laminar or turbulent.

use super::case::{Case, Check, Obtained, Tolerance};
use super::table::table;
use super::worst::Worst;
use crate::physics::line::LineState;
use crate::physics::parts::{Fittings, Line, LineModel};

pub(super) fn cases() -> Vec<Case> {
    vec![Case {
        folder: "pipe_friction",
        name: "Steady friction of a line: laminar or turbulent, not both",
        source: "Hagen-Poiseuille's law and Darcy-Weisbach's with Colebrook's factor (textbooks)",
        obtained: Obtained::Library("fluids 1.3.1"),
        reason: "ten digits in the table",
        misfit: None,
        checks,
    }]
}

fn checks() -> Result<Vec<Check>, String> {
    let mut laminar = Worst::new("laminar, loss, Pa", Tolerance::Relative(1e-8));
    let mut turbulent = Worst::new("turbulent, loss, Pa", Tolerance::Relative(1e-8));
    for row in table!("pipe_friction/loss.csv")?.rows() {
        let (density, viscosity) = (row.number("density_kg_m3")?, row.number("viscosity_pa_s")?);
        let (bore, velocity) = (row.number("bore_m")?, row.number("velocity_m_s")?);
        let line = Line {
            length: row.number("length_m")?,
            bore,
            wave_speed: 1000.0,
            density: None,
            friction_factor: row.number("friction_factor")?,
            loss_coefficient: 0.0,
            segments: 1,
            model: LineModel::Auto,
            fittings: Fittings::default(),
        };
        let state = LineState::new(&line, density, viscosity, 0.0, 0.0, None);
        let reynolds = density * velocity * bore / viscosity;
        let worst = if reynolds < 2000.0 { &mut laminar } else { &mut turbulent };
        let loss = state.wall.with(state.end).loss(density * velocity * state.area);
        worst.note(loss, row.number("loss_pa")?, || format!("Re = {reynolds:.0}"));
    }
    Ok(vec![laminar.check()?, turbulent.check()?])
}
