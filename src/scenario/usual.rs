//! Usual sizes. A value far outside is questioned, since it is most often a slip of a unit or of a decimal point; one a thousand
//! times further out is no valve at all and is refused, before it turns up as a number that is none.

use super::reader::Reader;
use super::vocabulary::{self, Kind};
use crate::units::{Dimension, text};

/// How far beyond the usual a value may lie before nothing can be computed with it.
const IMPOSSIBLE: f64 = 1e3;

/// Usual range of a key, SI. All by judgement, wide enough for valves from a pilot of a millimetre to a port of 150 mm; no source.
const USUAL: &[(&str, f64, f64)] = &[
    ("atmosphere", 4e4, 1.3e5),
    ("valve.coil.direct.voltage", 1.0, 500.0),
    ("valve.coil.alternating.voltage", 4.0, 700.0),
    ("valve.coil.alternating.frequency", 15.0, 450.0),
    ("valve.coil.resistance", 1.0, 5e4),
    ("valve.coil.turns", 50.0, 1e5),
    ("valve.coil.core_area", 3e-6, 5e-3),
    ("valve.coil.open_face_area", 1e-6, 5e-3),
    ("valve.coil.shaded_face_area", 1e-6, 5e-3),
    ("valve.coil.iron_length", 5e-3, 1.0),
    ("valve.coil.residual_gap", 2e-6, 2e-3),
    ("valve.coil.saturation_flux_density", 0.3, 2.5),
    ("valve.armature.mass", 3e-4, 0.5),
    ("valve.armature.stroke", 5e-5, 0.02),
    ("valve.pilot.diameter", 2e-4, 0.025),
    ("valve.pilot.seat_diameter", 2e-4, 0.03),
    ("valve.bleed.diameter", 1e-4, 0.015),
    ("valve.chamber.volume", 1e-8, 0.02),
    ("valve.main.effective_diameter", 3e-3, 0.4),
    ("valve.main.seat_diameter", 1e-3, 0.25),
    ("valve.main.lift", 1e-4, 0.1),
    ("valve.main.mass", 3e-4, 10.0),
    ("valve.inlet.volume", 1e-8, 0.05),
    ("valve.outlet.volume", 1e-8, 0.05),
    ("upstream.length", 0.02, 5e3),
    ("upstream.bore", 1e-3, 1.0),
    ("downstream.length", 0.02, 5e3),
    ("downstream.bore", 1e-3, 1.0),
    ("supply.pressure", 1e3, 500e5),
    ("valve.coil.clamp_resistance", 0.0, 1e6),
    ("valve.coil.eddy_conductance", 0.0, 1e6),
    ("valve.coil.fixed_reluctance", 0.0, 1e9),
    ("valve.coil.leakage_reluctance", 1e4, 1e10),
    ("valve.coil.saturation_field", 0.0, 1e5),
    ("valve.coil.temperature", 200.0, 500.0),
    ("valve.coil.ambient", 200.0, 400.0),
    ("valve.coil.thermal_resistance", 0.0, 200.0),
    ("valve.armature.spring_rate", 0.0, 1e5),
    ("valve.armature.preload", 0.0, 300.0),
    ("valve.armature.damping", 0.0, 1e3),
    ("valve.pilot.length", 1e-4, 1.0),
    ("valve.bleed.length", 1e-4, 1.0),
    ("valve.main.preload", 0.0, 5e3),
    ("valve.main.spring_rate", 0.0, 1e6),
    ("valve.main.damping", 0.0, 1e5),
    ("valve.main.curtain_coefficient", 0.1, 1.5),
    ("valve.main.bore_coefficient", 0.1, 1.5),
    ("upstream.loss_coefficient", 0.0, 1e4),
    ("downstream.loss_coefficient", 0.0, 1e4),
    ("fluid.liquid.sound_speed", 100.0, 4e3),
    ("fluid.liquid.viscosity", 1e-5, 10.0),
    ("fluid.gas.viscosity", 1e-6, 1e-3),
    ("fluid.gas.temperature", 60.0, 1500.0),
    ("supply.pulsation_frequency", 1e-3, 1e4),
    ("supply.pressure_fall_mass_flow", 1e-6, 1e3),
    ("supply.pressure_fall_volume_flow", 1e-9, 10.0),
    ("sink.throttle_kv", 1e-8, 0.3),
    ("flow.mass_flow", 1e-6, 1e3),
    ("flow.volume_flow", 1e-9, 10.0),
    ("flow.refrigerating_duty", 1.0, 1e8),
    ("flow.refrigerating_effect", 1e3, 3e6),
    ("upstream.wave_speed", 1.0, 5e3),
    ("downstream.wave_speed", 1.0, 5e3),
    ("upstream.density", 1e-3, 3e3),
    ("downstream.density", 1e-3, 3e3),
    ("upstream.wall_thickness", 1e-4, 0.1),
    ("downstream.wall_thickness", 1e-4, 0.1),
    ("upstream.wall_modulus", 1e6, 1e12),
    ("downstream.wall_modulus", 1e6, 1e12),
    ("upstream.friction_factor", 0.0, 10.0),
    ("downstream.friction_factor", 0.0, 10.0),
    ("valve.coil.rated", 1.0, 700.0),
    ("valve.coil.shading_ring", 1e-6, 1.0),
    ("valve.armature.seat.stiffness", 1e4, 1e12),
    ("valve.armature.seat.dissipation", 0.0, 1e3),
    ("valve.armature.pole.stiffness", 1e4, 1e12),
    ("valve.armature.pole.dissipation", 0.0, 1e3),
    ("valve.pilot.discharge_coefficient", 0.05, 1.0),
    ("valve.bleed.discharge_coefficient", 0.05, 1.0),
    ("valve.chamber.trapped_gas", 0.0, 0.02),
    ("valve.chamber.trapped_gas_pressure", 1e3, 500e5),
    ("valve.chamber.wall_conductance", 0.0, 1e3),
    ("valve.main.flow_force_factor", 0.0, 10.0),
    ("valve.main.pressure_recovery_factor", 0.05, 1.0),
    ("valve.main.diaphragm.bulge_compliance", 0.0, 1e-8),
    ("valve.main.diaphragm.bulge_resistance", 0.0, 1e14),
    ("valve.main.piston.friction", 0.0, 1e4),
    ("valve.main.piston.presliding_stiffness", 0.0, 1e9),
    ("valve.main.seat.stiffness", 1e4, 1e12),
    ("valve.main.seat.dissipation", 0.0, 1e3),
    ("valve.main.stop.stiffness", 1e4, 1e12),
    ("valve.main.stop.dissipation", 0.0, 1e3),
    ("valve.inlet.gas", 0.0, 0.05),
    ("valve.inlet.gas_pressure", 1e3, 500e5),
    ("valve.outlet.gas", 0.0, 0.05),
    ("valve.outlet.gas_pressure", 1e3, 500e5),
    ("limits.peak_pressure", 1e3, 1e9),
    ("limits.surge", 1e2, 1e9),
    ("limits.seat_speed", 1e-3, 1e3),
    ("limits.coil_temperature", 250.0, 700.0),
    ("duty.on_fraction", 1e-6, 1.0),
    ("run.tolerance", 1e-10, 1e-2),
    ("run.longest_on", 1e-3, 1e5),
    ("run.longest_off", 1e-3, 1e5),
    ("duty.cycle_rate", 1e-8, 100.0),
];

