//! Tables of the valve, whose keys are those of its parts.

use super::table::Table;
use crate::key::{Key, keys};
use crate::physics::parts::{
    Armature, Bleed, Bounce, Cable, Chamber, Clearance, Coil, CoilTemperature, Contact, Cushion, Economiser, Faults,
    Link, MainStage, NormallyOpen, Pilot, Pin, Port, SplitRing, StageKind, Suppressor, Transformer, Valve, Vent,
    Voltage,
};
use crate::scenario::valve::kind_word::{EXTERNAL_DRAIN, VENTED_PILOT};

/// The word for a valve whose main stage is lifted by the differential.
const PILOT_OPERATED: &str = "pilot-operated";
/// Another word for it.
const SERVO_OPERATED: &str = "servo-operated";
/// The word for a contact between rectifier and coil.
pub(in crate::scenario) const COIL_SIDE: &str = "coil side";
/// The word for one between mains and rectifier.
pub(in crate::scenario) const MAINS_SIDE: &str = "mains side";
/// The word for a valve whose armature carries the seal of the main seat.
pub(in crate::scenario) const DIRECT_OPERATED: &str = "direct-operated";
/// The word for a valve whose armature opens a pilot in the main stage and then draws the stage along.
pub(in crate::scenario) const FORCED_LIFT: &str = "forced-lift";
/// Another word for it.
pub(in crate::scenario) const ASSISTED_LIFT: &str = "assisted-lift";

/// The word for a valve that is shut without current.
const NORMALLY_CLOSED: &str = "normally-closed";
/// The word for a valve that is open without current.
pub(in crate::scenario) const NORMALLY_OPEN: &str = "normally-open";

pub(super) static TABLES: &[Table] = &[
    Table { path: "valve", of: "", keys: &[KIND, FUNCTION, Valve::KEYS] },
    Table {
        path: "valve.coil",
        of: "",
        keys: &[
            RATED,
            Coil::KEYS,
            Suppressor::WAYS[0].keys,
            Suppressor::WAYS[1].keys,
            Suppressor::WAYS[2].keys,
            CONTACT_SIDE,
            CoilTemperature::WAYS[0].keys,
            CoilTemperature::WAYS[1].keys,
        ],
    },
    Table { path: "valve.coil.network", of: "", keys: &[CoilTemperature::WAYS[2].keys] },
    Table { path: "valve.coil.direct", of: "", keys: &[Voltage::WAYS[0].keys] },
    Table { path: "valve.coil.alternating", of: "", keys: &[Voltage::WAYS[1].keys] },
    Table { path: "valve.coil.bridge", of: "", keys: &[Voltage::WAYS[2].keys] },
    Table { path: "valve.coil.half_wave", of: "", keys: &[Voltage::WAYS[3].keys] },
    Table { path: "valve.coil.transformer", of: "", keys: &[Transformer::KEYS] },
    Table { path: "valve.coil.cable", of: "", keys: &[Cable::KEYS] },
    Table { path: "valve.coil.economiser", of: "", keys: &[Economiser::KEYS] },
    Table { path: "valve.coil.bounce", of: "", keys: &[Bounce::KEYS] },
    Table { path: "valve.armature", of: "", keys: &[Armature::KEYS, NormallyOpen::KEYS] },
    Table { path: "valve.armature.seat", of: "pilot seat", keys: CONTACT },
    Table { path: "valve.armature.pole", of: "pole face", keys: CONTACT },
    Table { path: "valve.armature.stop", of: "armature's upper stop", keys: CONTACT },
    Table { path: "valve.pilot", of: "", keys: &[Pilot::KEYS] },
    Table { path: "valve.bleed", of: "", keys: &[Bleed::KEYS] },
    Table { path: "valve.bleed.pin", of: "", keys: &[Pin::KEYS] },
    Table { path: "valve.chamber", of: "", keys: &[Chamber::KEYS] },
    Table { path: "valve.link", of: "", keys: &[Link::KEYS] },
    Table { path: "valve.vent", of: "", keys: &[Vent::KEYS] },
    Table { path: "valve.main", of: "", keys: &[MainStage::KEYS] },
    Table { path: "valve.main.diaphragm", of: "", keys: &[StageKind::WAYS[0].keys] },
    Table { path: "valve.main.piston", of: "", keys: &[StageKind::WAYS[1].keys, Clearance::KEYS, SplitRing::KEYS] },
    Table { path: "valve.main.cushion", of: "", keys: &[Cushion::KEYS] },
    Table { path: "valve.main.seat", of: "main seat", keys: CONTACT },
    Table { path: "valve.main.stop", of: "main stage stop", keys: CONTACT },
    Table { path: "faults", of: "", keys: &[Faults::KEYS] },
    Table { path: "valve.inlet", of: "valve inlet", keys: PORT },
    Table { path: "valve.outlet", of: "valve outlet", keys: PORT },
];

static CONTACT: &[&[Key]] = &[Contact::KEYS];
static PORT: &[&[Key]] = &[Port::KEYS];

keys! {
    KIND {
        /// kind of the valve: its main seat is opened by the differential by way of a pilot, unless stated, by the armature itself, by both, or by a pilot that vents to a place of its own
        kind: Word(PILOT_OPERATED, SERVO_OPERATED, DIRECT_OPERATED, FORCED_LIFT, ASSISTED_LIFT, VENTED_PILOT, EXTERNAL_DRAIN), Any, "kind of the valve";
    }
    FUNCTION {
        /// what the valve is without current: shut (normally closed), unless stated, or open (normally open, energised to shut)
        function: Word(NORMALLY_CLOSED, NORMALLY_OPEN), Any, "function of the valve";
    }
    RATED {
        /// voltage for which the coil is rated (rms where alternating); only to tell a coil on the wrong voltage
        rated: Voltage, Positive, "rated voltage of the coil", usually 1.0 to 700.0, or none;
        /// frequency for which the coil is rated, 0 Hz where for direct voltage; only to tell a coil on the wrong supply
        rated_frequency: Frequency, NotNegative, "rated frequency of the coil", usually 0.0 to 400.0, or none;
    }
    CONTACT_SIDE {
        /// side of the rectifier on which the contact switches: mains side, unless stated, or coil side
        contact: Word(MAINS_SIDE, COIL_SIDE), Any, "side of the rectifier that is switched", or none;
    }
}
