//! Bore and wave speed of a line: from its pipe, its wall, or as stated.

use super::defaults;
use super::reader::Reader;
use super::vocabulary::join;
use crate::fluid::State;
use crate::physics::fluid::{Fluid, Liquid, Phase};
use crate::physics::line::wave_speed::{self, FreeGas, Support, Wall};
use crate::pipe::{self, Material, Pipe};
use crate::units::{Dimension, UnitSystem, show};

/// The line that is read.
pub(super) struct Line<'f> {
    /// Its table.
    pub(super) table: &'static str,
    /// What flows in it.
    pub(super) fluid: &'f Fluid,
    /// Pressure of its end, Pa absolute.
    pub(super) pressure: f64,
    /// The named gas there, where it is another than at the supply.
    pub(super) throttled: Option<&'f State>,
}

/// The pipe of a line.
pub(super) enum Stated {
    /// None is stated.
    No,
    /// It is stated, but not understood, which has been reported.
    Wrong,
    /// It is understood.
    Pipe(Box<Pipe>),
}

/// The pipe, where one is stated.
pub(super) fn pipe(reader: &mut Reader<'_>, table: &str) -> Stated {
    let path = join(table, "pipe");
    if !reader.states(&path) {
        return Stated::No;
    }
    let Some(text) = reader.optional_text(&path) else {
        return Stated::Wrong;
    };
    match pipe::parse(&text) {
        Ok(pipe) => {
            if let Some(remark) = &pipe.remark {
                reader.warn(&path, remark.clone());
            }
            Stated::Pipe(Box::new(pipe))
        }
        Err(message) => {
            reader.misread(&path, format!("{path}: {message}"));
            Stated::Wrong
        }
    }
}

/// The bore, as stated or of the pipe.
pub(super) fn bore(reader: &mut Reader<'_>, table: &'static str, pipe: &Stated) -> f64 {
    let path = join(table, "bore");
    let what = if table == "upstream" { "the bore upstream" } else { "the bore downstream" };
    // Where the table is missing as a whole, that is the one thing to be said.
    let way = if reader.states(table) { reader.needed_choice(what) } else { Some(0) };
    match (way, pipe) {
        (Some(0), _) => {
            restated(reader, table);
            reader.number(&path)
        }
        (_, Stated::Pipe(pipe)) => {
            reader.derived(&path, pipe.bore, Dimension::Length, format!("from {}", pipe.name));
            pipe.bore
        }
        _ => f64::NAN,
    }
}

/// Remarks on a material that the named fluid attacks.
pub(super) fn attacked(reader: &mut Reader<'_>, table: &str, fluid: &str) {
    for name in ["pipe", "material"] {
        let path = join(table, name);
        let Some(text) = reader.typed_text(&path) else {
            continue;
        };
        let material = pipe::parse(&text).map(|pipe| pipe.material).or_else(|_| Material::from_name(&text));
        if let Some(words) = material.ok().and_then(|material| material.attacked_by(fluid)) {
            reader.warn(&path, words);
        }
    }
}

/// Remarks on a bore or wall that was stated over a pipe's name: it is that pipe no more.
fn restated(reader: &mut Reader<'_>, table: &str) {
    let paths = ["bore", "wall_thickness", "wall_modulus", "poisson_ratio", "material"].map(|name| join(table, name));
    let Some(pipe) = paths.iter().find_map(|path| reader.pipe_behind(path)) else {
        return;
    };
    for path in &paths {
        if reader.states(path) && reader.pipe_behind(path).is_none() {
            reader.warn(path, format!("no longer that of {pipe}, whose other numbers stay"));
        }
    }
}