/// Questions what is unusual and refuses what is impossible.
pub(super) fn check(reader: &mut Reader<'_>) {
    for &(path, low, high) in USUAL {
        let Some(value) = reader.value(path) else { continue };
        if let Some(message) = impossible(path, value) {
            reader.problem(path, message);
        } else if value < low || value > high {
            let message = format!("{}: is this meant? {}", plain(value, path), range(path, low, high));
            reader.warn(path, message);
        }
    }
}

/// Why nothing can be computed with a value on that path; none where something can.
pub(super) fn impossible(path: &str, value: f64) -> Option<String> {
    let &(_, low, high) = USUAL.iter().find(|row| row.0 == path)?;
    let far = value < low / IMPOSSIBLE || value > high * IMPOSSIBLE;
    far.then(|| format!("{} cannot be computed with; {}", plain(value, path), range(path, low, high)))
}

fn range(path: &str, low: f64, high: f64) -> String {
    format!("usual are {} to {}", plain(low, path), plain(high, path))
}

/// A value with the unit of its path.
fn plain(value: f64, path: &str) -> String {
    let kind = vocabulary::parameter(path).map(|number| vocabulary::parameters()[number].key.kind);
    text(value, kind.and_then(Kind::dimension).unwrap_or(Dimension::Number))
}
