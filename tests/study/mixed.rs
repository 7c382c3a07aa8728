//! A demonstration changed in kind: another kind of valve, another supply, what makes it soft, what leaks, rubs or is at fault, each now and
//! then, the same every time.

use crate::demo;
use crate::plausible::Numbers;
use quietseat::physics::parts::StageKind;
use quietseat::scenario::{Document, Scenario};

/// A change that is tried now and then: what has to be set, or none for a valve that this is not for.
struct Change {
    /// How often it is tried, share of scenarios.
    share: f64,
    /// What is set; its numbers follow from the scenario.
    settings: fn(&Scenario, &mut Numbers) -> Vec<String>,
}

/// A number about `value`, up to a factor of two either way.
fn about(value: f64, numbers: &mut Numbers) -> f64 {
    value * 2f64.powf(2.0 * numbers.share() - 1.0)
}

fn texts<const N: usize>(settings: [&str; N]) -> Vec<String> {
    settings.map(str::to_owned).to_vec()
}

/// One of some.
fn one<const N: usize>(numbers: &mut Numbers, settings: [&str; N]) -> String {
    settings[numbers.below(N)].to_owned()
}

/// What is changed, in this order: the kind first, then what belongs to it, faults last.
const CHANGES: &[Change] = &[
    Change { share: 0.2, settings: direct },
    Change { share: 0.2, settings: forced },
    Change { share: 0.3, settings: |_, _| normally_open() },
    Change { share: 0.25, settings: piston },
    Change { share: 0.25, settings: pin },
    Change { share: 0.2, settings: |_, n| vec![format!("valve.main.plug_exponent={}", about(1.5, n).max(1.0))] },
    Change { share: 0.2, settings: cushion },
    Change { share: 0.3, settings: rectifier },
    Change { share: 0.15, settings: |_, n| transformer(n) },
    Change { share: 0.2, settings: |_, n| cable(n) },
    Change { share: 0.15, settings: |_, n| economiser(n) },
    Change { share: 0.15, settings: |_, n| bounce(n) },
    Change { share: 0.3, settings: suppressor },
    Change { share: 0.2, settings: |_, n| vec![format!("valve.coil.coercive_force={} A", about(20.0, n))] },
    Change { share: 0.25, settings: |_, n| vec![format!("valve.armature.friction={} N", about(0.5, n))] },
    Change { share: 0.15, settings: |_, n| vec![format!("valve.attitude={} °", about(90.0, n))] },
    Change { share: 0.2, settings: |_, n| network(n) },
    Change { share: 0.35, settings: fault },
];

/// The armature carries the seal: a small seat, that its magnet may lift it.
fn direct(scenario: &Scenario, numbers: &mut Numbers) -> Vec<String> {
    let seat = about(3e-3, numbers).min(scenario.valve.main.seat_diameter);
    vec!["valve.kind=direct-operated".into(), format!("valve.main.seat_diameter={seat:e} m")]
}

/// A link, a stroke that is long enough for it now and then, and a stronger magnet.
fn forced(scenario: &Scenario, numbers: &mut Numbers) -> Vec<String> {
    let play = about(0.8e-3, numbers);
    let stroke = about(scenario.valve.main.lift + 1.3 * play, numbers);
    let coil = &scenario.valve.coil;
    vec![
        "valve.kind=forced-lift".into(),
        format!("valve.link.free_play={play:e} m"),
        format!("valve.link.stiffness={} N/mm", about(50.0, numbers)),
        format!("valve.armature.stroke={stroke:e} m"),
        format!("valve.coil.turns={}", 2.0 * coil.turns),
        format!("valve.coil.core_area={:e} m²", 2.0 * coil.core_area),
    ]
}

fn normally_open() -> Vec<String> {
    texts([
        "valve.function=normally-open",
        "valve.armature.preload=3.2 N",
        "valve.armature.spring_rate=2500 N/m",
        "valve.armature.pole_clearance=0.1 mm",
    ])
}

