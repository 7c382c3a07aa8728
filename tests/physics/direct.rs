//! The direct-operated valve against the statics of its armature by hand, the rise of a sudden stop, and its own balances.

use crate::baseline::ready;
use crate::demo;
use quietseat::physics::fluid::{Fluid, Gas, Phase};
use quietseat::physics::parts::Coil;
use quietseat::physics::state::*;
use quietseat::physics::valve::magnet::voltage;
use quietseat::scenario::Scenario;
use quietseat::simulate::{Integrator, Phases, Record, install, simulate};
use quietseat::study::examine::examine;
use quietseat::trace::EventKind;
use quietseat::verdict::Behaviour;
use std::f64::consts::{FRAC_PI_4, PI};

const DEMO: &str = "water-direct";
const COLD: f64 = 293.15;

fn at(bar: f64) -> Scenario {
    let mut scenario = demo::scenario(DEMO, &[]);
    scenario.supply.pressure = scenario.sink.pressure + bar * 1e5;
    scenario
}

fn cycle(scenario: &Scenario) -> Record {
    let phases = Phases { open: 0.3, shut: 0.3, cycles: 1, early_open: false, early_shut: false, watch: 0.0 };
    simulate(&ready(scenario), phases, COLD, Integrator::Stiff).expect("a run")
}

fn highest_lift(record: &Record) -> f64 {
    record.trace.values("lift").iter().copied().fold(0.0, f64::max)
}

/// Pull over a gap (m) by hand, N: the magnetic circuit N·i = Φ·(R_gap ∥ R_leak + R_fixed) + the ampere turns of the iron, the pull
/// Φ_gap²/(2·μ_0·A) (Maxwell's stress; H. C. Roters, "Electromagnetic Devices", Wiley, New York, 1941, from memory).
pub(crate) fn pull_by_hand(coil: &Coil, gap: f64, temperature: f64) -> f64 {
    let mu_0 = 4e-7 * PI;
    let resistance = coil.resistance * (1.0 + 0.003_93 * (temperature - 293.15));
    let turns_current = coil.turns * voltage(&coil.supply, 0.0).0 / resistance;
    let faces = coil.open_face_area + coil.shaded_face_area;
    let gap = gap / (mu_0 * faces);
    let parallel = gap * coil.leakage_reluctance / (gap + coil.leakage_reluctance);
    let iron = |flux: f64| {
        let share = flux / (coil.core_area * coil.saturation_flux_density);
        coil.iron_length * coil.saturation_field * share.powi(9)
    };
    let (mut low, mut high) = (0.0, turns_current / parallel);
    for _ in 0..60 {
        let flux = 0.5 * (low + high);
        let needed = flux * (parallel + coil.fixed_reluctance) + iron(flux);
        if needed < turns_current { low = flux } else { high = flux }
    }
    let gap_flux = low * parallel / gap;
    gap_flux * gap_flux / (2.0 * mu_0 * faces)
}

/// Differential at which the magnet's pull over the whole gap just lifts the armature, Pa, by hand: the pull less preload and weight, over
/// the seat's area.
fn greatest_by_hand(scenario: &Scenario, temperature: f64) -> f64 {
    let (coil, armature) = (&scenario.valve.coil, &scenario.valve.armature);
    let pull = pull_by_hand(coil, coil.residual_gap + armature.stroke, temperature);
    let weight = armature.mass * 9.806_65 * scenario.valve.attitude.cos();
    (pull - armature.preload - weight) / (FRAC_PI_4 * scenario.valve.main.seat_diameter.powi(2))
}

/// Statics: nothing but the magnet moves it, so a differential is neither needed nor a help.
#[test]
fn it_opens_at_no_differential_at_all() {
    let scenario = at(0.0);
    let record = cycle(&scenario);
    assert!(highest_lift(&record) >= scenario.valve.armature.stroke, "{}", highest_lift(&record));
    let trace = &record.trace;
    let settled = trace.window(0.2, 0.3);
    assert!(settled.clone().all(|i| trace.values("main_flow")[i].abs() < 1e-3), "nothing drives a flow");
    assert!(settled.len() > 5, "{}", settled.len());
}

