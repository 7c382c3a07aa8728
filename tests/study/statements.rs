//! Sentences that a user acts on: each is true where it stands, and is missing where it would not be.

use crate::demo;
use quietseat::physics::parts::{Coil, Voltage};
use quietseat::physics::valve::magnet::ring_flux_share;
use quietseat::simulate::recorder::CHANNELS;
use quietseat::study::by_hand::{by_hand, objection};
use quietseat::study::coil_voltage::{estimated_rating, far_from_rated};
use quietseat::study::disturbed::{Disturbance, amend};
use quietseat::study::examine::examine;
use quietseat::study::examined::Examined;
use quietseat::study::opening::may_bang;
use quietseat::verdict::{Behaviour, Finding, Verdict};

fn run(name: &str, settings: &[&str]) -> Examined {
    examine(&demo::scenario(name, settings)).unwrap_or_else(|error| panic!("{name} {settings:?}: {error}"))
}

fn causes(name: &str, settings: &[&str]) -> String {
    may_bang(&demo::scenario(name, settings)).join("; ")
}

#[test]
fn a_bang_on_opening_is_told_to_be_not_judged_where_it_is_possible() {
    for (name, settings, cause) in [
        ("liquid-refrigerant", &[][..], "flashes, drains the line"),
        ("water-bang", &["sink.pressure=0 bar(g)"], "may run empty"),
        ("water-chatter", &[], "air pocket before the valve"),
        (
            "water-bang",
            &["valve.outlet.gas=5 cm³", "valve.outlet.gas_pressure=1 bar(a)", "valve.outlet.polytropic_exponent=1.2"],
            "air pocket behind",
        ),
        ("hot-gas", &["supply.differential=4 bar"], "as in a defrost"),
    ] {
        let said = causes(name, settings);
        assert!(said.contains(cause), "{name}: {said}");
    }
    // A full water line, air, the end of a defrost, a suction line: nothing to be said.
    for (name, settings) in [
        ("water-bang", &[][..]),
        ("glycol-plant", &[]),
        ("air-low-differential", &[]),
        ("air-low-differential", &["supply.differential=5 bar"]),
        ("hot-gas", &[]),
        ("suction-gas", &[]),
    ] {
        assert_eq!(causes(name, settings), "", "{name}");
    }
    let open = run("liquid-refrigerant", &[]);
    assert!(open.verdict.has(Behaviour::OpensFully) && open.verdict.reservation().is_some());
    // What does not open bangs nowhere.
    let shut = run("liquid-refrigerant", &["valve.coil.direct.voltage=2 V"]);
    assert!(shut.verdict.has(Behaviour::WillNotOpen) && shut.verdict.reservation().is_none(), "{:?}", shut.verdict);
}

#[test]
fn a_coil_far_from_its_voltage_is_remarked_on() {
    for name in ["water-bang", "hot-gas", "ac-ring", "ac-no-ring", "liquid-refrigerant", "air-low-differential"] {
        assert_eq!(far_from_rated(&demo::scenario(name, &[])), None, "{name}");
    }
    let said = |name: &str, settings: &[&str]| far_from_rated(&demo::scenario(name, settings)).unwrap_or_default();
    let half = said("water-bang", &["valve.coil.direct.voltage=12 V"]);
    assert!(half.contains("on 12 V") && half.contains("0.18 A") && half.contains("about 23 V"), "{half}");
    assert!(said("water-bang", &["valve.coil.direct.voltage=48 V"]).contains("about 23 V"));
    assert_eq!(said("water-bang", &["valve.coil.direct.voltage=12 V", "valve.coil.rated=12 V"]), "");
    let rated = said("ac-ring", &["valve.coil.alternating.voltage=110 V"]);
    assert!(rated.contains("rated for 230 V") && rated.contains("48 %"), "{rated}");
    assert!(said("ac-ring", &["valve.coil.alternating.voltage=260 V"]).contains("113 %"));
    let without = ["valve.coil.rated=none", "valve.coil.alternating.voltage=24 V"];
    let without = said("ac-ring", &without);
    assert!(without.contains("on 24 V") && without.contains("about 220 V"), "{without}");
    // A coil for 230 V by either law.
    let mut coil = demo::scenario("ac-ring", &[]).valve.coil;
    assert!((estimated_rating(&coil) / 230.0 - 1.0).abs() < 0.05);
    coil.supply = Voltage::Direct { voltage: 24.0 };
    assert!((estimated_rating(&coil) - (12e4_f64 * 1.3e-4 * 1600.0).sqrt()).abs() < 1e-9);
}

