//! From parts to an installation: areas, cells, passages and lines at the state of the fluid.

use super::fluid::{Fluid, Phase, fluid_at};
use super::installation::Installation;
use super::line::{LUMPED_SHARE, LineEnd, LineState, Resistance};
use super::parts::{Line, LineModel, Port, Sink, Source, Valve};
use super::restriction::series;
use super::state::*;
use super::valve::armature::InstalledArmature;
use super::valve::cell::Cell;
use super::valve::control::Control;
use super::valve::magnet::Magnet;
use super::valve::main_stage::Stage;
use crate::portable::Portable;

/// A line crossed by the wave in less than this is lumped (s): the fastest motion resolved by a wave line, the armature's
/// and the stage's flight over their stroke, takes some milliseconds; contact at the seat is shorter, but its wave
/// averages out over the port. Shortening it costs steps, lengthening it loses ripples of a/(4L) below some 800 Hz.
pub const LUMPED_TRANSIT: f64 = 3e-4;

/// The differential below which flow is laminar-like, as a share of the supply's absolute pressure (2 Pa at 2 bar).
const BLEND_SHARE: f64 = 1e-5;

/// Halvings of the bracket of the open valve's flow: to 10⁻⁴, and nothing depends on its Reynolds number more closely.
const OPEN_FLOW_HALVINGS: usize = 14;

/// Everything that surrounds and fills a valve.
#[derive(Clone, Copy, Debug)]
pub struct Surroundings<'a> {
    /// Fluid.
    pub fluid: &'a Fluid,
    /// Supply.
    pub supply: &'a Source,
    /// Line from the supply.
    pub upstream: &'a Line,
    /// Line to the sink.
    pub downstream: &'a Line,
    /// Sink.
    pub sink: &'a Sink,
}

/// Density of the fluid at the far end of a line, whose pressure is `pressure` (Pa absolute), kg/m³: its own, where a gas has
/// been throttled, else as [`fluid_at`].
pub fn density_in(line: &Line, fluid: &Fluid, pressure: f64) -> f64 {
    line.density.unwrap_or_else(|| fluid_at(fluid, pressure).0)
}

/// Is this line lumped? Source: own choice, see [`LUMPED_TRANSIT`].
pub fn is_lumped(line: &Line) -> bool {
    match line.model {
        LineModel::Lumped => true,
        LineModel::Waves => false,
        LineModel::Auto => line.length / line.wave_speed < LUMPED_TRANSIT,
    }
}

/// The upstream and the downstream line at their own states, with droop and throttle at their far ends. Liquids count
/// pressure from the sink's, each gas line from its own end's.
pub fn line_states(around: &Surroundings<'_>) -> (LineState, LineState) {
    let (p_s, p_k) = (around.supply.pressure, around.sink.pressure);
    let (up_datum, heat_ratio) = match &around.fluid.phase {
        Phase::Gas(g) => (p_s, Some(g.heat_capacity_ratio)),
        Phase::Liquid(_) => (p_k, None),
    };
    let (_, _, mu) = fluid_at(around.fluid, p_s);
    let rho_u = density_in(around.upstream, around.fluid, p_s);
    let rho_d = density_in(around.downstream, around.fluid, p_k);
    (
        LineState::new(around.upstream, rho_u, mu, up_datum, around.supply.droop, heat_ratio),
        LineState::new(around.downstream, rho_d, mu, p_k, around.sink.throttle, heat_ratio),
    )
}

/// Steady mass flow through both lines and the fully open valve, kg/s; none against the flow's way.
///
/// Losses in series: P_s − Δp_up(ṁ) is the inlet's pressure, P_k + Δp_down(ṁ) the outlet's, and between the two the valve
/// passes ṁ. What the valve would pass falls as ṁ rises, so the root is bracketed. Source: definition.
pub fn open_flow(stage: &Stage, up: &LineState, down: &LineState, p_s: f64, p_k: f64) -> f64 {
    let passes = |flow: f64| {
        let p_1 = p_s - up.wall.with(up.end).loss(flow);
        let p_2 = p_k + down.wall.with(down.end).loss(flow);
        if p_1 > p_2 { stage.throughflow(stage.part.lift, p_1, p_2).mass_flow } else { 0.0 }
    };
    let (mut low, mut high) = (0.0, passes(0.0));
    for _ in 0..OPEN_FLOW_HALVINGS {
        let middle = 0.5 * (low + high);
        if passes(middle) > middle { low = middle } else { high = middle }
    }
    0.5 * (low + high)
}

