//! The main stage of a servo: a hub with its membrane, or a piston in its bore.

use super::cushion::Pot;
use super::drawn::{Part, Section};
use super::outline::{Corner, Moves, Outline, corners, rectangle};
use super::proportions as p;
use crate::physics::parts::{MainStage, RingLeak, StageKind};

/// What the stage is drawn with.
pub(super) struct Frame<'a> {
    /// The part.
    pub main: &'a MainStage,
    /// What leaks past a piston.
    pub leak: &'a RingLeak,
    /// Thickness of its plate, m.
    pub thickness: f64,
    /// Radius up to which seat and cushion lie under it, m.
    pub inner: f64,
    /// Its middle, from outside along the top to the axis or the pilot seat's edge, m.
    pub middle: Vec<[f64; 2]>,
    /// The same on from there to its underside, for the solid, m.
    pub bore: Vec<[f64; 2]>,
    /// The cushion, if there is one.
    pub pot: Option<&'a Pot>,
}

/// Where it lies.
pub(super) struct Drawn {
    /// Its border to the chamber, from the wall inwards.
    pub top: Vec<Corner>,
    /// Its border to the inlet, from the wall inwards to the seat's edge.
    pub under: Vec<Corner>,
    /// Radius of the wall around it, m.
    pub wall: f64,
    /// Radius up to which its plate is free for a bleed, m.
    pub plate: f64,
    /// The membrane, if it has one.
    pub membrane: Option<Membrane>,
    /// Radii and height of what meets the stop, m.
    pub stop: ([f64; 2], f64),
    /// Radius of the main spring, m.
    pub spring: f64,
    /// Highest point over the whole lift, m.
    pub highest: f64,
}

/// A membrane, held between body and cover.
pub(super) struct Membrane {
    /// Its outline from the rim above to the hub and back below, m.
    outline: Outline,
    /// How it bends.
    bends: Moves,
    /// Lower and upper face where it is held, m.
    held: [f64; 2],
}

impl Membrane {
    /// Draw it, held out to a radius (m).
    pub(super) fn draw(&self, section: &mut Section, outer: f64) {
        let mut outline = self.outline.clone();
        outline.extend(self.held.map(|z| [outer, z]));
        section.round(Part::Membrane, self.bends, outline);
    }
}

impl Drawn {
    /// Lower and upper face of what is held between body and cover, m; none: nothing is.
    pub(super) fn held(&self) -> Option<[f64; 2]> {
        self.membrane.as_ref().map(|membrane| membrane.held)
    }
}