#[test]
fn absurd_values_are_questioned_and_impossible_ones_refused() {
    for setting in [
        "valve.coil.direct.voltage=24000 V",
        "valve.coil.resistance=0.5 ohm",
        "valve.main.mass=35 kg",
        "valve.main.lift=1 µm",
        "valve.main.seat_diameter=0.5 mm",
    ] {
        let (_, warnings) = demo::with("water-bang", &[setting]).scenario().unwrap_or_else(|p| panic!("{p}"));
        let said: String = warnings.iter().map(ToString::to_string).collect();
        assert!(said.contains("is this meant? usual are"), "{setting}: {said}");
    }
    let refused = demo::with("water-bang", &["valve.main.seat_diameter=1e-9 mm"]).scenario().expect_err("refused");
    assert!(refused.to_string().contains("cannot be computed with"), "{refused}");
    for name in demo::names() {
        let (_, warnings) = demo::open(&name).scenario().unwrap_or_else(|p| panic!("{p}"));
        assert!(!warnings.iter().any(|w| w.to_string().contains("is this meant")), "{}", name);
    }
}

/// What the figure and the CSV show is the gas at a port, a pocket included; what the table shows is the vapour cavity.
#[test]
fn an_air_pocket_is_no_cavity_by_any_name() {
    assert!(CHANNELS.iter().all(|channel| !channel.name.contains("cavity")));
    let pocket = run("water-chatter", &[]);
    let gas = pocket.record.trace.values("inlet_gas_volume");
    assert!(gas.iter().all(|volume| *volume > 1e-6), "the pocket is there");
    assert_eq!(pocket.indicators.largest_inlet_cavity, Some(0.0));
}

/// A clean pole: what the contact gives way by is no leaving of it, and the least force is that of the seated armature.
#[test]
fn a_clean_pole_does_not_hum_and_a_real_hum_is_told_in_words() {
    let clean = run("ac-ring", &["valve.coil.residual_gap=0.03 mm"]);
    assert!(!clean.verdict.has(Behaviour::Hums), "{:?}", clean.verdict);
    // A pole a hundred times as hard gives way by nothing.
    let hard = ["valve.coil.residual_gap=0.03 mm", "valve.armature.pole.stiffness=1.1e13 N/m^1.5"];
    let [least, rigid] =
        [&clean, &run("ac-ring", &hard)].map(|run| run.indicators.least_magnet_force.expect("a force"));
    assert!((least / rigid - 1.0).abs() < 0.05, "{least} N, on a rigid pole {rigid} N");
    let dirty = run("ac-ring", &["valve.coil.residual_gap=0.3 mm"]);
    let reason = &dirty.verdict.findings.iter().find(|f| f.behaviour == Behaviour::Hums).expect("it hums").reason;
    assert!(reason.starts_with("the magnet lets go 100 times a second; it needs "), "{reason}");
    assert!(run("ac-no-ring", &[]).verdict.has(Behaviour::Hums));
    assert!(!run("ac-ring", &[]).verdict.has(Behaviour::Hums));
}

