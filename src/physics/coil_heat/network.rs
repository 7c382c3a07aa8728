//! Winding and body as two stores of heat.

use super::held_heat::Heat;
use crate::physics::parts::CoilTemperature;
use crate::portable::Portable;

/// Temperatures of the two stores.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CoilState {
    /// Mean temperature of the winding, K.
    pub winding: f64,
    /// Temperature of the body, K.
    pub body: f64,
}

/// What passed over a time.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Passed {
    /// Temperatures at its end.
    pub end: CoilState,
    /// Time integrals of winding and body temperature, K·s.
    pub integral: CoilState,
    /// Lowest temperature of the winding, K.
    pub lowest: f64,
    /// Highest temperature of the winding, K.
    pub highest: f64,
    /// Heat in winding, ring and eddies, J.
    pub heat_in: f64,
}

/// Winding, body, ambient and medium.
///
/// ```text
/// C_w·dT_w/dt = P_w(T_w) − (T_w − T_b)/R_wb
/// C_b·dT_b/dt = P_b(T_w) + (T_w − T_b)/R_wb − (T_b − T_a)/R_ba − (T_b − T_m)/R_bm
/// ```
///
/// P_w heat in the winding, P_b in ring and eddies. Each store has one temperature: that of the winding is its mean, as its
/// resistance tells it. Valid for times that are long against the heat's way through the winding (seconds).
/// Source: own derivation from the balance of each store.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ThermalNetwork {
    /// C_w, J/K.
    pub winding_capacity: f64,
    /// C_b, J/K.
    pub body_capacity: f64,
    /// R_wb, K/W.
    pub winding_to_body: f64,
    /// R_ba, K/W.
    pub body_to_ambient: f64,
    /// R_bm, K/W.
    pub body_to_medium: f64,
    /// T_a, K.
    pub ambient: f64,
    /// T_m, K.
    pub medium: f64,
}

/// Over a step the winding changes by this at most, K: its heat is then a straight line of its temperature within 2·10⁻⁵, half of
/// (0.00393·2)².
const LARGEST_CHANGE: f64 = 2.0;
/// Steps within which a steady temperature or an instant is found; each halves what is unknown.
const HALVINGS: usize = 60;
/// First reach in the search for a steady temperature, K. Of several the lowest counts: a coil comes from the cold.
const REACH: f64 = 20.0;
/// A temperature that no coil reaches, K above the ambient: the search ends there.
const FARTHEST: f64 = 1e5;

/// Both stores' linear motion u' = f + M·u from the start of a step.
struct Motion {
    matrix: [[f64; 2]; 2],
    rate: [f64; 2],
    eigenvalues: [f64; 2],
}

impl ThermalNetwork {
    /// That of a coil; none where its temperature is stated or comes from one thermal resistance.
    pub fn of(temperature: &CoilTemperature) -> Option<ThermalNetwork> {
        match *temperature {
            CoilTemperature::Stated { .. } | CoilTemperature::FromHeat { .. } => None,
            CoilTemperature::Network {
                ambient,
                medium,
                winding_capacity,
                body_capacity,
                winding_to_body,
                body_to_ambient,
                body_to_medium,
            } => Some(ThermalNetwork {
                winding_capacity,
                body_capacity,
                winding_to_body,
                body_to_ambient,
                body_to_medium,
                ambient,
                medium,
            }),
        }
    }

    /// Resistance from the body to ambient and medium together, K/W.
    pub fn outward(&self) -> f64 {
        1.0 / (1.0 / self.body_to_ambient + 1.0 / self.body_to_medium)
    }

    /// Temperature of the coil without current, K: between ambient and medium.
    pub fn idle(&self) -> f64 {
        self.outward() * (self.ambient / self.body_to_ambient + self.medium / self.body_to_medium)
    }

    /// Heat that leaves the body to ambient and medium, W.
    pub fn leaving(&self, body: f64) -> f64 {
        (body - self.ambient) / self.body_to_ambient + (body - self.medium) / self.body_to_medium
    }

    /// Where both stores come to rest under a heat that is there all the time.
    ///
    /// ```text
    /// T_b = T_idle + R_out·(P_w + P_b)      T_w = T_b + R_wb·P_w
    /// ```
    ///
    /// Source: the balances of [`ThermalNetwork`] at rest.
    pub fn steady(&self, heat: &dyn Fn(f64) -> Heat) -> CoilState {
        let resting = |winding: f64| {
            let heat = heat(winding);
            let body = self.idle() + self.outward() * (heat.winding + heat.body);
            CoilState { winding: body + self.winding_to_body * heat.winding, body }
        };
        resting(steady_root(self.idle(), &|t| resting(t).winding))
    }

    /// What passes over `time` (s) from a start.
    pub fn pass(&self, start: CoilState, heat: &dyn Fn(f64) -> Heat, time: f64) -> Passed {
        let mut passed = Passed {
            end: start,
            integral: CoilState { winding: 0.0, body: 0.0 },
            lowest: start.winding,
            highest: start.winding,
            heat_in: 0.0,
        };
        let mut left = time;
        while left > 0.0 {
            let now = heat(passed.end.winding);
            let motion = self.motion(passed.end, now);
            let step = short_enough(&motion, left);
            let ([moved, body_moved], [area, body_area]) = motion.after(step);
            passed.integral.winding += passed.end.winding * step + area;
            passed.integral.body += passed.end.body * step + body_area;
            passed.heat_in += (now.winding + now.body) * step + (now.winding_slope + now.body_slope) * area;
            passed.end = CoilState { winding: passed.end.winding + moved, body: passed.end.body + body_moved };
            passed.lowest = passed.lowest.min(passed.end.winding);
            passed.highest = passed.highest.max(passed.end.winding);
            left = if step < left { left - step } else { 0.0 };
        }
        passed
    }

