//! What the indicators are judged against.

use crate::indicator::Energised;

/// A coil far above the voltage of its winding.
#[derive(Clone, Debug, PartialEq)]
pub struct BeyondRating {
    /// Applied voltage, V.
    pub applied: f64,
    /// Voltage that the winding is for, V.
    pub rated: f64,
    /// Is that voltage an estimate?
    pub estimated: bool,
    /// Is the winding's temperature stated, and so not computed?
    pub temperature_stated: bool,
    /// Mean heat at the duty over that of a coil that is always on its rated voltage: at least this.
    pub heat: f64,
}

/// What a normally open valve's magnet can do, mean pulls, against what it takes without a differential, N.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PullToShut {
    /// Pull over the full gap …
    pub pull_in: f64,
    /// … against preload and weight.
    pub pull_in_needed: f64,
    /// Pull at the shut seat …
    pub holding: f64,
    /// … against spring and weight.
    pub holding_needed: f64,
}

/// Flux in a shading ring's face.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RingFlux {
    /// Residual gap, m.
    pub gap: f64,
    /// Over the flux of the open face.
    pub share: f64,
}

/// What the indicators are judged against, SI.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Circumstances {
    /// Does the armature carry the seal of the main seat, so that it is the main stage itself?
    pub carried: bool,
    /// Differential against its way that its spring, of a normally open valve its magnet, holds it shut against, by hand, Pa; none where the
    /// armature is not the stage.
    pub held_back: Option<f64>,
    /// Circuit differential: supply less sink, Pa.
    pub circuit_differential: f64,
    /// The same once the line behind the shut valve has drained, Pa: more where the throttle at its end flashes.
    pub standstill_differential: f64,
    /// Mass of the line behind the valve, kg.
    pub mass_behind: f64,
    /// Does the line behind the shut valve drain down to the liquid's saturation?
    pub drains_to_saturation: bool,
    /// Frequency of the coil's alternating current, Hz; none where it is direct.
    pub mains_frequency: Option<f64>,
    /// When the coil is energised.
    pub energised: Energised,
    /// The pulls that shut it against those that it takes, where it is normally open.
    pub pull_to_shut: Option<PullToShut>,
    /// Did the phase in which it is asked to be open come to rest?
    pub came_to_rest: bool,
    /// Highest allowed pressure at the valve, Pa absolute.
    pub peak_pressure: Option<f64>,
    /// Highest allowed rise above rest, Pa.
    pub surge: Option<f64>,
    /// Seat speed above which closing counts as hard, m/s.
    pub seat_speed: f64,
    /// Highest allowed winding temperature, K.
    pub coil_temperature: Option<f64>,
    /// The coil's voltage against what the winding is for, where it is far above and no temperature is judged.
    pub beyond_rating: Option<BeyondRating>,
    /// What of the flux gets into the shading ring's face with the armature pulled in.
    pub ring_flux: Option<RingFlux>,
    /// Time per cycle of the duty for which it is asked to be open, s; the run may have shown less of it.
    pub open_time: f64,
    /// Time per cycle of the duty for which it is asked to be shut, s; the run may have shown less of it.
    pub shut_time: f64,
    /// What makes a bang on opening possible, which is not computed: causes in words.
    pub may_bang_on_opening: Vec<String>,
}

impl Circumstances {
    /// What opens the main seat, in words.
    pub(super) fn stage(&self) -> &'static str {
        if self.carried { "armature" } else { "main stage" }
    }
}