#[test]
fn a_lift_is_no_more_than_full() {
    let pressed = run("water-bang", &["supply.differential=15 bar"]).indicators;
    for lift in [pressed.mean_lift, pressed.largest_lift, pressed.lift_at_shutting] {
        let lift = lift.expect("a lift");
        assert!((0.97..=1.0).contains(&lift), "{lift}");
    }
}

#[test]
fn a_knock_is_told_by_what_it_is_a_share_of() {
    for (behaviour, words) in [
        (Behaviour::OpensFully, "knocked to 30 % of full lift it chatters"),
        (Behaviour::StaysShut, "knocked to 30 % of full lift it chatters"),
        (Behaviour::FloatsSteadily, "knocked to 30 % of the lift at which it floats it chatters"),
    ] {
        let quiet = Finding { behaviour, adverse: false, margin: 2.0, reason: String::new() };
        let mut verdict = Verdict { findings: vec![quiet], ..Verdict::default() };
        let knocked = Some(Behaviour::Chatters);
        amend(&mut verdict, &Disturbance { knocked, swing: Some((0.4, 50.0)), ..Disturbance::default() });
        assert!(verdict.findings[0].reason.contains(words), "{}", verdict.findings[0].reason);
    }
}

fn told_of(run: &Examined, behaviour: Behaviour) -> &str {
    run.verdict.findings.iter().find(|f| f.behaviour == behaviour).map_or("", |f| f.reason.as_str())
}

/// A winding far above its voltage has no clean bill where no temperature is computed that would be judged.
#[test]
fn a_burning_coil_gets_no_clean_bill() {
    let stated = ["valve.coil.temperature=60 °C", "valve.coil.resistance=17.4 ohm", "valve.coil.rated=24 V"];
    let run_at = |volts: &str| run("water-bang", &[&stated[..], &[volts]].concat());
    let burnt = run_at("valve.coil.direct.voltage=230 V");
    assert!(burnt.verdict.adverse(), "{:?}", burnt.verdict);
    let reason = told_of(&burnt, Behaviour::Overheats);
    for words in ["230 V, 9.6 times the 24 V that it is rated for", "not computed", "burn"] {
        assert!(reason.contains(words), "{words}: {reason}");
    }
    assert!(!run_at("valve.coil.direct.voltage=26 V").verdict.has(Behaviour::Overheats));
    let alternating = run("ac-ring", &["valve.coil.temperature=60 °C", "valve.coil.alternating.voltage=24000 V"]);
    assert!(
        alternating.verdict.adverse() && told_of(&alternating, Behaviour::Overheats).contains("100 times the 230 V")
    );
    // Remarked on by as much as it is too much.
    let far =
        far_from_rated(&demo::scenario("ac-ring", &["valve.coil.alternating.voltage=24000 V"])).unwrap_or_default();
    assert!(far.contains("11000 times"), "{far}");
}

#[test]
fn faults_come_before_notes_and_nothing_is_next_to_nothing() {
    let findings = run("ac-no-ring", &[]).verdict.findings;
    let adverse: Vec<bool> = findings.iter().map(|f| f.adverse).collect();
    assert_eq!(findings[1].behaviour, Behaviour::Hums, "{findings:?}");
    assert!(adverse[1..].windows(2).all(|pair| pair[0] || !pair[1]), "{findings:?}");
    let reason = &findings[1].reason;
    assert!(reason.contains("in a period is next to nothing") && reason.contains("bounces included"), "{reason}");
    assert!(!reason.contains("e-"), "{reason}");
}

