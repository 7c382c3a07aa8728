//! Tables of a scenario file, and the paths in them.

use crate::key::Key;

/// A table of the file.
#[derive(Clone, Copy, Debug)]
pub(in crate::scenario) struct Table {
    /// Path; empty for the head of the file.
    pub(in crate::scenario) path: &'static str,
    /// What it is about, where several tables have the same keys; else empty.
    pub(super) of: &'static str,
    /// Its keys, by the declarations from which they come.
    pub(super) keys: &'static [&'static [Key]],
}

impl Table {
    /// Its keys.
    pub(super) fn keys(&self) -> impl Iterator<Item = &'static Key> + use<> {
        self.keys.iter().copied().flatten()
    }
}

/// A path from its table and the name in it.
pub(in crate::scenario) fn join(table: &str, name: &str) -> String {
    if table.is_empty() { name.to_owned() } else { format!("{table}.{name}") }
}

/// Is that path the place itself or inside it?
pub(in crate::scenario) fn within(path: &str, place: &str) -> bool {
    path.strip_prefix(place).is_some_and(|rest| rest.is_empty() || rest.starts_with('.'))
}

/// The table above a path; empty for the head of the file.
pub(in crate::scenario) fn parent(path: &str) -> &str {
    path.rsplit_once('.').map_or("", |(above, _)| above)
}
