//! Prints the linkage, claw, detent, track and depth of designs.
//!
//! `cargo run --example selector -- [FOOT…] < DESIGNS`
//!
//! Standard input holds a design in its saved form on each line, so that many pedals, rods or shims
//! can be tried at once. FOOT is how far the foot has moved the peg from rest, in mm, plus for
//! lifting; for each of them the places of all parts are listed.
//!
//! Each line of the answer is a JSON object for one design. A part that is not given, or has a number
//! outside its limits, is `null`; lists of two are lifting and pressing, or this pair and the other.
//!
//! - `linkage`: for both strokes `foot_mm`, `locks`, `swing_deg` at the end, `farthest_deg`, `worst_deg` and
//!   `cramps_at_mm`; `deg_per_mm` at rest, `peg_per_turn_mm` and `peg_per_spline_mm`; `rods`, the rods for
//!   other heights of the peg, as `[up_mm, rod_mm]`. A rod that does not reach has only `least_mm` and
//!   `most_mm`; a rod whose arm ends on the shaft has only `on_shaft_mm`.
//! - `feet`: for each FOOT `foot_mm`, `peg_mm`, `rod_mm` (both ends of the rod), `shaft_deg` and
//!   `transmission_deg`; `drum_deg`, by which the claw has pushed the drum, and `fork_mm`, the travel of the
//!   fork. An entry is `null` if the rod does not let the peg reach that place.
//! - `claw`: `swing_deg`, `hook_mm`, `equal_deg` (the eccentric for equal gaps) and `stop_thinner_mm`; for
//!   both strokes `gap_mm`, `pushed_deg`, `before_stop` and `ends`. If the pins are too far out there is only
//!   `most_mm`.
//! - `detent`: `hold_nmm`, `return_nmm` and `stand_deg` (either side of a crest).
//! - `track`: `home_mm` and `rocking_costs_mm` (`null` without a detent). If points are out of order there is
//!   only `out_of_order`, their number.
//! - `depth`: for both pairs `clearance_mm`, `worst_mm`, `rss_mm`, `least_mm`, `pushed_in_mm` and
//!   `drawn_in_mm`; `shim_mm`, and `shimmed_mm`, the clearances with that shim. Values that need a chain
//!   without sizes are `null`.
//! - `findings`: the codes of all findings.
//!
//! What cannot be read exits with 1 and all that is wrong on standard error.

mod shell;

use std::io::Read as _;
use std::process::ExitCode;

use crenel::analysis::Analysis;

use crenel::design::{read, text_of};
use crenel::finding::Finding;
use crenel::model::{ClawStrokes, PedalSwing, SelectorAnalysis};
use crenel::ring::Point;
use crenel::selector::{Reach, RodFault, Star, Stroke, Track, TrackFault};
use crenel::stack::{Depth, Facing};
use crenel::units::{Angle, Quantity};
use serde_json::{Value, json};

fn main() -> ExitCode {
    shell::run_on_words(answer)
}

fn answer(arguments: &[String]) -> Result<String, String> {
    let feet: Vec<f64> = arguments.iter().map(foot).collect::<Result<_, _>>()?;
    let mut bytes = Vec::new();
    let read = std::io::stdin().read_to_end(&mut bytes);
    read.map_err(|e| format!("Standard input cannot be read: {e}."))?;
    let (text, _) = text_of(&bytes);
    let lines = (1..).zip(text.lines()).filter(|(_, line)| !line.trim().is_empty());
    lines.map(|(number, line)| design(number, line, &feet)).collect()
}

fn foot(typed: &String) -> Result<f64, String> {
    Quantity::Length.parse(typed, Default::default()).map_err(|e| format!("“{typed}”: {e}"))
}

fn design(number: usize, line: &str, feet: &[f64]) -> Result<String, String> {
    let opened = read(line.as_bytes()).map_err(|findings| refused(number, &findings))?;
    let analysis = Analysis::of(&opened.design);
    let selector = &analysis.selector;
    let findings = opened.findings.iter().chain(&analysis.findings).map(|finding| finding.code);
    let answer = json!({
        "linkage": linkage(selector),
        "feet": feet.iter().map(|&foot_mm| at(selector, foot_mm)).collect::<Vec<_>>(),
        "claw": claw(selector),
        "detent": detent(selector),
        "track": track(selector),
        "depth": selector.depth.as_ref().map(depth),
        "findings": findings.collect::<Vec<_>>(),
    });
    Ok(format!("{answer}\n"))
}

fn refused(number: usize, findings: &[Finding]) -> String {
    let told = shell::sentences(findings);
    told.lines().map(|line| format!("line {number}: {line}\n")).collect()
}

fn linkage(selector: &SelectorAnalysis) -> Option<Value> {
    Some(match selector.pedal.as_ref()? {
        Err(RodFault::Short { least_mm, most_mm, .. }) => {
            json!({ "least_mm": least_mm, "most_mm": most_mm })
        }
        Err(RodFault::OnShaft { rod_mm }) => json!({ "on_shaft_mm": rod_mm }),
        Ok(swing) => reached(swing),
    })
}

