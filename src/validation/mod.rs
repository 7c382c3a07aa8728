//! The validation book: published and exact cases recomputed through the project's own parts.

pub mod armature_flight;
pub mod bistability;
pub mod case;
pub mod closed_energy;
pub mod coil_circuit;
pub mod contact;
pub mod copper_winding;
mod held_magnet;
pub mod impact;
pub mod limit_cycle;
pub mod magnet;
pub mod part_alone;
mod reference_table;
pub mod relief_installation;
pub mod relief_valve;
pub mod restitution;
pub mod shading_ring;
pub mod signal;
pub mod solver;
pub mod stiff_problems;
pub mod trail;
