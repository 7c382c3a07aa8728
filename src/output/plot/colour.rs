//! Colours that stay apart for colour-blind eyes: the eight of Okabe and Ito, "Color Universal Design", 2008 (values from
//! memory), and their tints.

/// A colour: red, green, blue.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Colour(pub u8, pub u8, pub u8);

/// Black.
pub const BLACK: Colour = Colour(0, 0, 0);
/// Orange.
pub const ORANGE: Colour = Colour(230, 159, 0);
/// Sky blue.
pub const SKY_BLUE: Colour = Colour(86, 180, 233);
/// Bluish green.
pub const GREEN: Colour = Colour(0, 158, 115);
/// Yellow.
pub const YELLOW: Colour = Colour(240, 228, 66);
/// Blue.
pub const BLUE: Colour = Colour(0, 114, 178);
/// Vermillion.
pub const VERMILLION: Colour = Colour(213, 94, 0);
/// Reddish purple.
pub const PURPLE: Colour = Colour(204, 121, 167);
/// White.
pub const WHITE: Colour = Colour(255, 255, 255);
/// Grey of secondary text.
pub const GREY: Colour = Colour(90, 90, 90);
/// Grey of grid lines.
pub const LIGHT_GREY: Colour = Colour(222, 222, 222);

impl Colour {
    /// The colour mixed with white; `strength` 1 leaves it as it is, 0 gives white.
    pub fn tint(self, strength: f64) -> Colour {
        let mix = |c: u8| (255.0 - (255.0 - f64::from(c)) * strength.clamp(0.0, 1.0)).round() as u8;
        Colour(mix(self.0), mix(self.1), mix(self.2))
    }

    /// How light it is in a grey print, 0 (black) to 1 (white): the luma weights of ITU-R BT.601 (from memory).
    pub fn lightness(self) -> f64 {
        (0.299 * f64::from(self.0) + 0.587 * f64::from(self.1) + 0.114 * f64::from(self.2)) / 255.0
    }
}
