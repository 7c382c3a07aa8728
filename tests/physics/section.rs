//! The drawing of a valve's parts: stated dimensions read back from its outlines, nothing runs through anything on its way, and the spaces
//! sweep what the ledger has them sweep. Source of all limits: own derivation, from the parts alone.

use crate::demo;
use quietseat::physics::parts::{ControlParts, Function, MainStage, RingLeak, Valve};
use quietseat::physics::section::{Moves, Outline, Part, Place, Section, Shape, Side, SpringOf};
use std::f64::consts::PI;

/// Nearer than this counts as touching, m: far below the thinnest gap drawn, above rounding.
const TOUCH: f64 = 1e-9;

/// Every demonstration as it stands, and what none of them has.
fn valves() -> Vec<(String, Valve)> {
    let more: [(&str, &str, &[&str]); 10] = [
        ("piston ring", "water-piston", &RINGED),
        ("tight piston", "water-piston", &["valve.main.piston.radial_clearance=none"]),
        ("short land", "water-piston", &["valve.main.piston.land_length=1 mm"]),
        ("cushion", "water-bang", &CUSHION),
        ("direct with a cushion", "water-direct", &DIRECT_CUSHION),
        ("restrictor", "water-bang", &["valve.pilot.restrictor_diameter=1.2 mm"]),
        ("tapered pin", "water-soft-closing", &["valve.bleed.pin.lift=2.5 mm", "valve.bleed.pin.taper=2.5 mm"]),
        ("wide direct seat", "water-direct", &["valve.main.seat_diameter=14 mm"]),
        ("shaded and normally open", "water-normally-open", &["valve.coil.shading_ring=150 µohm"]),
        ("long bleed", "water-forced-lift", &["valve.bleed.length=7 mm", "valve.pilot.length=3 mm"]),
    ];
    let demos = demo::names().into_iter().map(|name| (name.clone(), demo::scenario(&name, &[]).valve));
    demos.chain(more.map(|(label, name, with)| (label.to_owned(), demo::scenario(name, with).valve))).collect()
}

const RINGED: [&str; 4] = [
    "valve.main.piston.radial_clearance=none",
    "valve.main.piston.ring_orifice=0.5 mm",
    "valve.main.piston.ring_height=2 mm",
    "valve.main.piston.ring_coefficient=0.65",
];

const CUSHION: [&str; 4] = [
    "valve.main.cushion.area=2 cm²",
    "valve.main.cushion.depth=1 mm",
    "valve.main.cushion.passage_diameter=0.8 mm",
    "valve.main.cushion.discharge_coefficient=0.65",
];

const DIRECT_CUSHION: [&str; 4] = [
    "valve.main.cushion.area=0.2 cm²",
    "valve.main.cushion.depth=0.4 mm",
    "valve.main.cushion.passage_diameter=0.5 mm",
    "valve.main.cushion.discharge_coefficient=0.65",
];

/// Lifts and travels that the valve can be in, m: every eighth of its way.
fn ways(valve: &Valve) -> Vec<[f64; 2]> {
    let (lift, stroke) = (valve.main.lift, valve.armature.stroke);
    let eighths = || (0..=8).map(|i| f64::from(i) / 8.0);
    match &valve.control {
        ControlParts::Direct => eighths().map(|s| [s * stroke, 0.0]).collect(),
        ControlParts::Servo(_) | ControlParts::VentedPilot(_) => {
            eighths().flat_map(|s| eighths().map(move |t| [s * lift, t * stroke])).collect()
        }
        // The tip is on the seat at least, and no farther than the link lets it.
        ControlParts::ForcedLift(parts) => eighths()
            .flat_map(|s| eighths().map(move |t| [s * lift, (s * lift + t * parts.link.free_play).min(stroke)]))
            .collect(),
    }
}

fn close(name: &str, what: &str, found: f64, stated: f64) {
    assert!((found - stated).abs() <= 1e-12, "{name}: {what} is drawn as {found}, stated as {stated}");
}

fn shapes(section: &Section, part: Part) -> impl Iterator<Item = &Shape> {
    section.shapes.iter().filter(move |shape| shape.part == part)
}

fn shape(section: &Section, part: Part) -> &Shape {
    shapes(section, part).next().unwrap_or_else(|| panic!("{part:?} is drawn"))
}

