//! A magnet held still and its phasors, by other means than the program's own: for `coil_supply.rs`. Own derivations.

use crate::baseline;
use quietseat::physics::parts::*;
use quietseat::physics::valve::magnet::{MU_0, Magnet, MagnetState, next_turn};
use quietseat::simulate::coil_heat::{HeldMagnet, held};

pub(crate) const COLD: f64 = 293.15;
pub(crate) const MAINS: f64 = 50.0;

/// A complex number, as phasors need it.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Complex(pub(crate) f64, pub(crate) f64);

impl Complex {
    pub(crate) fn plus(self, o: Complex) -> Complex {
        Complex(self.0 + o.0, self.1 + o.1)
    }
    pub(crate) fn inverse(self) -> Complex {
        let square = self.0 * self.0 + self.1 * self.1;
        Complex(self.0 / square, -self.1 / square)
    }
    pub(crate) fn size(self) -> f64 {
        self.0.hypot(self.1)
    }
}

/// The AC baseline's magnet without saturation.
pub(crate) fn linear(supply: Voltage) -> Coil {
    Coil { supply, saturation_field: 0.0, ..baseline::alternating_coil() }
}

/// The same without ring and eddy currents: a resistance and an inductance.
pub(crate) fn plain(supply: Voltage) -> Coil {
    Coil { shading_ring: None, eddy_conductance: 0.0, ..linear(supply) }
}

pub(crate) fn alternating(voltage: f64) -> Voltage {
    Voltage::Alternating { voltage, frequency: MAINS, phase: 0.4 }
}

pub(crate) fn bridge(voltage: f64, forward_voltage: f64) -> Voltage {
    Voltage::Bridge { voltage, frequency: MAINS, phase: 0.4, forward_voltage }
}

pub(crate) fn half_wave(voltage: f64, forward_voltage: f64) -> Voltage {
    Voltage::HalfWave { voltage, frequency: MAINS, phase: 0.4, forward_voltage }
}

/// Reluctance seen by the winding at an angular frequency, with the armature at a gap.
///
/// N·I = (R_par + M/Φ + jω·G_e)·Φ by Ampère's law, eddy currents −G_e·dΦ/dt on one turn. The pole drops M over three branches side by
/// side: the open face R_1, the leakage, and the ringed face, where jω·φ_2 = R_ring·(M − R_2·φ_2).
pub(crate) fn reluctance(coil: &Coil, gap: f64, omega: f64) -> Complex {
    let (r_1, r_2) = (gap / (MU_0 * coil.open_face_area), gap / (MU_0 * coil.shaded_face_area));
    let ringed = Complex(r_2, coil.shading_ring.map_or(0.0, |ring| omega / ring)).inverse();
    let pole = Complex(1.0 / r_1 + 1.0 / coil.leakage_reluctance, 0.0).plus(ringed).inverse();
    pole.plus(Complex(coil.fixed_reluctance, omega * coil.eddy_conductance))
}

/// Impedance R + jω·N²/reluctance, Ω.
pub(crate) fn impedance(coil: &Coil, gap: f64, omega: f64) -> Complex {
    let r = reluctance(coil, gap, omega).inverse();
    let scale = omega * coil.turns * coil.turns;
    Complex(coil.resistance - scale * r.1, scale * r.0)
}

pub(crate) fn inductance(coil: &Coil, gap: f64) -> f64 {
    coil.turns * coil.turns / reluctance(coil, gap, 0.0).0
}

pub(crate) fn held_at(coil: &Coil, travel: f64) -> HeldMagnet {
    let mut valve = baseline::water().valve;
    valve.coil = coil.clone();
    held(&valve, travel, COLD)
}

pub(crate) fn gap(travel: f64) -> f64 {
    baseline::alternating_coil().residual_gap + stroke() - travel
}

pub(crate) fn stroke() -> f64 {
    baseline::water().valve.armature.stroke
}

pub(crate) fn near(what: &str, found: f64, wanted: f64, share: f64) {
    println!("{what}: {found:.6e}, by hand {wanted:.6e}");
    assert!((found - wanted).abs() <= share * wanted.abs(), "{what}: {found:e}, by hand {wanted:e}");
}

/// A magnet held still, integrated by the classical Runge-Kutta method: another one than the program's.
pub(crate) struct Bench {
    pub(crate) magnet: Magnet,
    /// Both fluxes, then work of the source, heat in the circuit, heat in the iron.
    pub(crate) y: [f64; 5],
    pub(crate) time: f64,
    /// A term that is left out of the heat, as a fault.
    pub(crate) fault: fn(&Magnet, &Drawn) -> f64,
}

/// What a fault is made of: current, current out of the source and voltage at the coil.
pub(crate) struct Drawn {
    pub(crate) current: f64,
    pub(crate) drawn: f64,
}

impl Bench {
    pub(crate) fn of(coil: &Coil) -> Bench {
        Bench { magnet: Magnet::new(coil, stroke(), COLD), y: [0.0; 5], time: 0.0, fault: |_, _| 0.0 }
    }

    fn rates(&self, time: f64, y: &[f64; 5]) -> [f64; 5] {
        let volts = self.magnet.source(time).0;
        let s = self.magnet.state(volts, y[0], y[1], stroke());
        let lost = (self.fault)(&self.magnet, &Drawn { current: s.current, drawn: s.drawn });
        [s.flux_rate, s.ring_flux_rate, volts * s.drawn, s.circuit_heat - lost, s.iron_loss]
    }

    /// One step, which is taken as within one half wave.
    pub(crate) fn step(&mut self, h: f64) {
        let (t, y) = (self.time, self.y);
        let along = |k: &[f64; 5], h: f64| std::array::from_fn(|i| y[i] + h * k[i]);
        let k_1 = self.rates(t, &y);
        let k_2 = self.rates(t + 0.5 * h, &along(&k_1, 0.5 * h));
        let k_3 = self.rates(t + 0.5 * h, &along(&k_2, 0.5 * h));
        let k_4 = self.rates(t + h, &along(&k_3, h));
        self.y = std::array::from_fn(|i| y[i] + h / 6.0 * (k_1[i] + 2.0 * k_2[i] + 2.0 * k_3[i] + k_4[i]));
        self.time += h;
    }

    pub(crate) fn run(&mut self, length: f64, h: f64) {
        let end = self.time + length;
        while self.time < end - 1e-9 * h {
            let turn = next_turn(&self.magnet.coil.supply, self.time);
            self.step(h.min(end - self.time).min(turn));
        }
    }

    pub(crate) fn state(&self) -> MagnetState<f64> {
        self.magnet.state(self.magnet.source(self.time).0, self.y[0], self.y[1], stroke())
    }

    /// Energy that the ledger does not find again, share of the work.
    pub(crate) fn residue(&self, before: &[f64; 5]) -> f64 {
        let energy = |y: &[f64; 5]| self.magnet.energy(y[0], y[1], stroke());
        let of = |k: usize| self.y[k] - before[k];
        let flows = [of(2), of(3), of(4), energy(&self.y) - energy(before)];
        (flows[0] - flows[1] - flows[2] - flows[3]).abs() / flows.iter().fold(0.0, |most: f64, f| most.max(f.abs()))
    }
}