/// Differential whose share `tolerance` is the allowed error of pressures, Pa: the circuit's, but neither so small that
/// ripples without any meaning are followed, nor so large that a float is lost.
pub fn pressure_scale(p_s: f64, p_k: f64) -> f64 {
    (p_s - p_k).abs().clamp(0.25e5, 1e5)
}

impl Installation {
    /// Assemble a valve between its lines, with its winding at `temperature` (K).
    pub fn assemble(valve: &Valve, around: &Surroundings<'_>, temperature: f64) -> Self {
        let (p_s, p_k) = (around.supply.pressure, around.sink.pressure);
        let stage = Stage::new(&Control::main_stage(valve), around.fluid, BLEND_SHARE * p_s.max(p_k));
        let (up, down) = line_states(around);
        let flow = open_flow(&stage, &up, &down, p_s, p_k);
        let (up, down) = (up.beside(flow), down.beside(flow));
        let ends = [(&up, around.upstream, &valve.inlet), (&down, around.downstream, &valve.outlet)];
        let [inlet, outlet] = ends.map(|(state, line, port)| port_cell(around.fluid, state, line, port));
        let mut this = Installation {
            magnet: Magnet::new(&valve.coil, valve.way_to_pole(), temperature),
            armature: InstalledArmature::new(&valve.armature, &valve.function, valve.attitude),
            stage,
            control: Control::new(valve, around.fluid, p_s),
            inlet,
            outlet,
            upstream: line_end(around.upstream, up),
            downstream: line_end(around.downstream, down),
            pressure_scale: pressure_scale(p_s, p_k),
            scales: STATE_TABLE.map(|(_, scale)| scale),
        };
        this.set_scales(p_s, p_k, fluid_at(around.fluid, p_s).0);
        this
    }

    /// Usual sizes of the states whose size depends on the installation.
    fn set_scales(&mut self, p_s: f64, p_k: f64, density: f64) {
        let drop = pressure_scale(p_s, p_k);
        let full = series(self.stage.restrictions(self.stage.part.lift)) * (2.0 * density * drop).sqrt();
        let by_pressure = |cell: &Cell| drop / cell.pressure_slope(cell.content(p_s));
        self.control.set_scales(&mut self.scales, self.armature.part.stroke, p_s, drop, density);
        self.scales[INLET] = by_pressure(&self.inlet);
        self.scales[OUTLET] =
            drop / self.outlet.pressure_slope(self.outlet.content(p_k.max(self.outlet.vapour + drop)));
        self.inlet.look_from(p_s);
        self.outlet.look_from(p_k.max(self.outlet.vapour + drop));
        self.scales[UPSTREAM_FLOW] = if self.upstream.lumped { full } else { f64::INFINITY };
        self.scales[DOWNSTREAM_FLOW] = if self.downstream.lumped { full } else { f64::INFINITY };
        self.scales[BULGE] = 1e-3 * self.stage.effective_area * self.stage.part.lift;
        self.scales[LIFT] = self.stage.part.lift;
        let flux = self.magnet.coil.core_area * self.magnet.coil.saturation_flux_density;
        self.scales[FLUX] = 0.3 * flux;
        self.scales[RING_FLUX] = if self.magnet.coil.shading_ring.is_some() { 0.1 * flux } else { f64::INFINITY };
    }
}

fn vapour_pressure(fluid: &Fluid) -> f64 {
    match &fluid.phase {
        Phase::Liquid(l) => l.vapour_pressure,
        Phase::Gas(_) => 0.0,
    }
}

/// The body cavity at a port with, for a lumped line, that line's share of compliance. In gas service the gas itself is
/// the compliance, and only a trace of the cavity's law stays, to keep the pressure above zero.
fn port_cell(fluid: &Fluid, state: &LineState, line: &Line, port: &Port) -> Cell {
    let sound_speed = match &fluid.phase {
        Phase::Liquid(liquid) => liquid.sound_speed,
        Phase::Gas(_) => state.wave_speed,
    };
    let mut compliance = port.volume / (state.density * sound_speed.to_the(2));
    if is_lumped(line) {
        compliance += LUMPED_SHARE * state.compliance();
    }
    match fluid.phase {
        Phase::Liquid(_) => Cell::new(
            compliance,
            state.datum,
            vapour_pressure(fluid),
            port.gas,
            port.gas_pressure,
            port.polytropic_exponent,
        ),
        Phase::Gas(_) => Cell::new(compliance, state.datum, 0.0, 1e-9 * port.volume, state.datum, 1.0),
    }
}

fn line_end(line: &Line, state: LineState) -> LineEnd {
    let lumped = is_lumped(line);
    let resistance = if lumped { state.wall.with(state.end) } else { Resistance::default() };
    LineEnd { state, resistance, lumped }
}
