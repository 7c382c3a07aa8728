//! Keys and tables that exclude each other.

use super::table::within;

/// Ways of saying one thing; stating one replaces another that a `like` file or an earlier setting gave.
#[derive(Debug)]
pub(in crate::scenario) struct Alternatives {
    /// What they state.
    pub(in crate::scenario) what: &'static str,
    /// Table that is to be blamed when none is given.
    pub(in crate::scenario) table: &'static str,
    /// Each way: the paths of its keys or tables.
    pub(in crate::scenario) ways: &'static [&'static [&'static str]],
}

impl Alternatives {
    /// The way to which a path belongs.
    pub(in crate::scenario) fn way_of(&self, path: &str) -> Option<usize> {
        self.ways.iter().position(|way| way.iter().any(|place| within(path, place)))
    }

    /// What stating a path replaces.
    pub(in crate::scenario) fn replaced_by(&self, path: &str) -> impl Iterator<Item = &'static str> {
        let stated = self.way_of(path);
        let rivals = self.ways.iter().enumerate().filter(move |(way, _)| stated.is_some_and(|stated| *way != stated));
        let left = BESIDE.iter().find(|(stated, _)| *stated == path).map(|(_, left)| *left);
        rivals.flat_map(|(_, way)| way.iter().copied()).filter(move |place| Some(*place) != left)
    }

    /// The ways in words, such as "`a`, or `b` with `c`".
    pub(in crate::scenario) fn words(&self) -> String {
        let way = |way: &&[&str]| way.iter().map(|place| format!("`{place}`")).collect::<Vec<_>>().join(" with ");
        self.ways.iter().map(way).collect::<Vec<_>>().join(", or ")
    }
}

/// Does stating the one take the other away?
pub(in crate::scenario) fn exclude(one: &str, other: &str) -> bool {
    let takes = |path: &str, lost: &str| GROUPS.iter().any(|g| g.replaced_by(path).any(|place| within(lost, place)));
    takes(one, other) || takes(other, one)
}

/// The group with that subject.
pub(in crate::scenario) fn group(what: &str) -> &'static Alternatives {
    GROUPS.iter().find(|group| group.what == what).expect("every group that the reader asks for is in the list")
}

/// Stating the first leaves the second in place: a measured wave speed replaces what the pipe's wall would give, but
/// the pipe still gives the bore. Stating the second replaces the first, as in every group.
static BESIDE: &[(&str, &str)] =
    &[("upstream.wave_speed", "upstream.pipe"), ("downstream.wave_speed", "downstream.pipe")];

/// Every group.
pub(in crate::scenario) static GROUPS: &[Alternatives] = &[
    Alternatives {
        what: "the fluid",
        table: "fluid",
        ways: &[&["fluid.state"], &["fluid.named"], &["fluid.liquid"], &["fluid.gas"]],
    },
    // Beside the supply's pressure one of them is enough. A file may state two, which must fix the
    // supply's pressure, see `one_pressure`.
    Alternatives {
        what: "the temperature of the fluid",
        table: "fluid.named",
        ways: &[&["fluid.named.temperature"], &["fluid.named.subcooling"], &["fluid.named.superheat"]],
    },
    Alternatives {
        what: "the concentration",
        table: "fluid.named",
        ways: &[&["fluid.named.mass_fraction"], &["fluid.named.volume_fraction"]],
    },
    Alternatives {
        what: "the gas constant",
        table: "fluid.gas",
        ways: &[&["fluid.gas.gas_constant"], &["fluid.gas.molar_mass"]],
    },
    Alternatives {
        what: "the supply pressure",
        table: "supply",
        ways: &[&["supply.pressure"], &["supply.differential"]],
    },
    Alternatives {
        what: "the flow of the pressure fall",
        table: "supply",
        ways: &[&["supply.pressure_fall_mass_flow"], &["supply.pressure_fall_volume_flow"]],
    },
    Alternatives {
        what: "the wave speed upstream",
        table: "upstream",
        ways: &[
            &["upstream.wave_speed"],
            &["upstream.pipe"],
            &["upstream.wall_thickness", "upstream.material", "upstream.wall_modulus", "upstream.poisson_ratio"],
        ],
    },
    Alternatives { what: "the bore upstream", table: "upstream", ways: &[&["upstream.bore"], &["upstream.pipe"]] },
    Alternatives {
        what: "the wall upstream",
        table: "upstream",
        ways: &[&["upstream.material"], &["upstream.wall_modulus", "upstream.poisson_ratio"]],
    },
    Alternatives {
        what: "the wave speed downstream",
        table: "downstream",
        ways: &[
            &["downstream.wave_speed"],
            &["downstream.pipe"],
            &[
                "downstream.wall_thickness",
                "downstream.material",
                "downstream.wall_modulus",
                "downstream.poisson_ratio",
            ],
        ],
    },
    Alternatives {
        what: "the bore downstream",
        table: "downstream",
        ways: &[&["downstream.bore"], &["downstream.pipe"]],
    },
    Alternatives {
        what: "the wall downstream",
        table: "downstream",
        ways: &[&["downstream.material"], &["downstream.wall_modulus", "downstream.poisson_ratio"]],
    },
    Alternatives {
        what: "the flow",
        table: "flow",
        ways: &[
            &["flow.mass_flow"],
            &["flow.volume_flow"],
            &["flow.refrigerating_duty", "flow.refrigerating_effect"],
            &["sink.throttle_kv"],
        ],
    },
    Alternatives {
        what: "the voltage",
        table: "valve.coil",
        ways: &[&["valve.coil.direct"], &["valve.coil.alternating"], &["valve.coil.bridge"], &["valve.coil.half_wave"]],
    },
    Alternatives {
        what: "the switch-off path",
        table: "valve.coil",
        ways: &[
            &["valve.coil.clamp_resistance"],
            &["valve.coil.suppressor_diode"],
            &["valve.coil.clamp_voltage"],
            &["valve.coil.arc_voltage"],
        ],
    },
    Alternatives {
        what: "the winding temperature",
        table: "valve.coil",
        ways: &[
            &["valve.coil.temperature"],
            &["valve.coil.ambient", "valve.coil.thermal_resistance"],
            &["valve.coil.network"],
        ],
    },
    Alternatives {
        what: "the main stage",
        table: "valve.main",
        ways: &[&["valve.main.diaphragm"], &["valve.main.piston"]],
    },
    Alternatives {
        what: "the leak past the piston",
        table: "valve.main.piston",
        ways: &[
            &["valve.main.piston.radial_clearance", "valve.main.piston.land_length", "valve.main.piston.eccentricity"],
            &["valve.main.piston.ring_orifice", "valve.main.piston.ring_height", "valve.main.piston.ring_coefficient"],
        ],
    },
];
