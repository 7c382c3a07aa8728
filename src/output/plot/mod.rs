//! The house style of figures: a thin layer over the vector backend of `plotters`. It knows no valve.
//!
//! Lengths are printer's points (1/72 inch). A figure is [`PAGE_WIDTH`] wide, the text width of an A4 page, so that a size
//! of 9 here is 9 points in print. Everything is drawn on a grid four times finer, because the backend's coordinates are
//! whole numbers, and shrunk by the view box. One embedded font serves measuring, drawing and rasterising; the fonts of the
//! machine are never asked, so equal input gives equal bytes everywhere.

pub mod axis;
pub mod canvas;
mod clip;
pub mod colour;
pub mod font;
pub mod frame;
pub mod legend;
mod lettering;
pub mod limit;
pub mod pattern;
mod pen;
#[cfg(feature = "png")]
pub mod raster;
pub mod text;
pub mod tick;
#[cfg(test)]
pub(crate) mod vision;

/// Width of a figure, points: 180 mm, an A4 page less its margins.
pub const PAGE_WIDTH: f64 = 510.0;
/// Smallest text, points.
pub const SMALL: f64 = 9.0;
/// Text of axis titles and region names, points.
pub const MEDIUM: f64 = 10.0;
/// Text of the figure's title, points.
pub const LARGE: f64 = 13.0;

/// A rectangle on the page, points; down is positive.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rect {
    /// Left edge.
    pub left: f64,
    /// Upper edge.
    pub top: f64,
    /// Right edge.
    pub right: f64,
    /// Lower edge.
    pub bottom: f64,
}

impl Rect {
    /// A rectangle about a centre.
    pub fn about(centre: (f64, f64), width: f64, height: f64) -> Rect {
        Rect {
            left: centre.0 - width / 2.0,
            top: centre.1 - height / 2.0,
            right: centre.0 + width / 2.0,
            bottom: centre.1 + height / 2.0,
        }
    }
    /// Width.
    pub fn width(&self) -> f64 {
        self.right - self.left
    }
    /// Height.
    pub fn height(&self) -> f64 {
        self.bottom - self.top
    }
    /// Do both share an area?
    pub fn overlaps(&self, other: &Rect) -> bool {
        self.left < other.right && other.left < self.right && self.top < other.bottom && other.top < self.bottom
    }
    /// Is the other wholly inside?
    pub fn holds(&self, other: &Rect) -> bool {
        other.left >= self.left && other.right <= self.right && other.top >= self.top && other.bottom <= self.bottom
    }
    /// Is the point inside (edges included)?
    pub fn contains(&self, point: (f64, f64)) -> bool {
        point.0 >= self.left && point.0 <= self.right && point.1 >= self.top && point.1 <= self.bottom
    }
}
