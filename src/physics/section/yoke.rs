//! Coil, yoke and guide tube: what lies around the armature.

use super::drawn::{Part, Section};
use super::outline::{Moves, rectangle};
use super::proportions as p;
use crate::physics::parts::Coil;
use std::f64::consts::PI;

/// Sizes around the armature, m.
#[derive(Clone, Copy, Debug)]
pub(super) struct Yoke {
    /// Radius of the armature: that of the core.
    pub armature: f64,
    /// Inner and outer radius of the guide tube.
    pub tube: [f64; 2],
    /// Outer radius of the yoke.
    pub outer: f64,
    /// Thickness of the yoke.
    pub thickness: f64,
    /// Height of the winding.
    pub height: f64,
}

impl Yoke {
    /// Around an armature whose core has that cross-section, and a foot of that radius (m) that has to pass through its tube.
    ///
    /// ```text
    /// l_fe = 2·(H + t) + 2·r_m        from the axis through the plates to the middle r_m of the yoke's wall and back
    /// ```
    pub(super) fn new(coil: &Coil, foot: f64) -> Self {
        let armature = (coil.core_area / PI).sqrt();
        let inner = armature.max(foot) + p::TUBE_CLEARANCE * armature;
        let tube = [inner, inner + p::TUBE_WALL * armature];
        let thickness = p::YOKE * armature;
        // An iron path shorter than the core is thick cannot be drawn true.
        let room = (0.5 * coil.iron_length - 1.5 * thickness - tube[1]).max(armature);
        let depth = (p::WINDING_DEPTH * armature).min(p::WINDING_SHARE * room);
        Yoke { armature, tube, outer: tube[1] + depth + thickness, thickness, height: room - depth }
    }

    /// Coil and yoke over the height `base`, and a tube between two heights (m).
    pub(super) fn draw(&self, section: &mut Section, base: f64, [tube_from, tube_to]: [f64; 2]) {
        let (inner, outer, t) = (self.tube[1], self.outer, self.thickness);
        let low = base + t;
        let high = low + self.height;
        section.round(Part::GuideTube, Moves::Still, rectangle(self.tube, [tube_from, tube_to]));
        section.round(Part::Coil, Moves::Still, rectangle([inner, outer - t], [low, high]));
        let plates = [
            [inner, base],
            [outer, base],
            [outer, high + t],
            [inner, high + t],
            [inner, high],
            [outer - t, high],
            [outer - t, low],
            [inner, low],
        ];
        section.round(Part::Yoke, Moves::Still, plates.to_vec());
    }
}
