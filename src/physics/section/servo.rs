//! A servo, and a forced lift: stage, pilot, bleed and chamber.

use super::bleed::BleedPlace;
use super::drawn::{Part, Place, Section, Side, Spring, SpringOf};
use super::magnet::{self, LowerEnd};
use super::outline::{Corner, Moves, corners, rectangle};
use super::proportions as p;
use super::seat::{Body, CHAMBER, INLET, OUTLET, Seat, tip};
use super::stage::{Drawn, Frame};
use super::yoke::Yoke;
use crate::physics::parts::{Link, Pilot, ServoParts, Valve};

/// The pilot's seat and bore, m.
struct Nozzle {
    bore: f64,
    seat: f64,
    outer: f64,
    length: f64,
    edge: f64,
    channel: f64,
}

impl Nozzle {
    fn new(pilot: &Pilot) -> Self {
        let seat = 0.5 * pilot.seat_diameter;
        Nozzle {
            bore: 0.5 * pilot.diameter,
            seat,
            outer: seat.max(0.5 * pilot.diameter) + p::NOZZLE_WALL * seat,
            length: pilot.length,
            edge: (0.5 * p::SEAT_EDGE * seat).min(0.5 * pilot.length),
            channel: p::CHANNEL * pilot.diameter,
        }
    }

    /// The seat's border from a shoulder of that height (m) up to its edge, the edge at `top`.
    fn outside(&self, shoulder: f64, top: f64) -> Vec<[f64; 2]> {
        vec![[self.outer, shoulder], [self.outer, top - self.edge], [self.seat, top]]
    }

    /// From the edge down the bore.
    fn inside(&self, top: f64) -> Vec<[f64; 2]> {
        vec![[self.bore, top - self.edge], [self.bore, top - self.length]]
    }

    /// The space under the tip, seat and bore moving as told, the tip with the armature.
    fn space(&self, section: &mut Section, top: f64, moves: Moves) {
        let bottom = top - self.length;
        let bore = [[0.0, bottom], [self.bore, bottom], [self.bore, top - self.edge], [self.seat, top]];
        let mut outline = corners(&bore, moves);
        outline.extend(corners(&[[self.seat, top], [0.0, top]], Moves::WithArmature));
        section.space(Place::PilotOrifice, Side::Round, OUTLET, outline);
    }
}

