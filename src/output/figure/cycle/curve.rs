//! From many recorded instants to as many as the eye can see.

use crate::output::plot::axis::Axis;

/// Places of a curve within a window of the time axis, thinned so that each narrow strip of the page keeps its first,
/// lowest, highest and last point: peaks stay at their full height. A value that is not a number leaves a gap.
pub(super) fn places(time: &[f64], values: &[f64], across: &Axis, upright: &Axis) -> Vec<(f64, f64)> {
    const STRIP: f64 = 0.3;
    let count = time.len().min(values.len());
    let start = time[..count].partition_point(|&t| t < across.low).saturating_sub(1);
    let end = (time[..count].partition_point(|&t| t <= across.high) + 1).min(count);
    let mut thinned = Vec::new();
    let mut strip: Vec<(f64, f64)> = Vec::new();
    let mut number = i64::MIN;
    for i in start..end.max(start) {
        let at = (across.place(time[i]), upright.place(values[i]));
        if !(at.0.is_finite() && at.1.is_finite()) {
            flush(&mut strip, &mut thinned);
            thinned.push((f64::NAN, f64::NAN));
            continue;
        }
        let here = (at.0 / STRIP).floor() as i64;
        if here != number {
            flush(&mut strip, &mut thinned);
            number = here;
        }
        strip.push(at);
    }
    flush(&mut strip, &mut thinned);
    thinned
}

fn flush(strip: &mut Vec<(f64, f64)>, thinned: &mut Vec<(f64, f64)>) {
    if strip.len() <= 4 {
        thinned.append(strip);
        return;
    }
    let by = |a: &usize, b: &usize| strip[*a].1.total_cmp(&strip[*b].1);
    let lowest = (0..strip.len()).min_by(by).unwrap_or(0);
    let highest = (0..strip.len()).max_by(by).unwrap_or(0);
    let mut kept = vec![0, lowest, highest, strip.len() - 1];
    kept.sort_unstable();
    kept.dedup();
    thinned.extend(kept.into_iter().map(|i| strip[i]));
    strip.clear();
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::output::plot::axis::Spacing;

    #[test]
    fn a_peak_of_one_sample_survives() {
        let time: Vec<f64> = (0..100_000).map(|i| f64::from(i) * 1e-5).collect();
        let mut values = vec![0.0; time.len()];
        values[54_321] = 1.0;
        let across = Axis::new(Spacing::Linear, (0.0, 1.0), (0.0, 100.0));
        let upright = Axis::new(Spacing::Linear, (0.0, 1.0), (50.0, 0.0));
        let places = places(&time, &values, &across, &upright);
        assert!(places.len() < 1500, "{}", places.len());
        assert!(places.iter().any(|p| p.1 == 0.0));
    }

    #[test]
    fn odd_data_give_gaps_or_nothing() {
        let across = Axis::new(Spacing::Linear, (0.0, 1.0), (0.0, 100.0));
        assert!(places(&[], &[1.0], &across, &across).is_empty());
        let holed = places(&[0.0, 0.5, 1.0], &[0.0, f64::NAN, 1.0], &across, &across);
        assert_eq!(holed.len(), 3);
        assert!(holed[1].0.is_nan());
    }
}
