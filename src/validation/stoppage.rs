//! A flow (not an opening) that falls linearly to nothing over a whole number of periods.

use super::case::{Case, Check, Obtained, Tolerance};
use super::plain_pipe::{Prescribed, run};
use super::sudden_stop::ten_metres;
use super::worst::Worst;

pub(super) fn cases() -> Vec<Case> {
    vec![Case {
        folder: "michaud_1878_stoppage",
        name: "Linear fall of flow: a triangle, then silence",
        source: "J. Michaud, Coups de bélier dans les conduites, Bulletin de la Société Vaudoise des Ingénieurs, 1878 (from \
                 memory): top 2ρLv/T; the triangle by superposition of Joukowsky steps, own derivation",
        obtained: Obtained::Exact,
        reason: "straight pieces are exact for cubics, so rounding is left",
        misfit: None,
        checks,
    }]
}

fn checks() -> Result<Vec<Check>, String> {
    let pipe = ten_metres(1);
    let (velocity, p_0, phase) = (0.5, 3e5, pipe.phase());
    let flow = pipe.mass_flow(velocity);
    let closing = 8.0 * phase;
    let mut line = pipe.wave_line(p_0, flow);
    let top = 2.0 * pipe.density * pipe.length * velocity / closing;
    let mut highest = f64::MIN;
    let mut during = Worst::new("rise while the flow falls, over 2ρLv/T", Tolerance::Absolute(1e-9));
    let mut after = Worst::new("pressure change after the stop, over 2ρLv/T", Tolerance::Absolute(1e-9));
    let law = Prescribed(vec![(0.0, flow), (closing, 0.0)]);
    run(&pipe, &mut line, &law, 14.0 * phase, 50, &[0.0, closing], |_, s| {
        let (change, phases) = ((s.pressure - p_0) / top, s.time / phase);
        highest = change.max(highest);
        let place = || format!("{phases:.2} phases");
        if s.time < closing {
            let triangle = 1.0 - (2.0 * (0.5 * phases).fract() - 1.0).abs();
            during.note(change, triangle, place);
        } else {
            after.note(change, 0.0, place);
        }
    });
    let peak = Check {
        quantity: "highest rise, 10 m of water at 0.5 m/s in 133.3 ms, Pa".into(),
        ours: highest * top,
        reference: 74_865.0,
        tolerance: Tolerance::Relative(1e-9),
    };
    Ok(vec![peak, during.check()?, after.check()?])
}
