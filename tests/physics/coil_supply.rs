//! What feeds the coil, with its armature held still: rectifiers, the way of the current at switching off, cable, transformer and
//! economiser, each against circuit theory written out here (own derivations unless another source is named).

use crate::baseline;
use crate::coil_bench::*;
use quietseat::dual::Dual;
use quietseat::physics::parts::*;
use quietseat::physics::valve::feed::{cable_resistance, open_circuit_factor, source_resistance};
use quietseat::physics::valve::magnet::{MU_0, Magnet, next_turn, voltage};
use quietseat::simulate::coil_heat::{held, holding};
use std::f64::consts::{FRAC_PI_2, PI, SQRT_2, TAU};

#[test]
fn alternating_current_and_power_are_those_of_the_phasor() {
    for travel in [0.0, stroke()] {
        for coil in [linear(alternating(230.0)), plain(alternating(230.0))] {
            let found = held_at(&coil, travel);
            let z = impedance(&coil, gap(travel), TAU * MAINS);
            let current = 230.0 / z.size();
            near("effective current, A", found.current, current, 2e-4);
            near("apparent power, VA", found.current * found.voltage, 230.0 * current, 4e-4);
            near("power, W", found.power, current * current * z.0, 4e-4);
            near("power factor", found.power / (found.current * found.voltage), z.0 / z.size(), 4e-4);
        }
    }
}

/// Behind a resistance the coil has U·|Z|/|R_s + Z|; a transformer has its rated voltage at its rated current, and U·(1 + u_k) without.
#[test]
fn a_weak_source_sags_as_the_phasor_says() {
    let transformer = Transformer { rated_power: 10.0, short_circuit_voltage: 0.2 };
    let cable = Cable { length: 200.0, cross_section: 0.5e-6, temperature: COLD };
    let feed = Feed { transformer: Some(transformer), cable: Some(cable), ..Feed::default() };
    let coil = Coil { feed, ..linear(alternating(230.0)) };
    let (source, unloaded) = (source_resistance(&coil), 230.0 * open_circuit_factor(&coil));
    let copper = 2.0 * 200.0 / 58.0 / 0.5;
    let inside = 0.2 * 230.0 * 230.0 / 10.0;
    near("resistance before the coil, Ω", source, copper + inside, 1e-12);
    let rated_load = 230.0 * 230.0 / 10.0;
    near("rated voltage at the rated load, V", unloaded * rated_load / (rated_load + inside), 230.0, 1e-12);
    let mut shares = Vec::new();
    for travel in [0.0, stroke()] {
        let z = impedance(&coil, gap(travel), TAU * MAINS);
        let behind = unloaded * z.size() / z.plus(Complex(source, 0.0)).size();
        let found = held_at(&coil, travel);
        near("effective voltage at the coil, V", found.voltage, behind, 2e-4);
        near("effective current, A", found.current, behind / z.size(), 2e-4);
        shares.push(found.voltage / unloaded);
    }
    assert!(shares[0] < shares[1], "it sags more while the armature is out: {shares:?}");
    // 1.5 mm² has at most 12.1 Ω/km (IEC 60228, class 5 is 13.3; from memory): some per cent above pure copper of full area.
    let usual = Cable { length: 1000.0, cross_section: 1.5e-6, temperature: COLD };
    assert!((cable_resistance(&usual) / 2.0 / 12.1 - 1.0).abs() < 0.06);
}