/// The ring's current keeps the flux out of its face where the gap is nearly shut.
#[test]
fn a_ring_at_too_small_a_gap_is_told_to_be_weak() {
    let mut coil = demo::scenario("ac-ring", &[]).valve.coil;
    // By hand at 0.02 mm: R_ring·R_1 = 36.2 1/s, R_ring·R_2 = 44.2 1/s, ω = 314.2 1/s.
    let share = |coil: &Coil, gap: f64| ring_flux_share(coil, gap, 50.0);
    assert!((share(&coil, 2e-5) - 36.2 / 314.2_f64.hypot(44.2)).abs() < 1e-3);
    assert!(share(&coil, 2e-5) < share(&coil, 6e-5) && share(&coil, 6e-5) < share(&coil, 2e-4));
    let clean = run("ac-ring", &["valve.coil.residual_gap=0.02 mm"]);
    assert!(told_of(&clean, Behaviour::Hums).contains("the ring is weak"), "{:?}", clean.verdict);
    let dirty = run("ac-ring", &["valve.coil.residual_gap=0.3 mm"]);
    assert!(dirty.verdict.has(Behaviour::Hums) && !told_of(&dirty, Behaviour::Hums).contains("ring"));
    coil.shading_ring = None;
    assert_eq!(share(&coil, 2e-5), 1.0);
}

#[test]
fn noise_has_no_rate() {
    let mut seen = 0;
    for (name, settings) in [
        ("water-bang", &[][..]),
        ("ac-ring", &[]),
        ("ac-no-ring", &[]),
        ("suction-gas", &[]),
        ("hot-gas", &[]),
        ("water-bang", &["valve.bleed.diameter=10 mm"]),
    ] {
        let found = run(name, settings).indicators;
        if found.oscillation.is_some_and(|swing| swing < 1e-3) {
            seen += 1;
            assert_eq!(found.oscillation_rate, None, "{name}: {:?}", found.oscillation);
        }
    }
    assert!(seen > 1);
}

#[test]
fn what_did_not_open_does_not_close() {
    let shut = run("water-bang", &["valve.bleed.diameter=10 mm"]);
    assert!(shut.verdict.has(Behaviour::StaysShut), "{:?}", shut.verdict);
    for closing in [Behaviour::BoilsAtClosing, Behaviour::ClosesHard] {
        assert!(!shut.verdict.has(closing), "{:?}", shut.verdict);
    }
    let backwards = run("water-bang", &["supply.differential=-1 bar"]);
    let reason = told_of(&backwards, Behaviour::PassesBackwards);
    // It is without current that the outlet lifts it.
    let [energised, after] =
        [backwards.indicators.largest_lift, backwards.indicators.lift_at_end].map(Option::unwrap_or_default);
    assert!(energised < 0.01 && after > 0.4, "{energised}, {after}");
    assert!(reason.contains("energised the main stage stays on its seat, but without current"), "{reason}");
}

/// The margin belongs to the limit that is named; without a fault the verdict says how far, or that nothing was judged.
#[test]
fn hammer_is_told_with_its_own_limit_and_quiet_with_its_distance() {
    let reason = |settings: &[&str]| {
        let verdict = run("water-bang", settings).verdict;
        let hammers = verdict.findings.into_iter().find(|f| f.behaviour == Behaviour::Hammers).expect("it hammers");
        (hammers.margin, hammers.reason)
    };
    let (margin, said) = reason(&["limits.peak_pressure=10 bar(a)"]);
    assert!(margin > 5.0 && said.contains("the limit is 10 bar(a)"), "{margin}: {said}");
    let (margin, said) = reason(&["limits.peak_pressure=5 bar(a)", "limits.surge=none"]);
    assert!(margin == 1.0 && said.contains("does not lie above the pressure at rest"), "{margin}: {said}");
    let quiet = run("water-closing", &["valve.bleed.diameter=0.85 mm"]).verdict;
    assert!(!quiet.has(Behaviour::Hammers));
    let told = quietseat::output::json::verdict_part(&quiet).no_hammer.expect("a line");
    assert!(told.starts_with("does not hammer: highest at closing 10.2") && told.contains("limit 11.01"), "{told}");
    let text = quietseat::output::text::verdict_text(&quiet, 100, quietseat::output::text::Colouring::Plain);
    assert!(text.contains("· does not hammer: highest at closing"), "{text}");
    let free = run("water-closing", &["limits.peak_pressure=none"]).verdict;
    assert!(!free.has(Behaviour::Hammers));
    assert!(free.no_hammer.is_some_and(|said| said.contains("no limit is stated")));
}

