//! What a trace is read against: sizes that the trace itself does not hold.

use super::energised::Energised;

/// Plain numbers of the installation and the duty, SI.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Reference {
    /// Full lift of the main stage, m.
    pub full_lift: f64,
    /// Moving mass of the main stage, kg.
    pub stage_mass: f64,
    /// Armature stroke, m.
    pub stroke: f64,
    /// Winding resistance, Ω.
    pub winding_resistance: f64,
    /// Winding temperature, K.
    pub coil_temperature: f64,
    /// 2L/a of the upstream line, s.
    pub upstream_return: f64,
    /// 2L/a of the downstream line, s.
    pub downstream_return: f64,
    /// ρ·a·v per mass flow of the upstream line, Pa·s/kg.
    pub upstream_impedance: f64,
    /// Mass flow at Mach 1 in the upstream line, kg/s; none for liquids.
    pub upstream_sonic_flow: Option<f64>,
    /// The same for the downstream line.
    pub downstream_sonic_flow: Option<f64>,
    /// Frequency of the mains that feeds the coil, by a rectifier or not, Hz; none where the supply is direct.
    pub mains_frequency: Option<f64>,
    /// A rectifier before the coil.
    pub rectified: Option<Rectified>,
    /// Time from switching on until the contact has ceased to bounce, s.
    pub bounce_time: f64,
    /// Frequency of the supply's pulsation, Hz; none without pulsation.
    pub pulsation_frequency: Option<f64>,
    /// When the coil is energised.
    pub energised: Energised,
    /// Since when the last phase in which it was asked to be open was at rest, s.
    pub still_since: Option<f64>,
    /// Energised time per cycle at the duty, s.
    pub on_time: f64,
    /// Cycle rate, 1/s.
    pub cycle_rate: f64,
    /// Rise above rest that counts as a bang, Pa.
    pub surge_limit: Option<f64>,
    /// Gas and vapour volume above which a port holds a cavity, m³ (inlet, outlet): the trace at rest is not one.
    pub cavity_floor: [f64; 2],
    /// Values by hand.
    pub hand: Hand,
}

/// What a rectifier does to the power out of the mains.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rectified {
    /// Effective voltage of the mains without a load, V.
    pub mains_voltage: f64,
    /// Forward voltage of all diodes in the coil's way, V.
    pub forward: f64,
    /// Resistance before them while current is drawn, Ω.
    pub source: f64,
    /// Is the current drawn in chops, of which the trace shows the mean only?
    pub chopped: bool,
}

/// Values by hand, SI.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Hand {
    /// Lift-off.
    pub lift_off_differential: Option<f64>,
    /// Full lift, across the valve.
    pub full_lift_differential: Option<f64>,
    /// What the magnet, or the spring of a normally open valve, can lift the armature against.
    pub highest_opening_differential: Option<f64>,
    /// Effective current with the armature held open; none on direct voltage.
    pub inrush_current: Option<f64>,
    /// The same times the effective voltage at the coil.
    pub inrush_apparent_power: Option<f64>,
    /// Λ.
    pub gearing_number: Option<f64>,
    /// Pull over the full gap over what shutting takes there, of a normally open valve.
    pub pull_in_margin: Option<f64>,
    /// Pull at the shut seat over what staying shut takes, of a normally open valve.
    pub holding_margin: Option<f64>,
}
