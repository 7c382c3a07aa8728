//! The study of a closing: the exact cases beside it, what it concludes on its two demonstrations, and that a change it names
//! does what it says.

use crate::demo;
use crate::program;
use crate::reference::{Table, Worst, relative};
use quietseat::output::figure::closing::closing as figure;
use quietseat::output::text::{Points, closing_text};
use quietseat::output::{csv, json};
use quietseat::physics::line::linear_closing::{LinearClosing, linear_stop_rise};
use quietseat::scenario::Document;
use quietseat::study::axis::DIFFERENTIAL;
use quietseat::study::closing::{
    Answer, BLEED, Change, ClosingJob, ClosingStudy, Cure, FLOW, Goal, INLET_GAS, closing,
};
use std::sync::LazyLock;

/// L. Allievi's interlocking equations, recomputed apart (`validation/allievi_1925_closure`). The highest head there was sought on a grid of
/// 1/2000 phase: 2e-5; the others have ten digits: 1e-8.
#[test]
fn the_linear_closing_follows_the_table_of_allievi() {
    let (mut highest, mut first, mut shut) = (Worst::default(), Worst::default(), Worst::default());
    let mut rows = 0;
    for row in Table::read("allievi_1925_closure/linear_area_closure.csv").rows() {
        let of = LinearClosing { line_number: row.number("rho"), returns: row.number("theta") };
        let place = || format!("{of:?}");
        highest.note(relative(of.highest_head(), row.number("highest_head")), place);
        if of.returns > 1.0 {
            first.note(relative(of.root_of_head(1.0).powi(2), row.number("head_after_one_phase")), place);
        }
        shut.note(relative(of.root_of_head(of.returns).powi(2), row.number("head_when_shut")), place);
        rows += 1;
    }
    assert_eq!(rows, 60);
    highest.refuse_above(2e-5, "highest head");
    first.refuse_above(1e-8, "head after one phase");
    shut.refuse_above(1e-8, "head when shut");
}

/// A slow closing tends to Allievi's closed limit h = 1 + n²/2 + n·√(1 + n²/4), n = ρ/θ (from memory), and a closing within one
/// return is sudden. The stop of the flow that is asked for comes out.
#[test]
fn the_linear_closing_has_its_limits() {
    let slow = LinearClosing { line_number: 0.4, returns: 400.0 };
    let n = slow.line_number / slow.returns;
    let limit: f64 = 1.0 + n * n / 2.0 + n * (1.0 + n * n / 4.0).sqrt();
    assert!(relative(slow.root_of_head(390.0).powi(2), limit).abs() < 1e-6);
    assert_eq!(LinearClosing { line_number: 2.0, returns: 0.7 }.highest_head(), 5.0);
    for (line_number, stopping) in [(0.1, 0.2), (0.5, 1.0), (2.5, 14.0), (6.0, 230.0)] {
        let found = LinearClosing::stopping_in(line_number, stopping);
        assert!(relative(found.stopping_returns(), stopping).abs() < 1e-6, "{found:?} for {stopping}");
    }
    // Michaud's estimate stands for a linear stop of the flow only: at low head an opening exceeds it (rho 8, theta 3).
    let opening = LinearClosing { line_number: 8.0, returns: 3.0 }.highest_head() - 1.0;
    assert!(opening > linear_stop_rise(2.0 * 8.0, 3.0).expect("beyond one return"));
    assert_eq!(linear_stop_rise(1e5, 0.99), None);
}

/// No other parameter, where only the bleed is asked for.
fn bleed_alone() -> ClosingJob<'static> {
    ClosingJob { only: Some(&[]), ..ClosingJob::default() }
}

static WATER: LazyLock<(Document, ClosingStudy)> = LazyLock::new(|| {
    let document = demo::open("water-closing");
    let job = ClosingJob { only: Some(&[INLET_GAS, "upstream.length"]), ..ClosingJob::default() };
    let study = closing(&document, &job).expect("a study");
    (document, study)
});

/// A target, 0.8 of ρ·a·v, that the liquid line's slowest bleed within reach does not keep. Only what is looked at is varied, to
/// save time.
static LIQUID: LazyLock<(Document, ClosingStudy)> = LazyLock::new(|| {
    let document = demo::open("liquid-closing");
    let only: &[&str] = &[FLOW, INLET_GAS, DIFFERENTIAL];
    let job = ClosingJob { only: Some(only), ..ClosingJob::default() };
    let study = closing(&document, &job).expect("a study");
    (document, study)
});

