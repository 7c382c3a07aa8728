//! Restrictions against themselves; published and exact flows are in the validation book (`src/validation/`).

use quietseat::physics::restriction::nozzle_expansibility;

/// Near a ratio of one the nozzle's closed form loses its digits and a series takes over: they must meet.
#[test]
fn nozzle_series_meets_the_closed_form() {
    for k in [1.1, 1.3, 1.4, 1.66] {
        let (outside, inside) = (nozzle_expansibility(0.999 - 1e-9, k), nozzle_expansibility(0.999 + 1e-9, k));
        // A slope of some 0.6 over 2e-9, plus the series' remainder.
        assert!((outside - inside).abs() < 4e-9, "{k}: {outside} {inside}");
    }
}
