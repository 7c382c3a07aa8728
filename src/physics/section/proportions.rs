//! What the parts do not state: proportions of ordinary valves, by judgement, with a reason each. Nothing of it enters an equation.

/// Wall of the guide tube over the armature's radius: thin, for it is a gap to the flux.
pub const TUBE_WALL: f64 = 0.1;
/// Clearance of the armature in its tube over its radius: several times the real one, so that it is seen.
pub const TUBE_CLEARANCE: f64 = 0.05;
/// Depth of the winding over the armature's radius, where the iron's length leaves room.
pub const WINDING_DEPTH: f64 = 1.3;
/// The winding takes at most this share of what the iron's length leaves, so that a coil is longer than it is deep.
pub const WINDING_SHARE: f64 = 0.4;
/// Thickness of the yoke over the armature's radius: the core's cross-section, spread round at some two radii.
pub const YOKE: f64 = 0.25;
/// Where in the coil the gap lies, share of its height: about the middle, where the coil pulls best.
pub const GAP_PLACE: f64 = 0.5;
/// Bore for the armature spring in armature and pole over the armature's radius: most of the face is left.
pub const SPRING_BORE: f64 = 0.36;
/// Depth of that bore over the armature's radius: a spring of several turns.
pub const SPRING_DEPTH: f64 = 0.9;
/// Radius of the rod of a normally open armature over its own: it carries the spring's force only.
pub const ROD: f64 = 0.28;
/// Width of the shading ring over the armature's radius.
pub const SHADING_WIDTH: f64 = 0.1;
/// Depth of the shading ring in the pole's face over the armature's radius.
pub const SHADING_DEPTH: f64 = 0.22;
/// Space between parts that pass one another, over the armature's radius.
pub const AIR: f64 = 0.12;

/// Wall of the seat ring over the seat's radius: a narrow edge, so that its diameter is sure.
pub const SEAT_WALL: f64 = 0.15;
/// The seat's wall takes at most this share of what lies between seat and effective diameter.
pub const SEAT_WALL_SHARE: f64 = 0.25;
/// How far a seat's edge falls off outwards and inwards over its wall.
pub const SEAT_EDGE: f64 = 0.4;
/// Depth of the inlet's ring below the seat over the seat's radius: its curtain is no narrower than the seat.
pub const INLET_DEPTH: f64 = 1.0;
/// Height of the outlet's cavity over the seat's radius: about the seat's bore.
pub const OUTLET_HEIGHT: f64 = 1.6;
/// Walls of body and cover over the radius of what moves in them.
pub const WALL: f64 = 0.22;

/// Thickness of the stage over its effective radius, at least.
pub const STAGE_THICKNESS: f64 = 0.14;
/// Radius of the stage's hub between seat and effective radius.
pub const HUB: f64 = 0.6;
/// Thickness of a membrane over the effective radius: a millimetre or so of rubber and fabric.
pub const MEMBRANE: f64 = 0.04;
/// How far the membrane arches into the chamber over its free width: slack that lets it move.
pub const ARCH: f64 = 0.12;
/// Straight pieces of the arch.
pub const ARCH_PIECES: usize = 12;
/// Room over the stage at full lift over the effective radius: the cover holds nothing but the stop.
pub const HEADROOM: f64 = 0.12;
/// Land of a piston whose gap is not stated over its effective radius.
pub const LAND: f64 = 0.55;
/// Wall of the piston's skirt over the effective radius.
pub const SKIRT: f64 = 0.2;
/// Radial width of a piston ring over the effective radius.
pub const RING_WIDTH: f64 = 0.09;
/// Height of a piston ring where none is stated over the effective radius.
pub const RING_HEIGHT: f64 = 0.14;
/// Clearance of a piston that a ring seals over the effective radius: enough to be seen.
pub const RINGED_CLEARANCE: f64 = 0.02;

/// Width of a channel behind a restriction over the restriction's bore: it loses little beside it.
pub const CHANNEL: f64 = 1.3;
/// Height of the pilot's nozzle over its seat's radius: free to flow round.
pub const NOZZLE: f64 = 1.2;
/// Wall of the pilot's nozzle over its seat's radius.
pub const NOZZLE_WALL: f64 = 0.5;
/// Radius of the collar of a link over the pilot seat's: it covers the seat.
pub const COLLAR: f64 = 2.2;
/// Stem above the collar over the collar's radius.
pub const STEM: f64 = 0.55;
/// Thickness of collar and hook over the collar's radius.
pub const HOOK: f64 = 0.35;
/// Radial clearance of the cushion's ring over the main seat's wall: seen, and no part of its area.
pub const CUSHION_CLEARANCE: f64 = 0.15;
