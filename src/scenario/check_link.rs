//! Plausibility of a forced lift: stroke, free play and stiffness of its link belong together.

use super::model::Scenario;
use super::reader::Reader;
use crate::physics::forced_hand::{hanging_lift, needed_stroke};
use crate::physics::parts::Link;
use crate::units::{Dimension, text};

/// Overtravel of the armature beyond what full lift asks for, as a share of the lift, from which on it is remarked on: the pole is then
/// reached only against a link that is stretched by as much. Judgement.
const OVERTRAVEL: f64 = 0.15;

/// A link that does not do what it is for.
pub(super) fn forced_lift(scenario: &Scenario, link: &Link, reader: &mut Reader<'_>) {
    let length = |value: f64| text(value, Dimension::Length);
    let (armature, main) = (&scenario.valve.armature, &scenario.valve.main);
    let needed = needed_stroke(link, main);
    if link.free_play >= armature.stroke {
        let message = format!(
            "the link gets taut after {} of free play, which is not less than the armature's stroke ({}): it never draws on the main \
             stage; shorten the free play, or lengthen the stroke",
            length(link.free_play),
            length(armature.stroke)
        );
        reader.warn("valve.link.free_play", message);
    } else if armature.stroke < needed {
        let message = format!(
            "without a differential the link lifts the main stage by {} only, of a lift of {}: full lift takes an armature stroke of {} \
             (lift, free play and stretch of the link)",
            length(hanging_lift(link, armature, main)),
            length(main.lift),
            length(needed)
        );
        reader.warn("valve.armature.stroke", message);
    } else if armature.stroke > needed + OVERTRAVEL * main.lift {
        let message = format!(
            "{} is enough for full lift: beyond that the armature stretches the link before it comes to the pole",
            length(needed)
        );
        reader.warn("valve.armature.stroke", message);
    }
    let quarter = scenario.valve.servo().map_or(0.0, |servo| 0.25 * servo.pilot.diameter);
    if link.free_play < quarter {
        let message = format!(
            "less than a quarter of the pilot's bore ({}): the taut link keeps the pilot from opening in full",
            length(quarter)
        );
        reader.warn("valve.link.free_play", message);
    }
}
