//! Every threshold of the verdict, with its reason: the numbers beyond which what was read off a run is called something else. What an
//! indicator is (over which window, above which noise) stands with it in [`crate::indicator`]; which further runs are made, in
//! `study/disturbance.rs`; where a bang on opening is possible, of which no number can tell, in `study/opening.rs`.

use crate::indicator::Indicators;

/// Below this share of full lift the stage counts as on its seat.
pub(super) const SHUT_LIFT: f64 = 0.01;
/// A stage that met its seat and stands above this share of full lift at the end has opened again.
pub(super) const REOPENED_LIFT: f64 = 0.05;
/// The armature of a forced lift that has made this share of its link's free play is off the pilot seat. Judgement: half.
pub(super) const OFF_PILOT_SEAT: f64 = 0.5;
/// One that has made this share of its stroke stands at the pole: what the pole gives way by is less.
pub(super) const AT_POLE: f64 = 0.999;
/// Above this mean share of full lift it counts as open.
pub const OPEN_LIFT: f64 = 0.97;
/// A swing below this share of full lift is not heard or felt, and no pressure gauge shows it …
pub const STEADY_SWING: f64 = 0.02;
/// … unless it is this share of the mean opening: flow and differential then swing by as much.
const STEADY_OF_OPENING: f64 = 0.2;
/// Below this share of full lift nothing of a swing is left.
pub(super) const NO_SWING: f64 = 5e-3;
/// A stage that strikes its seat time and again does not rest there, if it swings by more than this share of full lift.
pub(super) const LEAST_BLOW: f64 = 2e-3;
/// A swing whose second half is this many times the first is still growing.
pub(super) const GROWING: f64 = 1.25;
/// An oscillation whose second half has less than this share of the first half's swing is dying out.
pub(super) const LASTING: f64 = 0.7;
/// Fewer crossings than this are a transient.
pub(super) const LEAST_CROSSINGS: f64 = 4.0;
/// Fewer contacts with the seat than this may be a start that bumped.
pub(super) const LEAST_CONTACTS: f64 = 3.0;
/// The swing counts as forced when this share of it is at the supply's own frequency.
pub(super) const FORCED_SHARE: f64 = 0.5;
/// Pole contacts per second above which the armature hums: a tenth of those of a 50 Hz magnet without a ring.
pub(super) const HUM_RATE: f64 = 10.0;
/// A ring whose face carries less than this share of the open face's flux holds with less than a sixteenth of its pull. Judgement.
pub(super) const WEAK_RING: f64 = 0.25;
/// Shorter energised times than this cannot be judged for lasting oscillation, s.
pub(super) const LEAST_WINDOW: f64 = 0.2;
/// Margin to the vapour pressure below which the outlet of the open valve counts as boiling, Pa: the model keeps pressure
/// above the vapour pressure by what its trace of gas gives, which is far less.
pub const BOILING_MARGIN: f64 = 1e3;
/// A smaller cavity is a touch of the vapour pressure that nobody hears, m³. Judgement: a pinhead.
pub(super) const LEAST_CAVITY: f64 = 1e-9;
/// On more than this many times its voltage a winding burns, where its heat over a cycle is more than it bears as well: two of the usual
/// steps between rated voltages (12, 24, 48; 115, 230, 400 V) lie a factor of two apart. Judgement.
pub const BURNING_VOLTAGE: f64 = 1.5;
/// A winding that swings by more than this about its mean is told with both, K. Judgement.
pub(super) const NOTED_SWING: f64 = 2.0;
/// Share of the duty's on-time or off-time from which on a run has shown all of it. Judgement.
pub const WHOLE: f64 = 0.98;

/// Below this share of full lift a swing about that mean lift counts as none.
pub(super) fn steady_swing(mean: f64) -> f64 {
    if mean < SHUT_LIFT { SHUT_LIFT } else { STEADY_SWING.min(STEADY_OF_OPENING * mean) }
}

/// Was there a main stage to close? One that stood on its seat while energised may be thrown up for an instant.
pub(super) fn had_opened(found: &Indicators) -> bool {
    found.mean_lift.unwrap_or(0.0).max(found.lift_at_shutting.unwrap_or(0.0)) > SHUT_LIFT
}

/// An armature counts as fallen back below this share of its stroke. Judgement: at the pole it is at the whole of it, humming over most.
pub(super) const FALLEN_BACK: f64 = 0.25;

/// An armature that should hold its seat shut has left it above this share of its stroke. Judgement: humming it leaves it by less.
pub(super) const LEFT_ITS_SEAT: f64 = 0.25;
