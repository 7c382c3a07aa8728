//! Invented maps: shapes only, no physics. Not every test uses all of them.

#![allow(dead_code)]

use quietseat::indicator::Indicators;
use quietseat::study::axis::Axis;
use quietseat::study::map::{BoundaryPoint, Cell, CellResult, Guide, GuideKind, StabilityMap};
use quietseat::units::Dimension;
use quietseat::verdict::{Behaviour, Finding, Verdict};

pub(crate) fn result(behaviours: &[(Behaviour, bool)]) -> Cell {
    let findings = behaviours
        .iter()
        .map(|&(behaviour, adverse)| Finding {
            behaviour,
            adverse,
            margin: 1.4,
            reason: format!("Invented sentence about: {}.", behaviour.words()),
        })
        .collect();
    Cell::Done(Box::new(CellResult {
        indicators: Indicators { closing_time: Some(0.0123), mean_lift: Some(0.5), ..Indicators::default() },
        verdict: Verdict { findings, ..Verdict::default() },
        ledger_residue: 1.5e-9,
        steps: 1000,
        evaluations: 6100,
        disturbance: Default::default(),
        reused_from_row: None,
    }))
}

pub(crate) fn axis(
    path: &str,
    title: &str,
    dimension: Dimension,
    logarithmic: bool,
    range: (f64, f64),
    points: usize,
) -> Axis {
    let share = |i: usize| {
        if points > 1 { i as f64 / (points - 1) as f64 } else { 0.0 }
    };
    let value = |i: usize| {
        if logarithmic {
            range.0 * (range.1 / range.0).powf(share(i))
        } else {
            range.0 + (range.1 - range.0) * share(i)
        }
    };
    Axis { path: path.into(), title: title.into(), dimension, logarithmic, values: (0..points).map(value).collect() }
}

fn leading(bar: f64, per_hour: f64) -> Behaviour {
    let x = bar.log10();
    let rate = per_hour.log10();
    if bar < 0.045 {
        Behaviour::StaysShut
    } else if bar > 14.0 {
        Behaviour::WillNotOpen
    } else if rate > 4.1 - 0.25 * x {
        Behaviour::OnTimeTooShort
    } else if x < -0.95 + 0.05 * (rate - 1.0) {
        Behaviour::FloatsSteadily
    } else if x < -0.35 + 0.1 * (3.0 * rate).sin() {
        Behaviour::Chatters
    } else if x < -0.22 + 0.1 * (3.0 * rate).sin() {
        Behaviour::StillSettling
    } else {
        Behaviour::OpensFully
    }
}

fn cell(bar: f64, per_hour: f64, row: usize, column: usize) -> Cell {
    if (27..=29).contains(&row) && (20..=23).contains(&column) {
        return Cell::Failed("step size fell below 1e-14 s at t = 0.0132 s (chamber pressure)".into());
    }
    let first = leading(bar, per_hour);
    let adverse = !matches!(first, Behaviour::OpensFully | Behaviour::FloatsSteadily | Behaviour::StillSettling);
    let mut all = vec![(first, adverse)];
    if bar > 3.0 && first == Behaviour::OpensFully {
        all.push((Behaviour::Hammers, true));
    }
    if bar > 7.0 && first == Behaviour::OpensFully {
        all.push((Behaviour::ClosesHard, true));
    }
    if per_hour > 3000.0 && bar < 3.0 {
        all.push((Behaviour::Overheats, true));
    }
    if per_hour < 30.0 && bar > 0.6 && bar < 14.0 {
        all.push((Behaviour::Hums, true));
    }
    result(&all)
}

fn boundaries(x: &Axis, y: &Axis) -> Vec<BoundaryPoint> {
    let mut all = Vec::new();
    for &rate in &y.values {
        for pair in x.values.windows(2) {
            let kind = |pa: f64| leading(pa * 1e-5, rate * 3600.0);
            let (left, right) = (kind(pair[0]), kind(pair[1]));
            if left != right {
                let (mut low, mut high) = (pair[0], pair[1]);
                for _ in 0..8 {
                    let middle = (low * high).sqrt();
                    if kind(middle) == left { low = middle } else { high = middle }
                }
                all.push(BoundaryPoint { x: (low * high).sqrt(), y: rate, left, right });
            }
        }
    }
    all
}