/// Fourier series of a rectified sine of peak Û: mean 2Û/π, lines at 2kf of 4Û/(π·(4k² − 1)) for both half waves; half of these with
/// a line Û/2 at f itself for one (any handbook). The diodes take their forward voltage off the mean, and each line drives its own
/// current through |R + j·2πf·L|, since an ideal mains carries an unbroken current.
#[test]
fn rectified_current_ripples_by_its_fourier_lines() {
    for (supply, both, forward) in [(bridge(230.0, 0.8), true, 1.6), (half_wave(230.0, 0.8), false, 0.8)] {
        let coil = plain(supply);
        let (r, l) = (coil.resistance, inductance(&coil, gap(stroke())));
        let peak = 230.0 * SQRT_2;
        let mut bench = Bench::of(&coil);
        bench.run(40.0 * (l / r).max(0.02), 1e-4);
        bench.run((bench.time * MAINS).ceil() / MAINS - bench.time, 1e-4);
        let (count, start) = (2000, bench.time);
        let mut lines = [[0.0; 2]; 5];
        for k in 0..count {
            let s = bench.state();
            for (order, line) in lines.iter_mut().enumerate() {
                let angle = TAU * order as f64 * k as f64 / count as f64;
                line[0] += s.current * angle.cos() / count as f64;
                line[1] += s.current * angle.sin() / count as f64;
            }
            bench.run(start + (k + 1) as f64 / count as f64 / MAINS - bench.time, 1e-4);
        }
        let size = |order: usize| lines[order][0].hypot(lines[order][1]) * if order == 0 { 1.0 } else { 2.0 };
        let share = if both { 1.0 } else { 0.5 };
        near("mean current, A", size(0), (share * 2.0 * peak / PI - forward) / r, 1e-5);
        let line = |order: usize, volts: f64| volts / r.hypot(order as f64 * TAU * MAINS * l);
        near("line at 2f, A", size(2), share * line(2, 4.0 * peak / (3.0 * PI)), 1e-4);
        near("line at 4f, A", size(4), share * line(4, 4.0 * peak / (15.0 * PI)), 1e-3);
        if both {
            assert!(size(1) < 1e-6 * size(0), "a bridge leaves no ripple at f: {:e}", size(1));
        } else {
            near("line at f, A", size(1), line(1, 0.5 * peak), 1e-4);
            assert!(size(1) > 3.0 * size(2), "a half wave ripples at f first");
        }
        // The program's own periodic state is the same.
        let whole: f64 = (1..5).map(|k| 0.5 * size(k) * size(k)).sum::<f64>() + size(0) * size(0);
        near("effective current, A", held_at(&coil, stroke()).current, whole.sqrt(), 2e-4);
    }
}

/// Behind a bridge the inductance no longer limits the current: heat over that on alternating voltage is at least
/// (2√2/π)²·(1 + (ωL/R)²), the mean alone; the lines add little.
#[test]
fn an_alternating_winding_burns_behind_a_bridge() {
    let (ac, rectified) = (plain(alternating(230.0)), plain(bridge(230.0, 0.0)));
    let l = inductance(&ac, gap(stroke()));
    let ratio = held_at(&rectified, stroke()).winding_power / held_at(&ac, stroke()).winding_power;
    let quality = TAU * MAINS * l / ac.resistance;
    let mean = 8.0 / (PI * PI) * (1.0 + quality * quality);
    let line = |k: f64| {
        let volts = 4.0 * SQRT_2 / (PI * (4.0 * k * k - 1.0)) / SQRT_2;
        volts * volts * (1.0 + quality * quality) / (1.0 + 4.0 * k * k * quality * quality)
    };
    near(
        "heat behind a bridge over that on alternating voltage",
        ratio,
        mean + line(1.0) + line(2.0) + line(3.0),
        1e-3,
    );
    assert!(ratio > 3.0, "{ratio}");
}

/// From a current I a linear coil of L and R falls to i in
/// resistor  L/(R + R_c)·ln(I/i)       a voltage U held  L/R·ln((I + U/R)/(i + U/R))       (first-order circuit; any text book)
#[test]
fn current_falls_by_the_way_it_is_given() {
    let base = Coil { clamp_resistance: Some(0.0), ..plain(Voltage::Direct { voltage: 230.0 }) };
    let (r, l) = (base.resistance, inductance(&base, gap(stroke())));
    let (from, to) = (230.0 / r, 0.1 * 230.0 / r);
    let held_by = |u: f64| l / r * ((from + u / r) / (to + u / r)).ln();
    let with = |suppressor| Coil { feed: Feed { suppressor: Some(suppressor), ..Feed::default() }, ..base.clone() };
    let mains_side =
        Coil { feed: Feed { contact: ContactSide::Mains, ..Feed::default() }, ..plain(bridge(255.0, 0.9)) };
    let ways = [
        ("winding alone", base.clone(), l / r * (from / to).ln()),
        ("diode", with(Suppressor::Diode { suppressor_diode: 0.9 }), held_by(0.9)),
        ("bridge, mains side", mains_side, held_by(1.8)),
        ("resistor", Coil { clamp_resistance: Some(4.0 * r), ..base.clone() }, l / (5.0 * r) * (from / to).ln()),
        ("no suppressor", with(Suppressor::Arc { arc_voltage: 330.0 }), held_by(330.0)),
        ("varistor", with(Suppressor::Clamp { clamp_voltage: 600.0 }), held_by(600.0)),
    ];
    let mut times = Vec::new();
    for (name, coil, wanted) in ways {
        let mut bench = Bench::of(&coil);
        bench.magnet.feed(false, 1.0);
        bench.y[0] = l * from / coil.turns;
        let h = 1e-4 * wanted;
        let mut last = bench.state().current;
        while bench.state().current > to {
            last = bench.state().current;
            bench.step(h);
        }
        let now = bench.state().current;
        let time = bench.time - h * (to - now) / (last - now);
        near(name, time, wanted, 1e-6);
        times.push((name, time));
    }
    // The textbook's order, but for the varistor against the resistor: a resistor of four times the winding's starts at 920 V and
    // ends at 92, a clamp of 600 V holds; which is sooner depends on how far the current must fall.
    let of = |name: &str| times.iter().find(|(of, _)| *of == name).expect("a way").1;
    assert!(of("winding alone") > of("diode") && of("diode") > of("bridge, mains side"));
    assert!(of("bridge, mains side") > of("resistor") && of("no suppressor") > of("varistor"));
    assert!(of("bridge, mains side") > 0.97 * of("winding alone"), "a rectifier's diodes hardly hasten it");
}

