//! A junction between two segments of a line, or the line's far end: friction lumped in one place.

use super::far_end::{EndPressure, Passed};
use super::resistance::Resistance;
use super::shear::{Memory, Shear, Sums};
use super::state::LineState;
use super::wall_layer::PARTS;
use std::collections::VecDeque;

/// The flow through a junction at one instant, and all that has passed until then.
#[derive(Clone, Copy, Debug)]
pub(super) struct Moment {
    time: f64,
    pub(super) flow: f64,
    pub(super) slope: f64,
    memory: Memory,
    /// Power lost, W.
    power: f64,
    pub(super) passed: Passed,
}

/// What arrives at a node from the far side and from the valve's, each with its slope: Pa and Pa/s.
#[derive(Clone, Copy, Debug)]
pub(super) struct Arrivals {
    pub(super) far: (f64, f64),
    pub(super) near: (f64, f64),
}

/// What a junction is made of.
#[derive(Clone, Debug)]
pub(super) struct Site {
    pub(super) resistance: Resistance,
    pub(super) shear: Shear,
    /// Impedance of the lines that meet here, Pa·s/kg: two of them, or one at the far end.
    pub(super) impedance: f64,
    /// Density, kg/m³.
    pub(super) density: f64,
    /// Pressure behind the far end, if this is it.
    pub(super) end: Option<EndPressure>,
}

/// The fast parts of a line's shear, of which some is lumped at the far end, where every standing wave has a belly: a quarter of a
/// stretch's with many of them, none with one alone. Twice as much is left out of the middles, so that waves lose as much on their way as before. It keeps those waves
/// damped that have nodes in all middles: else a pressure held at the valve would let them ring for ever. Slow changes, of the
/// whole line's flow at once, hardly meet the fast parts and so miss next to nothing.
fn fast_share(state: &LineState, n: usize) -> Shear {
    state.shear.faster_than(FAST_BY_TRANSIT / state.transit()).share(0.25 * (n as f64 - 1.0) / (n * n) as f64)
}

/// Parts are fast from this rate times the transit time on: twice the angular frequency of the quarter wave, below all those waves.
const FAST_BY_TRANSIT: f64 = std::f64::consts::PI;

impl Site {
    /// The place in the middle of one of `n` equal stretches of a line, where the wall friction of that stretch is lumped.
    ///
    /// With friction in the middles a standing wave meets its mean: at first order the damping of every mode below the n-th
    /// half wave is that of friction spread evenly, whatever the ends are (own derivation: Σ cos(2kx_j) vanishes as ∫ cos(2kx)
    /// does). The n-th may have all of the middles at its nodes; what damps it then is [`fast_share`].
    pub(super) fn stretch(state: &LineState, n: usize) -> Self {
        let share = 1.0 / n as f64;
        Site {
            resistance: state.wall.share(share),
            shear: state.shear.less(&fast_share(state, n).share(2.0)).share(share),
            impedance: 2.0 * state.impedance(),
            density: state.density,
            end: None,
        }
    }

    /// The far end of a line of `n` stretches, with no pressure yet: fittings and throttle.
    pub(super) fn far_end(state: &LineState, n: usize) -> Self {
        Site {
            resistance: state.end,
            shear: fast_share(state, n.max(1)),
            impedance: state.impedance(),
            density: state.density,
            end: None,
        }
    }
}

/// A junction with what has gone through it lately.
#[derive(Clone, Debug)]
pub(super) struct Junction {
    site: Site,
    /// Impedance with ΣR_i of the shear.
    stiffness: f64,
    /// Recent moments, the last being that until which it has worked.
    log: VecDeque<Moment>,
}

/// Inner nodes of the four-point Gauss-Lobatto rule on (0, 1), ±1/√5 about the middle; the weights of the ends and of
/// these. Source: M. Abramowitz & I. A. Stegun, "Handbook of Mathematical Functions" (1964), 25.4.32 (from memory).
const LOBATTO: [f64; 2] = [0.276_393_202_250_021, 0.723_606_797_749_979];
const LOBATTO_WEIGHTS: (f64, f64) = (1.0 / 12.0, 5.0 / 12.0);

/// A stiffness known to this share needs no second round: it enters the flow through the shear's small terms only.
const SETTLED: f64 = 1e-7;

impl Junction {
    /// A junction in steady flow (kg/s) at an instant.
    pub(super) fn steady(site: Site, time: f64, flow: f64) -> Self {
        let power = site.resistance.loss(flow) * flow / site.density;
        let moment = Moment { time, flow, slope: 0.0, memory: [flow; PARTS], power, passed: Passed::default() };
        Junction { stiffness: site.impedance + site.shear.total(), log: VecDeque::from([moment]), site }
    }

    #[inline]
    fn now(&self) -> &Moment {
        &self.log[self.log.len() - 1]
    }

    /// Instant until which it has worked, s.
    #[inline]
    pub(super) fn worked_until(&self) -> f64 {
        self.now().time
    }

    /// Work on to an instant with no knot of the arrivals between.
    #[inline]
    pub(super) fn work_on(&mut self, to: f64, arrivals: Arrivals) -> Moment {
        let b = self.moment(self.now(), to, arrivals);
        self.log.push_back(b);
        b
    }

