//! Settings laid over demonstrations, of every parameter.

use crate::demo;
use crate::door;
use crate::generator::{demo_name, number, once_in, one_of, pieces, quantity, torn};
use crate::phrases;
use crate::plausible::Numbers;
use crate::target::{Answer, Judged, Target, reason};
use quietseat::key::Kind;
use quietseat::scenario::{Document, Parameter, Problem, Row, echo, parameters};
use quietseat::units::{Dimension, text};
use std::sync::LazyLock;
use std::time::Duration;

/// The first line is a demonstration's name, each other one a setting.
pub(crate) const SETTINGS: Target = Target { name: "settings", share: 160, limit: Duration::from_secs(2), make, check };

static DEMOS: LazyLock<Vec<(String, Document, Vec<Row>)>> = LazyLock::new(|| {
    let opened = |name: String| {
        let document = demo::open(&name);
        let rows = echo(&document).expect("a demonstration reads");
        (name, document, rows)
    };
    demo::names().into_iter().map(opened).collect()
});

/// A demonstration, and every value it uses.
pub(crate) fn base(name: &str) -> Option<&'static (String, Document, Vec<Row>)> {
    DEMOS.iter().find(|(known, ..)| known == name)
}

fn make(numbers: &mut Numbers) -> String {
    let name = demo_name(numbers);
    let mut lines = name.to_owned();
    for _ in 0..=numbers.below(3) {
        lines.push('\n');
        let near = base(name).filter(|_| !once_in(3, numbers)).and_then(|base| shifted(base, numbers));
        let typed = near.unwrap_or_else(|| setting(numbers));
        lines.push_str(&if once_in(30, numbers) { torn(&typed, numbers).replace('\n', " ") } else { typed });
    }
    lines
}

/// A value that the demonstration uses, a little larger or smaller.
fn shifted((_, document, rows): &(String, Document, Vec<Row>), numbers: &mut Numbers) -> Option<String> {
    let row = one_of(rows, numbers);
    let value = row.value * 4f64.powf(2.0 * numbers.share() - 1.0);
    Some(format!("{}={}", row.path, text(value, document.dimension(&row.path)?)))
}

/// A path and a value that is of its kind, mostly.
fn setting(numbers: &mut Numbers) -> String {
    if once_in(40, numbers) {
        return pieces(numbers).replace('\n', " ");
    }
    let parameter = one_of(parameters(), numbers);
    let value = if once_in(20, numbers) { pieces(numbers) } else { value(parameter, numbers) };
    format!("{}={}", parameter.path, value.replace('\n', " "))
}

fn value(parameter: &Parameter, numbers: &mut Numbers) -> String {
    match parameter.key.kind {
        _ if once_in(12, numbers) => "none".to_owned(),
        Kind::Quantity(dimension) => quantity(dimension, numbers),
        Kind::Attitude(words) if once_in(2, numbers) => one_of(words, numbers).0.to_owned(),
        Kind::Attitude(_) => quantity(Dimension::Angle, numbers),
        Kind::Count => number(numbers),
        Kind::Word(words) => (*one_of(words, numbers)).to_owned(),
        Kind::Text if parameter.path.ends_with("pipe") => crate::pipes::designation(numbers),
        Kind::Text => phrases::phrase(numbers),
        Kind::Path => one_of(parameters(), numbers).path.clone(),
        Kind::AxisEnd => quantity(*one_of(Dimension::ALL, numbers), numbers),
    }
}

/// A demonstration with settings laid over it, those that are refused left out; how many were refused.
pub(crate) fn laid_over(input: &str) -> Result<(Document, Vec<Problem>), String> {
    let mut lines = input.lines();
    let name = lines.next().unwrap_or_default();
    let mut document = base(name).ok_or_else(|| format!("no demonstration \"{name}\""))?.1.clone();
    let mut refused = Vec::new();
    for line in lines {
        match document.with_setting(line) {
            Ok(changed) => document = changed,
            Err(problem) => refused.push(problem),
        }
    }
    Ok((document, refused))
}

fn check(input: &str) -> Judged {
    let (document, refused) = laid_over(input)?;
    for problem in &refused {
        if !problem.origin.starts_with("setting ") {
            return Err(format!("a refused setting without its place: {problem}"));
        }
        reason("a setting", &problem.message, input)?;
    }
    let judged = door::read(&document, input)?;
    Ok(match refused.first() {
        Some(problem) => Answer::Refused(problem.to_string()),
        None => judged,
    })
}
