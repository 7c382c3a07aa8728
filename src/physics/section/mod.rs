//! What a valve's parts look like: the outlines of a half-section, for figures. Pure data, from the parts alone.
//!
//! ```text
//!   z ↑  pole ▓▓│ coil        r: distance from the axis, m
//!        gap    │              z: upwards from the plane of the main seat, m
//!   armature ▒▒▒│ tube         all shut and at rest: lift x = 0, travel x_a = 0
//!        pilot seat ─ cover
//!   stage ══════════╮ chamber
//!   0 ──┘ seat  inlet          outlet below
//! ```
//!
//! What is round is a shape on both sides of the axis. What is not (ports, channels, the bleed and its pin) is cut by the plane of the
//! drawing on one side only, and is painted over what is round: inlet on one [`Side`], outlet on the other. Each corner tells what it moves
//! with, so that a figure at any lift and travel is the same outlines displaced.
//!
//! True are the dimensions that the parts state: seat bore, effective diameter, lift, stroke, gap at the pole with its residual part as a shim,
//! pole clearance, pilot bore with its length and seat, bleed bore with its length and pin, radial clearance and land of a piston, height of
//! its ring, area and depth of a cushion, free play of a link, core and iron length, the face inside a shading ring. What they do not state
//! is by [`proportions`]. Where stated sizes contradict one another (an iron path shorter than its core is thick, a shaded face wider than the pole)
//! the drawing is no longer true, but still drawn. Volumes of ports and chamber and the masses are not drawn: nothing says how they are shaped.
//!
//! Swept volumes of the outlines are those of the ledger, A_d·x, A_s·x and A_ps·x_a, exactly: a membrane moves by a share of the lift that falls
//! in proportion to the radius from its hub to its rim, and its rim lies where that sweeps A_d·x. Left out: the bulge, the stretch of a link, the
//! indentation of contacts, and that a tip far off its seat no longer sweeps (as the ledger of a forced lift has it).

mod assembly;
mod bleed;
mod cushion;
mod magnet;
mod outline;
pub mod proportions;
mod servo;
mod stage;
mod yoke;

use super::parts::Valve;

pub use outline::{Corner, Moves, Outline, displaced};

/// Which part a shape is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
#[allow(missing_docs, reason = "the names are those of the parts")]
pub enum Part {
    Body,
    Cover,
    MainSeat,
    MainStage,
    /// The bending plate of a diaphragm, held between body and cover.
    Membrane,
    PistonRing,
    MainStop,
    PilotSeat,
    Pin,
    /// The ring on the stage that enters the pot.
    Cushion,
    /// The wall of the pot around the main seat.
    CushionPot,
    Link,
    Armature,
    Pole,
    /// What keeps the residual gap: plating, a disc of brass, or dirt.
    ResidualGap,
    ShadingRing,
    /// Upper stop of a normally open valve's armature.
    ArmatureStop,
    GuideTube,
    Coil,
    Yoke,
}

/// On which side of the axis something is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// All round.
    Round,
    /// Cut on the side of the inlet.
    Inlet,
    /// Cut on the side of the outlet.
    Outlet,
}

/// A body.
#[derive(Clone, Debug)]
pub struct Shape {
    /// Which part.
    pub part: Part,
    /// Where.
    pub side: Side,
    /// Closed polygon of r and z, m; its last corner joins its first.
    pub outline: Outline,
    /// What it moves with.
    pub moves: Moves,
}

/// Which spring.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SpringOf {
    /// The armature's.
    Armature,
    /// The main stage's.
    MainStage,
}

/// A helical spring, compressed between its ends.
#[derive(Clone, Copy, Debug)]
pub struct Spring {
    /// Which.
    pub of: SpringOf,
    /// Lower and upper end: mean radius and height, m, and what each moves with.
    pub ends: [Corner; 2],
}

/// What a space is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
#[allow(missing_docs, reason = "the names are those of the trade")]
pub enum Place {
    Inlet,
    InletPort,
    Outlet,
    OutletPort,
    ControlChamber,
    /// Around the armature, in one with the control chamber.
    ArmatureSpace,
    /// From the control chamber to the armature.
    ChamberChannel,
    BleedOrifice,
    /// From a bleed in the body to the control chamber.
    BleedChannel,
    /// Under the tip of the armature: pilot seat and bore.
    PilotOrifice,
    /// From the pilot to the outlet, with its restrictor.
    PilotChannel,
    CushionPassage,
}

/// A space filled with fluid.
#[derive(Clone, Debug)]
pub struct Space {
    /// Which.
    pub place: Place,
    /// Where; what is cut on one side is painted over the shapes, but below those of that side.
    pub side: Side,
    /// The channel of a trace that holds its pressure.
    pub pressure: &'static str,
    /// Closed polygon; each corner with what it moves with.
    pub outline: Vec<Corner>,
}

/// The whole half-section.
#[derive(Clone, Debug, Default)]
pub struct Section {
    /// Bodies.
    pub shapes: Vec<Shape>,
    /// Springs.
    pub springs: Vec<Spring>,
    /// Spaces.
    pub spaces: Vec<Space>,
}

impl Shape {
    /// Its outline at a lift and a travel, m.
    pub fn at(&self, lift: f64, travel: f64) -> Outline {
        self.outline.iter().map(|&at| displaced(at, self.moves, lift, travel)).collect()
    }
}

impl Space {
    /// Its outline at a lift and a travel, m.
    pub fn at(&self, lift: f64, travel: f64) -> Outline {
        self.outline.iter().map(|corner| corner.displaced(lift, travel)).collect()
    }
}

impl Section {
    /// The half-section of a valve of plausible proportions; total, but not sensible, for any other.
    pub fn of(valve: &Valve) -> Section {
        assembly::assemble(valve)
    }
}
