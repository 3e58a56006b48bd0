//! Prints ring A of designs as its readings give it.
//!
//! `cargo run --example gauging < DESIGNS`
//!
//! Standard input holds a design in its saved form on each line, with `readings` in its ring A. Each line of the
//! answer is a JSON object for one design:
//!
//! - `dogs`: for each dog its sizes by their keys, each as `[value, sigma]`, without rounding.
//! - `closing_deg`: what dogs and gaps fall short of 360°, with its uncertainty; `null` if the circle was needed.
//! - `checked`: `[column, dog, residual, sigma, marked]` of each reading, counted from 0; `sigma` is `null`
//!   where no other reading checks this one.
//! - `faults`: the number of faults.
//!
//! What cannot be read exits with 1 and all that is wrong on standard error.

mod shell;

use std::io::Read as _;
use std::process::ExitCode;

use crenel::design::{GaugedDog, GaugedRing, read, text_of};
use crenel::finding::Finding;
use crenel::gauging::Fitted;
use serde_json::{Map, Value, json};

fn main() -> ExitCode {
    shell::run_on_words(answer)
}

fn answer(_: &[String]) -> Result<String, String> {
    let mut bytes = Vec::new();
    let read = std::io::stdin().read_to_end(&mut bytes);
    read.map_err(|e| format!("Standard input cannot be read: {e}."))?;
    let (text, _) = text_of(&bytes);
    text.lines().filter(|line| !line.trim().is_empty()).map(design).collect()
}

fn design(line: &str) -> Result<String, String> {
    let all = |findings: Vec<Finding>| {
        findings.iter().map(|one| one.whole(Default::default())).collect::<Vec<_>>().join("\n")
    };
    let opened = read(line.as_bytes()).map_err(all)?;
    let gauged = opened.design.a.gauged().ok_or("ring A has no readings")?;
    Ok(format!("{}\n", ring(&gauged)))
}

fn ring(gauged: &GaugedRing) -> Value {
    let checked = gauged
        .checked
        .iter()
        .map(|((column, dog), one)| json!([column, dog, one.residual, one.sigma, one.marked]));
    json!({
        "dogs": gauged.dogs.iter().map(dog).collect::<Vec<_>>(),
        "closing_deg": gauged.closing.map(pair),
        "checked": checked.collect::<Vec<_>>(),
        "faults": gauged.faults.len(),
    })
}

fn dog(dog: &GaugedDog) -> Value {
    let sizes = dog.sizes.iter().map(|(id, fitted, _)| (id.spec().key.to_owned(), pair(*fitted)));
    Value::Object(sizes.collect::<Map<_, _>>())
}

fn pair(fitted: Fitted) -> Value {
    json!([fitted.value, fitted.sigma])
}
