//! Steady losses along a line: laminar, turbulent and the bend between, with fittings.

use crate::dual::Real;

/// Losses along a path, per mass flow.
///
/// ```text
/// Δp = (wall(|ṁ|) + local·ṁ²)·sign(ṁ)
/// wall: linear·ṁ                                    ṁ ≤ 3/4·ṁ_c, laminar
///       linear·ṁ + 4/3·turbulent·(ṁ − 3/4·ṁ_c)²     between
///       turbulent·ṁ²                                ṁ ≥ 3/2·ṁ_c
/// ```
///
/// and with a check valve `opening` more, in proportion to the flow up to `opening_flow` and constant beyond.
///
/// At ṁ_c = linear/turbulent, which is Re = 64/λ with the Darcy factor λ, both laws agree; the parabola between touches
/// them, so that the loss bends but has no kink. With λ = 0.025 that is from Re = 1920 to 3840. There is one law of friction
/// at a time: the laminar one does not add to the stated factor.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Resistance {
    /// Wall in laminar flow, Pa·s/kg.
    pub linear: f64,
    /// Wall in turbulent flow, Pa/(kg/s)².
    pub turbulent: f64,
    /// Fittings and throttles, Pa/(kg/s)².
    pub local: f64,
    /// What a check valve takes to be held open, Pa.
    pub opening: f64,
    /// Flow at which it takes all of that, kg/s; above zero where there is one.
    pub opening_flow: f64,
}

/// Ends of the transition, in flows at which the laminar and the turbulent law agree. Own choice: near the Reynolds numbers of
/// 2000 to 4000 between which flow is neither (common practice, no source), and so that one parabola touches both laws.
const TRANSITION: (f64, f64) = (0.75, 1.5);
/// The parabola's bend, in the turbulent one's. Source: own algebra, from the ends.
const BEND: f64 = 4.0 / 3.0;

/// A stretch of the law: Δp = offset + linear·ṁ + quadratic·ṁ² for ṁ above zero.
#[derive(Clone, Copy)]
struct Stretch {
    offset: f64,
    linear: f64,
    quadratic: f64,
}

impl Resistance {
    /// The share `fraction` of this resistance.
    pub fn share(self, fraction: f64) -> Self {
        Resistance {
            linear: self.linear * fraction,
            turbulent: self.turbulent * fraction,
            local: self.local * fraction,
            opening: self.opening * fraction,
            opening_flow: self.opening_flow,
        }
    }

    /// Both in series; one of them may have a wall, and one a check valve.
    pub fn with(self, other: Self) -> Self {
        Resistance {
            linear: self.linear + other.linear,
            turbulent: self.turbulent + other.turbulent,
            local: self.local + other.local,
            opening: self.opening + other.opening,
            opening_flow: self.opening_flow.max(other.opening_flow),
        }
    }

    fn laminar(&self) -> Stretch {
        Stretch { offset: 0.0, linear: self.linear, quadratic: self.local }
    }

    fn between(&self) -> Stretch {
        let start = TRANSITION.0 * self.linear / self.turbulent;
        let bend = BEND * self.turbulent;
        Stretch { offset: bend * start * start, linear: self.linear - 2.0 * bend * start, quadratic: bend + self.local }
    }

    fn turbulent(&self) -> Stretch {
        Stretch { offset: 0.0, linear: 0.0, quadratic: self.turbulent + self.local }
    }

    /// The stretch that holds at a flow, kg/s without its sign.
    #[inline(always)]
    fn at(&self, flow: f64) -> Stretch {
        let law = self.at_without_opening(flow);
        if self.opening == 0.0 { law } else { self.opened(law, flow >= self.opening_flow) }
    }

    /// A stretch with the check valve, fully open or not.
    fn opened(&self, law: Stretch, fully: bool) -> Stretch {
        if fully {
            Stretch { offset: law.offset + self.opening, ..law }
        } else {
            Stretch { linear: law.linear + self.opening / self.opening_flow, ..law }
        }
    }

    #[inline(always)]
    fn at_without_opening(&self, flow: f64) -> Stretch {
        let reached = self.turbulent * flow;
        if reached > TRANSITION.1 * self.linear {
            self.turbulent()
        } else if reached <= TRANSITION.0 * self.linear {
            self.laminar()
        } else {
            self.between()
        }
    }

    /// The stretch in which the flow lies that a difference of characteristics drives, Pa without its sign.
    #[inline(always)]
    fn driven(&self, difference: f64, impedance: f64) -> Stretch {
        if self.opening == 0.0 {
            return self.driven_without_opening(difference, impedance);
        }
        let limit = impedance * self.opening_flow + self.loss(self.opening_flow);
        let fully = difference >= limit;
        let law = if fully {
            self.driven_without_opening(difference - self.opening, impedance)
        } else {
            self.driven_without_opening(difference, impedance + self.opening / self.opening_flow)
        };
        self.opened(law, fully)
    }

