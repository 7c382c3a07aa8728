//! The control chamber between its limits; the limits themselves are in the validation book (`src/validation/emptying.rs`).

use quietseat::physics::fluid::Gas;
use quietseat::physics::valve::chamber::Filling;
use quietseat::physics::valve::confined_gas::ConfinedGas;
use quietseat::validation::emptying::Emptying;

/// A finite conductance lies between both limits and moves from one to the other.
#[test]
fn wall_conductance_lies_between_both_limits() {
    let after = |wall_conductance: f64| {
        let (volume, gas_constant, temperature, start) = (1e-5, 287.05, 293.15, 7e5);
        let gas = ConfinedGas::new(&Gas::perfect(gas_constant, 1.4, temperature, 0.0), start, wall_conductance);
        let y = gas.fill(start, volume);
        let mut chamber = Emptying { filling: Filling::Gas(gas), volume, area: 1e-6, outlet: 1e3 };
        chamber.pressure_after(y, 0.01).expect("an emptying chamber can be integrated")
    };
    let pressures: Vec<f64> = [0.0, 0.05, 0.5, 5.0, 1e9].map(after).to_vec();
    assert!(pressures.windows(2).all(|pair| pair[1] > pair[0]), "{pressures:?}");
}
