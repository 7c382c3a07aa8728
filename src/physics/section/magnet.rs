//! Armature, pole and what ends the armature's way: the pole above it, or of a normally open valve below it, and a stop above.

use super::drawn::{Part, Section, Spring, SpringOf};
use super::outline::{Corner, Moves, corners, rectangle};
use super::proportions as p;
use super::yoke::Yoke;
use crate::physics::parts::{Function, NormallyOpen, Valve};
use std::f64::consts::PI;

/// The armature's lower end.
pub(super) struct LowerEnd {
    /// Its outline from the axis at its tip up to where the plunger or its rod begins, the last point on `shaft`.
    pub profile: Vec<[f64; 2]>,
    /// Radius at which it goes on, m; none: the plunger begins at once.
    pub shaft: Option<f64>,
    /// Height below which nothing of the magnet may lie, m.
    pub free_above: f64,
    /// Height at which the tube begins, m.
    pub tube_from: f64,
}

/// What the magnet leaves for the fluid.
pub(super) struct Around {
    /// The still border of the space around the armature, from the axis above it down to the tube's lower end.
    pub still: Vec<[f64; 2]>,
    /// The armature's border, from its tip's axis up to the axis above it.
    pub armature: Vec<[f64; 2]>,
}

impl Around {
    /// The border of a space from the axis above the armature to the tube's lower end.
    pub(super) fn outside(&self) -> Vec<Corner> {
        corners(&self.still, Moves::Still)
    }

    /// The armature's border from a radius (m) of its tip, where the seat meets it, up.
    pub(super) fn inside(&self, seat: f64, moves: Moves) -> Vec<Corner> {
        let mut border = self.armature.clone();
        if let Some(first) = border.first_mut() {
            first[0] = seat;
        }
        corners(&border, moves)
    }
}

/// Draw the magnet over a lower end; the armature moves as told.
pub(super) fn draw(section: &mut Section, valve: &Valve, yoke: &Yoke, end: LowerEnd, moves: Moves) -> Around {
    match &valve.function {
        Function::NormallyClosed => pole_above(section, valve, yoke, end, moves),
        Function::NormallyOpen(open) => pole_below(section, valve, yoke, end, moves, open),
    }
}

fn has_spring(valve: &Valve) -> bool {
    valve.armature.spring_rate > 0.0 || valve.armature.preload > 0.0
}

/// Radius inside the shading ring, m, and of its outer edge: the ring is true inside, where it encloses its face.
fn shading(valve: &Valve, yoke: &Yoke, bore: f64) -> Option<[f64; 2]> {
    valve.coil.shading_ring?;
    let width = p::SHADING_WIDTH * yoke.armature;
    let inner = (valve.coil.shaded_face_area / PI).sqrt().clamp(bore + 0.5 * width, yoke.armature - 1.5 * width);
    Some([inner, inner + width])
}

/// The pole's face from a bore out to the tube: a groove of `depth` (m, upwards positive) where the shading ring lies.
fn face(z: f64, depth: f64, radii: [f64; 2], ring: Option<[f64; 2]>) -> Vec<[f64; 2]> {
    let mut points = vec![[radii[0], z]];
    if let Some([inner, outer]) = ring {
        points.extend([[inner, z], [inner, z + depth], [outer, z + depth], [outer, z]]);
    }
    points.push([radii[1], z]);
    points
}