/// Draw it all.
pub(super) fn draw(section: &mut Section, valve: &Valve, parts: &ServoParts, link: Option<&Link>) {
    let (main, nozzle) = (&valve.main, Nozzle::new(&parts.pilot));
    let r_d = 0.5 * main.effective_diameter;
    let seat = Seat::new(main, r_d);
    let yoke = Yoke::new(&valve.coil, nozzle.outer);
    let thickness = match &parts.bleed.pin {
        None => (p::STAGE_THICKNESS * r_d).max(parts.bleed.length),
        Some(_) => p::STAGE_THICKNESS * r_d,
    };
    let hooked = link.map(|link| Hooked::new(link, &nozzle, thickness));
    let (middle, bore) = match &hooked {
        None => (vec![[0.0, thickness]], vec![[0.0, 0.0]]),
        Some(hooked) => hooked.middle(&nozzle, thickness),
    };
    let hole = if hooked.is_some() { yoke.tube[0] } else { 0.0 };
    let inner = seat.reach();
    let frame = Frame { main, leak: &parts.leak, thickness, inner, middle, bore, pot: seat.pot.as_ref() };
    let stage = frame.draw(section, hole);
    let bleed = BleedPlace::new(inner, &stage);
    let width = [bleed.channel(&parts.bleed), nozzle.channel];
    let held = stage.held().map_or(0.0, |[_, upper]| upper);
    let mut roof = stage.highest.max(held) + (p::HEADROOM * r_d).max(1.5 * width[0]);
    if let Some(hooked) = hooked.as_ref().filter(|hooked| hooked.outer > hole) {
        roof = roof.max(hooked.lip[1] + main.lift + p::HEADROOM * r_d);
    }
    // The walls of body and cover hold the channels of bleed and pilot side by side.
    let beyond = p::WALL * r_d + if hooked.is_some() { 0.0 } else { 2.0 * width[1] } + 2.0 * width[0];
    let outer = stage.wall + beyond;
    if let Some(membrane) = &stage.membrane {
        membrane.draw(section, outer);
    }
    let mut body = Body {
        wall: [stage.wall, outer],
        floor: p::WALL * r_d + bleed.below(&parts.bleed),
        top: stage.held().map_or(roof, |[lower, _]| lower),
        outlet: 0.0,
    };
    let over_outlet = over_outlet(&nozzle, hooked.as_ref(), seat.radius);
    seat.draw(section, &mut body, Moves::WithStage, &over_outlet);
    bleed.draw(section, &parts.bleed, &seat, &stage, roof, thickness);
    stop_and_spring(section, valve, &stage, roof, thickness);
    let mut inlet = corners(&seat.border(stage.wall), Moves::Still);
    inlet.extend(&stage.under);
    section.space(Place::Inlet, Side::Round, INLET, inlet);
    let top = Top { roof, outer, outlet: body.outlet, rim: stage.held().map(|[_, upper]| upper) };
    match hooked {
        None => pilot_in_cover(section, valve, &parts.pilot, &nozzle, &yoke, &stage, &top),
        Some(hooked) => pilot_in_stage(section, valve, &nozzle, &yoke, &stage, &top, &hooked),
    }
}

/// Heights and radii of the cover, m.
struct Top {
    roof: f64,
    outer: f64,
    outlet: f64,
    rim: Option<f64>,
}

impl Top {
    /// The cover's outline from its underside outwards to its top, `top` (m), inwards to the axis or its hole.
    fn outline(&self, hole: f64, wall: f64, top: f64) -> Vec<[f64; 2]> {
        let mut points = vec![[hole, self.roof]];
        match self.rim {
            Some(rim) => points.extend([[wall, self.roof], [wall, rim], [self.outer, rim]]),
            None => points.push([self.outer, self.roof]),
        }
        points.push([self.outer, top]);
        points
    }

    /// The chamber's still border from the roof at a radius (m) around the stop to the wall.
    fn border(&self, from: f64, stage: &Drawn, lift: f64) -> Vec<Corner> {
        let ([r_0, r_1], z) = stage.stop;
        let r_0 = r_0.max(from);
        let points = [
            [from, self.roof],
            [r_0, self.roof],
            [r_0, z + lift],
            [r_1, z + lift],
            [r_1, self.roof],
            [stage.wall, self.roof],
        ];
        corners(&points, Moves::Still)
    }
}

/// What lies over the outlet, from the seat's edge inwards.
fn over_outlet(nozzle: &Nozzle, hooked: Option<&Hooked>, seat: f64) -> Vec<Corner> {
    let mut points = vec![[seat, 0.0]];
    match hooked {
        None => points.push([0.0, 0.0]),
        Some(hooked) => {
            let bottom = hooked.seat - nozzle.length;
            let wide = hooked.wide(nozzle);
            if bottom > 0.0 {
                points.extend([[wide, 0.0], [wide, bottom]]);
            }
            points.extend([[nozzle.bore, bottom], [0.0, bottom]]);
        }
    }
    corners(&points, Moves::WithStage)
}

fn stop_and_spring(section: &mut Section, valve: &Valve, stage: &Drawn, roof: f64, thickness: f64) {
    let main = &valve.main;
    let (radii, z) = stage.stop;
    section.round(Part::MainStop, Moves::Still, rectangle(radii, [z + main.lift, roof]));
    if main.spring_rate > 0.0 || main.preload > 0.0 {
        let ends = [
            Corner { at: [stage.spring, thickness], moves: Moves::WithStage },
            Corner { at: [stage.spring, roof], moves: Moves::Still },
        ];
        section.springs.push(Spring { of: SpringOf::MainStage, ends });
    }
}

