//! Works out forks, tracks and gears on one drum, given as plain numbers.
//!
//! `cargo run --example drum < DRUMS`
//!
//! Each line of standard input is a JSON object for one drum. Angles are degrees, lengths mm.
//!
//! - `forks`: each with `track`, a list of `[drum angle, travel]`; `offset`, `groove_play` and `pin_play`, 0 if
//!   left out; `turned`, whether its higher face looks against the direction of the shafts.
//! - `shafts`: the end float of each.
//! - `gears`: each with `fork` and `shaft`, counted from 0; `face`, `higher` or `lower`; `clearance`,
//!   `tolerance`, `hold`, and `home`, the depth at which the dogs stop.
//! - `positions`: of the detent, each `[drum angle, gear]`; the gear is `null` in neutral.
//! - `float`, `slack` and `stand` of the drum, 0 if left out.
//!
//! Each line of the answer is a JSON object.
//!
//! - `overlaps`: for each gear its `points` over the turn and its `reach` with all play.
//! - `touches` and `holds`: for each gear where it touches and where it holds, nominal, with the play that takes
//!   it deepest, and with that which keeps it shallowest.
//! - `pairs`: for every two gears `together`, and `held`, with the first held in by torque.
//! - `changes`: from each gear to the next, nominal, `most` and `least` deep: `lets_go`, `meets`, `unloads`,
//!   `holds`, `free_of_touch` and `free_of_load`.
//! - `rooms`: for each gear the room of its fork, `drawn` and `pushed`, nominal and at the worst, and how much
//!   `deeper` the fork has to go.
//! - `rests`: between two positions, from where to where the drum can stop, and what touches there.
//!
//! What cannot be read exits with 1.

mod shell;

use std::io::Read as _;
use std::process::ExitCode;

use crenel::drum::{Change, Drum, Face, Fork, Gear, Held, Level, Play, Position, Span, Together};
use crenel::selector::Track;
use serde_json::{Value, json};

const PLAYS: [Play; 3] = [Play::Nominal, Play::Most, Play::Least];

fn main() -> ExitCode {
    shell::run_on_words(answer)
}

fn answer(_: &[String]) -> Result<String, String> {
    let mut text = String::new();
    let read = std::io::stdin().read_to_string(&mut text);
    read.map_err(|e| format!("Standard input cannot be read: {e}."))?;
    let lines = (1..).zip(text.lines()).filter(|(_, line)| !line.trim().is_empty());
    lines.map(|(number, line)| one(line).map_err(|e| format!("line {number}: {e}"))).collect()
}

fn one(line: &str) -> Result<String, String> {
    let given: Value = serde_json::from_str(line).map_err(|e| e.to_string())?;
    let drum =
        drum(&given).ok_or("it is not a drum, or names a fork, shaft or gear that is not there")?;
    Ok(format!("{}\n", told(&drum)))
}

/// A number that may be left out.
fn number(value: &Value, key: &str) -> f64 {
    value[key].as_f64().unwrap_or_default()
}

fn place(value: &Value, most: usize) -> Option<usize> {
    usize::try_from(value.as_u64()?).ok().filter(|at| *at < most)
}

fn drum(given: &Value) -> Option<Drum> {
    let forks: Vec<Fork> = given["forks"].as_array()?.iter().map(fork).collect::<Option<_>>()?;
    let shafts = given["shafts"].as_array()?.iter().map(Value::as_f64);
    let shafts_mm: Vec<f64> = shafts.collect::<Option<_>>()?;
    let gear = |gear: &Value| {
        let fork = place(&gear["fork"], forks.len())?;
        let shaft = place(&gear["shaft"], shafts_mm.len())?;
        let face = if gear["face"] == "lower" { Face::Lower } else { Face::Higher };
        let of = |key| number(gear, key);
        let [clearance_mm, tolerance_mm, hold_mm] = ["clearance", "tolerance", "hold"].map(of);
        let home_mm = gear["home"].as_f64().unwrap_or(f64::INFINITY);
        Some(Gear { fork, shaft, face, clearance_mm, tolerance_mm, hold_mm, home_mm })
    };
    let gears: Vec<Gear> = given["gears"].as_array()?.iter().map(gear).collect::<Option<_>>()?;
    let position = |at: &Value| {
        let gear = if at[1].is_null() { None } else { Some(place(&at[1], gears.len())?) };
        Some(Position { deg: at[0].as_f64()?, gear })
    };
    let positions = given["positions"].as_array()?.iter().map(position).collect::<Option<_>>()?;
    let [float_mm, slack_deg, stand_deg] =
        ["float", "slack", "stand"].map(|key| number(given, key));
    Some(Drum { forks, shafts_mm, gears, positions, float_mm, slack_deg, stand_deg })
}

