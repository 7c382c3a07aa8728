//! The leak past a piston against exact flow in a gap, closed forms of lift-off from below and above, and the piston without one.

use crate::baseline::{self, ready};
use quietseat::physics::fluid::Phase;
use quietseat::physics::installation::Installation;
use quietseat::physics::parts::{Clearance, RingLeak, SplitRing, StageKind};
use quietseat::physics::state::*;
use quietseat::scenario::Scenario;
use quietseat::simulate::{Integrator, Phases, install, simulate};
use std::f64::consts::PI;

/// A gap of that clearance (m) about a piston in the middle of its bore, 8 mm long.
pub(crate) fn gap(radial_clearance: f64) -> RingLeak {
    RingLeak::Clearance(Clearance { radial_clearance, land_length: 8e-3, eccentricity: 0.0 })
}

/// A ring that leaks as an orifice of that bore (m) does, 1 mm high.
pub(crate) fn ring(ring_orifice: f64) -> RingLeak {
    RingLeak::SplitRing(SplitRing { ring_orifice, ring_height: 1e-3, ring_coefficient: 0.65 })
}

/// A valve whose stage is a piston without dry friction, with that leak.
pub(crate) fn piston(mut scenario: Scenario, leak: RingLeak) -> Scenario {
    scenario.valve.main.kind = StageKind::Piston { friction: 0.0, presliding_stiffness: 0.0 };
    scenario.valve.servo_mut().expect("a servo valve").leak = leak;
    scenario
}

pub(crate) fn installed(scenario: &Scenario) -> Installation {
    install(&ready(scenario), 293.15)
}

/// Rates and integrands at a state.
pub(crate) fn rates(installation: &Installation, y: &[f64; STATES]) -> ([f64; STATES], [f64; INTEGRALS]) {
    let (mut rate, mut flux) = ([0.0; STATES], [0.0; INTEGRALS]);
    installation.evaluate(&installation.nearby(), &[24.0, 0.0, 0.0], y, &mut rate, &mut flux);
    (rate, flux)
}

/// A number between −1 and 1 without a pattern: fractional part of a square times the golden ratio.
fn scattered(k: usize) -> f64 {
    2.0 * ((k * k) as f64 * 0.618_033_988_749_894_9).fract() - 1.0
}

/// States on their way, the same every time.
pub(crate) fn states(installation: &Installation, supply: f64, sink: f64) -> Vec<[f64; STATES]> {
    let rest = installation.at_rest(supply, sink);
    let scale = |i: usize| if installation.scales[i].is_finite() { installation.scales[i] } else { 0.0 };
    (0..200).map(|n| std::array::from_fn(|i| rest[i] + 0.8 * scale(i) * scattered(31 * n + i + 1))).collect()
}

/// A tight piston is the piston of before: whatever stands in the place of the leak's flow enters no rate and no loss, and that
/// flow does not move; and no bit differs from a diaphragm that cannot bulge, which never had a leak.
#[test]
fn a_tight_piston_knows_no_leak() {
    for scenario in [baseline::water(), baseline::air(2e4)] {
        let tight = installed(&piston(scenario.clone(), RingLeak::Tight));
        let mut stiff = scenario.clone();
        stiff.valve.main.kind = StageKind::Diaphragm { bulge_compliance: 0.0, bulge_resistance: 1.0 };
        let stiff = installed(&stiff);
        assert!(tight.scales[RING_LEAK_FLOW].is_infinite());
        for y in states(&tight, scenario.supply.pressure, scenario.sink.pressure) {
            let mut other = y;
            other[RING_LEAK_FLOW] = 0.37;
            let (rate, flux) = rates(&tight, &y);
            assert_eq!((rate, flux), rates(&tight, &other));
            assert_eq!((rate, flux), rates(&stiff, &y));
            assert_eq!((rate[RING_LEAK_FLOW], flux[RING_LEAK_LOSS]), (0.0, 0.0));
        }
    }
}

