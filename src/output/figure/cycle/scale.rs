//! Scales of their own for enlarged windows, where the common one would hide what happens in them.

use super::panel::{self, Panel};
use super::window::Window;
use crate::output::plot::canvas::{Anchor, Canvas, Lettering};
use crate::output::plot::colour::BLACK;
use crate::output::plot::font::text_width;
use crate::output::plot::text::{fitted, lettering};
use crate::output::plot::{Rect, SMALL};
use crate::trace::Trace;
use crate::units::{ColumnUnit, Dimension};

/// The range of a window's own scale; none where the common scale serves. Only pressures have one: a bang in one window
/// must not hide the small steps in another.
pub(super) fn own(trace: &Trace, panel: &Panel, window: &Window) -> Option<(f64, f64)> {
    // Below this share of the common scale a curve is about as flat as its line is wide, told by trial on real runs.
    const FLAT: f64 = 0.15;
    if panel.dimension != Dimension::AbsolutePressure {
        return None;
    }
    let range = trace.window(window.from, window.to);
    let values = panel.channels.iter().filter_map(|c| c.values.get(range.clone())).flatten().copied();
    let data = panel::extremes(values)?;
    let (span, common) = (data.1 - data.0, panel.range.1 - panel.range.0);
    // With room above for the words that say so.
    let roomy = (data.0, data.1 + 0.15 * span);
    (span > 1e-6 * data.1.abs() && span < FLAT * common).then(|| panel::aired(roomy))
}

/// Does any window have a scale of its own?
pub(super) fn any_own(trace: &Trace, panels: &[Panel], windows: &[Window]) -> bool {
    windows.iter().any(|window| panels.iter().any(|panel| own(trace, panel, window).is_some()))
}

/// Says in the window that its scale is its own.
pub(super) fn say(canvas: &mut Canvas, frame: &Rect, unit: &ColumnUnit) {
    let whole = format!("own scale [{}]", unit.name);
    let room = frame.width() - 6.0;
    let words = if text_width(&whole, SMALL) <= room { whole } else { fitted("own scale", SMALL, room) };
    let style = Lettering { halo: true, ..lettering(SMALL, BLACK, Anchor::End) };
    canvas.text(&words, (frame.right - 3.0, frame.top + 7.0), style);
}
