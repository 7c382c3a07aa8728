//! A line as travelling waves: exact delay, friction lumped at the junctions of equal segments.
//!
//! Flow Q counts towards the valve at both lines. Along the flow travels p + Z·Q, against it p − Z·Q, each unchanged over a
//! segment and one transit later (method of characteristics; bilateral delay after D. M. Auslander, "Distributed system
//! simulation with bilateral delay-line models", J. Basic Eng. 90 (1968) 195-200, from memory). At a junction
//!
//! ```text
//! A − B = 2·Z·Q + R_l·Q + R·Q·|Q| + Σ R_i·(Q − z_i)      sent to the valve: B + 2·Z·Q      sent outwards: A − 2·Z·Q
//! ```
//!
//! with A arriving from the far side and B from the valve's, and the last sum the wall shear with memory ([`super::shear`]). Junctions work ahead of the valve's time as far as their
//! arrivals are known, and keep a knot only where a wave bends, so that a steep front passes all junctions as steep as
//! it was sent, however long the steps of the valve are meanwhile.

use super::line::{LineState, Resistance};
use super::shear::{Memory, PARTS, Shear, Sums};
use super::wave::{Fineness, Knot, Wave};
use std::collections::VecDeque;

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
        let (sine, cosine) = (self.angular_frequency * time).sin_cos();
        (self.mean + self.amplitude * sine, self.amplitude * self.angular_frequency * cosine)
    }
}

/// The flow through a junction at one instant, and all that has passed until then.
#[derive(Clone, Copy, Debug)]
struct Moment {
    time: f64,
    flow: f64,
    slope: f64,
    memory: Memory,
    passed: Passed,
}

/// A junction: node 1 to n of the line; the last is the far end.
#[derive(Clone, Debug)]
struct Junction {
    resistance: Resistance,
    shear: Shear,
    /// ΣR_i of the shear.
    shear_total: f64,
    /// Recent moments, the last being that until which it has worked.
    log: VecDeque<Moment>,
}

impl Junction {
    fn now(&self) -> Moment {
        self.log[self.log.len() - 1]
    }
}

/// A line of travelling waves between the valve (node 0) and a place of known pressure (node n).
#[derive(Clone, Debug)]
pub struct WaveLine {
    state: LineState,
    impedance: f64,
    end_pressure: EndPressure,
    /// Friction at the valve's end, half a segment's share.
    pub valve_end: Resistance,
    inward: Vec<Wave>,
    outward: Vec<Wave>,
    junctions: Vec<Junction>,
    longest_gap: f64,
}

/// Inner nodes of the four-point Gauss-Lobatto rule on (0, 1), ±1/√5 about the middle, with weights 1/12 and 5/12.
/// Source: M. Abramowitz & I. A. Stegun, "Handbook of Mathematical Functions" (1964), 25.4.32 (from memory).
const LOBATTO: [(f64, f64); 4] =
    [(0.0, 1.0 / 12.0), (0.276_393_202_250_021, 5.0 / 12.0), (0.723_606_797_749_979, 5.0 / 12.0), (1.0, 1.0 / 12.0)];

