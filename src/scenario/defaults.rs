//! Every value that a scenario need not state, each with its reason. None of them describes a particular valve: they are
//! settings of the computation, or contact laws that seldom anyone can measure.

use super::model::{Limits, Run};
use crate::key::Key;
use crate::physics::line::wave_speed::Support;
use crate::physics::parts::{Cable, Clearance, Contact, Link, Strainer};

/// Numbers that stand where a table does not state them.
pub(super) type Defaults = &'static [(Key, f64)];

/// Contact of soft seats and stops: 10 N dents an elastomer seat by about 16 µm (δ = (F/k)^(2/3)), small against a lift of
/// millimetres and large against the wavelength of rounding. The dissipation loses about a sixth of a speed of 0.1 m/s per
/// contact (restitution ≈ 1 − (2/3)·d·v, Hunt and Crossley 1975, from memory). Judgement, no source for the values.
pub(super) const SOFT_CONTACT: Defaults = &[(Contact::stiffness, 1.5e8), (Contact::dissipation, 2.5)];

/// Contact of the armature with the pole, steel on steel: k = 4/3·E*·√R of a crowned face on a flat one (H. Hertz, "Über die
/// Berührung fester elastischer Körper", J. reine angew. Math. 92 (1881) 156-171, from memory), with E* = 115 GPa of steel (E 210 GPa,
/// Poisson's ratio 0.3) and R = 0.5 m, a face of 10 mm crowned by 25 µm (judgement): 100 N dent it by 0.9 µm. The dent shortens
/// the residual gap, of which clean poles have 20 to 30 µm: at a twentieth of that it moves the least force by some 3 %.
pub(super) const POLE_CONTACT: Defaults = &[(Contact::stiffness, 1.1e11), (Contact::dissipation, 2.5)];

/// Dissipation of a forced lift's link: steel parts that meet, as at the other contacts. Judgement, no source for the value.
pub(super) const LINK: Defaults = &[(Link::dissipation, 2.5)];

/// Cables are as warm as a room: 20 K more raise their resistance by 8 %.
pub(super) const CABLE: Defaults = &[(Cable::temperature, 293.15)];

/// Share of a volume of liquid that is taken as free gas where none is stated: at 1 bar it softens the liquid by a fifth,
/// from 5 bar on by less than 1 %, yet a vapour cavity can grow from it without a jump. Numerical, no source.
pub(super) const TRACE_GAS_SHARE: f64 = 1e-5;

/// Exponent of the trace: bubbles so small keep the liquid's temperature, so their change is isothermal.
pub(super) const TRACE_GAS_EXPONENT: f64 = 1.0;

/// Poisson's ratio of a wall where only its modulus is stated: that of most metals (0.27 to 0.36, common handbook
/// values). In a line free to slide it enters only by the squeezing of the wall: 0.1 more or less moves the wave speed
/// by less than 0.2 % in steel at D/e = 10.
pub(super) const POISSON_RATIO: f64 = 0.3;

/// How a line is held where nothing is said: clipped along its length, so that it cannot stretch, where its Poisson's
/// ratio is known (stated, or by its material); else free to slide, as that ratio says. Common practice, no source; the
/// three supports lie within 4 % of each other in metals.
pub(super) fn support(poisson_ratio_known: bool) -> Support {
    if poisson_ratio_known { Support::Throughout } else { Support::Joints }
}

/// Highest frequency at which a stage can feed a line, Hz: of the growing modes of some thousand floating valves (the
/// demonstrations' numbers, each spread by up to a factor of three), 98 of 100 on gases lay below; on liquids most are
/// below 30 Hz. Own computation.
const HIGHEST_GROWING: f64 = 160.0;

/// Most segments: the lines of a run cost as many junctions.
const MOST_SEGMENTS: f64 = 12.0;

/// Segments of a line that the wave crosses in `transit` seconds: one more than the half waves 2L/λ that the line has at
/// [`HIGHEST_GROWING`]. The damping of that many modes is then within some per cent of that of friction spread evenly (tests
/// hold it to 10 %); the next one is wrong, and lies above. Two at least.
pub(super) fn segments(transit: f64) -> usize {
    (1.0 + (2.0 * transit * HIGHEST_GROWING).ceil()).clamp(2.0, MOST_SEGMENTS) as usize
}

/// A strainer is clean unless it is said to be clogged.
pub(super) const CLEAN_STRAINER: Defaults = &[(Strainer::strainer_clogged, 0.0)];

/// A piston lies against its bore, since nothing holds it in the middle (judgement): the gap that leaks most, 2.5 times the middle's.
pub(super) const LYING_PISTON: Defaults = &[(Clearance::eccentricity, 1.0)];

/// Limits. Impact speed on the main seat that counts as hard: ordinary closings of small valves stay well below, snapping
/// ones reach several times that. Judgement, no source; state a limit of your own where you know one.
pub(super) const LIMITS: Defaults = &[(Limits::seat_speed, 0.1)];

/// Settings of a run. Tolerance: halving it moves no first-closure peak by more than 1 % (a test holds it to that). Longest
/// energised time: some valves take seconds to creep open at low differentials; a phase ends earlier as soon as nothing moves any
/// more, and slow creeping costs few steps. Longest de-energised time: narrow bleeds close in seconds; the phase ends once the stage
/// has stayed shut for six returns of the wave.
pub(super) const RUN: Defaults = &[(Run::tolerance, 1e-5), (Run::longest_on, 10.0), (Run::longest_off, 10.0)];

/// Liquid recovery factor where the fluid is a gas, and critical pressure ratio where it is a liquid: never used there.
pub(super) const UNUSED: f64 = 0.5;

/// A default axis.
pub(super) struct DefaultAxis {
    /// Parameter.
    pub(super) path: &'static str,
    /// Lower end, SI.
    pub(super) from: f64,
    /// Upper end, SI.
    pub(super) to: f64,
    /// Grid points.
    pub(super) points: usize,
}

/// Differential: from below the lift-off of usual pilot-operated valves (0.03 to 0.15 bar) to a high mains or liquid-line
/// differential. Five points a factor of two resolve the narrow band in which a stage floats.
pub(super) const MAP_X: DefaultAxis = DefaultAxis { path: "supply.differential", from: 2e3, to: 20e5, points: 48 };

/// Cycle rate: from once an hour to five a second, beyond which no such valve follows.
pub(super) const MAP_Y: DefaultAxis = DefaultAxis { path: "duty.cycle_rate", from: 1.0 / 3600.0, to: 5.0, points: 24 };

/// The default of an axis table.
pub(super) fn axis(table: &str) -> Option<&'static DefaultAxis> {
    match table {
        "map.x" => Some(&MAP_X),
        "map.y" => Some(&MAP_Y),
        _ => None,
    }
}