#[test]
fn the_greatest_differential_is_the_force_balance_over_the_whole_gap() {
    for attitude in [0.0, PI] {
        let mut scenario = at(1.0);
        scenario.valve.attitude = attitude;
        let limit = greatest_by_hand(&scenario, COLD);
        let installation = install(&ready(&scenario), COLD);
        let flux = installation.magnet.steady_flux(24.0, 0.0);
        let pull = installation.magnet.state(24.0, flux.0, flux.1, 0.0).pull;
        let ours = installation.opening_differential(pull);
        assert!((ours / limit - 1.0).abs() < 5e-3, "attitude {attitude}: {ours} Pa, by hand {limit} Pa");
        for (share, opens) in [(0.98, true), (1.02, false)] {
            scenario.supply.pressure = scenario.sink.pressure + share * limit;
            let lift = highest_lift(&cycle(&scenario));
            let open = lift >= scenario.valve.armature.stroke;
            assert_eq!(open, opens, "{share} of {limit} Pa: {lift} m");
        }
    }
}

/// The fluid holds a shut seat with its whole differential and nothing else: m·v̇ = −F_0 − A_s·Δp there, without current and contact.
#[test]
fn the_shut_seat_carries_the_differential() {
    let scenario = at(5.0);
    let mut installation = install(&ready(&scenario), COLD);
    installation.stage.part.seat.stiffness = 1e-12;
    let (p_1, p_2) = (scenario.supply.pressure, scenario.sink.pressure);
    let mut y = installation.at_rest(p_1, p_2);
    y[LIFT] = 0.0;
    let (mut rate, mut flux) = ([0.0; STATES], [0.0; INTEGRALS]);
    installation.evaluate(&installation.nearby(), &[0.0; FORCINGS], &y, &mut rate, &mut flux);
    let armature = &scenario.valve.armature;
    let by_hand = -armature.preload - armature.mass * 9.806_65 - FRAC_PI_4 * 9e-6 * (p_1 - p_2);
    assert!((rate[LIFT_RATE] * armature.mass / by_hand - 1.0).abs() < 1e-6, "{}", rate[LIFT_RATE] * armature.mass);
}

/// It shuts within a few milliseconds of the flux's decay, far sooner than a wave runs up the line and back, so that the inlet rises by
/// ρ·a·v (N. Joukowsky, "Über den hydraulischen Stoss in Wasserleitungsröhren", Mém. Acad. Imp. Sci. St.-Pétersbourg, 1898, from
/// memory), and by a little more while the line packs against its friction.
#[test]
fn it_stops_the_whole_flow_at_once() {
    let scenario = at(4.0);
    let record = cycle(&scenario);
    let trace = &record.trace;
    let off = trace.events.iter().find(|e| e.kind == EventKind::CoilOff).expect("switched off").time;
    let shut = trace.events.iter().find(|e| e.kind == EventKind::SeatContact && e.time > off).expect("it shuts").time;
    let wave = 2.0 * scenario.upstream.length / scenario.upstream.wave_speed;
    assert!(shut - off < 0.05, "{} s", shut - off);
    let last = trace.window(0.0, off).end - 1;
    let (flow, open) = (trace.values("main_flow")[last], trace.values("inlet_pressure")[last]);
    let peak = trace.window(off, shut + wave).map(|i| trace.values("inlet_pressure")[i]).fold(0.0, f64::max);
    let rise = scenario.upstream.wave_speed * flow / (FRAC_PI_4 * scenario.upstream.bore.powi(2));
    let share = (peak - open) / rise;
    assert!((1.0..1.1).contains(&share), "{share}");
}

/// With an ordinary spring it stands at the pole or on its seat, at any differential; no servo valve does that.
#[test]
fn it_never_floats() {
    for bar in [0.02, 0.1, 0.5, 2.0, 6.0, 9.0, 20.0] {
        let examined = examine(&at(bar)).expect("a run");
        let found = examined.verdict.leading().expect("a finding").behaviour;
        assert!(matches!(found, Behaviour::OpensFully | Behaviour::WillNotOpen), "{bar} bar: {found:?}");
        assert_eq!(found == Behaviour::OpensFully, bar < 7.0, "{bar} bar");
    }
}

