//! A spring-loaded valve on a lossless pipe, as the tables of its quarter wave state it.

use super::table::Row;
use crate::dual::Real;
use crate::physics::line::reflection::Reflection;
use crate::physics::line::shear::Shear;
use crate::physics::line::wall_layer::{Regime, WallLayer};
use crate::physics::line::{LineState, Resistance};
use crate::stability::characteristic::Characteristic;
use crate::stability::model::{Model, Point};
use std::f64::consts::{FRAC_PI_4, PI};

/// Density (kg/m³) and wave speed (m/s) of the tables.
const DENSITY: f64 = 998.2;

const WAVE_SPEED: f64 = 1350.0;

/// The valve of a row of the table, on a pipe of any length.
#[derive(Clone, Debug)]
pub(super) struct PipedValve {
    pub(super) mass: f64,
    pub(super) damping: f64,
    pub(super) stiffness: f64,
    pub(super) preload: f64,
    pub(super) seat_area: f64,
    /// ṁ = flow_factor·x·√p.
    pub(super) flow_factor: f64,
    pub(super) lift: f64,
    pub(super) pressure: f64,
    pub(super) line: LineState,
}

impl PipedValve {
    pub(super) fn of(row: &Row<'_>, length: f64) -> Result<Self, String> {
        let n = |name| row.number(name);
        let (mass, stiffness, seat, pipe) = (n("mass_kg")?, n("stiffness_n_m")?, n("seat_m")?, n("pipe_m")?);
        let (pressure, lift) = (n("pressure_pa")?, n("lift_m")?);
        let seat_area = FRAC_PI_4 * seat * seat;
        Ok(PipedValve {
            mass,
            stiffness,
            damping: 2.0 * n("damping_ratio")? * (stiffness * mass).sqrt(),
            preload: seat_area * pressure / stiffness - lift,
            seat_area,
            flow_factor: n("discharge_coefficient")? * PI * seat * (2.0 * DENSITY).sqrt(),
            lift,
            pressure,
            line: LineState {
                density: DENSITY,
                area: FRAC_PI_4 * pipe * pipe,
                wave_speed: WAVE_SPEED,
                length,
                datum: 0.0,
                wall: Resistance::default(),
                layer: WallLayer {
                    kinematic_viscosity: 0.0,
                    radius: 0.5 * pipe,
                    length,
                    transit: length / WAVE_SPEED,
                    heat_ratio: None,
                },
                regime: Regime::Laminar,
                shear: Shear::NONE,
                end: Resistance::default(),
            },
        })
    }

    /// Steady mass flow, kg/s.
    pub(super) fn flow(&self) -> f64 {
        self.flow_factor * self.lift * self.pressure.sqrt()
    }

    /// Acceleration of the valve under a pressure, m/s².
    pub(super) fn acceleration<T: Real>(&self, lift: T, speed: T, pressure: T) -> T {
        (pressure * self.seat_area - speed * self.damping - (lift + self.preload) * self.stiffness) * (1.0 / self.mass)
    }

    pub(super) fn characteristic(&self) -> Characteristic {
        let arriving = self.pressure + self.line.impedance() * self.flow();
        Characteristic::of(self, &Point { y: [self.lift, 0.0], arriving: [arriving] })
    }
}

/// Without any capacity at the port: p from c = p + Z·ṁ.
impl Model<2, 1> for PipedValve {
    fn rates<T: Real>(&self, arriving: &[T; 1], y: &[T; 2], rate: &mut [T; 2], flow: &mut [T; 1]) {
        let opening = y[0] * self.flow_factor;
        let half = opening * (0.5 * self.line.impedance());
        let root = (half.square() + arriving[0]).sqrt() - half;
        flow[0] = opening * root;
        rate[0] = y[1];
        rate[1] = self.acceleration(y[0], y[1], root.square());
    }
    fn lines(&self) -> [Option<Reflection>; 1] {
        [Some(Reflection::lumped(&self.line, 1, self.flow()))]
    }
    fn scales(&self) -> [f64; 2] {
        [self.lift, self.lift * (self.stiffness / self.mass).sqrt()]
    }
    fn pressure_scale(&self) -> f64 {
        self.pressure
    }
}
