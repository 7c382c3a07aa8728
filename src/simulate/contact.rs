//! What the coil's contact and its economiser do in one phase: stretches between instants at which the voltage jumps. Each is
//! integrated by itself, so that no step goes across a jump.

use crate::physics::parts::{Bounce, Coil};

/// From one instant of a phase on, until the next stretch begins.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stretch {
    /// Time since switching, s.
    pub from: f64,
    /// Is the contact closed?
    pub closed: bool,
    /// Share of the supply's voltage.
    pub share: f64,
}

/// The stretches after switching on, or off.
pub fn stretches(coil: &Coil, on: bool) -> Vec<Stretch> {
    if !on {
        return vec![Stretch { from: 0.0, closed: false, share: 1.0 }];
    }
    let mut all: Vec<Stretch> =
        contact(&coil.feed.bounce).into_iter().map(|(from, closed)| Stretch { from, closed, share: 1.0 }).collect();
    if let Some(economiser) = &coil.feed.economiser {
        let begin = all.partition_point(|stretch| stretch.from < economiser.delay);
        if all.get(begin).is_none_or(|stretch| stretch.from > economiser.delay) {
            let closed = all[begin.max(1) - 1].closed;
            all.insert(begin, Stretch { from: economiser.delay, closed, share: 1.0 });
        }
        all[begin..].iter_mut().for_each(|stretch| stretch.share = economiser.share);
    }
    all
}

/// How the coil is fed once all of that is over.
pub fn lasting(coil: &Coil, on: bool) -> Stretch {
    let share = coil.feed.economiser.as_ref().map_or(1.0, |economiser| economiser.share);
    Stretch { from: 0.0, closed: on, share: if on { share } else { 1.0 } }
}

/// Instants at which the contact closes and opens: closed first and last, all times in between alike.
fn contact(bounce: &Option<Bounce>) -> Vec<(f64, bool)> {
    let Some(bounce) = bounce else { return vec![(0.0, true)] };
    // A whole number by its range; a wrong one is not-a-number and turns into 0.
    let turns = 2 * bounce.count as usize;
    (0..=turns).map(|k| (bounce.duration * k as f64 / turns.max(1) as f64, k % 2 == 0)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn closed_first_and_last_and_alike_long_between() {
        let bounce = Some(Bounce { count: 2.0, duration: 4e-3 });
        let wanted = [(0.0, true), (1e-3, false), (2e-3, true), (3e-3, false), (4e-3, true)];
        assert_eq!(contact(&bounce), wanted);
        assert_eq!(contact(&None), [(0.0, true)]);
    }
}