/// Diodes let nothing back: once the current has ceased the eddy path alone lets the flux go, with the time constant G_e/reluctance.
#[test]
fn blocked_the_eddy_path_lets_the_flux_go() {
    let coil = Coil { eddy_conductance: 4000.0, ..plain(bridge(230.0, 0.8)) };
    let coil = Coil { feed: Feed { contact: ContactSide::Mains, ..Feed::default() }, ..coil };
    let mut bench = Bench::of(&coil);
    bench.magnet.feed(false, 1.0);
    // Below N·V_f/R of ampere-turns in the eddy path the diodes block at once.
    let resting = reluctance(&coil, gap(stroke()), 0.0).0;
    bench.y[0] = 0.5 * coil.eddy_conductance * 1.6 / coil.turns / resting;
    let begun = bench.y[0];
    let constant = coil.eddy_conductance / resting;
    bench.run(constant, 1e-4 * constant);
    assert!(bench.state().current <= 0.0 && bench.state().current > -1e-4 * 230.0 / coil.resistance);
    near("flux left after one time constant", bench.y[0] / begun, (-1.0_f64).exp(), 2e-3);
}

/// Current goes with the share of the voltage, heat with its square; behind a resistance R_s the chopper draws the share of the current,
/// so that i = D·U/(R + D·R_s).
#[test]
fn an_economiser_holds_with_its_share() {
    let mut valve = baseline::water().valve;
    for (share, cable) in
        [(0.5, None), (0.3, None), (0.3, Some(Cable { length: 1e4, cross_section: 1e-6, temperature: COLD }))]
    {
        let economiser = Some(Economiser { delay: 0.1, share });
        let r_s = cable.as_ref().map_or(0.0, cable_resistance);
        valve.coil = Coil { feed: Feed { economiser, cable, ..Feed::default() }, ..baseline::direct_coil() };
        let found = holding(&valve, COLD);
        let current = share * 24.0 / (57.6 + share * r_s);
        near("holding current, A", found.current, current, 1e-6);
        near("holding heat, W", found.winding_power, current * current * 57.6, 1e-6);
        near("inrush, A", held(&valve, 0.0, COLD).current, 24.0 / (57.6 + r_s), 1e-6);
    }
}

/// Work of the source, heat of the circuit, of the iron, and field: over a rise and a fall, with each way of either.
#[test]
fn energy_is_found_again_and_a_planted_fault_is_seen() {
    type Fault = fn(&Magnet, &Drawn) -> f64;
    let weak =
        || Feed { cable: Some(Cable { length: 2e4, cross_section: 1e-6, temperature: COLD }), ..Feed::default() };
    let stuck = Coil { coercive_force: Some(60.0), ..linear(Voltage::Direct { voltage: 230.0 }) };
    let by = |suppressor| Coil {
        feed: Feed { suppressor: Some(suppressor), ..weak() },
        ..linear(Voltage::Direct { voltage: 230.0 })
    };
    let behind = |supply| Coil { feed: Feed { contact: ContactSide::Mains, ..weak() }, ..linear(supply) };
    let diode: Fault = |m, d| m.coil.supply.rectifier().map_or(0.0, |r| r.forward * d.current.max(0.0));
    let source: Fault = |m, d| source_resistance(&m.coil) * d.drawn * d.drawn;
    // As if the mains gave the coil's current even while it runs on through the diodes.
    let running_on: Fault = |m, d| source_resistance(&m.coil) * (d.drawn * d.drawn - d.current * d.current);
    let clamped: Fault = |m, d| if m.level == 0.0 { 330.0 * d.current } else { 0.0 };
    let iron: Fault = |m, d| 0.1 * m.winding * d.current * d.current;
    for (name, coil, faults) in [
        ("bridge", behind(bridge(230.0, 20.0)), vec![diode, source]),
        ("half wave", behind(half_wave(230.0, 20.0)), vec![diode, source, running_on]),
        ("clamp", by(Suppressor::Arc { arc_voltage: 330.0 }), vec![clamped, source]),
        ("diode", by(Suppressor::Diode { suppressor_diode: 1.0 }), vec![source, iron]),
        ("remanence", stuck, vec![iron]),
    ] {
        let run = |fault: Fault| {
            let mut bench = Bench { fault, ..Bench::of(&coil) };
            let before = bench.y;
            bench.run(0.105, 2e-6);
            bench.magnet.feed(false, 1.0);
            bench.run(0.05, 2e-6);
            bench.residue(&before)
        };
        let sound = run(|_, _| 0.0);
        println!("{name}: {sound:.1e}");
        assert!(sound < 1e-6, "{name}: {sound:e}");
        for (k, fault) in faults.into_iter().enumerate() {
            let seen = run(fault);
            println!("{name}, fault {k}: {seen:.1e}");
            assert!(seen > 1e-3, "{name}: fault {k} hides: {seen:e}");
        }
    }
}

