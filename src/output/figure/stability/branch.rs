//! The equilibria of the curve, joined to branches.

use crate::stability::equilibria::Rest;
use crate::study::stability::StabilityStudy;
use crate::study::stability::curve::Branch;
use crate::study::stability::point::Answer;

/// A place on a branch.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Node {
    /// Circuit differential, Pa.
    pub(super) differential: f64,
    /// Lift over full lift.
    pub(super) lift: f64,
    /// Differential across the valve, Pa.
    pub(super) across: Option<f64>,
    /// Growth rate of the leading mode, 1/s.
    pub(super) growth: Option<f64>,
    /// Its frequency, Hz.
    pub(super) frequency: Option<f64>,
    /// Its answer; none on the boundary between two, and at the ends of a branch.
    answer: Option<Answer>,
}

impl Node {
    /// An end of a branch, of which only the place is known.
    fn bare(differential: f64, lift: f64) -> Node {
        Node { differential, lift, across: None, growth: None, frequency: None, answer: None }
    }
}

/// A stretch of a branch with one answer.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Stretch {
    /// The answer.
    pub(super) answer: Answer,
    /// Its places in order.
    pub(super) nodes: Vec<Node>,
}

/// All branches.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Branches {
    /// The stage off seat and stop.
    pub(super) floating: Vec<Stretch>,
    /// The stage on its seat or its stop.
    pub(super) resting: Vec<Stretch>,
}

impl Branches {
    /// The branches of a study.
    pub(super) fn of(study: &StabilityStudy) -> Branches {
        let limits = &study.limits;
        let ends = study.curve.first().zip(study.curve.last());
        let inside = |d: &f64| ends.is_some_and(|(a, b)| *d >= a.differential && *d <= b.differential);
        let (lift_off, full_lift) = (limits.lift_off.filter(inside), limits.full_lift.filter(inside));
        let mut floating: Vec<Node> = nodes(study, Rest::Floating);
        if !floating.is_empty() {
            floating.extend(lift_off.map(|d| Node::bare(d, 0.0)));
            floating.extend(full_lift.map(|d| Node::bare(d, 1.0)));
        }
        floating.extend(study.crossings.iter().map(|c| Node {
            differential: c.differential,
            lift: c.lift,
            across: Some(c.across),
            growth: Some(0.0),
            frequency: Some(c.frequency),
            answer: None,
        }));
        // With one differential for each lift, the order by lift is the order along the branch, folds included.
        floating.sort_by(|a, b| a.lift.total_cmp(&b.lift));
        // A resting branch is drawn up to its bound only where the bound lies within a step of the curve.
        let step = study.curve.windows(2).next().map_or(1.0, |w| 1.01 * w[1].differential / w[0].differential);
        let next = |low: f64, high: f64| high > low && high <= low * step;
        let mut shut = nodes(study, Rest::Shut);
        if let (Some(last), Some(end)) = (shut.last(), lift_off)
            && next(last.differential, end)
        {
            shut.push(Node::bare(end, 0.0));
        }
        let mut open = nodes(study, Rest::Open);
        if let (Some(first), Some(start)) = (open.first(), full_lift)
            && next(start, first.differential)
        {
            open.insert(0, Node::bare(start, 1.0));
        }
        let resting = [nodes(study, Rest::PilotShut), shut, nodes(study, Rest::Hanging), open];
        Branches { floating: stretches(&floating), resting: resting.iter().flat_map(|n| stretches(n)).collect() }
    }

    /// All stretches.
    pub(super) fn all(&self) -> impl Iterator<Item = &Stretch> {
        self.resting.iter().chain(&self.floating)
    }
}

fn nodes(study: &StabilityStudy, rest: Rest) -> Vec<Node> {
    let node = |differential: f64, b: &Branch| Node {
        differential,
        lift: b.lift,
        across: Some(b.across),
        growth: b.growth,
        frequency: b.frequency,
        answer: Some(b.answer),
    };
    let of = |b: &&Branch| b.rest == rest;
    study.curve.iter().flat_map(|p| p.branches.iter().filter(of).map(|b| node(p.differential, b))).collect()
}

/// Divides a branch where its answer changes: at the boundary between two answers if there is one, else half-way.
fn stretches(nodes: &[Node]) -> Vec<Stretch> {
    let mut all: Vec<Stretch> = Vec::new();
    let mut put = |answer: Answer, from: Node, to: Node| match all.last_mut() {
        Some(last) if last.answer == answer && last.nodes.last() == Some(&from) => last.nodes.push(to),
        _ => all.push(Stretch { answer, nodes: vec![from, to] }),
    };
    for pair in nodes.windows(2) {
        let (a, b) = (pair[0], pair[1]);
        match (a.answer, b.answer) {
            (Some(x), Some(y)) if x != y => {
                let middle = half_way(&a, &b);
                put(x, a, middle);
                put(y, middle, b);
            }
            (Some(answer), _) | (None, Some(answer)) => put(answer, a, b),
            (None, None) => {}
        }
    }
    all
}

fn half_way(a: &Node, b: &Node) -> Node {
    let mean = |a: f64, b: f64| 0.5 * (a + b);
    Node {
        differential: mean(a.differential, b.differential),
        lift: mean(a.lift, b.lift),
        across: a.across.zip(b.across).map(|(a, b)| mean(a, b)),
        growth: a.growth.zip(b.growth).map(|(a, b)| mean(a, b)),
        frequency: None,
        answer: None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn node(lift: f64, answer: Option<Answer>) -> Node {
        Node { answer, ..Node::bare(1e4 * lift, lift) }
    }

    #[test]
    fn a_branch_is_divided_at_its_boundary_and_else_half_way() {
        let (grows, rests) = (Some(Answer::Oscillates), Some(Answer::Stable));
        let at_boundary = stretches(&[node(0.1, grows), node(0.2, None), node(0.3, rests)]);
        assert_eq!(at_boundary.len(), 2);
        assert_eq!(at_boundary[0].nodes[1].lift, 0.2);
        let without = stretches(&[node(0.1, Some(Answer::RunsAway)), node(0.3, rests), node(0.4, rests)]);
        assert_eq!(without[0].nodes[1].lift, 0.2);
        assert_eq!((without[1].answer, without[1].nodes.len()), (Answer::Stable, 3));
        assert!(stretches(&[node(0.1, grows)]).is_empty());
    }
}
