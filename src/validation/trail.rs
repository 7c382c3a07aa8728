//! What a motion leaves behind: the ends of its steps, and the turning points read off between them.

use crate::portable::Portable;
use crate::solver::interpolant::Hermite;

/// The end of a step.
#[derive(Clone, Copy, Debug)]
pub(super) struct Point<const N: usize> {
    /// When.
    pub time: f64,
    /// State.
    pub y: [f64; N],
    /// Its rates, approached from inside the stretch of motion.
    pub rates: [f64; N],
}

/// A turning point of one state.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Turn {
    /// When.
    pub time: f64,
    /// Value there.
    pub value: f64,
    /// A maximum? Else a minimum.
    pub highest: bool,
}

/// State number `index` between two points.
pub(super) fn between<const N: usize>(a: &Point<N>, b: &Point<N>, index: usize) -> Hermite {
    Hermite { from: a.time, to: b.time, values: [a.y[index], b.y[index]], slopes: [a.rates[index], b.rates[index]] }
}

/// Turning points of state number `index` from `from` on. A reversal by impact is none.
pub(super) fn turns<const N: usize>(trail: &[Point<N>], index: usize, from: f64) -> Vec<Turn> {
    let pairs = trail.windows(2).filter(|pair| pair[0].time >= from && pair[1].time > pair[0].time);
    pairs.filter_map(|pair| turn(&between(&pair[0], &pair[1], index))).collect()
}

/// The turning point inside a cubic whose slopes at both ends differ in sign.
fn turn(cubic: &Hermite) -> Option<Turn> {
    let highest = cubic.slopes[0] > 0.0;
    if cubic.slopes[0] * cubic.slopes[1] >= 0.0 {
        return None;
    }
    let (mut low, mut high) = (cubic.from, cubic.to);
    for _ in 0..60 {
        let middle = 0.5 * (low + high);
        if (cubic.at(middle).1 > 0.0) == highest { low = middle } else { high = middle }
    }
    Some(Turn { time: low, value: cubic.at(low).0, highest })
}

/// Does a cubic that starts and ends above zero pass below it in between?
pub(super) fn dips(cubic: &Hermite) -> bool {
    turn(cubic).is_some_and(|turn| !turn.highest && turn.value < 0.0)
}

/// Mean growth rate and angular frequency of an oscillation about its middle, from its turning points: the swings between
/// neighbours fitted by an exponential, the half periods averaged.
pub(super) fn growth(turns: &[Turn]) -> Result<(f64, f64), String> {
    let swings: Vec<(f64, f64)> = turns
        .windows(2)
        .map(|pair| (0.5 * (pair[0].time + pair[1].time), (pair[1].value - pair[0].value).abs().logarithm()))
        .collect();
    if swings.len() < 4 {
        return Err(format!("only {} turning points to fit a growth to", turns.len()));
    }
    let count = swings.len() as f64;
    let mean = |pick: fn(&(f64, f64)) -> f64| swings.iter().map(pick).sum::<f64>() / count;
    let (middle, level) = (mean(|s| s.0), mean(|s| s.1));
    let product: f64 = swings.iter().map(|s| (s.0 - middle) * (s.1 - level)).sum();
    let square: f64 = swings.iter().map(|s| (s.0 - middle).to_the(2)).sum();
    let span = turns[turns.len() - 1].time - turns[0].time;
    Ok((product / square, std::f64::consts::PI * count / span))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A growing oscillation of known rate and frequency, sampled coarsely.
    #[test]
    fn growth_and_frequency_of_a_known_oscillation() {
        let (rate, omega) = (0.05, 3.0);
        let point = |i: usize| {
            let t = 0.02 * i as f64;
            let (grown, sine, cosine) = ((rate * t).exponential(), (omega * t).sine(), (omega * t).cosine());
            let slope = grown * (rate * sine + omega * cosine);
            Point { time: t, y: [2.0 + grown * sine], rates: [slope] }
        };
        let trail: Vec<_> = (0..1500).map(point).collect();
        let found = growth(&turns(&trail, 0, 1.0)).expect("many turns");
        assert!((found.0 - rate).abs() < 1e-5 && (found.1 - omega).abs() < 1e-6, "{found:?}");
    }

    #[test]
    fn a_dip_between_two_points_is_seen() {
        let cubic = |middle: f64| Hermite { from: 0.0, to: 1.0, values: [middle; 2], slopes: [-1.0, 1.0] };
        assert!(dips(&cubic(0.2)) && !dips(&cubic(0.3)));
    }
}
