//! The one font and its measure. A subset of DejaVu Sans; its licence lies beside it in `font/LICENCE.txt`.

use std::sync::LazyLock;

use skrifa::charmap::Charmap;
use skrifa::instance::{LocationRef, Size};
use skrifa::metrics::GlyphMetrics;
use skrifa::{FontRef, GlyphId, MetadataProvider};

/// The font file that is embedded into the program.
pub const BYTES: &[u8] = include_bytes!("font/DejaVuSans-subset.ttf");
/// Name of the font inside its file.
pub const NAME: &str = "DejaVu Sans";
/// Family list written into the drawing: a viewer without the font falls back to one of nearly equal widths.
pub const FAMILY: &str = "DejaVu Sans, Verdana, sans-serif";

/// The backend takes a font's size as 1.24 em.
pub(super) const BACKEND_EM: f64 = 1.24;

/// What of the font is needed to measure a text; it has neither kerning nor ligatures.
struct Measure {
    characters: Charmap<'static>,
    glyphs: GlyphMetrics<'static>,
    units_per_em: f64,
}

static MEASURE: LazyLock<Measure> = LazyLock::new(|| {
    let font = FontRef::new(BYTES).expect("the embedded font is readable");
    let (size, location) = (Size::unscaled(), LocationRef::default());
    let units_per_em = f64::from(font.metrics(size, location).units_per_em);
    Measure { characters: font.charmap(), glyphs: font.glyph_metrics(size, location), units_per_em }
});

/// Width of a text, points.
pub fn text_width(text: &str, size: f64) -> f64 {
    let advance = |character: char| {
        let glyph = MEASURE.characters.map(character).unwrap_or(GlyphId::NOTDEF);
        f64::from(MEASURE.glyphs.advance_width(glyph).unwrap_or(0.0))
    };
    let ems = text.chars().map(advance).sum::<f64>() / MEASURE.units_per_em;
    // Whole thousandths, rounded down: every figure drawn so far rests on that grid, to the byte.
    (ems * 1000.0).floor() / 1000.0 * size
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
