//! Between mains and winding: resistance of cable and transformer, rectifier, and the way of the current at switching off.

use super::copper::{COPPER_RESISTIVITY, winding_resistance};
use crate::dual::Real;
use crate::physics::parts::{Cable, Coil, ContactSide, Suppressor, Transformer};

/// Diodes that block, and a clamp below its voltage, leak as a resistance of so many times the winding's: one that decides nothing,
/// and gives the flux a way where no eddy path is stated. Own choice.
const BLOCKING: f64 = 1e4;

/// Resistance of both conductors of a cable, Ω: R = 2·ρ_20·l/A·(1 + 0.00393·(T − 20 °C)).
///
/// Its inductance (some 0.7 µH/m) is nothing beside a coil's. Source: definition of resistivity, [`COPPER_RESISTIVITY`].
pub fn cable_resistance(cable: &Cable) -> f64 {
    winding_resistance(2.0 * COPPER_RESISTIVITY * cable.length / cable.cross_section, cable.temperature)
}

/// Resistance of a transformer seen from its secondary side, Ω: R = u_k·U²/S.
///
/// All of the short-circuit voltage is taken as resistance, which is so within a few per cent below some 100 VA: common practice, no
/// source. Source: definition of the short-circuit voltage.
pub fn transformer_resistance(transformer: &Transformer, rated_voltage: f64) -> f64 {
    transformer.short_circuit_voltage * rated_voltage * rated_voltage / transformer.rated_power
}

/// Resistance between the mains and the rectifier or the coil, Ω.
pub fn source_resistance(coil: &Coil) -> f64 {
    let transformer = coil.feed.transformer.as_ref().map(|t| transformer_resistance(t, coil.supply.stated()));
    transformer.unwrap_or(0.0) + coil.feed.cable.as_ref().map_or(0.0, cable_resistance)
}

/// Open-circuit over stated voltage: 1 + u_k behind a transformer, whose rated voltage is that at its rated current.
///
/// Exact for a resistive load, to which the rating refers. Source: U_0 = U + R·S/U with [`transformer_resistance`].
pub fn open_circuit_factor(coil: &Coil) -> f64 {
    1.0 + coil.feed.transformer.as_ref().map_or(0.0, |t| t.short_circuit_voltage)
}

/// What the winding's ends are connected to.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Path {
    /// A voltage behind a resistance (Ω), either of which may be zero.
    Resistance {
        /// In series with the winding, Ω.
        series: f64,
    },
    /// Diodes that let current go one way only, and run on past the source while it is below what the current takes.
    Diodes {
        /// Resistance of the source before them, Ω.
        source: f64,
        /// Their forward voltage, V.
        forward: f64,
    },
    /// A voltage that is held against current either way, V.
    Clamp {
        /// It, V.
        voltage: f64,
    },
}

/// What a path makes of a source voltage and a magnetomotive force.
#[derive(Clone, Copy, Debug)]
pub struct Fed<T> {
    /// Current in the winding, A.
    pub current: T,
    /// Voltage at the winding's ends, V.
    pub voltage: T,
    /// What is left of it for the flux, N·dφ/dt, V.
    pub induced: T,
    /// Current out of the source, A.
    pub drawn: T,
    /// Heat in winding and path, W.
    pub heat: T,
}

impl Path {
    /// While the contact is closed, with `share` of the source's voltage.
    ///
    /// A chopper that is on for a share D of the time draws D·i, so that the source's resistance counts D-fold.
    pub fn closed(coil: &Coil, share: f64) -> Path {
        let source = source_resistance(coil) * share;
        match coil.supply.rectifier() {
            None => Path::Resistance { series: source },
            Some(rectifier) => Path::Diodes { source, forward: rectifier.forward },
        }
    }