impl WaveLine {
    /// A line at rest at the end pressure, cut into `segments`, from `start` on; waves kept within `error` Pa.
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
        let n = segments.max(1);
        let (delay, z) = (state.transit() / n as f64, state.impedance());
        let share = state.wall.share(1.0 / n as f64);
        let half = state.wall.share(0.5 / n as f64);
        let mut gap = 0.5 * delay;
        if end_pressure.amplitude != 0.0 {
            gap = gap.min(std::f64::consts::TAU / end_pressure.angular_frequency / 24.0);
        }
        let fineness = Fineness { error, gap };
        let far_loss = half.with(state.end).loss(flow);
        let pressure = |segment: usize| end_pressure.mean - far_loss - (n - 1 - segment) as f64 * share.loss(flow);
        let wave = |i: usize, sign: f64| Wave::steady(pressure(i) + sign * z * flow, start, delay, fineness);
        let junction = |i: usize| {
            // The far end carries the shear of the valve's end too, where a shut valve would leave it idle.
            let shear = state.shear.share(1.0 / n as f64);
            let moment = Moment { time: start, flow, slope: 0.0, memory: [flow; PARTS], passed: Passed::default() };
            Junction {
                resistance: if i == n { half.with(state.end) } else { share },
                shear_total: shear.total(),
                shear,
                log: VecDeque::from([moment]),
            }
        };
        WaveLine {
            impedance: z,
            end_pressure,
            valve_end: half,
            inward: (0..n).map(|i| wave(i, 1.0)).collect(),
            outward: (0..n).map(|i| wave(i, -1.0)).collect(),
            junctions: (1..=n).map(junction).collect(),
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
        let feature = self.inward[0].second_arrival(time).unwrap_or(known);
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
        for junction in &mut self.junctions {
            while junction.log.len() > 2 && junction.log[1].time < time {
                junction.log.pop_front();
            }
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
        while self.junctions[node - 1].now().time < horizon {
            let from = self.junctions[node - 1].now().time;
            let near = self.outward[node - 1].next_arrival(from);
            let far = self.inward.get(node).and_then(|w| w.next_arrival(from));
            let next = [near, far].into_iter().flatten().fold(horizon, f64::min);
            let to = next.min(from + self.longest_gap).max(from + 1e-12).min(horizon);
            self.cross(node, to);
            worked = true;
        }
        worked
    }

    /// Arrivals at a node: from the far side, and from the valve's side, each with its slope.
    fn arrivals(&self, node: usize, time: f64) -> ((f64, f64), (f64, f64)) {
        let near = self.outward[node - 1].arriving(time);
        let far = match self.inward.get(node) {
            Some(wave) => wave.arriving(time),
            None => self.end_pressure.at(time),
        };
        (far, near)
    }

    /// Impedance that the flow of a node works against, Pa·s/kg.
    fn node_impedance(&self, node: usize) -> f64 {
        let sides = if node == self.junctions.len() { 1.0 } else { 2.0 };
        sides * self.impedance + self.junctions[node - 1].shear_total
    }

    /// Flow at a node under a difference of arrivals and with a memory of its shear.
    #[inline]
    fn node_flow(&self, node: usize, difference: f64, memory: &Memory) -> f64 {
        let junction = &self.junctions[node - 1];
        junction.resistance.flow(difference + junction.shear.recalled(memory), self.node_impedance(node))
    }

    /// A node's moment at `time`, coming from the moment `a` with no knot between; what passed is left as at `a`.
    fn moment(&self, node: usize, a: &Moment, time: f64) -> Moment {
        let (far, near) = self.arrivals(node, time);
        let junction = &self.junctions[node - 1];
        let h = time - a.time;
        let difference = far.0 - near.0;
        let r = &junction.resistance;
        let carried = junction.shear.carry(&a.memory, a.flow, a.slope, h);
        let sums = if junction.shear_total > 0.0 { junction.shear.sums(&carried) } else { Sums::default() };
        let impedance = self.node_impedance(node);
        let (mut flow, mut slope) = (a.flow + h * a.slope, 0.0);
        // The only nonlinearity is the turbulent term's share of the stiffness; a second round settles it.
        for _ in 0..2 {
            let stiffness = impedance + r.linear + 2.0 * r.quadratic * flow.abs() - sums.rate_by_slope;
            let pull = far.1 - near.1 + sums.rate_kept;
            let driven = difference + sums.kept + sums.by_slope * pull / stiffness;
            let held = impedance - sums.by_flow - sums.by_slope * sums.rate_by_flow / stiffness;
            flow = r.flow(driven, held);
            slope = (pull + sums.rate_by_flow * flow) / stiffness;
        }
        let memory = carried.memory(flow, slope);
        Moment { time, flow, slope, memory, passed: a.passed }
    }

    /// Work a junction on to an instant: send both ways and account for the passage.
    fn cross(&mut self, node: usize, to: f64) {
        let a = self.junctions[node - 1].now();
        let mut b = self.moment(node, &a, to);
        b.passed = self.passage(node, &a, &b);
        let (far, near) = self.arrivals(node, to);
        let z = 2.0 * self.impedance;
        self.inward[node - 1].send(Knot { time: to, value: near.0 + z * b.flow, slope: near.1 + z * b.slope });
        if let Some(wave) = self.outward.get_mut(node) {
            wave.send(Knot { time: to, value: far.0 - z * b.flow, slope: far.1 - z * b.slope });
        }
        self.junctions[node - 1].log.push_back(b);
    }

    /// What has passed a node until the moment `b`, coming from the moment `a`.
    fn passage(&self, node: usize, a: &Moment, b: &Moment) -> Passed {
        let junction = &self.junctions[node - 1];
        let end = node == self.junctions.len();
        let h = b.time - a.time;
        let mut sum = a.passed;
        for (i, (u, w)) in LOBATTO.into_iter().enumerate() {
            let (flow, memory, pressure) = match i {
                0 => (a.flow, a.memory, self.end_pressure.at(a.time).0),
                3 => (b.flow, b.memory, self.end_pressure.at(b.time).0),
                _ => {
                    let time = a.time + u * h;
                    let (far, near) = self.arrivals(node, time);
                    let memory = between(&junction.shear, a, b, u);
                    (self.node_flow(node, far.0 - near.0, &memory), memory, far.0)
                }
            };
            let share = w * h / self.state.density;
            sum.loss += share * (junction.resistance.loss(flow) * flow + junction.shear.loss(&memory, flow));
            if end {
                sum.mass += w * h * flow;
                sum.work += share * pressure * flow;
            }
        }
        sum
    }

    /// A node's moment at an earlier or present instant, with all that had passed by then.
    fn recall(&self, node: usize, time: f64) -> Moment {
        let junction = &self.junctions[node - 1];
        let before = junction.log.iter().rev().find(|m| m.time <= time);
        let a = before.copied().unwrap_or(junction.log[0]);
        if time <= a.time {
            return a;
        }
        let mut b = self.moment(node, &a, time);
        b.passed = self.passage(node, &a, &b);
        b
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
            .map(|node| self.junctions[node - 1].shear.energy(&self.recall(node, time).memory) / rho)
            .sum();
        let waves = self.inward.iter().chain(&self.outward);
        waves.fold((0.0, shear), |(mass, energy), wave| {
            let (sum, square) = wave.under_way(time);
            (mass + sum / (2.0 * z), energy + square / (4.0 * z * rho))
        })
    }

    /// Lowest pressure at the junctions at `time`, Pa above the datum: a vapour cavity inside the line is not modelled.
    pub fn lowest_junction_pressure(&self, time: f64) -> f64 {
        (1..=self.junctions.len())
            .map(|node| {
                let (_, near) = self.arrivals(node, time);
                near.0 + self.impedance * self.recall(node, time).flow
            })
            .fold(f64::INFINITY, f64::min)
    }
}

/// Memory at the share `u` between two moments: the cubic through both ends with their rates.
#[inline]
fn between(shear: &Shear, a: &Moment, b: &Moment, u: f64) -> Memory {
    let h = b.time - a.time;
    let (u2, v) = (u * u, 1.0 - u);
    let (k_0, m_0, k_1, m_1) = ((1.0 + 2.0 * u) * v * v, u * v * v, u2 * (3.0 - 2.0 * u), -u2 * v);
    std::array::from_fn(|i| {
        let rate = |m: &Moment| shear.rate[i] * (m.flow - m.memory[i]) * h;
        k_0 * a.memory[i] + m_0 * rate(a) + k_1 * b.memory[i] + m_1 * rate(b)
    })
}
