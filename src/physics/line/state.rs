//! A line at the state about which it is linearised: impedance, friction, what its volume and its mass hold.

use super::heard::Heard;
use super::resistance::Resistance;
use super::shear::Shear;
use super::wall_layer::{Regime, WallLayer};
use crate::physics::parts::Line;
use crate::portable::Portable;
use nalgebra::Complex;

/// A line at the state about which it is linearised.
#[derive(Clone, Debug)]
pub struct LineState {
    /// Density ρ, kg/m³.
    pub density: f64,
    /// Cross-section A, m².
    pub area: f64,
    /// Wave speed a, m/s.
    pub wave_speed: f64,
    /// Length L, m.
    pub length: f64,
    /// Pressure from which pressures in the line are counted, Pa absolute.
    pub datum: f64,
    /// Friction of the wall, all of it.
    pub wall: Resistance,
    /// The layer at the wall.
    pub layer: WallLayer,
    /// How the flow beside that layer moves.
    pub regime: Regime,
    /// Friction of changing flow by that layer, all of it.
    pub shear: Shear,
    /// Fittings, entrance, exit, strainer, check valve, throttle and the supply's own droop: all at the far end.
    pub end: Resistance,
}

impl LineState {
    /// A line filled with fluid of that density (kg/m³) and viscosity (Pa·s), pressures counted from `datum`; `extra` is
    /// added at the far end, `heat_ratio` is a gas's ratio of heat capacities γ.
    ///
    /// ```text
    /// wall: linear = 128·μ·L/(π·D⁴·ρ), turbulent = λ·(L/D)/(2·ρ·A²)       end: local = K/(2·ρ·A²) + extra, with what the fittings lose
    /// ```
    ///
    /// Source: Darcy-Weisbach and Hagen-Poiseuille laws (textbooks).
    pub fn new(line: &Line, density: f64, viscosity: f64, datum: f64, extra: f64, heat_ratio: Option<f64>) -> Self {
        let area = std::f64::consts::FRAC_PI_4 * line.bore * line.bore;
        let velocity_head = 1.0 / (2.0 * density * area * area);
        let layer = WallLayer {
            kinematic_viscosity: viscosity / density,
            radius: 0.5 * line.bore,
            length: line.length,
            transit: line.length / line.wave_speed,
            heat_ratio,
        };
        LineState {
            density,
            area,
            wave_speed: line.wave_speed,
            length: line.length,
            datum,
            wall: Resistance {
                linear: 128.0 * viscosity * line.length / (std::f64::consts::PI * line.bore.to_the(4) * density),
                turbulent: line.friction_factor * line.length / line.bore * velocity_head,
                ..Resistance::default()
            },
            layer,
            regime: Regime::Laminar,
            shear: Shear::new(&layer, Regime::Laminar),
            end: Resistance { local: line.loss_coefficient * velocity_head + extra, ..Resistance::default() }
                .with(line.fittings.resistance(density)),
        }
    }

    /// The same line with the layer at its wall as it is beside a steady flow (kg/s).
    pub fn beside(self, mass_flow: f64) -> Self {
        let regime = self.layer.regime(mass_flow / self.density);
        LineState { shear: Shear::new(&self.layer, regime), regime, ..self }
    }

    /// Friction of changing flow by the kernel itself, K·F(s·r²/ν) of the whole line, Pa·s/kg, with its slope by s.
    ///
    /// Zero where the line has no shear. Source: see [`super::wall_layer`].
    pub fn shear_kernel(&self, s: Complex<f64>) -> Heard {
        if self.shear == Shear::NONE {
            return Heard::constant(0.0);
        }
        let (factor, unit) = (self.layer.factor(), self.layer.diffusion_rate());
        let (value, slope) = self.regime.kernel_with_slope(s / unit);
        Heard { value: value * factor, slope: slope * (factor / unit) }
    }

    /// Wave impedance per mass flow Z = a/A, Pa·s/kg. Source: Joukowsky's Δp = ρ·a·Δv with ṁ = ρ·A·v.
    pub fn impedance(&self) -> f64 {
        self.wave_speed / self.area
    }

    /// Transit time L/a, s.
    pub fn transit(&self) -> f64 {
        self.length / self.wave_speed
    }

    /// Mass of the fluid in the line ρ·A·L, kg. Source: definition.
    pub fn mass(&self) -> f64 {
        self.density * self.area * self.length
    }

    /// Compliance of the line's volume A·L/(ρ·a²), m³/Pa. Source: definition of the wave speed.
    pub fn compliance(&self) -> f64 {
        self.area * self.length / (self.density * self.wave_speed * self.wave_speed)
    }

    /// Inertance per mass flow L/A, 1/m.
    pub fn inertance(&self) -> f64 {
        self.length / self.area
    }
}

/// Share of a line's compliance that a single volume at the valve must have so that the lumped line rings at the
/// quarter-wave frequency of the real one: 4/π². Source: own algebra from f = a/(4L) and f = 1/(2π√(I·C)).
pub const LUMPED_SHARE: f64 = 4.0 / (std::f64::consts::PI * std::f64::consts::PI);
