//! What is stored, what came in, what went out: mass and energy of a run.
//!
//! Stored amounts are functions of the present state and of the waves under way; inflow, outflow and losses are running
//! integrals, each loss with its own expression. They are computed apart and must agree.

use super::installation::{Installation, Nearby};
use super::line::far_end::Passed;
use super::state::*;
use super::valve::cell::{Cell, Near};
use super::valve::main_stage::SeatFluid;
use crate::portable::Portable;

/// One balance: what entered less what left and was lost, against the growth of what is stored.
#[derive(Clone, Debug, PartialEq)]
pub struct Balance {
    /// What is balanced.
    pub name: &'static str,
    /// Kilograms or joules.
    pub unit: &'static str,
    /// Named entries, positive: adds to the stored amount.
    pub entries: Vec<(&'static str, f64)>,
    /// Growth of what is stored.
    pub stored: f64,
    /// Below this size the residue is taken relative to this floor.
    pub floor: f64,
}

/// Floor of the mass balance, kg.
pub const MASS_FLOOR: f64 = 1e-9;
/// Floor of the energy balances, J.
pub const ENERGY_FLOOR: f64 = 1e-6;
/// In a line, energies below that of a wave of this share of the pressure scale are taken relative to it. A wave p is kept to
/// e = tolerance·scale, so its energy ½·C·p² is known to C·p·e and no better, of itself 2·e/p; within the ten times the tolerance
/// that a run is held to, that is from p = 0.2·scale on. Source: own algebra.
const WAVE_FLOOR_SHARE: f64 = 0.2;
/// The same for masses. In quiet time steps are long against the port's filling time, and what the valve sends is known to
/// some ten times the tolerance; a shut valve passes less than that. Any open valve passes thousands of times more. Valves that stay shut
/// for all of a run were seen to leave 2 to 9·10⁻⁵ of a wave of 0.2 of the scale, one 1.2·10⁻⁴, whatever the tolerance: why is not known.
const MASS_FLOOR_SHARE: f64 = 0.5;

impl Balance {
    /// Sum of entries less growth of the stored amount.
    pub fn residue(&self) -> f64 {
        self.entries.iter().map(|(_, amount)| amount).sum::<f64>() - self.stored
    }

    /// Residue relative to the larger of gains and losses, or to the floor.
    pub fn relative(&self) -> f64 {
        let gains: f64 = self.entries.iter().map(|(_, a)| a.max(0.0)).sum();
        let losses: f64 = self.entries.iter().map(|(_, a)| (-a).max(0.0)).sum();
        let side = (gains + (-self.stored).max(0.0)).max(losses + self.stored.max(0.0));
        self.residue().abs() / side.max(self.floor)
    }
}

/// What the lines hold and have let pass: zero for lumped lines.
#[derive(Clone, Copy, Debug, Default)]
pub struct LineAccount {
    /// Mass above that at the datum under way, kg.
    pub mass: f64,
    /// Energy under way, J.
    pub energy: f64,
    /// What passed the junctions and the far end.
    pub passed: Passed,
}

/// A moment of the account.
#[derive(Clone, Debug)]
pub struct Account {
    /// Instant, s.
    pub time: f64,
    /// State.
    pub state: [f64; STATES],
    /// Running integrals.
    pub integrals: [f64; INTEGRALS],
    /// Upstream line.
    pub upstream: LineAccount,
    /// Downstream line (flow counted towards the valve).
    pub downstream: LineAccount,
}

impl Installation {
    /// The balances between two moments of a run.
    ///
    /// Liquid: one of mass and one of mechanical and electrical energy over everything. Gas: mass over everything; first
    /// law of the valve body between its ports; perturbation energy of each line with its port.
    /// Source: own derivation, term by term beside the equations of each part.
    pub fn balances(&self, near: &Nearby, from: &Account, to: &Account) -> Vec<Balance> {
        let mut list = vec![self.mass_balance(from, to)];
        match self.stage.fluid {
            SeatFluid::Liquid { .. } => list.push(self.liquid_energy(near, from, to)),
            SeatFluid::Gas { .. } => {
                list.push(self.body_energy(from, to));
                list.push(self.upstream_energy(from, to));
                list.push(self.downstream_energy(from, to));
            }
        }
        list
    }

