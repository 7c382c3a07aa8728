//! How far apart two colours look, to usual and to colour-blind eyes. Serves the tests of the palette.

use super::colour::Colour;
use crate::portable::Portable;

/// Whose eyes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Vision {
    /// With all three kinds of cone.
    Usual,
    /// Without the cones for long waves.
    Protanopia,
    /// Without the cones for medium waves.
    Deuteranopia,
}

type Matrix = [[f64; 3]; 3];

impl Vision {
    /// On linear red, green, blue: G. M. Machado, M. M. Oliveira, L. A. F. Fernandes, A Physiologically-based Model for
    /// Simulation of Color Vision Deficiency, 2009, severity 1.0 (from memory).
    fn matrix(self) -> Matrix {
        match self {
            Vision::Usual => [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]],
            Vision::Protanopia => {
                [[0.152286, 1.052583, -0.204868], [0.114503, 0.786281, 0.099216], [-0.003882, -0.048116, 1.051998]]
            }
            Vision::Deuteranopia => {
                [[0.367322, 0.860646, -0.227968], [0.280085, 0.672501, 0.047413], [-0.011820, 0.042940, 0.968881]]
            }
        }
    }
}

/// The distance of two colours in CIE L*a*b* of 1976.
pub(crate) fn difference(a: Colour, b: Colour, vision: Vision) -> f64 {
    let (a, b) = (lab(seen(a, vision)), lab(seen(b, vision)));
    a.iter().zip(b).map(|(a, b)| (a - b).to_the(2)).sum::<f64>().sqrt()
}

fn apply(matrix: &Matrix, v: [f64; 3]) -> [f64; 3] {
    matrix.map(|row| row.iter().zip(v).map(|(m, v)| m * v).sum())
}

/// Linear red, green, blue as seen.
fn seen(colour: Colour, vision: Vision) -> [f64; 3] {
    // The transfer function of IEC 61966-2-1 (from memory).
    let linear = |c: u8| {
        let c = f64::from(c) / 255.0;
        if c <= 0.04045 { c / 12.92 } else { ((c + 0.055) / 1.055).power(2.4) }
    };
    apply(&vision.matrix(), [colour.0, colour.1, colour.2].map(linear)).map(|c| c.clamp(0.0, 1.0))
}

fn lab(rgb: [f64; 3]) -> [f64; 3] {
    // Primaries of IEC 61966-2-1 and its white, D65 (from memory).
    let xyz = apply(&[[0.4124, 0.3576, 0.1805], [0.2126, 0.7152, 0.0722], [0.0193, 0.1192, 0.9505]], rgb);
    let share = |value: f64, white: f64| {
        let t = value / white;
        if t > 216.0 / 24389.0 { t.cube_root() } else { (24389.0 / 27.0 * t + 16.0) / 116.0 }
    };
    let (x, y, z) = (share(xyz[0], 0.9505), share(xyz[1], 1.0), share(xyz[2], 1.089));
    [116.0 * y - 16.0, 500.0 * (x - y), 200.0 * (y - z)]
}

#[test]
fn white_and_black_are_a_hundred_apart_to_all_and_red_and_green_only_to_some() {
    use super::colour::{BLACK, WHITE};
    let (red, green) = (Colour(200, 90, 60), Colour(120, 130, 50));
    for vision in [Vision::Usual, Vision::Protanopia, Vision::Deuteranopia] {
        assert!((difference(BLACK, WHITE, vision) - 100.0).abs() < 0.1, "{vision:?}");
    }
    assert!(difference(red, green, Vision::Usual) > 50.0);
    assert!(difference(red, green, Vision::Deuteranopia) < 0.4 * difference(red, green, Vision::Usual));
}
