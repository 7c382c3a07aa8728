//! What the backend asks of a line and of a letter: colour, width, font, anchor.

use std::fmt;

use plotters_backend::text_anchor::{HPos, Pos, VPos};
use plotters_backend::{
    BackendColor, BackendCoord, BackendStyle, BackendTextStyle, FontFamily, FontStyle, FontTransform,
};

use super::colour::Colour;
use super::font;
use super::lettering::{Anchor, Direction, Lettering};

/// How a shape is filled or a line drawn.
#[derive(Clone, Copy)]
pub(super) struct Pen {
    pub(super) colour: Colour,
    /// 1 hides what lies below.
    pub(super) opacity: f64,
    /// In units of the drawing.
    pub(super) width: u32,
}

impl BackendStyle for Pen {
    fn color(&self) -> BackendColor {
        ink(self.colour, self.opacity)
    }
    fn stroke_width(&self) -> u32 {
        self.width
    }
}

/// How a text is written.
pub(super) struct Letter {
    /// In the backend's measure.
    pub(super) size: f64,
    pub(super) style: FontStyle,
    pub(super) lettering: Lettering,
}

impl BackendTextStyle for Letter {
    type FontError = fmt::Error;

    fn color(&self) -> BackendColor {
        ink(self.lettering.colour, 1.0)
    }
    fn size(&self) -> f64 {
        self.size
    }
    fn transform(&self) -> FontTransform {
        match self.lettering.direction {
            Direction::Across => FontTransform::None,
            Direction::Upwards => FontTransform::Rotate270,
        }
    }
    fn style(&self) -> FontStyle {
        self.style
    }
    fn anchor(&self) -> Pos {
        let horizontal = match self.lettering.anchor {
            Anchor::Start => HPos::Left,
            Anchor::Middle => HPos::Center,
            Anchor::End => HPos::Right,
        };
        Pos::new(horizontal, VPos::Center)
    }
    fn family(&self) -> FontFamily<'_> {
        FontFamily::Name(font::FAMILY)
    }
    // A vector drawing names its font: the viewer lays the text out. Only a backend of pixels asks for these two.
    fn layout_box(&self, _: &str) -> Result<((i32, i32), (i32, i32)), fmt::Error> {
        Err(fmt::Error)
    }
    fn draw<E, D: FnMut(i32, i32, BackendColor) -> Result<(), E>>(
        &self,
        _: &str,
        _: BackendCoord,
        _: D,
    ) -> Result<Result<(), E>, fmt::Error> {
        Err(fmt::Error)
    }
}

fn ink(colour: Colour, opacity: f64) -> BackendColor {
    BackendColor { alpha: opacity, rgb: (colour.0, colour.1, colour.2) }
}