/// The usual map: differential pressure across, cycle rate up.
pub(crate) fn usual() -> StabilityMap {
    let x = axis("supply.differential", "differential pressure", Dimension::PressureDifference, true, (2e3, 25e5), 44);
    let y = axis("duty.cycle_rate", "cycle rate", Dimension::CycleRate, true, (4.0 / 3600.0, 4.0), 32);
    let mut cells = Vec::new();
    for (row, &rate) in y.values.iter().enumerate() {
        for (column, &pa) in x.values.iter().enumerate() {
            cells.push(cell(pa * 1e-5, rate * 3600.0, row, column));
        }
    }
    let boundaries = boundaries(&x, &y);
    let across_valve = x.values.iter().map(|&v| (v > 4e3).then_some(0.3 * v)).collect();
    let upright = |label: &str, at: f64| Guide {
        kind: GuideKind::Hand,
        label: label.into(),
        points: vec![(at, 1e-4), (at, 100.0)],
    };
    let curve = (0..60).map(|i| 1e4 * 1.09_f64.powi(i)).map(|v| (v, 1.2 * (v / 1e5).powf(-0.3))).collect();
    StabilityMap {
        scenario: "hot-water-loop".into(),
        question: "At which differential pressures and cycle rates does the valve of the hot-water loop chatter or bang?".into(),
        data: "invented for this figure; no valve stands behind it".into(),
        x,
        y,
        cells,
        across_valve,
        boundaries,
        guides: vec![
            upright("lift-off by hand 0.045 bar", 4.5e3),
            upright("full lift by hand 0.5 bar", 5e4),
            upright("highest opening differential 14 bar", 14e5),
            Guide { kind: GuideKind::Hand, label: "coil temperature limit 155 °C".into(), points: curve },
        ],
        scales: vec![
            "2L/a of the upstream line is 18 ms: closing within it is sudden.".into(),
            "Λ is 0.42: below 0.3 a floating stage is quiet.".into(),
        ],
        disagreements: vec![
            "Full lift: by hand at 0.50 bar, by simulation at 0.31 bar, a factor of 1.6; the hand value leaves out the pilot's share of the flow.".into(),
        ],
        operating_point: (Some(1.2e5), Some(60.0 / 3600.0)),
        overrides: vec!["upstream.length=12 m".into(), "valve.spring.rate=0.8 N/mm".into()],
    }
}

/// A map over other parameters: linear across, a length up.
pub(crate) fn other_axes() -> StabilityMap {
    let x = axis(
        "coil.voltage_share",
        "supply voltage, share of the rated one",
        Dimension::Fraction,
        false,
        (0.6, 1.2),
        13,
    );
    let y = axis("upstream.length", "length of the upstream line", Dimension::Length, false, (0.5, 30.0), 12);
    let mut cells = Vec::new();
    for &length in &y.values {
        for &share in &x.values {
            let first = if share < 0.78 { Behaviour::WillNotOpen } else { Behaviour::OpensFully };
            let mut all = vec![(first, first == Behaviour::WillNotOpen)];
            if share > 0.8 && length > 8.0 {
                all.push((Behaviour::Hammers, true));
            }
            if (0.78..0.9).contains(&share) {
                all.push((Behaviour::Hums, true));
            }
            cells.push(result(&all));
        }
    }
    for cell in cells.iter_mut().skip(11 * 13 + 4) {
        *cell = Cell::Failed("invented".into());
    }
    StabilityMap {
        scenario: "low-voltage".into(),
        question: "Does a long cable make the valve hum?".into(),
        data: String::new(),
        x,
        y,
        cells,
        across_valve: vec![],
        boundaries: vec![],
        guides: vec![Guide {
            kind: GuideKind::Hand,
            label: "lowest supply 85 %".into(),
            points: vec![(0.85, 0.0), (0.85, 40.0)],
        }],
        scales: vec![],
        disagreements: vec![],
        operating_point: (Some(1.5), Some(3.0)),
        overrides: vec![],
    }
}

