//! Restrictions of the project against published and exact flows; sources in `validation/SOURCES.md`.

mod orifice_pair;
mod reference;

use orifice_pair::{Bore, Medium, pressure_between};
use quietseat::physics::passage::Passage;
use quietseat::physics::restriction::{
    LiquidChoking, Series, critical_pressure_ratio, critical_ratio_factor, gas, liquid, nozzle_expansibility,
};
use quietseat::units::{Dimension, parse};
use reference::{Table, Worst, relative};

/// A curtain so wide that only the bore counts: its share of the loss is 10⁻¹⁶.
const OPEN: f64 = 1e4;

/// C·A at Kv = 1, m²: half of the squared velocity makes the differential.
fn area_of_unit_kv() -> f64 {
    parse("1 Kv", Dimension::FlowCoefficient, f64::NAN).expect("a flow coefficient") / 2.0_f64.sqrt()
}

/// The two worked examples of IEC 60534-2-1 (seen by way of a general-purpose library, whose water at 15 °C is 999.103
/// kg/m³ where our Kv counts 1000): Kv of the open and the choked valve must pass the stated 360 m³/h. Ten digits: 1e-6.
#[test]
fn liquid_examples_of_the_sizing_standard() {
    let vapour_pressure = 70.1e3;
    let factor = critical_ratio_factor(vapour_pressure, 22.12e6);
    assert!(relative(factor, 0.9442375225233299).abs() < 1e-12);
    let library_water: f64 = 999.103_290_757_023_3;
    for (recovery_factor, kv, p_2) in [(0.9, 164.995476370496, 220e3), (0.6, 238.058172167105, 220e3)] {
        let area = kv * area_of_unit_kv() * (library_water / 1000.0).sqrt();
        let choking = LiquidChoking { recovery_factor, critical_vapour_pressure: factor * vapour_pressure };
        let restrictions = Series { curtain: OPEN, bore: area };
        let flow = liquid(restrictions, 965.4, 680e3, p_2, choking, 1e-3).mass_flow / 965.4 * 3600.0;
        assert!(relative(flow, 360.0).abs() < 1e-6, "{flow} m³/h");
    }
}

/// Below the outlet pressure of 459 028.778 Pa (recomputed) the second example's flow no longer changes; above, it does.
#[test]
fn choked_liquid_flow_does_not_know_the_outlet() {
    let choking = LiquidChoking {
        recovery_factor: 0.6,
        critical_vapour_pressure: critical_ratio_factor(70.1e3, 22.12e6) * 70.1e3,
    };
    let flow = |p_2: f64| liquid(Series { curtain: OPEN, bore: 1e-4 }, 965.4, 680e3, p_2, choking, 1e-3).mass_flow;
    let limit = 459_028.778118;
    for p_2 in [limit - 1e-3, 4e5, 2e5, 1e4] {
        assert_eq!(flow(p_2), flow(1e5), "at {p_2}");
    }
    // Half a pascal above, Δp has fallen by 2.3e-6 of itself and the flow by half of that.
    let fall = 1.0 - flow(limit + 0.5) / flow(limit - 0.5);
    assert!(relative(fall, 0.25 / (680e3 - limit)).abs() < 0.01, "{fall}");
}

/// Kv and Cv by definition: A_v of Kv = 1 is 1/36000 m², its C·A 1.96418550e-5 m²; Cv = 1 is Kv 0.864977655. Exact, 1e-10.
#[test]
fn flow_coefficients_by_definition() {
    assert!(relative(area_of_unit_kv(), 1.96418550329597e-5).abs() < 1e-10);
    let cv = parse("1 Cv", Dimension::FlowCoefficient, f64::NAN).expect("a flow coefficient");
    assert!(relative(cv * 36_000.0, 0.864977655442302).abs() < 1e-10, "{}", cv * 36_000.0);
    // 1 m³/h of water at 1 bar through Kv = 1, by the restriction itself.
    let choking = LiquidChoking { recovery_factor: 10.0, critical_vapour_pressure: 0.0 };
    let flow = liquid(Series { curtain: OPEN, bore: area_of_unit_kv() }, 1000.0, 3e5, 2e5, choking, 1e-3);
    assert!(relative(flow.mass_flow * 3.6, 1.0).abs() < 1e-10);
}

/// Sonic conductance C (m³/(s·Pa) at 1.185 kg/m³ and 293.15 K) as the C·A that our ellipse starts from.
fn area_of_conductance(conductance: f64, b: f64, gas_constant: f64) -> f64 {
    conductance * 1.185 * (gas_constant * 293.15 / (1.0 - b)).sqrt()
}

