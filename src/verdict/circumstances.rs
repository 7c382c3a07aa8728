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
    /// What kind of supply it is for and on, in words, where that is what is wrong.
    pub wrong_supply: Option<String>,
}

/// Highest allowed mean temperature of a winding.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CoilLimit {
    /// K.
    pub temperature: f64,
    /// The class of its insulation from which it comes, and what that bears at its hottest, K; none where the limit is stated.
    pub class: Option<(&'static str, f64)>,
}

/// How a winding comes to its temperature.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CoilRise {
    /// Temperature of the coil without current, K.
    pub idle: f64,
    /// From the body to the winding, K.
    pub across: f64,
    /// From the coil without current to the body, K.
    pub outward: f64,
    /// Time from the first switching on until the winding passes its limit, s; none where it does not.
    pub passes_limit_after: Option<f64>,
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

/// A forced lift: what was seen of its armature, and what its link asks for by hand.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Linked {
    /// Mean travel of the armature towards the end of the energised time, m.
    pub travel: f64,
    /// Its stroke, m.
    pub stroke: f64,
    /// Free play of the link, m.
    pub free_play: f64,
    /// Full lift of the main stage, m.
    pub full_lift: f64,
    /// Stroke that brings the stage to its stop by the link alone, by hand, m.
    pub needed_stroke: f64,
    /// Mean pull with the link just taut, by hand, N.
    pub pull: f64,
    /// Pull that draws the stage off its seat there, by hand, N.
    pub needed_pull: f64,
}

/// What the indicators are judged against, SI.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Circumstances {
    /// Does the armature carry the seal of the main seat, so that it is the main stage itself?
    pub carried: bool,
    /// The armature's link to the main stage; none where it has none.
    pub linked: Option<Linked>,
    /// Differential against its way that its springs, of a normally open valve its magnet, hold it shut against, by hand, Pa; none where the
    /// differential lifts the stage.
    pub held_back: Option<f64>,
    /// Mean travel of the armature towards the end of the first energised time, share of its stroke; none where it was not seen.
    pub held_travel: Option<f64>,
    /// Dry friction of the armature, N; none where it slides freely.
    pub friction: Option<f64>,
    /// What leaks past the piston, where anything does.
    pub past_piston: Option<PastPiston>,
    /// Circuit differential: supply less sink, Pa.
    pub circuit_differential: f64,
    /// The same once the line behind the shut valve has drained, Pa: more where the throttle at its end flashes.
    pub standstill_differential: f64,
    /// Mass of the line behind the valve, kg.
    pub mass_behind: f64,
    /// Does the line behind the shut valve drain down to the liquid's saturation?
    pub drains_to_saturation: bool,
    /// Frequency of the mains that feeds the coil, by a rectifier or not, Hz; none where the supply is direct.
    pub mains_frequency: Option<f64>,
    /// When the coil is energised.
    pub energised: Energised,
    /// The pulls that shut it against those that it takes, where it is normally open.
    pub pull_to_shut: Option<PullToShut>,
    /// Pull at the shut seat without current, where it is normally open and its iron stays magnetised, by hand, N.
    pub remanent_pull: Option<f64>,
    /// Did the phase in which it is asked to be open come to rest?
    pub came_to_rest: bool,
    /// Highest allowed pressure at the valve, Pa absolute.
    pub peak_pressure: Option<f64>,
    /// Highest allowed rise above rest, Pa.
    pub surge: Option<f64>,
    /// Seat speed above which closing counts as hard, m/s.
    pub seat_speed: f64,
    /// What the winding may reach.
    pub coil_limit: Option<CoilLimit>,
    /// What its temperature hangs on, where its coil has a thermal network.
    pub coil_rise: Option<CoilRise>,
    /// Heat in the winding with its armature out over that of holding; none on direct current.
    pub inrush_heat: Option<f64>,
    /// The coil's voltage against what the winding is for, where it is far above and no temperature is judged.
    pub beyond_rating: Option<BeyondRating>,
    /// What kind of supply the coil is for and on, in words, where that is wrong.
    pub wrong_supply: Option<String>,
    /// Does the coil's current go through a rectifier, and how many of its pulses make a period?
    pub rectified_pulses: Option<f64>,
    /// Effective voltage of the supply without a load, V, where cable or transformer stand before the coil.
    pub unloaded_voltage: Option<f64>,
    /// What of the flux gets into the shading ring's face with the armature pulled in.
    pub ring_flux: Option<RingFlux>,
    /// Time per cycle of the duty for which it is asked to be open, s; the run may have shown less of it.
    pub open_time: f64,
    /// Time per cycle of the duty for which it is asked to be shut, s; the run may have shown less of it.
    pub shut_time: f64,
    /// What makes a bang on opening possible, which is not computed: causes in words.
    pub may_bang_on_opening: Vec<String>,
    /// What else of the installation is not computed, in sentences.
    pub not_computed: Vec<String>,
}

/// A leak past the piston.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PastPiston {
    /// Differential above which it holds the stage on its seat, by hand, Pa; none where it never does.
    pub holds_down_above: Option<f64>,
}

impl Circumstances {
    /// What opens the main seat, in words.
    pub(super) fn stage(&self) -> &'static str {
        if self.carried { "armature" } else { "main stage" }
    }
}