/// Liquid and gas, waves and one volume, direct and alternating current.
#[test]
fn its_balances_close() {
    let mut lumped = at(4.0);
    (lumped.upstream.length, lumped.downstream.length) = (0.3, 0.3);
    let mut air = at(4.0);
    air.fluid = Fluid {
        name: "air".into(),
        source: "test".into(),
        phase: Phase::Gas(Gas::perfect(287.05, 1.4, 293.15, 1.82e-5)),
    };
    air.valve.main.critical_pressure_ratio = 0.4;
    (air.upstream.wave_speed, air.downstream.wave_speed) = (343.2, 343.2);
    let mut alternating = at(4.0);
    alternating.valve.coil = crate::baseline::alternating_coil();
    for (name, scenario) in [("water", at(4.0)), ("lumped", lumped), ("air", air), ("alternating", alternating)] {
        let record = cycle(&scenario);
        assert!(highest_lift(&record) > 0.9 * scenario.valve.armature.stroke, "{name}: {}", highest_lift(&record));
        assert!(record.residue() < 1e-5, "{name}: {:e}", record.residue());
    }
}

/// At one instant between seat and pole: what the field, the spring and the motion gain is what the circuit, the iron and the damping
/// do not turn into heat and the streams bring, the latter by hand: (1 − φ)·Δp on the seat, and the flow force.
#[test]
fn its_powers_add_up_at_one_instant() {
    let scenario = at(4.0);
    let installation = install(&ready(&scenario), COLD);
    let mut y = installation.at_rest(scenario.supply.pressure, scenario.sink.pressure);
    (y[LIFT], y[LIFT_RATE], y[FLUX]) = (5e-4, 0.5, 4e-5);
    let (mut rate, mut flux) = ([0.0; STATES], [0.0; INTEGRALS]);
    installation.evaluate(&installation.nearby(), &[0.0; FORCINGS], &y, &mut rate, &mut flux);
    let held = |time: f64| {
        let later: [f64; STATES] = std::array::from_fn(|i| y[i] + time * rate[i]);
        installation.magnet.energy(later[FLUX], 0.0, later[LIFT])
            + installation.stage.energy(later[LIFT], later[LIFT_RATE], 0.0)
    };
    let gained = (held(1e-9) - held(-1e-9)) / 2e-9;
    let heat = flux[CIRCUIT_HEAT] + flux[IRON_HEAT] + flux[STAGE_LOSS];
    let (main, seat) = (&scenario.valve.main, FRAC_PI_4 * 9e-6);
    let (curtain, bore) = (main.curtain_coefficient * PI * main.seat_diameter * y[LIFT], main.bore_coefficient * seat);
    let not_recovered = 4e5 * bore * bore / (curtain * curtain + bore * bore);
    let brought = -not_recovered * (seat + 2.0 * main.flow_force_factor * curtain) * y[LIFT_RATE];
    assert!(
        (gained + heat - brought).abs() < 1e-5 * brought.abs(),
        "{gained} W gained, {heat} W heat, {brought} W brought"
    );
}

/// Without its ring an alternating magnet lets go twice a period (period doubled rectified sine: textbooks), and the seat's opening
/// swings with the armature: the hum is told first. With the ring it stands at the pole.
#[test]
fn without_a_ring_the_opening_hums() {
    let found = |demonstration: &str| {
        let settings = [
            "valve.kind=direct-operated",
            "valve.armature.preload=2 N",
            "valve.main.seat_diameter=2 mm",
            "supply.differential=2 bar",
        ];
        let verdict = examine(&demo::scenario(demonstration, &settings)).expect("a run").verdict;
        verdict.leading().expect("a finding").clone()
    };
    let hums = found("ac-no-ring");
    assert_eq!(hums.behaviour, Behaviour::Hums, "{}", hums.reason);
    assert!(hums.reason.contains("100 times a second") && hums.reason.contains("The opening of the main seat"));
    assert_eq!(found("ac-ring").behaviour, Behaviour::OpensFully);
}