/// The ellipse of ISO 6358-1 (formula from memory, values recomputed): choked, near choked, and at a small differential.
#[test]
fn ellipse_of_the_pneumatic_standard() {
    let r = 287.05;
    for (b, p_1, p_2, temperature, expected) in [
        (0.3, 7e5, 1e5, 293.15, 0.008295),
        (0.3, 7e5, 5e5, 293.15, 0.00668624997853881),
        (0.3, 7e5, 6.9e5, 293.15, 0.00166727092787548),
        (0.528, 6e5, 4e5, 313.15, 0.00657563689076984),
        (0.2, 2e5, 1.5e5, 263.15, 0.0018165129975628),
    ] {
        let restrictions = Series { curtain: OPEN, bore: area_of_conductance(1e-8, b, r) };
        let flow = gas(restrictions, p_1 / (r * temperature), p_1, p_2, b, 1e-3).mass_flow;
        assert!(relative(flow, expected).abs() < 1e-10, "{flow} for {expected}");
    }
}

/// Ellipse and isentropic nozzle of air at b = 0.5283: with equal choked flow they differ by 0.00152 of it, most at a ratio
/// of 0.871 (recomputed); with equal flow at small differentials, as here, by 0.3 % when choked.
#[test]
fn ellipse_against_the_isentropic_nozzle() {
    let (p_1, density, b) = (6e5, 7.0, critical_pressure_ratio(1.4));
    let nozzle = |r: f64| (2.0 * density * p_1 * (1.0 - r) * nozzle_expansibility(r, 1.4)).sqrt();
    let ellipse = |r: f64| gas(Series { curtain: OPEN, bore: 1.0 }, density, p_1, r * p_1, b, 1e-9).mass_flow;
    let excess = ellipse(0.1) / nozzle(0.1);
    assert!((excess - 1.003).abs() < 5e-4, "{excess}");
    let difference = |r: f64| (ellipse(r) / ellipse(0.1) - nozzle(r) / nozzle(0.1)).abs();
    let (largest, at) = (0..2000)
        .map(|i| 0.5 + i as f64 * 2.5e-4)
        .map(|r| (difference(r), r))
        .fold((0.0, 0.0), |a, b| if b.0 > a.0 { b } else { a });
    assert!((largest - 0.00152).abs() < 5e-6 && (at - 0.871).abs() < 2e-3, "{largest} at {at}");
}

/// Critical ratios and the flow function of perfect gases (textbook formula, recomputed): ten digits in the tables.
#[test]
fn nozzle_of_a_perfect_gas() {
    let [mut ratio, mut choked, mut function] = [(); 3].map(|()| Worst::default());
    // ψ with ṁ = A·p_1/√(R·T_1)·ψ, from ṁ² = A²·2ρ·Δp·Y².
    let psi = |r: f64, k: f64| (2.0 * (1.0 - r) * nozzle_expansibility(r, k)).sqrt();
    for row in Table::read("flow/critical_ratio.csv").rows() {
        let k = row.number("exponent");
        ratio.note(relative(critical_pressure_ratio(k), row.number("critical_ratio")), || format!("{k}"));
        choked.note(relative(psi(0.2, k), row.number("choked_flow_function")), || format!("{k}"));
    }
    for row in Table::read("flow/nozzle_function.csv").rows() {
        let (k, r) = (row.number("exponent"), row.number("ratio"));
        function.note(psi(r, k) - row.number("flow_function"), || format!("k {k}, ratio {r}"));
    }
    // Exponents such as 5/3 are rounded to ten digits in the table, and the ratio with them.
    ratio.refuse_above(2e-9, "critical ratio");
    choked.refuse_above(2e-9, "choked flow function");
    function.refuse_above(2e-10, "flow function");
}

/// Near a ratio of one the nozzle's closed form loses its digits and a series takes over: they must meet.
#[test]
fn nozzle_series_meets_the_closed_form() {
    for k in [1.1, 1.3, 1.4, 1.66] {
        let (outside, inside) = (nozzle_expansibility(0.999 - 1e-9, k), nozzle_expansibility(0.999 + 1e-9, k));
        // A slope of some 0.6 over 2e-9, plus the series' remainder.
        assert!((outside - inside).abs() < 4e-9, "{k}: {outside} {inside}");
    }
}

/// Bleed and pilot in series: pressure between them, liquid (exact) and perfect gas with either or both choked (recomputed),
/// to the ten digits of the table.
#[test]
fn bleed_and_pilot_in_series() {
    let mut worst = Worst::default();
    for row in Table::read("flow/series_orifices.csv").rows() {
        let (p_1, p_2) = (row.number("inlet_pa"), row.number("outlet_pa"));
        let share = row.number("pilot_over_bleed");
        let medium = if row.is_blank("exponent") {
            Medium::Liquid(998.2)
        } else {
            Medium::Gas(row.number("exponent"), 287.05 * 293.15)
        };
        let bore =
            |area: f64| Bore { passage: Passage::new(5e-3, 1e-3, 998.2, 0.0), inverse_square: 1.0 / (area * area) };
        let between = pressure_between(&bore(1e-6), &bore(share * 1e-6), medium, p_1, p_2);
        worst.note(relative(between, row.number("between_pa")), || format!("pilot over bleed {share}, {p_1} Pa"));
    }
    worst.refuse_above(1e-9, "pressure between bleed and pilot");
}
