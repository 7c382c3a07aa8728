//! Embedded tables against random states of the library that made them, and at the boundaries of a phase.

use quietseat::fluid::{self, Aggregation, FluidError, Substance};
use std::fs;
use std::path::Path;

fn rows(name: &str) -> Vec<Vec<String>> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("validation/fluid_tables").join(name);
    let text = fs::read_to_string(path).expect("a validation table");
    text.lines().skip(1).map(|line| line.split(',').map(str::to_owned).collect()).collect()
}

fn number(text: &str) -> f64 {
    text.parse().expect("a number")
}

#[test]
fn every_table_is_read_whole() {
    for substance in fluid::all() {
        assert!(!substance.title().is_empty() && substance.source().contains("CoolProp 8.0.0"), "{}", substance.name());
        assert!(substance.critical_pressure() > 3e6 && substance.molar_mass() > 0.01, "{}", substance.name());
        if let Some((low, high)) = substance.liquid_range() {
            assert!(low < high && high < substance.critical_temperature(), "{}", substance.name());
        }
    }
}

#[test]
fn random_states_agree_with_the_library() {
    let mut seen = 0;
    for row in rows("random_states.csv") {
        let fluid = fluid::find(&row[0]).expect("a known fluid");
        let (t, p) = (number(&row[2]), number(&row[3]));
        let state = fluid.state(t, p).unwrap_or_else(|error| panic!("{} {}: {error}", row[0], row[1]));
        let expected = if row[1] == "liquid" { Aggregation::Liquid } else { Aggregation::Gas };
        assert_eq!(state.aggregation, expected, "{row:?}");
        let near = |value: f64, wanted: &str, tolerance: f64, what: &str| {
            let off = value / number(wanted) - 1.0;
            assert!(off.abs() < tolerance, "{} {} {t} K {p} Pa: {what} off by {off:.1e}", row[0], row[1]);
        };
        near(state.density, &row[4], 3e-6, "density");
        near(state.sound_speed, &row[5], 5e-6, "sound speed");
        near(state.viscosity, &row[6], 2e-4, "viscosity");
        let enthalpy = state.enthalpy.expect("tabulated") - number(&row[7]);
        assert!(enthalpy.abs() < 2.0, "{} {}: enthalpy off by {enthalpy} J/kg", row[0], row[1]);
        if let Some(gas) = state.gas {
            near(gas.critical_ratio, &row[8], 2e-5, "critical pressure ratio");
            near(gas.flow_factor, &row[9], 5e-6, "critical flow factor");
        }
        seen += 1;
    }
    assert!(seen > 1000);
}

#[test]
fn saturation_agrees_with_the_library_both_ways() {
    for row in rows("saturation.csv") {
        let fluid = fluid::find(&row[0]).expect("a known fluid");
        let (t, bubble, dew) = (number(&row[1]), number(&row[2]), number(&row[3]));
        let near = |value: f64, wanted: f64, tolerance: f64| {
            assert!((value / wanted - 1.0).abs() < tolerance, "{row:?}: {value} against {wanted}");
        };
        near(fluid.bubble_pressure(t).expect("inside"), bubble, 1e-7);
        near(fluid.dew_pressure(t).expect("inside"), dew, 1e-7);
        near(fluid.bubble_temperature(bubble).expect("inside"), t, 1e-8);
        near(fluid.dew_temperature(dew).expect("inside"), t, 1e-8);
    }
}

fn refrigerants() -> Vec<&'static Substance> {
    fluid::all().into_iter().filter(|fluid| fluid.liquid_range().is_some() && fluid.name() != "water").collect()
}

/// A tenth of a kelvin decides, and the message says which way.
#[test]
fn a_tenth_of_a_kelvin_decides_between_liquid_and_gas() {
    for fluid in refrigerants() {
        for celsius in [-30.0, 0.0, 15.0] {
            let t = celsius + 273.15;
            let p = fluid.bubble_pressure(t).expect("inside");
            let below = fluid.state(t - 0.1, p).expect("0.1 K subcooled");
            assert_eq!(below.aggregation, Aggregation::Liquid);
            let saturated = fluid.state(t, p).expect("saturated liquid");
            assert_eq!(saturated.aggregation, Aggregation::Liquid);
            assert!((saturated.density / below.density - 1.0).abs() < 2e-3, "{}", fluid.name());
            let dew = fluid.dew_temperature(p).expect("inside");
            let above = fluid.state(dew + 0.1, p).expect("0.1 K superheated");
            assert_eq!(above.aggregation, Aggregation::Gas);
            assert!(above.density < 0.5 * below.density);
            assert!(matches!(fluid.liquid(t + 0.1, p), Err(FluidError::Boils { .. })));
            assert!(matches!(fluid.gas(dew - 0.1, p), Err(FluidError::Condenses { .. })));
            if dew > t + 0.2 {
                assert!(
                    matches!(fluid.state(0.5 * (t + dew), p), Err(FluidError::TwoPhase { .. })),
                    "{}",
                    fluid.name()
                );
            }
        }
    }
}

#[test]
fn outside_the_range_is_an_error_that_names_it() {
    let fluid = fluid::find("R744").expect("known");
    let text = |result: Result<fluid::State, FluidError>| result.expect_err("outside").to_string();
    assert!(text(fluid.liquid(300.0, 80e5)).contains("critical temperature"), "{}", text(fluid.liquid(300.0, 80e5)));
    assert!(text(fluid.state(310.0, 100e5)).contains("neither gas nor liquid"), "{}", text(fluid.state(310.0, 100e5)));
    assert!(text(fluid.state(200.0, 20e5)).contains("is known from"), "{}", text(fluid.state(200.0, 20e5)));
    let air = fluid::find("air").expect("known");
    assert!(air.bubble_pressure(290.0).expect_err("never").to_string().contains("no liquid"));
    let unknown = fluid::find("R507").expect_err("unknown").to_string();
    assert!(unknown.contains("did you mean \"R507A\""), "{unknown}");
}

#[test]
fn names_are_found_as_people_write_them() {
    for (written, name) in
        [("r-410a", "R410A"), ("CO2", "R744"), ("Carbon dioxide", "R744"), ("NH3", "R717"), ("n2", "nitrogen")]
    {
        assert_eq!(fluid::find(written).expect("known").name(), name);
    }
}
