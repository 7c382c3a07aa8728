//! What all kinds have: main seat, body and ports, and a tip on the armature.

use super::cushion::Pot;
use super::drawn::{Part, Place, Section, Side};
use super::outline::{Corner, Moves, corners, rectangle};
use super::proportions as p;
use super::yoke::Yoke;
use crate::physics::parts::{Function, MainStage};

/// The main seat and what stands around it, m.
pub(super) struct Seat {
    /// Radius of its bore: half the seat diameter.
    pub radius: f64,
    /// Outer radius of its ring.
    pub outer: f64,
    /// Height of the inlet's floor, below the seat.
    pub floor: f64,
    /// The cushion's pot.
    pub pot: Option<Pot>,
}

/// Walls of the body, m.
pub(super) struct Body {
    /// Inner and outer radius of its wall.
    pub wall: [f64; 2],
    /// Thickness of the inlet's floor.
    pub floor: f64,
    /// Height of its upper end.
    pub top: f64,
    /// Height of the outlet port's roof: set by drawing.
    pub outlet: f64,
}

impl Seat {
    /// The seat under a stage that reaches out to a radius (m).
    pub(super) fn new(main: &MainStage, reach: f64) -> Self {
        let radius = 0.5 * main.seat_diameter;
        let wall = (p::SEAT_WALL * radius).min(p::SEAT_WALL_SHARE * (reach - radius).max(0.1 * radius));
        let pot = main.cushion.as_ref().map(|cushion| Pot::new(cushion, radius + wall, wall));
        let depth = (p::INLET_DEPTH * radius).max(pot.as_ref().map_or(0.0, Pot::depth));
        Seat { radius, outer: radius + wall, floor: -depth, pot }
    }

    /// Radius up to which seat and cushion reach, m.
    pub(super) fn reach(&self) -> f64 {
        self.pot.as_ref().map_or(self.outer, Pot::outer)
    }

    /// How far its edge falls off, m.
    fn edge(&self) -> f64 {
        p::SEAT_EDGE * (self.outer - self.radius)
    }

    /// The inlet's still border from the seat's edge out to a wall of that radius (m).
    pub(super) fn border(&self, wall: f64) -> Vec<[f64; 2]> {
        let mut points = vec![[self.radius, 0.0], [self.outer, -self.edge()], [self.outer, self.floor]];
        points.extend(self.pot.as_ref().map(|pot| pot.floor(self.floor)).unwrap_or_default());
        points.push([wall, self.floor]);
        points
    }

    /// Draw seat, body and ports; what lies over the outlet, from its wall inwards to the axis, moves.
    pub(super) fn draw(&self, section: &mut Section, body: &mut Body, moves: Moves, over_outlet: &[Corner]) {
        let (r, [wall, outer]) = (self.radius, body.wall);
        let roof = self.floor - body.floor;
        let ground = roof - p::OUTLET_HEIGHT * r;
        let base = ground - p::WALL * wall;
        body.outlet = roof;
        let solid = [
            [r, self.floor],
            [wall, self.floor],
            [wall, body.top],
            [outer, body.top],
            [outer, base],
            [0.0, base],
            [0.0, ground],
            [r, ground],
        ];
        section.round(Part::Body, Moves::Still, solid.to_vec());
        let ring = [[r, 0.0], [r, self.floor], [self.outer, self.floor], [self.outer, -self.edge()]];
        section.round(Part::MainSeat, Moves::Still, ring.to_vec());
        if let Some(pot) = &self.pot {
            pot.draw(section, self.floor, moves);
        }
        let mut outlet = corners(&[[0.0, ground], [r, ground], [r, 0.0]], Moves::Still);
        outlet.extend(over_outlet);
        section.space(Place::Outlet, Side::Round, OUTLET, outlet);
        let port = corners(&rectangle([r, outer], [ground, roof]), Moves::Still);
        section.space(Place::OutletPort, Side::Outlet, OUTLET, port);
        let port = corners(&rectangle([wall, outer], [self.floor, 0.2 * self.floor]), Moves::Still);
        section.space(Place::InletPort, Side::Inlet, INLET, port);
    }
}

/// The channels of a trace.
pub(super) const INLET: &str = "inlet_pressure";
pub(super) const OUTLET: &str = "outlet_pressure";
pub(super) const CHAMBER: &str = "chamber_pressure";

/// A tip at that height (m) that covers a radius (m), on a plunger or a rod.
pub(super) fn tip(function: &Function, yoke: &Yoke, height: f64, cover: f64) -> (Vec<[f64; 2]>, Option<f64>) {
    let r_a = yoke.armature;
    let shaft = match function {
        Function::NormallyClosed => None,
        Function::NormallyOpen(_) => Some(p::ROD * r_a),
    };
    let thickness = p::YOKE * r_a;
    let mut profile = vec![[0.0, height]];
    let on = shaft.unwrap_or(r_a);
    if cover > on {
        profile.extend([[cover, height], [cover, height + thickness]]);
        profile.extend(shaft.map(|rod| [rod, height + thickness]));
    } else {
        profile.extend(shaft.map(|rod| [rod, height]));
    }
    (profile, shaft)
}
