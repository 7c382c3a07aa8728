//! A line as travelling waves: exact delay, friction lumped in the middles of equal stretches.
//!
//! Flow Q counts towards the valve at both lines. Along the flow travels p + Z·Q, against it p − Z·Q, each unchanged from one
//! junction to the next, and later by the time that takes (method of characteristics; bilateral delay after D. M. Auslander, "Distributed system
//! simulation with bilateral delay-line models", J. Basic Eng. 90 (1968) 195-200, from memory). At a junction
//!
//! ```text
//! A − B = 2·Z·Q + R_l·Q + R·Q·|Q| + Σ R_i·(Q − z_i)      sent to the valve: B + 2·Z·Q      sent outwards: A − 2·Z·Q
//! ```
//!
//! with A arriving from the far side and B from the valve's, and the last sum the wall shear with memory ([`super::shear`]);
//! solved in `junction`. Damping of standing waves is right below as many half waves as there are stretches
//! (why: `Site::stretch` in `junction`). A front comes back from each junction's shear as 1/√t: that ripple falls as 1/√stretches, while its
//! average over a stair is right with few (`validation`). Junctions work ahead of the valve's time as far as their
//! arrivals are known, and keep a knot only where a wave bends, so that a steep front passes all junctions as steep as
//! it was sent, however long the steps of the valve are meanwhile.

use super::far_end::{EndPressure, Passed};
use super::junction::{Arrivals, Junction, Moment, Site};
use super::resistance::Resistance;
use super::shear::Shear;
use super::state::LineState;
use super::wave::{Fineness, Knot, Wave};

/// By how many errors of a kept wave one curve may miss those that it stands for, in a liquid …
const LIQUID_MERGED: f64 = 10.0;
/// … and in a gas, whose ledger is the tighter one: it holds the energy of the line's waves alone.
const GAS_MERGED: f64 = 3.0;

/// Times that the wave takes from the valve to the first junction, between junctions, and to the far end, s: a half stretch, whole
/// ones, a half one; a line without friction is crossed at once.
pub(super) fn delays(state: &LineState, segments: usize) -> Vec<f64> {
    let (n, transit) = (segments.max(1), state.transit());
    if state.wall == Resistance::default() && state.shear == Shear::NONE {
        return vec![transit];
    }
    let stretch = transit / n as f64;
    let mut delays = vec![stretch; n + 1];
    (delays[0], delays[n]) = (0.5 * stretch, 0.5 * stretch);
    delays
}

/// A line of travelling waves between the valve (node 0) and a place of known pressure (node n).
#[derive(Clone, Debug)]
pub struct WaveLine {
    state: LineState,
    impedance: f64,
    end_pressure: EndPressure,
    inward: Vec<Wave>,
    outward: Vec<Wave>,
    junctions: Vec<Junction>,
    longest_gap: f64,
}

impl WaveLine {
    /// A line at rest at the end pressure, its friction in `segments` stretches, from `start` on; waves kept within `error` Pa.
    pub fn at_rest(state: &LineState, end_pressure: EndPressure, segments: usize, start: f64, error: f64) -> Self {
        Self::steady(state, end_pressure, segments, start, error, 0.0)
    }

    /// The same line in steady flow `flow` (kg/s towards the valve).
    pub fn steady(
        state: &LineState,
        end_pressure: EndPressure,
        segments: usize,
        start: f64,
        error: f64,
        flow: f64,
    ) -> Self {
        let (delays, z) = (delays(state, segments), state.impedance());
        let n = delays.len() - 1;
        let mut gap = 0.5 * state.transit() / n.max(1) as f64;
        if end_pressure.amplitude != 0.0 {
            gap = gap.min(std::f64::consts::TAU / end_pressure.angular_frequency / 24.0);
        }
        let (far_loss, stretch_loss) = (state.end.loss(flow), state.wall.loss(flow) / n.max(1) as f64);
        let pressure = |i: usize| end_pressure.mean - far_loss - (n - i) as f64 * stretch_loss;
        let wave = |i: usize, sign: f64| {
            let errors = if state.layer.heat_ratio.is_some() { GAS_MERGED } else { LIQUID_MERGED };
            let fineness = Fineness { error, gap: gap.min(0.5 * delays[i]), merged: errors * error };
            Wave::steady(pressure(i) + sign * z * flow, start, delays[i], fineness)
        };
        let far = Site { end: Some(end_pressure), ..Site::far_end(state, n) };
        let sites = (0..n).map(|_| Site::stretch(state, n)).chain([far]);
        WaveLine {
            impedance: z,
            end_pressure,
            inward: (0..=n).map(|i| wave(i, 1.0)).collect(),
            outward: (0..=n).map(|i| wave(i, -1.0)).collect(),
            junctions: sites.map(|site| Junction::steady(site, start, flow)).collect(),
            longest_gap: gap,
            state: state.clone(),
        }
    }

    /// The line's state.
    pub fn state(&self) -> &LineState {
        &self.state
    }

    /// Characteristic that arrives at the valve, Pa above the datum, and its slope, Pa/s.
    #[inline]
    pub fn arriving(&self, time: f64) -> (f64, f64) {
        self.inward[0].arriving(time)
    }

