//! The valve that is asked to be open between its lines, as a model whose stability can be asked: energised, or normally open without
//! current.

use super::model::{Model, Point};
use crate::dual::Real;
use crate::physics::installation::{Installation, Nearby};
use crate::physics::line::reflection::Reflection;
use crate::physics::parts::{Feed, StageKind, Voltage};
use crate::physics::root::falling_root;
use crate::physics::state::*;
use crate::physics::steady::{EndPressures, Held};
use crate::physics::valve::armature::ArmatureRest;
use crate::physics::valve::feed::{Path, source_resistance};
use crate::physics::valve::magnet::Magnet;
use crate::simulate::coil_heat::{holding, winding_temperature};
use crate::simulate::install;
use crate::simulate::throttle::Ready;

/// The coil of a valve that is asked to be open, as stability sees it: a winding temperature, and a direct voltage.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SteadyCoil {
    /// Winding temperature, K.
    pub temperature: f64,
    /// Voltage, V; with alternating current the direct voltage that gives the mean pull on the seated armature. Nought where the valve is
    /// normally open.
    pub voltage: f64,
    /// Is this the mean of an alternating pull?
    pub mean_of_alternating: bool,
}

impl SteadyCoil {
    /// The coil of a prepared scenario at its duty.
    pub fn of(scenario: &Ready) -> Self {
        Self::at(scenario, winding_temperature(scenario))
    }

    /// The coil of a prepared scenario with its winding at `temperature`, K.
    pub fn at(scenario: &Ready, temperature: f64) -> Self {
        let valve = &scenario.valve;
        if valve.normally_open() {
            return SteadyCoil { temperature, voltage: 0.0, mean_of_alternating: false };
        }
        if let (Voltage::Direct { voltage }, Feed { transformer: None, cable: None, economiser: None, .. }) =
            (&valve.coil.supply, &valve.coil.feed)
        {
            return SteadyCoil { temperature, voltage: *voltage, mean_of_alternating: false };
        }
        let stroke = valve.armature.stroke;
        let target = holding(valve, temperature).mean_pull;
        let mut magnet = Magnet::new(&valve.coil, stroke, temperature);
        magnet.path = Path::Resistance { series: source_resistance(&valve.coil) };
        let pull = |direct: f64| {
            let (flux, ring_flux) = magnet.steady_flux(direct, stroke);
            magnet.state(direct, flux, ring_flux, stroke).pull
        };
        let direct = falling_root(0.0, 10.0 * valve.coil.supply.stated(), |u| target - pull(u));
        let mean_of_alternating = valve.coil.supply.mains_frequency().is_some();
        SteadyCoil { temperature, voltage: direct, mean_of_alternating }
    }
}

/// A valve that is asked to be open, with its coil energised or, where it is normally open, without current, between lines whose far ends
/// are held.
#[derive(Clone, Debug)]
pub struct Energised {
    /// The installation; dry friction of a piston is left out, see [`Energised::friction_left_out`].
    pub installation: Installation,
    /// Where its pressures are looked for.
    pub(super) near: Nearby,
    /// Far ends.
    pub ends: EndPressures,
    /// Coil.
    pub coil: SteadyCoil,
    /// Stretches in which both lines' friction is lumped; none: spread evenly, as in real lines.
    segments: Option<[usize; 2]>,
    /// Was there dry friction? A piston that sticks is stable to any motion too small to break it away; what is asked here is
    /// what motions larger than that do.
    pub friction_left_out: bool,
}

impl Energised {
    /// The valve of a prepared scenario (throttle solved) with its coil.
    pub fn new(scenario: &Ready, coil: SteadyCoil) -> Self {
        let mut installation = install(scenario, coil.temperature);
        installation.magnet.switch(!scenario.valve.normally_open());
        let friction_left_out = match &mut installation.stage.part.kind {
            StageKind::Piston { friction, .. } => std::mem::take(friction) > 0.0,
            StageKind::Diaphragm { .. } => false,
        };
        // A direct voltage stands for what the rectifier gives.
        if let Path::Diodes { source, .. } = installation.magnet.path {
            installation.magnet.path = Path::Resistance { series: source };
        }
        Energised {
            near: installation.nearby(),
            installation,
            ends: EndPressures { supply: scenario.supply.pressure, sink: scenario.sink.pressure },
            coil,
            segments: None,
            friction_left_out,
        }
    }

    /// The same with the friction of its lines lumped as in the scenario's runs, so that growth is that of a run to the digit.
    pub fn as_simulated(scenario: &Ready, coil: SteadyCoil) -> Self {
        let segments = Some([scenario.upstream.segments, scenario.downstream.segments]);
        Energised { segments, ..Self::new(scenario, coil) }
    }

    /// Steady state with the stage held at a lift, m.
    pub fn held_at(&self, lift: f64, armature: ArmatureRest) -> Held {
        self.installation.held_at(&self.near, lift, self.ends, armature, self.coil.voltage)
    }

    /// The model about a steady state.
    pub fn about<'a>(&'a self, held: &Held) -> AboutSteady<'a> {
        let ends = [&self.installation.upstream, &self.installation.downstream];
        let flows = [held.inlet_flow, held.outlet_flow];
        let lines = std::array::from_fn(|k| {
            (!ends[k].lumped).then(|| match self.segments {
                None => Reflection::spread(&ends[k].state, flows[k]),
                Some(segments) => Reflection::lumped(&ends[k].state, segments[k], flows[k]),
            })
        });
        AboutSteady { energised: self, forcing: held.forcing, lines }
    }
}

/// A valve with its lines linearised about one of its steady states.
#[derive(Clone, Debug)]
pub struct AboutSteady<'a> {
    energised: &'a Energised,
    forcing: [f64; FORCINGS],
    lines: [Option<Reflection>; 2],
}

impl AboutSteady<'_> {
    /// The steady state as a point of the model.
    pub fn point(&self, held: &Held) -> Point<STATES, 2> {
        Point { y: held.y, arriving: [held.forcing[FROM_UPSTREAM], held.forcing[FROM_DOWNSTREAM]] }
    }
}

impl Model<STATES, 2> for AboutSteady<'_> {
    fn rates<T: Real>(&self, arriving: &[T; 2], y: &[T; STATES], rate: &mut [T; STATES], flow: &mut [T; 2]) {
        let forcing = [T::constant(self.forcing[VOLTAGE]), arriving[0], arriving[1]];
        let mut flux = [T::constant(0.0); INTEGRALS];
        self.energised.installation.evaluate(&self.energised.near, &forcing, y, rate, &mut flux);
        *flow = [flux[INLET_MASS], -flux[OUTLET_MASS]];
    }

    fn lines(&self) -> [Option<Reflection>; 2] {
        self.lines.clone()
    }

    fn scales(&self) -> [f64; STATES] {
        self.energised.installation.scales
    }

    fn pressure_scale(&self) -> f64 {
        self.energised.installation.pressure_scale
    }
}
