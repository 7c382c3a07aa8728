//! The two reference valves of the tests, in SI units: invented, but with proportions of real ones.
#![allow(dead_code)]

use quietseat::physics::fluid::{Fluid, Gas, Liquid, Phase};
use quietseat::physics::parts::*;
use quietseat::scenario::*;
use quietseat::simulate::throttle::{Ready, prepare};

/// A scenario of the tests, ready to be run.
pub(crate) fn ready(scenario: &Scenario) -> Ready {
    prepare(scenario).unwrap_or_else(|error| panic!("{}: {error}", scenario.name))
}

fn contact() -> Contact {
    Contact { stiffness: 1.5e8, dissipation: 2.5 }
}

/// Direct-current coil, 24 V, 10 W.
pub(crate) fn direct_coil() -> Coil {
    Coil {
        supply: Voltage::Direct { voltage: 24.0 },
        resistance: 57.6,
        turns: 1650.0,
        clamp_resistance: Some(1000.0),
        eddy_conductance: 4000.0,
        fixed_reluctance: 2e6,
        leakage_reluctance: 1.2e7,
        core_area: 0.785e-4,
        iron_length: 0.1,
        saturation_flux_density: 1.5,
        saturation_field: 3000.0,
        open_face_area: 0.43e-4,
        shaded_face_area: 0.355e-4,
        residual_gap: 1e-4,
        shading_ring: None,
        coercive_force: None,
        feed: Feed::default(),
        temperature: CoilTemperature::Stated { temperature: 293.15 },
    }
}

/// Alternating-current coil, 230 V 50 Hz, with a shading ring of 150 µΩ.
pub(crate) fn alternating_coil() -> Coil {
    Coil {
        supply: Voltage::Alternating { voltage: 230.0, frequency: 50.0, phase: 0.0 },
        resistance: 1600.0,
        turns: 7000.0,
        core_area: 1.3e-4,
        open_face_area: 0.66e-4,
        shaded_face_area: 0.54e-4,
        residual_gap: 0.06e-3,
        shading_ring: Some(150e-6),
        ..direct_coil()
    }
}

/// The water valve: 12 mm seat, some 3 m³/h.
pub(crate) fn water() -> Scenario {
    Scenario {
        faults: Faults::default(),
        rated_voltage: None,
        rated_frequency: None,
        name: "water".into(),
        question: "test".into(),
        data: "invented".into(),
        atmosphere: 101_325.0,
        fluid: Fluid {
            name: "water".into(),
            source: "test".into(),
            phase: Phase::Liquid(Liquid {
                density: 998.2,
                sound_speed: 1482.3,
                viscosity: 1.0016e-3,
                vapour_pressure: 2339.0,
                critical_pressure: 22.064e6,
            }),
        },
        named: None,
        valve: Valve {
            attitude: 0.0,
            coil: direct_coil(),
            armature: Armature {
                mass: 0.018,
                spring_rate: 300.0,
                preload: 1.2,
                damping: 0.5,
                friction: None,
                stroke: 0.8e-3,
                seat: contact(),
                pole: Contact { stiffness: 3e9, dissipation: 2.5 },
            },
            function: Function::NormallyClosed,
            control: ControlParts::Servo(ServoParts {
                pilot: Pilot {
                    diameter: 2e-3,
                    seat_diameter: 2.3e-3,
                    length: 12e-3,
                    discharge_coefficient: 0.65,
                    leak_gap: None,
                    restrictor_diameter: None,
                },
                bleed: Bleed { diameter: 1e-3, length: 3e-3, discharge_coefficient: 0.65, pin: None },
                leak: RingLeak::Tight,
                chamber: Chamber {
                    volume: 9e-6,
                    trapped_gas: 0.01e-6,
                    trapped_gas_pressure: 1e5,
                    polytropic_exponent: 1.0,
                    wall_conductance: 0.05,
                },
            }),
            main: MainStage {
                kind: StageKind::Diaphragm { bulge_compliance: 5e-13, bulge_resistance: 4e8 },
                effective_diameter: 36e-3,
                seat_diameter: 12e-3,
                lift: 3e-3,
                mass: 0.035,
                preload: 4.2,
                spring_rate: 600.0,
                damping: 5.0,
                curtain_coefficient: 0.7,
                bore_coefficient: 0.8,
                flow_force_factor: 0.3,
                pressure_recovery_factor: 0.9,
                critical_pressure_ratio: 0.5,
                plug_exponent: None,
                cushion: None,
                seat: contact(),
                stop: contact(),
            },
            inlet: Port { volume: 5e-6, gas: 1e-10, gas_pressure: 1e5, polytropic_exponent: 1.0 },
            outlet: Port { volume: 5e-6, gas: 1e-10, gas_pressure: 1e5, polytropic_exponent: 1.0 },
        },
        insulation: None,
        supply: Source { pressure: 6e5, droop: 0.0, pulsation: 0.0, pulsation_frequency: 0.0 },
        upstream: Line {
            length: 20.0,
            bore: 16e-3,
            wave_speed: 1300.0,
            density: None,
            friction_factor: 0.025,
            loss_coefficient: 1.0,
            segments: 4,
            model: LineModel::Auto,
            fittings: Fittings::default(),
        },
        downstream: Line {
            length: 5.0,
            bore: 16e-3,
            wave_speed: 1300.0,
            density: None,
            friction_factor: 0.025,
            loss_coefficient: 1.0,
            segments: 2,
            model: LineModel::Auto,
            fittings: Fittings::default(),
        },
        sink: Sink { pressure: 1e5, drained: 1e5, throttle: 0.0 },
        flow: None,
        duty: Duty { cycle_rate: 0.1, on_fraction: 0.5 },
        limits: Limits { peak_pressure: None, surge: None, seat_speed: 0.05, coil_temperature: None },
        run: Run { tolerance: 1e-5, longest_on: 3.0, longest_off: 5.0 },
        map: MapAxes {
            x: AxisRange { path: "supply.differential".into(), from: 1e3, to: 1e6, points: 60, logarithmic: true },
            y: AxisRange { path: "duty.cycle_rate".into(), from: 1.0 / 3600.0, to: 5.0, points: 40, logarithmic: true },
        },
    }
}

