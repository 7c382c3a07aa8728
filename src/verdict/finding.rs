//! What a valve does: behaviours, each with its margin and its reason, and all of them together.

use serde::{Deserialize, Serialize};

/// One thing that the valve does; several can hold at once.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Behaviour {
    /// The main stage does not leave its seat although it is asked to open.
    StaysShut,
    /// The magnet cannot lift the armature.
    WillNotOpen,
    /// Normally open: without current the pressure holds it shut against its spring.
    FailsShut,
    /// The outlet is above the inlet and the valve passes backwards.
    PassesBackwards,
    /// The main stage stands still at part lift.
    FloatsSteadily,
    /// The main stage hangs at part lift from the link to its armature, which goes no further.
    HangsFromLink,
    /// The main stage oscillates without touching its seat.
    Flutters,
    /// The main stage oscillates and strikes its seat.
    Chatters,
    /// Quiet when it opens undisturbed, but once knocked hard it oscillates and goes on so.
    ChattersIfDisturbed,
    /// The main stage swings with the supply's pulsation.
    RattlesWithSupply,
    /// An oscillation that dies away, not yet over.
    StillSettling,
    /// The main stage rests at full lift.
    OpensFully,
    /// The main stage does not shut within the time for which it is asked to.
    DoesNotClose,
    /// The time for which it is asked to be open is too short to tell or to open.
    OnTimeTooShort,
    /// The main seat is struck faster than the limit.
    ClosesHard,
    /// The pressure rise at closing exceeds the limit.
    Hammers,
    /// The liquid boils behind the open valve.
    Flashes,
    /// A vapour cavity opens at the valve when it closes.
    BoilsAtClosing,
    /// The armature leaves the pole, or the seat that it should hold shut, in every half period.
    Hums,
    /// The winding gets hotter than allowed.
    Overheats,
}

impl Behaviour {
    /// In plain words, for figures and text.
    pub fn words(self) -> &'static str {
        match self {
            Behaviour::StaysShut => "stays shut",
            Behaviour::WillNotOpen => "will not open (magnet)",
            Behaviour::FailsShut => "fails shut (spring)",
            Behaviour::PassesBackwards => "passes backwards",
            Behaviour::FloatsSteadily => "floats steadily",
            Behaviour::HangsFromLink => "hangs from its link",
            Behaviour::Flutters => "flutters",
            Behaviour::Chatters => "chatters",
            Behaviour::ChattersIfDisturbed => "chatters if disturbed",
            Behaviour::RattlesWithSupply => "rattles with the supply",
            Behaviour::StillSettling => "still settling",
            Behaviour::OpensFully => "opens fully",
            Behaviour::DoesNotClose => "does not close",
            Behaviour::OnTimeTooShort => "time too short to open",
            Behaviour::ClosesHard => "closes hard",
            Behaviour::Hammers => "hammers",
            Behaviour::Flashes => "flashes in the valve",
            Behaviour::BoilsAtClosing => "boils at closing",
            Behaviour::Hums => "hums",
            Behaviour::Overheats => "coil too hot",
        }
    }
}

/// A behaviour with its margin and the sentence that says why.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Finding {
    /// What.
    pub behaviour: Behaviour,
    /// Is it a fault?
    pub adverse: bool,
    /// How far the deciding number is from its threshold: above 1 the behaviour holds with that factor.
    pub margin: f64,
    /// One sentence built from the numbers.
    pub reason: String,
}

/// All findings of a run, the gravest first.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Verdict {
    /// Findings.
    pub findings: Vec<Finding>,
    /// Why a bang on opening is possible that the model does not compute, each cause in words; empty where it is not.
    #[serde(default)]
    pub not_judged: Vec<String>,
    /// What else is not computed, in sentences.
    #[serde(default)]
    pub not_computed: Vec<String>,
    /// Where it does not hammer, how far it stays from its limit, or that no limit is stated; none where it hammers or no
    /// closing was seen.
    #[serde(default)]
    pub no_hammer: Option<String>,
}

impl Verdict {
    /// Is any finding a fault?
    pub fn adverse(&self) -> bool {
        self.findings.iter().any(|f| f.adverse)
    }
    /// Does this behaviour hold?
    pub fn has(&self, behaviour: Behaviour) -> bool {
        self.findings.iter().any(|f| f.behaviour == behaviour)
    }
    /// What is not judged, in a sentence to be read with the leading finding.
    pub fn reservation(&self) -> Option<String> {
        let bang = (!self.not_judged.is_empty())
            .then(|| format!("A bang on opening is not judged: {}.", self.not_judged.join("; and ")));
        let all: Vec<String> = bang.into_iter().chain(self.not_computed.iter().cloned()).collect();
        (!all.is_empty()).then(|| all.join(" "))
    }
    /// The finding by which a map cell is coloured.
    pub fn leading(&self) -> Option<&Finding> {
        self.findings.first()
    }
}

pub(super) fn finding(behaviour: Behaviour, adverse: bool, margin: f64, reason: String) -> Finding {
    let margin = if margin.is_finite() { margin } else { 0.0 };
    Finding { behaviour, adverse, margin, reason }
}
