//! Numbers of a report, and how they are worked out.

use std::fmt::Write as _;

use crenel::analysis::Analysis;
use crenel_words::Reader;

use crenel::figures::figures;
use crenel::model::{Chances, chance_table};
use crenel::report::report_json;
use serde_json::Value;

/// What is said in sentences, which may be put better at any time.
const SENTENCES: [&str; 6] = ["title", "message", "hint", "says", "words", "crenel_report"];

/// Every number below a value, one line each under its path.
fn numbers(text: &mut String, path: &str, value: &Value) {
    match value {
        Value::Number(number) => {
            let number = number.as_f64().unwrap_or(f64::NAN);
            // Seven digits: what is left of the rounding of sums must not show.
            writeln!(
                text,
                "  {path} {}",
                if number.abs() < 1e-9 { "0".into() } else { format!("{number:.6e}") }
            )
        }
        Value::Array(list) => {
            list.iter()
                .enumerate()
                .for_each(|(at, value)| numbers(text, &format!("{path}.{at}"), value));
            Ok(())
        }
        Value::Object(map) => {
            let told = map.iter().filter(|(key, _)| !SENTENCES.contains(&key.as_str()));
            told.for_each(|(key, value)| numbers(text, &format!("{path}.{key}"), value));
            Ok(())
        }
        Value::String(words) => writeln!(text, "  {path} {words}"),
        Value::Bool(is) => writeln!(text, "  {path} {is}"),
        Value::Null => Ok(()),
    }
    .expect("a text takes all");
}

/// The report of a design without its sentences.
pub(crate) fn told(analysis: &Analysis) -> String {
    let report = report_json(analysis);
    let mut text = String::new();
    for (key, value) in report.as_object().expect("a report has keys") {
        if !SENTENCES.contains(&key.as_str()) {
            writeln!(text, "{key}").expect("a text takes all");
            numbers(&mut text, "", value);
        }
    }
    text.push_str("working\n");
    for figure in figures(analysis) {
        writeln!(text, "  {}: {}", figure.figure.key, figure.working.show(Reader::default()))
            .expect("a text takes all");
    }
    if let Some(chances) = Chances::of(analysis) {
        text.push_str("chances\n");
        for row in chance_table(&chances.map(30, 12), 4).rows {
            let row: Vec<_> = row.iter().map(|cell| cell.show(Reader::default())).collect();
            writeln!(text, "  {}", row.join(" ")).expect("a text takes all");
        }
    }
    text
}