/// What the coil does and what the spring does of a direct-operated valve whose outlet is above its inlet: the spring holds up to
/// (F_0 + m·g)/A_s = (2.5 + 0.137) N/7.07 mm² = 3.73 bar by hand, and beyond it the run shows the armature swing without current.
#[test]
fn a_direct_operated_valve_passes_backwards_by_its_coil_and_beyond_its_spring() {
    for (bar, seat, spring, again) in [
        ("-0.02", "100 s/m", "its spring holds it shut", 0.0..0.05),
        ("-0.5", "2.5 s/m", "yet after it has shut it opens again", 0.05..1.01),
        ("-4.2", "2.5 s/m", "without current too it is lifted", 0.05..1.01),
    ] {
        let settings = [
            "sink.pressure=6 bar(g)",
            &format!("supply.differential={bar} bar"),
            &format!("valve.main.seat.dissipation={seat}"),
        ];
        let examined = run("water-direct", &settings);
        let leading = examined.verdict.leading().expect("a finding");
        assert_eq!(leading.behaviour, Behaviour::PassesBackwards, "{bar} bar: {}", leading.reason);
        for words in ["energised it is open and passes backwards", spring, "3.731 bar"] {
            assert!(leading.reason.contains(words), "{bar} bar: {}", leading.reason);
        }
        let seen = examined.indicators.reopened_lift.expect("it met its seat");
        assert!(again.contains(&seen), "{bar} bar: {seen}");
    }
}

/// No word of parts that such a valve does not have.
#[test]
fn a_direct_operated_valve_is_told_in_its_own_words() {
    for settings in [&[][..], &["supply.differential=12 bar"], &["duty.cycle_rate=5 1/s"], &["duty.on_fraction=4 %"]] {
        for finding in run("water-direct", settings).verdict.findings {
            for word in ["main stage", "pilot", "bleed", "chamber"] {
                assert!(!finding.reason.contains(word), "{settings:?}: {}", finding.reason);
            }
        }
    }
}

/// A forced lift in its own words: what it lacks is the pull at either of its two gaps, the stroke, or nothing.
#[test]
fn a_forced_lift_is_told_in_its_own_words() {
    let cases: [(&[&str], Behaviour, &[&str]); 6] = [
        (&[], Behaviour::OpensFully, &["drawn there by its link", "comes to the pole and stays"]),
        (
            &["valve.coil.direct.voltage=12 V"],
            Behaviour::WillNotOpen,
            &["cannot draw the main stage off its own", "2.264 N"],
        ),
        (&["valve.coil.direct.voltage=8 V"], Behaviour::WillNotOpen, &["does not leave the pilot seat"]),
        (&["valve.armature.stroke=3.5 mm"], Behaviour::HangsFromLink, &["at 77 % of its lift", "a stroke of 4.32 mm"]),
        (&["supply.differential=-0.15 bar"], Behaviour::PassesBackwards, &["energised it is open", "0.256 bar"]),
        (&["supply.differential=13 bar"], Behaviour::WillNotOpen, &["and the differential is 13 bar"]),
    ];
    for (settings, behaviour, words) in cases {
        let verdict = run("water-forced-lift", settings).verdict;
        let leading = verdict.leading().expect("a finding");
        assert_eq!(leading.behaviour, behaviour, "{settings:?}: {}", leading.reason);
        for word in words {
            assert!(leading.reason.contains(word), "{settings:?}: {word}: {}", leading.reason);
        }
    }
}