/// The wave speed: as stated, from the wall, or for a gas its sound speed; with the free gas where there is some.
pub(super) fn wave_speed(reader: &mut Reader<'_>, line: &Line<'_>, bore: f64, pipe: &Stated) -> f64 {
    let way = way(reader, line);
    let path = join(line.table, "wave_speed");
    let liquid = match &line.fluid.phase {
        Phase::Liquid(liquid) => liquid,
        Phase::Gas(gas) => {
            unused_in_gas(reader, line.table, way);
            if way == Some(0) {
                return reader.number(&path);
            }
            let (speed, from) = match line.throttled {
                Some(state) => (state.sound_speed, "sound speed of the gas throttled to the sink"),
                None => (wave_speed::of_gas(gas), "sound speed of the gas"),
            };
            reader.derived(&path, speed, Dimension::Velocity, from);
            return speed;
        }
    };
    let support = join(line.table, "support");
    let without_gas = match way {
        Some(0) => {
            if reader.states(&support) {
                reader.warn(&support, "not used: the wave speed is stated");
            }
            reader.number(&path)
        }
        Some(1) => match pipe {
            Stated::Pipe(pipe) => of_pipe(reader, line.table, liquid, pipe),
            _ => f64::NAN,
        },
        Some(_) => of_wall(reader, line.table, liquid, bore),
        None => f64::NAN,
    };
    with_free_gas(reader, line, liquid, without_gas)
}

/// Density of a gas: as stated, or of the named gas throttled to there; none where that of the supply's state will do.
pub(super) fn density(reader: &mut Reader<'_>, line: &Line<'_>) -> Option<f64> {
    let path = join(line.table, "density");
    if reader.states(&path) && matches!(line.fluid.phase, Phase::Liquid(_)) {
        reader
            .problem(&path, format!("{path}: the fluid is a liquid and has the same density everywhere; leave it out"));
    }
    if let Some(stated) = reader.optional(&path) {
        return Some(stated);
    }
    let state = line.throttled?;
    reader.derived(&path, state.density, Dimension::Density, "of the gas throttled to the sink");
    Some(state.density)
}

/// Which way the wave speed is stated. A wave speed may stand beside a pipe, which then gives the bore.
fn way(reader: &mut Reader<'_>, line: &Line<'_>) -> Option<usize> {
    let table = line.table;
    let what = if table == "upstream" { "the wave speed upstream" } else { "the wave speed downstream" };
    let states = |reader: &Reader<'_>, name: &str| reader.states(&join(table, name));
    let walled =
        ["wall_thickness", "material", "wall_modulus", "poisson_ratio"].iter().any(|name| states(reader, name));
    if states(reader, "wave_speed") && states(reader, "pipe") && !walled {
        return Some(0);
    }
    let gas = matches!(line.fluid.phase, Phase::Gas(_));
    if gas || !reader.states(table) { reader.choice(what) } else { reader.needed_choice(what) }
}

fn unused_in_gas(reader: &mut Reader<'_>, table: &str, way: Option<usize>) {
    if way == Some(2) {
        reader.warn(&join(table, "wall_thickness"), "the wall is not used: it is rigid against a gas");
    }
    let support = join(table, "support");
    if reader.states(&support) {
        reader.warn(&support, "not used: the wall is rigid against a gas");
    }
    let free_gas = join(table, "free_gas");
    if reader.states(&free_gas) {
        reader.problem(&free_gas, format!("{free_gas}: the fluid is a gas; free gas is a share of a liquid"));
    }
}

fn of_pipe(reader: &mut Reader<'_>, table: &str, liquid: &Liquid, pipe: &Pipe) -> f64 {
    let from = format!("from {}", pipe.name);
    reader.derived(&join(table, "wall_thickness"), pipe.wall_thickness, Dimension::Length, from);
    let (modulus, poisson_ratio) = of_material(reader, table, pipe.material, "pipe");
    let support = support(reader, table, true);
    let wall = Wall { bore: pipe.bore, thickness: pipe.wall_thickness, modulus, poisson_ratio, support };
    of_held_wall(reader, table, liquid, &wall)
}

