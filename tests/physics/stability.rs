//! The stability of the whole valve: equilibria against their own balances and runs, modes against motion in time, counts of
//! roots, boundaries in two parameters, and the disturbed start. Published cases of the same code are in `validation`.

use crate::baseline::{self, ready};
use crate::demo;
use quietseat::physics::state::*;
use quietseat::scenario::{Run, Scenario};
use quietseat::simulate::start::Start;
use quietseat::simulate::{Integrator, Phases, simulate_from};
use quietseat::stability::equilibria::{Equilibrium, Rest};
use quietseat::stability::modes::Mode;
use quietseat::stability::onset::Onset;
use quietseat::stability::roots::{Band, USUAL_BAND};
use quietseat::stability::valve::{Energised, SteadyCoil};
use quietseat::study::examine::{examine_disturbed, examine_heated};
use quietseat::study::stability::boundary::hopf_curves;
use quietseat::study::stability::point::{Question, at_point};
use quietseat::study::stability_map::grid;
use quietseat::verdict::Behaviour;
use std::f64::consts::TAU;

fn valve(scenario: &Scenario) -> Energised {
    let ready = ready(scenario);
    Energised::new(&ready, SteadyCoil::of(&ready))
}

/// The same with its lines' friction lumped as in a run.
fn as_simulated(scenario: &Scenario) -> Energised {
    let ready = ready(scenario);
    Energised::as_simulated(&ready, SteadyCoil::of(&ready))
}

fn float(valve: &Energised) -> (Equilibrium, Mode) {
    let found = valve.equilibria().into_iter().find(|e| e.rest == Rest::Floating).expect("a float");
    let mode = valve.modes(&found, USUAL_BAND, &[])[0];
    (found, mode)
}

#[test]
fn every_rate_vanishes_at_every_equilibrium() {
    let mut scenarios = vec![baseline::water()];
    scenarios.extend([3e3, 5.3e3, 1e4, 3e4].map(baseline::air));
    scenarios
        .extend(["ac-ring", "water-chatter", "water-bang", "liquid-refrigerant"].map(|name| demo::scenario(name, &[])));
    let mut kinds = Vec::new();
    for scenario in &scenarios {
        let valve = valve(scenario);
        let found = valve.equilibria();
        assert!(!found.is_empty(), "{}", scenario.name);
        for e in &found {
            let (mut rate, mut flux) = ([0.0; STATES], [0.0; INTEGRALS]);
            valve.installation.evaluate(&valve.installation.nearby(), &e.held.forcing, &e.held.y, &mut rate, &mut flux);
            for (i, r) in rate.iter().enumerate() {
                let per_second = (r / valve.installation.scales[i]).abs();
                assert!(
                    per_second < 1e-5,
                    "{} {:?}: state {i} moves by {per_second:e} of its size",
                    scenario.name,
                    e.rest
                );
            }
            kinds.push(e.rest);
        }
    }
    for rest in [Rest::Shut, Rest::Floating, Rest::Open] {
        assert!(kinds.contains(&rest), "{rest:?} was never met");
    }
}

/// The growing modes found must be those that the argument principle counts, on every demo over a range of differentials.
#[test]
fn no_growing_mode_is_missed() {
    let mut growing = 0;
    for (name, bars) in [
        ("air-low-differential", &[0.045, 0.0512, 0.055, 0.065, 0.08, 0.12, 0.3][..]),
        ("water-chatter", &[0.105, 0.11, 0.15, 0.25][..]),
        ("ac-ring", &[0.05, 0.1, 1.0][..]),
        ("water-bang", &[0.1, 1.0][..]),
    ] {
        for bar in bars {
            let scenario = demo::scenario(name, &[&format!("supply.differential={bar} bar")]);
            for e in at_point(&valve(&scenario), true).equilibria {
                assert_eq!(e.miscount, Some(0), "{name} at {bar} bar, {:?}", e.equilibrium.rest);
                growing += e.modes.iter().filter(|m| m.growth() > 0.0).count();
            }
        }
    }
    assert!(growing >= 6, "only {growing} growing modes were met");
}

/// Growth (1/s) and frequency (Hz) of the lift after a knock of 10⁻⁴, between two looks.
fn motion_in_time(scenario: &Scenario, e: &Equilibrium, mode: &Mode) -> (f64, f64) {
    let fine = ready(scenario).run_as(Run { tolerance: 1e-9, ..scenario.run });
    let (before, between, look) = (8.0, 10.0, 6.0);
    let f = mode.frequency();
    let phases = Phases {
        open: (before + between + 2.0 * look) / f,
        shut: 1e-4,
        cycles: 1,
        early_open: false,
        early_shut: false,
        watch: 0.0,
    };
    let start = Start::Knocked { held: &e.held, lift: e.lift * (1.0 - 1e-4), fluxes: None };
    let run = simulate_from(&fine, start, phases, SteadyCoil::of(&fine).temperature, Integrator::Stiff).expect("a run");
    let lift = run.trace.values("lift");
    let phasor = |from: f64| {
        let span = look / f;
        let part = |i: usize| {
            let t = run.trace.time[i];
            let weight = 1.0 - (TAU * (t - from) / span).cos();
            let (sine, cosine) = (TAU * f * t).sin_cos();
            ((lift[i] - e.lift) * weight * cosine, (lift[i] - e.lift) * weight * sine)
        };
        run.trace.window(from, from + span).collect::<Vec<_>>().windows(2).fold((0.0, 0.0), |sum, w| {
            let half = 0.5 * (run.trace.time[w[1]] - run.trace.time[w[0]]);
            let (a, b) = (part(w[0]), part(w[1]));
            (sum.0 + half * (a.0 + b.0), sum.1 + half * (a.1 + b.1))
        })
    };
    let (early, late) = (phasor(before / f), phasor((before + between) / f));
    let turned = (late.1.atan2(late.0) - early.1.atan2(early.0) + 1.5 * TAU).rem_euclid(TAU) - 0.5 * TAU;
    let lapse = between / f;
    ((late.0.hypot(late.1) / early.0.hypot(early.1)).ln() / lapse, f - turned / TAU / lapse)
}

