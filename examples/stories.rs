//! Tells the six stories: the model's answers, and the figures of what is dragged.
//!
//! `cargo run --example stories` tells them of the example; `-- DESIGN.json` of a design, and `-` of one on standard
//! input. The answer is a JSON list with an object for each story:
//!
//! - `story`, `title`, `asked`;
//! - `answer`, the number that is asked for, absent where no number answers it, and `says`, the sentences;
//! - `rows`, the table of what was tried, in words;
//! - `steps`: for values along what is dragged, the design's figures, each by its key at full precision.

mod shell;

use std::ffi::OsString;
use std::process::ExitCode;

use crenel::analysis::Analysis;
use crenel::design::Design;
use crenel::figures::FigureValue;
use crenel::story::{STORIES, Story, told_of};
use crenel_words::Reader;
use serde_json::{Map, Value, json};
use shell::Failure;

/// How many values of what is dragged are tried.
const STEPS: u32 = 12;

fn main() -> ExitCode {
    shell::run(answer)
}

fn answer(arguments: &[OsString]) -> Result<String, Failure> {
    let base = match arguments {
        [] => told_of(),
        [path] => shell::design(path)?.design,
        _ => {
            let call =
                "Give no more than one design: stories DESIGN.json, or - for standard input.";
            return Err(Failure::Call(call.to_owned()));
        }
    };
    let told: Vec<Value> = STORIES.into_iter().map(|story| told(story, &base)).collect();
    Ok(format!("{:#}\n", Value::Array(told)))
}

fn told(story: &Story, base: &Design) -> Value {
    let reader = Reader::default();
    let answer = story.answer(base);
    let says: Vec<_> = answer.says.iter().map(|said| said.show(reader)).collect();
    let row = |row: &Vec<crenel_words::Value>| row.iter().map(|cell| cell.show(reader)).collect();
    let rows: Vec<Vec<String>> = answer.rows.iter().map(row).collect();
    let span = story.drags[0].span(base);
    let value = |step: u32| {
        let along = span.min + (span.max - span.min) * f64::from(step) / f64::from(STEPS);
        span.min + ((along - span.min) / span.step).round() * span.step
    };
    let steps: Vec<Value> = (0..=STEPS).map(|at| step(story, base, value(at))).collect();
    json!({
        "story": story.key,
        "title": (story.title)().show(reader),
        "asked": story.asked(base).show(reader),
        "answer": answer.value,
        "says": says,
        "rows": rows,
        "steps": steps,
    })
}

/// The figures of a story at one value of what is dragged.
fn step(story: &Story, base: &Design, value: f64) -> Value {
    let analysis = Analysis::of(&story.design(base, &[value]));
    let shown = |figure: &FigureValue| {
        let words = figure.words.as_ref().map(|words| json!(words.show(Reader::default())));
        (figure.figure.key.to_owned(), words.unwrap_or_else(|| json!(figure.value)))
    };
    let figures: Map<String, Value> = story.figures(&analysis).iter().map(shown).collect();
    json!({ "value": value, "figures": figures })
}
