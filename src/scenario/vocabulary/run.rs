//! Tables of the duty, the limits, the run and the map.

use super::table::Table;
use crate::key::{Key, keys};
use crate::scenario::model::{Duty, Limits, Run};

pub(super) static TABLES: &[Table] = &[
    Table { path: "duty", of: "", keys: &[Duty::KEYS] },
    Table { path: "limits", of: "", keys: &[Limits::KEYS, INSULATION] },
    Table { path: "run", of: "", keys: &[Run::KEYS] },
    Table { path: "map", of: "", keys: &[] },
    Table { path: "map.x", of: "map axis across", keys: AXIS },
    Table { path: "map.y", of: "map axis up", keys: AXIS },
];

static AXIS: &[&[Key]] = &[ALONG];

keys! {
    INSULATION {
        /// thermal class of the winding's insulation; its mean temperature may come to 5 K below what the class bears at its hottest
        insulation_class: Word("Y", "A", "E", "B", "F", "H", "N", "R", "200", "220", "250"), Any, "insulation class of the winding", or none;
    }
    ALONG {
        /// parameter along the axis
        path: Path, Any, "parameter of the {}";
        /// lower end of the axis
        from: AxisEnd, Any, "lower end of the {}";
        /// upper end of the axis
        to: AxisEnd, Any, "upper end of the {}";
        /// number of grid points
        points: Count, Points, "grid points of the {}";
        /// spacing of the grid points
        spacing: Word("log", "linear"), Any, "spacing of the {}";
    }
}
