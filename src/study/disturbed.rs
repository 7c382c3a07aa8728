//! What theory and further runs say of an energised valve, and what its verdict makes of that.

use super::stability::point::Answer;
use crate::stability::equilibria::Rest;
use crate::verdict::{Behaviour, Finding, STEADY_SWING, Verdict};
use serde::{Deserialize, Serialize};

/// Share of its lift (of full lift, if it was shut) to which the stage is knocked: far, but not onto the seat, where the blow
/// itself would be the disturbance. The same share is used for the relief valve whose answer is known (`validation`).
pub const KNOCKED_TO: f64 = 0.3;

/// What theory says of small motions about the equilibrium that the energised valve comes to first.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct SmallMotions {
    /// What the equilibrium is.
    pub rest: Rest,
    /// Lift over full lift, from 0 to 1.
    pub lift: f64,
    /// Growth rate of the leading mode, 1/s.
    pub growth: Option<f64>,
    /// Its frequency, Hz.
    pub frequency: Option<f64>,
    /// The answer to a small disturbance.
    pub answer: Answer,
}

/// What theory and further runs say of an energised valve.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Disturbance {
    /// Small motions; none where there is no equilibrium of forward flow.
    pub small: Option<SmallMotions>,
    /// Where the valve came to rest although by theory small motions grow there: what a run does that starts near that rest and is
    /// watched until the swing has stopped growing.
    pub grown: Option<Swinging>,
    /// What the stage does after a knock; none where it was not tried (it oscillates anyway, or is far from any float).
    pub knocked: Option<Behaviour>,
    /// Swing after the knock, peak to peak over full lift, and its frequency, Hz.
    pub swing: Option<(f64, f64)>,
}

/// What a stage does after it was moved away from rest.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Swinging {
    /// What.
    pub behaviour: Behaviour,
    /// Swing, peak to peak over full lift.
    pub swing: f64,
    /// Frequency, Hz; none where it does not swing.
    pub frequency: Option<f64>,
    /// Growth rate of small motions by theory, 1/s.
    pub growth: f64,
    /// How long it was watched, s.
    pub watched: f64,
}

/// Add what further runs did to a verdict that was quiet without them.
pub fn amend(verdict: &mut Verdict, found: &Disturbance) {
    if let (Some(first), Some(small)) = (verdict.findings.first_mut(), found.small) {
        let dies = small.rest == Rest::Floating && small.answer == Answer::Stable;
        if let (true, Behaviour::Flutters, Some(growth)) = (dies, first.behaviour, small.growth) {
            first.reason.push_str(&format!(
                ". By theory small motions about the float die ({growth:.2} 1/s), so either only a swing as large as this one keeps \
                 itself up, or it is still dying"
            ));
        }
    }
    let Some(quiet) = verdict.leading().map(|f| f.behaviour).filter(|b| resting_place(*b).is_some()) else { return };
    if let Some(grown) = &found.grown {
        verdict.findings.insert(0, of_growth(quiet, grown));
        return;
    }
    if found.knocked == Some(Behaviour::StillSettling) {
        let reason = format!(
            "left alone it {}, but what follows a knock to {:.0} % of its lift did not settle within the run: it is not known to be \
             quiet once it is disturbed",
            quiet.words(),
            100.0 * KNOCKED_TO
        );
        let finding = Finding { behaviour: Behaviour::StillSettling, adverse: true, margin: 1.0, reason };
        verdict.findings.insert(0, finding);
        return;
    }
    let Some(behaviour @ (Behaviour::Chatters | Behaviour::Flutters)) = found.knocked else { return };
    let (swing, rate) = found.swing.unwrap_or((0.0, 0.0));
    let reason = format!(
        "left alone it {}, but knocked to {:.0} % of {} it {} and goes on so, swinging over {:.0} % of full lift at \
         {rate:.0} Hz: any strong disturbance may start it",
        quiet.words(),
        100.0 * KNOCKED_TO,
        match quiet {
            Behaviour::FloatsSteadily => "the lift at which it floats",
            Behaviour::HangsFromLink => "the lift at which it hangs",
            _ => "full lift",
        },
        behaviour.words(),
        100.0 * swing,
    );
    let finding =
        Finding { behaviour: Behaviour::ChattersIfDisturbed, adverse: true, margin: swing / STEADY_SWING, reason };
    verdict.findings.insert(0, finding);
}

/// Theory says that small motions grow where the run came to rest: what the longer look found, or that the two disagree.
fn of_growth(quiet: Behaviour, grown: &Swinging) -> Finding {
    let theory = format!("a small motion there grows by theory, at {:.2} 1/s", grown.growth);
    if let Behaviour::Chatters | Behaviour::Flutters | Behaviour::RattlesWithSupply = grown.behaviour {
        let at = grown.frequency.map_or(String::new(), |f| format!(" at {f:.0} Hz"));
        let reason = format!(
            "the opening valve comes to where it {}, but {theory}, and watched from there it swings by {:.0} % of full lift{at}",
            quiet.words(),
            100.0 * grown.swing
        );
        return Finding { behaviour: grown.behaviour, adverse: true, margin: grown.swing / STEADY_SWING, reason };
    }
    let look = match resting_place(grown.behaviour) {
        Some(_) => format!(
            "yet watched for {:.1} s from near there it {}: run and theory disagree",
            grown.watched,
            grown.behaviour.words()
        ),
        None if grown.watched > 0.0 => format!("watched for {:.1} s from near there it did not settle", grown.watched),
        None => "a second look from near there gave no result".to_owned(),
    };
    let reason = format!(
        "the opening valve comes to where it {}, and {theory}; {look}, so that it is not known to be quiet",
        quiet.words()
    );
    Finding { behaviour: Behaviour::StillSettling, adverse: true, margin: 1.0, reason }
}

/// The equilibrium in which a quiet behaviour rests.
pub(super) fn resting_place(behaviour: Behaviour) -> Option<Rest> {
    match behaviour {
        Behaviour::StaysShut => Some(Rest::Shut),
        Behaviour::FloatsSteadily => Some(Rest::Floating),
        Behaviour::HangsFromLink => Some(Rest::Hanging),
        Behaviour::OpensFully => Some(Rest::Open),
        _ => None,
    }
}
