//! Usual sizes. A value far outside is questioned, since it is most often a slip of a unit or of a decimal point; one a thousand
//! times further out is no valve at all and is refused, before it turns up as a number that is none.

use super::reader::Reader;
use super::vocabulary;
use crate::units::{Dimension, UnitSystem, show};

/// How far beyond the usual a value may lie before nothing can be computed with it.
const IMPOSSIBLE: f64 = 1e3;

/// Usual range of a key, SI. All by judgement, wide enough for valves from a pilot of a millimetre to a port of 150 mm; no source.
const USUAL: &[(&str, f64, f64)] = &[
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
    ("duty.cycle_rate", 1e-8, 100.0),
];

/// Questions what is unusual and refuses what is impossible.
pub(super) fn check(reader: &mut Reader<'_>) {
    for &(path, low, high) in USUAL {
        let Some(value) = reader.value(path) else { continue };
        let Some(dimension) =
            vocabulary::parameter(path).and_then(|number| vocabulary::parameters()[number].key.kind.dimension())
        else {
            continue;
        };
        let words = |value: f64| plain(value, dimension);
        let usual = format!("usual are {} to {}", words(low), words(high));
        if value < low / IMPOSSIBLE || value > high * IMPOSSIBLE {
            reader.problem(path, format!("{} cannot be computed with; {usual}", words(value)));
        } else if value < low || value > high {
            reader.warn(path, format!("{}: is this meant? {usual}", words(value)));
        }
    }
}

/// A value with its unit.
fn plain(value: f64, dimension: Dimension) -> String {
    let (number, unit) = show(value, dimension, UnitSystem::Si);
    if unit.is_empty() { number } else { format!("{number} {unit}") }
}