fn of_wall(reader: &mut Reader<'_>, table: &'static str, liquid: &Liquid, bore: f64) -> f64 {
    let thickness = reader.number(&join(table, "wall_thickness"));
    let what = if table == "upstream" { "the wall upstream" } else { "the wall downstream" };
    let (modulus, poisson_ratio, known) = match reader.needed_choice(what) {
        Some(0) => {
            let path = join(table, "material");
            let Some(text) = reader.optional_text(&path) else {
                return f64::NAN;
            };
            match Material::from_name(&text) {
                Ok(material) => {
                    let (modulus, poisson_ratio) = of_material(reader, table, material, "material");
                    (modulus, poisson_ratio, true)
                }
                Err(message) => {
                    reader.misread(&path, format!("{path}: {message}"));
                    return f64::NAN;
                }
            }
        }
        Some(_) => {
            let modulus = reader.number(&join(table, "wall_modulus"));
            let path = join(table, "poisson_ratio");
            let stated = reader.optional(&path);
            (modulus, stated.unwrap_or_else(|| reader.number_or(&path, defaults::POISSON_RATIO)), stated.is_some())
        }
        None => return f64::NAN,
    };
    let support = support(reader, table, known);
    of_held_wall(reader, table, liquid, &Wall { bore, thickness, modulus, poisson_ratio, support })
}

/// Elastic modulus and Poisson's ratio of a material, as echoed; `key` states it.
fn of_material(reader: &mut Reader<'_>, table: &str, material: Material, key: &str) -> (f64, f64) {
    let elasticity = material.elasticity();
    let (modulus, poisson_ratio) = (elasticity.modulus, elasticity.poisson_ratio);
    reader.derived(&join(table, "wall_modulus"), modulus, Dimension::ElasticModulus, material.modulus_words());
    let path = join(table, "poisson_ratio");
    reader.derived(&path, poisson_ratio, Dimension::Number, format!("of {}", material.name()));
    if let Some(caution) = material.caution() {
        reader.warn(&join(table, key), caution);
    }
    (modulus, poisson_ratio)
}

fn support(reader: &mut Reader<'_>, table: &str, poisson_ratio_known: bool) -> Support {
    match reader.word(&join(table, "support")) {
        Some("throughout") => Support::Throughout,
        Some("upstream") => Support::Upstream,
        Some(_) => Support::Joints,
        None => defaults::support(poisson_ratio_known),
    }
}

fn of_held_wall(reader: &mut Reader<'_>, table: &str, liquid: &Liquid, wall: &Wall) -> f64 {
    let speed = wave_speed::in_elastic_line(liquid, wall);
    let held = match wall.support {
        Support::Throughout => "held throughout",
        Support::Upstream => "held upstream",
        Support::Joints => "free to slide",
    };
    let from = format!("from the liquid and the wall, {held}");
    reader.derived(&join(table, "wave_speed"), speed, Dimension::Velocity, from);
    speed
}

/// Free gas above which bubbles of a liquid meet and gather: beyond it no bubbly flow. Common practice, no source.
const BUBBLY: f64 = 0.1;

fn with_free_gas(reader: &mut Reader<'_>, line: &Line<'_>, liquid: &Liquid, without_gas: f64) -> f64 {
    let path = join(line.table, "free_gas");
    let Some(share) = reader.optional(&path) else {
        return without_gas;
    };
    if share > BUBBLY {
        reader.warn(&path, "more than 10 %: hardly small bubbles any more, for which this holds");
    }
    let gas = FreeGas { share, pressure: line.pressure };
    let speed = wave_speed::with_free_gas(liquid, without_gas, &gas);
    let (pressure, unit) = show(line.pressure, Dimension::AbsolutePressure, UnitSystem::Si);
    let from = format!("from the wave speed and free gas at {pressure} {unit}");
    reader.derived(&join(line.table, "wave_speed_with_free_gas"), speed, Dimension::Velocity, from);
    speed
}
