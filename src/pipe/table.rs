//! Sizes that standards list.

use super::material::Material;

/// A metric tube, mm: outside diameter and wall.
pub(super) type Tube = (f64, f64);

/// Tubes of one standard that are named by outside diameter and wall.
pub(super) struct MetricList {
    /// The standard.
    pub(super) standard: &'static str,
    /// Materials.
    pub(super) materials: &'static [Material],
    /// Sizes, mm.
    pub(super) tubes: &'static [Tube],
}

/// Lists of metric tubes, the first that holds a size names it.
#[rustfmt::skip]
pub(super) static METRIC: &[MetricList] = &[
    // Seen in makers' lists of EN 1057 tube, except 6 x 1, 8 x 1, 10 x 0.8, 14 x 1, 16 x 1, 28 x 1, 54 x 1.5, 64 x 2
    // and 88.9 x 2, which are from memory.
    MetricList {
        standard: "EN 1057",
        materials: &[Material::Copper],
        tubes: &[
            (6.0, 0.6), (6.0, 0.8), (6.0, 1.0), (8.0, 0.6), (8.0, 1.0), (10.0, 0.8), (10.0, 1.0), (12.0, 0.6), (12.0, 0.8),
            (12.0, 1.0), (14.0, 1.0), (15.0, 0.7), (15.0, 1.0), (15.0, 1.2), (16.0, 1.0), (18.0, 1.0), (18.0, 1.2), (22.0, 0.9),
            (22.0, 1.0), (22.0, 1.2), (22.0, 1.5), (28.0, 0.9), (28.0, 1.0), (28.0, 1.2), (28.0, 1.5), (35.0, 1.0), (35.0, 1.2),
            (35.0, 1.5), (35.0, 2.0), (42.0, 1.0), (42.0, 1.2), (42.0, 1.5), (42.0, 2.0), (54.0, 1.0), (54.0, 1.2), (54.0, 1.5),
            (54.0, 2.0), (64.0, 2.0), (66.7, 1.2), (66.7, 2.0), (76.1, 1.5), (76.1, 2.0), (88.9, 2.0),
            (108.0, 1.5), (108.0, 2.5),
        ],
    },
    // Refrigeration tube beyond EN 1057; from memory.
    MetricList {
        standard: "EN 12735-1",
        materials: &[Material::Copper],
        tubes: &[(4.0, 1.0), (5.0, 1.0), (18.0, 1.5), (64.0, 1.5), (76.1, 2.5), (80.0, 2.0), (88.9, 2.5)],
    },
    // Series 2, then series 1; seen in a maker's reprint of the standard's tables.
    MetricList {
        standard: "EN 10312",
        materials: &[Material::Stainless],
        tubes: &[
            (12.0, 1.0), (15.0, 1.0), (18.0, 1.0), (22.0, 1.2), (28.0, 1.2), (35.0, 1.5), (42.0, 1.5), (54.0, 1.5), (64.0, 2.0),
            (76.1, 2.0), (88.9, 2.0), (108.0, 2.0), (133.0, 3.0), (159.0, 3.0), (6.0, 0.6), (8.0, 0.6), (10.0, 0.6), (12.0, 0.6),
            (15.0, 0.6), (18.0, 0.7), (22.0, 0.7), (28.0, 0.8), (35.0, 1.0), (42.0, 1.1), (54.0, 1.2), (66.7, 1.2), (76.1, 1.5),
            (108.0, 1.5),
        ],
    },
    // From memory; 16 x 2 and 20 x 2 are those of floor heating.
    MetricList {
        standard: "EN ISO 15875-2",
        materials: &[Material::Pex],
        tubes: &[
            (12.0, 2.0), (14.0, 2.0), (16.0, 2.0), (16.0, 2.2), (17.0, 2.0), (20.0, 1.9), (20.0, 2.0), (20.0, 2.8), (25.0, 2.3),
            (25.0, 3.5), (32.0, 2.9), (32.0, 4.4), (40.0, 3.7), (40.0, 5.5), (50.0, 4.6), (50.0, 6.9), (63.0, 5.8), (63.0, 8.6),
        ],
    },
    MetricList { standard: SDR_STANDARD, materials: &[Material::Pe80, Material::Pe100], tubes: SDR_11 },
    // PN 16; from memory.
    MetricList {
        standard: "EN ISO 1452-2",
        materials: &[Material::Pvc],
        tubes: &[
            (20.0, 1.5), (25.0, 1.9), (32.0, 2.4), (40.0, 3.0), (50.0, 3.7), (63.0, 4.7), (75.0, 5.6), (90.0, 6.7),
        ],
    },
];

/// Standard of polyethylene pipe.
pub(super) const SDR_STANDARD: &str = "EN 12201-2";

/// Polyethylene pipe SDR 11, least walls; seen in a maker's table of PE 100 pipe.
#[rustfmt::skip]
pub(super) static SDR_11: &[Tube] = &[
    (20.0, 2.0), (25.0, 2.3), (32.0, 3.0), (40.0, 3.7), (50.0, 4.6), (63.0, 5.8), (75.0, 6.8), (90.0, 8.2), (110.0, 10.0),
    (125.0, 11.4), (140.0, 12.7), (160.0, 14.6), (180.0, 16.4), (200.0, 18.2),
];

