//! The stability map: behaviour over two parameters.

mod boundary;
mod grid;
mod ground;
mod guide;
mod notes;
mod region;
mod scales;

use super::{Figure, Origin, head};
use crate::output::appearance;
use crate::output::plot::canvas::{self, Anchor, Canvas, Direction, Lettering, Stroke};
use crate::output::plot::colour::{BLACK, GREY};
use crate::output::plot::text::{LINE_STEP, Paragraph, lettering};
use crate::output::plot::{MEDIUM, PAGE_WIDTH, Rect, SMALL, legend};
use crate::study::map::{Cell, StabilityMap};
use grid::Grid;
use region::{Name, Region};

const LEFT: f64 = 60.0;
const RIGHT: f64 = 64.0;
const MARGIN: f64 = 6.0;
const FRAME_HEIGHT: f64 = 350.0;
const REGION_SIZE: f64 = 10.5;

/// Draws the map; `caution` is the sentence at its foot.
pub fn stability_map(map: &StabilityMap, caution: &str) -> Figure {
    let width = PAGE_WIDTH - 2.0 * MARGIN;
    let origin =
        Origin { question: &map.question, scenario: &map.scenario, data: &map.data, overrides: &map.overrides };
    let head = head(&origin, width);
    let head_height: f64 = head.iter().map(Paragraph::height).sum();
    let top = MARGIN + head_height + 4.0 + scales::height_above(map);
    let frame = Rect { left: LEFT, top, right: PAGE_WIDTH - RIGHT, bottom: top + FRAME_HEIGHT };
    let grid = Grid::new(map, frame);
    let layout = Layout::new(&grid);
    let entries = notes::entries(&grid);
    let foot = foot(&grid, &layout.outside, caution, width);
    let second_reading = frame.bottom + scales::BELOW;
    let legend_top = second_reading + scales::second_reading_height(&grid) + 6.0;
    let foot_top = legend_top + legend::height(&entries, width) + 6.0;
    let height = foot_top + foot.iter().map(|p| p.height() + 2.0).sum::<f64>() + MARGIN;

    let svg = canvas::draw((PAGE_WIDTH, height), &map.question, |canvas| {
        let mut y = MARGIN;
        for paragraph in &head {
            y = paragraph.draw(canvas, MARGIN, y);
        }
        draw_map(canvas, &grid, &layout);
        let below = scales::draw(canvas, &grid);
        scales::draw_second_reading(canvas, &grid, &below, second_reading);
        legend::draw(canvas, &entries, MARGIN, legend_top, width);
        let mut y = foot_top;
        for paragraph in &foot {
            y = paragraph.draw(canvas, MARGIN, y) + 2.0;
        }
    });
    Figure { svg }
}

fn foot(grid: &Grid, outside: &[String], caution: &str, width: f64) -> Vec<Paragraph> {
    let mut all: Vec<Paragraph> =
        notes::remarks(grid, outside).iter().map(|r| Paragraph::new(r, SMALL, BLACK, width)).collect();
    all.push(Paragraph::new(caution, SMALL, GREY, width));
    all
}

/// Where the names inside the frame go: the point first, then the guides, then the regions.
struct Layout {
    point: Option<((f64, f64), (f64, f64))>,
    guides: Vec<guide::GuideName>,
    outside: Vec<String>,
    regions: Vec<Name>,
}

impl Layout {
    fn new(grid: &Grid) -> Layout {
        let mut taken = Vec::new();
        let point = guide::point(grid).map(|(at, _)| at);
        if let Some(at) = point {
            taken.push(guide::point_area(at));
        }
        let (guides, outside) = guide::names(grid, &mut taken);
        let point = point.map(|at| {
            let (centre, area) = guide::point_name(grid, at, &taken);
            taken.push(area);
            (at, centre)
        });
        let regions = region_names(grid, &mut taken);
        Layout { point, guides, outside, regions }
    }
}

fn region_names(grid: &Grid, taken: &mut Vec<Rect>) -> Vec<Name> {
    let mut names: Vec<Name> = Vec::new();
    let mut place = |regions: &[Region], words: &str, size: f64| {
        let name = regions.iter().find_map(|r| region::name(grid, r, words, size, taken));
        taken.extend(name.iter().map(Name::area));
        let found = name.is_some();
        names.extend(name);
        found
    };
    for behaviour in ground::leading(grid) {
        let regions = region::connected(grid, |row, column| grid.leading(row, column) == Some(behaviour));
        // All too small for the words: the letter, which the legend explains.
        if !place(&regions, behaviour.words(), REGION_SIZE) {
            place(&regions, &appearance::letter(behaviour).to_string(), SMALL);
        }
    }
    let boils = region::connected(grid, |row, column| matches!(grid.cell(row, column), Cell::WouldBoil(_)));
    if !place(&boils, appearance::WOULD_BOIL_WORDS, REGION_SIZE) {
        place(&boils, &appearance::WOULD_BOIL_SIGN.to_string(), SMALL);
    }
    let failed = region::connected(grid, |row, column| matches!(grid.cell(row, column), Cell::Failed(_)));
    place(&failed, "failed", MEDIUM);
    for behaviour in ground::further(grid) {
        let regions = region::connected(grid, |row, column| grid.also(row, column, behaviour));
        place(&regions, &format!("also: {}", behaviour.words()), SMALL);
    }
    names
}

fn draw_map(canvas: &mut Canvas, grid: &Grid, layout: &Layout) {
    ground::draw(canvas, grid);
    boundary::draw_coarse(canvas, grid);
    boundary::draw(canvas, grid);
    guide::draw_lines(canvas, grid);
    canvas.outline(&grid.frame, Stroke::solid(BLACK, 0.9));
    for name in &layout.regions {
        let step = name.size * LINE_STEP;
        let style = Lettering { halo: true, direction: name.direction, ..lettering(name.size, BLACK, Anchor::Middle) };
        for (i, line) in name.lines.iter().enumerate() {
            let off = step * (i as f64 - (name.lines.len() as f64 - 1.0) / 2.0);
            let at = match name.direction {
                Direction::Across => (name.centre.0, name.centre.1 + off),
                Direction::Upwards => (name.centre.0 + off, name.centre.1),
            };
            canvas.text(line, at, style);
        }
    }
    guide::draw_names(canvas, &layout.guides);
    if let Some((at, centre)) = layout.point {
        guide::draw_point(canvas, at);
        guide::draw_point_name(canvas, centre);
    }
}
