//! Built-in fluids against published verification values and against states that their tables do not hold.

use quietseat::physics::fluid::{Gas, Liquid, Phase};
use quietseat::physics::fluid_table::{FluidError, fluid, names};
use quietseat::physics::wave_speed::{Support, Wall, in_elastic_line};

fn liquid(name: &str, celsius: f64) -> Liquid {
    match fluid(name, celsius + 273.15).unwrap_or_else(|error| panic!("{error}")).phase {
        Phase::Liquid(liquid) => liquid,
        Phase::Gas(_) => panic!("{name} is a gas"),
    }
}

fn air(celsius: f64) -> Gas {
    match fluid("air", celsius + 273.15).unwrap_or_else(|error| panic!("{error}")).phase {
        Phase::Gas(gas) => gas,
        Phase::Liquid(_) => panic!("air is a liquid"),
    }
}

fn near(found: f64, wanted: f64, relative: f64, what: &str) {
    let off = found / wanted - 1.0;
    assert!(off.abs() <= relative, "{what}: found {found}, wanted {wanted}, off by {off:e}");
}

#[test]
fn water_against_the_industrial_formulation() {
    // IAPWS, Revised Release on the Industrial Formulation 1997 (IAPWS-IF97), 2007. Table 35, saturation at 300 K:
    // 0.353658941e-2 MPa. The two formulations differ by 6e-5 there; the rest is interpolation.
    let water = liquid("water", 26.85);
    near(water.vapour_pressure, 3536.58941, 1e-4, "vapour pressure at 300 K");
    // Table 5, region 1 at 300 K and 3 MPa: v = 0.100215168e-2 m³/kg, w = 0.150773921e4 m/s (w from memory), taken down to
    // 1 atm with dρ/dp = (cp/cv)/w², cp/cv = 1 + α²·T·w²/cp = 1.0123 (own estimate). Holding w constant over the 3 MPa,
    // in which it changes by 0.4 %, leaves 5e-6.
    let slope = 1.0123 / 1507.73921_f64.powi(2);
    let density = 1.0 / 0.100215168e-2 - (3e6 - 101325.0) * slope;
    near(water.density, density, 1e-5, "density at 300 K");
}

#[test]
fn liquids_between_their_tabled_states() {
    // Computed with a general fluid property library (version 8.0.0) from the equations of state named in the tables:
    // vapour pressure Pa, density kg/m³, sound speed m/s, viscosity Pa·s. The tolerance is that of interpolation: 1e-4,
    // and 4e-3 for R744 near its critical point (31 °C), where all properties bend.
    for (name, celsius, pressure, density, sound, viscosity, relative) in [
        ("water", 2.5, 731.62275, 999.95717, 1414.6279, 1.6459008e-3, 1e-4),
        ("water", 35.0, 5629.0161, 994.03331, 1519.8454, 7.1912562e-4, 1e-4),
        ("water", 95.0, 84608.465, 961.88792, 1547.2001, 2.9708543e-4, 1e-4),
        ("R134a", 5.0, 349658.61, 1278.07, 598.67599, 2.5011136e-4, 1e-4),
        ("R410A", 15.0, 1258269.4, 1106.3907, 484.18459, 1.3594465e-4, 1e-4),
        ("R410A", 37.0, 2253943.3, 993.86081, 359.43064, 1.0100714e-4, 4e-4),
        ("R290", 32.5, 1146901.3, 480.28964, 668.47332, 8.9788868e-5, 1e-4),
        ("R717", 32.5, 1255721.1, 591.49902, 1280.9792, 1.2261292e-4, 1e-4),
        ("R744", 22.5, 6073228.5, 744.67156, 307.86928, 6.2240387e-5, 4e-3),
    ] {
        let found = liquid(name, celsius);
        let what = |property: &str| format!("{property} of {name} at {celsius} °C");
        near(found.vapour_pressure, pressure, relative, &what("vapour pressure"));
        near(found.density, density, relative, &what("density"));
        near(found.sound_speed, sound, relative, &what("sound speed"));
        near(found.viscosity, viscosity, relative, &what("viscosity"));
        assert!(found.vapour_pressure < found.critical_pressure);
    }
}

#[test]
fn air_against_real_air_at_ambient_state() {
    // Lemmon et al., J. Phys. Chem. Ref. Data 29 (2000), through the same library: 20 °C, 101 325 Pa: 1.20457518 kg/m³,
    // 343.34389 m/s, 1.82056752e-5 Pa·s. A perfect gas is off by its compressibility, 4e-4, and its exponent by 1.4e-3;
    // Sutherland's formula is known to some 0.5 %.
    let gas = air(20.0);
    near(101325.0 / (gas.gas_constant * gas.temperature), 1.20457518, 5e-4, "density");
    near((gas.isentropic_exponent * gas.gas_constant * gas.temperature).sqrt(), 343.34389, 1.5e-3, "sound speed");
    near(gas.viscosity, 1.82056752e-5, 5e-3, "viscosity");
}

#[test]
fn outside_the_known_states_is_refused() {
    for name in names() {
        assert!(fluid(name, 273.15).is_ok(), "{name}");
        for kelvin in [100.0, 500.0, f64::NAN] {
            assert!(matches!(fluid(name, kelvin), Err(FluidError::OutOfRange { .. })), "{name} {kelvin}");
        }
        assert!(!fluid(name, 283.15).expect("inside").source.is_empty());
    }
    assert!(fluid("water", 373.15).is_ok());
    assert!(fluid("R744", 298.15).is_ok() && fluid("R744", 299.0).is_err());
    let error = fluid("r143a", 283.15).expect_err("not built in").to_string();
    assert!(error.ends_with("did you mean \"R134a\"?"), "{error}");
}

#[test]
fn waves_in_a_steel_and_in_a_copper_line() {
    // The thick-walled formula evaluated independently for water of 998.2 kg/m³ and a bulk modulus of 2.19 GPa.
    let mut water = liquid("water", 20.0);
    water.density = 998.2;
    water.sound_speed = (2.19e9_f64 / 998.2).sqrt();
    for (bore, thickness, modulus, poisson_ratio, support, wanted) in [
        (0.0221, 0.00163, 2.07e11, 0.3, Support::Throughout, 1381.781264),
        (0.0221, 0.00163, 2.07e11, 0.3, Support::Joints, 1374.608526),
        (0.02, 0.001, 1.2e11, 0.34, Support::Throughout, 1271.827771),
    ] {
        let wall = Wall { bore, thickness, modulus, poisson_ratio, support };
        // The reference is printed with nine digits.
        near(in_elastic_line(&water, &wall), wanted, 1e-8, "wave speed");
    }
}
