//! The list of indicators: every number that is read off a trace, with its unit and its definition, declared once.

use super::firmness::Firmness;
use crate::units::Dimension;
use serde::{Deserialize, Serialize};

/// One indicator as it is shown: name, value, unit and definition.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Indicator {
    /// Name in words joined by underscores.
    pub name: &'static str,
    /// Value, SI; none where the run did not show it.
    pub value: Option<f64>,
    /// Kind of quantity.
    pub dimension: Dimension,
    /// Definition in one sentence.
    pub definition: &'static str,
    /// Does it stand to three digits, or is it told as "about"?
    pub firmness: Firmness,
}

macro_rules! indicators {
    ($( $name:ident : $dimension:ident = $definition:literal; )*) => {
        /// Every number read off a run; `None` where the run did not show it.
        #[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
        pub struct Indicators {
            $( #[doc = $definition] pub $name: Option<f64>, )*
        }

        impl Indicators {
            /// All indicators in a fixed order.
            pub fn list(&self) -> Vec<Indicator> {
                vec![ $( Indicator {
                    name: stringify!($name),
                    value: self.$name,
                    dimension: Dimension::$dimension,
                    definition: $definition,
                    firmness: self.firmness(stringify!($name)),
                }, )* ]
            }
        }
    };
}

indicators! {
    armature_opening_time: Time = "From the command to open until the armature has made 90 % of its stroke.";
    opening_time_10: Time = "From the command to open until the main stage reaches 10 % of full lift.";
    opening_time_90: Time = "From the command to open until the main stage reaches 90 % of full lift.";
    closing_time: Time = "From the command to shut until the main stage first meets its seat.";
    effective_closing_time: Time = "Main flow from 90 % to 10 % of its mean while open; none where it was below that when asked to shut, or where the supply pulsates.";
    mean_lift: Fraction = "Mean lift over the judged window, share of full lift.";
    largest_lift: Fraction = "Largest lift while asked to be open, share of full lift.";
    oscillation: Fraction = "Peak-to-peak lift over the judged window, share of full lift.";
    oscillation_first_half: Fraction = "Peak-to-peak lift over the first half of the judged window, about its trend.";
    oscillation_second_half: Fraction = "Peak-to-peak lift over the second half of the judged window, about its trend.";
    oscillation_rate: Frequency = "Rate of the lift's oscillation over the judged window.";
    oscillation_crossings: Number = "Upward crossings of the mean lift (with hysteresis) in the judged window.";
    judged_window: Time = "Length of the part of the time asked to be open that was judged.";
    seat_contacts_open: Number = "Contacts of the main stage with its seat in the judged window.";
    seat_contacts_late: Number = "Contacts of the main stage with its seat in the second half of that window.";
    seat_contact_rate: Frequency = "Seat contacts per second in the judged window.";
    first_seat_speed: Velocity = "Speed of the main stage as it first meets its seat after it is asked to shut.";
    first_seat_energy: Energy = "Kinetic energy of the main stage at that contact.";
    hardest_seat_speed: Velocity = "Highest seat contact speed in the whole run.";
    seat_energy_per_cycle: Energy = "Sum of the kinetic energies of all seat contacts in one cycle.";
    late_closing_share: Fraction = "Share of the closing time in which the last 20 % of lift is passed.";
    inlet_pressure_at_rest: AbsolutePressure = "Inlet pressure at the start, before it is first asked to open.";
    inlet_pressure_open: AbsolutePressure = "Mean inlet pressure over the judged window, at rest its last 0.25 s.";
    outlet_pressure_open: AbsolutePressure = "Mean outlet pressure over the judged window, at rest its last 0.25 s.";
    differential_open: PressureDifference = "Mean differential across the valve over the same time.";
    flow_open: MassFlow = "Mean flow through the valve over the same time.";
    inlet_peak_closing: AbsolutePressure = "Highest inlet pressure from asking to shut to the first seat contact + 2L/a + 10 ms.";
    inlet_trough_closing: AbsolutePressure = "Lowest inlet pressure in the same window.";
    outlet_peak_closing: AbsolutePressure = "Highest outlet pressure in the same window of the downstream line.";
    outlet_trough_closing: AbsolutePressure = "Lowest outlet pressure in the same window of the downstream line.";
    inlet_peak_later: AbsolutePressure = "Highest inlet pressure after that window (re-impact; uncertain after a cavity).";
    outlet_peak_later: AbsolutePressure = "Highest outlet pressure after that window (re-impact; uncertain after a cavity).";
    inlet_peak_opening: AbsolutePressure = "Highest inlet pressure from asking to open to the start of the judged window.";
    outlet_peak_opening: AbsolutePressure = "Highest outlet pressure from asking to open to the start of the judged window.";
    surge: PressureDifference = "First-closure inlet peak above the inlet pressure at rest, or above the highest while open where the supply pulsates.";
    surge_ratio: Number = "First-closure inlet peak above the open inlet pressure, divided by rho*a*v of the line.";
    largest_inlet_cavity: Volume = "Largest vapour cavity at the inlet.";
    largest_outlet_cavity: Volume = "Largest vapour cavity at the outlet.";
    inlet_margin_open: PressureDifference = "Mean inlet pressure over the judged window above the liquid's vapour pressure.";
    outlet_margin_open: PressureDifference = "Mean outlet pressure over the judged window above the liquid's vapour pressure.";
    closing_margin: PressureDifference = "Lowest pressure at either port at closing above the vapour pressure; next to nothing where a cavity opens.";
    supply_subcooling: TemperatureDifference = "Bubble point at the supply's pressure less the liquid's temperature.";
    inlet_subcooling_open: TemperatureDifference = "Bubble point at the mean open inlet pressure less the liquid's temperature.";
    outlet_subcooling_open: TemperatureDifference = "Bubble point at the mean open outlet pressure less the liquid's temperature.";
    subcooling_needed_open: TemperatureDifference = "Subcooling at the supply's pressure that keeps the open valve's outlet liquid.";
    subcooling_needed_closing: TemperatureDifference = "Hand value: least subcooling at the supply's pressure with which the first waves of a stop at once, without friction, leave liquid what they reach before they are back. Friction spares some of it; a throttle at the far end can need more.";
    least_magnet_force: Force = "Least magnet force while the magnet should hold the armature, on the pole or, normally open, on its seat.";
    armature_load: Force = "Spring, weight and pressure against the magnet while it holds.";
    pole_contact_rate: Frequency = "Contacts of the armature with the pole per second while the magnet holds.";
    armature_swing: Length = "Peak-to-peak armature travel while the magnet holds.";
    coil_current: Current = "Effective (rms) coil current in the judged part of the energised time.";
    inrush_current: Current = "Effective (rms) coil current with the armature held open, at the run's winding temperature; none on direct voltage.";
    inrush_apparent_power: ApparentPower = "Effective voltage times effective current at the coil with the armature held open; none on direct voltage.";
    holding_apparent_power: ApparentPower = "Effective current in the judged part of the energised time, times effective voltage: at the coil, or out of the mains before a rectifier; none on direct voltage.";
    holding_power: Power = "Mean electrical power in the judged part of the energised time: into the coil with its iron, or out of the mains before a rectifier.";
    power_factor: Number = "Holding power over holding apparent power.";
    lowest_coil_voltage: Voltage = "Lowest voltage at the coil from switching on (once the contact has ceased to bounce) until the armature is pulled in: of alternating or rectified voltage the lowest rms of one mains period.";
    switch_off_voltage: Voltage = "Highest voltage at the coil's terminals after switching off, either sign.";
    release_delay: Time = "Switching off until the armature has made 10 % of its way back.";
    remanent_force: Force = "Pull of the magnet at the end of the de-energised time.";
    coil_power: Power = "Mean heat in the winding in the judged part of the energised time.";
    pull_in_energy: Energy = "Heat in the winding at pull-in beyond that of holding.";
    coil_temperature: Temperature = "Winding temperature used for the run.";
    highest_coil_temperature: Temperature = "Highest winding temperature within a cycle of the duty, in the long run.";
    coil_body_temperature: Temperature = "Mean temperature of the body about the coil at the duty, in the long run.";
    coil_temperature_armature_out: Temperature = "Mean winding temperature at the duty if the armature never came to the pole.";
    coil_warm_up_time: Time = "Time from the first switching on until the winding has covered 63 % of its rise.";
    coil_heat_per_cycle: Energy = "Heat in the winding in one cycle at the duty.";
    mains_frequency: Frequency = "Frequency of the mains that feeds the coil, by a rectifier or not.";
    highest_opening_differential: PressureDifference = "Differential against which the magnet (normally open: the spring) can just lift the armature off its seat; alternating magnets by their mean pull. Negative: not even without a differential.";
    hot_low_opening_differential: PressureDifference = "Maximum operating pressure differential (MOPD): as highest_opening_differential, but on 85 % of the rated (else the applied) voltage, with the winding at the run's temperature.";
    lift_off_differential: PressureDifference = "Hand value: differential at which the main stage that is asked to open leaves its seat.";
    full_lift_differential: PressureDifference = "Hand value: differential across the valve at which the main stage reaches full lift.";
    joukowsky_rise: PressureDifference = "Hand value: rho*a*v of the upstream line at the flow before it is asked to shut.";
    wave_return_time: Time = "2L/a of the upstream line.";
    gearing_number: Number = "Lambda: inertia of the geared pilot and bleed columns against the throttling at the seat; on liquids a floating stage is quiet below 0.3.";
    inlet_mach: Number = "Largest Mach number in the upstream line (gas service).";
    outlet_mach: Number = "Largest Mach number in the downstream line (gas service).";
    supply_frequency_share: Fraction = "Share of the lift's oscillation that is at the supply's pulsation frequency.";
    residual_wave: Fraction = "Inlet pressure swing left at the end of the time asked to be shut, share of the first-closure swing.";
    bangs_per_hour: CycleRate = "Closures whose surge exceeds the limit, per time.";
    lift_at_shutting: Fraction = "Lift when it is asked to shut, share of full lift.";
    reopened_lift: Fraction = "Largest lift after the first contact at closing, share of full lift: of a bounce, or of a blow of the line.";
    lift_at_end: Fraction = "Lift at the end of the time asked to be shut, share of full lift.";
    steady_wave_ratio: Number = "Effective closing time over 2L/a: below 1 the closing is sudden for the line.";
    steepest_stop: Fraction = "Largest share of the open flow that stops within one 2L/a; above 100 % where the flow turns back.";
    open_time: Time = "Time asked to be open that was simulated.";
    shut_time: Time = "Time asked to be shut that was simulated.";
    armature_closing_time: Time = "Normally open: asking to shut until the armature has made 90 % of its stroke.";
    held_seat_contact_rate: Frequency = "Normally open: contacts of the armature with its seat per second while the magnet should hold it there.";
    pull_in_margin: Number = "Normally open, by hand: mean pull over the full gap, divided by preload and weight, which it must overcome to start shutting.";
    holding_margin: Number = "Normally open, by hand: mean pull at the shut seat over spring and weight, which it must overcome to stay shut without a differential.";
}
