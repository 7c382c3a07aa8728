//! A coil that gets warm, at any duty.

use crate::physics::coil_heat::{CoilCycle, CoilState, HeldHeat, ThermalNetwork};
use crate::physics::parts::CoilTemperature;
use crate::scenario::Scenario;
use crate::simulate::coil_heat::{PULL_IN_TIME, held_heat, lasting_heat, pull_in_time};

/// What the armature does whenever there is current.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Armature {
    /// It comes to the pole.
    ComesIn,
    /// It never gets there.
    StaysOut,
}

/// What a duty makes of the winding in the long run.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Found {
    /// Mean temperature of the winding, K.
    pub mean: f64,
    /// Its lowest within a cycle, K.
    pub lowest: f64,
    /// Its highest within a cycle, K.
    pub highest: f64,
    /// Mean temperature of the body, K; none without a network.
    pub body: Option<f64>,
    /// Mean heat in the winding, W.
    pub winding_power: f64,
    /// Mean heat in ring and eddies, W.
    pub iron_power: f64,
    /// Time from the first switching on until the winding has covered 63 % of its rise, s; none without a network.
    pub warm_up: Option<f64>,
}

/// How it gets rid of its heat.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Way {
    Network(ThermalNetwork),
    OneResistance { ambient: f64, resistance: f64 },
}

/// A coil's heat with its armature out and in, and how it gets rid of it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CoilHeat {
    way: Way,
    open: HeldHeat,
    staying_out: HeldHeat,
    seated: HeldHeat,
    /// Time for which the armature is out at each pull-in, or an economiser leaves the coil its whole voltage, s.
    pub pull_in: f64,
}

impl CoilHeat {
    /// That of a scenario, with the pull-in time that a run has shown; none where the winding's temperature is stated.
    pub fn of(scenario: &Scenario, pull_in: Option<f64>) -> Option<CoilHeat> {
        let way = match scenario.valve.coil.temperature {
            CoilTemperature::Stated { .. } => return None,
            CoilTemperature::FromHeat { ambient, thermal_resistance } => {
                Way::OneResistance { ambient, resistance: thermal_resistance }
            }
            CoilTemperature::Network { .. } => Way::Network(ThermalNetwork::of(&scenario.valve.coil.temperature)?),
        };
        let valve = &scenario.valve;
        Some(CoilHeat {
            way,
            open: held_heat(valve, 0.0),
            staying_out: lasting_heat(valve, 0.0),
            seated: lasting_heat(valve, valve.armature.stroke),
            pull_in: pull_in_time(valve, pull_in.unwrap_or(PULL_IN_TIME)),
        })
    }

    /// Its network, if it has one.
    pub fn network(&self) -> Option<ThermalNetwork> {
        match self.way {
            Way::Network(network) => Some(network),
            Way::OneResistance { .. } => None,
        }
    }

    /// The same coil with another network.
    pub fn with_network(&self, network: ThermalNetwork) -> CoilHeat {
        CoilHeat { way: Way::Network(network), ..*self }
    }

    /// The same coil with an armature that is out for another time (s) at each pull-in.
    pub fn with_pull_in(&self, pull_in: f64) -> CoilHeat {
        CoilHeat { pull_in, ..*self }
    }

    /// Heat in the winding with the armature out over that of holding, at a temperature (K).
    pub fn inrush(&self, temperature: f64) -> f64 {
        self.staying_out.at(temperature).winding / self.seated.at(temperature).winding
    }

    /// Temperature without current, K.
    pub fn idle(&self) -> f64 {
        match self.way {
            Way::Network(network) => network.idle(),
            Way::OneResistance { ambient, .. } => ambient,
        }
    }

    /// The long run at a cycle rate (1/s) and an on-share.
    pub fn found(&self, rate: f64, on_share: f64, armature: Armature) -> Found {
        let cycle = self.cycle(rate, on_share, armature);
        match self.way {
            Way::Network(network) => {
                let long = cycle.in_the_long_run(&network);
                Found {
                    mean: long.mean.winding,
                    lowest: long.lowest,
                    highest: long.highest,
                    body: Some(long.mean.body),
                    winding_power: long.winding_power,
                    iron_power: long.body_power,
                    warm_up: long.warm_up,
                }
            }
            Way::OneResistance { ambient, resistance } => {
                let mean = cycle.by_one_resistance(ambient, resistance);
                let heat = cycle.mean_heat(mean);
                Found {
                    mean,
                    lowest: mean,
                    highest: mean,
                    body: None,
                    winding_power: heat.winding,
                    iron_power: heat.body,
                    warm_up: None,
                }
            }
        }
    }

    /// Time from the first switching on until the winding has reached a temperature (K), s; none where it does not, or without a
    /// network.
    pub fn time_until(&self, rate: f64, on_share: f64, armature: Armature, temperature: f64) -> Option<f64> {
        let (network, cycle) = (self.network()?, self.cycle(rate, on_share, armature));
        let cold = CoilState { winding: network.idle(), body: network.idle() };
        network.time_until(cold, &|t| cycle.mean_heat(t), temperature)
    }

    fn cycle(&self, rate: f64, on_share: f64, armature: Armature) -> CoilCycle {
        let period = 1.0 / rate;
        let (open, pull_in) = match armature {
            Armature::ComesIn => (self.open, self.pull_in),
            Armature::StaysOut => (self.staying_out, period),
        };
        CoilCycle { open, seated: self.seated, period, on_share, pull_in }
    }
}
