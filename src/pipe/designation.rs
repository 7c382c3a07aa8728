//! A pipe from its designation.

use super::material::Material;
use super::size;
use super::table::{ACR, AcrTube, NOMINAL, NominalPipe, SDR_11, SDR_STANDARD};
use super::token::{Number, Parts, Temper, Unit, parts};
use crate::quote;

/// A pipe.
#[derive(Clone, Debug, PartialEq)]
pub struct Pipe {
    /// Outside diameter, m.
    pub outside_diameter: f64,
    /// Bore, m.
    pub bore: f64,
    /// Wall thickness, m.
    pub wall_thickness: f64,
    /// Material.
    pub material: Material,
    /// Its name in a regular form, with the standard that lists it: "22 x 1 copper, EN 1057".
    pub name: String,
    /// What is odd about it: a size that no standard lists.
    pub remark: Option<String>,
}

/// Widest pipe that is taken, m: wider ones are slips of the unit, no lines of such valves.
const WIDEST: f64 = 0.35;

const FORMS: &str = "\"22 x 1 copper\" (outside diameter x wall, mm), \"7/8 in ACR\", \"DN 20 steel\", \
                     \"1/2 in steel schedule 40\" or \"32 PE SDR 11\"";

/// Reads a designation such as "22 x 1 copper", "7/8 in ACR", "DN 20 steel", "1/2 in steel schedule 40", "32 PE SDR
/// 11".
///
/// Outside diameter x wall is taken for any numbers with a material; where no list holds them, the pipe carries a
/// remark. Other designations must be listed; the message then names the nearest ones.
pub fn parse(text: &str) -> Result<Pipe, String> {
    if quote::is_no_name(text) {
        return Err(format!("\"{}\" is not a pipe's designation; wanted one such as {FORMS}", quote::word(text)));
    }
    let parts = parts(text)?;
    let text = text.trim();
    if parts.inside {
        return Err(format!(
            "\"{text}\" speaks of the inside; a pipe is named by its outside diameter x wall thickness: state `bore`, \
             `wall_thickness` and `material` instead"
        ));
    }
    match (parts.sizes.as_slice(), parts.by) {
        ([outside, wall], true) => explicit(text, &parts, outside, wall),
        ([], false) if parts.dn.is_some() => by_dn(text, &parts),
        ([outside], false) if parts.acr => by_acr(text, &parts, outside),
        ([outside], false) if parts.sdr.is_some() => by_sdr(text, &parts, outside),
        ([nominal], false) if parts.schedule.is_some() => by_schedule(text, &parts, nominal),
        ([outside], false) => Err(wall_missing(text, &parts, outside)),
        _ => Err(format!("\"{text}\" is not a pipe's designation; wanted one such as {FORMS}")),
    }
}

fn material(text: &str, parts: &Parts) -> Result<Material, String> {
    let known = if parts.acr { Some(Material::Copper) } else { None };
    match (parts.material, known) {
        (Some(stated), Some(known)) if stated != known => {
            Err(format!("\"{text}\": ACR tube is of copper, not of {}", stated.name()))
        }
        (stated, known) => stated.or(known).ok_or_else(|| {
            format!("\"{text}\" names no material: add one of {}, as in \"22 x 1 copper\"", Material::names())
        }),
    }
}

/// Removes the rounding that decimal fractions bring into a difference, so that 22 − 2·1.2 is the number that "19.6"
/// is.
fn decimal(value: f64) -> f64 {
    (value * 1e6).round() / 1e6
}

fn pipe(outside: f64, wall: f64, unit: Unit, material: Material, name: String) -> Pipe {
    Pipe {
        outside_diameter: unit.metres(outside),
        bore: unit.metres(decimal(outside - 2.0 * wall)),
        wall_thickness: unit.metres(wall),
        material,
        name,
        remark: None,
    }
}