/// The same valve, the same lines, two ways: root of the characteristic equation, and the simulated run. Between two looks the
/// next mode, which dies faster, has not gone quite: 3 % of the rate of growth or 0.3 1/s, 0.3 % of the frequency.
#[test]
fn small_motions_in_time_are_those_of_theory() {
    for scenario in
        [baseline::air(6e3), baseline::air(7e3), demo::scenario("water-chatter", &["supply.differential=0.18 bar"])]
    {
        let valve = as_simulated(&scenario);
        let e = float(&valve).0;
        // Above, the lumped line has modes that hardly decay and that a knock of the stage hardly moves.
        let mode = valve.modes(&e, Band { lowest: 0.3, highest: 100.0 }, &[])[0];
        let (growth, frequency) = motion_in_time(&scenario, &e, &mode);
        println!("{}: {growth} and {} 1/s, {frequency} and {} Hz", scenario.name, mode.growth(), mode.frequency());
        let allowed = (0.03 * mode.growth().abs()).max(0.3);
        assert!((growth - mode.growth()).abs() < allowed, "{}: {growth} against {}", scenario.name, mode.growth());
        assert!((frequency / mode.frequency() - 1.0).abs() < 3e-3, "{frequency} against {}", mode.frequency());
    }
}

#[test]
fn runs_float_where_the_equilibrium_is() {
    for differential in [7.5e3, 8e3, 1e4, 1.2e4] {
        let scenario = baseline::air(differential);
        let (e, _) = float(&valve(&scenario));
        let phases = Phases { open: 6.0, shut: 1.0, cycles: 1, early_open: true, early_shut: true, watch: 0.0 };
        let run = examine_heated(ready(&scenario), phases, 293.15).expect("a run");
        let mean = run.indicators.mean_lift.expect("a lift");
        let share = e.lift / scenario.valve.main.lift;
        assert!((mean - share).abs() < 2e-3, "{differential} Pa: {mean} in the run, {share} at rest");
    }
}

/// Just past the hard boundary of the air set a small disturbance dies, and a knock starts an oscillation that lasts; well
/// past it the knock dies as well.
#[test]
fn past_a_hard_boundary_only_a_knock_starts_chatter() {
    let phases = Phases { open: 6.0, shut: 1.0, cycles: 1, early_open: true, early_shut: true, watch: 0.0 };
    let knocked = |differential: f64| {
        let run = examine_disturbed(ready(&baseline::air(differential)), phases, 293.15, None).expect("a run");
        (run.verdict.leading().expect("a finding").behaviour, run.disturbance)
    };
    let near = valve(&baseline::air(6.9e3));
    let (e, mode) = float(&near);
    assert!(mode.growth() < 0.0, "small motions die: {}", mode.growth());
    let boundary = valve(&baseline::air(6.7e3));
    let (at, neutral) = float(&boundary);
    assert_eq!(boundary.onset(&at, neutral.root).expect("a coefficient").onset, Onset::Hard);
    let (behaviour, found) = knocked(6.9e3);
    println!("{behaviour:?} {found:?} {}", e.lift);
    let lasting = matches!(behaviour, Behaviour::ChattersIfDisturbed | Behaviour::Flutters | Behaviour::Chatters);
    assert!(lasting, "{behaviour:?} {found:?}");
    let (behaviour, found) = knocked(1e4);
    assert_eq!((behaviour, found.knocked), (Behaviour::FloatsSteadily, Some(Behaviour::FloatsSteadily)));
}

/// A boundary followed in two parameters: no growth anywhere on it, and each row meets it once.
#[test]
fn boundary_is_followed_in_two_parameters() {
    let mut document = demo::open("air-low-differential");
    for setting in [
        "map.x.from=0.05 bar",
        "map.x.to=0.1 bar",
        "map.y.path=upstream.length",
        "map.y.from=3 m",
        "map.y.to=12 m",
        "map.y.spacing=linear",
    ] {
        document = document.with_setting(setting).expect("a setting");
    }
    let (grid, scenario) = grid(&document).expect("a grid");
    let question = Question::of(&document, &scenario).expect("a question");
    let curves = hopf_curves(&document, &question, &grid, &|| false);
    let points: Vec<(f64, f64)> = curves.iter().flat_map(|c| c.points.clone()).collect();
    assert!(points.len() > 20, "{} points", points.len());
    for &(x, y) in &points {
        let valve = question.with(&[("supply.differential", x), ("upstream.length", y)]).expect("a valve");
        let growth = valve
            .equilibria()
            .iter()
            .filter(|e| e.rest == Rest::Floating)
            .map(|e| valve.modes(e, USUAL_BAND, &[])[0].growth())
            .fold(f64::NEG_INFINITY, f64::max);
        assert!(growth.abs() < 0.05, "{growth} 1/s at {x} Pa, {y} m");
    }
    let spread = points.iter().map(|p| p.1).fold(f64::INFINITY, f64::min);
    println!("{} curves, {} points, from {spread} m, {:?}", curves.len(), points.len(), curves[0].hard);
}