    /// Time from a start until the winding has reached a temperature (K), s; none where it never does.
    pub fn time_until(&self, start: CoilState, heat: &dyn Fn(f64) -> Heat, target: f64) -> Option<f64> {
        if start.winding >= target {
            return Some(0.0);
        }
        if self.steady(heat).winding <= target {
            return None;
        }
        // The winding rises all the way; the two stores together take no longer than this for one e-folding.
        let slowest = (self.winding_capacity + self.body_capacity) * (self.outward() + self.winding_to_body);
        let (mut state, mut passed) = (start, 0.0);
        while passed < 1e3 * slowest {
            let motion = self.motion(state, heat(state.winding));
            let step = short_enough(&motion, slowest);
            let moved = |time: f64| motion.after(time).0;
            if state.winding + moved(step)[0] >= target {
                let (mut low, mut high) = (0.0, step);
                for _ in 0..HALVINGS {
                    let middle = 0.5 * (low + high);
                    if state.winding + moved(middle)[0] < target { low = middle } else { high = middle }
                }
                return Some(passed + 0.5 * (low + high));
            }
            let [winding, body] = moved(step);
            state = CoilState { winding: state.winding + winding, body: state.body + body };
            passed += step;
        }
        None
    }

    fn motion(&self, from: CoilState, heat: Heat) -> Motion {
        let across = 1.0 / self.winding_to_body;
        let to_body = across * (from.winding - from.body);
        let (winding, body) = (self.winding_capacity, self.body_capacity);
        let rate = [(heat.winding - to_body) / winding, (heat.body + to_body - self.leaving(from.body)) / body];
        let matrix = [
            [(heat.winding_slope - across) / winding, across / winding],
            [(heat.body_slope + across) / body, -(across + 1.0 / self.outward()) / body],
        ];
        Motion::new(matrix, rate)
    }
}

/// The lowest temperature from `idle` on at which the heat keeps a coil, K: where `resting`, to which the heat at a temperature
/// leads, no longer lies above it.
pub(super) fn steady_root(idle: f64, resting: &dyn Fn(f64) -> f64) -> f64 {
    let (mut low, mut reach) = (idle, REACH);
    while resting(low + reach) > low + reach && reach < FARTHEST {
        low += reach;
        // Far beyond any winding the search hurries.
        reach = reach.max(0.1 * (low - idle));
    }
    let mut high = low + reach;
    for _ in 0..HALVINGS {
        let middle = 0.5 * (low + high);
        if resting(middle) > middle { low = middle } else { high = middle }
    }
    0.5 * (low + high)
}

/// The longest step of at most `left` (s) over which the winding changes by no more than it may.
fn short_enough(motion: &Motion, left: f64) -> f64 {
    let mut step = left;
    while motion.after(step).0[0].abs() > LARGEST_CHANGE {
        step *= 0.5;
    }
    step
}

impl Motion {
    fn new(matrix: [[f64; 2]; 2], rate: [f64; 2]) -> Motion {
        let [[a, b], [c, d]] = matrix;
        let (middle, half) = (0.5 * (a + d), 0.5 * (a - d));
        // Heat that flows both ways makes both eigenvalues real; a tiny distance keeps them apart.
        let apart = (half * half + b * c).max(1e-24 * middle * middle).sqrt();
        Motion { matrix, rate, eigenvalues: [middle + apart, middle - apart] }
    }

    /// Change of both stores after a time, K, and the time integral of the change, K·s.
    ///
    /// ```text
    /// u(t) = M⁻¹·(e^(M·t) − 1)·f = [p₁·(M − λ₂) − p₂·(M − λ₁)]·f/(λ₁ − λ₂)      p = (e^(λt) − 1)/λ, its integral r = (p − t)/λ
    /// ```
    ///
    /// Source: Sylvester's formula for functions of a matrix of two rows.
    fn after(&self, time: f64) -> ([f64; 2], [f64; 2]) {
        let [first, second] = self.eigenvalues;
        let [[a, b], [c, d]] = self.matrix;
        let [f, g] = self.rate;
        let combined = |one: f64, other: f64| {
            let (share, away) = ((one - other) / (first - second), (other * first - one * second) / (first - second));
            [share * (a * f + b * g) + away * f, share * (c * f + d * g) + away * g]
        };
        let growth = |rate: f64| if rate == 0.0 { time } else { (rate * time).exponential_less_one() / rate };
        let area = |rate: f64| {
            let x = rate * time;
            // (e^x − 1 − x)/x² loses all its digits near nought.
            if x.abs() < 1e-3 { time * time * (0.5 + x * (1.0 / 6.0 + x / 24.0)) } else { (growth(rate) - time) / rate }
        };
        (combined(growth(first), growth(second)), combined(area(first), area(second)))
    }
}
