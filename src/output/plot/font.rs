//! The one font and its measure. A subset of DejaVu Sans; its licence lies beside it in `font/LICENCE.txt`.

use std::sync::Once;

use plotters::style::{FontDesc, FontFamily, FontStyle, register_font};

/// The font file that is embedded into the program.
pub const BYTES: &[u8] = include_bytes!("font/DejaVuSans-subset.ttf");
/// Name of the font inside its file.
pub const NAME: &str = "DejaVu Sans";
/// Family list written into the drawing: a viewer without the font falls back to one of nearly equal widths.
pub const FAMILY: &str = "DejaVu Sans, Verdana, sans-serif";

/// The backend takes a font's size as 1.24 em.
pub(super) const BACKEND_EM: f64 = 1.24;
/// The measuring library takes a size as ascent plus descent: (1901 + 483) / 2048 em in this font's header.
const MEASURE_EM: f64 = 2384.0 / 2048.0;

static REGISTERED: Once = Once::new();

/// Makes the font known to the drawing library; done once.
pub(super) fn register() {
    REGISTERED.call_once(|| {
        let known = register_font(FAMILY, FontStyle::Normal, BYTES);
        assert!(known.is_ok(), "the embedded font is readable");
    });
}

/// Width of a text, points.
pub fn text_width(text: &str, size: f64) -> f64 {
    register();
    // Measured large, because the library rounds down to whole units.
    const LARGE_EM: f64 = 1000.0;
    let font = FontDesc::new(FontFamily::Name(FAMILY), LARGE_EM * MEASURE_EM, FontStyle::Normal);
    match font.layout_box(text) {
        Ok((low, high)) => f64::from(high.0 - low.0) / LARGE_EM * size,
        Err(_) => text.chars().count() as f64 * 0.6 * size,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn width_is_the_sum_of_the_advances() {
        // Advance of "0" in the font's metrics table: 1303 of 2048 units.
        let expected = 10.0 * 1303.0 / 2048.0 * 9.0;
        assert!((text_width("0000000000", 9.0) - expected).abs() < 0.02);
    }

    #[test]
    fn signs_of_the_trade_are_in_the_font() {
        let missing = text_width("\u{4e00}", 1000.0);
        for sign in "·×°²³−–…≤≥ΔρΛµΩ½←→↑↓⁻₁".chars() {
            let glyph = text_width(&sign.to_string(), 1000.0);
            assert!((glyph - missing).abs() > 0.5, "{sign} is not in the font");
        }
    }
}
