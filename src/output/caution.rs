//! The usual cautions, shown with every result.

/// The one sentence for figures.
pub const CAUTION: &str = "Estimate for diagnosis and training, not a design approval. Local codes, the maker's \
                                  instructions and licensed persons decide.";

/// All cautions.
pub const CAUTIONS: [&str; 6] = [
    CAUTION,
    "Electrical: isolate, lock out and prove dead before touching; never energise a coil off its stem or with the armature \
     taken out.",
    "Pressure: relieve and isolate before opening. Computed surges add to the static pressure; compare them with the \
     lowest-rated component of the line.",
    "Trapped liquid: every further valve, check valve or vessel can shut in liquid that bursts the pipe when it warms; \
     provide relief as the code in force demands.",
    "Refrigerants and fuel gases: certified persons only; toxic or flammable ones (ammonia, propane, A2L) need their own \
     precautions, and parts listed for them.",
    "Limits of the model: vapour cavities only at the valve, no slugs of liquid and vapour, no pipe motion; pressures after \
     a cavity has collapsed are uncertain. Measure before you buy.",
];
