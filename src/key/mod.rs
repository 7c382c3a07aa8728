//! Keys: how each value that can be stated is called, its kind, what it may be and what it means. A key is declared once, with
//! the field of the part that it fills: `part` and `ways` make of one declaration the struct, its keys and its reader;
//! `keys` declares what fills no field. Where values come from is no matter here.

mod declaration;
mod kind;
mod range;
mod stated;

pub(crate) use declaration::{declared, field_type, keys, kind, part, reader, stated_as, unit, ways};
pub use kind::{ATTITUDES, Kind, quoted};
pub use range::Range;
pub(crate) use stated::trimmed;
pub use stated::{Field, Key, Stated, Way};

#[cfg(test)]
#[allow(unreachable_pub)]
mod tests {
    use super::*;

    part! {
        /// A thing.
        pub struct Thing {
            /// how long it is
            /// No more is said of it.
            length: Length "L", Positive, "length of the {}", usually 0.1 to 2.0;
            /// how heavy it is
            mass: Mass(Option<f64>), NotNegative, "mass of the {}", or none;
        }
        and {
            /// Its name.
            name: &'static str;
        }
    }

    ways! {
        /// How a thing moves.
        pub enum Motion {
            /// At rest.
            Rest {
                /// where it rests
                place: Length, Any, "place";
            }
            /// With a speed.
            Speed {
                /// how fast it is
                speed: Velocity "v", Any, "speed", or none;
                /// whither it moves
                bearing: Angle, HalfTurn, "bearing";
            }
        }
    }

    /// Numbers in the order in which they are asked for.
    struct Counted(Vec<&'static str>, f64);

    impl Stated for Counted {
        fn number(&mut self, key: &Key) -> f64 {
            self.0.push(key.name);
            self.1 += 1.0;
            self.1
        }

        fn optional(&mut self, key: &Key) -> Option<f64> {
            Some(-self.number(key))
        }
    }

    #[test]
    fn a_part_is_declared_once() {
        let mut stated = Counted(Vec::new(), 0.0);
        let thing = Thing::read(&mut stated)("one");
        assert_eq!(thing, Thing { length: 1.0, mass: Some(-2.0), name: "one" });
        assert_eq!(stated.0, Thing::KEYS.iter().map(|key| key.name).collect::<Vec<_>>());
        let Key { name, title, kind, range, meaning, usual, removable } = Thing::length;
        assert_eq!((name, title, meaning), ("length", "length of the {}", "how long it is"));
        assert_eq!((kind, range), (Kind::Quantity(crate::units::Dimension::Length), Range::Positive));
        assert_eq!((usual, removable), (Some((0.1, 2.0)), false));
        assert_eq!((Thing::mass.usual, Thing::mass.removable), (None, true));
    }

    #[test]
    fn each_way_reads_its_own_keys() {
        let mut stated = Counted(Vec::new(), 0.0);
        let read: Vec<Motion> = Motion::WAYS.iter().map(|way| (way.read)(&mut stated)).collect();
        assert_eq!(read, [Motion::Rest { place: 1.0 }, Motion::Speed { speed: 2.0, bearing: 3.0 }]);
        let names: Vec<&str> = Motion::WAYS.iter().flat_map(|way| way.keys).map(|key| key.name).collect();
        assert_eq!(stated.0, names);
    }
}
