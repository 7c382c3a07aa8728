//! What a winding's insulation bears.

/// A thermal class of insulation.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct InsulationClass {
    /// Its letter, or its number where it has none.
    pub name: &'static str,
    /// Highest temperature at its hottest spot, K.
    pub hottest: f64,
}

/// 0 °C in K.
const FREEZING: f64 = 273.15;

/// How much hotter than its mean a winding is at its hottest spot, K.
///
/// Source: DIN VDE 0580, the standard of electromagnets, whose highest rises above 35 °C (65, 80, 90, 115 and 140 K for A, E, B, F
/// and H, as quoted in public texts) lie 5 K below what the class bears. IEC 60034-1 keeps 5 to 15 K for windings of
/// machines (B 120, F 145, H 165 °C), which a thick winding on direct voltage may deserve as well: state a limit of your own then.
pub const HOT_SPOT_ALLOWANCE: f64 = 5.0;

impl InsulationClass {
    /// The class of that word. Source: IEC 60085, thermal classes 90 to 250, from memory and as quoted in public texts.
    pub fn named(word: &str) -> Option<InsulationClass> {
        let (name, celsius) = match word {
            "Y" => ("Y", 90.0),
            "A" => ("A", 105.0),
            "E" => ("E", 120.0),
            "B" => ("B", 130.0),
            "F" => ("F", 155.0),
            "H" => ("H", 180.0),
            "N" | "200" => ("N", 200.0),
            "R" | "220" => ("R", 220.0),
            "250" => ("250", 250.0),
            _ => return None,
        };
        Some(InsulationClass { name, hottest: FREEZING + celsius })
    }

    /// Highest mean temperature of the winding, as its resistance tells it, K: what the class bears less [`HOT_SPOT_ALLOWANCE`].
    pub fn highest_mean(&self) -> f64 {
        self.hottest - HOT_SPOT_ALLOWANCE
    }
}
