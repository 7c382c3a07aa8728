//! A coil switched on and off, cycle after cycle.

use super::held_heat::{Heat, HeldHeat};
use super::network::{CoilState, Passed, ThermalNetwork, steady_root};

/// One cycle of a coil.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CoilCycle {
    /// Heat with the armature out.
    pub open: HeldHeat,
    /// Heat with the armature at the pole.
    pub seated: HeldHeat,
    /// From one switching on to the next, s.
    pub period: f64,
    /// Share of it with current.
    pub on_share: f64,
    /// Time for which the armature is out at each pull-in, s; as long as the current lasts for one that is never pulled in.
    pub pull_in: f64,
    /// What an economiser makes of both; none without one.
    pub eased: Option<Eased>,
}

/// Heat of a coil once its economiser has taken over.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Eased {
    /// With the armature out.
    pub open: HeldHeat,
    /// With the armature at the pole.
    pub seated: HeldHeat,
    /// Time of full voltage after each switching on, s.
    pub delay: f64,
}

/// What a duty makes of a coil in the long run.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DutyHeat {
    /// Mean temperatures over a cycle, K.
    pub mean: CoilState,
    /// Lowest temperature of the winding in a cycle, K.
    pub lowest: f64,
    /// Highest temperature of the winding in a cycle, K.
    pub highest: f64,
    /// Mean heat in the winding over a cycle, W.
    pub winding_power: f64,
    /// Mean heat in ring and eddies over a cycle, W.
    pub body_power: f64,
    /// Time from the first switching on until the winding has covered 63.2 % of its rise, s, by the mean heat; none without heat.
    pub warm_up: Option<f64>,
}

/// A periodic state is found to this, K.
const PRECISION: f64 = 1e-7;
/// Newton steps for it; three or four are enough.
const MOST_STEPS: usize = 30;
/// Change of a start with which the answer of a cycle is tried, K.
const TRIAL: f64 = 0.1;
/// Share of a rise after one time constant, 1 − 1/e.
const ONE_TIME_CONSTANT: f64 = 0.632_120_558_828_557_7;

impl CoilCycle {
    /// Each part of a cycle, in its order, with its length (s) and the law of its heat: armature out and in on the full voltage, out and
    /// in on what an economiser leaves, and without current.
    fn parts(&self) -> [(f64, Option<HeldHeat>); 5] {
        let on = self.period * self.on_share;
        // A coil that is never switched off pulls in once and no more, and has its full voltage once.
        let always = self.on_share >= 1.0;
        let out = if always && self.pull_in < self.period { 0.0 } else { self.pull_in.min(on) };
        let full = match self.eased {
            None => on,
            Some(_) if always => 0.0,
            Some(eased) => eased.delay.min(on),
        };
        let out_full = out.min(full);
        let (open, seated) = self.eased.map_or((self.open, self.seated), |eased| (eased.open, eased.seated));
        [
            (out_full, Some(self.open)),
            (full - out_full, Some(self.seated)),
            (out - out_full, Some(open)),
            (on - full - (out - out_full), Some(seated)),
            (self.period - on, None),
        ]
    }

    /// Mean heat over a cycle with the winding at a temperature (K).
    ///
    /// ```text
    /// P = [t_out·P_open + (t_on − t_out)·P_seated]/period        each on its own voltage, where an economiser changes that
    /// ```
    ///
    /// What the coil gives back at switching off (its field, some 0.1 J) and what a direct current lacks while it rises are left
    /// out. Source: definition of a mean.
    pub fn mean_heat(&self, temperature: f64) -> Heat {
        self.parts().into_iter().fold(Heat::default(), |sum, (span, law)| match law {
            Some(law) => sum.and(span / self.period, law.at(temperature)),
            None => sum,
        })
    }

    /// Temperature of a winding by one thermal resistance (K/W) to its surroundings (K), from the heat in the winding alone, K.
    pub fn by_one_resistance(&self, ambient: f64, resistance: f64) -> f64 {
        steady_root(ambient, &|t| ambient + resistance * self.mean_heat(t).winding)
    }

    /// One cycle from a start at its switching on.
    pub fn pass(&self, network: &ThermalNetwork, start: CoilState) -> Passed {
        let mut whole = network.pass(start, &|_| Heat::default(), 0.0);
        for (span, law) in self.parts().into_iter().filter(|(span, _)| *span > 0.0) {
            let part = network.pass(whole.end, &|t| law.map_or_else(Heat::default, |law| law.at(t)), span);
            whole.integral.winding += part.integral.winding;
            whole.integral.body += part.integral.body;
            whole.lowest = whole.lowest.min(part.lowest);
            whole.highest = whole.highest.max(part.highest);
            whole.heat_in += part.heat_in;
            whole.end = part.end;
        }
        whole
    }

    /// The start from which a cycle ends where it began.
    pub fn periodic_start(&self, network: &ThermalNetwork) -> CoilState {
        let mut start = network.steady(&|t| self.mean_heat(t));
        let missed = |from: CoilState| {
            let end = self.pass(network, from).end;
            (end.winding - from.winding, end.body - from.body)
        };
        for _ in 0..MOST_STEPS {
            let (f, g) = missed(start);
            let by_winding = missed(CoilState { winding: start.winding + TRIAL, ..start });
            let by_body = missed(CoilState { body: start.body + TRIAL, ..start });
            let [a, c] = [(by_winding.0 - f) / TRIAL, (by_winding.1 - g) / TRIAL];
            let [b, d] = [(by_body.0 - f) / TRIAL, (by_body.1 - g) / TRIAL];
            let determinant = a * d - b * c;
            let (winding, body) = ((b * g - d * f) / determinant, (c * f - a * g) / determinant);
            if !(winding.is_finite() && body.is_finite()) {
                break;
            }
            start = CoilState { winding: start.winding + winding, body: start.body + body };
            if winding.abs().max(body.abs()) < PRECISION {
                break;
            }
        }
        start
    }

    /// What it makes of a coil in the long run.
    pub fn in_the_long_run(&self, network: &ThermalNetwork) -> DutyHeat {
        let passed = self.pass(network, self.periodic_start(network));
        let mean =
            CoilState { winding: passed.integral.winding / self.period, body: passed.integral.body / self.period };
        // The mean of the winding's balance over a period: all its heat goes into the body.
        let winding_power = (mean.winding - mean.body) / network.winding_to_body;
        let average = |t: f64| self.mean_heat(t);
        let (idle, end) = (network.idle(), network.steady(&average).winding);
        let cold = CoilState { winding: idle, body: idle };
        let target = idle + ONE_TIME_CONSTANT * (end - idle);
        DutyHeat {
            mean,
            lowest: passed.lowest,
            highest: passed.highest,
            winding_power,
            body_power: passed.heat_in / self.period - winding_power,
            warm_up: if end > idle { network.time_until(cold, &average, target) } else { None },
        }
    }
}