fn solved<'c>(study: &'c ClosingStudy, path: &str) -> (&'c Change, &'c Cure) {
    let change = study.change(path).unwrap_or_else(|| panic!("{path} is a change"));
    (change, change.answer.cure().unwrap_or_else(|| panic!("{path}: {:?}", change.answer)))
}

#[test]
fn the_water_line_is_cured_by_a_narrower_bleed_within_reach() {
    let (_, study) = &*WATER;
    assert!(study.adverse());
    let (change, cure) = solved(study, BLEED);
    let (bore, peak) = (cure.value, cure.closing.peak);
    // 10 bar(g) above an atmosphere of 1.013 bar.
    assert!(peak <= 11.013e5 + 1.0 && study.today.peak > 13e5, "{peak}");
    assert!(bore < change.today && bore >= study.least_bleed);
    assert!(
        study.quote.contains("Narrowing the bleed from 1 mm to") && study.quote.contains("2L/a"),
        "{}",
        study.quote
    );
    // The smallest change: a bore three hundredths wider breaks the target.
    let wider: Vec<bool> = study
        .leading()
        .closings()
        .filter(|(v, _)| *v > bore * 1.001 && *v < bore * 1.03)
        .map(|(_, c)| study.target.met(c))
        .collect();
    assert!(!wider.is_empty() && !wider.contains(&true), "{wider:?}");
}

/// DIN 3553:2019, 4.1.1, as its public extract has it: 2 bar above rest, and half of the flow pressure.
#[test]
fn water_is_measured_by_the_standard_for_its_fittings_and_a_refrigerant_is_not() {
    let (_, study) = &*WATER;
    let named = |words: &str| study.criteria.iter().find(|c| c.name.contains(words)).expect("a criterion");
    let positive = named("DIN 3553 positive surge");
    assert!(relative(positive.limit, study.today.rest_pressure + 2e5).abs() < 1e-9 && !positive.passed());
    let negative = named("DIN 3553 negative surge");
    let atmosphere = 1.013e5;
    assert!(relative(negative.limit - atmosphere, 0.5 * (study.today.open_pressure - atmosphere)).abs() < 1e-9);
    assert!(!negative.ceiling && !negative.passed());
    assert!(LIQUID.1.criteria.iter().all(|c| !c.name.contains("DIN")));
    // Without limits of the user's own, it is the target for water.
    let mut bare = WATER.0.clone();
    for setting in ["limits.peak_pressure=none", "valve.bleed.diameter=0.6 mm"] {
        bare = bare.with_setting(setting).expect("a setting");
    }
    let study = closing(&bare, &bleed_alone()).expect("a study");
    assert_eq!(study.target.goal, Goal::Surge(2e5));
    assert!(!study.adverse() && study.changes.is_empty() && study.quote.contains("no slower closing is needed"));
}

#[test]
fn the_liquid_line_needs_another_cure_and_the_study_says_why() {
    let (_, study) = &*LIQUID;
    let bleed = study.change(BLEED).expect("asked for");
    assert_eq!(bleed.answer, Answer::OutOfReach);
    // Even at the least bore more than half of the flow stops while the wave is under way.
    let least = study.leading().at(study.least_bleed).expect("the end of the reach is simulated");
    assert!(least.surge_ratio > 0.75 && least.steepest_stop > 0.5, "{least:?}");
    let said = study.findings.join(" ");
    assert!(said.contains("No bleed down to 0.4 mm") && said.contains("times 2L/a = "), "{said}");
    for path in [FLOW, INLET_GAS] {
        assert!(study.target.kept(&solved(study, path).1.closing));
    }
    assert!(
        study.quote.starts_with("No bleed down to 0.4 mm") && study.quote.contains("a velocity of"),
        "{}",
        study.quote
    );
}

/// With the whole reach open the peak falls with the bore: the physics agrees with 2L/a, not with the total closing time.
#[test]
fn the_share_stopped_within_one_return_sets_the_peak_of_the_liquid_line() {
    for (bore, c) in LIQUID.1.leading().closings() {
        assert!((c.surge_ratio - c.steepest_stop).abs() < 0.13, "{bore}: {} {}", c.surge_ratio, c.steepest_stop);
    }
}