#[test]
fn by_hand_it_is_told_that_a_valve_will_not_open() {
    let told = |name: &str, settings: &[&str]| {
        let scenario = demo::scenario(name, settings);
        objection(&scenario, &by_hand(&scenario).expect("a sound scenario")).unwrap_or_default()
    };
    assert_eq!(told("water-direct", &[]), "");
    assert_eq!(told("water-bang", &[]), "");
    assert_eq!(told("water-forced-lift", &[]), "");
    assert!(told("water-forced-lift", &["valve.coil.direct.voltage=12 V"]).contains("only a differential can open it"));
    assert!(told("water-direct", &["supply.differential=12 bar"]).contains("at most, and the circuit has 12 bar"));
    assert!(told("water-direct", &["valve.armature.preload=30 N"]).contains("even without a differential"));
    assert!(told("ac-ring", &["supply.differential=30 bar"]).contains("by its mean pull"));
}

/// A light spring does not hold the seat against what a collapsing cavity throws at it; a servo valve's inlet pressure does.
#[test]
fn a_valve_that_the_line_opens_again_is_told() {
    let told = |name: &str| {
        let reasons: Vec<String> = run(name, &[]).verdict.findings.into_iter().map(|finding| finding.reason).collect();
        reasons.join("; ").contains("after it has shut the armature opens again")
    };
    assert!(told("water-direct") && !told("water-bang"));
}

/// Of a normally open valve nothing is told that holds for the other function: it opens without current, and is energised to shut.
#[test]
fn a_normally_open_valve_is_told_in_its_own_words() {
    for name in ["water-normally-open", "water-drain"] {
        for settings in [
            &[][..],
            &["supply.differential=14 bar"],
            &["duty.cycle_rate=8 1/s"],
            &["run.longest_off=5 ms"],
            &["run.longest_on=2 ms"],
            &["valve.coil.direct.voltage=5 V"],
        ] {
            let verdict = run(name, settings).verdict;
            let reasons: Vec<String> =
                verdict.findings.into_iter().map(|f| f.reason).chain(verdict.not_judged).collect();
            for reason in reasons {
                for words in [
                    "ms energised the lift",
                    "without current the main stage still",
                    "without current the armature still",
                ] {
                    assert!(!reason.contains(words), "{name} {settings:?}: {reason}");
                }
                for words in ["magnet can lift", "run.longest_on: the lift", "comes to the pole", "off-time ends"] {
                    assert!(!reason.contains(words), "{name} {settings:?}: {reason}");
                }
            }
        }
    }
    let first = |settings: &[&str]| run("water-normally-open", settings).verdict.findings[0].reason.clone();
    assert!(first(&["supply.differential=14 bar"]).contains("stays shut when the current fails"));
    assert!(first(&["run.longest_off=50 ms"]).contains("without current the lift reached"));
    let weak = run("water-drain", &["valve.coil.direct.voltage=5 V"]).verdict;
    let reason = &weak.findings.iter().find(|f| f.behaviour == Behaviour::DoesNotClose).expect("a finding").reason;
    assert!(reason.contains("energised the armature still stands") && reason.contains("has not come down"), "{reason}");
}

#[test]
fn by_hand_it_is_told_what_spring_and_magnet_of_a_normally_open_valve_cannot_do() {
    let told = |settings: &[&str]| {
        let scenario = demo::scenario("water-normally-open", settings);
        objection(&scenario, &by_hand(&scenario).expect("a sound scenario")).unwrap_or_default()
    };
    assert_eq!(told(&[]), "");
    assert!(told(&["supply.differential=13 bar"]).contains("stays shut without current"), "{}", told(&[]));
    assert!(told(&["valve.armature.preload=0 N", "valve.armature.spring_rate=0 N/m"]).contains("even without"));
    assert!(told(&["valve.coil.direct.voltage=10 V"]).contains("over the full gap"));
    let stiff =
        ["valve.armature.preload=0.3 N", "valve.armature.spring_rate=200 N/mm", "valve.armature.pole_clearance=0.8 mm"];
    assert!(told(&stiff).contains("at the shut seat"), "{}", told(&stiff));
}
