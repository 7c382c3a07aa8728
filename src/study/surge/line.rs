//! The line on both sides of the valve, and the velocity in it.

use crate::fluid::{Aggregation, State};
use crate::physics::line::wave_speed::{Support, Wall, in_elastic_line};
use crate::physics::restriction::{self, Series};
use crate::pipe::Pipe;

/// The line on both sides of the valve.
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    /// Its pipe.
    pub pipe: Pipe,
    /// Its length upstream of the valve, m.
    pub length: f64,
    /// How it is held.
    pub support: Support,
}

impl Line {
    /// Area of the bore, m².
    pub fn area(&self) -> f64 {
        std::f64::consts::FRAC_PI_4 * self.pipe.bore * self.pipe.bore
    }

    fn wall(&self) -> Wall {
        let elasticity = self.pipe.material.elasticity();
        Wall {
            bore: self.pipe.bore,
            thickness: self.pipe.wall_thickness,
            modulus: elasticity.modulus,
            poisson_ratio: elasticity.poisson_ratio,
            support: self.support,
        }
    }

    /// How it is held, in words.
    pub fn held(&self) -> &'static str {
        match self.support {
            Support::Throughout => "held throughout",
            Support::Upstream => "held at its upstream end",
            Support::Joints => "free to slide",
        }
    }
}

/// What sets the velocity that is stopped.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Flow {
    /// The same open valve for every fluid.
    Valve {
        /// Flow coefficient A_v, m².
        coefficient: f64,
        /// Differential across the open valve, Pa.
        differential: f64,
    },
    /// The same velocity for every fluid, m/s.
    Velocity(f64),
}

impl Flow {
    /// Differential across the open valve, Pa; nought where a velocity is stated and the valve is not known.
    pub(super) fn differential(self) -> f64 {
        match self {
            Flow::Valve { differential, .. } => differential,
            Flow::Velocity(_) => 0.0,
        }
    }

    pub(super) fn velocity(self, state: &State, line: &Line) -> f64 {
        match (self, state.real_gas()) {
            (Flow::Velocity(velocity), _) => velocity,
            (Flow::Valve { coefficient, differential }, None) => {
                coefficient / line.area() * (differential / state.density).sqrt()
            }
            (Flow::Valve { coefficient, differential }, Some(gas)) => {
                // A_v = √2·C·A by definition; a bore so much wider than the valve throttles nothing.
                let curtain = coefficient / std::f64::consts::SQRT_2;
                let both = Series { curtain, bore: 1e4 * curtain };
                let outlet = (state.pressure - differential).max(0.0);
                let b = gas.ellipse_critical_ratio();
                let blend = 1e-6 * differential;
                let flow = restriction::gas(both, state.density, state.pressure, outlet, b, blend).mass_flow;
                flow / (state.density * line.area())
            }
        }
    }
}

/// Wave speed in the line, m/s: the wall gives way to a liquid, and is rigid against a gas.
pub(super) fn wave_speed(state: &State, line: &Line) -> f64 {
    match state.aggregation {
        Aggregation::Liquid => in_elastic_line(&state.liquid(), &line.wall()),
        Aggregation::Gas => state.sound_speed,
    }
}
