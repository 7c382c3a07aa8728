//! Which numbers are firm. A stage that strikes its seat, or is knocked about by collapsing cavities, makes of the last bit of an
//! input a difference in the second digit: such numbers are told as "about".
//!
//! Found by changing one mass by 3·10⁻¹⁵ to 10⁻¹² in every demo (`tests/study/digits.rs` repeats it).

use super::firmness::Firmness;
use super::list::Indicators;

/// A valve that swings by more than this share of its lift is switched off at a chance phase of the swing.
const SWINGS: f64 = 0.02;

/// What is blows, differences of nearly equal numbers, or how long the run watched.
const NEVER_FIRM: &[&str] = &[
    "hardest_seat_speed",
    "seat_energy_per_cycle",
    "first_seat_energy",
    "pull_in_energy",
    "residual_wave",
    "closing_margin",
    "oscillation_first_half",
    "oscillation_second_half",
    "seat_contacts_late",
    "judged_window",
    "open_time",
    "shut_time",
    "reopened_lift",
    "release_delay",
];

/// What a cavity's collapse makes of the pressure.
const AFTER_A_CAVITY: &[&str] = &["inlet_peak_later", "outlet_peak_later"];

/// What depends on the instant of switching off, within a swing of the stage or a period of the alternating current.
const AT_A_CHANCE_PHASE: &[&str] = &[
    "closing_time",
    "effective_closing_time",
    "steady_wave_ratio",
    "steepest_stop",
    "late_closing_share",
    "first_seat_speed",
    "surge",
    "surge_ratio",
    "lift_at_shutting",
    "switch_off_voltage",
];

/// What closing from a chance lift makes of the pressure.
const FROM_A_CHANCE_LIFT: &[&str] =
    &["inlet_peak_closing", "inlet_trough_closing", "outlet_peak_closing", "outlet_trough_closing"];

/// Below these a number is that of the steps, not of the valve, SI.
const NOISE: &[(&str, f64)] = &[
    ("oscillation", 1e-3),
    ("oscillation_first_half", 1e-3),
    ("oscillation_second_half", 1e-3),
    ("armature_swing", 1e-7),
    ("least_magnet_force", 1e-3),
    ("remanent_force", 1e-3),
    ("closing_margin", 1e3),
];

impl Indicators {
    /// How a number by that name is to be told.
    pub fn firmness(&self, name: &str) -> Firmness {
        let swings = self.oscillation.is_some_and(|swing| swing > SWINGS);
        let cavity = [self.largest_inlet_cavity, self.largest_outlet_cavity].into_iter().flatten().any(|v| v > 0.0);
        let chance = swings || self.mains_frequency.is_some();
        let about = NEVER_FIRM.contains(&name)
            || (cavity && AFTER_A_CAVITY.contains(&name))
            || (chance && AT_A_CHANCE_PHASE.contains(&name))
            || (swings && FROM_A_CHANCE_LIFT.contains(&name));
        if about { Firmness::About } else { Firmness::Firm }
    }
}

/// The size below which a number by that name is noise, SI; zero where it has none.
pub fn noise(name: &str) -> f64 {
    NOISE.iter().find(|(of, _)| *of == name).map_or(0.0, |(_, size)| *size)
}