#[test]
fn a_point_without_a_result_is_kept_with_its_reason() {
    let (_, study) = &*LIQUID;
    let of = |path: &str| study.sweeps.iter().find(|s| s.parameter.path == path).expect("a sweep");
    let failed: Vec<&String> = of(DIFFERENTIAL).points.iter().filter_map(|p| p.outcome.as_ref().err()).collect();
    assert!(failed.iter().any(|reason| reason.contains("the fluid is a gas")), "{failed:?}");
    let table = String::from_utf8(csv::closing(study)).expect("text");
    assert!(table.lines().any(|l| l.starts_with(DIFFERENTIAL) && l.contains("failed") && l.contains("superheated")));
    let (_, water) = &*WATER;
    let narrowest = &water.leading().points[0];
    assert!(narrowest.outcome.as_ref().is_err_and(|reason| reason.contains("does not shut")), "{narrowest:?}");
    assert!(closing_text(water, Points::Leading, 100).contains("does not shut within 60 s"));
}

#[test]
fn outputs_hold_every_point_and_repeat_to_the_byte() {
    let (_, study) = &*WATER;
    let points: usize = study.sweeps.iter().map(|s| s.points.len()).sum();
    assert_eq!(csv::closing(study).split(|&b| b == b'\n').filter(|l| !l.is_empty()).count(), points + 1);
    let part = json::closing_part(study);
    assert_eq!(part.points.len(), points);
    let document: serde_json::Value = serde_json::to_value(&part).expect("a document");
    assert_eq!(document["changes"][0]["path"], BLEED);
    assert_eq!(document["target"]["met_today"], false);
    let drawn = figure(study, "caution");
    assert_eq!(drawn, figure(study, "caution"));
    for sweep in &study.sweeps {
        let quietseat::study::closing::Parameter { path, title, .. } = &sweep.parameter;
        assert_eq!(quietseat::scenario::title(path), Some(*title), "one word for one thing");
    }
    assert!(drawn.svg.contains("bleed orifice diameter [mm]"));
    for words in
        ["today 1 mm", "drill size", "enough: from", "DIN 3553 positive", "Allievi", "Michaud", "2L/a", "out of reach"]
    {
        assert!(drawn.svg.contains(words), "{words}");
    }
    for width in [60, 80, 110] {
        for line in closing_text(study, Points::All, width).lines() {
            assert!(line.chars().count() <= width, "{width}: {line}");
        }
    }
}

#[test]
fn another_number_of_threads_gives_the_same_answer() {
    let (document, study) = &*WATER;
    let pool = rayon::ThreadPoolBuilder::new().num_threads(1).build().expect("a pool");
    let alone = pool.install(|| closing(document, &bleed_alone())).expect("a study");
    assert_eq!(alone.leading(), study.leading());
    assert_eq!(alone.change(BLEED), study.change(BLEED));
}

#[test]
fn a_valve_that_shows_no_closing_is_refused() {
    let document = demo::open("water-closing").with_setting("supply.differential=0.02 bar").expect("a setting");
    let document = document.with_setting("flow=none").expect("a setting");
    let refused = closing(&document, &bleed_alone()).expect_err("nothing opens");
    assert!(refused.to_string().contains("does not open"), "{refused}");
}

/// Refused before any run, with what is wanted instead.
#[test]
fn a_target_that_says_not_what_it_counts_from_is_refused() {
    let run = |option: &str, text: &str| {
        let out = program::folder("closing-refused");
        let program = program::command(&["closing", "scenarios/water-closing.toml", "--quiet", option, text])
            .arg("--out")
            .arg(out)
            .output()
            .expect("the program starts");
        assert_eq!(program.status.code(), Some(2));
        program::text(&program.stderr)
    };
    assert!(run("--target", "12 bar").contains("bar(g)"));
    assert!(run("--target-surge", "2 bar(g)").contains("--target-surge"));
    assert!(run("--target-surge", "0 bar").contains("above zero"));
    assert!(run("--least-bleed", "0.4").contains("--least-bleed"));
}

/// Today's valve breaks its target: no failure of the program, unless a script asks to be told.
#[test]
fn a_broken_target_is_told_by_the_exit_code_where_asked() {
    let code = |options: &[&str]| {
        program::command(&["closing", "scenarios/water-closing.toml", "--quiet", "--out"])
            .arg(program::folder("closing-strict"))
            .args(options)
            .output()
            .expect("the program starts")
            .status
            .code()
    };
    assert_eq!((code(&[]), code(&["--strict"])), (Some(0), Some(1)));
}

