//! Elastic constants of pipe materials, as a fast pressure wave meets them.

use crate::quote;
use crate::units;

/// A material of pipes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Material {
    /// Copper, hard or soft: the temper moves the strength, not the modulus.
    Copper,
    /// Carbon steel, black or galvanised.
    Steel,
    /// Austenitic stainless steel.
    Stainless,
    /// Aluminium and its alloys.
    Aluminium,
    /// Brass.
    Brass,
    /// Polyethylene PE 80.
    Pe80,
    /// Polyethylene PE 100, and PE or HDPE without a class.
    Pe100,
    /// Cross-linked polyethylene.
    Pex,
    /// Unplasticised PVC.
    Pvc,
    /// Reinforced rubber hose, its wall taken as one stuff.
    RubberHose,
}

/// Elastic constants.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Elasticity {
    /// Young's modulus, Pa.
    pub modulus: f64,
    /// Values that are met in practice, Pa.
    pub range: (f64, f64),
    /// Poisson's ratio.
    pub poisson_ratio: f64,
}

const fn elasticity(modulus: f64, range: (f64, f64), poisson_ratio: f64) -> Elasticity {
    Elasticity { modulus, range, poisson_ratio }
}

impl Material {
    /// Every material.
    pub const ALL: [Material; 10] = [
        Material::Copper,
        Material::Steel,
        Material::Stainless,
        Material::Aluminium,
        Material::Brass,
        Material::Pe80,
        Material::Pe100,
        Material::Pex,
        Material::Pvc,
        Material::RubberHose,
    ];

    /// The elastic constants at 20 °C.
    ///
    /// Metals: middle values of handbooks. Ranges after J. M. Gere, Mechanics of Materials, 5th edition, as tabulated
    /// by others (copper 110-120 GPa, ν 0.33-0.36; brass 96-110; aluminium 70-73; steel 190-210, ν 0.27-0.30); copper
    /// 117, steel 207, brass 104, stainless 193 and aluminium 69 GPa stand in several public tables of material
    /// constants.
    ///
    /// Plastics creep, and a wave meets their fast modulus, far above the long-term one of pipe design: 1.4 GPa of PE
    /// 100 against some 0.2 GPa at 50 years (from memory). PE 100: E_0 = 1.43 GPa behind the 395 m/s measured in a coil
    /// of SDR 11 by D. Covas and others, Journal of Hydraulic Research, 2004 (from memory); makers state above 1.0 GPa
    /// in a tensile test, above 0.7 for PE 80. PVC: 2.9 GPa (420,000 psi) in a tensile test, 3.0 at 20 °C short-term in
    /// public tables. PE-X: from memory, makers state 0.6 to 0.9 GPa in a tensile test. All fall steeply with
    /// temperature, which is not followed.
    ///
    /// Rubber hose: one equivalent modulus cannot be right. Textile-reinforced water hose lies near the lower end, with
    /// wave speeds below 200 m/s, steel-braided hydraulic hose near the upper one. Judgement, no source; state a
    /// measured wave speed where it matters.
    pub fn elasticity(self) -> Elasticity {
        match self {
            Material::Copper => elasticity(117e9, (110e9, 128e9), 0.34),
            Material::Steel => elasticity(207e9, (190e9, 212e9), 0.30),
            Material::Stainless => elasticity(193e9, (190e9, 200e9), 0.30),
            Material::Aluminium => elasticity(69e9, (69e9, 73e9), 0.33),
            Material::Brass => elasticity(104e9, (96e9, 110e9), 0.34),
            Material::Pe80 => elasticity(1.0e9, (0.7e9, 1.3e9), 0.46),
            Material::Pe100 => elasticity(1.4e9, (1.0e9, 1.8e9), 0.46),
            Material::Pex => elasticity(0.9e9, (0.6e9, 1.2e9), 0.46),
            Material::Pvc => elasticity(3.0e9, (2.4e9, 3.5e9), 0.40),
            Material::RubberHose => elasticity(0.3e9, (0.02e9, 3e9), 0.48),
        }
    }