impl Frame<'_> {
    /// Draw it; the cover's hole has that radius (m), and nothing of the stop may hang in it.
    pub(super) fn draw(&self, section: &mut Section, hole: f64) -> Drawn {
        match self.main.kind {
            StageKind::Diaphragm { .. } => self.diaphragm(section, hole),
            StageKind::Piston { .. } => self.piston(section, hole),
        }
    }

    /// From the outer edge of its underside to the seat's edge.
    fn under_plate(&self, edge: f64) -> Vec<Corner> {
        let mut points = vec![[edge, 0.0]];
        points.extend(self.pot.map(Pot::under).unwrap_or_default());
        points.push([0.5 * self.main.seat_diameter, 0.0]);
        corners(&points, Moves::WithStage)
    }

    /// With R_h the hub's and R_c the rim's radius, a membrane that bends in proportion sweeps (π/3)·(R_h² + R_h·R_c + R_c²) per lift,
    /// which is A_d. Source: volume of a frustum.
    fn diaphragm(&self, section: &mut Section, hole: f64) -> Drawn {
        let (r_d, lift, thickness) = (0.5 * self.main.effective_diameter, self.main.lift, self.thickness);
        let hub = self.inner + p::HUB * (r_d - self.inner).max(0.0);
        let rim = 0.5 * ((12.0 * r_d * r_d - 3.0 * hub * hub).max(0.0).sqrt() - hub);
        let plate = (p::MEMBRANE * r_d).min(0.4 * thickness);
        let (low, arch) = (0.5 * (thickness - plate), p::ARCH * (rim - hub));
        let at = |i: usize| {
            let u = i as f64 / p::ARCH_PIECES as f64;
            // Flat at half its lift, but for its arch.
            [hub + (rim - hub) * u, low + 0.5 * lift * u + arch * 4.0 * u * (1.0 - u)]
        };
        let beneath: Vec<[f64; 2]> = (0..=p::ARCH_PIECES).map(at).collect();
        let above: Vec<[f64; 2]> = beneath.iter().map(|[r, z]| [*r, z + plate]).rev().collect();
        let bends = Moves::Bends { hub, rim };
        let held = [low + 0.5 * lift, low + 0.5 * lift + plate];
        let outline = above.iter().chain(&beneath).copied().collect();
        let mut solid = vec![[hub, 0.0], [hub, thickness]];
        solid.extend(self.middle.iter().chain(&self.bore));
        section.round(Part::MainStage, Moves::WithStage, solid);
        let mut top = corners(&above, bends);
        top.extend(corners(&[[hub, thickness]], Moves::WithStage));
        top.extend(corners(&self.middle, Moves::WithStage));
        let mut under = corners(&beneath, bends);
        under.reverse();
        under.extend(self.under_plate(hub));
        let from = (0.6 * hub).max(hole).min(0.84 * hub);
        Drawn {
            top,
            under,
            wall: rim,
            plate: hub,
            membrane: Some(Membrane { outline, bends, held }),
            stop: ([from, 0.5 * (from + 0.96 * hub)], thickness),
            spring: 0.95 * hub,
            highest: (low + plate + lift + arch).max(thickness + lift),
        }
    }

    fn piston(&self, section: &mut Section, hole: f64) -> Drawn {
        let (r_d, thickness) = (0.5 * self.main.effective_diameter, self.thickness);
        let ring = self.ring_height(r_d);
        let (radius, wall, land) = match self.leak {
            RingLeak::Clearance(gap) => {
                (r_d - 0.5 * gap.radial_clearance, r_d + 0.5 * gap.radial_clearance, gap.land_length)
            }
            RingLeak::Tight | RingLeak::SplitRing(_) => {
                let land = (p::LAND * r_d).max(thickness + p::SKIRT * r_d).max(ring.map_or(0.0, |height| 1.6 * height));
                (r_d * (1.0 - p::RINGED_CLEARANCE), r_d, land)
            }
        };
        let height = land.max(thickness);
        let skirt = radius - p::SKIRT * r_d;
        // A land shorter than the plate is thick is its upper part.
        let foot = height - land;
        let mut side = if foot > 0.0 {
            let neck = radius - 0.5 * p::SKIRT * r_d;
            vec![[neck, 0.0], [neck, foot], [radius, foot]]
        } else {
            vec![[radius, 0.0]]
        };
        let lower = side.clone();
        let groove = ring.map(|h| [foot + 0.5 * (land - h), foot + 0.5 * (land + h)]);
        if let Some([from, to]) = groove {
            let depth = radius - p::RING_WIDTH * r_d;
            side.extend([[radius, from], [depth, from], [depth, to], [radius, to]]);
            section.round(Part::PistonRing, Moves::WithStage, rectangle([depth, wall], [from, to]));
        }
        let mut crown = vec![[radius, height]];
        if height > thickness {
            crown.extend([[skirt, height], [skirt, thickness]]);
        }
        crown.extend(&self.middle);
        let mut solid = side;
        solid.extend(crown.iter().chain(&self.bore));
        section.round(Part::MainStage, Moves::WithStage, solid);
        let lower: Vec<[f64; 2]> = lower.into_iter().rev().collect();
        let (mut top, mut under) = past_piston(r_d, radius, wall, foot, height, groove);
        top.extend(corners(&crown, Moves::WithStage));
        under.extend(corners(&lower[..lower.len() - 1], Moves::WithStage));
        under.extend(self.under_plate(lower.last().map_or(radius, |last| last[0])));
        Drawn {
            top,
            under,
            wall,
            plate: if height > thickness { skirt } else { radius },
            membrane: None,
            stop: ([skirt.max(hole).min(radius - 0.2 * p::SKIRT * r_d), radius], height),
            spring: (0.85 * skirt).max(0.5 * (hole + skirt)).min(0.97 * skirt),
            highest: height + self.main.lift,
        }
    }

    /// Height of the piston's ring, m; a plain piston has none.
    fn ring_height(&self, radius: f64) -> Option<f64> {
        match self.leak {
            RingLeak::Tight => Some(p::RING_HEIGHT * radius),
            RingLeak::Clearance(_) => None,
            RingLeak::SplitRing(ring) => Some(ring.ring_height),
        }
    }
}

/// Where chamber and inlet meet beside the piston: at its ring, or in the middle of its gap, whose halves belong to either, so that both sweep
/// the area of the effective diameter.
fn past_piston(
    r_d: f64,
    radius: f64,
    wall: f64,
    foot: f64,
    height: f64,
    groove: Option<[f64; 2]>,
) -> (Vec<Corner>, Vec<Corner>) {
    let stage = Moves::WithStage;
    match groove {
        Some([from, to]) => {
            (corners(&[[wall, to], [radius, to]], stage), corners(&[[wall, from], [radius, from]], stage))
        }
        None => {
            let still = corners(&[[wall, foot], [r_d, foot]], Moves::Still);
            let (mut top, mut under) = (still.clone(), still);
            top.extend(corners(&[[r_d, height]], stage));
            under.extend(corners(&[[r_d, height], [radius, height]], stage));
            (top, under)
        }
    }
}
