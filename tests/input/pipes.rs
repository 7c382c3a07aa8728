//! Pipes by their names: sizes and moduli against published numbers, good and bad designations.

use quietseat::pipe::{Material, parse};

/// Outside diameter and bore in inches, as in a public table of ASTM B280 (Copper Tube - ACR): it
/// prints bores, we list walls.
#[test]
fn acr_tube_has_the_bores_of_the_published_table() {
    for (name, outside, bore) in [
        ("1/8 in ACR", 0.125, 0.065),
        ("1/4 in ACR soft", 0.25, 0.190),
        ("3/8 ACR", 0.375, 0.311),
        ("3/8 in hard ACR", 0.375, 0.315),
        ("1/2 in ACR soft", 0.5, 0.436),
        ("½ in ACR hard", 0.5, 0.430),
        ("5/8 in ACR", 0.625, 0.555),
        ("5/8 in ACR hard", 0.625, 0.545),
        ("¾\" ACR soft", 0.75, 0.680),
        ("3/4 in ACR hard", 0.75, 0.666),
        ("⅞ in ACR", 0.875, 0.785),
        ("1-1/8 in ACR", 1.125, 1.025),
        ("1⅜ in ACR", 1.375, 1.265),
        ("1 3/8 in ACR", 1.375, 1.265),
    ] {
        let pipe = parse(name).unwrap_or_else(|message| panic!("{message}"));
        assert!((pipe.outside_diameter / 0.0254 - outside).abs() < 1e-9, "{name}: {pipe:?}");
        assert!((pipe.bore / 0.0254 - bore).abs() < 1e-9, "{name}: {pipe:?}");
        assert_eq!((pipe.material, pipe.remark), (Material::Copper, None));
    }
}

/// Bores of ASME B36.10 as printed in public tables (Pipe Schedule Dimensions), inches.
#[test]
fn steel_pipe_has_the_bores_of_the_published_schedules() {
    for (name, bore) in [
        ("1/2 in steel schedule 40", 0.622),
        ("1/2 in steel sch 80", 0.546),
        ("1 in steel schedule 40", 1.049),
        ("1-1/4 in steel sch40", 1.380),
        ("2\" steel schedule 80", 1.939),
        ("DN 100 steel schedule 40", 4.026),
    ] {
        let pipe = parse(name).unwrap_or_else(|message| panic!("{message}"));
        assert!((pipe.bore / 0.0254 - bore).abs() < 1e-9, "{name}: {pipe:?}");
    }
}

#[test]
fn metric_names_give_bore_wall_and_standard() {
    for (name, bore, wall, standard) in [
        ("22 x 1 copper", 20.0, 1.0, "22 x 1 copper, EN 1057"),
        ("22×1 copper", 20.0, 1.0, "22 x 1 copper, EN 1057"),
        ("Copper 22x1.5 mm", 19.0, 1.5, "22 x 1.5 copper, EN 1057"),
        ("copper tube 10 mm x 1 mm", 8.0, 1.0, "10 x 1 copper, EN 1057"),
        ("22 x 1 copper, EN 1057", 20.0, 1.0, "22 x 1 copper, EN 1057"),
        ("18 x 1.5 copper", 15.0, 1.5, "18 x 1.5 copper, EN 12735-1"),
        ("15 x 1 stainless", 13.0, 1.0, "15 x 1 stainless, EN 10312"),
        ("22 x 1.2 stainless steel", 19.6, 1.2, "22 x 1.2 stainless, EN 10312"),
        ("20 x 2 PE-X", 16.0, 2.0, "20 x 2 PEX, EN ISO 15875-2"),
        ("DN 20 steel", 21.7, 2.6, "DN 20 steel (26.9 x 2.6), EN 10255 medium series"),
        ("DN25 galvanised steel", 27.3, 3.2, "DN 25 steel (33.7 x 3.2), EN 10255 medium series"),
        ("26.9 x 2.6 steel", 21.7, 2.6, "26.9 x 2.6 steel, EN 10255"),
        ("32 PE SDR 11", 26.0, 3.0, "32 PE 100 SDR 11 (32 x 3), EN 12201-2"),
        ("63 PE80 SDR11", 51.4, 5.8, "63 PE 80 SDR 11 (63 x 5.8), EN 12201-2"),
        ("HDPE 100 110 x 10", 90.0, 10.0, "110 x 10 PE 100, EN 12201-2"),
    ] {
        let pipe = parse(name).unwrap_or_else(|message| panic!("{message}"));
        assert_eq!((1000.0 * pipe.bore * 1e6).round() / 1e6, bore, "{name}");
        assert_eq!((1000.0 * pipe.wall_thickness * 1e6).round() / 1e6, wall, "{name}");
        assert_eq!((pipe.name.as_str(), pipe.remark), (standard, None), "{name}");
    }
}

