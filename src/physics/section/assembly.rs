//! The whole valve, and the direct-operated one.

use super::cushion::Pot;
use super::drawn::{Part, Place, Section, Side};
use super::magnet::{self, LowerEnd};
use super::outline::{Moves, corners, rectangle};
use super::proportions as p;
use super::seat::{Body, INLET, Seat, tip};
use super::servo;
use super::yoke::Yoke;
use crate::physics::parts::Valve;

impl Section {
    /// The half-section of a valve of plausible proportions; total, but not sensible, for any other. A pilot that vents to a place of its own
    /// is drawn as one that vents to the outlet.
    pub fn of(valve: &Valve) -> Section {
        let mut section = Section::default();
        match valve.servo() {
            Some(parts) => servo::draw(&mut section, valve, parts, valve.link()),
            None => direct(&mut section, valve),
        }
        section
    }
}

/// The armature carries the seal of the main seat, and all above the seat is at the inlet's pressure.
fn direct(section: &mut Section, valve: &Valve) {
    let main = &valve.main;
    let r = 0.5 * main.seat_diameter;
    let seat = Seat::new(main, 2.0 * r);
    let foot = seat.reach() + 0.5 * (seat.outer - r);
    let yoke = Yoke::new(&valve.coil, foot);
    let moves = Moves::WithStage;
    let (profile, shaft) = tip(&valve.function, &yoke, 0.0, foot);
    let wall = yoke.tube[0].max(foot) + r + p::AIR * yoke.armature;
    let outer = wall + p::WALL * wall;
    let roof = p::YOKE * yoke.armature + valve.armature.stroke;
    let cover = roof + p::WALL * wall;
    let free_above = profile.last().map_or(0.0, |last| last[1]);
    let end = LowerEnd { profile, shaft, free_above, tube_from: cover };
    let around = magnet::draw(section, valve, &yoke, end, moves);
    let mut body = Body { wall: [wall, outer], floor: p::WALL * wall, top: roof, outlet: 0.0 };
    seat.draw(section, &mut body, moves, &corners(&[[r, 0.0], [0.0, 0.0]], moves));
    section.round(Part::Cover, Moves::Still, rectangle([yoke.tube[0], outer], [roof, cover]));
    let mut inlet = around.outside();
    inlet.extend(corners(&[[yoke.tube[0], roof], [wall, roof]], Moves::Still));
    inlet.extend(corners(&seat.border(wall).into_iter().rev().collect::<Vec<_>>(), Moves::Still));
    let mut under: Vec<[f64; 2]> = vec![[r, 0.0]];
    under.extend(seat.pot.as_ref().map(Pot::under).unwrap_or_default().into_iter().rev());
    inlet.extend(corners(&under, moves));
    inlet.extend(around.inside(r, moves).into_iter().skip(1));
    section.space(Place::Inlet, Side::Round, INLET, inlet);
}
