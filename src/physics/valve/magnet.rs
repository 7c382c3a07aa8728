//! The magnet: from coil voltage and armature position to flux, current and pull.

use super::copper::winding_resistance;
use super::feed::{Path, open_circuit_factor};
use crate::dual::Real;
use crate::physics::parts::{Coil, Voltage};
use crate::portable::Portable;

/// Permeability of free space μ_0, H/m. Source: SI before 2019, 4π·10⁻⁷ exactly; today's value differs by 5·10⁻¹⁰.
pub const MU_0: f64 = 4e-7 * std::f64::consts::PI;

/// The magnet's circuit at one winding temperature, switched on or off.
#[derive(Clone, Debug)]
pub struct Magnet {
    /// The coil.
    pub coil: Coil,
    /// Way of the armature to the pole, m: the gap is the residual gap where the armature has made all of it.
    pub stroke: f64,
    /// Winding resistance when hot, Ω.
    pub winding: f64,
    /// What the winding's ends are connected to now.
    pub path: Path,
    /// Source voltage without a load over the stated one, now: nought while the contact is open.
    pub level: f64,
}

/// What the magnet does at one instant.
#[derive(Clone, Copy, Debug)]
pub struct MagnetState<T> {
    /// dφ_t/dt, V per turn.
    pub flux_rate: T,
    /// dφ_2/dt, V.
    pub ring_flux_rate: T,
    /// Coil current, A.
    pub current: T,
    /// Voltage at the winding's ends, V.
    pub voltage: T,
    /// Current out of the source, A.
    pub drawn: T,
    /// Heat in winding and circuit, W.
    pub circuit_heat: T,
    /// Pull on the armature, N.
    pub pull: T,
    /// Heat in eddy currents and ring, W.
    pub iron_loss: T,
}

/// Pull of a magnet whose core is saturated, N.
///
/// ```text
/// F = (B_s·A_core)²/(2·μ_0·(A_1 + A_2))
/// ```
///
/// A round upper value: past saturation the flux still creeps up. Source: Maxwell's stress on both faces, as in [`Magnet::state`].
pub fn saturated_pull(coil: &Coil) -> f64 {
    let flux = coil.saturation_flux_density * coil.core_area;
    flux * flux / (2.0 * MU_0 * (coil.open_face_area + coil.shaded_face_area))
}

/// Voltage and its slope at a time after switching on, V and V/s; behind a rectifier what it passes, its own fall not counted.
///
/// ```text
/// bridge |√2·U·sin(ωt + φ)|      half wave max(√2·U·sin(ωt + φ), 0)      of two slopes at a zero, the one that follows
/// ```
///
/// Source: definition of the supply.
pub fn voltage(supply: &Voltage, time: f64) -> (f64, f64) {
    match *supply {
        Voltage::Direct { voltage } => (voltage, 0.0),
        Voltage::Alternating { voltage, frequency, phase } => alternating(voltage, frequency, phase, time),
        Voltage::Bridge { voltage, frequency, phase, .. } => {
            let (value, slope) = alternating(voltage, frequency, phase, time);
            if is_positive_half(frequency, phase, time) { (value.max(0.0), slope) } else { ((-value).max(0.0), -slope) }
        }
        Voltage::HalfWave { voltage, frequency, phase, .. } => {
            let (value, slope) = alternating(voltage, frequency, phase, time);
            if is_positive_half(frequency, phase, time) { (value.max(0.0), slope) } else { (0.0, 0.0) }
        }
    }
}

fn alternating(voltage: f64, frequency: f64, phase: f64, time: f64) -> (f64, f64) {
    let omega = std::f64::consts::TAU * frequency;
    let peak = voltage * std::f64::consts::SQRT_2;
    let (sine, cosine) = (omega * time + phase).sine_and_cosine();
    (peak * sine, peak * omega * cosine)
}

/// Nearer to a zero of the voltage than this share of a half wave is at it: far below what a voltage is told by.
const AT_ZERO: f64 = 1e-9;

/// Half waves passed since a rising zero.
fn half_waves(frequency: f64, phase: f64, time: f64) -> f64 {
    2.0 * frequency * time + phase / std::f64::consts::PI
}

fn is_positive_half(frequency: f64, phase: f64, time: f64) -> bool {
    (half_waves(frequency, phase, time) + AT_ZERO).floor().rem_euclid(2.0) == 0.0
}

/// Time from one instant after switching on to the next at which a rectified voltage turns sharply, s. Source: its definition.
pub fn next_turn(supply: &Voltage, time: f64) -> f64 {
    match *supply {
        Voltage::Direct { .. } | Voltage::Alternating { .. } => f64::INFINITY,
        Voltage::Bridge { frequency, phase, .. } | Voltage::HalfWave { frequency, phase, .. } => {
            let passed = half_waves(frequency, phase, time);
            ((passed + AT_ZERO).floor() + 1.0 - passed) / (2.0 * frequency)
        }
    }
}