/// Flow in the gap between two circles about one centre against the exact solution, and the force and the swept volume by which
/// the walls take part.
///
/// ```text
/// q = π·Δp/(8·μ·L)·(R_o⁴ − R_i⁴ − (R_o² − R_i²)²/ln(R_o/R_i))
/// ```
///
/// (R. B. Bird, W. E. Stewart, E. N. Lightfoot, "Transport Phenomena", 1960, from memory). The piston, area π·R_i², is pulled by the
/// shear on its wall as well, and drags liquid along with it. Integrating u(r) = v·ln(r/R_o)/ln(R_i/R_o) gives π·R_i²·v plus what is
/// dragged along as π·(R_o² − R_i²)/(2·ln(R_o/R_i))·v, and the pull of pressure on face and wall comes to the same area (own
/// derivation; by reciprocity). At first order that is the area at mid-gap, which the model takes: the rest is (δ/R)²/12.
#[test]
fn a_gap_leaks_as_the_exact_annulus() {
    let (length, differential) = (8e-3, 1e3);
    let Phase::Liquid(water) = baseline::water().fluid.phase else { panic!("water is a liquid") };
    for clearance in [5e-6, 2e-5, 5e-5] {
        let installation = installed(&piston(baseline::water(), gap(clearance)));
        let middle = 0.5 * installation.stage.part.effective_diameter;
        let (outer, inner): (f64, f64) = (middle + 0.5 * clearance, middle - 0.5 * clearance);
        let ratio = (outer / inner).ln();
        let squares = outer.powi(2) - inner.powi(2);
        let exact = PI * differential / (8.0 * water.viscosity * length)
            * (outer.powi(4) - inner.powi(4) - squares * squares / ratio);
        let leak = installation.control.servo().and_then(|servo| servo.leak.clone()).expect("a leak");
        let laminar = differential / leak.gap / water.density;
        println!("δ {clearance:.0e}: {laminar:.6e} m³/s, exact {exact:.6e}");
        // The bracket is a difference of nearly equal numbers: it is exact to some 10⁻¹⁶·(R/δ)³.
        let rounding = 1e-15 * (middle / clearance).powi(3);
        assert!((laminar / exact - 1.0).abs() < (clearance / middle).powi(2) + rounding);
        let dragged = PI * squares / (2.0 * ratio);
        assert!((installation.stage.effective_area / dragged - 1.0).abs() < 0.2 * (clearance / middle).powi(2) + 1e-9);
        // With losses at the ends no more than the laminar flow, and next to all of it where those are small.
        let whole = leak.by_hand(differential, water.density) / water.density;
        assert!(whole < laminar && whole > 0.9 * laminar, "{whole}");
    }
}

/// A piston out of the middle: the gap δ·(1 + e·cos θ) leaks as the mean of its cube, which at e = 1, where it lies against its bore,
/// is 2.5 times the middle's. Source: lubrication theory (textbooks); the integral by the midpoint rule, exact for this polynomial.
#[test]
fn a_piston_that_lies_against_its_bore_leaks_two_and_a_half_times_as_much() {
    let laminar = |eccentricity: f64| {
        let leak = RingLeak::Clearance(Clearance { radial_clearance: 2e-5, land_length: 8e-3, eccentricity });
        let installation = installed(&piston(baseline::water(), leak));
        1.0 / installation.control.servo().and_then(|servo| servo.leak.clone()).expect("a leak").gap
    };
    for eccentricity in [0.0, 0.3, 0.7, 1.0] {
        let mean =
            (0..16).map(|i| (1.0 + eccentricity * (PI * (i as f64 + 0.5) / 8.0).cos()).powi(3)).sum::<f64>() / 16.0;
        assert!((laminar(eccentricity) / laminar(0.0) - mean).abs() < 1e-12, "{eccentricity}: {mean}");
    }
    assert!((laminar(1.0) / laminar(0.0) - 2.5).abs() < 1e-12);
}

/// A gas in a laminar gap: dp²/dz is constant at one temperature, so that ṁ = (p_1² − p_c²)·π·D·δ³/(24·μ·L·R·T) (textbooks; own
/// algebra). The model's mean density is that exactly, as long as the ends lose little.
#[test]
fn a_gas_leaks_by_the_difference_of_its_squared_pressures() {
    let mut scenario = piston(baseline::air(1e5), gap(1e-5));
    scenario.supply.pressure = 4e5;
    let Phase::Gas(gas) = scenario.fluid.phase.clone() else { panic!("air is a gas") };
    let installation = installed(&scenario);
    let servo = installation.control.servo().expect("a servo valve");
    let leak = servo.leak.as_ref().expect("a leak");
    let (diameter, cube) = (installation.stage.part.effective_diameter, 1e-15);
    for p_c in [3.99e5, 3e5, 2e5] {
        let exact = (4e5_f64.powi(2) - f64::powi(p_c, 2)) * PI * diameter * cube
            / (24.0 * gas.viscosity * 8e-3 * gas.gas_constant * gas.temperature);
        let filling = &servo.chamber.filling;
        let chamber = quietseat::physics::valve::chamber::ChamberState { pressure: p_c, density: filling.density(p_c) };
        let found = leak.steady(filling, 4e5, p_c, filling.upstream(false, chamber, 4e5));
        println!("p_c {p_c:e}: {found:.5e} kg/s, exact {exact:.5e}");
        assert!(found < exact && found > 0.985 * exact);
    }
}