#[test]
fn a_target_below_the_pressure_at_rest_is_refused() {
    let job = ClosingJob { goal: Some(Goal::Peak(1e5)), ..ClosingJob::default() };
    let refusal = closing(&demo::open("water-closing"), &job).expect_err("no closing can do that").to_string();
    assert!(refusal.contains("not above the pressure at rest"), "{refusal}");
}

/// 0.85 mm keeps the 11.01 bar(a) at the stated 24 L/min and breaks it at half of it, where the flow stops in half the time. Computed
/// once more as `run` does.
#[test]
fn a_quoted_bleed_is_tried_at_smaller_flows_and_its_misses_are_told() {
    let (document, study) = &*WATER;
    let part = solved(study, BLEED).1.part_flows.as_ref().expect("the flow is stated");
    let flows: Vec<f64> = part.points.iter().map(|p| p.flow * 60e3).collect();
    assert!(flows.iter().zip([16.8, 12.0, 8.4]).all(|(a, b)| relative(*a, b).abs() < 1e-9), "{flows:?}");
    let half = &part.points[1];
    let peak = |settings: &[&str]| {
        let set = settings.iter().fold(document.clone(), |d, s| d.with_setting(s).expect("a setting"));
        let (scenario, _) = set.scenario().expect("a scenario");
        let examined = quietseat::study::examine::examine(&scenario).expect("a run");
        (examined.indicators.inlet_peak_closing.expect("a peak"), examined.verdict.no_hammer.is_some())
    };
    let (found, quiet) = peak(&["flow.volume_flow=12 L/min", "valve.bleed.diameter=0.85 mm"]);
    assert!(half.misses.is_some() && found > 11.013e5 && !quiet, "{found}");
    assert!(half.outcome.as_ref().is_ok_and(|closing| relative(closing.peak, found).abs() < 1e-6));
    let narrower = part.narrower.expect("a size for all flows");
    assert!(narrower < 0.85e-3 && narrower >= study.least_bleed);
    for flow in ["16.8 L/min", "12 L/min", "8.4 L/min", "24 L/min"] {
        let (found, quiet) = peak(&[&format!("flow.volume_flow={flow}"), &part.narrower_settings[0]]);
        assert!(found <= 11.013e5 && quiet, "{flow}: {found}");
    }
    for words in ["at the stated 24 L/min", "at 12 L/min it would still reach 12.2", "keeps the target at these flows"]
    {
        assert!(study.quote.contains(words), "{words}: {}", study.quote);
    }
    let told = serde_json::to_value(json::closing_part(study)).expect("a document");
    assert_eq!(told["changes"][0]["part_flows"][1]["meets_target"], false);
    assert!(told["changes"][0]["size_for_part_flows"]["value"].as_f64().is_some_and(|v| v < 0.85));
    // A target kept at all of them says that, and nothing narrower is sought.
    let gas = solved(study, INLET_GAS).1.part_flows.as_ref().expect("the flow is stated");
    assert!(gas.points.len() == 3 && gas.narrower.is_none());
}

/// 10 bar above rest, where ρ·a·v is 5.7 bar: no closing could break it.
#[test]
fn a_limit_above_a_sudden_stop_is_called_empty() {
    let document = demo::open("liquid-refrigerant");
    let study = closing(&document, &bleed_alone()).expect("a study");
    assert!(study.target.above_sudden_stop(&study.today) && !study.adverse());
    for words in ["lies above a sudden stop", "says nothing", "--target-surge"] {
        assert!(study.quote.contains(words), "{}", study.quote);
    }
    assert!(!study.quote.contains("no slower closing is needed"), "{}", study.quote);
    let job = ClosingJob { goal: Some(Goal::Surge(4e5)), ..bleed_alone() };
    let study = closing(&document, &job).expect("a study");
    assert!(!study.target.above_sudden_stop(&study.today) && !study.quote.contains("says nothing"), "{}", study.quote);
}

/// The supply's pressure moves with the differential, so the lowest peak would lie below the limit without keeping it.
#[test]
fn where_the_target_is_a_rise_the_lowest_rise_is_told() {
    let (_, study) = &*LIQUID;
    let said = study.findings.iter().find(|f| f.contains("circuit differential pressure within")).expect("a finding");
    assert!(said.contains("lowest rise ") && !said.contains("lowest peak"), "{said}");
}
