//! Values and exact derivatives of the equations at one point, by dual numbers.

/// Which state enters which rate, and how the derivatives share the lanes of the dual numbers.
///
/// States that enter no common rate may share a lane: whatever a rate carries there can only come from the one of them
/// that enters it (A. R. Curtis, M. J. D. Powell, J. K. Reid, "On the estimation of sparse Jacobian matrices", J. Inst.
/// Maths Applics 13 (1974) 117-119, from memory, where it saves differences as here lanes). Nothing is approximated.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Coupling<const N: usize> {
    /// Lane of each state.
    pub lane: [usize; N],
    /// The rates that each state enters, one bit for each.
    pub enters: [u64; N],
    /// Lane of time.
    pub time_lane: usize,
    /// The rates that time enters through the forcing.
    pub time_enters: u64,
}

impl<const N: usize> Coupling<N> {
    /// Every state may enter every rate: a lane for each, and the next one for time.
    pub const fn full() -> Self {
        let mut lane = [0; N];
        let mut state = 0;
        while state < N {
            lane[state] = state;
            state += 1;
        }
        let all = if N < 64 { (1 << N) - 1 } else { u64::MAX };
        Coupling { lane, enters: [all; N], time_lane: N, time_enters: all }
    }

    /// Can dual numbers of `lanes` lanes carry the derivatives, each distinct from the others in every rate?
    pub const fn fits(&self, lanes: usize) -> bool {
        let mut a = 0;
        while a < N {
            if self.lane[a] >= lanes || self.clashes(a, self.time_lane, self.time_enters) {
                return false;
            }
            let mut b = 0;
            while b < a {
                if self.clashes(a, self.lane[b], self.enters[b]) {
                    return false;
                }
                b += 1;
            }
            a += 1;
        }
        N <= 64 && self.time_lane < lanes
    }

    const fn clashes(&self, state: usize, lane: usize, enters: u64) -> bool {
        self.lane[state] == lane && self.enters[state] & enters != 0
    }
}

/// The equations about one point. The matrix is stored by columns: `rate_by_state[c][r]` is the derivative of row `r` by
/// state `c`, the layout in which the factorisation runs along contiguous memory.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Linearisation<const N: usize, const Q: usize> {
    /// dy/dt.
    pub rate: [f64; N],
    /// ∂(dy/dt)/∂y.
    pub rate_by_state: [[f64; N]; N],
    /// ∂(dy/dt)/∂t, through the forcing.
    pub rate_by_time: [f64; N],
    /// Integrands of the running integrals.
    pub integrand: [f64; Q],
}

impl<const N: usize, const Q: usize> Linearisation<N, Q> {
    /// All zero, to be filled.
    pub fn zero() -> Self {
        Linearisation { rate: [0.0; N], rate_by_state: [[0.0; N]; N], rate_by_time: [0.0; N], integrand: [0.0; Q] }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_lane_may_not_serve_two_states_of_one_rate() {
        let full = Coupling::<3>::full();
        assert!(full.fits(4) && !full.fits(3));
        let shared = Coupling { lane: [0, 0, 1], enters: [0b001, 0b110, 0b111], time_lane: 2, time_enters: 0b001 };
        assert!(shared.fits(3));
        assert!(!Coupling { enters: [0b011, 0b110, 0b111], ..shared }.fits(3));
        assert!(!Coupling { time_lane: 0, ..shared }.fits(3));
        assert!(Coupling { time_lane: 0, enters: [0b010, 0b100, 0b111], ..shared }.fits(2));
    }
}
