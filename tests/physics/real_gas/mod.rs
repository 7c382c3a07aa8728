//! Gases that are not perfect: through nozzles, in the control chamber, and as a scenario states them.

mod chamber;
mod nozzle;
mod scenario;
mod vapour;
