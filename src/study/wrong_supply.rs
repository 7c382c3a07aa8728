//! Is the coil on the kind of supply that it was wound for? Direct and alternating windings differ by more than their voltage.

use crate::physics::parts::{Coil, Feed, Valve, Voltage};
use crate::physics::valve::copper::TWENTY_CELSIUS;
use crate::scenario::Scenario;
use crate::simulate::coil_heat::{HeldMagnet, holding};
use crate::units::{Dimension, text};

/// Frequencies nearer than this share are the same: a mains holds its own to some tenths of a per cent. Judgement.
const SAME_FREQUENCY: f64 = 0.02;

/// A coil on another kind of supply than its own.
#[derive(Clone, Debug, PartialEq)]
pub struct WrongSupply {
    /// For what it is wound and what it is on, in words.
    pub words: String,
    /// Heat of the cold winding with the armature seated over that on its own supply.
    pub heat: f64,
    /// The same for its effective current.
    pub current: f64,
    /// The same for its mean pull.
    pub pull: f64,
}

/// A coil on the wrong kind of supply; none where its rated frequency is not stated, or is that of the supply.
pub fn wrong_supply(scenario: &Scenario) -> Option<WrongSupply> {
    let coil = &scenario.valve.coil;
    let rated = scenario.rated_frequency.filter(|frequency| !frequency.is_nan())?;
    let hertz = |value: f64| text(value, Dimension::Frequency);
    let wound = if rated == 0.0 { "direct voltage".to_owned() } else { hertz(rated) };
    let on = match coil.supply {
        Voltage::Direct { .. } if rated > 0.0 => "direct voltage".to_owned(),
        Voltage::Bridge { .. } | Voltage::HalfWave { .. } if rated > 0.0 => "rectified voltage".to_owned(),
        Voltage::Alternating { frequency, .. } if (frequency - rated).abs() > SAME_FREQUENCY * frequency => {
            hertz(frequency)
        }
        Voltage::Direct { .. } | Voltage::Alternating { .. } | Voltage::Bridge { .. } | Voltage::HalfWave { .. } => {
            return None;
        }
    };
    let seated = |coil: &Coil| {
        let valve = Valve { coil: coil.clone(), ..scenario.valve.clone() };
        holding(&valve, TWENTY_CELSIUS)
    };
    let (now, own) = (seated(coil), seated(&on_its_own(scenario, rated)));
    let over = |of: fn(&HeldMagnet) -> f64| of(&now) / of(&own);
    Some(WrongSupply {
        words: format!("the coil is wound for {wound} and is on {on}"),
        heat: over(|magnet| magnet.winding_power),
        current: over(|magnet| magnet.current),
        pull: over(|magnet| magnet.mean_pull),
    })
}

/// The coil on the supply that it was wound for, of the voltage stated for it or else of that which is applied.
fn on_its_own(scenario: &Scenario, frequency: f64) -> Coil {
    let voltage = scenario.rated_voltage.unwrap_or_else(|| scenario.valve.coil.supply.stated());
    let supply = if frequency == 0.0 {
        Voltage::Direct { voltage }
    } else {
        Voltage::Alternating { voltage, frequency, phase: 0.0 }
    };
    Coil { supply, feed: Feed::default(), ..scenario.valve.coil.clone() }
}