/// Flux in the ring's face over that in the open face, amplitudes, at a gap (m) and a frequency (Hz); one without a ring.
///
/// ```text
/// φ_2/φ_1 = R_ring·R_1/√(ω² + (R_ring·R_2)²)      R_k = g/(μ0·A_k)
/// ```
///
/// It falls with the gap: the ring's inductance 1/R_2 then outweighs its resistance 1/R_ring, and its current keeps the flux out.
/// Source: dφ_2/dt = R_ring·(φ_1·R_1 − φ_2·R_2) of [`Magnet::state`], sinusoidal.
pub fn ring_flux_share(coil: &Coil, gap: f64, frequency: f64) -> f64 {
    coil.shading_ring.map_or(1.0, |ring| {
        let rate = |area: f64| ring * gap / (MU_0 * area);
        rate(coil.open_face_area) / (std::f64::consts::TAU * frequency).length_with(rate(coil.shaded_face_area))
    })
}

impl Magnet {
    /// The magnet with its winding at `temperature` (K), switched on.
    pub fn new(coil: &Coil, stroke: f64, temperature: f64) -> Self {
        let winding = winding_resistance(coil.resistance, temperature);
        let (path, level) = (Path::closed(coil, 1.0), open_circuit_factor(coil));
        Magnet { coil: coil.clone(), stroke, winding, path, level }
    }

    /// Switch the coil on, or off onto its suppressor.
    pub fn switch(&mut self, on: bool) {
        self.feed(on, 1.0);
    }

    /// Close the coil's contact on a share of the supply's voltage, or open it.
    pub fn feed(&mut self, closed: bool, share: f64) {
        (self.path, self.level) = if closed {
            (Path::closed(&self.coil, share), share * open_circuit_factor(&self.coil))
        } else {
            (Path::open(&self.coil), 0.0)
        };
    }

    /// Voltage of the source without a load and its slope at a time after switching on, V and V/s.
    #[inline]
    pub fn source(&self, time: f64) -> (f64, f64) {
        let (value, slope) = voltage(&self.coil.supply, time);
        (value * self.level, slope * self.level)
    }

    /// Resistance of winding and path while current flows, Ω.
    pub fn circuit(&self) -> f64 {
        self.path.resistance(self.winding)
    }

    fn coercive_force(&self) -> f64 {
        self.coil.coercive_force.unwrap_or(0.0)
    }

    /// Flux rates, current, pull and losses.
    ///
    /// ```text
    /// g = g_res + s − x        R_k = g/(μ0·A_k)        x: how far the armature has come on its way s to the pole
    /// ring:     φ_1 = (φ_t − φ_2)/(1 + R_1/R_leak)   M = φ_1·R_1   dφ_2/dt = R_ring·(M − φ_2·R_2)
    /// no ring:  M = φ_t/(1/R_1 + 1/R_2 + 1/R_leak)   φ_k = M/R_k
    /// MMF = M + φ_t·R_par + l_fe·H_s·(B/B_s)⁹ − F_c  B = φ_t/A_core
    /// i = (MMF + G_e·u/N)/(N + G_e·R/N)              dφ_t/dt = (u − R·i)/N      R: winding and path, see [`Path::fed`]
    /// F = (φ_1²/A_1 + φ_2²/A_2)/(2·μ0)               iron loss = G_e·φ̇_t² + R_ring·(M − φ_2·R_2)²
    /// ```
    ///
    /// Valid for gaps small against the pole faces (no fringing) and one lumped eddy path; no hysteresis, but a constant F_c of iron
    /// that stays magnetised.
    /// Source: own derivation from Ampère's and Faraday's laws and Maxwell's stress (H. C. Roters, "Electromagnetic
    /// Devices", 1941, from memory).
    #[inline(always)]
    pub fn state<T: Real>(&self, voltage: T, flux: T, ring_flux: T, travel: T) -> MagnetState<T> {
        let c = &self.coil;
        let gap = -travel + (c.residual_gap + self.stroke);
        let r_1 = gap * (1.0 / (MU_0 * c.open_face_area));
        let r_2 = gap * (1.0 / (MU_0 * c.shaded_face_area));
        let leak = 1.0 / c.leakage_reluctance;
        let (phi_1, phi_2, drop, ring_rate, ring_loss) = match c.shading_ring {
            Some(ring) => {
                let phi_1 = (flux - ring_flux) * (r_1 * leak + 1.0).recip();
                let drop = phi_1 * r_1;
                let ring_current = drop - ring_flux * r_2;
                (phi_1, ring_flux, drop, ring_current * ring, ring_current.square() * ring)
            }
            None => {
                let inverse = gap.recip() * (MU_0 * (c.open_face_area + c.shaded_face_area)) + leak;
                let drop = flux * inverse.recip();
                let per_area = drop * gap.recip() * MU_0;
                let zero = T::constant(0.0);
                (per_area * c.open_face_area, per_area * c.shaded_face_area, drop, zero, zero)
            }
        };
        let iron = c.iron_length * c.saturation_field;
        let relative = flux * (1.0 / (c.core_area * c.saturation_flux_density));
        let squared = relative.square();
        let fourth = squared.square();
        let mmf = drop + flux * c.fixed_reluctance + fourth.square() * relative * iron - self.coercive_force();
        let (n, g_e) = (c.turns, c.eddy_conductance);
        let fed = self.path.fed(mmf, voltage, n, g_e, self.winding);
        let flux_rate = fed.induced * (1.0 / n);
        MagnetState {
            flux_rate,
            ring_flux_rate: ring_rate,
            current: fed.current,
            voltage: fed.voltage,
            drawn: fed.drawn,
            circuit_heat: fed.heat,
            pull: phi_1.square() * (0.5 / (MU_0 * c.open_face_area))
                + phi_2.square() * (0.5 / (MU_0 * c.shaded_face_area)),
            iron_loss: flux_rate.square() * g_e + ring_loss,
        }
    }