/// A piston that rubs, and what leaks past it.
fn piston(_: &Scenario, numbers: &mut Numbers) -> Vec<String> {
    let mut settings = vec![
        format!("valve.main.piston.friction={} N", about(0.5, numbers)),
        "valve.main.piston.presliding_stiffness=1e5 N/m".into(),
    ];
    match numbers.below(3) {
        0 => {}
        1 => settings.extend([
            format!("valve.main.piston.radial_clearance={:e} m", about(3e-5, numbers)),
            "valve.main.piston.land_length=8 mm".into(),
        ]),
        _ => settings.extend([
            format!("valve.main.piston.ring_orifice={:e} m", about(5e-4, numbers)),
            "valve.main.piston.ring_height=2 mm".into(),
            "valve.main.piston.ring_coefficient=0.65".into(),
        ]),
    }
    settings
}

fn pin(scenario: &Scenario, numbers: &mut Numbers) -> Vec<String> {
    let bleed = scenario.valve.servo().map_or(1e-3, |servo| servo.bleed.diameter);
    let mut settings = vec![
        format!("valve.bleed.pin.diameter={:e} m", bleed * (0.3 + 0.6 * numbers.share())),
        format!("valve.bleed.pin.lift={:e} m", scenario.valve.main.lift * (0.1 + 0.7 * numbers.share())),
    ];
    if numbers.below(2) == 0 {
        settings.push(format!("valve.bleed.pin.taper={:e} m", 0.1 * scenario.valve.main.lift));
    }
    settings
}

fn cushion(scenario: &Scenario, numbers: &mut Numbers) -> Vec<String> {
    let seat = scenario.valve.main.seat_diameter;
    vec![
        format!("valve.main.cushion.area={:e} m²", about(0.5 * seat * seat, numbers)),
        format!("valve.main.cushion.depth={:e} m", 0.4 * scenario.valve.main.lift),
        format!("valve.main.cushion.passage_diameter={:e} m", about(0.05 * seat, numbers)),
        "valve.main.cushion.discharge_coefficient=0.65".into(),
    ]
}

/// Behind a rectifier, on either side of it; a winding for alternating voltage gets one for the mean.
fn rectifier(scenario: &Scenario, numbers: &mut Numbers) -> Vec<String> {
    let way = ["bridge", "half_wave"][numbers.below(2)];
    let volts = scenario.valve.coil.supply.stated() * if way == "bridge" { 1.1 } else { 2.2 };
    let mut settings = vec![
        format!("valve.coil.{way}.voltage={volts} V"),
        format!("valve.coil.{way}.frequency={} Hz", [50, 60][numbers.below(2)]),
        format!("valve.coil.{way}.phase={} °", 360.0 * numbers.share()),
        format!("valve.coil.{way}.forward_voltage=0.8 V"),
    ];
    if scenario.valve.coil.supply.alternates() {
        settings.push(format!("valve.coil.resistance={} ohm", 7.0 * scenario.valve.coil.resistance));
        settings.push(format!("valve.coil.turns={}", 3.0 * scenario.valve.coil.turns));
        settings.extend(texts(["valve.coil.rated=none", "valve.coil.rated_frequency=none"]));
    }
    if numbers.below(2) == 0 {
        settings.push("valve.coil.contact=coil side".into());
    }
    settings
}

fn transformer(numbers: &mut Numbers) -> Vec<String> {
    vec![
        format!("valve.coil.transformer.rated_power={} VA", about(25.0, numbers)),
        "valve.coil.transformer.short_circuit_voltage=20 %".into(),
    ]
}

fn cable(numbers: &mut Numbers) -> Vec<String> {
    vec![
        format!("valve.coil.cable.length={} m", about(50.0, numbers)),
        "valve.coil.cable.cross_section=0.75 mm²".into(),
    ]
}

fn economiser(numbers: &mut Numbers) -> Vec<String> {
    vec![
        format!("valve.coil.economiser.delay={} s", about(0.1, numbers)),
        format!("valve.coil.economiser.share={} %", 20.0 + 70.0 * numbers.share()),
    ]
}

fn bounce(numbers: &mut Numbers) -> Vec<String> {
    vec![
        format!("valve.coil.bounce.count={}", 1 + numbers.below(5)),
        format!("valve.coil.bounce.duration={} ms", about(3.0, numbers)),
    ]
}

