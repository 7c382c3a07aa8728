//! Water at about 1 bar, 0 to 100 °C.
//!
//! The states were computed with a general fluid property library from W. Wagner and A. Pruß, J. Phys. Chem. Ref. Data 31
//! (2002) 387-535 (IAPWS-95), and M. L. Huber et al., J. Phys. Chem. Ref. Data 38 (2009) for the viscosity (journal pages
//! from memory). The first is at the triple point. Critical pressure: IAPWS-95.

use super::saturated::{State, Substance};

const fn state(celsius: f64, vapour_pressure: f64, density: f64, sound_speed: f64, viscosity: f64) -> State {
    State { celsius, vapour_pressure, density, sound_speed, viscosity }
}

/// Water.
pub(super) static WATER: Substance = Substance {
    name: "water",
    source: "interpolated from IAPWS-95 (W. Wagner and A. Pruß, J. Phys. Chem. Ref. Data 31 (2002) 387); viscosity: \
             M. L. Huber et al. 2009",
    critical_pressure: 22_064_000.0,
    states: &[
        state(0.01, 611.654771, 999.843762, 1402.43296, 1.79113204e-03),
        state(5.0, 872.575114, 999.966634, 1426.1694, 1.51817285e-03),
        state(10.0, 1228.19893, 999.70247, 1447.27223, 1.30589966e-03),
        state(15.0, 1705.79292, 999.102621, 1465.92947, 1.13756756e-03),
        state(20.0, 2339.31818, 998.20715, 1482.34617, 1.00159614e-03),
        state(25.0, 3169.92934, 997.047637, 1496.70138, 8.90022489e-04),
        state(30.0, 4246.97084, 995.649454, 1509.15376, 7.97221800e-04),
        state(40.0, 7384.93807, 992.216353, 1528.90448, 6.52728727e-04),
        state(50.0, 12351.9458, 988.035046, 1542.57734, 5.46516263e-04),
        state(60.0, 19946.4343, 983.195824, 1550.97345, 4.66035078e-04),
        state(70.0, 31200.93, 977.764627, 1554.74722, 4.03548177e-04),
        state(80.0, 47414.474, 971.790398, 1554.4302, 3.54050654e-04),
        state(90.0, 70181.7658, 965.30959, 1550.4517, 3.14175281e-04),
        state(100.0, 101417.997, 958.349056, 1543.15697, 2.81582010e-04),
    ],
};
