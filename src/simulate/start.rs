//! How a run begins: at rest, or asked to be open at an equilibrium from which the main stage has just been knocked away.

use super::coil_heat::holding;
use super::contact::lasting;
use super::recorder::Recorder;
use super::running::{FarSide, Running};
use super::settling::Settling;
use super::surroundings::{surroundings, transits};
use super::throttle::Ready;
use crate::physics::assembly::{is_lumped, pressure_scale};
use crate::physics::installation::Installation;
use crate::physics::line::far_end::EndPressure;
use crate::physics::line::waves::WaveLine;
use crate::physics::parts::{Function, Line};
use crate::physics::state::*;
use crate::physics::steady::Held;

/// Waves are kept to this share of the tolerance times the pressure scale: finer, and the noise of the steps themselves
/// would be kept as if it were waves.
const WAVE_SHARE: f64 = 1.0;

/// How a run begins.
#[derive(Clone, Copy, Debug)]
pub enum Start<'a> {
    /// Shut, no flow: without current, a normally open valve energised for long.
    AtRest,
    /// Asked to be open, in a steady state, the stage moved at once to another lift, all pressures and flows as they were.
    Knocked {
        /// The steady state.
        held: &'a Held,
        /// Lift to which the stage is moved, m.
        lift: f64,
        /// Fluxes of the magnet at the pole at the instant of the supply's phase, Wb; none: those of the steady state.
        fluxes: Option<[f64; 2]>,
    },
}

/// Assemble a scenario's valve with its winding at `temperature` (K).
pub fn install(scenario: &Ready, temperature: f64) -> Installation {
    Installation::assemble(&scenario.valve, &surroundings(scenario), temperature)
}

/// The scenario's installation with its lines filled, at rest or in the steady flow of a start.
pub(super) fn installed(scenario: &Ready, installation: Installation, start: Start<'_>, tolerance: f64) -> Running {
    let (p_s, p_k) = (scenario.supply.pressure, scenario.sink.pressure);
    let error = WAVE_SHARE * tolerance * pressure_scale(p_s, p_k);
    let pulsation = std::f64::consts::TAU * scenario.supply.pulsation_frequency;
    let supply = EndPressure {
        mean: p_s - installation.upstream.state.datum,
        amplitude: scenario.supply.pulsation,
        angular_frequency: pulsation,
    };
    let sink = EndPressure { mean: p_k - installation.downstream.state.datum, amplitude: 0.0, angular_frequency: 0.0 };
    let (flow_in, flow_out) = match start {
        Start::AtRest => (0.0, 0.0),
        Start::Knocked { held, .. } => (held.inlet_flow, held.outlet_flow),
    };
    let side = |line: &Line, state, end, flow| {
        if is_lumped(line) {
            FarSide::Lumped(end)
        } else {
            FarSide::Waves(Box::new(WaveLine::steady(state, end, line.segments, 0.0, error, flow)))
        }
    };
    let (up, down) = transits(scenario);
    Running {
        upstream: side(&scenario.upstream, &installation.upstream.state, supply, flow_in),
        downstream: side(&scenario.downstream, &installation.downstream.state, sink, -flow_out),
        energised_since: match start {
            Start::AtRest => scenario.valve.normally_open().then_some(0.0),
            Start::Knocked { .. } => None,
        },
        recorder: Recorder::new(&installation),
        settling: Settling::new(
            installation.stage.part.lift,
            p_s - p_k,
            installation.lift_off_differential(),
            up.max(down),
        )
        .held_shut(scenario.valve.normally_open()),
        near: installation.nearby(),
        installation,
    }
}

/// Fluxes of the core and of the shaded face in a normally open valve that has been energised for long, Wb: on direct voltage steady, on
/// one that comes from mains those at the phase of switching on, where a whole period ends as well. None in a normally closed one.
fn shut_fluxes(scenario: &Ready, installation: &Installation, temperature: f64) -> [f64; 2] {
    let Function::NormallyOpen(_) = installation.armature.function else { return [0.0; 2] };
    if scenario.valve.coil.supply.mains_frequency().is_some() {
        return holding(&scenario.valve, temperature).fluxes;
    }
    let mut magnet = installation.magnet.clone();
    magnet.feed(true, lasting(&magnet.coil, true).share);
    let (flux, ring_flux) = magnet.steady_flux(magnet.source(0.0).0, installation.armature.approach(0.0));
    [flux, ring_flux]
}

/// The state in which a run begins, the winding at `temperature` (K).
pub(super) fn opening_state(scenario: &Ready, running: &Running, start: Start<'_>, temperature: f64) -> [f64; STATES] {
    let Start::Knocked { held, lift, fluxes } = start else {
        let fluxes = shut_fluxes(scenario, &running.installation, temperature);
        return running.installation.shut_under(scenario.supply.pressure, scenario.sink.pressure, fluxes);
    };
    let mut y = held.y;
    running.installation.knock(&running.near, &mut y, lift);
    if let (Some([flux, ring_flux]), Some(_)) = (fluxes, scenario.valve.coil.supply.mains_frequency()) {
        (y[FLUX], y[RING_FLUX]) = (flux, ring_flux);
    }
    y
}