/// The same valve with its pilot in the stage, and a link of that stiffness (N/m) by which a stronger magnet of longer stroke draws the
/// stage to its stop.
pub(crate) fn forced(mut scenario: Scenario, stiffness: f64) -> Scenario {
    let link = Link { stiffness, dissipation: 2.5, free_play: 0.8e-3 };
    let v = &mut scenario.valve;
    let servo = v.servo().expect("a servo valve").clone();
    v.control = ControlParts::ForcedLift(ForcedLiftParts { servo, link });
    v.armature.stroke = v.main.lift + 0.8e-3 + 0.1e-3;
    (v.armature.mass, v.armature.damping) = (0.04, 1.0);
    // Steel on steel: that strong a magnet would press a softer pole in by a twentieth of a millimetre.
    v.armature.pole.stiffness = 1.1e11;
    v.coil = Coil {
        resistance: 14.4,
        turns: 1300.0,
        core_area: 3e-4,
        open_face_area: 1.6e-4,
        shaded_face_area: 1.4e-4,
        leakage_reluctance: 6e6,
        fixed_reluctance: 1e6,
        ..direct_coil()
    };
    scenario
}

/// The air valve that chatters at low differential, `differential` in Pa over a sink of 2 bar absolute.
pub(crate) fn air(differential: f64) -> Scenario {
    let mut s = water();
    s.name = "air".into();
    s.fluid = Fluid {
        name: "air".into(),
        source: "test".into(),
        phase: Phase::Gas(Gas::perfect(287.05, 1.4, 293.15, 1.82e-5)),
    };
    let v = &mut s.valve;
    let servo = v.servo_mut().expect("a servo valve");
    servo.pilot.diameter = 2.4e-3;
    servo.chamber.volume = 5e-6;
    v.main.kind = StageKind::Diaphragm { bulge_compliance: 0.0, bulge_resistance: 4e8 };
    v.main.effective_diameter = 28e-3;
    v.main.mass = 0.030;
    v.main.damping = 1.0;
    v.main.preload = 2.423;
    v.main.spring_rate = 242.3;
    v.main.flow_force_factor = 0.2;
    s.sink.pressure = 2e5;
    s.supply.pressure = 2e5 + differential;
    for (line, length) in [(&mut s.upstream, 6.0), (&mut s.downstream, 2.0)] {
        line.length = length;
        line.wave_speed = 343.2;
        line.loss_coefficient = 2.0;
    }
    s
}
