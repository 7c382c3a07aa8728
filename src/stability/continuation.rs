//! Following a curve on which a function of two variables is zero.

use crate::portable::Portable;

/// A point of the unit square that the two variables span.
pub type Place = (f64, f64);

/// Longest step along a curve, in sides of the square.
const LONGEST: f64 = 0.04;
/// Shortest, below which the curve is taken to end.
const SHORTEST: f64 = 1e-4;
/// Points of one curve at most.
const MOST_POINTS: usize = 400;
/// A point counts as on the curve when a further correction is below this, in sides of the square.
const ON_CURVE: f64 = 1e-7;

/// Follow the zeros of `f` from `start` (a zero) both ways through the unit square, until the square or the domain of `f` is
/// left or the curve closes on itself. `f` may be undefined in places.
///
/// Predictor along the last chord, corrector across it by the secant method (pseudo-arclength continuation: E. L. Allgower,
/// K. Georg, "Numerical Continuation Methods", Springer, 1990, from memory); folds are passed like any other point.
pub fn follow(f: &dyn Fn(Place) -> Option<f64>, start: Place) -> Vec<Place> {
    let Some(along) = tangent(f, start) else { return vec![start] };
    let mut curve = one_way(f, start, (-along.0, -along.1));
    curve.reverse();
    curve.push(start);
    let closed = curve.len() > 8 && distance(curve[0], start) < 1.5 * LONGEST;
    if !closed {
        curve.extend(one_way(f, start, along));
    }
    curve
}

/// Direction of the curve at one of its points: across the gradient of `f`.
fn tangent(f: &dyn Fn(Place) -> Option<f64>, at: Place) -> Option<Place> {
    let h = 1e-4;
    let slope = |u: Place, v: Place| Some((f(u)? - f(v)?) / (2.0 * h));
    let gx = slope((at.0 + h, at.1), (at.0 - h, at.1));
    let gy = slope((at.0, at.1 + h), (at.0, at.1 - h));
    let (gx, gy) = (gx?, gy?);
    let length = gx.length_with(gy);
    (length > 0.0).then(|| (-gy / length, gx / length))
}

fn distance(a: Place, b: Place) -> f64 {
    (a.0 - b.0).length_with(a.1 - b.1)
}

fn inside(p: Place) -> bool {
    (-1e-9..=1.0 + 1e-9).contains(&p.0) && (-1e-9..=1.0 + 1e-9).contains(&p.1)
}

fn one_way(f: &dyn Fn(Place) -> Option<f64>, start: Place, mut along: Place) -> Vec<Place> {
    let mut curve = Vec::new();
    let (mut at, mut step) = (start, 0.5 * LONGEST);
    while curve.len() < MOST_POINTS && step >= SHORTEST {
        let ahead = (at.0 + step * along.0, at.1 + step * along.1);
        let Some(next) = corrected(f, ahead, along, step) else {
            step *= 0.5;
            continue;
        };
        if !inside(next) {
            // The last step ends on the border.
            step *= 0.5;
            continue;
        }
        let chord = distance(at, next);
        let turned = ((next.0 - at.0) / chord, (next.1 - at.1) / chord);
        let straight = turned.0 * along.0 + turned.1 * along.1;
        if straight < 0.9 && step > 4.0 * SHORTEST {
            step *= 0.5;
            continue;
        }
        curve.push(next);
        (at, along) = (next, turned);
        if curve.len() > 4 && distance(at, start) < 0.9 * step {
            break;
        }
        step = if straight > 0.99 { (1.5 * step).min(LONGEST) } else { step };
    }
    curve
}

/// The zero of `f` on the line across `along` through `ahead`, if it lies near.
fn corrected(f: &dyn Fn(Place) -> Option<f64>, ahead: Place, along: Place, step: f64) -> Option<Place> {
    let at = |offset: f64| (ahead.0 - offset * along.1, ahead.1 + offset * along.0);
    let (mut a, mut b) = (0.0, 0.05 * step);
    let (mut f_a, mut f_b) = (f(at(a))?, f(at(b))?);
    for _ in 0..12 {
        if f_a == f_b {
            return None;
        }
        let c = b - f_b * (b - a) / (f_b - f_a);
        if !c.is_finite() || c.abs() > step {
            return None;
        }
        let moved = (c - b).abs();
        (a, f_a) = (b, f_b);
        (b, f_b) = (c, f(at(c))?);
        if moved < ON_CURVE {
            return Some(at(b));
        }
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_circle_is_followed_all_round() {
        let f = |p: Place| Some((p.0 - 0.5).to_the(2) + (p.1 - 0.5).to_the(2) - 0.09);
        let curve = follow(&f, (0.8, 0.5));
        assert!(curve.iter().all(|p| f(*p).is_some_and(|v| v.abs() < 1e-6)));
        let low = curve.iter().map(|p| p.1).fold(1.0, f64::min);
        let high = curve.iter().map(|p| p.1).fold(0.0, f64::max);
        assert!(low < 0.201 && high > 0.799, "{low} to {high}");
    }

    #[test]
    fn a_curve_ends_at_the_border_and_where_the_function_is_not_defined() {
        let f = |p: Place| (p.1 > 0.2).then_some(p.0 - p.1 * p.1);
        let curve = follow(&f, (0.25, 0.5));
        let ends = [curve[0], curve[curve.len() - 1]];
        let low = ends.iter().map(|p| p.1).fold(1.0, f64::min);
        let high = ends.iter().map(|p| p.1).fold(0.0, f64::max);
        assert!((low - 0.2).abs() < 1e-3 && (high - 1.0).abs() < 1e-3, "{low} to {high}");
    }
}
