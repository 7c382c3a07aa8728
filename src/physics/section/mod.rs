//! What a valve's parts look like: the outlines of a half-section, for figures. Pure data, from the parts alone.
//!
//! ```text
//!   z ↑  pole ▓▓│ coil        r: distance from the axis, m
//!        gap    │              z: upwards from the plane of the main seat, m
//!   armature ▒▒▒│ tube         all shut and at rest: lift x = 0, travel x_a = 0
//!        pilot seat ─ cover
//!   stage ══════════╮ chamber
//!   0 ──┘ seat  inlet          outlet below
//! ```
//!
//! What is round is a shape on both sides of the axis. What is not (ports, channels, the bleed and its pin) is cut by the plane of the
//! drawing on one side only, and is painted over what is round: inlet on one [`Side`], outlet on the other. Each corner tells what it moves
//! with, so that a figure at any lift and travel is the same outlines displaced.
//!
//! True are the dimensions that the parts state: seat bore, effective diameter, lift, stroke, gap at the pole with its residual part as a shim,
//! pole clearance, pilot bore with its length and seat, bleed bore with its length and pin, radial clearance and land of a piston, height of
//! its ring, area and depth of a cushion, free play of a link, core and iron length, the face inside a shading ring. What they do not state
//! is by [`proportions`]. Where stated sizes contradict one another (an iron path shorter than its core is thick, a shaded face wider than the pole)
//! the drawing is no longer true, but still drawn. Volumes of ports and chamber and the masses are not drawn: nothing says how they are shaped.
//!
//! Swept volumes of the outlines are those of the ledger, A_d·x, A_s·x and A_ps·x_a, exactly: a membrane moves by a share of the lift that falls
//! in proportion to the radius from its hub to its rim, and its rim lies where that sweeps A_d·x. Left out: the bulge, the stretch of a link, the
//! indentation of contacts, and that a tip far off its seat no longer sweeps (as the ledger of a forced lift has it).

mod assembly;
mod bleed;
mod cushion;
mod drawn;
mod magnet;
mod outline;
pub mod proportions;
mod seat;
mod servo;
mod stage;
mod yoke;

pub use drawn::{Part, Place, Section, Shape, Side, Space, Spring, SpringOf};
pub use outline::{Corner, Moves, Outline, displaced};
