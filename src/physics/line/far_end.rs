//! The far end of a line: the pressure there, and the account of what has come in.

use crate::portable::Portable;

/// Pressure at the far end: steady, with a sinusoidal pulsation.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EndPressure {
    /// Mean, Pa above the datum.
    pub mean: f64,
    /// Amplitude, Pa.
    pub amplitude: f64,
    /// Angular frequency, rad/s.
    pub angular_frequency: f64,
}

impl EndPressure {
    /// Value and slope, Pa above the datum and Pa/s. Source: definition.
    #[inline]
    pub fn at(&self, time: f64) -> (f64, f64) {
        if self.amplitude == 0.0 {
            return (self.mean, 0.0);
        }
        let (sine, cosine) = (self.angular_frequency * time).sine_and_cosine();
        (self.mean + self.amplitude * sine, self.amplitude * self.angular_frequency * cosine)
    }
}

/// What has passed the far end and the junctions until an instant.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Passed {
    /// Mass that entered at the far end, kg.
    pub mass: f64,
    /// Work of the far end's pressure, J.
    pub work: f64,
    /// Losses at junctions and far end, J.
    pub loss: f64,
}
