//! Finding a size in the lists, and the listed sizes next to it.

use super::material::Material;
use super::table::{ACR, METRIC, NOMINAL};
use super::token::Unit;

/// Sizes are equal where they differ by less than a micrometre (or a twenty-fifth of a thousandth of an inch).
fn same(a: f64, b: f64) -> bool {
    (a - b).abs() < 1e-3
}

/// The standard that lists a tube of that outside diameter and wall.
pub(super) fn standard_of(outside: f64, wall: f64, unit: Unit, material: Material) -> Option<&'static str> {
    match unit {
        Unit::Millimetre => metric(material).find(|(_, o, w)| same(*o, outside) && same(*w, wall)).map(|(s, _, _)| s),
        Unit::Inch => {
            let acr = material == Material::Copper
                && ACR.iter().any(|t| {
                    (t.outside - outside).abs() < 1e-5
                        && [t.soft, t.hard].iter().flatten().any(|w| (w - wall).abs() < 1e-5)
                });
            let scheduled = material == Material::Steel
                && NOMINAL.iter().any(|pipe| {
                    let (o, forty, eighty) = pipe.schedule;
                    (o - outside).abs() < 1e-5 && [forty, eighty].iter().any(|w| (w - wall).abs() < 1e-5)
                });
            if acr {
                Some("ASTM B280")
            } else if scheduled {
                Some("ASME B36.10")
            } else {
                None
            }
        }
    }
}

/// Every listed metric size of a material: standard, outside diameter, wall.
fn metric(material: Material) -> impl Iterator<Item = (&'static str, f64, f64)> {
    let lists = METRIC.iter().filter(move |list| list.materials.contains(&material));
    let tubes = lists.flat_map(|list| list.tubes.iter().map(|(outside, wall)| (list.standard, *outside, *wall)));
    let medium = NOMINAL.iter().filter_map(|pipe| pipe.medium).map(|(outside, wall)| ("EN 10255", outside, wall));
    tubes.chain(medium.filter(move |_| material == Material::Steel))
}

/// The listed metric sizes nearest to one, in words; empty where the material has no list.
pub(super) fn nearest_metric(outside: f64, wall: Option<f64>, material: Material) -> Vec<String> {
    let mut sizes: Vec<(f64, f64)> = metric(material).map(|(_, outside, wall)| (outside, wall)).collect();
    let distance = |(o, w): &(f64, f64)| ((o - outside).abs(), wall.map_or(*w, |wall| (w - wall).abs()));
    sizes.sort_by(|a, b| {
        let (a, b) = (distance(a), distance(b));
        a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1))
    });
    sizes.dedup();
    // All walls of the diameter that was named, or else the two nearest sizes.
    let exact = sizes.iter().filter(|(o, _)| same(*o, outside)).count();
    let shown = if wall.is_none() && exact > 0 { exact } else { 2 };
    sizes.iter().take(shown).map(|(outside, wall)| format!("{outside} x {wall}")).collect()
}

/// The two names nearest to a value, one on each side where there is one.
pub(super) fn neighbours<'n>(value: f64, sizes: impl Iterator<Item = (f64, &'n str)> + Clone) -> Vec<&'n str> {
    let below = sizes.clone().filter(|(size, _)| *size < value).max_by(|a, b| a.0.total_cmp(&b.0));
    let above = sizes.filter(|(size, _)| *size > value).min_by(|a, b| a.0.total_cmp(&b.0));
    [below, above].iter().flatten().map(|(_, name)| *name).collect()
}