fn pole_above(section: &mut Section, valve: &Valve, yoke: &Yoke, end: LowerEnd, moves: Moves) -> Around {
    let (r_a, stroke, residual) = (yoke.armature, valve.armature.stroke, valve.coil.residual_gap);
    let bore = p::SPRING_BORE * r_a;
    let depth = p::SPRING_DEPTH * r_a;
    let base = end.tube_from + p::AIR * r_a;
    let low = end.profile.last().map_or(0.0, |last| last[1]);
    let body = if end.shaft.is_some() { end.free_above } else { low };
    let top = (base + yoke.thickness + p::GAP_PLACE * yoke.height).max(body + depth + 0.5 * r_a);
    let shim = top + stroke;
    let pole = shim + residual;
    let roof = (base + yoke.height + 2.0 * yoke.thickness).max(pole + depth + 0.5 * r_a) + 0.5 * yoke.thickness;
    let mut armature = end.profile;
    if let Some(shaft) = end.shaft {
        armature.push([shaft, body]);
    }
    armature.push([r_a, body]);
    armature.extend([[r_a, top], [bore, top], [bore, top - depth], [0.0, top - depth]]);
    section.round(Part::Armature, moves, armature.clone());
    let ring = shading(valve, yoke, bore);
    let groove = p::SHADING_DEPTH * r_a;
    let mut outline = face(pole, groove, [bore, yoke.tube[0]], ring);
    outline.extend([[yoke.tube[0], roof], [0.0, roof], [0.0, pole + depth], [bore, pole + depth]]);
    section.round(Part::Pole, Moves::Still, outline);
    section.round(Part::ResidualGap, Moves::Still, rectangle([bore, yoke.tube[0]], [shim, pole]));
    if let Some(radii) = ring {
        section.round(Part::ShadingRing, Moves::Still, rectangle(radii, [pole, pole + groove]));
    }
    if has_spring(valve) {
        let ends = [
            Corner { at: [0.8 * bore, top - depth], moves },
            Corner { at: [0.8 * bore, pole + depth], moves: Moves::Still },
        ];
        section.springs.push(Spring { of: SpringOf::Armature, ends });
    }
    yoke.draw(section, base, [end.tube_from, roof]);
    let still = vec![
        [0.0, pole + depth],
        [bore, pole + depth],
        [bore, shim],
        [yoke.tube[0], shim],
        [yoke.tube[0], end.tube_from],
    ];
    Around { still, armature }
}

fn pole_below(
    section: &mut Section,
    valve: &Valve,
    yoke: &Yoke,
    end: LowerEnd,
    moves: Moves,
    open: &NormallyOpen,
) -> Around {
    let (r_a, stroke, residual) = (yoke.armature, valve.armature.stroke, valve.coil.residual_gap);
    let rod = end.shaft.unwrap_or(p::ROD * r_a);
    let hole = rod + p::TUBE_CLEARANCE * r_a;
    let bore = hole + 0.22 * r_a;
    let depth = p::SPRING_DEPTH * r_a;
    let foot = end.profile.last().map_or(0.0, |last| last[1]);
    // The pole stands on the yoke's lower plate, over the way of the armature's foot.
    let base = (end.free_above.max(foot) + stroke + p::AIR * r_a).max(end.tube_from + p::AIR * r_a);
    let pole = (base + yoke.thickness + p::GAP_PLACE * yoke.height).max(base + depth + 0.5 * r_a);
    let shim = pole + residual;
    let body = shim + open.pole_clearance;
    let top = (base + 2.0 * yoke.thickness + yoke.height).max(body + r_a);
    let stop = top + stroke;
    let roof = stop + p::YOKE * r_a;
    let mut armature = end.profile;
    armature.extend([[rod, body], [r_a, body], [r_a, top], [0.0, top]]);
    section.round(Part::Armature, moves, armature.clone());
    let ring = shading(valve, yoke, bore);
    let groove = p::SHADING_DEPTH * r_a;
    let mut outline = face(pole, -groove, [bore, yoke.tube[0]], ring);
    outline.extend([[yoke.tube[0], base], [hole, base], [hole, pole - depth], [bore, pole - depth]]);
    section.round(Part::Pole, Moves::Still, outline);
    section.round(Part::ResidualGap, Moves::Still, rectangle([bore, yoke.tube[0]], [pole, shim]));
    if let Some(radii) = ring {
        section.round(Part::ShadingRing, Moves::Still, rectangle(radii, [pole - groove, pole]));
    }
    section.round(Part::ArmatureStop, Moves::Still, rectangle([0.0, yoke.tube[0]], [stop, roof]));
    if has_spring(valve) {
        let r = 0.5 * (hole + bore);
        let ends = [Corner { at: [r, pole - depth], moves: Moves::Still }, Corner { at: [r, body], moves }];
        section.springs.push(Spring { of: SpringOf::Armature, ends });
    }
    yoke.draw(section, base, [end.tube_from, roof]);
    let still = vec![
        [0.0, stop],
        [yoke.tube[0], stop],
        [yoke.tube[0], shim],
        [bore, shim],
        [bore, pole - depth],
        [hole, pole - depth],
        [hole, base],
        [yoke.tube[0], base],
        [yoke.tube[0], end.tube_from],
    ];
    Around { still, armature }
}