    /// Mass in the three vessels beyond a constant, kg.
    fn vessel_mass(&self, y: &[f64; STATES]) -> f64 {
        let (a_d, a_s) = (self.stage.effective_area, self.stage.seat_area);
        let [from_inlet, from_outlet] = self.control.taken(y);
        let inlet = y[INLET] + (a_d - a_s) * y[LIFT] + from_inlet;
        let outlet = y[OUTLET] + a_s * y[LIFT] + from_outlet;
        self.control.mass(&self.stage, y) + self.upstream.state.density * inlet + self.downstream.state.density * outlet
    }

    fn mass_balance(&self, from: &Account, to: &Account) -> Balance {
        let integral = |i: usize| to.integrals[i] - from.integrals[i];
        let entered = if self.upstream.lumped { integral(INLET_MASS) } else { passed(from, to, true).mass };
        let left = if self.downstream.lumped { integral(OUTLET_MASS) } else { -passed(from, to, false).mass };
        let held = |a: &Account| self.vessel_mass(&a.state) + a.upstream.mass + a.downstream.mass;
        let mut entries = vec![("from the supply", entered), ("to the sink", -left)];
        entries.extend(self.control.own_vent().map(|_| ("by the pilot's vent", -integral(VENT_MASS))));
        Balance {
            name: "mass",
            unit: "kg",
            entries,
            stored: held(to) - held(from),
            floor: MASS_FLOOR + self.wave_mass(),
        }
    }

    /// Mass of a wave of [`MASS_FLOOR_SHARE`] of the pressure scale in both lines, kg.
    fn wave_mass(&self) -> f64 {
        let held = |line: &super::line::LineEnd| line.state.compliance() * line.state.density;
        MASS_FLOOR_SHARE * self.pressure_scale * (held(&self.upstream) + held(&self.downstream))
    }

    fn liquid_energy(&self, near: &Nearby, from: &Account, to: &Account) -> Balance {
        let integral = |i: usize| to.integrals[i] - from.integrals[i];
        let (up, down) = (passed(from, to, true), passed(from, to, false));
        let held = |a: &Account| {
            self.moving_energy(&a.state) + self.liquid_vessels(near, &a.state) + a.upstream.energy + a.downstream.energy
        };
        let mut entries = vec![
            ("supply and sink", up.work + down.work + integral(END_WORK)),
            ("coil", integral(ELECTRIC_WORK)),
            ("main seat", -integral(MAIN_LOSS)),
            ("pilot", -integral(PILOT_LOSS)),
            ("bleed", -integral(BLEED_LOSS)),
        ];
        entries.extend(self.leaks().then(|| ("leak past the piston", -integral(RING_LEAK_LOSS))));
        let against = |vent: f64| -(vent - self.downstream.state.datum) * integral(VENT_VOLUME);
        entries.extend(self.control.own_vent().map(|vent| ("work against the pilot's vent", against(vent))));
        entries.extend(self.solid_losses(&integral));
        entries.push(("upstream line", -integral(UPSTREAM_LOSS) - up.loss));
        entries.push(("downstream line", -integral(DOWNSTREAM_LOSS) - down.loss));
        Balance {
            name: "energy",
            unit: "J",
            entries,
            stored: held(to) - held(from),
            floor: self.line_floor(&self.upstream, lapse(from, to))
                + self.line_floor(&self.downstream, lapse(from, to)),
        }
    }

    fn solid_losses(&self, integral: &impl Fn(usize) -> f64) -> Vec<(&'static str, f64)> {
        vec![
            ("coil circuit", -integral(CIRCUIT_HEAT)),
            ("eddy currents and ring", -integral(IRON_HEAT)),
            ("diaphragm bulge", -integral(BULGE_LOSS)),
            ("stage damping and contacts", -integral(STAGE_LOSS)),
            ("armature damping and contacts", -integral(ARMATURE_LOSS)),
        ]
    }

    /// Does anything leak past a piston?
    fn leaks(&self) -> bool {
        self.control.servo().is_some_and(|servo| servo.leak.is_some())
    }

    fn body_energy(&self, from: &Account, to: &Account) -> Balance {
        let integral = |i: usize| to.integrals[i] - from.integrals[i];
        let held = |a: &Account| self.moving_energy(&a.state) + a.state[CHAMBER_ENERGY];
        let mut entries = vec![
            ("coil", integral(ELECTRIC_WORK)),
            ("enthalpy through the bleed", integral(BLEED_LOSS)),
            ("enthalpy through the pilot", -integral(PILOT_LOSS)),
            ("work of the streams", integral(MAIN_LOSS)),
            ("heat from the wall", integral(WALL_HEAT)),
        ];
        entries.extend(self.leaks().then(|| ("enthalpy past the piston", integral(RING_LEAK_LOSS))));
        entries.extend(self.solid_losses(&integral));
        Balance {
            name: "energy of the valve body",
            unit: "J",
            entries,
            stored: held(to) - held(from),
            floor: ENERGY_FLOOR,
        }
    }

