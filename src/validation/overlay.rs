//! A measured curve with the computed one, for a figure beside the tables of a case.

/// Two curves of absolute pressure over time.
#[derive(Clone, Debug)]
pub struct Overlay {
    /// Folder under `validation/`.
    pub folder: &'static str,
    /// Name of the figure's file there, without its ending.
    pub file: &'static str,
    /// Title.
    pub title: &'static str,
    /// Author, title, place, year of the measured curve.
    pub source: &'static str,
    /// What has to be known to read it.
    pub remarks: Vec<String>,
    /// Time (s) and pressure (Pa absolute), measured.
    pub measured: Vec<(f64, f64)>,
    /// The same, computed.
    pub computed: Vec<(f64, f64)>,
}
