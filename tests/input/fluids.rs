//! Named fluids as their users meet them: values of the standards, the ends of the tables, unknown names.

use quietseat::fluid::{self, Aggregation, FluidError, Medium, Quantity, State};

fn state(name: &str, celsius: f64, pressure: f64) -> State {
    let fluid = fluid::find(name).unwrap_or_else(|error| panic!("{error}"));
    fluid.state(celsius + 273.15, pressure).unwrap_or_else(|error| panic!("{error}"))
}

fn near(found: f64, wanted: f64, relative: f64, what: &str) {
    let off = found / wanted - 1.0;
    assert!(off.abs() <= relative, "{what}: found {found}, wanted {wanted}, off by {off:e}");
}

/// IAPWS, Revised Release on the Industrial Formulation 1997 (R7-97(2012)): table 5 at 300 K and 3 MPa, table 35 at 300 K.
/// It is another formulation than that of the tables (IAPWS-95): they differ by 1.4e-6, 9e-4 and 6e-5.
#[test]
fn water_against_the_industrial_formulation() {
    let water = state("water", 26.85, 3e6);
    assert_eq!(water.aggregation, Aggregation::Liquid);
    near(water.density, 1.0 / 0.100215168e-2, 3e-6, "density");
    near(water.sound_speed, 1507.73921, 1e-3, "sound speed");
    near(water.liquid().vapour_pressure, 3536.58941, 1e-4, "vapour pressure");
}

/// Lemmon et al., J. Phys. Chem. Ref. Data 29 (2000), by way of a general-purpose library: 20 °C, 101 325 Pa.
#[test]
fn air_as_a_gas_of_the_physics_keeps_density_and_sound_speed() {
    let gas = state("air", 20.0, 101_325.0).real_gas().expect("a gas");
    near(101_325.0 / (gas.gas_constant * gas.temperature), 1.20457518, 1e-6, "density");
    near((gas.isentropic_exponent * gas.gas_constant * gas.temperature).sqrt(), 343.34389, 1e-6, "sound speed");
    near(gas.viscosity, 1.82056752e-5, 1e-5, "viscosity");
}

/// Inside a range there is an answer up to its very ends, and none beyond; a quantity that is no number is refused.
#[test]
fn tables_end_where_they_say() {
    for fluid in fluid::all() {
        let (coldest, hottest) = fluid.gas_range();
        let thin = |t: f64| fluid.gas(t, 1e3);
        assert!(thin(coldest).is_ok() && thin(hottest).is_ok(), "{}", fluid.name());
        for t in [coldest - 0.01, hottest + 0.01, f64::NAN] {
            assert!(thin(t).is_err(), "{} {t}", fluid.name());
        }
        assert!(fluid.gas(0.5 * (coldest + hottest), f64::NAN).is_err(), "{}", fluid.name());
        if let Some((low, high)) = fluid.liquid_range() {
            let most = fluid.highest_pressure();
            assert!(fluid.liquid(low, most).is_ok() && fluid.liquid(high, most).is_ok(), "{}", fluid.name());
            assert!(fluid.liquid(low - 0.01, most).is_err() && fluid.liquid(high + 0.01, most).is_err());
            let too_high = fluid.liquid(low, 1.01 * most);
            assert!(matches!(too_high, Err(FluidError::Outside { what: Quantity::Pressure, .. })), "{too_high:?}");
        }
    }
}

#[test]
fn every_substance_is_found_by_its_names_and_no_other() {
    for substance in fluid::all() {
        for name in substance.aliases().iter().chain([&substance.name()]) {
            let found = fluid::find(&format!(" {} ", name.to_lowercase())).expect("known");
            assert_eq!(found.name(), substance.name());
        }
    }
    for unknown in ["", "R", "r143a", "watr", "R410"] {
        assert!(matches!(fluid::find(unknown), Err(FluidError::UnknownName { .. })), "{unknown}");
    }
    let error = fluid::find("r143a").expect_err("not built in").to_string();
    assert!(error.contains("(R134a is another refrigerant, nothing that stands for it)"), "{error}");
    for other in ["R454C", "R404B", "R134", "R600", "R407A", "R401A", "R1234ze(Z)"] {
        let error = fluid::find(other).expect_err(other).to_string();
        assert!(error.contains("is another refrigerant"), "{error}");
    }
    let alias = fluid::find("propan").expect_err("misspelt").to_string();
    assert!(alias.contains("did you mean \"propane\"?"), "{alias}");
    let unclear = fluid::find("glycol").expect_err("two of them").to_string();
    assert!(unclear.contains("say which, ethylene glycol, propylene glycol;"), "{unclear}");
    let slip = fluid::find("R448").expect_err("not built in").to_string();
    assert!(slip.contains("did you mean \"R448A\"?"), "{slip}");
}

/// Throttling keeps the enthalpy: density and sound speed behind a hot-gas valve, 20 K (ammonia 30 K) superheated. Values
/// from CoolProp 8.0.0 (`PropsSI` of pressure and enthalpy), the library of the tables: this checks the way there, not the
/// fluids.
#[test]
fn throttled_gas_has_the_enthalpy_of_the_supply() {
    for (name, before, superheat, after, density, sound_speed) in [
        ("R134a", 20e5, 20.0, 10e5, 40.610_377, 158.058_886),
        ("R290", 20e5, 20.0, 10e5, 17.875_423, 240.434_538),
        ("R404A", 25e5, 20.0, 12e5, 50.578_915, 154.170_619),
        ("R1234yf", 20e5, 20.0, 8e5, 35.709_351, 149.513_471),
        ("R717", 20e5, 30.0, 10e5, 6.537_771, 442.108_509),
        ("R744", 40e5, 20.0, 20e5, 45.431_970, 237.032_045),
    ] {
        let medium = Medium::find(name, None, None).expect(name);
        let temperature = medium.dew_temperature(before).expect(name) + superheat;
        let hot = medium.state(temperature, before).expect(name);
        let found = medium.throttled(hot.enthalpy.expect("tabulated"), after).expect(name);
        assert!((found.density / density - 1.0).abs() < 2e-5, "{name}: {} {density}", found.density);
        assert!((found.sound_speed / sound_speed - 1.0).abs() < 2e-5, "{name}: {} {sound_speed}", found.sound_speed);
    }
}