fn least(outline: &Outline, axis: usize) -> f64 {
    outline.iter().map(|at| at[axis]).fold(f64::INFINITY, f64::min)
}

fn most(outline: &Outline, axis: usize) -> f64 {
    outline.iter().map(|at| at[axis]).fold(f64::NEG_INFINITY, f64::max)
}

fn size(outline: &Outline, axis: usize) -> f64 {
    most(outline, axis) - least(outline, axis)
}

/// Radius of the innermost of the highest corners: a seat's edge.
fn edge(outline: &Outline) -> f64 {
    let top = most(outline, 1);
    outline.iter().filter(|at| at[1] == top).map(|at| at[0]).fold(f64::INFINITY, f64::min)
}

fn place(section: &Section, place: Place) -> Outline {
    section
        .spaces
        .iter()
        .find(|space| space.place == place)
        .unwrap_or_else(|| panic!("{place:?} is drawn"))
        .at(0.0, 0.0)
}

// ---- plane geometry -------------------------------------------------------------------------------------------------

fn edges(outline: &Outline) -> impl Iterator<Item = ([f64; 2], [f64; 2])> + '_ {
    (0..outline.len()).map(|i| (outline[i], outline[(i + 1) % outline.len()]))
}

fn cross(o: [f64; 2], a: [f64; 2], b: [f64; 2]) -> f64 {
    (a[0] - o[0]) * (b[1] - o[1]) - (a[1] - o[1]) * (b[0] - o[0])
}

fn length(a: [f64; 2], b: [f64; 2]) -> f64 {
    (a[0] - b[0]).hypot(a[1] - b[1])
}

fn to_segment(point: [f64; 2], (a, b): ([f64; 2], [f64; 2])) -> f64 {
    let (along, whole) = ([b[0] - a[0], b[1] - a[1]], length(a, b));
    let t = if whole == 0.0 {
        0.0
    } else {
        ((point[0] - a[0]) * along[0] + (point[1] - a[1]) * along[1]) / (whole * whole)
    };
    let t = t.clamp(0.0, 1.0);
    length(point, [a[0] + t * along[0], a[1] + t * along[1]])
}

/// Is the point inside, deeper than a touch?
fn inside(outline: &Outline, point: [f64; 2]) -> bool {
    let near = edges(outline).map(|edge| to_segment(point, edge)).fold(f64::INFINITY, f64::min);
    let crossed = edges(outline).filter(|(a, b)| (a[1] > point[1]) != (b[1] > point[1])).filter(|(a, b)| {
        let at = a[0] + (point[1] - a[1]) / (b[1] - a[1]) * (b[0] - a[0]);
        at > point[0]
    });
    near > TOUCH && crossed.count() % 2 == 1
}

/// Shares along an edge at which another cuts it or ends on it.
fn cuts((a, b): ([f64; 2], [f64; 2]), other: &Outline) -> Vec<f64> {
    let mut shares = vec![0.0, 1.0];
    for (c, d) in edges(other) {
        let (from, to) = (cross(c, d, a), cross(c, d, b));
        if from != to && (from > 0.0) != (to > 0.0) {
            shares.push(from / (from - to));
        }
    }
    shares.sort_by(f64::total_cmp);
    shares
}

/// Does one outline run into the other? Each piece of an edge between two cuts is inside or outside as a whole.
fn overlap(one: &Outline, other: &Outline) -> bool {
    let runs_in = |one: &Outline, other: &Outline| {
        edges(one).any(|(a, b)| {
            cuts((a, b), other).windows(2).any(|pair| {
                let t = 0.5 * (pair[0] + pair[1]);
                inside(other, [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])])
            })
        })
    };
    runs_in(one, other) || runs_in(other, one) || same(one, other)
}

/// Two outlines over one another corner by corner.
fn same(one: &Outline, other: &Outline) -> bool {
    one.iter().all(|a| other.iter().any(|b| length(*a, *b) < TOUCH))
        && other.iter().all(|a| one.iter().any(|b| length(*a, *b) < TOUCH))
}

