//! Keys of the actuator: coil, voltage and armature, and of every contact.

use super::Kind::Quantity;
use super::{Key, Range, key};
use crate::units::Dimension as D;

pub(super) static COIL: &[Key] = &[
    key(
        "rated",
        "rated voltage of the coil",
        Quantity(D::Voltage),
        Range::Positive,
        "voltage for which the coil is rated (rms where alternating); only to tell a coil on the wrong voltage",
    ),
    key(
        "resistance",
        "winding resistance at 20 °C",
        Quantity(D::Resistance),
        Range::Positive,
        "winding resistance at 20 °C",
    ),
    key("turns", "turns of the winding", Quantity(D::Number), Range::Positive, "number of turns"),
    key(
        "clamp_resistance",
        "resistance of the switch-off path",
        Quantity(D::Resistance),
        Range::NotNegative,
        "resistance of the switch-off path in series with the winding",
    ),
    key(
        "eddy_conductance",
        "eddy-current conductance",
        Quantity(D::Conductance),
        Range::NotNegative,
        "eddy-current conductance of the iron, for one turn",
    ),
    key(
        "fixed_reluctance",
        "reluctance of the fixed gaps",
        Quantity(D::Reluctance),
        Range::NotNegative,
        "reluctance of the fixed gaps in series",
    ),
    key(
        "leakage_reluctance",
        "reluctance of the leakage path",
        Quantity(D::Reluctance),
        Range::Positive,
        "reluctance of the leakage path",
    ),
    key("core_area", "core cross-section", Quantity(D::Area), Range::Positive, "cross-section of the core"),
    key("iron_length", "length of the iron path", Quantity(D::Length), Range::Positive, "length of the iron path"),
    key(
        "saturation_flux_density",
        "saturation flux density of the iron",
        Quantity(D::FluxDensity),
        Range::Positive,
        "flux density at which the iron needs `saturation_field`",
    ),
    key(
        "saturation_field",
        "field strength at saturation of the iron",
        Quantity(D::FieldStrength),
        Range::NotNegative,
        "field strength that the iron needs at `saturation_flux_density`",
    ),
    key(
        "open_face_area",
        "pole face area outside the shading ring",
        Quantity(D::Area),
        Range::Positive,
        "area of the pole face outside the shading ring",
    ),
    key(
        "shaded_face_area",
        "pole face area inside the shading ring",
        Quantity(D::Area),
        Range::Positive,
        "area of the second pole face, inside the shading ring where there is one",
    ),
    key(
        "residual_gap",
        "residual air gap",
        Quantity(D::Length),
        Range::Positive,
        "gap left when the armature rests on the pole",
    ),
    key(
        "shading_ring",
        "shading ring resistance",
        Quantity(D::Resistance),
        Range::Positive,
        "resistance of the shading ring",
    ),
    key("temperature", "winding temperature", Quantity(D::Temperature), Range::Positive, "winding temperature"),
    key(
        "ambient",
        "ambient temperature of the coil",
        Quantity(D::Temperature),
        Range::Positive,
        "temperature of the surroundings of the coil",
    ),
    key(
        "thermal_resistance",
        "thermal resistance of the coil",
        Quantity(D::ThermalResistance),
        Range::NotNegative,
        "thermal resistance from the winding to its surroundings",
    ),
];

pub(super) static DIRECT: &[Key] =
    &[key("voltage", "coil voltage (DC)", Quantity(D::Voltage), Range::Positive, "direct voltage")];

pub(super) static ALTERNATING: &[Key] = &[
    key("voltage", "coil voltage (AC, rms)", Quantity(D::Voltage), Range::Positive, "effective (rms) voltage"),
    key("frequency", "mains frequency of the coil", Quantity(D::Frequency), Range::Positive, "supply frequency"),
    key(
        "phase",
        "switch-on phase of the coil voltage",
        Quantity(D::Angle),
        Range::Any,
        "phase of the voltage at switching on",
    ),
];

pub(super) static ARMATURE: &[Key] = &[
    key("mass", "armature mass", Quantity(D::Mass), Range::Positive, "mass of the armature"),
    key(
        "spring_rate",
        "armature spring rate",
        Quantity(D::SpringRate),
        Range::NotNegative,
        "rate of the return spring",
    ),
    key(
        "preload",
        "armature spring preload",
        Quantity(D::Force),
        Range::NotNegative,
        "spring preload on the pilot seat",
    ),
    key("damping", "armature damping", Quantity(D::Damping), Range::NotNegative, "damping of the armature"),
    key("stroke", "armature stroke", Quantity(D::Length), Range::Positive, "stroke from the pilot seat to the pole"),
];

pub(super) static CONTACT: &[Key] = &[
    key(
        "stiffness",
        "contact stiffness of the {}",
        Quantity(D::ContactStiffness),
        Range::Positive,
        "contact stiffness",
    ),
    key(
        "dissipation",
        "contact dissipation of the {}",
        Quantity(D::Dissipation),
        Range::NotNegative,
        "contact dissipation",
    ),
];