fn explicit(text: &str, parts: &Parts, outside: &Number, wall: &Number) -> Result<Pipe, String> {
    let material = material(text, parts)?;
    let unit = match (outside.unit, wall.unit) {
        (Some(a), Some(b)) if a != b => return Err(format!("\"{text}\" mixes mm and in; write both in one unit")),
        (Some(unit), _) | (_, Some(unit)) => unit,
        _ if outside.fraction || parts.acr => Unit::Inch,
        _ => Unit::Millimetre,
    };
    if 2.0 * wall.value >= outside.value {
        return Err(format!(
            "\"{text}\" leaves no bore: it is read as outside diameter {} x wall thickness {}. Where \
             the two are bore and outside diameter, write the outside diameter first and then the wall",
            outside.text, wall.text
        ));
    }
    if unit.metres(outside.value) > WIDEST {
        return Err(format!(
            "\"{text}\" would be {:.0} mm wide outside; \"in\" means inches here",
            1000.0 * unit.metres(outside.value)
        ));
    }
    let shown = match unit {
        Unit::Millimetre => format!("{} x {} {}", outside.value, wall.value, material.name()),
        Unit::Inch => format!("{} x {} in {}", outside.text, wall.text, material.name()),
    };
    let found = size::standard_of(outside.value, wall.value, unit, material);
    let name = format!("{shown}, {}", found.unwrap_or("no listed size"));
    let mut pipe = pipe(outside.value, wall.value, unit, material, name);
    pipe.remark = found.is_none().then(|| {
        let nearest = match unit {
            Unit::Millimetre => size::nearest_metric(outside.value, Some(wall.value), material).join(" and "),
            Unit::Inch => String::new(),
        };
        let nearest = if nearest.is_empty() { nearest } else { format!(" (nearest {nearest})") };
        format!("{shown} is in no list known here{nearest}: taken as outside diameter x wall thickness")
    });
    Ok(pipe)
}

fn by_acr(text: &str, parts: &Parts, outside: &Number) -> Result<Pipe, String> {
    let material = material(text, parts)?;
    let listed = ACR.iter().map(|tube| (tube.outside, tube.name));
    if outside.unit == Some(Unit::Millimetre) {
        let inches = outside.value / 25.4;
        let near = size::neighbours(inches, listed).join(" in and ");
        return Err(format!(
            "\"{text}\": ACR tube is named by its outside diameter in inches; nearest {near} in. A metric tube \
             is named with its wall, such as \"22 x 1 copper\""
        ));
    }
    let Some(tube) = ACR.iter().find(|tube| (tube.outside - outside.value).abs() < 1e-3) else {
        let near = size::neighbours(outside.value, listed).join(" in and ");
        return Err(format!(
            "{} in ACR is not a listed size (outside diameter, ASTM B280); nearest {near} in",
            outside.text
        ));
    };
    let (wall, temper) = acr_wall(text, tube, parts.temper)?;
    let name = format!("{} in ACR{temper}, ASTM B280", tube.name);
    Ok(pipe(tube.outside, wall, Unit::Inch, material, name))
}

/// The wall of an ACR tube and the temper in words where it decides; soft where none is stated, as from the coil.
fn acr_wall(text: &str, tube: &AcrTube, temper: Option<Temper>) -> Result<(f64, &'static str), String> {
    let differ = tube.soft != tube.hard;
    match (temper, tube.soft, tube.hard) {
        (Some(Temper::Soft) | None, Some(soft), _) => Ok((soft, if differ { " soft" } else { "" })),
        (Some(Temper::Hard) | None, _, Some(hard)) => Ok((hard, if differ { " hard" } else { "" })),
        (Some(Temper::Hard), Some(_), None) => Err(format!("\"{text}\": {} in is listed soft only", tube.name)),
        _ => Err(format!("\"{text}\": {} in is listed hard only", tube.name)),
    }
}

fn by_dn(text: &str, parts: &Parts) -> Result<Pipe, String> {
    let wanted = parts.dn.unwrap_or(f64::NAN);
    let material = material(text, parts)?;
    if material != Material::Steel {
        return Err(format!(
            "\"{text}\": DN sizes are listed for steel only; a pipe of {} is named by outside diameter x wall",
            material.name()
        ));
    }
    let row = NOMINAL.iter().find(|row| f64::from(row.dn) == wanted);
    if let (Some(row), Some(_)) = (row, parts.schedule) {
        return scheduled(text, parts, row, &format!("DN {}", row.dn));
    }
    let Some((row, (outside, wall))) = row.and_then(|row| row.medium.map(|tube| (row, tube))) else {
        let below = NOMINAL.iter().filter(|r| r.medium.is_some() && f64::from(r.dn) < wanted).map(|r| r.dn).max();
        let above = NOMINAL.iter().filter(|r| r.medium.is_some() && f64::from(r.dn) > wanted).map(|r| r.dn).min();
        let near: Vec<String> = [below, above].iter().flatten().map(|dn| format!("DN {dn}")).collect();
        return Err(format!(
            "DN {wanted} steel is not a listed size (EN 10255, medium series); nearest {}",
            near.join(" and ")
        ));
    };
    let name = format!("DN {} steel ({outside} x {wall}), EN 10255 medium series", row.dn);
    Ok(pipe(outside, wall, Unit::Millimetre, material, name))
}