    /// Longest step from `time` that neither outruns what is known nor passes over a feature of the arriving wave, s.
    pub fn longest_step(&self, time: f64) -> f64 {
        let known = self.inward[0].known_until();
        let feature = self.inward[0].free_until(time).unwrap_or(known);
        feature.min(known) - time
    }

    /// Record what the valve sends: its flow from the line (kg/s) and slope (kg/s²) under the arriving wave at `time`.
    pub fn send(&mut self, time: f64, flow: f64, flow_slope: f64) {
        let (arriving, slope) = self.arriving(time);
        let z = 2.0 * self.impedance;
        self.outward[0].send(Knot { time, value: arriving - z * flow, slope: slope - z * flow_slope });
        self.work_ahead();
        if self.inward[0].known_until() - time < 0.5 * self.inward[0].delay() {
            self.outward[0].flush();
            self.work_ahead();
            self.inward[0].flush();
        }
        for wave in self.inward.iter_mut().chain(&mut self.outward) {
            wave.forget(time);
        }
        self.inward[0].merge_ahead(time);
        for junction in &mut self.junctions {
            junction.forget(time);
        }
    }

    /// Let every junction work as far as its arrivals are known.
    fn work_ahead(&mut self) {
        loop {
            let mut worked = false;
            for node in 1..=self.junctions.len() {
                worked |= self.work_junction(node);
            }
            if !worked {
                break;
            }
        }
    }

    /// Instant until which the arrivals at a node are known.
    fn horizon(&self, node: usize) -> f64 {
        let near = self.outward[node - 1].known_until();
        self.inward.get(node).map_or(near, |far| near.min(far.known_until()))
    }

    fn work_junction(&mut self, node: usize) -> bool {
        let horizon = self.horizon(node);
        let mut worked = false;
        while self.junctions[node - 1].worked_until() < horizon {
            let from = self.junctions[node - 1].worked_until();
            let near = self.outward[node - 1].next_arrival(from);
            let far = self.inward.get(node).and_then(|w| w.next_arrival(from));
            let next = [near, far].into_iter().flatten().fold(horizon, f64::min);
            let to = next.min(from + self.longest_gap).max(from + 1e-12).min(horizon);
            self.cross(node, to);
            worked = true;
        }
        worked
    }

    /// Arrivals at a node from the far side and from the valve's.
    #[inline]
    fn arrivals(&self, node: usize, time: f64) -> Arrivals {
        let near = self.outward[node - 1].arriving(time);
        let far = match self.inward.get(node) {
            Some(wave) => wave.arriving(time),
            None => self.end_pressure.at(time),
        };
        Arrivals { far, near }
    }

    /// Work a junction on to an instant: send both ways and account for the passage.
    fn cross(&mut self, node: usize, to: f64) {
        let arrivals = self.arrivals(node, to);
        let b = self.junctions[node - 1].work_on(to, arrivals);
        let Arrivals { far, near } = arrivals;
        let z = 2.0 * self.impedance;
        self.inward[node - 1].send(Knot { time: to, value: near.0 + z * b.flow, slope: near.1 + z * b.slope });
        if let Some(wave) = self.outward.get_mut(node) {
            wave.send(Knot { time: to, value: far.0 - z * b.flow, slope: far.1 - z * b.slope });
        }
    }

    /// A node's moment at an earlier or present instant, with all that had passed by then.
    fn recall(&self, node: usize, time: f64) -> Moment {
        self.junctions[node - 1].recall(time, || self.arrivals(node, time))
    }

    /// What has passed until `time` (not before the last call of [`WaveLine::send`]).
    pub fn passed(&self, time: f64) -> Passed {
        (1..=self.junctions.len()).fold(Passed::default(), |total, node| {
            let p = self.recall(node, time).passed;
            Passed { mass: total.mass + p.mass, work: total.work + p.work, loss: total.loss + p.loss }
        })
    }

    /// Make all that was sent known, so that [`WaveLine::stored`] and [`WaveLine::passed`] hold at the valve's last instant.
    pub fn settle(&mut self) {
        self.outward[0].flush();
        self.work_ahead();
        for wave in self.inward.iter_mut().chain(&mut self.outward) {
            wave.flush();
        }
    }

    /// Mass above that at the datum (kg) and energy (J) under way in the line at `time`.
    ///
    /// ```text
    /// mass = Σ ∫(c + b)/(2Z) dt        energy = Σ ∫(c² + b²)/(4Zρ) dt + shear        over one transit of each segment
    /// ```
    ///
    /// Source: own derivation from p = (c + b)/2, Q = (c − b)/(2Z) and the energy density of a plane wave.
    pub fn stored(&self, time: f64) -> (f64, f64) {
        let (z, rho) = (self.impedance, self.state.density);
        let shear: f64 = (1..=self.junctions.len())
            .map(|node| self.junctions[node - 1].stored(&self.recall(node, time)) / rho)
            .sum();
        let waves = self.inward.iter().chain(&self.outward);
        waves.fold((0.0, shear), |(mass, energy), wave| {
            let (sum, square) = wave.under_way(time);
            (mass + sum / (2.0 * z), energy + square / (4.0 * z * rho))
        })
    }
}
