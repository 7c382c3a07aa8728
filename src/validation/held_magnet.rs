//! A magnet with its armature held still, made of the project's magnet and solver.

use crate::dual::Real;
use crate::physics::parts::{Coil, CoilTemperature, Feed, Voltage};
use crate::physics::valve::magnet::{MU_0, Magnet, voltage};
use crate::portable::Portable;
use crate::solver::{Counters, Interval, Method, Settings, State, Step, StepSize, System, Then, integrate};

/// What drives the coil.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Drive {
    /// Its own supply.
    Supply,
    /// Nothing: switched off.
    None,
}

/// Temperature at which the winding has its stated resistance, K.
pub(super) const COLD: f64 = 293.15;

/// A coil with one gap: no ring, leakage, saturation or eddy currents.
pub(super) fn linear_coil(area: f64, gap: f64, turns: f64, resistance: f64) -> Coil {
    Coil {
        supply: Voltage::Direct { voltage: 24.0 },
        resistance,
        turns,
        clamp_resistance: Some(0.0),
        eddy_conductance: 0.0,
        fixed_reluctance: 0.0,
        leakage_reluctance: 1e30,
        core_area: area,
        iron_length: 0.0,
        saturation_flux_density: 1.5,
        saturation_field: 3000.0,
        open_face_area: 0.5 * area,
        shaded_face_area: 0.5 * area,
        residual_gap: gap,
        shading_ring: None,
        coercive_force: None,
        feed: Feed::default(),
        temperature: CoilTemperature::Stated { temperature: COLD },
    }
}

/// Such a coil of that inductance (H) and resistance (Ω).
pub(super) fn coil_of(inductance: f64, resistance: f64, supply: Voltage) -> Coil {
    let (area, turns) = (1e-4, 1000.0);
    let gap = turns * turns * MU_0 * area / inductance;
    Coil { supply, ..linear_coil(area, gap, turns, resistance) }
}

/// The magnet for the solver: fluxes as states, squared current and pull as running integrals.
pub(super) struct HeldMagnet {
    magnet: Magnet,
    drive: Drive,
    fixed_step: Option<f64>,
    /// Fluxes and integrals now.
    pub(super) state: State<2, 2>,
    /// Ends of the steps of the last call, with the fluxes there.
    pub(super) trail: Vec<(f64, [f64; 2])>,
}

impl HeldMagnet {
    /// The magnet of a coil, cold, its armature at the gap that the coil states.
    pub(super) fn of(coil: &Coil, drive: Drive) -> Self {
        let mut magnet = Magnet::new(coil, 0.0, COLD);
        magnet.switch(drive == Drive::Supply);
        HeldMagnet { magnet, drive, fixed_step: None, state: State::at_start([0.0; 2]), trail: Vec::new() }
    }

    /// From now on equal steps.
    pub(super) fn samples_per_period(&mut self, count: usize, frequency: f64) {
        self.fixed_step = Some(1.0 / (frequency * count as f64));
    }

    /// Integrate over an interval, to 1e-11 or with the equal steps asked for.
    pub(super) fn advance(&mut self, from: f64, to: f64) -> Result<(), String> {
        self.trail.clear();
        let scale = 1e-3 * self.magnet.coil.core_area;
        let settings = Settings {
            method: Method::Rodas5P,
            relative_tolerance: 1e-11,
            absolute_tolerance: [1e-11 * scale; 2],
            most_steps: 1_000_000,
        };
        let size = self.fixed_step.map_or(StepSize::Controlled { first: Some(1e-7) }, StepSize::Fixed);
        let (mut state, mut counters) = (self.state, Counters::default());
        integrate::<4, 2, 1, 2, _>(self, Interval { from, to }, &mut state, size, &settings, &mut counters)
            .map_err(|cause| cause.to_string())?;
        self.state = state;
        Ok(())
    }

    fn supply(&self, time: f64) -> (f64, f64) {
        match self.drive {
            Drive::Supply => voltage(&self.magnet.coil.supply, time),
            Drive::None => (0.0, 0.0),
        }
    }

    /// Current at a time for a flux, A.
    pub(super) fn current_of(&self, time: f64, flux: f64) -> f64 {
        self.magnet.state(self.supply(time).0, flux, 0.0, 0.0).current
    }

    /// Current now, A.
    pub(super) fn current(&self, time: f64) -> f64 {
        self.current_of(time, self.state.y[0])
    }

    /// Mean (order 0) and amplitudes of the pull at multiples of a frequency over the last call, with `remanent` (Wb) added
    /// to the flux: whole periods in equal steps are needed.
    pub(super) fn pull_lines(&self, frequency: f64, orders: &[usize], remanent: f64) -> Vec<f64> {
        let pull =
            |&(time, y): &(f64, [f64; 2])| self.magnet.state(self.supply(time).0, y[0] + remanent, y[1], 0.0).pull;
        let pulls: Vec<f64> = self.trail.iter().map(pull).collect();
        let count = pulls.len() as f64;
        let line = |&order: &usize| {
            let (mut cosine, mut sine) = (0.0, 0.0);
            for (pull, (time, _)) in pulls.iter().zip(&self.trail) {
                let angle = std::f64::consts::TAU * frequency * order as f64 * time;
                cosine += pull * angle.cosine();
                sine += pull * angle.sine();
            }
            let size = cosine.length_with(sine) / count;
            if order == 0 { size } else { 2.0 * size }
        };
        orders.iter().map(line).collect()
    }

    /// Largest size of what is read off the fluxes at the ends of the last call's steps.
    pub(super) fn peak(&self, read: impl Fn(f64, &[f64; 2]) -> f64) -> f64 {
        self.trail.iter().map(|(time, y)| read(*time, y).abs()).fold(0.0, f64::max)
    }
}

impl System<2, 1, 2> for HeldMagnet {
    fn forcing(&self, time: f64) -> ([f64; 1], [f64; 1]) {
        let (value, slope) = self.supply(time);
        ([value], [slope])
    }

    fn rates<T: Real>(&self, forcing: &[T; 1], y: &[T; 2], rate: &mut [T; 2], integrand: &mut [T; 2]) {
        let state = self.magnet.state(forcing[0], y[0], y[1], T::constant(0.0));
        *rate = [state.flux_rate, state.ring_flux_rate];
        *integrand = [state.current.square(), state.pull];
    }

    fn longest_step(&self, _time: f64) -> f64 {
        f64::INFINITY
    }

    fn accepted(&mut self, step: &Step<'_, 2, 2>) -> Then {
        self.trail.push((step.to, *step.new_y));
        Then::Continue
    }
}