    /// While it is open.
    pub fn open(coil: &Coil) -> Path {
        match (coil.supply.rectifier(), coil.feed.contact, &coil.feed.suppressor) {
            (Some(rectifier), ContactSide::Mains, _) => Path::Diodes { source: 0.0, forward: rectifier.forward },
            (_, _, None) => Path::Resistance { series: coil.clamp_resistance.unwrap_or(0.0) },
            (_, _, Some(Suppressor::Diode { suppressor_diode })) => {
                Path::Diodes { source: 0.0, forward: *suppressor_diode }
            }
            (_, _, Some(Suppressor::Clamp { clamp_voltage: voltage } | Suppressor::Arc { arc_voltage: voltage })) => {
                Path::Clamp { voltage: *voltage }
            }
        }
    }

    /// Resistance of winding and path while current flows, Ω.
    pub fn resistance(&self, winding: f64) -> f64 {
        match *self {
            Path::Resistance { series } => winding + series,
            Path::Diodes { source, .. } => winding + source,
            Path::Clamp { .. } => winding,
        }
    }

    /// Current, voltages and heat under a source voltage e ≥ 0 where diodes stand in its way, of a winding of N turns and R (Ω) beside
    /// an eddy conductance G_e, under the magnetomotive force MMF.
    ///
    /// ```text
    /// a voltage U behind a resistance r:   i = (MMF + G_e·U/N)/(N + G_e·(R + r)/N)      u = U − r·i
    /// diodes     carrying     U = e − V_f, r = R_s        while e > R_s·i
    ///            running on   U = −V_f,    r = 0          while e ≤ R_s·i: the source then drives e/R_s through them
    ///            blocking     U = e − V_f, r = 10⁴·R      where i would be below 0
    /// clamp      holding      U = ∓U_z,    r = 0          for i ≷ 0;    below U_z: U = 0, r = 10⁴·R
    /// ```
    ///
    /// So u = max(e − R_s·i, 0) − V_f. Each line joins the next without a jump, and i falls as U does, so there is one solution.
    /// Valid for diodes of one forward voltage at any current and no capacity. Source: own derivation, Kirchhoff's and Faraday's laws.
    #[inline(always)]
    pub fn fed<T: Real>(&self, mmf: T, source_voltage: T, turns: f64, eddy: f64, winding: f64) -> Fed<T> {
        let behind = |voltage: T, whole: f64| (mmf + voltage * (eddy / turns)) * (1.0 / (turns + eddy * whole / turns));
        let at = |current: T, voltage: T, drawn: T, outside: T| Fed {
            current,
            voltage,
            induced: voltage - current * winding,
            drawn,
            heat: current.square() * winding + outside,
        };
        match *self {
            Path::Resistance { series } => {
                let current = behind(source_voltage, winding + series);
                Fed {
                    current,
                    voltage: source_voltage - current * series,
                    induced: source_voltage - current * (winding + series),
                    drawn: current,
                    heat: current.square() * (winding + series),
                }
            }
            Path::Diodes { source, forward } => {
                let net = source_voltage - forward;
                let current = behind(net, winding + source);
                if current.value() < 0.0 {
                    let leak = BLOCKING * winding;
                    let current = behind(net, winding + leak);
                    return at(current, net - current * leak, current, current.square() * leak + current * forward);
                }
                if source_voltage.value() > source * current.value() {
                    return at(current, net - current * source, current, current.square() * source + current * forward);
                }
                let current = behind(T::constant(-forward), winding);
                let drawn = if source > 0.0 { source_voltage * (1.0 / source) } else { T::constant(0.0) };
                at(current, T::constant(-forward), drawn, current * forward + drawn.square() * source)
            }
            Path::Clamp { voltage } => {
                let leak = BLOCKING * winding;
                let current = behind(T::constant(0.0), winding + leak);
                let drawn = T::constant(0.0);
                if current.value().abs() * leak <= voltage {
                    return at(current, -current * leak, drawn, current.square() * leak);
                }
                let held = T::constant(-voltage.copysign(current.value()));
                let current = behind(held, winding);
                at(current, held, drawn, current.abs() * voltage)
            }
        }
    }
}