#[test]
fn sizes_that_no_list_holds_are_taken_with_a_remark() {
    for (name, bore, remark) in [
        ("22 x 1.3 copper", 19.4, "22 x 1.3 copper is in no list known here (nearest 22 x 1.2 and 22 x 1.5)"),
        ("20 x 1.5 aluminium", 17.0, "20 x 1.5 aluminium is in no list known here: taken as outside diameter x wall"),
        (
            "32 PE SDR 17",
            28.2,
            "32 PE 100 SDR 17 is in no list known here: wall taken as outside diameter over SDR, 1.9 mm",
        ),
    ] {
        let pipe = parse(name).unwrap_or_else(|message| panic!("{message}"));
        assert!((1000.0 * pipe.bore - bore).abs() < 1e-9, "{name}: {pipe:?}");
        assert!(pipe.remark.as_ref().is_some_and(|said| said.starts_with(remark)), "{name}: {pipe:?}");
    }
}

#[test]
fn what_is_not_understood_says_what_is_wanted_and_what_is_near() {
    for (name, wanted) in [
        ("7/16 in ACR", "7/16 in ACR is not a listed size (outside diameter, ASTM B280); nearest 3/8 in and 1/2 in"),
        ("22 mm ACR", "nearest 3/4 in and 7/8 in"),
        ("9 in ACR", "nearest 4-1/8 in"),
        ("DN 22 steel", "DN 22 steel is not a listed size (EN 10255, medium series); nearest DN 20 and DN 25"),
        ("DN 20 copper", "DN sizes are listed for steel only"),
        ("7/8 in steel schedule 40", "nearest 3/4 in and 1 in"),
        ("1/2 in steel schedule 60", "schedule 60 is not listed; nearest 40 and 80"),
        (
            "22 copper",
            "22 mm alone could be bore or outside diameter; write outside diameter x wall; listed: 22 x 0.9, 22 x 1,",
        ),
        ("1/2 in copper", "ambiguous: refrigeration tube is named by its outside diameter (write \"1/2 in ACR\")"),
        ("1/2 in steel", "neither bore nor outside diameter"),
        ("20 x 22 copper", "leaves no bore"),
        ("20 mm inside x 1 copper", "speaks of the inside"),
        ("22 x 1 in copper", "\"in\" means inches"),
        ("22 mm x 0.04 in copper", "mixes mm and in"),
        ("22 x 1", "names no material"),
        ("22 x 1 coper", "\"coper\" is not a known material: copper, steel,"),
        ("22 x 1 coper", "did you mean \"copper\"?"),
        ("7/8 in ACR steel", "ACR tube is of copper"),
        ("2-1/8 in ACR soft", "listed hard only"),
        ("32 copper SDR 11", "SDR is a ratio of plastic pipes"),
        ("32 PE SDR", "no number behind SDR"),
        ("-22 x 1 copper", "minus sign before a size"),
        ("22 x -1 copper", "minus sign before a size"),
        ("22x1,5 copper", "the decimal sign is a point"),
        ("22 x 1 x 3 copper", "not a pipe's designation; wanted one such as"),
        ("pipe", "not a pipe's designation"),
    ] {
        let message = parse(name).expect_err(name);
        assert!(message.contains(wanted), "{name}: {message}");
    }
}

/// Names made of pieces in every order neither panic nor give a pipe that is none.
#[test]
fn no_designation_panics() {
    let pieces = [
        "22", "1/0", "0", "x", "½", "in", "mm", "copper", "PE", "100", "SDR", "DN", "sch", "ACR", "-", "9e99", "é", ".",
    ];
    for a in pieces {
        for b in pieces {
            for c in pieces {
                for text in [format!("{a}{b}{c}"), format!("{a} {b} {c} steel"), format!("{a} {b} PE {c}")] {
                    if let Ok(pipe) = parse(&text) {
                        let sound = pipe.bore > 0.0 && pipe.wall_thickness > 0.0 && pipe.outside_diameter <= 0.35;
                        assert!(sound, "{text}: {pipe:?}");
                    }
                }
            }
        }
    }
}

/// Moduli against ranges of J. M. Gere, Mechanics of Materials, 5th edition, as tabulated by others (Typical Moduli and
/// Poisson's Ratios), GPa; the range of aluminium is that of its alloys, of which pure aluminium (69) lies just
/// below.
#[test]
fn moduli_lie_in_published_ranges() {
    for (material, low, high, poisson) in [
        (Material::Copper, 110.0, 120.0, 0.33..=0.36),
        (Material::Steel, 190.0, 210.0, 0.27..=0.30),
        (Material::Stainless, 190.0, 210.0, 0.27..=0.30),
        (Material::Aluminium, 68.9, 73.0, 0.33..=0.33),
        (Material::Brass, 96.0, 110.0, 0.34..=0.34),
        (Material::Pe100, 0.7, 1.4, 0.4..=0.5),
        (Material::Pe80, 0.7, 1.4, 0.4..=0.5),
    ] {
        let elasticity = material.elasticity();
        assert!((low..=high).contains(&(elasticity.modulus / 1e9)), "{material:?}");
        assert!(poisson.contains(&elasticity.poisson_ratio), "{material:?}");
    }
    for material in Material::ALL {
        let elasticity = material.elasticity();
        assert!((elasticity.range.0..=elasticity.range.1).contains(&elasticity.modulus), "{material:?}");
        assert_eq!(Material::from_name(material.name()), Ok(material));
    }
}