    /// Fluxes φ_t and φ_2 (Wb) that a direct voltage (V) keeps up with the armature at `travel` (m).
    ///
    /// ```text
    /// N·U/R + F_c = M + φ_t·R_par + l_fe·H_s·(B/B_s)⁹      M = φ_t/(1/R_1 + 1/R_2 + 1/R_leak)      φ_2 = M/R_2
    /// ```
    ///
    /// Source: [`Magnet::state`] at rest; a steady ring carries no current.
    pub fn steady_flux(&self, voltage: f64, travel: f64) -> (f64, f64) {
        let c = &self.coil;
        let per_gap = MU_0 / (c.residual_gap + self.stroke - travel);
        let (g_1, g_2) = (per_gap * c.open_face_area, per_gap * c.shaded_face_area);
        let reluctance = 1.0 / (g_1 + g_2 + 1.0 / c.leakage_reluctance);
        let mmf = c.turns * voltage / self.circuit() + self.coercive_force();
        let iron = c.iron_length * c.saturation_field;
        let saturated = c.core_area * c.saturation_flux_density;
        let linear = reluctance + c.fixed_reluctance;
        // Newton's method from above on a convex rising function: falls to the root and never passes it.
        let mut flux = mmf.abs() / linear;
        for _ in 0..100 {
            let relative = flux / saturated;
            let excess = flux * linear + iron * relative.to_the(9) - mmf.abs();
            let step = excess / (linear + 9.0 * iron * relative.to_the(8) / saturated);
            flux -= step;
            if step <= 2.0 * f64::EPSILON * flux {
                break;
            }
        }
        let flux = flux.copysign(mmf);
        (flux, if c.shading_ring.is_some() { flux * reluctance * g_2 } else { 0.0 })
    }

    /// Energy of the magnetic field, J.
    ///
    /// ```text
    /// W = φ_t²·R_par/2 + l_fe·H_s·B_s·A_core/10·(B/B_s)¹⁰ − F_c·φ_t + φ_1²·R_1/2 + φ_l²·R_leak/2 + φ_2²·R_2/2
    /// ```
    ///
    /// Source: own integral of MMF over flux with the fluxes of [`Magnet::state`].
    pub fn energy(&self, flux: f64, ring_flux: f64, travel: f64) -> f64 {
        let c = &self.coil;
        let gap = c.residual_gap + self.stroke - travel;
        let (r_1, r_2) = (gap / (MU_0 * c.open_face_area), gap / (MU_0 * c.shaded_face_area));
        let (phi_1, phi_2) = match c.shading_ring {
            Some(_) => ((flux - ring_flux) / (1.0 + r_1 / c.leakage_reluctance), ring_flux),
            None => {
                let drop = flux / (1.0 / r_1 + 1.0 / r_2 + 1.0 / c.leakage_reluctance);
                (drop / r_1, drop / r_2)
            }
        };
        let leak = phi_1 * r_1 / c.leakage_reluctance;
        let relative = (flux / (c.core_area * c.saturation_flux_density)).abs();
        let iron = c.iron_length * c.saturation_field * c.saturation_flux_density * c.core_area / 10.0;
        0.5 * flux * flux * c.fixed_reluctance + iron * relative.to_the(10) - self.coercive_force() * flux
            + 0.5 * (phi_1 * phi_1 * r_1 + leak * leak * c.leakage_reluctance + phi_2 * phi_2 * r_2)
    }
}