/// Closed, finite, right of the axis, of some area, and no edge meets another but its neighbours.
fn fault(outline: &Outline) -> Option<String> {
    if outline.len() < 3 || outline.iter().flatten().any(|value| !value.is_finite()) {
        return Some(format!("not a polygon: {outline:?}"));
    }
    if least(outline, 0) < 0.0 {
        return Some(format!("left of the axis: {outline:?}"));
    }
    let mut points = outline.clone();
    points.dedup_by(|a, b| length(*a, *b) < TOUCH);
    let sides: Vec<_> = edges(&points).collect();
    for (i, (a, b)) in sides.iter().enumerate() {
        for (j, (c, d)) in sides.iter().enumerate().skip(i + 2) {
            if i == 0 && j + 1 == sides.len() {
                continue;
            }
            let crosses = (cross(*a, *b, *c) > 0.0) != (cross(*a, *b, *d) > 0.0)
                && (cross(*c, *d, *a) > 0.0) != (cross(*c, *d, *b) > 0.0);
            let touches = [to_segment(*a, (*c, *d)), to_segment(*c, (*a, *b))].into_iter().any(|gap| gap < TOUCH);
            if crosses || touches {
                return Some(format!("edge {i} from {a:?} to {b:?} meets edge {j} from {c:?} to {d:?}"));
            }
        }
    }
    (area(outline).abs() < TOUCH * TOUCH).then(|| format!("without area: {outline:?}"))
}

fn area(outline: &Outline) -> f64 {
    0.5 * edges(outline).map(|(a, b)| a[0] * b[1] - b[0] * a[1]).sum::<f64>()
}

/// Volume of revolution, m³: 2π·∬ r dr dz, as an integral along the outline (Pappus' rule for a polygon).
fn volume(outline: &Outline) -> f64 {
    let sum: f64 = edges(outline).map(|(a, b)| (a[0] * a[0] + a[0] * b[0] + b[0] * b[0]) * (b[1] - a[1])).sum();
    (PI / 3.0 * sum).abs()
}

// ---- the tests ------------------------------------------------------------------------------------------------------

/// On the whole way every outline is a simple closed polygon; a space in between its ends only, since shut seats pinch it.
#[test]
fn outlines_are_simple_closed_and_right_of_the_axis() {
    for (name, valve) in valves() {
        let section = Section::of(&valve);
        assert!(section.shapes.len() > 8 && section.spaces.len() > 3, "{name}");
        for [lift, travel] in ways(&valve) {
            for shape in &section.shapes {
                let fault = fault(&shape.at(lift, travel));
                assert!(fault.is_none(), "{name}: {:?} at {lift}, {travel}: {fault:?}", shape.part);
            }
        }
        let (stage, gap) =
            (0.4 * valve.main.lift, valve.link().map_or(0.3 * valve.armature.stroke, |link| 0.5 * link.free_play));
        let travel = if valve.link().is_some() { stage + gap } else { gap };
        for space in &section.spaces {
            let lift = if valve.armature_is_stage() { gap } else { stage };
            let fault = fault(&space.at(lift, travel));
            assert!(fault.is_none(), "{name}: {:?}: {fault:?}", space.place);
        }
    }
}

/// What runs into what at any place that the valve can be in.
fn collisions(section: &Section, valve: &Valve) -> Vec<(Part, Part)> {
    let mut found = vec![];
    for [lift, travel] in ways(valve) {
        let now: Vec<(&Shape, Outline)> = section.shapes.iter().map(|shape| (shape, shape.at(lift, travel))).collect();
        for (i, (one, at)) in now.iter().enumerate() {
            for (other, beside) in &now[i + 1..] {
                // The pin stands in a bore that is cut out of the floor.
                let in_its_bore =
                    [one.part, other.part].contains(&Part::Pin) && [one.part, other.part].contains(&Part::Body);
                let pair = (one.part, other.part);
                if !in_its_bore && !found.contains(&pair) && overlap(at, beside) {
                    found.push(pair);
                }
            }
        }
    }
    found
}

#[test]
fn nothing_runs_into_anything_on_its_way() {
    for (name, valve) in valves() {
        let found = collisions(&Section::of(&valve), &valve);
        assert!(found.is_empty(), "{name}: {found:?}");
    }
}

