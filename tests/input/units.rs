//! The door for units: exact factors, the separate doors of pressure, refusals, and what is shown.

use quietseat::units::{Dimension, UnitCause, UnitSystem, accepted_units, column_unit, parse, show};

const ATMOSPHERE: f64 = 101_325.0;

fn si(text: &str, dimension: Dimension) -> f64 {
    parse(text, dimension, ATMOSPHERE).unwrap_or_else(|error| panic!("{error}"))
}

fn refusal(text: &str, dimension: Dimension) -> String {
    parse(text, dimension, ATMOSPHERE).expect_err(text).to_string()
}

/// Agreement to a few roundings.
fn close(found: f64, wanted: f64) -> bool {
    (found - wanted).abs() <= 4.0 * f64::EPSILON * wanted.abs()
}

#[test]
fn factors_follow_from_exact_definitions() {
    // A. Thompson and B. N. Taylor, Guide for the Use of the International System of Units, NIST Special Publication 811,
    // 2008, appendix B.8, and BIPM, The International System of Units, 9th ed., 2019; both from memory. The definitions
    // are exact, so that only rounding is allowed.
    use Dimension as D;
    let (pound, gravity, inch) = (0.453_592_37, 9.806_65, 0.0254);
    let gallon = 3.785_411_784e-3;
    for (text, dimension, wanted) in [
        ("1 in", D::Length, inch),
        ("1 ft", D::Length, 0.3048),
        ("1 lb", D::Mass, pound),
        ("1 oz", D::Mass, pound / 16.0),
        ("1 lbf", D::Force, pound * gravity),
        ("1 psi", D::PressureDifference, pound * gravity / (inch * inch)),
        ("1 gal", D::Volume, gallon),
        ("1 gpm", D::VolumeFlow, gallon / 60.0),
        ("1 Btu", D::Energy, 1055.05585262),
        ("1 Btu/lb", D::SpecificEnergy, 2326.0),
        ("1 ton", D::Power, 12_000.0 * 1055.05585262 / 3600.0),
        ("212 °F", D::Temperature, 373.15),
        ("-40 °F", D::Temperature, 233.15),
        ("0 °C", D::Temperature, 273.15),
        ("1 lb/min", D::MassFlow, pound / 60.0),
        ("1 lbf/in", D::SpringRate, pound * gravity / inch),
        ("1 Kv", D::FlowCoefficient, (1.0 / 3600.0) * (1000.0f64 / 1e5).sqrt()),
        ("1 Cv", D::FlowCoefficient, gallon / 60.0 * (1000.0 / (pound * gravity / (inch * inch))).sqrt()),
        ("1 lbf/in^1.5", D::ContactStiffness, pound * gravity / inch.powf(1.5)),
        ("180 °", D::Angle, std::f64::consts::PI),
        ("6 1/h", D::CycleRate, 6.0 / 3600.0),
        ("1 m³/h", D::VolumeFlow, 1.0 / 3600.0),
        ("1 cm³/bar", D::BulgeCompliance, 1e-11),
        ("1 Btu/(lb·°R)", D::GasConstant, 4186.8),
    ] {
        let found = si(text, dimension);
        assert!(close(found, wanted), "{text}: {found:e}, wanted {wanted:e}");
    }
}

#[test]
fn the_ratio_of_the_two_flow_coefficients() {
    // Kv/Cv = 0.865 to the three digits of IEC 60534-2-1 (from memory): half of the last digit is allowed.
    let ratio = si("1 Cv", Dimension::FlowCoefficient) / si("1 Kv", Dimension::FlowCoefficient);
    assert!((ratio - 0.865).abs() < 0.0005, "{ratio}");
}

#[test]
fn decimal_prefixes_do_not_add_rounding() {
    assert_eq!(si("0.8 mm", Dimension::Length), 0.0008);
    assert_eq!(si("35 g", Dimension::Mass), 0.035);
    assert_eq!(si("150 µohm", Dimension::Resistance), 150e-6);
}

