//! From a drawing to pixels.

use std::fmt;
use std::sync::Arc;

use resvg::tiny_skia::{Pixmap, Transform};
use resvg::usvg::{Options, Tree, fontdb};

use super::font;

/// Why a drawing could not be turned into pixels.
#[derive(Clone, Debug, PartialEq)]
pub enum RasterError {
    /// The drawing is not understood.
    Drawing(String),
    /// The picture would have no pixels or too many.
    Size {
        /// Width asked for.
        width: f64,
        /// Height asked for.
        height: f64,
    },
    /// The picture could not be encoded.
    Encoding(String),
}

impl fmt::Display for RasterError {
    fn fmt(&self, f: &mut fmt::Formatter) -> fmt::Result {
        match self {
            RasterError::Drawing(cause) => write!(f, "the drawing is not readable: {cause}"),
            RasterError::Size { width, height } => write!(
                f,
                "a picture of {width:.0} x {height:.0} pixels cannot be made; choose a scale that gives 1 to 20000 pixels a side"
            ),
            RasterError::Encoding(cause) => write!(f, "the picture could not be encoded: {cause}"),
        }
    }
}

impl std::error::Error for RasterError {}

/// Turns a drawing into a PNG picture; at scale 1 a point is 4/3 pixel.
pub fn png(drawing: &str, scale: f64) -> Result<Vec<u8>, RasterError> {
    let mut fonts = fontdb::Database::new();
    fonts.load_font_data(font::BYTES.to_vec());
    fonts.set_sans_serif_family(font::NAME);
    let options = Options { fontdb: Arc::new(fonts), font_family: font::NAME.to_owned(), ..Options::default() };
    let tree = Tree::from_str(drawing, &options).map_err(|e| RasterError::Drawing(e.to_string()))?;
    let (width, height) = (f64::from(tree.size().width()) * scale, f64::from(tree.size().height()) * scale);
    let within = |side: f64| (1.0..=20_000.0).contains(&side.round());
    let mut pixels = (within(width) && within(height))
        .then(|| Pixmap::new(width.round() as u32, height.round() as u32))
        .flatten()
        .ok_or(RasterError::Size { width, height })?;
    let scale = scale as f32;
    resvg::render(&tree, Transform::from_scale(scale, scale), &mut pixels.as_mut());
    pixels.encode_png().map_err(|e| RasterError::Encoding(e.to_string()))
}
