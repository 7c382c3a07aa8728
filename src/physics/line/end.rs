//! The end of a line at the valve: what flows there for a pressure at the port, in motion and steadily.

use super::resistance::Resistance;
use super::state::LineState;
use crate::dual::Real;

/// How a line enters the balances.
#[derive(Clone, Debug)]
pub struct LineEnd {
    /// The line's state.
    pub state: LineState,
    /// Resistance between the arriving wave and the port (waves), or of the whole column (lumped).
    pub resistance: Resistance,
    /// Lumped: the column's flow is a state. Else the flow follows from the arriving wave.
    pub lumped: bool,
}

impl LineEnd {
    /// Flow between port and line (kg/s, along the valve's flow where `along` is +1) and rate of the column.
    #[inline(always)]
    pub fn flow<T: Real>(&self, arriving: T, port: T, column: T, towards_valve: f64) -> (T, T) {
        let difference = (arriving - port) * towards_valve;
        if self.lumped {
            let rate = (difference - self.resistance.loss(column)) * (1.0 / self.state.inertance());
            (column, rate)
        } else {
            (difference * (1.0 / self.state.impedance()), T::constant(0.0))
        }
    }

    /// Loss of the whole line at mass flow ṁ (kg/s), Pa.
    pub fn whole_loss(&self, flow: f64) -> f64 {
        self.state.wall.with(self.state.end).loss(flow)
    }

    /// What must arrive at the port for the steady flow `flow` (kg/s towards the valve), Pa above the datum.
    pub fn arriving_for(&self, port: f64, flow: f64, end: f64) -> f64 {
        if self.lumped { end - self.state.datum } else { port - self.state.datum + self.state.impedance() * flow }
    }
}