/// The pilot seat in the cover: its bore leads out through the cover and down to the outlet.
fn pilot_in_cover(
    section: &mut Section,
    valve: &Valve,
    pilot: &Pilot,
    nozzle: &Nozzle,
    yoke: &Yoke,
    stage: &Drawn,
    top: &Top,
) {
    let web = nozzle.length + 2.0 * nozzle.channel;
    let height = top.roof + web;
    let cover = height - (p::NOZZLE * nozzle.seat).min(0.5 * nozzle.length);
    let bottom = height - nozzle.length;
    let mut outline = top.outline(0.0, stage.wall, cover);
    outline.extend([[nozzle.outer, cover], [nozzle.outer, bottom], [0.0, bottom]]);
    section.round(Part::Cover, Moves::Still, outline);
    let mut ring = nozzle.outside(bottom, height);
    ring.extend(nozzle.inside(height));
    section.round(Part::PilotSeat, Moves::Still, ring);
    nozzle.space(section, height, Moves::Still);
    channel(section, pilot, nozzle, bottom, top);
    let middle = 0.5 * (nozzle.outer + yoke.tube[0]);
    let half = 0.25 * (yoke.tube[0] - nozzle.outer);
    let passage = rectangle([middle - half, middle + half], [top.roof, cover]);
    section.space(Place::ChamberChannel, Side::Inlet, CHAMBER, corners(&passage, Moves::Still));
    let (profile, shaft) = tip(&valve.function, yoke, height, nozzle.outer);
    let end = LowerEnd { free_above: height, profile, shaft, tube_from: cover };
    let around = magnet::draw(section, valve, yoke, end, Moves::WithArmature);
    let mut space = around.outside();
    space.extend(corners(&nozzle.outside(cover, height), Moves::Still));
    space.extend(around.inside(nozzle.seat, Moves::WithArmature));
    section.space(Place::ArmatureSpace, Side::Round, CHAMBER, space);
    let mut chamber = top.border(0.0, stage, valve.main.lift);
    chamber.extend(&stage.top);
    section.space(Place::ControlChamber, Side::Round, CHAMBER, chamber);
}

/// From the pilot's bore to the outlet, in the wall on the outlet's side; a restrictor narrows it on its way down.
fn channel(section: &mut Section, pilot: &Pilot, nozzle: &Nozzle, under: f64, top: &Top) {
    let (width, foot) = (nozzle.channel, top.outlet);
    let [near, far] = [top.outer - 1.5 * width, top.outer - 0.5 * width];
    let mut right = vec![[far, under]];
    let mut left = vec![[near, under - width]];
    if let Some(diameter) = pilot.restrictor_diameter {
        let half = 0.5 * diameter.min(width);
        let (middle, at) = (0.5 * (near + far), 0.5 * (under + foot));
        let [low, high] = [at - diameter, at + diameter];
        right.extend([[far, high], [middle + half, high], [middle + half, low], [far, low]]);
        left.extend([[near, high], [middle - half, high], [middle - half, low], [near, low]]);
    }
    let mut outline = vec![[0.0, under]];
    outline.extend(right);
    outline.extend([[far, foot], [near, foot]]);
    outline.extend(left.into_iter().rev());
    outline.push([0.0, under - width]);
    section.space(Place::PilotChannel, Side::Outlet, OUTLET, corners(&outline, Moves::Still));
}

/// A collar on the armature in a hook on the stage, m.
struct Hooked {
    /// Height of the pilot seat.
    seat: f64,
    collar: f64,
    stem: f64,
    /// Inner and outer radius of the hook's wall.
    inner: f64,
    outer: f64,
    /// Upper face of the collar on its seat.
    top: f64,
    /// Lower and upper face of the hook's lip: the lower one is the free play above the collar.
    lip: [f64; 2],
    /// Radius of the lip's hole.
    hole: f64,
}