/// The opening force on the shut stage from the steady chamber pressure, N.
fn force(installation: &Installation, p_1: f64, p_2: f64) -> f64 {
    let control = installation.control.steady(p_1, p_2, installation.armature.part.stroke, 0.0);
    let (a_d, a_s) = (installation.stage.effective_area, installation.stage.seat_area);
    a_d * (p_1 - control.chamber_pressure) - a_s * (p_1 - p_2) - installation.stage.part.preload
}

/// Root of a function that rises (or falls) from `low` to `high`.
fn root(mut low: f64, mut high: f64, of: impl Fn(f64) -> f64) -> f64 {
    let rises = of(high) > 0.0;
    for _ in 0..200 {
        let middle = 0.5 * (low + high);
        if (of(middle) > 0.0) == rises { high = middle } else { low = middle }
    }
    0.5 * (low + high)
}

/// Highest lift of an energised time, share of full lift.
fn highest_lift(scenario: &Scenario) -> f64 {
    let phases = Phases { open: 4.0, shut: 0.01, cycles: 1, early_open: false, early_shut: false, watch: 0.0 };
    let record = simulate(&ready(scenario), phases, 293.15, Integrator::Stiff).expect("a run from rest");
    record.trace.values("lift").iter().copied().fold(f64::MIN, f64::max) / scenario.valve.main.lift
}

fn inviscid(mut scenario: Scenario) -> Scenario {
    if let Phase::Liquid(liquid) = &mut scenario.fluid.phase {
        liquid.viscosity = 1e-9;
    }
    scenario
}

fn at(scenario: &Scenario, differential: f64) -> Scenario {
    let mut at = scenario.clone();
    at.supply.pressure = at.sink.pressure + differential;
    at
}

/// A ring fills the chamber beside the bleed: with orifices Δp_open = F_0/(A_d·(1 − r) − A_s), r = 1/(1 + (C_p/(C_b + C_l))²) (equal
/// flows through restrictions in parallel and in series; own algebra). Below it a run from rest stays shut, above it lifts; and the
/// leak costs differential.
#[test]
fn a_leaking_ring_raises_the_lift_off_as_the_closed_form_says() {
    let mut last = 0.0;
    for bore in [0.0, 0.5e-3, 0.8e-3, 1.2e-3] {
        let leak = if bore > 0.0 { ring(bore) } else { RingLeak::Tight };
        let scenario = inviscid(piston(baseline::water(), leak));
        let installation = installed(&scenario);
        let servo = installation.control.servo().expect("a servo valve");
        let leaks = 0.65 * PI / 4.0 * bore * bore;
        let inflow = 0.65 * PI / 4.0 * 1e-6 + leaks;
        let share = 1.0 / (1.0 + (servo.pilot.area(0.8e-3) / inflow).powi(2));
        let (a_d, a_s) = (PI / 4.0 * 36e-3f64.powi(2), PI / 4.0 * 12e-3f64.powi(2));
        let exact = 4.2 / (a_d * (1.0 - share) - a_s);
        let hand = installation.lift_off_differential().expect("it lifts");
        let steady = root(1e3, 1e5, |differential| force(&installation, 1e5 + differential, 1e5));
        println!("ring {bore}: {exact:.1} Pa, by hand {hand:.1}, steady {steady:.1}");
        assert!((hand / exact - 1.0).abs() < 1e-9);
        assert!((steady / exact - 1.0).abs() < 1e-6);
        assert!(exact > last, "a leak costs differential");
        last = exact;
        assert!(highest_lift(&at(&scenario, 0.95 * exact)) < 0.01);
        assert!(highest_lift(&at(&scenario, 1.05 * exact)) > 0.01);
    }
}

