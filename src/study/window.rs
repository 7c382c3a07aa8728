//! Where a target is kept (by the peak of a closing, by a quiet valve) on the way from today's value outwards. It need not be kept for good once it is kept: a peak depends
//! on the phase of the wave in which the stage meets its seat, so it can rise again. A value is called sure only where all
//! that has to hold with it has been tried and holds.

/// Windows that are followed on the way before the search gives up.
const MOST_WINDOWS: usize = 12;
/// Halvings of the interval in which a stretch ends.
const END_HALVINGS: usize = 3;
/// Most runs of one halving.
const MOST_RUNS: usize = 12;

/// Which way from today's value.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// Smaller values.
    Lower,
    /// Larger values.
    Higher,
}

/// Multiples of a change that have to keep the target with it: what is recommended, and a bit beyond.
pub(super) const BEYOND: [f64; 4] = [1.0, 1.08, 1.16, 1.25];

/// A stretch in which the target is kept and after which it is missed again.
#[derive(Clone, Debug, PartialEq)]
pub struct Window {
    /// Its value nearest to today's, SI.
    pub first: f64,
    /// The last value tried that keeps the target, SI.
    pub last: f64,
    /// The value tried beyond that misses it, SI.
    pub fails_at: f64,
    /// Why, in words.
    pub why: String,
}

/// The way to one side of today's value.
pub(super) struct Way<'a> {
    /// Today's value, which misses the target.
    pub(super) today: f64,
    /// Values from today's outwards.
    pub(super) grid: Vec<f64>,
    /// The interval between a value that fails and one that keeps is halved until it is this narrow, relative to the value.
    pub(super) fineness: f64,
    /// What has to keep the target, that a value may be called sure.
    pub(super) required: &'a dyn Fn(f64) -> Vec<f64>,
    /// A value with few figures, rounded outwards.
    pub(super) rounded: &'a dyn Fn(f64) -> f64,
}

/// Tries a value; why it misses the target, in words.
pub(super) type Trial<'a> = dyn FnMut(f64) -> Result<(), String> + 'a;