/// A stage that is 1 mm thicker than drawn for its lift meets the cover's stop, and the test sees it.
#[test]
fn a_stage_that_is_too_thick_is_seen() {
    let valve = demo::scenario("water-bang", &[]).valve;
    let mut section = Section::of(&valve);
    let stage = section.shapes.iter_mut().find(|shape| shape.part == Part::MainStage).expect("a stage");
    let top = most(&stage.outline, 1);
    for at in &mut stage.outline {
        if at[1] == top {
            at[1] += 1e-3;
        }
    }
    assert!(collisions(&section, &valve).contains(&(Part::MainStage, Part::MainStop)));
}

#[test]
fn seats_and_bores_are_the_stated_ones() {
    for (name, valve) in valves() {
        let section = Section::of(&valve);
        close(&name, "the main seat", 2.0 * edge(&shape(&section, Part::MainSeat).outline), valve.main.seat_diameter);
        close(&name, "the main seat's plane", most(&shape(&section, Part::MainSeat).outline, 1), 0.0);
        let Some(servo) = valve.servo() else { continue };
        let pilot = place(&section, Place::PilotOrifice);
        close(&name, "the pilot seat", 2.0 * most(&pilot, 0), servo.pilot.seat_diameter);
        let bottom = least(&pilot, 1);
        let bore = pilot.iter().filter(|at| at[1] == bottom).map(|at| at[0]).fold(0.0, f64::max);
        close(&name, "the pilot's bore", 2.0 * bore, servo.pilot.diameter);
        close(&name, "the pilot's length", size(&pilot, 1), servo.pilot.length);
        let bleed = place(&section, Place::BleedOrifice);
        close(&name, "the bleed", size(&bleed, 0), servo.bleed.diameter);
        close(&name, "the bleed's length", size(&bleed, 1), servo.bleed.length);
        if valve.link().is_none() {
            let seat = shape(&section, Part::PilotSeat);
            close(&name, "the pilot seat's edge", 2.0 * edge(&seat.outline), servo.pilot.seat_diameter);
            close(&name, "the pilot seat's bore", 2.0 * least(&seat.outline, 0), servo.pilot.diameter);
        }
        if let Some(restrictor) = servo.pilot.restrictor_diameter.filter(|_| valve.link().is_none()) {
            let channel = place(&section, Place::PilotChannel);
            let high = most(&channel, 1);
            let neck: Vec<f64> = channel.iter().filter(|at| at[1] < high).map(|at| at[0]).collect();
            let narrowest =
                neck.iter().flat_map(|a| neck.iter().map(move |b| (a - b).abs())).filter(|gap| *gap > TOUCH);
            assert!(narrowest.fold(f64::INFINITY, f64::min) <= restrictor + 1e-12, "{name}");
        }
    }
}

/// Beside the pin the bore leaves the stated area, and the pin leaves the bore at the stated lift.
#[test]
fn a_pin_leaves_the_stated_bore_and_leaves_it_at_the_stated_lift() {
    for (name, valve) in valves() {
        let section = Section::of(&valve);
        let Some((bleed, pin)) = valve.servo().and_then(|servo| Some((&servo.bleed, servo.bleed.pin.as_ref()?))) else {
            continue;
        };
        let outline = &shape(&section, Part::Pin).outline;
        let left = (bleed.diameter.powi(2) - size(outline, 0).powi(2)).sqrt();
        close(&name, "the bore beside the pin", left, pin.diameter);
        let mouth = most(&place(&section, Place::BleedOrifice), 1);
        close(&name, "the pin's lift", mouth - least(outline, 1), pin.lift);
    }
}

/// By how much a shape may still move up until it meets another that is over it at a common radius, m.
fn clearance(below: &Outline, above: &Outline) -> f64 {
    let heights = |outline: &Outline, r: f64| -> Vec<f64> {
        edges(outline)
            .filter(|(a, b)| (a[0] - r) * (b[0] - r) <= 0.0 && a[0] != b[0])
            .map(|(a, b)| a[1] + (r - a[0]) / (b[0] - a[0]) * (b[1] - a[1]))
            .collect()
    };
    let (from, to) = (least(below, 0).max(least(above, 0)), most(below, 0).min(most(above, 0)));
    (1..400)
        .map(|i| from + (to - from) * (f64::from(i) + 0.123) / 400.5)
        .flat_map(|r| {
            let tops = heights(below, r);
            heights(above, r).into_iter().flat_map(move |z| tops.clone().into_iter().map(move |top| z - top))
        })
        .filter(|gap| *gap >= -TOUCH)
        .fold(f64::INFINITY, f64::min)
}