fn suppressor(scenario: &Scenario, numbers: &mut Numbers) -> Vec<String> {
    let clamp = format!("valve.coil.clamp_voltage={} V", about(3.0 * scenario.valve.coil.supply.stated(), numbers));
    vec![one(numbers, [clamp.as_str(), "valve.coil.suppressor_diode=0.8 V", "valve.coil.arc_voltage=600 V"])]
}

fn network(numbers: &mut Numbers) -> Vec<String> {
    let mut settings = texts([
        "valve.coil.network.ambient=40 °C",
        "valve.coil.network.medium=20 °C",
        "valve.coil.network.winding_capacity=90 J/K",
        "valve.coil.network.body_capacity=330 J/K",
        "valve.coil.network.body_to_ambient=6 K/W",
        "valve.coil.network.body_to_medium=20 K/W",
    ]);
    settings.push(format!("valve.coil.network.winding_to_body={} K/W", about(3.0, numbers)));
    settings
}

/// One fault, of any size.
fn fault(scenario: &Scenario, numbers: &mut Numbers) -> Vec<String> {
    let share = 5.0 + 90.0 * numbers.share();
    let pilot = scenario.valve.servo().map_or(1e-3, |servo| servo.pilot.diameter);
    let chamber = scenario.valve.servo().map_or(1e-6, |servo| servo.chamber.volume);
    let volts = scenario.valve.coil.supply.stated();
    let fault = match numbers.below(13) {
        0 => format!("cracked_ring={share} %"),
        1 => format!("pole_dirt={:e} m", scenario.valve.armature.stroke * 0.003 * share),
        2 => format!("weak_armature_spring={share} %"),
        3 => format!("weak_main_spring={share} %"),
        4 => format!("stuck_armature={} N", about(4.0, numbers)),
        5 => format!("clogged_bleed={share} %"),
        6 => format!("worn_bleed={share} %"),
        7 => format!("torn_diaphragm={:e} m", about(pilot, numbers)),
        8 => format!("worn_ring={share} %"),
        9 => format!("leaking_pilot={:e} m", about(5e-5, numbers)),
        10 => format!("air_bound_chamber={:e} m³", 0.008 * share * chamber),
        11 => format!("magnetised_armature={} A", about(60.0, numbers)),
        _ => format!("wrong_coil={} V", about(volts, numbers)),
    };
    vec![format!("faults.{fault}")]
}

/// A demonstration with some of the changes, each kept where what comes of it is still a scenario, and what was set.
pub(crate) fn mixed(base: &Document, numbers: &mut Numbers) -> (Document, String) {
    let (mut changed, mut said) = (base.clone(), base.name().to_owned());
    for change in CHANGES {
        let wanted = numbers.share() < change.share;
        let Some((scenario, _)) = changed.scenario().ok().filter(|_| wanted) else { continue };
        let settings = (change.settings)(&scenario, numbers);
        let tried = settings.iter().try_fold(changed.clone(), |document, setting| document.with_setting(setting));
        let tried = tried.unwrap_or_else(|problem| panic!("{settings:?}: {problem}"));
        if tried.scenario().is_ok() {
            changed = tried;
            settings.iter().for_each(|setting| said.push_str(&format!(" --set '{setting}'")));
        }
    }
    (changed, said)
}

/// One with a plain setting, as the tests of it need.
#[test]
fn every_change_is_taken_by_some_demonstration() {
    let never: Vec<usize> = (0..CHANGES.len())
        .filter(|&change| {
            !demo::names().iter().any(|name| {
                let (document, mut numbers) = (demo::open(name), Numbers::new(1));
                let settings = (CHANGES[change].settings)(&demo::read(&document), &mut numbers);
                demo::set(&document, &settings).scenario().is_ok()
            })
        })
        .collect();
    assert!(never.is_empty(), "{never:?}");
}

/// A piston has no bulge, so that what leaks past it is not lost on the way.
#[test]
fn a_piston_takes_the_place_of_a_diaphragm() {
    let mut numbers = Numbers::new(3);
    let base = demo::open("water-bang");
    let settings = piston(&demo::read(&base), &mut numbers);
    let stage = demo::read(&demo::set(&base, &settings)).valve.main.kind;
    assert!(matches!(stage, StageKind::Piston { .. }), "{stage:?}");
}
