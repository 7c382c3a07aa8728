//! Polygons, and what their corners move with.

/// Corners of a closed polygon: r and z, m.
pub type Outline = Vec<[f64; 2]>;

/// What something moves with, along +z.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Moves {
    /// Nothing.
    Still,
    /// The main stage: by the lift x. So does the armature of a direct-operated valve.
    WithStage,
    /// The armature: by the travel x_a.
    WithArmature,
    /// A membrane: by the lift at its hub, by nothing at its rim (radii, m), in proportion between.
    Bends {
        /// Radius of the hub.
        hub: f64,
        /// Radius at which it is held.
        rim: f64,
    },
}

/// A corner and what it moves with.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Corner {
    /// r and z, m, at rest.
    pub at: [f64; 2],
    /// What it moves with.
    pub moves: Moves,
}

/// Where a point is at a lift and a travel, m.
pub fn displaced([r, z]: [f64; 2], moves: Moves, lift: f64, travel: f64) -> [f64; 2] {
    let by = match moves {
        Moves::Still => 0.0,
        Moves::WithStage => lift,
        Moves::WithArmature => travel,
        Moves::Bends { hub, rim } => lift * ((rim - r) / (rim - hub)).clamp(0.0, 1.0),
    };
    [r, z + by]
}

impl Corner {
    /// Where it is at a lift and a travel, m.
    pub fn displaced(&self, lift: f64, travel: f64) -> [f64; 2] {
        displaced(self.at, self.moves, lift, travel)
    }
}

/// Corners that move alike.
pub(super) fn corners(points: &[[f64; 2]], moves: Moves) -> Vec<Corner> {
    points.iter().map(|&at| Corner { at, moves }).collect()
}

/// Two radii and two heights.
pub(super) fn rectangle([r_0, r_1]: [f64; 2], [z_0, z_1]: [f64; 2]) -> Outline {
    vec![[r_0, z_0], [r_1, z_0], [r_1, z_1], [r_0, z_1]]
}