    /// Its name.
    pub fn name(self) -> &'static str {
        match self {
            Material::Copper => "copper",
            Material::Steel => "steel",
            Material::Stainless => "stainless",
            Material::Aluminium => "aluminium",
            Material::Brass => "brass",
            Material::Pe80 => "PE 80",
            Material::Pe100 => "PE 100",
            Material::Pex => "PEX",
            Material::Pvc => "PVC",
            Material::RubberHose => "rubber hose",
        }
    }

    /// Does it creep, so that its modulus depends on how fast it is loaded?
    pub fn creeps(self) -> bool {
        matches!(self, Material::Pe80 | Material::Pe100 | Material::Pex | Material::Pvc | Material::RubberHose)
    }

    /// What its elastic modulus is, in words.
    pub fn modulus_words(self) -> String {
        let what = if self.creeps() { "fast modulus" } else { "modulus" };
        let (low, high) = self.elasticity().range;
        format!("{what} of {}, {} to {} GPa in practice", self.name(), low / 1e9, high / 1e9)
    }

    /// What a result with that material must be read with, if anything.
    pub fn caution(self) -> Option<&'static str> {
        (self == Material::RubberHose).then_some(
            "the modulus of a hose is a rough equivalent (0.02 to 3 GPa: up to four times slower or three times faster); \
             measure the wave speed or try both ends",
        )
    }

    /// Why a fluid of that name is not led in it, if it attacks it. Common practice, no source.
    pub fn attacked_by(self, fluid: &str) -> Option<&'static str> {
        (fluid == "R717" && matches!(self, Material::Copper | Material::Brass))
            .then_some("ammonia attacks copper and its alloys, its lines are of steel or stainless steel")
    }

    /// The material of that name, as in a scenario: "copper", "stainless steel", "PE 100".
    pub fn from_name(text: &str) -> Result<Material, String> {
        let plain: String =
            text.to_lowercase().chars().map(|c| if c == '-' || c == '_' { ' ' } else { c }).collect::<String>();
        let words: Vec<&str> = plain.split_whitespace().collect();
        let joined = words.join(" ");
        if let Some((_, material)) = SPELLINGS.iter().find(|(spelling, _)| *spelling == joined) {
            return Ok(*material);
        }
        let near = units::nearest(&joined, Material::ALL.iter().map(|material| material.name()));
        let near = near.map_or(String::new(), |name| format!("; did you mean \"{name}\"?"));
        Err(format!("\"{}\" is not a known material: {}{near}", quote::word(text.trim()), Material::names()))
    }

    /// The names of all materials.
    pub fn names() -> String {
        Material::ALL.map(Material::name).join(", ")
    }
}

/// Spellings of each material: lower case, hyphens as blanks.
pub(super) const SPELLINGS: &[(&str, Material)] = &[
    ("copper", Material::Copper),
    ("cu", Material::Copper),
    ("hard copper", Material::Copper),
    ("soft copper", Material::Copper),
    ("steel", Material::Steel),
    ("carbon steel", Material::Steel),
    ("galvanised steel", Material::Steel),
    ("galvanized steel", Material::Steel),
    ("black steel", Material::Steel),
    ("stainless", Material::Stainless),
    ("stainless steel", Material::Stainless),
    ("aluminium", Material::Aluminium),
    ("aluminum", Material::Aluminium),
    ("brass", Material::Brass),
    ("pe", Material::Pe100),
    ("hdpe", Material::Pe100),
    ("pehd", Material::Pe100),
    ("pe hd", Material::Pe100),
    ("polyethylene", Material::Pe100),
    ("pe 100", Material::Pe100),
    ("pe100", Material::Pe100),
    ("hdpe 100", Material::Pe100),
    ("pe 80", Material::Pe80),
    ("pe80", Material::Pe80),
    ("hdpe 80", Material::Pe80),
    ("pex", Material::Pex),
    ("pe x", Material::Pex),
    ("pvc", Material::Pvc),
    ("pvc u", Material::Pvc),
    ("upvc", Material::Pvc),
    ("rubber hose", Material::RubberHose),
    ("hose", Material::RubberHose),
    ("rubber", Material::RubberHose),
];