    #[inline(always)]
    fn driven_without_opening(&self, difference: f64, impedance: f64) -> Stretch {
        if self.turbulent == 0.0 {
            return self.laminar();
        }
        let agree = self.linear / self.turbulent;
        let (low, high) = (TRANSITION.0 * agree, TRANSITION.1 * agree);
        if difference > high * (impedance + (self.turbulent + self.local) * high) {
            self.turbulent()
        } else if difference <= low * (impedance + self.linear + self.local * low) {
            self.laminar()
        } else {
            self.between()
        }
    }

    /// Pressure lost at mass flow ṁ, Pa, with its sign.
    #[inline(always)]
    pub fn loss<T: Real>(&self, mass_flow: T) -> T {
        let law = self.at(mass_flow.value().abs());
        let offset = if mass_flow.value() < 0.0 { -law.offset } else { law.offset };
        mass_flow * (mass_flow.abs() * law.quadratic + law.linear) + offset
    }

    /// d(loss)/dṁ, Pa·s/kg.
    #[inline(always)]
    pub fn slope(&self, mass_flow: f64) -> f64 {
        let law = self.at(mass_flow.abs());
        law.linear + 2.0 * law.quadratic * mass_flow.abs()
    }

    /// Half of d²(loss)/dṁ² without its sign, Pa/(kg/s)².
    #[inline(always)]
    pub fn bend(&self, mass_flow: f64) -> f64 {
        self.at(mass_flow.abs()).quadratic
    }

    /// Mass flow driven through wave impedance and resistance by a difference of characteristics, kg/s.
    ///
    /// ```text
    /// D = Z·ṁ + Δp(ṁ) = Δp_0 + Z'·ṁ + R·ṁ²   ⇒   ṁ = 2·(D − Δp_0)/(Z' + √(Z'² + 4·R·(D − Δp_0)))
    /// ```
    ///
    /// for D above zero, with the stretch's offset Δp_0, linear part in Z' and quadratic part R. Source: root of the
    /// quadratic; own algebra.
    #[inline(always)]
    pub fn flow<T: Real>(&self, difference: T, impedance: f64) -> T {
        let law = self.driven(difference.value().abs(), impedance);
        let offset = if difference.value() < 0.0 { -law.offset } else { law.offset };
        let driving = difference - offset;
        let z = impedance + law.linear;
        let root = (driving.abs() * (4.0 * law.quadratic) + z * z).sqrt();
        driving * 2.0 * (root + z).recip()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const WALL: Resistance = Resistance { linear: 6.0, turbulent: 20.0, local: 0.0, opening: 0.0, opening_flow: 0.0 };

    /// One law at a time, and no kink where they meet.
    #[test]
    fn friction_is_laminar_or_turbulent_and_not_both() {
        assert_eq!(WALL.loss(0.2), 6.0 * 0.2);
        assert!((WALL.loss(-0.9) + 16.2).abs() < 1e-12);
        // At Re = 64/λ, here 0.3 kg/s, the parabola lies a twelfth above both.
        assert!((WALL.loss(0.3) - 1.8 * 13.0 / 12.0).abs() < 1e-12);
        for flow in [0.225, 0.45] {
            let (below, above) = (flow - 1e-9, flow + 1e-9);
            assert!((WALL.loss(above) - WALL.loss(below)).abs() < 1e-7);
            assert!((WALL.slope(above) - WALL.slope(below)).abs() < 1e-6);
        }
    }

    #[test]
    fn the_flow_that_is_driven_loses_what_drives_it() {
        let fittings = Resistance { local: 3.0, ..Resistance::default() };
        let check_valve = |at: f64| Resistance { opening: 5.0, opening_flow: at, ..fittings };
        // Fully open before, within and after the bend of the wall's law.
        let checked = [0.01, 0.3, 0.9].map(|at| WALL.with(check_valve(at)));
        let plain = [WALL, WALL.with(fittings), fittings, Resistance { turbulent: 0.0, ..WALL }, check_valve(0.02)];
        for resistance in plain.into_iter().chain(checked) {
            for impedance in [0.1, 4.0, 60.0] {
                for flow in [0.0, 0.01, -0.2, 0.224, 0.3, -0.4, 0.46, 7.0] {
                    let difference = impedance * flow + resistance.loss(flow);
                    assert!((resistance.flow(difference, impedance) - flow).abs() < 1e-12, "{resistance:?} {flow}");
                }
            }
        }
    }
}
