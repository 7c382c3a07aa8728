//! The bleed: a bore through the stage, or where the stage carries a pin a bore in the body that the pin enters from above.

use super::drawn::{Part, Place, Section, Side};
use super::outline::{Moves, corners, rectangle};
use super::proportions as p;
use super::seat::{CHAMBER, INLET, Seat};
use super::stage::Drawn;
use crate::physics::parts::{Bleed, Pin};
use crate::portable::Portable;

/// Where the bleed is.
pub(super) struct BleedPlace {
    /// Radius of its axis, m.
    radius: f64,
}

impl BleedPlace {
    pub(super) fn new(inner: f64, stage: &Drawn) -> Self {
        BleedPlace { radius: 0.5 * (inner + stage.plate) }
    }

    /// Width of its channel in the body, m; in the stage it needs none.
    pub(super) fn channel(&self, bleed: &Bleed) -> f64 {
        bleed.pin.as_ref().map_or(0.0, |_| p::CHANNEL * bleed.diameter)
    }

    /// What it needs below the inlet's floor, m.
    pub(super) fn below(&self, bleed: &Bleed) -> f64 {
        bleed.pin.as_ref().map_or(0.0, |pin| self.well(bleed, pin))
    }

    /// Depth of its well below the floor, m: the bore, then room for flow and for the pin.
    fn well(&self, bleed: &Bleed, pin: &Pin) -> f64 {
        let width = self.channel(bleed);
        bleed.length.max(pin.lift) + 1.5 * width
    }

    pub(super) fn draw(
        &self,
        section: &mut Section,
        bleed: &Bleed,
        seat: &Seat,
        stage: &Drawn,
        roof: f64,
        thickness: f64,
    ) {
        let half = 0.5 * bleed.diameter;
        let radii = [self.radius - half, self.radius + half];
        match &bleed.pin {
            None => {
                let bore = corners(&rectangle(radii, [0.0, bleed.length]), Moves::WithStage);
                section.space(Place::BleedOrifice, Side::Inlet, INLET, bore);
                if bleed.length < thickness {
                    let wide = [radii[0] - half, radii[1] + half];
                    let mouth = corners(&rectangle(wide, [bleed.length, thickness]), Moves::WithStage);
                    section.space(Place::BleedChannel, Side::Inlet, CHAMBER, mouth);
                }
            }
            Some(pin) => self.with_pin(section, bleed, pin, [seat.floor, roof], stage.wall),
        }
    }

    /// The bore in the body's floor, entered by the pin from the stage above, and the channel up to the chamber.
    fn with_pin(&self, section: &mut Section, bleed: &Bleed, pin: &Pin, [floor, roof]: [f64; 2], wall: f64) {
        let (half, width, r) = (0.5 * bleed.diameter, self.channel(bleed), self.radius);
        let mouth = floor - bleed.length;
        let bore = corners(&rectangle([r - half, r + half], [mouth, floor]), Moves::Still);
        section.space(Place::BleedOrifice, Side::Outlet, INLET, bore);
        let bottom = floor - self.well(bleed, pin);
        let (near, far) = (wall + 0.5 * width, wall + 1.5 * width);
        let channel = [
            [r - 0.5 * width, mouth],
            [r - 0.5 * width, bottom],
            [far, bottom],
            [far, roof],
            [wall, roof],
            [wall, roof - width],
            [near, roof - width],
            [near, bottom + width],
            [r + 0.5 * width, bottom + width],
            [r + 0.5 * width, mouth],
        ];
        section.space(Place::BleedChannel, Side::Outlet, CHAMBER, corners(&channel, Moves::Still));
        section.add(Part::Pin, Side::Outlet, Moves::WithStage, self.pin(bleed, pin, floor));
    }

    /// The pin beside which a bore of the stated area is left; its taper grows in area in proportion to the lift.
    fn pin(&self, bleed: &Bleed, pin: &Pin, floor: f64) -> Vec<[f64; 2]> {
        let full = (bleed.diameter.to_the(2) - pin.diameter.to_the(2)).max(0.0).sqrt() * 0.5;
        let tip = floor - pin.lift;
        let taper = pin.shoulder();
        let side = |i: usize| {
            let share = i as f64 / p::ARCH_PIECES as f64;
            [full * share.sqrt(), tip + taper * share]
        };
        let mut half: Vec<[f64; 2]> = (1..=p::ARCH_PIECES).map(side).collect();
        half.push([full, 0.0]);
        let mut outline = vec![[self.radius, tip]];
        outline.extend(half.iter().map(|[r, z]| [self.radius + r, *z]));
        outline.extend(half.iter().rev().map(|[r, z]| [self.radius - r, *z]));
        outline
    }
}