#[test]
fn lift_stroke_gap_and_free_play_are_the_stated_ones() {
    for (name, valve) in valves() {
        let section = Section::of(&valve);
        let of = |part: Part| shape(&section, part).outline.clone();
        let (armature, pole, shim) = (of(Part::Armature), of(Part::Pole), of(Part::ResidualGap));
        close(&name, "the residual gap", size(&shim, 1), valve.coil.residual_gap);
        if !valve.armature_is_stage() {
            close(&name, "the lift", clearance(&of(Part::MainStage), &of(Part::MainStop)), valve.main.lift);
            let standing = most(&of(Part::MainSeat), 1) - least(&of(Part::MainStage), 1);
            close(&name, "the shut stage", standing, 0.0);
        }
        match &valve.function {
            Function::NormallyClosed => {
                close(&name, "the stroke", clearance(&armature, &shim), valve.armature.stroke);
                let gap = clearance(&armature, &pole);
                close(&name, "the gap", gap, valve.coil.residual_gap + valve.armature.stroke);
            }
            Function::NormallyOpen(open) => {
                close(&name, "the stroke", clearance(&armature, &of(Part::ArmatureStop)), valve.armature.stroke);
                close(&name, "the pole's clearance", clearance(&shim, &armature), open.pole_clearance);
                // What the coil finds: the armature at its upper stop.
                let moved: Outline = armature.iter().map(|[r, z]| [*r, z + valve.armature.stroke]).collect();
                close(&name, "the gap", clearance(&pole, &moved), valve.coil.residual_gap + valve.way_to_pole());
            }
        }
        if let Some(link) = valve.link() {
            close(&name, "the free play", clearance(&armature, &of(Part::Link)), link.free_play);
        }
    }
}

#[test]
fn iron_piston_ring_and_cushion_are_the_stated_ones() {
    for (name, valve) in valves() {
        let section = Section::of(&valve);
        let plunger = shape(&section, Part::Armature).outline.iter().rev().map(|at| at[0]).fold(0.0, f64::max);
        let core = (valve.coil.core_area / PI).sqrt();
        assert!(plunger >= core - 1e-12, "{name}");
        if shape(&section, Part::Armature).moves == Moves::WithArmature {
            close(&name, "the core", plunger, core);
        }
        let (yoke, coil) = (&shape(&section, Part::Yoke).outline, &shape(&section, Part::Coil).outline);
        let plate = 0.5 * (size(yoke, 1) - size(coil, 1));
        let path = 2.0 * (size(coil, 1) + plate) + 2.0 * (most(yoke, 0) - 0.5 * plate);
        close(&name, "the iron's path", path, valve.coil.iron_length);
        if valve.coil.shading_ring.is_some() {
            let inner = least(&shape(&section, Part::ShadingRing).outline, 0);
            close(&name, "the face inside the ring", inner, (valve.coil.shaded_face_area / PI).sqrt());
        }
        if let Some(cushion) = &valve.main.cushion {
            let ring = &shape(&section, Part::Cushion).outline;
            let face = PI * (most(ring, 0).powi(2) - least(ring, 0).powi(2));
            assert!((face / cushion.area - 1.0).abs() < 1e-12, "{name}: {face}");
            let pot = &shape(&section, Part::CushionPot).outline;
            close(&name, "the cushion's depth", most(pot, 1) - least(ring, 1), cushion.depth);
            close(&name, "its passage", size(&place(&section, Place::CushionPassage), 1), cushion.passage_diameter);
        }
        piston(&name, &section, &valve);
    }
}