#[test]
fn many_spellings_are_one_unit() {
    use Dimension as D;
    for (dimension, texts) in [
        (D::Length, &["5 um", "5 µm", "5 μm", "5um", " 5  µm "][..]),
        (D::CycleRate, &["6 1/h", "6 /h", "6 per hour", "6/h", "6 cycles/h"]),
        (D::VolumeFlow, &["2 m3/h", "2 m³/h", "2 m^3/h"]),
        (D::Resistance, &["3 Ω", "3 ohm", "3 \u{2126}"]),
        (D::Temperature, &["20 °C", "20 degC", "20 deg C", "20 C", "293.15 K"]),
        (D::Damping, &["5 N·s/m", "5 N s/m", "5 N*s/m", "5 Ns/m"]),
        (D::AbsolutePressure, &["2 bar(a)", "2 bara", "2 bar a", "2 bar abs", "2 bar (a)", "200 kPa(a)", "0.2 MPa(a)"]),
        (D::PressureDifference, &["2 bar", "2 bar(d)", "2 bard", "200 kPa", "2000 mbar"]),
        (D::Fraction, &["30 %", "30%", "0.3"]),
        (D::Power, &["2 ton", "2 tons", "2 tons of refrigeration", "24000 Btu/h"]),
        (D::Number, &["−0.5", "-0.5", "-5e-1", "-.5"]),
    ] {
        let first = si(texts[0], dimension);
        for text in texts {
            assert!(close(si(text, dimension), first), "{text}");
        }
    }
}

#[test]
fn gauge_and_absolute_never_mix() {
    let absolute = Dimension::AbsolutePressure;
    assert_eq!(si("1 bar(a)", absolute), 1e5);
    assert_eq!(si("1 bar(g)", absolute), 1e5 + ATMOSPHERE);
    assert!(close(si("0 psig", absolute), ATMOSPHERE));
    assert!(close(si("14.5 psia", absolute), si("14.5 psi", Dimension::PressureDifference)));
    assert_eq!(
        refusal("2 bar", absolute),
        "\"2 bar\" does not say whether it is absolute or gauge; write \"2 bar(a)\" if it is counted from vacuum, \
         \"2 bar(g)\" if it is what a gauge shows"
    );
    for text in ["30 psi", "300 kPa", "1 bar(d)"] {
        assert!(refusal(text, absolute).contains("absolute or gauge"), "{text}");
    }
    for text in ["2 bar(a)", "2 bar(g)", "2 barg", "30 psia", "30 psig"] {
        assert!(refusal(text, Dimension::PressureDifference).contains("wanted a pressure difference"), "{text}");
    }
    let without = parse("1 bar(g)", absolute, f64::NAN).expect_err("a gauge pressure needs an atmosphere");
    assert_eq!(without.cause, UnitCause::NoAtmosphere);
    assert!(refusal("-2 bar(g)", absolute).contains("below vacuum"));
    assert!(refusal("-300 °C", Dimension::Temperature).contains("below absolute zero"));
}

#[test]
fn refusals_name_what_was_found_and_what_is_wanted() {
    assert_eq!(
        refusal("0.8", Dimension::Length),
        "\"0.8\" has no unit; wanted a length in one of m, cm, mm, µm, in, ft, such as \"0.8 mm\""
    );
    assert_eq!(
        refusal("3 kg", Dimension::Length),
        "\"kg\" is a unit for a mass; wanted a length in one of m, cm, mm, µm, in, ft"
    );
    assert_eq!(
        refusal("1 baar", Dimension::PressureDifference),
        "\"baar\" is not a unit for a pressure difference; write it in one of bar, mbar, Pa, hPa, kPa, MPa, psi, inHg, \
         mmHg, inH₂O, mmH₂O; did you mean \"bar\"?"
    );
    assert_eq!(
        refusal("0,8 mm", Dimension::Length),
        "\"0,8 mm\" has a comma; the decimal sign is a point and digits are not grouped, so perhaps \"0.8 mm\""
    );
    assert_eq!(
        refusal("1 200 m", Dimension::Length),
        "\"1 200 m\" has blanks between its digits; write the number without them"
    );
    assert!(refusal("1,200.5 m", Dimension::Length).ends_with("digits are not grouped"));
    assert!(refusal("", Dimension::Time).starts_with("found an empty text"));
    assert!(refusal("soon", Dimension::Time).contains("does not start with a number"));
    for text in ["NaN s", "inf s", "-inf s", "1e999 s"] {
        assert!(refusal(text, Dimension::Time).contains("is not a finite number"), "{text}");
    }
    // Case tells milli from mega: it is not guessed.
    assert!(refusal("1 MM", Dimension::Length).contains("did you mean \"mm\"?"));
}