/// A laminar leak grows with the differential and the pilot's flow with its root, so that a valve that lifts no longer does above
///
/// ```text
/// Δp* = (R_l·K/(s − R·K²))²      K = √(2/ρ)·(C_p·√(1 − s) − C_b·√s)      s = A_s/A_d + F_0/(A_d·Δp*), the share of the differential that
///                                                                        is across the gap where the forces balance
/// ```
///
/// from C_p·√(2·(1 − s)·Δp/ρ) = C_b·√(2·s·Δp/ρ) + q and s·Δp = R_l·q + R·q², per volume flow q (own derivation). Bracketed by runs from
/// rest; the preload is next to nothing, so that the lift-off from below is far away, and an oil fills the gap, so that its column
/// follows the pilot at once (δ²·ρ/(12·μ) = 0.3 ms).
#[test]
fn a_laminar_leak_holds_the_piston_down_above_a_differential() {
    let clearance = Clearance { radial_clearance: 0.2e-3, land_length: 0.01, eccentricity: 0.0 };
    let mut scenario = piston(baseline::water(), RingLeak::Clearance(clearance));
    scenario.valve.main.preload = 0.05;
    let Phase::Liquid(liquid) = &mut scenario.fluid.phase else { panic!("water is a liquid") };
    liquid.viscosity = 0.01;
    let servo = scenario.valve.servo_mut().expect("a servo valve");
    // No laminar loss in pilot and bleed; lines so wide that the pilot's flow moves no pressure in them.
    (servo.pilot.length, servo.bleed.length) = (1e-4, 1e-4);
    for line in [&mut scenario.upstream, &mut scenario.downstream] {
        (line.length, line.bore, line.friction_factor, line.loss_coefficient) = (0.1, 0.1, 0.0, 0.0);
    }
    let installation = installed(&scenario);
    let servo = installation.control.servo().expect("a servo valve");
    let (rho, mu) = (998.2, 0.01);
    let area = PI * 36e-3 * 0.2e-3;
    let (laminar, ends) = (12.0 * mu * 0.01 / (PI * 36e-3 * 0.2e-3f64.powi(3)), 1.5 * rho / (2.0 * area * area));
    let a_d = PI / 4.0 * 36e-3f64.powi(2);
    let mut exact = 1e6_f64;
    for _ in 0..20 {
        let s = (12.0f64 / 36.0).powi(2) + 0.05 / (a_d * exact);
        let k = (2.0 / rho).sqrt() * (servo.pilot.area(0.8e-3) * (1.0 - s).sqrt() - servo.bleed.area() * s.sqrt());
        exact = (laminar * k / (s - ends * k * k)).powi(2);
    }
    let hand = installation.greatest_lift_off_differential().expect("an end of lifting");
    let steady = root(0.3 * exact, 3.0 * exact, |differential| force(&installation, 1e5 + differential, 1e5));
    println!("held down above {exact:.0} Pa, by hand {hand:.0}, steady {steady:.0}");
    assert!((hand / exact - 1.0).abs() < 1e-6);
    assert!((steady / exact - 1.0).abs() < 0.01, "{steady} against {exact}");
    for (share, lifts) in [(0.9, true), (0.97, true), (1.03, false), (1.4, false)] {
        let lift = highest_lift(&at(&scenario, share * exact));
        println!("{share} of it: lifts by {lift:.4}");
        assert_eq!(lift > 0.01, lifts, "{share}: {lift}");
    }
    let tight = installed(&piston(scenario, RingLeak::Tight));
    assert_eq!(tight.greatest_lift_off_differential(), None);
}

/// Volume that stage, bulge and armature sweep, and what leaks, add to nothing over the three vessels of a liquid: what they gain
/// together is what the lines bring.
#[test]
fn swept_and_leaked_volumes_add_to_nothing() {
    for leak in [RingLeak::Tight, gap(5e-5), ring(0.7e-3)] {
        let scenario = piston(baseline::water(), leak);
        let installation = installed(&scenario);
        for y in states(&installation, 2.1e5, 2.05e5) {
            let (rate, flux) = rates(&installation, &y);
            let brought = (flux[INLET_MASS] - flux[OUTLET_MASS]) / 998.2;
            let gained = rate[INLET] + rate[OUTLET] + rate[CHAMBER];
            let size = rate[INLET].abs() + rate[OUTLET].abs() + rate[CHAMBER].abs();
            assert!((gained - brought).abs() < 1e-12 * size.max(1e-9), "{gained} against {brought}");
        }
    }
}

/// The column of a gap that has just met a differential takes it whole: dṁ/dt = Δp·A/L; and comes to rest in the steady flow.
#[test]
fn the_column_of_a_gap_starts_by_its_inertia_and_ends_in_the_steady_flow() {
    let scenario = piston(baseline::water(), gap(5e-5));
    let installation = installed(&scenario);
    let servo = installation.control.servo().expect("a servo valve");
    let mut y = installation.at_rest(6e5, 1e5);
    y[CHAMBER] = servo.chamber.filling.fill(5e5, servo.volume(&installation.stage, &y))[0];
    let (rate, _) = rates(&installation, &y);
    assert!((rate[RING_LEAK_FLOW] / (1e5 * PI * 36e-3 * 5e-5 / 8e-3) - 1.0).abs() < 1e-6);
    y[RING_LEAK_FLOW] = servo.leak.as_ref().expect("a leak").by_hand(1e5, 998.2);
    let (rate, _) = rates(&installation, &y);
    assert!(rate[RING_LEAK_FLOW].abs() < 1e-5 * 1e5 * PI * 36e-3 * 5e-5 / 8e-3);
}
