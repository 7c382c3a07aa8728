//! What a drawing is made of: bodies, springs and spaces.

use super::outline::{Corner, Moves, Outline, displaced};

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
    pub(super) fn add(&mut self, part: Part, side: Side, moves: Moves, outline: Outline) {
        self.shapes.push(Shape { part, side, outline, moves });
    }

    pub(super) fn round(&mut self, part: Part, moves: Moves, outline: Outline) {
        self.add(part, Side::Round, moves, outline);
    }

    pub(super) fn space(&mut self, place: Place, side: Side, pressure: &'static str, outline: Vec<Corner>) {
        self.spaces.push(Space { place, side, pressure, outline });
    }
}
