//! What is shown where not all is wanted.

use super::Indicators;

impl Indicators {
    /// The numbers that most questions turn on.
    pub fn chief(&self) -> Indicators {
        Indicators {
            opening_time_90: self.opening_time_90,
            closing_time: self.closing_time,
            effective_closing_time: self.effective_closing_time,
            wave_return_time: self.wave_return_time,
            mean_lift: self.mean_lift,
            oscillation: self.oscillation,
            oscillation_rate: self.oscillation_rate,
            seat_contact_rate: self.seat_contact_rate,
            first_seat_speed: self.first_seat_speed,
            differential_open: self.differential_open,
            flow_open: self.flow_open,
            inlet_peak_closing: self.inlet_peak_closing,
            outlet_trough_closing: self.outlet_trough_closing,
            surge: self.surge,
            surge_ratio: self.surge_ratio,
            joukowsky_rise: self.joukowsky_rise,
            inlet_peak_later: self.inlet_peak_later,
            largest_inlet_cavity: self.largest_inlet_cavity,
            largest_outlet_cavity: self.largest_outlet_cavity,
            least_magnet_force: self.least_magnet_force,
            armature_load: self.armature_load,
            inrush_apparent_power: self.inrush_apparent_power,
            holding_apparent_power: self.holding_apparent_power,
            coil_current: self.coil_current,
            coil_temperature: self.coil_temperature,
            highest_opening_differential: self.highest_opening_differential,
            pull_in_margin: self.pull_in_margin,
            holding_margin: self.holding_margin,
            lift_off_differential: self.lift_off_differential,
            full_lift_differential: self.full_lift_differential,
            inlet_mach: self.inlet_mach,
            outlet_mach: self.outlet_mach,
            ..Indicators::default()
        }
    }
}