/// Pull of F_c without a current, by hand: Φ = F_c/reluctance, through both faces by their areas.
#[test]
fn remanence_pulls_by_its_closed_form() {
    let coil = Coil { coercive_force: Some(80.0), ..plain(Voltage::Direct { voltage: 230.0 }) };
    let magnet = Magnet::new(&coil, stroke(), COLD);
    let flux = 80.0 / reluctance(&coil, gap(stroke()), 0.0).0;
    let areas = coil.open_face_area + coil.shaded_face_area;
    let pole = MU_0 * areas / gap(stroke());
    let faces = flux * pole / (pole + 1.0 / coil.leakage_reluctance);
    let (found, ring) = magnet.steady_flux(0.0, stroke());
    near("remanent flux, Wb", found, flux, 1e-12);
    near(
        "remanent pull, N",
        magnet.state(0.0, found, ring, stroke()).pull,
        faces * faces / (2.0 * MU_0 * areas),
        1e-12,
    );
}

/// Exact derivatives of the flux's rate by the flux against central differences, in every state of every way: carrying, running on, blocking,
/// below and above a clamp's voltage. And it falls with the flux, as the solver's elimination of it counts on.
#[test]
fn derivatives_of_each_way_are_exact() {
    let cable = || Some(Cable { length: 3e4, cross_section: 1e-6, temperature: COLD });
    let base = || Coil { feed: Feed { cable: cable(), ..Feed::default() }, ..linear(bridge(230.0, 0.8)) };
    let clamp = Feed { suppressor: Some(Suppressor::Clamp { clamp_voltage: 400.0 }), ..Feed::default() };
    let usual = 230.0 / 1600.0 * base().turns / reluctance(&base(), gap(stroke()), 0.0).0;
    for (name, coil, closed, volts, flux) in [
        ("carrying", base(), true, 300.0, 0.5 * usual),
        ("running on", base(), true, 5.0, 0.5 * usual),
        ("blocking", base(), true, 1.0, -0.5 * usual),
        ("leaking", Coil { feed: clamp.clone(), ..base() }, false, 0.0, 1e-7 * usual),
        ("clamping", Coil { feed: clamp.clone(), ..base() }, false, 0.0, 0.5 * usual),
        ("clamping the other way", Coil { feed: clamp.clone(), ..base() }, false, 0.0, -0.5 * usual),
    ] {
        let mut magnet = Magnet::new(&coil, stroke(), COLD);
        magnet.feed(closed, 1.0);
        let of = |flux: f64| magnet.state(volts, flux, 0.1 * usual, stroke()).flux_rate;
        let dual = |value: f64| Dual::<1> { slope: [0.0], value };
        let exact = magnet.state(dual(volts), Dual::variable(flux, 0), dual(0.1 * usual), dual(stroke())).flux_rate;
        let step = 1e-5 * flux.abs();
        near(name, exact.slope[0], (of(flux + step) - of(flux - step)) / (2.0 * step), 1e-5);
        assert!(exact.slope[0] < 0.0, "{name}");
    }
}

/// Both half waves or one, and the instants at which they turn.
#[test]
fn a_rectified_voltage_turns_where_the_mains_is_nought() {
    let supply = half_wave(100.0, 0.0);
    let zero = (PI - 0.4) / (TAU * MAINS);
    near("first turn, s", next_turn(&supply, 0.0), zero, 1e-12);
    near("next one, s", next_turn(&supply, zero), 0.5 / MAINS, 1e-6);
    let at = |supply: &Voltage, time: f64| voltage(supply, time).0;
    let crest = (FRAC_PI_2 - 0.4) / (TAU * MAINS);
    near("crest, V", at(&supply, crest), 100.0 * SQRT_2, 1e-12);
    assert_eq!(at(&supply, crest + 0.01), 0.0);
    near("other crest, V", at(&bridge(100.0, 0.0), crest + 0.01), 100.0 * SQRT_2, 1e-12);
}