fn reached(swing: &PedalSwing) -> Value {
    let of = |value: fn(&Reach) -> Value| swing.reach.as_array().map(value);
    let heights = swing.heights(None).into_iter();
    let rods = heights.map(|height| json!([height.up_mm, height.with.map(|with| with.rod_mm)]));
    json!({
        "foot_mm": of(|reach| json!(reach.foot_mm)),
        "locks": of(|reach| json!(reach.locks)),
        "swing_deg": of(|reach| json!(reach.shaft.degrees())),
        "farthest_deg": of(|reach| json!(reach.farthest.degrees())),
        "worst_deg": of(|reach| json!(reach.worst.map(Angle::degrees))),
        "cramps_at_mm": of(|reach| json!(reach.cramps_at_mm)),
        "deg_per_mm": swing.shaft_deg_per_mm,
        "peg_per_turn_mm": swing.peg_per_turn_mm,
        "peg_per_spline_mm": swing.peg_per_spline_mm,
        "rods": rods.collect::<Vec<_>>(),
    })
}

/// All parts with the foot at one place.
fn at(selector: &SelectorAnalysis, foot_mm: f64) -> Option<Value> {
    let posture = selector.swing()?.pedal.posture(foot_mm).ok()??;
    let stroke = if foot_mm < 0.0 { Stroke::Press } else { Stroke::Lift };
    let strokes = selector.strokes();
    let drum = strokes.map(|strokes| drum(strokes, stroke, posture.shaft, selector.star.as_ref()));
    let fork = |track: &Track| Some(track.travel_mm(drum?.degrees()));
    let place = |point: Point| [point.x, point.y];
    Some(json!({
        "foot_mm": foot_mm,
        "peg_mm": place(posture.peg),
        "rod_mm": [posture.arm_end.map(place), posture.lever_end.map(place)],
        "shaft_deg": posture.shaft.degrees(),
        "transmission_deg": posture.transmission.map(Angle::degrees),
        "drum_deg": drum.map(Angle::degrees),
        "fork_mm": selector.sound_track().and_then(fork),
    }))
}

/// How far the claw has pushed the drum, and no farther than to where the stroke ends.
fn drum(strokes: &ClawStrokes, stroke: Stroke, shaft: Angle, star: Option<&Star>) -> Angle {
    let turned = Angle::from_radians(shaft.radians().abs());
    strokes.claw.stroke(stroke, Some(turned), star).pushed
}

fn claw(selector: &SelectorAnalysis) -> Option<Value> {
    let strokes = match selector.claw.as_ref()? {
        Err(fault) => return Some(json!({ "most_mm": fault.most_mm })),
        Ok(strokes) => strokes,
    };
    let ends = strokes.strokes.as_array();
    Some(json!({
        "swing_deg": strokes.claw.swing().degrees(),
        "hook_mm": strokes.claw.hook_radius_mm(),
        "equal_deg": strokes.centred.ok().map(Angle::degrees),
        "stop_thinner_mm": strokes.claw.stop_thinner_mm(),
        "gap_mm": strokes.gaps_mm().into_array(),
        "pushed_deg": ends.map(|end| end.pushed.degrees()),
        "before_stop": ends.map(|end| end.before_stop),
        "ends": ends.map(|end| end.ends.key()),
    }))
}

fn detent(selector: &SelectorAnalysis) -> Option<Value> {
    let detent = selector.detent?;
    Some(json!({
        "hold_nmm": detent.hold_nmm(),
        "return_nmm": detent.return_nmm(),
        "stand_deg": selector.star.map(|star| star.stand().degrees()),
    }))
}

fn track(selector: &SelectorAnalysis) -> Option<Value> {
    Some(match selector.track.as_ref()? {
        Err(TrackFault::OutOfOrder(at)) => json!({ "out_of_order": at + 1 }),
        Err(TrackFault::TooFew) => json!({ "out_of_order": null }),
        Ok(track) => json!({
            "home_mm": track.travel_mm(selector.step_deg()),
            "rocking_costs_mm": selector.rocks_mm(),
        }),
    })
}

fn depth(depth: &Depth) -> Value {
    let both = |value: &dyn Fn(Facing) -> f64| {
        Facing::BOTH.map(|facing| depth.given(facing).map(|_| value(facing)))
    };
    let shimmed = depth.shim_mm().map(|shim_mm| depth.shimmed(shim_mm));
    json!({
        "clearance_mm": both(&|facing| depth.clearance_mm(facing)),
        "worst_mm": both(&|facing| depth.chain(facing).worst_mm()),
        "rss_mm": both(&|facing| depth.chain(facing).rss_mm()),
        "least_mm": both(&|facing| depth.least_clearance_mm(facing)),
        "pushed_in_mm": both(&|facing| depth.pushed_in_mm(facing)),
        "drawn_in_mm": both(&|facing| depth.drawn_in_mm(facing)),
        "shim_mm": depth.shim_mm(),
        "shimmed_mm": shimmed.map(|depth| Facing::BOTH.map(|facing| depth.clearance_mm(facing))),
    })
}