impl Hooked {
    fn new(link: &Link, nozzle: &Nozzle, thickness: f64) -> Self {
        let seat = nozzle.length.max(thickness + 2.0 * nozzle.edge);
        let collar = (p::COLLAR * nozzle.seat).max(1.2 * nozzle.outer);
        let (stem, thick) = (p::STEM * collar, p::HOOK * collar);
        let inner = collar + 0.3 * thick;
        let top = seat + thick;
        let lip = [top + link.free_play, top + link.free_play + thick];
        Hooked { seat, collar, stem, inner, outer: inner + thick, top, lip, hole: stem + 0.4 * (collar - stem) }
    }

    /// Radius of the wide end of a bore that is shorter than the stage is thick there, m.
    fn wide(&self, nozzle: &Nozzle) -> f64 {
        1.2 * nozzle.bore
    }

    /// The stage's middle: its top from the hook's foot to the seat's edge, and its bore.
    fn middle(&self, nozzle: &Nozzle, thickness: f64) -> (Vec<[f64; 2]>, Vec<[f64; 2]>) {
        let top = nozzle.outside(thickness, self.seat);
        let mut bore = nozzle.inside(self.seat);
        let bottom = self.seat - nozzle.length;
        if bottom > 0.0 {
            let wide = self.wide(nozzle);
            bore.extend([[wide, bottom], [wide, 0.0]]);
        }
        (top, bore)
    }

    /// The hook's border from outside inwards to its foot inside, on a stage of that thickness (m).
    fn border(&self, thickness: f64) -> Vec<[f64; 2]> {
        let [low, high] = self.lip;
        vec![
            [self.outer, thickness],
            [self.outer, high],
            [self.hole, high],
            [self.hole, low],
            [self.inner, low],
            [self.inner, thickness],
        ]
    }

    /// The armature's lower end: collar and stem.
    fn profile(&self) -> Vec<[f64; 2]> {
        vec![[0.0, self.seat], [self.collar, self.seat], [self.collar, self.top], [self.stem, self.top]]
    }
}

/// The pilot seat in the stage, and the link that draws the stage after the armature.
fn pilot_in_stage(
    section: &mut Section,
    valve: &Valve,
    nozzle: &Nozzle,
    yoke: &Yoke,
    stage: &Drawn,
    top: &Top,
    hooked: &Hooked,
) {
    let main = &valve.main;
    let cover = top.roof + p::WALL * 0.5 * main.effective_diameter;
    let mut outline = top.outline(yoke.tube[0], stage.wall, cover);
    outline.push([yoke.tube[0], cover]);
    section.round(Part::Cover, Moves::Still, outline);
    // The stage's top but its last three corners, the pilot seat's, is plate.
    let (plate, seat) = stage.top.split_at(stage.top.len().saturating_sub(3));
    let thickness = seat.first().map_or(0.0, |corner| corner.at[1]);
    section.round(Part::Link, Moves::WithStage, hooked.border(thickness));
    let free_above = hooked.lip[1] + p::AIR * yoke.armature;
    let end = LowerEnd { profile: hooked.profile(), shaft: Some(hooked.stem), free_above, tube_from: cover };
    let around = magnet::draw(section, valve, yoke, end, Moves::WithArmature);
    nozzle.space(section, hooked.seat, Moves::WithStage);
    let mut chamber = around.outside();
    chamber.extend(top.border(yoke.tube[0], stage, main.lift));
    chamber.extend(plate);
    chamber.extend(corners(&hooked.border(thickness), Moves::WithStage));
    chamber.extend(seat);
    chamber.extend(around.inside(nozzle.seat, Moves::WithArmature));
    section.space(Place::ControlChamber, Side::Round, CHAMBER, chamber);
}