fn fork(given: &Value) -> Option<Fork> {
    let points: Vec<[f64; 2]> = serde_json::from_value(given["track"].clone()).ok()?;
    let of = |key| number(given, key);
    Some(Fork {
        track: Track::through(points).ok()?,
        offset_mm: of("offset"),
        groove_play_mm: of("groove_play"),
        pin_play_mm: of("pin_play"),
        is_turned: given["turned"] == true,
    })
}

fn told(drum: &Drum) -> Value {
    let gears = 0..drum.gears.len();
    let spans = |level: &dyn Fn(usize) -> Level| -> Vec<Value> {
        let of = |gear| PLAYS.map(|play| listed(&drum.overlap(gear, play).spans(level(gear))));
        gears.clone().map(|gear| json!(of(gear))).collect()
    };
    let overlap = |gear| {
        let course = drum.overlap(gear, Play::Nominal);
        json!({ "points": course.points(), "reach": drum.reach_mm(gear) })
    };
    let pairs = gears.clone().flat_map(|one| gears.clone().map(move |other| (one, other)));
    json!({
        "overlaps": gears.clone().map(overlap).collect::<Vec<_>>(),
        "touches": spans(&|_| Level::Above(0.0)),
        "holds": spans(&|gear| Level::From(drum.gears[gear].hold_mm)),
        "pairs": pairs.filter(|(one, other)| one != other).map(|both| pair(drum, both)).collect::<Vec<_>>(),
        "changes": {
            "nominal": changes(drum, Play::Nominal),
            "most": changes(drum, Play::Most),
            "least": changes(drum, Play::Least),
        },
        "rooms": gears.clone().map(|gear| room(drum, gear)).collect::<Vec<_>>(),
        "rests": drum.rests().iter().map(|rest| json!({
            "between": rest.between, "span": listed(&[rest.span])[0], "touching": rest.touching,
        })).collect::<Vec<_>>(),
    })
}

fn listed(spans: &[Span]) -> Vec<[f64; 2]> {
    spans.iter().map(|span| [span.from_deg, span.to_deg]).collect()
}

fn pair(drum: &Drum, (one, other): (usize, usize)) -> Value {
    let held = |held: Held| {
        let Held { held_mm, stands, together } = held;
        json!({
            "held": held_mm, "stands": [stands.from_deg, stands.to_deg], "together": met(&together),
        })
    };
    json!({
        "gears": [one, other],
        "together": met(&drum.together(one, other)),
        "held": drum.held(one, other).map(held),
    })
}

fn met(together: &Together) -> Value {
    json!({
        "spans": listed(&together.spans),
        "margin_mm": together.margin_mm,
        "at": together.at_deg,
        "margin_deg": together.margin_deg,
    })
}

fn changes(drum: &Drum, play: Play) -> Vec<Value> {
    let change = |change: &Change| {
        json!({
            "gears": [change.from, change.to],
            "unloads": change.unloads_deg,
            "lets_go": change.lets_go_deg,
            "meets": change.meets_deg,
            "holds": change.holds_deg,
            "free_of_touch": change.free_of_touch_deg(),
            "free_of_load": change.free_of_load_deg(),
        })
    };
    drum.changes(play).iter().map(change).collect()
}

fn room(drum: &Drum, gear: usize) -> Option<Value> {
    let room = drum.fork_room(gear)?;
    Some(json!({
        "drawn": room.drawn_mm, "pushed": room.pushed_mm, "worst": room.worst_mm(), "deeper": room.deeper_mm(),
    }))
}