fn piston(name: &str, section: &Section, valve: &Valve) {
    let Some(servo) = valve.servo().filter(|_| shapes(section, Part::Membrane).next().is_none()) else { return };
    let (stage, body) = (&shape(section, Part::MainStage).outline, &shape(section, Part::Body).outline);
    let top = most(body, 1);
    let wall = body.iter().filter(|at| at[1] == top).map(|at| at[0]).fold(f64::INFINITY, f64::min);
    let radius = most(stage, 0);
    match &servo.leak {
        RingLeak::Clearance(gap) => {
            close(name, "the piston's clearance", wall - radius, gap.radial_clearance);
            close(name, "the middle of its gap", wall + radius, valve.main.effective_diameter);
            let land: Outline = stage.iter().copied().filter(|at| at[0] == radius).collect();
            close(name, "its land", size(&land, 1), gap.land_length);
        }
        RingLeak::SplitRing(ring) => {
            close(name, "the ring's height", size(&shape(section, Part::PistonRing).outline, 1), ring.ring_height);
            close(
                name,
                "the ring",
                2.0 * most(&shape(section, Part::PistonRing).outline, 0),
                valve.main.effective_diameter,
            );
        }
        RingLeak::Tight => close(name, "the bore", 2.0 * wall, valve.main.effective_diameter),
    }
}

/// Volume of all round spaces of one pressure, m³.
fn filled(section: &Section, pressure: &str, [lift, travel]: [f64; 2]) -> f64 {
    let spaces = section.spaces.iter().filter(|space| space.side == Side::Round && space.pressure == pressure);
    spaces.map(|space| volume(&space.at(lift, travel))).sum()
}

/// What the ledger has each space gain: inlet (A_d − A_s)·x, outlet A_s·x + A_ps·g, chamber −A_d·x − A_ps·g, with g the gap of the pilot seat.
/// Of a direct-operated valve A_d = 0. Left out, as the drawing leaves it out: the bulge, and that in the ledger of a forced lift
/// W(g) = A_ps·g_0·arctan(g/g_0) stands for A_ps·g.
#[test]
fn spaces_sweep_what_the_ledger_has_them_sweep() {
    for (name, valve) in valves() {
        let section = Section::of(&valve);
        let disc = |diameter: f64| 0.25 * PI * diameter * diameter;
        let MainStage { effective_diameter, seat_diameter, .. } = valve.main;
        let (a_s, a_d) = (disc(seat_diameter), if valve.armature_is_stage() { 0.0 } else { disc(effective_diameter) });
        let a_ps = valve.servo().map_or(0.0, |servo| disc(servo.pilot.seat_diameter));
        for [x, x_a] in ways(&valve) {
            let gap = if valve.link().is_some() { x_a - x } else { x_a };
            let expected = [
                ("inlet_pressure", (a_d - a_s) * x),
                ("outlet_pressure", a_s * x + a_ps * gap),
                ("chamber_pressure", -a_d * x - a_ps * gap),
            ];
            for (pressure, swept) in expected {
                let grown = filled(&section, pressure, [x, x_a]) - filled(&section, pressure, [0.0, 0.0]);
                let whole = (a_d + a_s) * valve.main.lift;
                assert!((grown - swept).abs() < 1e-9 * whole, "{name}: {pressure} at {x}, {x_a}: {grown} and {swept}");
            }
        }
    }
}

/// Springs lie between what they act on: the armature's between armature and what is still, shortened as it is pulled in; the main one between
/// stage and cover.
#[test]
fn springs_act_between_what_moves_and_what_is_still() {
    for (name, valve) in valves() {
        let section = Section::of(&valve);
        let length = |of: SpringOf, lift: f64, travel: f64| {
            let spring = section.springs.iter().find(|spring| spring.of == of)?;
            let [low, high] = spring.ends.map(|end| end.displaced(lift, travel)[1]);
            Some(high - low)
        };
        let stroke = valve.armature.stroke;
        let (shut, open) = (length(SpringOf::Armature, 0.0, 0.0), length(SpringOf::Armature, stroke, stroke));
        let (shut, open) = (shut.expect("an armature spring"), open.expect("an armature spring"));
        let by = if valve.normally_open() { open - shut } else { shut - open };
        close(&name, "the armature spring's way", by, stroke);
        assert!(shut.min(open) > 0.0, "{name}: {shut}, {open}");
        let main = |lift: f64| length(SpringOf::MainStage, lift, 0.0);
        assert_eq!(main(0.0).is_some(), !valve.armature_is_stage(), "{name}");
        if let (Some(shut), Some(open)) = (main(0.0), main(valve.main.lift)) {
            close(&name, "the main spring's way", shut - open, valve.main.lift);
            assert!(open > 0.0, "{name}: {open}");
        }
    }
}
