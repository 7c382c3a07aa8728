//! The coil.

use super::reader::Reader;
use crate::physics::parts::{Coil, CoilTemperature, Voltage};

/// The winding, its magnetic circuit and its supply.
pub(super) fn read(reader: &mut Reader<'_>) -> Coil {
    let supply = voltage(reader);
    let temperature = temperature(reader);
    let mut keys = reader.table("valve.coil");
    Coil {
        supply,
        resistance: keys.number("resistance"),
        turns: keys.number("turns"),
        clamp_resistance: keys.number("clamp_resistance"),
        eddy_conductance: keys.number("eddy_conductance"),
        fixed_reluctance: keys.number("fixed_reluctance"),
        leakage_reluctance: keys.number("leakage_reluctance"),
        core_area: keys.number("core_area"),
        iron_length: keys.number("iron_length"),
        saturation_flux_density: keys.number("saturation_flux_density"),
        saturation_field: keys.number("saturation_field"),
        open_face_area: keys.number("open_face_area"),
        shaded_face_area: keys.number("shaded_face_area"),
        residual_gap: keys.number("residual_gap"),
        shading_ring: keys.optional("shading_ring"),
        temperature,
    }
}

/// One way out of a group of the coil; nothing is asked of a coil that is missing as a whole, which is reported once.
fn way(reader: &mut Reader<'_>, what: &str) -> Option<usize> {
    if reader.states("valve.coil") { reader.needed_choice(what) } else { None }
}

fn voltage(reader: &mut Reader<'_>) -> Voltage {
    match way(reader, "the voltage") {
        Some(0) => Voltage::Direct { voltage: reader.number("valve.coil.direct.voltage") },
        Some(_) => {
            let mut keys = reader.table("valve.coil.alternating");
            Voltage::Alternating {
                voltage: keys.number("voltage"),
                frequency: keys.number("frequency"),
                phase: keys.number("phase"),
            }
        }
        None => Voltage::Direct { voltage: f64::NAN },
    }
}

fn temperature(reader: &mut Reader<'_>) -> CoilTemperature {
    match way(reader, "the winding temperature") {
        Some(0) => CoilTemperature::Stated(reader.number("valve.coil.temperature")),
        Some(_) => CoilTemperature::FromHeat {
            ambient: reader.number("valve.coil.ambient"),
            thermal_resistance: reader.number("valve.coil.thermal_resistance"),
        },
        None => CoilTemperature::Stated(f64::NAN),
    }
}
