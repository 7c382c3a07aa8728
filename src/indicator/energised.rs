//! When a valve's coil is energised, and what is said of that: the one place for words that depend on it.

use super::list::Indicators;

/// When the coil is energised: what the function of the valve makes of its current.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Energised {
    /// While it is asked to be open: normally closed.
    #[default]
    WhileOpen,
    /// While it is asked to be shut: normally open.
    WhileShut,
}

impl Energised {
    /// How it is while it is asked to be open.
    pub fn open(self) -> &'static str {
        self.choose("energised", "without current")
    }

    /// How it is while it is asked to be shut.
    pub fn shut(self) -> &'static str {
        self.choose("without current", "energised")
    }

    /// What asks it to open.
    pub fn opening(self) -> &'static str {
        self.choose("switching on", "switching off")
    }

    /// What asks it to shut.
    pub fn shutting(self) -> &'static str {
        self.choose("switching off", "switching on")
    }

    /// The time for which a cycle asks it to be open.
    pub fn open_time(self) -> &'static str {
        self.choose("on-time", "off-time")
    }

    /// The time for which a cycle asks it to be shut.
    pub fn shut_time(self) -> &'static str {
        self.choose("off-time", "on-time")
    }

    /// The setting that ends a run while it is asked to be open.
    pub fn longest_open(self) -> &'static str {
        self.choose("run.longest_on", "run.longest_off")
    }

    /// The setting that ends a run while it is asked to be shut.
    pub fn longest_shut(self) -> &'static str {
        self.choose("run.longest_off", "run.longest_on")
    }

    /// The one of two that holds.
    pub fn choose<T>(self, while_open: T, while_shut: T) -> T {
        match self {
            Energised::WhileOpen => while_open,
            Energised::WhileShut => while_shut,
        }
    }
}

impl Indicators {
    /// Time from switching on until the magnet has drawn the armature in, s; none where it has not.
    pub fn drawn_in(&self, energised: Energised) -> Option<f64> {
        energised.choose(self.armature_opening_time, self.armature_closing_time)
    }
}
