//! Every equation of the valve and its lines, and nothing else: no files, no solver, no printing.
//!
//! ```text
//!                 ┌────── coil ──────┐
//!                 │    armature      │ x_a, travel from the pilot seat
//!                 └───────┬──────────┘
//!                      pilot seat, bore d_p ──────────────┐ to the outlet
//!          ┌──────────────────────────────────┐           │
//!          │  control chamber   p_c, V_c      │           │
//!   bleed ─┤══════════ stage, A_d, w ═════════│           │
//!   d_b    │        │ seat A_s │              │           │
//!  p_1 ────┘        └────┐┌────┘ x, lift      │           │
//!  inlet port            ││                               │
//!  upstream line         └┴──── p_2 outlet port ──────────┴── downstream line
//! ```
//!
//! Flows are mass flows, kg/s; pressures absolute, Pa; SI throughout. Lines own pressures, the valve owns flows: each port
//! has a vessel of its own, so no equation has to be solved inside the rates.
//!
//! Reading order: [`parts`] (what things are), [`installation`] (the sum of all parts on one page), then the two rooms with a
//! file for each part, [`valve`] and [`mod@line`], and the laws of flow that they share, [`restriction`] and [`expansion`];
//! [`rest`], [`steady`] and [`ledger`] sum the same parts at rest, held and over a run, [`hand`] holds formulas for a cross-check
//! by hand, [`forced_hand`] those of a forced lift; [`section`] draws the parts.
//!
//! Assumptions: one-dimensional quasi-steady flow through restrictions; liquid slightly compressible at one density; gas
//! perfect or, by its properties at the supply's state, real; lines linearised about their own ends (Mach number printed);
//! vapour cavity only at the valve's ports; rigid, fixed pipes; no heat exchange of liquids; no magnetic hysteresis.

pub mod assembly;
pub mod coil_heat;
pub mod expansion;
pub mod fluid;
pub mod forced_hand;
pub mod hand;
pub mod installation;
pub mod insulation;
pub mod ledger;
pub mod line;
pub mod parts;
pub mod rest;
pub mod restriction;
pub mod root;
pub mod section;
pub mod state;
pub mod steady;
pub mod valve;