/// A map over a power with a region of one column, tall and narrow.
pub(crate) fn narrow() -> StabilityMap {
    let mut map = other_axes();
    map.x = axis("flow.duty", "refrigerating duty", Dimension::Power, true, (2e3, 40e3), 24);
    let first = |column: usize| match column {
        0..7 => Behaviour::StaysShut,
        7 => Behaviour::Chatters,
        _ => Behaviour::OpensFully,
    };
    map.cells = (0..12 * 24).map(|i| result(&[(first(i % 24), i % 24 == 7)])).collect();
    map.guides.clear();
    map.operating_point = (Some(20e3), Some(10.0));
    map
}

/// Where the flow is high the liquid would boil; three cells fail.
pub(crate) fn boiling() -> StabilityMap {
    let mut map = other_axes();
    map.x = axis("flow.volume_flow", "volume flow", Dimension::VolumeFlow, true, (1e-5, 1e-3), 24);
    map.cells = (0..12 * 24)
        .map(|i| match (i / 24, i % 24) {
            (11, 2..5) => Cell::Failed("the balance of mass does not close".into()),
            (row, column) if column > 12 + row / 2 => Cell::WouldBoil(format!("invented reason {row} {column}")),
            _ => result(&[(Behaviour::OpensFully, false)]),
        })
        .collect();
    map.guides.clear();
    map.operating_point = (Some(1e-4), None);
    map
}

/// Maps at the edge of sense: none of them may stop the program.
pub(crate) fn odd() -> Vec<(&'static str, StabilityMap)> {
    let mut all = Vec::new();
    let with = |change: &dyn Fn(&mut StabilityMap)| {
        let mut map = other_axes();
        change(&mut map);
        map
    };
    all.push((
        "no_cells",
        with(&|m| {
            m.cells.clear();
            m.x.values.clear();
            m.y.values.clear();
        }),
    ));
    all.push(("cells_lost", with(&|m| m.cells.truncate(5))));
    all.push((
        "one_column",
        with(&|m| {
            m.x.values.truncate(1);
            m.cells = (0..12).map(|_| result(&[(Behaviour::Flutters, true)])).collect();
        }),
    ));
    all.push((
        "one_cell",
        with(&|m| {
            m.x.values = vec![0.0];
            m.y.values.truncate(1);
            m.cells = vec![result(&[])];
        }),
    ));
    all.push((
        "all_failed",
        with(&|m| {
            m.cells.iter_mut().for_each(|c| *c = Cell::Failed("chamber pressure is not finite".into()));
        }),
    ));
    all.push((
        "all_boil",
        with(&|m| {
            m.cells.iter_mut().for_each(|c| *c = Cell::WouldBoil("invented".into()));
            m.operating_point = (None, None);
        }),
    ));
    all.push(("too_few_cells", with(&|m| m.cells.truncate(5))));
    all.push((
        "not_a_number",
        with(&|m| {
            m.x.values[3] = f64::NAN;
            m.operating_point = (Some(f64::NAN), Some(f64::INFINITY));
            m.guides[0].points = vec![(f64::NAN, 1.0), (1.0, f64::INFINITY), (0.9, 2.0), (0.9, 1e300)];
            m.across_valve = vec![Some(f64::NAN), None, Some(1.0)];
            m.boundaries =
                vec![BoundaryPoint { x: f64::NAN, y: 3.0, left: Behaviour::Hums, right: Behaviour::Hammers }];
        }),
    ));
    all.push(("not_rising", with(&|m| m.y.values.reverse())));
    all.push((
        "logarithm_of_nothing",
        with(&|m| {
            m.x.logarithmic = true;
            m.x.values[0] = 0.0;
        }),
    ));
    all.push((
        "far_away",
        with(&|m| {
            m.y.values.iter_mut().for_each(|v| *v *= 1e200);
            m.question = "ж 水 <&> \u{7}\u{ffff} \"quoted\" ".repeat(40);
            m.guides[0].label = "a very long label that cannot fit anywhere at all ".repeat(9);
        }),
    ));
    all
}
