//! What stands between the mains and the winding, and where the current goes at switching off.

use crate::key::{part, ways};

/// Which side of a rectifier the switching contact is on; without one there is only the coil's side.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum ContactSide {
    /// Between rectifier and coil: at switching off the current goes through the suppressor.
    #[default]
    Coil,
    /// Between mains and rectifier: at switching off the current runs on through the rectifier.
    Mains,
}

ways! {
    /// Where the current goes at switching off, if not through a resistance.
    pub enum Suppressor {
        /// Through a diode across the coil.
        Diode {
            /// forward voltage of the diode across the coil, through which the current runs on at switching off
            suppressor_diode: Voltage "U_f", Positive, "forward voltage of the suppressor diode", usually 0.2 to 3.0;
        }
        /// Through a varistor, Zener diodes or the like across the coil.
        Clamp {
            /// voltage that a varistor or Zener diode across the coil holds while current flows at switching off, either way
            clamp_voltage: Voltage "U_z", Positive, "clamping voltage of the suppressor", usually 5.0 to 2000.0;
        }
        /// No suppressor: through the gap of the opening contact, which breaks down again and again.
        /// Taken as a clamp at that voltage; the supply's own voltage in series is left out, and so are the winding's capacity
        /// and the arc's end. No gap in air breaks down below some 330 V (Paschen's minimum, from memory); a wider gap takes
        /// more, and the release is sooner by less than L·i/330 V.
        Arc {
            /// voltage at which the gap of the opening contact breaks down, without any suppressor: 330 V at least
            arc_voltage: Voltage "U_a", Positive, "breakdown voltage of the opening contact", usually 100.0 to 5000.0;
        }
    }
}

part! {
    /// The cable to the coil: two conductors of copper.
    pub struct Cable {
        /// length of the cable to the coil, one way
        length: Length, NotNegative, "length of the coil's cable", usually 0.1 to 1000.0;
        /// cross-section of one conductor of the coil's cable
        cross_section: Area, Positive, "conductor cross-section of the coil's cable", usually 5e-8 to 2.5e-5;
        /// temperature of its conductors
        temperature: Temperature, Positive, "temperature of the coil's cable", usually 200.0 to 400.0;
    }
}

part! {
    /// A small control transformer. Its rated secondary voltage is the coil's stated voltage.
    pub struct Transformer {
        /// rated power of the transformer that feeds this coil alone
        rated_power: ApparentPower "S", Positive, "rated power of the transformer", usually 1.0 to 5000.0;
        /// short-circuit voltage of the transformer, share of its rated voltage; of small ones nearly all of it is resistance
        short_circuit_voltage: Fraction "u_k", BelowOne, "short-circuit voltage of the transformer", usually 0.01 to 0.4;
    }
}

part! {
    /// A circuit that holds the coil with a share of its voltage, chopped so fast that the current does not follow.
    pub struct Economiser {
        /// time after switching on for which the coil has its whole voltage
        delay: Time, NotNegative, "time at full voltage of the economiser", usually 0.01 to 10.0;
        /// share of the voltage on which the coil is held afterwards
        share: Fraction "D", UpToOne, "holding share of the economiser", usually 0.1 to 1.0;
    }
}

part! {
    /// A contact that bounces as it closes: it makes at once, then opens so many times, closed and open alike long.
    pub struct Bounce {
        /// how many times the contact opens again
        count: Number "n", Pieces, "bounces of the coil's contact", usually 1.0 to 20.0;
        /// time from its first touch until it stays closed
        duration: Time "T_b", Positive, "bounce time of the coil's contact", usually 1e-4 to 0.1;
    }
}

/// All of it.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Feed {
    /// Where the current goes at switching off; none: through the resistance stated for it.
    pub suppressor: Option<Suppressor>,
    /// Where the contact sits.
    pub contact: ContactSide,
    /// The cable; none: without resistance.
    pub cable: Option<Cable>,
    /// The transformer; none: a stiff mains.
    pub transformer: Option<Transformer>,
    /// The economiser.
    pub economiser: Option<Economiser>,
    /// How the contact bounces.
    pub bounce: Option<Bounce>,
}