    fn upstream_energy(&self, from: &Account, to: &Account) -> Balance {
        let integral = |i: usize| to.integrals[i] - from.integrals[i];
        let up = passed(from, to, true);
        let supply = if self.upstream.lumped { integral(END_WORK) } else { up.work };
        let held = |a: &Account| {
            let p = self.inlet.pressure(a.state[INLET]);
            let column = self.column_energy(a.state[UPSTREAM_FLOW], &self.upstream);
            a.upstream.energy + column + self.inlet.energy(p, self.upstream.state.datum)
        };
        Balance {
            name: "perturbation energy upstream",
            unit: "J",
            entries: vec![
                ("supply", supply),
                ("to the valve", -integral(INLET_WORK)),
                ("friction", -integral(UPSTREAM_LOSS) - up.loss),
            ],
            stored: held(to) - held(from),
            floor: self.line_floor(&self.upstream, lapse(from, to)),
        }
    }

    fn downstream_energy(&self, from: &Account, to: &Account) -> Balance {
        let integral = |i: usize| to.integrals[i] - from.integrals[i];
        let down = passed(from, to, false);
        let held = |a: &Account| {
            let p = self.outlet.pressure(a.state[OUTLET]);
            let column = self.column_energy(a.state[DOWNSTREAM_FLOW], &self.downstream);
            a.downstream.energy + column + self.outlet.energy(p, self.downstream.state.datum)
        };
        Balance {
            name: "perturbation energy downstream",
            unit: "J",
            entries: vec![
                ("sink", down.work),
                ("from the valve", integral(OUTLET_WORK)),
                ("friction", -integral(DOWNSTREAM_LOSS) - down.loss),
            ],
            stored: held(to) - held(from),
            floor: self.line_floor(&self.downstream, lapse(from, to)),
        }
    }

    /// Over a lapse of many transits their errors add up as a random walk does.
    fn line_floor(&self, line: &super::line::LineEnd, lapse: f64) -> f64 {
        let transits = (lapse / line.state.transit()).max(1.0);
        let wave = 0.5 * line.state.compliance() * (WAVE_FLOOR_SHARE * self.pressure_scale).to_the(2);
        ENERGY_FLOOR + wave * transits.sqrt()
    }

    fn column_energy(&self, flow: f64, line: &super::line::LineEnd) -> f64 {
        if line.lumped { 0.5 * line.state.inertance() * flow * flow / line.state.density } else { 0.0 }
    }

    /// Energy of moving parts, springs, contacts, bulge and magnetic field, J.
    fn moving_energy(&self, y: &[f64; STATES]) -> f64 {
        let bulge = self.stage.part.kind.bulge().map_or(0.0, |bulge| bulge.energy(y[BULGE]));
        self.control.armature_energy(&self.armature, y)
            + bulge
            + self.stage.energy(y[LIFT], y[LIFT_RATE], y[DEFLECTION])
            + self.magnet.energy(y[FLUX], y[RING_FLUX], self.approach(y))
    }

    /// Energy of the liquid in ports, chamber, passages and lumped columns, J.
    fn liquid_vessels(&self, near: &Nearby, y: &[f64; STATES]) -> f64 {
        let datum = self.downstream.state.datum;
        let port = |c: &Cell, near: &Near, s: f64| c.energy(c.pressure_near(s, near), datum);
        let ports = port(&self.inlet, &near.inlet, y[INLET]) + port(&self.outlet, &near.outlet, y[OUTLET]);
        self.control.energies(&near.chamber, y, datum).iter().fold(ports, |sum, energy| sum + energy)
            + self.column_energy(y[UPSTREAM_FLOW], &self.upstream)
            + self.column_energy(y[DOWNSTREAM_FLOW], &self.downstream)
    }
}

/// Time between two moments, s.
fn lapse(from: &Account, to: &Account) -> f64 {
    to.time - from.time
}

fn passed(from: &Account, to: &Account, upstream: bool) -> Passed {
    let (a, b) = if upstream {
        (from.upstream.passed, to.upstream.passed)
    } else {
        (from.downstream.passed, to.downstream.passed)
    };
    Passed { mass: b.mass - a.mass, work: b.work - a.work, loss: b.loss - a.loss }
}
