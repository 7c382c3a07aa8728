//! Opening a scenario with its settings.

use super::arguments::Common;
use super::outcome::Failure;
use super::terminal;
use quietseat::scenario::{Document, Scenario};
use quietseat::study::asked::remarks;

/// The scenario document with all settings laid over it. All bad settings are named at once.
pub(super) fn open(common: &Common) -> Result<Document, Failure> {
    Ok(Document::open(&common.scenario)?.with_settings(&common.settings)?)
}

/// The scenario; remarks go to stderr.
pub(super) fn scenario(document: &Document, quiet: bool) -> Result<Scenario, Failure> {
    let (scenario, _) = document.scenario()?;
    if !quiet {
        for remark in remarks(document, &scenario)? {
            terminal::say(format!("remark: {remark}"));
        }
    }
    Ok(scenario)
}
