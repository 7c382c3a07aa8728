//! `quietseat faults`: what each fault would do to this valve.

use super::arguments::Faults;
use super::outcome::{Failure, Outcome};
use super::{document, terminal, threads};
use quietseat::output::caution::CAUTION;
use quietseat::output::json;
use quietseat::output::text::{faults_text, paragraph};
use quietseat::study::asked::asked;
use quietseat::study::faults::{FaultStudy, faults, runs};

pub(super) fn run(arguments: &Faults) -> Result<Outcome, Failure> {
    let opened = document::open(&arguments.common)?;
    let scenario = document::scenario(&opened, arguments.common.quiet)?;
    let study = compute(arguments, &opened)?;
    let asked = asked(&opened, &scenario)?;
    if arguments.common.json {
        terminal::print(&format!("{}\n", json::faults_answer(&asked, &study).text()))?;
    } else {
        let width = terminal::width();
        let text = faults_text(&asked, &study, width);
        terminal::print(&format!("{text}\n{}\n", paragraph(CAUTION, width)))?;
    }
    Ok(Outcome::Done)
}

fn compute(arguments: &Faults, opened: &quietseat::scenario::Document) -> Result<FaultStudy, Failure> {
    let bar = terminal::progress(arguments.common.quiet, runs() as u64, "{msg} {bar:40} {pos}/{len}  left: {eta}");
    bar.set_message("runs");
    let pool = threads::pool(arguments.threads)?;
    let study = pool.install(|| faults(opened, &|| bar.inc(1)))?;
    bar.finish_and_clear();
    Ok(study)
}