fn by_schedule(text: &str, parts: &Parts, nominal: &Number) -> Result<Pipe, String> {
    let material = material(text, parts)?;
    if material != Material::Steel {
        return Err(format!("\"{text}\": schedules are listed for steel only (ASME B36.10)"));
    }
    if nominal.unit == Some(Unit::Millimetre) {
        return Err(format!("\"{text}\": a schedule goes with a nominal size in inches or DN"));
    }
    let Some(row) = NOMINAL.iter().find(|row| (row.nps - nominal.value).abs() < 1e-9) else {
        let near = size::neighbours(nominal.value, NOMINAL.iter().map(|row| (row.nps, row.name))).join(" in and ");
        return Err(format!("{} in is not a listed nominal size (ASME B36.10); nearest {near} in", nominal.text));
    };
    scheduled(text, parts, row, &format!("{} in", row.name))
}

fn scheduled(text: &str, parts: &Parts, row: &NominalPipe, size: &str) -> Result<Pipe, String> {
    let (outside, forty, eighty) = row.schedule;
    let schedule = parts.schedule.unwrap_or(f64::NAN);
    let wall = match schedule {
        40.0 => forty,
        80.0 => eighty,
        _ => return Err(format!("\"{text}\": schedule {schedule} is not listed; nearest 40 and 80")),
    };
    let name = format!("{size} steel schedule {schedule} ({outside} x {wall} in), ASME B36.10");
    Ok(pipe(outside, wall, Unit::Inch, Material::Steel, name))
}

fn by_sdr(text: &str, parts: &Parts, outside: &Number) -> Result<Pipe, String> {
    let material = material(text, parts)?;
    let ratio = parts.sdr.unwrap_or(f64::NAN);
    if !matches!(material, Material::Pe80 | Material::Pe100 | Material::Pex | Material::Pvc) {
        return Err(format!("\"{text}\": SDR is a ratio of plastic pipes, not of {}", material.name()));
    }
    let metric = outside.unit != Some(Unit::Inch);
    if !metric || ratio <= 2.0 || Unit::Millimetre.metres(outside.value) > WIDEST {
        return Err(format!("\"{text}\": wanted an outside diameter in mm and an SDR above 2, as in \"32 PE SDR 11\""));
    }
    let listed = SDR_11.iter().find(|tube| tube.0 == outside.value);
    let shown = format!("{} {} SDR {ratio}", outside.value, material.name());
    if let (11.0, Some((_, wall)), Material::Pe80 | Material::Pe100) = (ratio, listed, material) {
        let name = format!("{shown} ({} x {wall}), {SDR_STANDARD}", outside.value);
        return Ok(pipe(outside.value, *wall, Unit::Millimetre, material, name));
    }
    // By definition SDR is outside diameter over wall; standards round the wall up to a tenth.
    let wall = (10.0 * outside.value / ratio - 1e-9).ceil() / 10.0;
    if 2.0 * wall >= outside.value {
        return Err(format!(
            "\"{text}\" leaves no bore: SDR {ratio} of {} mm is a wall of {wall} mm; wanted an outside diameter in mm, as in \
             \"32 PE SDR 11\"",
            outside.text
        ));
    }
    let name = format!("{shown} ({} x {wall}), no listed size", outside.value);
    let mut pipe = pipe(outside.value, wall, Unit::Millimetre, material, name);
    pipe.remark = Some(format!("{shown} is in no list known here: wall taken as outside diameter over SDR, {wall} mm"));
    Ok(pipe)
}

/// One number is not enough, and what it means depends on the trade.
fn wall_missing(text: &str, parts: &Parts, outside: &Number) -> String {
    let inches = outside.unit == Some(Unit::Inch) || outside.fraction;
    match (parts.material, inches) {
        (None, _) => format!("\"{text}\" is not a pipe's designation; wanted one such as {FORMS}"),
        (Some(Material::Copper), true) => format!(
            "\"{text}\" is ambiguous: refrigeration tube is named by its outside diameter (write \"{0} in ACR\"), \
             water tube by a nominal size 1/8 in below it (write outside diameter x wall, such as \"5/8 x 0.040 in copper\")",
            outside.text
        ),
        (Some(Material::Steel), true) => format!(
            "\"{text}\" is ambiguous: {0} in is a nominal size, neither bore nor outside diameter; write \"{0} in steel \
             schedule 40\" or DN with its number",
            outside.text
        ),
        (Some(material), true) => {
            format!(
                "\"{text}\" lacks the wall: write outside diameter x wall, such as \"1 x 0.1 in {}\"",
                material.name()
            )
        }
        (Some(material), false) => {
            let listed = size::nearest_metric(outside.value, None, material);
            let listed = if listed.is_empty() { String::new() } else { format!("; listed: {}", listed.join(", ")) };
            format!(
                "\"{text}\" lacks the wall: {} mm alone could be bore or outside diameter; write outside diameter \
                 x wall{listed}",
                outside.value
            )
        }
    }
}
