//! The lines and their far ends.

use super::fittings::Fittings;
use crate::key::declared;

/// How a line is computed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LineModel {
    /// Lumped where the wave crosses it within the resolved motion, else waves.
    Auto,
    /// One volume and one column.
    Lumped,
    /// Travelling waves with exact delay.
    Waves,
}

declared! {
    /// A line between the valve and a place of known pressure.
    pub struct Line {
        /// length of the line
        length: Length "L", Positive, "length of the {}", usually 0.02 to 5e3;
        /// bore of the line
        bore: Length "D", Positive, "bore of the {}", usually 1e-3 to 1.0, or none;
        /// speed of pressure waves in the line, without free gas
        wave_speed: Velocity "a", Positive, "wave speed in the {}", usually 1.0 to 5e3, or none;
        /// density of a gas at the line's far end, where it was throttled
        /// Where it is not p/(R'·T) of the supply.
        density: Density(Option<f64>), Positive, "gas density in the {}", usually 1e-3 to 3e3;
        /// Darcy friction factor
        friction_factor: Number "λ", NotNegative, "Darcy friction factor of the {}", usually 0.0 to 10.0;
        /// sum of the loss coefficients of fittings, entrance and exit
        /// Placed at the far end.
        loss_coefficient: Number "K", NotNegative, "loss coefficients of the {}", usually 0.0 to 1e4;
        /// segments over which the wall friction is spread
        segments: Count(usize), Pieces, "friction segments of the {}";
    }
    and {
        /// Model.
        model: LineModel;
        /// Strainer and check valve.
        fittings: Fittings;
    }
}

declared! {
    /// The upstream end of the installation.
    pub struct Source {
        /// supply pressure at no flow
        pressure: AbsolutePressure "P_s", Positive, "supply pressure", usually 1e3 to 500e5, or none;
        /// amplitude of a pulsation of the supply
        pulsation: PressureDifference, NotNegative, "pulsation amplitude of the supply", or none;
        /// frequency of that pulsation
        pulsation_frequency: Frequency, Positive, "pulsation frequency of the supply", usually 1e-3 to 1e4, or none;
    }
    and {
        /// Fall of pressure with the square of flow (pump curve), Pa/(kg/s)².
        droop: f64;
    }
}

declared! {
    /// The downstream end of the installation.
    pub struct Sink {
        /// pressure behind the consumer
        pressure: AbsolutePressure "P_k", Positive, "pressure behind the consumer";
    }
    and {
        /// What a shut line drains to in the end, Pa absolute: that pressure, or less where the throttle flashes and the line is
        /// therefore computed to a higher one.
        drained: f64;
        /// Throttle (consumer) at the far end, Pa/(kg/s)² at the line's own density.
        throttle: f64;
    }
}

impl Sink {
    /// How far a flashing throttle holds its line above what it drains to, Pa. Source: definition.
    pub fn held(&self) -> f64 {
        self.pressure - self.drained
    }
}