    /// The moment at an earlier or present instant, with all that had passed by then.
    pub(super) fn recall(&self, time: f64, arrivals: impl FnOnce() -> Arrivals) -> Moment {
        let before = self.log.iter().rev().find(|m| m.time <= time);
        let a = before.unwrap_or(&self.log[0]);
        if time <= a.time { *a } else { self.moment(a, time, arrivals()) }
    }

    /// Forget what is not needed to recall instants from `time` on.
    pub(super) fn forget(&mut self, time: f64) {
        while self.log.len() > 2 && self.log[1].time < time {
            self.log.pop_front();
        }
    }

    /// Energy stored in the layer at the wall, J, times density.
    pub(super) fn stored(&self, moment: &Moment) -> f64 {
        self.site.shear.energy(&moment.memory)
    }

    /// Power lost, W, times density.
    #[inline]
    fn power(&self, flow: f64, memory: &Memory) -> f64 {
        self.site.resistance.loss(flow) * flow + self.site.shear.loss(memory, flow)
    }

    /// The moment at `time`, coming from the moment `a` with no knot between.
    #[inline]
    fn moment(&self, a: &Moment, time: f64, arrivals: Arrivals) -> Moment {
        let Arrivals { far, near } = arrivals;
        let Site { resistance: r, shear, .. } = &self.site;
        let h = time - a.time;
        let difference = far.0 - near.0;
        let carried = shear.carry(&a.memory, a.flow, a.slope, h);
        let sums = if self.stiffness > self.site.impedance { shear.sums(&carried) } else { Sums::default() };
        let impedance = self.stiffness;
        let (mut flow, mut slope) = (a.flow + h * a.slope, 0.0);
        // The only nonlinearity is the turbulent term's share of the stiffness; a second round settles it, where needed.
        for _ in 0..2 {
            let guess = flow;
            let stiffness = impedance + r.slope(flow) - sums.rate_by_slope;
            let pull = far.1 - near.1 + sums.rate_kept;
            let driven = difference + sums.kept + sums.by_slope * pull / stiffness;
            let held = impedance - sums.by_flow - sums.by_slope * sums.rate_by_flow / stiffness;
            flow = r.flow(driven, held);
            slope = (pull + sums.rate_by_flow * flow) / stiffness;
            if r.bend(flow) * (flow - guess).abs() < SETTLED * stiffness {
                break;
            }
        }
        let memory = carried.memory(flow, slope);
        let mut b = Moment {
            time,
            flow,
            slope,
            memory,
            power: self.power(flow, &memory) / self.site.density,
            passed: a.passed,
        };
        b.passed = self.passage(a, &b);
        b
    }

    /// What has passed until the moment `b`, coming from the moment `a`.
    ///
    /// Between the two the flow is the cubic that is sent on, since the arrivals are cubics there too. Losses are those
    /// that the law of friction gives for it: where cubic and law disagree, the ledger shows it.
    #[inline]
    fn passage(&self, a: &Moment, b: &Moment) -> Passed {
        let h = b.time - a.time;
        let per_density = 1.0 / self.site.density;
        let (at_end, within) = (LOBATTO_WEIGHTS.0 * h, LOBATTO_WEIGHTS.1 * h);
        let cubics = LOBATTO.map(|u| Cubic::at(u, h));
        let flows = cubics.map(|c| c.value(a.flow, a.slope, b.flow, b.slope));
        let mut sum = a.passed;
        sum.loss += at_end * (a.power + b.power);
        for (cubic, flow) in cubics.iter().zip(flows) {
            sum.loss += within * per_density * self.power(flow, &cubic.memory(&self.site.shear, a, b));
        }
        if let Some(end) = self.site.end {
            let pressure = |time: f64| end.at(time).0;
            let ends = pressure(a.time) * a.flow + pressure(b.time) * b.flow;
            let inner = pressure(a.time + LOBATTO[0] * h) * flows[0] + pressure(a.time + LOBATTO[1] * h) * flows[1];
            sum.work += per_density * (at_end * ends + within * inner);
            sum.mass += at_end * (a.flow + b.flow) + within * (flows[0] + flows[1]);
        }
        sum
    }
}

/// Weights of the values and slopes at both ends of a stretch in the cubic through them (Hermite's), at one place.
#[derive(Clone, Copy, Debug)]
struct Cubic {
    values: (f64, f64),
    slopes: (f64, f64),
}

impl Cubic {
    /// At the share `u` of a stretch of length `h`.
    #[inline(always)]
    fn at(u: f64, h: f64) -> Self {
        let (u2, v) = (u * u, 1.0 - u);
        Cubic { values: ((1.0 + 2.0 * u) * v * v, u2 * (3.0 - 2.0 * u)), slopes: (u * v * v * h, -u2 * v * h) }
    }

    #[inline(always)]
    fn value(&self, from: f64, from_slope: f64, to: f64, to_slope: f64) -> f64 {
        self.values.0 * from + self.slopes.0 * from_slope + self.values.1 * to + self.slopes.1 * to_slope
    }

    /// Memory between two moments.
    #[inline(always)]
    fn memory(&self, shear: &Shear, a: &Moment, b: &Moment) -> Memory {
        std::array::from_fn(|i| {
            let rate = |m: &Moment| shear.rate[i] * (m.flow - m.memory[i]);
            self.value(a.memory[i], rate(a), b.memory[i], rate(b))
        })
    }
}
