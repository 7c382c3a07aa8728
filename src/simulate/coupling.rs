//! Which state enters which rate, for the solver's linear algebra and derivatives.

use crate::physics::state::*;
use crate::solver::Coupling;

/// The first so many states are leaves: none enters the rate of another, and each damps itself.
pub const LEAVES: usize = LEAF_STATES;

const fn places(list: &[usize]) -> u64 {
    let (mut set, mut i) = (0, 0);
    while i < list.len() {
        set |= 1 << list[i];
        i += 1;
    }
    set
}

/// Which rates each state enters, over all fluids, kinds of stage and kinds of line, and the lane of its derivatives.
pub const COUPLING: Coupling<STATES> = {
    // what the chamber's pressure and density act on: armature, stage, bulge, the three passages and, through the bulge, the inlet
    let chamber =
        [TRAVEL_RATE, LIFT_RATE, CHAMBER, CHAMBER_ENERGY, BULGE, PILOT_FLOW, BLEED_FLOW, RING_LEAK_FLOW, INLET];
    let mut c = Coupling { lane: [0; STATES], enters: [places(&chamber); STATES], time_lane: 11, time_enters: 0 };
    // the magnet pulls the armature, which is the stage itself in a direct-operated valve
    c.enters[FLUX] = places(&[FLUX, RING_FLUX, TRAVEL_RATE, LIFT_RATE]);
    c.enters[RING_FLUX] = places(&[FLUX, RING_FLUX, TRAVEL_RATE, LIFT_RATE]);
    // a pilot seat in the stage: tip and link act between armature and stage, and the pilot vents to what is under the main seat
    c.enters[TRAVEL] |= places(&[FLUX, RING_FLUX, OUTLET]);
    c.enters[TRAVEL_RATE] =
        places(&[TRAVEL, TRAVEL_RATE, LIFT_RATE, CHAMBER, CHAMBER_ENERGY, OUTLET, ARMATURE_DEFLECTION]);
    c.enters[LIFT] |= places(&[FLUX, RING_FLUX, OUTLET]);
    c.enters[LIFT_RATE] = places(&[LIFT, LIFT_RATE, TRAVEL_RATE, CHAMBER, CHAMBER_ENERGY, INLET, OUTLET, DEFLECTION]);
    c.enters[PILOT_FLOW] = places(&[CHAMBER, CHAMBER_ENERGY, PILOT_FLOW, OUTLET]);
    c.enters[BLEED_FLOW] = places(&[CHAMBER, CHAMBER_ENERGY, BLEED_FLOW, INLET]);
    c.enters[RING_LEAK_FLOW] = places(&[CHAMBER, CHAMBER_ENERGY, RING_LEAK_FLOW, INLET]);
    c.enters[INLET] = places(&[
        TRAVEL_RATE,
        LIFT_RATE,
        CHAMBER,
        CHAMBER_ENERGY,
        BULGE,
        PILOT_FLOW,
        BLEED_FLOW,
        RING_LEAK_FLOW,
        INLET,
        OUTLET,
        UPSTREAM_FLOW,
    ]);
    c.enters[OUTLET] = places(&[TRAVEL_RATE, LIFT_RATE, PILOT_FLOW, INLET, OUTLET, DOWNSTREAM_FLOW]);
    c.enters[UPSTREAM_FLOW] = places(&[INLET, UPSTREAM_FLOW]);
    c.enters[DOWNSTREAM_FLOW] = places(&[OUTLET, DOWNSTREAM_FLOW]);
    c.enters[DEFLECTION] = places(&[LIFT_RATE, DEFLECTION]);
    c.enters[ARMATURE_DEFLECTION] = places(&[TRAVEL_RATE, ARMATURE_DEFLECTION]);
    c.time_enters = places(&[FLUX, INLET, OUTLET, UPSTREAM_FLOW, DOWNSTREAM_FLOW]);
    // lanes that several share: magnet with passages and columns, dry friction with time
    (c.lane[FLUX], c.lane[BLEED_FLOW], c.lane[DOWNSTREAM_FLOW]) = (0, 0, 0);
    (c.lane[RING_FLUX], c.lane[PILOT_FLOW], c.lane[UPSTREAM_FLOW]) = (1, 1, 1);
    c.lane[TRAVEL_RATE] = 2;
    (c.lane[DEFLECTION], c.lane[ARMATURE_DEFLECTION]) = (c.time_lane, c.time_lane);
    (c.lane[TRAVEL], c.lane[LIFT], c.lane[LIFT_RATE], c.lane[CHAMBER]) = (3, 4, 5, 6);
    (c.lane[CHAMBER_ENERGY], c.lane[BULGE], c.lane[INLET], c.lane[OUTLET]) = (7, 8, 9, 10);
    c.lane[RING_LEAK_FLOW] = 12;
    c
};
/// Lanes of the dual numbers that this takes.
pub const LANES: usize = 13;
