//! Prints the smallest cuts for a goal of a design as JSON.
//!
//! `cargo run --example suggest -- DESIGN.json GOAL [OPTIONS]`; `-` reads standard input. `GOAL` is `window` or
//! `lash`; its number is in the design. Options set ceilings and steps:
//!
//! | option | meaning |
//! |---|---|
//! | `--lash DEG` | lash after the cut at most |
//! | `--metal G` | metal removed at most |
//! | `--within-limits` | no figure crosses its limit |
//! | `--step MM` | 0.01, 0.02, 0.05, 0.0127, 0.0254 or 0.0508 mm |
//! | `--nominal` | the goal is met at the nominal sizes, not over the tolerances |

mod shell;

use std::ffi::OsString;
use std::process::ExitCode;

use crenel::analysis::Analysis;
use crenel::design::save;
use crenel::suggest::{Goal, Search, ShopStep, Spare, Suggestion, suggestions};
use crenel::units::{Angle, DisplayUnits};
use crenel_words::Reader;
use serde_json::{Value, json};
use shell::Failure;

fn main() -> ExitCode {
    shell::run(answer)
}

fn answer(arguments: &[OsString]) -> Result<String, Failure> {
    let usage = "Say which design and which goal: suggest DESIGN.json window, or suggest DESIGN.json lash; - reads \
        standard input.";
    let [path, goal, options @ ..] = arguments else {
        return Err(Failure::Call(usage.to_owned()));
    };
    let goal = match goal.to_str() {
        Some("window") => Goal::Window,
        Some("lash") => Goal::Lash,
        _ => return Err(Failure::Call(usage.to_owned())),
    };
    let search = search(goal, options).map_err(Failure::Call)?;
    let analysis = Analysis::of(&shell::design(path)?.design);
    if analysis.pair.is_none() {
        return Err(shell::sentences(&analysis.findings).into());
    }
    let offers: Vec<_> = suggestions(&analysis, &search).iter().map(offer).collect();
    let searched = search.searched().show(Reader::default());
    Ok(format!("{:#}\n", json!({ "searched": searched, "offers": offers })))
}

fn search(goal: Goal, options: &[OsString]) -> Result<Search, String> {
    let mut search = Search::new(goal, DisplayUnits::default());
    let mut options = options.iter().filter_map(|option| option.to_str());
    while let Some(option) = options.next() {
        let mut number = || {
            let number = options.next().and_then(|text| text.parse::<f64>().ok());
            number.ok_or_else(|| format!("{option} needs a number after it."))
        };
        match option {
            "--lash" => search.ceilings.lash = Some(Angle::from_degrees(number()?)),
            "--metal" => search.ceilings.metal_g = Some(number()?),
            "--within-limits" => search.ceilings.within_limits = true,
            "--nominal" => search.holds = false,
            "--step" => {
                let mm = number()?;
                let step = ShopStep::ALL.into_iter().find(|step| (step.mm() - mm).abs() < 1e-9);
                search.step =
                    step.ok_or_else(|| format!("A shop does not work in steps of {mm} mm."))?;
            }
            _ => return Err(format!("{option} is not an option.")),
        }
    }
    Ok(search)
}

fn offer(one: &Suggestion) -> Value {
    let reader = Reader::default();
    let words: Vec<_> = one.words.iter().map(|message| message.show(reader)).collect();
    let prices: Vec<_> = one.prices.iter().map(|price| price.words.show(reader)).collect();
    let spare = match one.spare {
        Spare::Holds => "holds",
        Spare::NoSize => "no size",
        Spare::None => "none",
    };
    json!({
        "words": words,
        "reached": one.reached,
        "reaches": one.reaches,
        "spare": spare,
        "stock_g": one.stock_g,
        "against": one.against.as_ref().map(|finding| finding.code),
        "gets_worse": prices,
        "design": save(&one.design),
    })
}
