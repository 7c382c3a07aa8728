//! The cushion around the main seat: a pot on the body and a ring on the stage that enters it.

use super::drawn::{Part, Place, Section, Side};
use super::outline::{Moves, corners, rectangle};
use super::proportions as p;
use crate::physics::parts::Cushion;
use std::f64::consts::PI;

/// Pot and ring.
pub(super) struct Pot {
    /// Inner and outer radius of the ring, m: its face has the stated area.
    ring: [f64; 2],
    /// Inner and outer radius of the pot's wall, m.
    wall: [f64; 2],
    /// Height of the pot's rim, m.
    rim: f64,
    /// Height of the ring's face on the shut stage, m: deeper than the rim by the cushion's depth.
    face: f64,
    /// Bore by which it empties, m.
    passage: f64,
}

impl Pot {
    /// Around a seat ring of that outer radius and wall (m).
    pub(super) fn new(cushion: &Cushion, seat: f64, wall: f64) -> Self {
        let clearance = p::CUSHION_CLEARANCE * wall;
        let inner = seat + clearance;
        let outer = (inner * inner + cushion.area / PI).sqrt();
        Pot {
            ring: [inner, outer],
            wall: [outer + clearance, outer + clearance + wall],
            rim: -wall,
            face: -wall - cushion.depth,
            passage: cushion.passage_diameter,
        }
    }

    /// Outer radius of the pot, m.
    pub(super) fn outer(&self) -> f64 {
        self.wall[1]
    }

    /// Depth that it needs below the seat, m.
    pub(super) fn depth(&self) -> f64 {
        (-1.3 * self.face).max(self.passage - 1.3 * self.rim)
    }

    /// The stage's border around its ring, from outside inwards, m.
    pub(super) fn under(&self) -> Vec<[f64; 2]> {
        let [inner, outer] = self.ring;
        vec![[outer, 0.0], [outer, self.face], [inner, self.face], [inner, 0.0]]
    }

    /// The floor's border around its wall, from inside outwards, m.
    pub(super) fn floor(&self, floor: f64) -> Vec<[f64; 2]> {
        let [inner, outer] = self.wall;
        vec![[inner, floor], [inner, self.rim], [outer, self.rim], [outer, floor]]
    }

    /// Draw it over a floor (m), its ring moving as told.
    pub(super) fn draw(&self, section: &mut Section, floor: f64, moves: Moves) {
        section.round(Part::Cushion, moves, rectangle(self.ring, [self.face, 0.0]));
        section.round(Part::CushionPot, Moves::Still, rectangle(self.wall, [floor, self.rim]));
        let passage = rectangle(self.wall, [floor, floor + self.passage]);
        section.space(Place::CushionPassage, Side::Outlet, "inlet_pressure", corners(&passage, Moves::Still));
    }
}