#[test]
fn what_is_shown_can_be_read_back() {
    for &dimension in Dimension::ALL {
        for system in [UnitSystem::Si, UnitSystem::Us] {
            for power in -12..=12 {
                let value = 3.456 * 10f64.powi(power);
                let (number, unit) = show(value, dimension, system);
                // Four digits are shown: half of the last is at most 1/2000 of the value. Those of a temperature are
                // counted from 0 °C or 0 °F, so that half of a tenth of a degree is lost; near 0 K nothing is left.
                let temperature = dimension == Dimension::Temperature;
                if temperature && value < 1.0 {
                    continue;
                }
                let back = si(&format!("{number} {unit}"), dimension);
                let lost = 0.0005 * value + if temperature { 0.05 } else { 0.0 };
                assert!((back - value).abs() <= lost, "{dimension:?} {value:e}: {number} {unit} is {back:e}");
            }
        }
    }
}

#[test]
fn shown_numbers_are_short() {
    use Dimension as D;
    for (value, dimension, metric, us) in [
        (0.0008, D::Length, ("0.8", "mm"), ("0.0315", "in")),
        (5e5, D::PressureDifference, ("5", "bar"), ("72.52", "psi")),
        (5500.0, D::PressureDifference, ("0.055", "bar"), ("0.7977", "psi")),
        (2e5, D::AbsolutePressure, ("2", "bar(a)"), ("29.01", "psia")),
        (293.15, D::Temperature, ("20", "°C"), ("68", "°F")),
        (20.0, D::Length, ("20", "m"), ("65.62", "ft")),
        (0.031, D::Time, ("31", "ms"), ("31", "ms")),
        (0.999_96e-3, D::Length, ("1", "mm"), ("0.03937", "in")),
        (7000.0, D::Number, ("7000", ""), ("7000", "")),
        (123_456.0, D::Number, ("123456", ""), ("123456", "")),
        (0.0, D::Force, ("0", "N"), ("0", "lbf")),
        (f64::NAN, D::Force, ("unknown", "N"), ("unknown", "lbf")),
    ] {
        let (number, unit) = show(value, dimension, UnitSystem::Si);
        assert_eq!((number.as_str(), unit), metric, "{value} {dimension:?}");
        let (number, unit) = show(value, dimension, UnitSystem::Us);
        assert_eq!((number.as_str(), unit), us, "{value} {dimension:?}");
    }
}

#[test]
fn columns_scale_as_their_unit_says() {
    for (dimension, expected) in [
        (Dimension::AbsolutePressure, (1e-5, 0.0, "bar(a)")),
        (Dimension::CycleRate, (3600.0, 0.0, "1/h")),
        (Dimension::Temperature, (1.0, -273.15, "°C")),
    ] {
        let unit = column_unit(dimension, UnitSystem::Si);
        assert_eq!((unit.scale, unit.offset, unit.name), expected);
    }
    for &dimension in Dimension::ALL {
        for system in [UnitSystem::Si, UnitSystem::Us] {
            let shown = column_unit(dimension, system);
            let back = si(&format!("{} {}", 500.0 * shown.scale + shown.offset, shown.name), dimension);
            // Fahrenheit adds and takes away offsets of some hundred kelvins: a few roundings of them.
            assert!((back - 500.0).abs() < 1e-10, "{dimension:?}: {back}");
        }
    }
}

#[test]
fn every_recommended_unit_and_every_example_is_accepted() {
    for &dimension in Dimension::ALL {
        let example = dimension.example();
        assert!(parse(example, dimension, ATMOSPHERE).is_ok(), "{example}");
        for unit in accepted_units(dimension) {
            assert!(parse(&format!("400 {unit}"), dimension, ATMOSPHERE).is_ok(), "{dimension:?} {unit}");
        }
    }
}
