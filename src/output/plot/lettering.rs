//! How a text is drawn.

use super::colour::Colour;

/// Which end of a text lies at its point.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Anchor {
    /// Its beginning.
    Start,
    /// Its middle.
    Middle,
    /// Its end.
    End,
}

/// Direction of a text.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Direction {
    /// Left to right.
    Across,
    /// From below upwards.
    Upwards,
}

/// How a text is drawn; its height is centred on its point.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lettering {
    /// Size, points.
    pub size: f64,
    /// Colour.
    pub colour: Colour,
    /// Which end lies at the point.
    pub anchor: Anchor,
    /// Direction.
    pub direction: Direction,
    /// With a white rim, to be read on any ground?
    pub halo: bool,
}
