//! Figures: one file or folder, one figure.

pub mod closing;
pub mod cycle;
pub mod heat;
#[cfg(feature = "book")]
pub mod overlay;
pub mod stability;
pub mod stability_map;
pub mod surge;

use super::plot::colour::{BLACK, GREY};
#[cfg(feature = "png")]
use super::plot::raster::{self, RasterError};
use super::plot::text::Paragraph;
use super::plot::{LARGE, SMALL};

/// What a figure answers and from what.
#[derive(Clone, Copy, Debug, Default)]
pub struct Origin<'a> {
    /// Question of the scenario: the figure's title.
    pub question: &'a str,
    /// Scenario name.
    pub scenario: &'a str,
    /// Remark on the data (invented, measured, …).
    pub data: &'a str,
    /// Overrides given on the command line, as typed.
    pub overrides: &'a [String],
}

/// Title and subtitle.
fn head(origin: &Origin, width: f64) -> Vec<Paragraph> {
    let mut below = vec![format!("Scenario: {}", origin.scenario)];
    if !origin.data.is_empty() {
        below.push(format!("Data: {}", origin.data));
    }
    if !origin.overrides.is_empty() {
        below.push(format!("Changed: {}", origin.overrides.join(", ")));
    }
    let title = Paragraph::new(origin.question, LARGE, BLACK, width);
    std::iter::once(title).chain(below.iter().map(|line| Paragraph::new(line, SMALL, GREY, width))).collect()
}

/// A finished figure.
#[derive(Clone, Debug, PartialEq)]
pub struct Figure {
    /// The drawing (scalable vector graphics).
    pub svg: String,
}

#[cfg(feature = "png")]
impl Figure {
    /// The figure as a PNG picture; scale 2 gives 1360 pixels across.
    pub fn png(&self, scale: f64) -> Result<Vec<u8>, RasterError> {
        raster::png(&self.svg, scale)
    }
}