impl Way<'_> {
    /// How far out a value is.
    pub(super) fn out(&self, value: f64) -> f64 {
        (value - self.today).abs()
    }

    /// The value nearest to today's that is sure, and the windows before it.
    pub(super) fn sure(&self, keeps: &mut Trial<'_>) -> (Option<f64>, Vec<Window>) {
        let mut windows = Vec::new();
        let mut fails = self.today;
        for _ in 0..MOST_WINDOWS {
            let Some(meets) = self.next(&mut fails, keeps) else { break };
            let edge = (self.rounded)(self.narrowed(fails, meets, keeps));
            match self.first_miss(edge, keeps) {
                None => return (Some(edge), windows),
                Some((last, fails_at, why)) => {
                    windows.extend(last.map(|last| Window { first: edge, last, fails_at, why }));
                    fails = fails_at;
                }
            }
        }
        (None, windows)
    }

    /// The first value of the grid beyond `fails` that keeps the target; `fails` becomes the one before it.
    fn next(&self, fails: &mut f64, keeps: &mut Trial<'_>) -> Option<f64> {
        for value in &self.grid {
            if self.out(*value) <= self.out(*fails) {
                continue;
            }
            if keeps(*value).is_ok() {
                return Some(*value);
            }
            *fails = *value;
        }
        None
    }

    /// The first of all that has to hold with a value that does not: the last one that does before it, it, and why.
    fn first_miss(&self, edge: f64, keeps: &mut Trial<'_>) -> Option<(Option<f64>, f64, String)> {
        let mut all = (self.required)(edge);
        all.push(edge);
        let end = all.iter().map(|v| self.out(*v)).fold(0.0, f64::max);
        all.extend(self.grid.iter().filter(|v| self.out(**v) > self.out(edge) && self.out(**v) < end));
        all.sort_by(|a, b| self.out(*a).total_cmp(&self.out(*b)));
        let mut last = None;
        for value in all {
            match keeps(value) {
                Ok(()) => last = Some(value),
                Err(why) => return Some((last, value, why)),
            }
        }
        None
    }

    /// How far beyond a sure value the target is kept: the last value tried that keeps it, and the first that does not with the
    /// reason; none where it is kept to the end of the grid.
    pub(super) fn end(&self, sure_to: f64, keeps: &mut Trial<'_>) -> (f64, Option<(f64, String)>) {
        let mut last = sure_to;
        for value in self.grid.iter().filter(|v| self.out(**v) > self.out(sure_to)) {
            let Err(mut why) = keeps(*value) else {
                last = *value;
                continue;
            };
            let mut fails = *value;
            for _ in 0..END_HALVINGS {
                let middle = if fails > 0.0 { (fails * last).sqrt() } else { 0.5 * last };
                match keeps(middle) {
                    Ok(()) => last = middle,
                    Err(reason) => (fails, why) = (middle, reason),
                }
            }
            return (last, Some((fails, why)));
        }
        (last, None)
    }

    /// The value that keeps the target at the end of the narrowed interval. By halving: peaks are not smooth enough for more.
    pub(super) fn narrowed(&self, mut fails: f64, mut meets: f64, keeps: &mut Trial<'_>) -> f64 {
        for _ in 0..MOST_RUNS {
            if (fails - meets).abs() <= self.fineness * meets.abs().max(fails.abs()) {
                break;
            }
            let middle = if fails > 0.0 { (fails * meets).sqrt() } else { 0.5 * meets };
            if keeps(middle).is_ok() { meets = middle } else { fails = middle }
        }
        meets
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// From 1 downwards on a grid of 0.025 to 0.4; all below the value has to hold.
    fn downwards(keeps: &dyn Fn(f64) -> bool) -> (Option<f64>, Vec<Window>) {
        let grid: Vec<f64> = (16..40).rev().map(|n| f64::from(n) * 0.025).collect();
        let required = |_: f64| vec![0.4];
        let rounded = |value: f64| (value * 1000.0).floor() / 1000.0;
        let way = Way { today: 1.0, grid, fineness: 0.01, required: &required, rounded: &rounded };
        way.sure(&mut |value| if keeps(value) { Ok(()) } else { Err(format!("fails at {value}")) })
    }

    #[test]
    fn an_even_curve_has_its_edge_and_no_window() {
        let (sure, windows) = downwards(&|v| v <= 0.613);
        let edge = sure.expect("an edge");
        assert!((0.600..=0.613).contains(&edge) && windows.is_empty(), "{edge} {windows:?}");
    }

    /// As the water line does: kept about 0.82, missed about 0.8, kept below.
    #[test]
    fn a_window_is_passed_over_and_told() {
        let (sure, windows) = downwards(&|v| (0.815..0.831).contains(&v) || v <= 0.79);
        let edge = sure.expect("an edge");
        assert!((0.775..=0.79).contains(&edge), "{edge}");
        assert_eq!(windows.len(), 1);
        let window = &windows[0];
        assert!((0.825..0.831).contains(&window.first) && window.last <= window.first, "{window:?}");
        assert!((window.fails_at - 0.8).abs() < 1e-9 && window.why == "fails at 0.8", "{window:?}");
    }

    #[test]
    fn windows_alone_are_no_cure() {
        let (sure, windows) = downwards(&|v| (0.6..0.7).contains(&v) || (0.45..0.5).contains(&v));
        assert_eq!(sure, None);
        assert_eq!(windows.len(), 2);
        assert!((windows[1].fails_at - 0.425).abs() < 1e-9, "{windows:?}");
        assert_eq!(downwards(&|_| false), (None, Vec::new()));
    }

    /// What is tried beyond the edge, off the grid, counts as well; a rounded edge that misses is no window.
    #[test]
    fn a_miss_between_the_points_of_the_grid_counts() {
        let required = |value: f64| vec![1.0 + 1.25 * (value - 1.0)];
        let rounded = |value: f64| (value * 100.0).ceil() / 100.0;
        let way = Way { today: 1.0, grid: vec![1.5, 2.0, 3.0], fineness: 0.01, required: &required, rounded: &rounded };
        let keeps = |v: f64| if v >= 1.4 && !(1.505..1.7).contains(&v) { Ok(()) } else { Err(String::new()) };
        let (sure, windows) = way.sure(&mut { keeps });
        assert!(sure.is_some_and(|v| (1.7..1.8).contains(&v)), "{sure:?}");
        assert!(windows.iter().all(|w| (1.4..1.505).contains(&w.first)) && !windows.is_empty(), "{windows:?}");
    }

    #[test]
    fn the_end_of_a_window_is_told_and_only_there() {
        let grid: Vec<f64> = vec![1.2, 1.5, 2.0, 3.0, 4.0];
        let (required, rounded) = (|_: f64| Vec::new(), |value: f64| value);
        let way = Way { today: 1.0, grid, fineness: 0.01, required: &required, rounded: &rounded };
        let upto = |last: f64| move |v: f64| if v <= last { Ok(()) } else { Err(format!("fails at {v}")) };
        let (last, end) = way.end(1.5, &mut { upto(2.5) });
        let (fails, why) = end.expect("an end");
        assert!(last <= 2.5 && fails > 2.5 && fails - last < 0.2, "{last} {fails}");
        assert_eq!(why, format!("fails at {fails}"));
        assert_eq!(way.end(1.5, &mut { upto(9.0) }), (4.0, None));
    }
}