/// Copper tube for refrigeration: name, outside diameter, walls soft (annealed, coils) and hard (drawn), all in inches.
pub(super) struct AcrTube {
    /// Outside diameter as it is spoken.
    pub(super) name: &'static str,
    /// Outside diameter, in.
    pub(super) outside: f64,
    /// Wall of annealed tube, in.
    pub(super) soft: Option<f64>,
    /// Wall of drawn tube, in.
    pub(super) hard: Option<f64>,
}

const fn acr(name: &'static str, outside: f64, soft: Option<f64>, hard: Option<f64>) -> AcrTube {
    AcrTube { name, outside, soft, hard }
}

/// ASTM B280. Up to 2-1/8 in seen in a public table and in excerpts of the standard's edition of 2020; larger ones from
/// memory. Annealed 3/4 in tube is also made with 0.042 in.
pub(super) static ACR: &[AcrTube] = &[
    acr("1/8", 0.125, Some(0.030), None),
    acr("3/16", 0.1875, Some(0.030), None),
    acr("1/4", 0.250, Some(0.030), Some(0.025)),
    acr("5/16", 0.3125, Some(0.032), None),
    acr("3/8", 0.375, Some(0.032), Some(0.030)),
    acr("1/2", 0.500, Some(0.032), Some(0.035)),
    acr("5/8", 0.625, Some(0.035), Some(0.040)),
    acr("3/4", 0.750, Some(0.035), Some(0.042)),
    acr("7/8", 0.875, Some(0.045), Some(0.045)),
    acr("1-1/8", 1.125, Some(0.050), Some(0.050)),
    acr("1-3/8", 1.375, Some(0.055), Some(0.055)),
    acr("1-5/8", 1.625, Some(0.060), Some(0.060)),
    acr("2-1/8", 2.125, None, Some(0.070)),
    acr("2-5/8", 2.625, None, Some(0.080)),
    acr("3-1/8", 3.125, None, Some(0.090)),
    acr("3-5/8", 3.625, None, Some(0.100)),
    acr("4-1/8", 4.125, None, Some(0.110)),
];

/// Steel pipe by its nominal size.
pub(super) struct NominalPipe {
    /// Nominal size DN, mm.
    pub(super) dn: u32,
    /// Nominal pipe size, in, as it is spoken.
    pub(super) name: &'static str,
    /// The same as a number.
    pub(super) nps: f64,
    /// EN 10255, medium series, mm.
    pub(super) medium: Option<Tube>,
    /// ASME B36.10: outside diameter and the walls of schedules 40 and 80, in.
    pub(super) schedule: (f64, f64, f64),
}

const fn nominal(
    dn: u32,
    name: &'static str,
    nps: f64,
    medium: Option<Tube>,
    schedule: (f64, f64, f64),
) -> NominalPipe {
    NominalPipe { dn, name, nps, medium, schedule }
}

/// Steel pipe. EN 10255 medium: outside diameters, and walls from DN 8 to DN 50, seen in public tables; the other walls
/// from memory. ASME B36.10: seen in public tables, 5 in from memory.
pub(super) static NOMINAL: &[NominalPipe] = &[
    nominal(6, "1/8", 0.125, Some((10.2, 2.0)), (0.405, 0.068, 0.095)),
    nominal(8, "1/4", 0.25, Some((13.5, 2.3)), (0.540, 0.088, 0.119)),
    nominal(10, "3/8", 0.375, Some((17.2, 2.3)), (0.675, 0.091, 0.126)),
    nominal(15, "1/2", 0.5, Some((21.3, 2.6)), (0.840, 0.109, 0.147)),
    nominal(20, "3/4", 0.75, Some((26.9, 2.6)), (1.050, 0.113, 0.154)),
    nominal(25, "1", 1.0, Some((33.7, 3.2)), (1.315, 0.133, 0.179)),
    nominal(32, "1-1/4", 1.25, Some((42.4, 3.2)), (1.660, 0.140, 0.191)),
    nominal(40, "1-1/2", 1.5, Some((48.3, 3.2)), (1.900, 0.145, 0.200)),
    nominal(50, "2", 2.0, Some((60.3, 3.6)), (2.375, 0.154, 0.218)),
    nominal(65, "2-1/2", 2.5, Some((76.1, 3.6)), (2.875, 0.203, 0.276)),
    nominal(80, "3", 3.0, Some((88.9, 4.0)), (3.500, 0.216, 0.300)),
    nominal(100, "4", 4.0, Some((114.3, 4.5)), (4.500, 0.237, 0.337)),
    nominal(125, "5", 5.0, Some((139.7, 5.0)), (5.563, 0.258, 0.375)),
    nominal(150, "6", 6.0, Some((165.1, 5.0)), (6.625, 0.280, 0.432)),
    nominal(200, "8", 8.0, None, (8.625, 0.322, 0.500)),
];
