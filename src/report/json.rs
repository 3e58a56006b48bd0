//! The report as JSON. Keys are stable and carry their unit.
//!
//! | key | meaning |
//! |---|---|
//! | `crenel_report` | version of this form, 1 |
//! | `verdict` | the verdict on the design, in one sentence: see below |
//! | `title` | title of the design |
//! | `computed` | whether the numbers could be worked out; if not, `findings` says why |
//! | `figures` | object: each figure's key with its number (`shift_ending`: words), or `null` if there is none |
//! | `ranges` | object: each figure that has a range over the tolerances: see below |
//! | `entry_windows_deg` | list of `[start, width]`, sharp edges, counter-clockwise phase: see below |
//! | `full_depth_windows_deg` | the same at full depth, only those that can be reached |
//! | `jam_overlap_mm` | overlap at which the rings jam, or `null` |
//! | `contact_inner_mm`, `contact_outer_mm`, `contact_meeting_mm` | common band of radii; radius where dogs meet |
//! | `rings` | object with `a` and `b`: see below |
//! | `shares` | how the shift of the design ends, from all phases, or `null`: see below |
//! | `gearbox` | object with `shifts`, `lash` and `load`, or `null` without a gearbox: see below |
//! | `depth` | object with `this` and `other`, or `null` without stack-ups: see below |
//! | `trace` | object with `checks`, `causes` and `verdict`: see below |
//! | `cautions` | cautions for the work, before and after the gears are cut, a sentence or two each |
//! | `findings` | list of `severity`, `code`, `message`, `hint`, `numbers` and `values`, the same by their names |
//!
//! `entry_windows_deg` are the windows between all tips that come level before the holding depth.
//!
//! In `ranges`, each figure has `least` and `greatest` (worst case), `p05`, `p50` and `p95` (5, 50 and 95 % of the
//! parts are at or below it), `not_in` (the share of the parts that do not go in, which are not among the others)
//! and `drivers`, the sizes that move it most: `ring`, `dog` (from 1), `size` (`position`, `width` or `height`),
//! `at_minus` and `at_plus` (the figure with this size alone at its limits).
//!
//! In `depth`, the stack-ups to both pairs each have `clearance_mm`, `worst_mm` and `rss_mm`, or are `null` where
//! the stack-up has no sizes.
//!
//! In `gearbox`, with these dogs in every gear, `shifts` lists `from`, `to` (gears from 1), `slip_rpm` (positive if the
//! input side is the faster one), `flank` (that meets first), `window_ms`, `limit_rpm`, `chance` (share in at the first
//! pass), `blow_nm`, `shares`; `lash` lists `gear`, `ratio`, `ratio_to_wheel`, `wheel_deg`, `tyre_mm`; `load` lists
//! `gear`, `torque_nm`, `dog_force_n`, `pressure_mpa`, `combined_mpa`, `overrun_combined_mpa`, with the throttle open.
//! `timed` lists each shift in each manner at its own speed: `manner` (`cut`, `throttle`, `clutch_up`, `blip` or
//! `clutch_down`), `from`, `to`, `engine_rpm`, `fault` (why it cannot be timed, or `null`), `times` (`length_ms` with
//! its parts, `not_longer_than_ms`, `in_at_engine_rpm`, `share`, `other_flanks_strike`, and `out_spread_ms` and
//! `in_spread_ms` at 5, 50 and 95 % of the shifts), `peaks` (`rigid_nm` at the dogs and `rigid_tyre_n`; `dogs_nm`,
//! `tyre_nm` and `tyre_n` with the whole driveline, or `null`), and `foot` where a sensor sets it off. `at_rest` lists
//! for each `gear` the share that is in `at_once`, `rolled`, and `rolled_from_tips`, `sure_mm`, and `idling`.
//!
//! In `shares`, `first_pass` has the shares of all starting phases by what the first pass comes to, and
//! `in_the_end` those by how the shift ends, strikes and all. They are exact. `in` is the share that is in, and
//! `in_band` its least and greatest over tip frictions from 0.05 to 0.15, in the end also over strikes that take
//! none to all of the speed difference. `null` where it is not known, or with over 400 pairs of dogs.
//!
//! In `trace`, `checks` lists the checks that belong to the symptoms given, or all checks if none is given,
//! from the outside in. Each has `check` (its key), `title`, `judged` (`passes`, `fails` or `not measured`),
//! `measured` (whether its number was measured; `null` while it is open), `says` (sentences), `past` (the
//! excess over the limit, as a multiple of the limit) and `explains`. `causes` lists places in `checks`, the
//! furthest past its limit first. `verdict` lists the sentences that sum up. A sentence has `key`, `values`
//! and `words`, the same in English.
//!
//! `verdict` is on the most serious thing that is past a limit, or on the tightest margin: `class` (`unknown`,
//! `blocked`, `cut`, `hold`, `entry`, `stress`, `fit`, `lash`, `gain` or `within`), `stage` (`cause`, `pair`,
//! `change` or `make`), `past` (the share past the limit), `estimate` (whether its numbers are estimates), and
//! the sentences `fact`, `next` and `short`. `assumed` lists the numbers it relies on that were not entered, by
//! their places in the saved form.
//!
//! In each ring, `dogs` lists the dogs that are left, with `place` from 1, `centre_deg`, `tip_width_deg` (both
//! as found) and `height_mm` (as cut). `volume_mm3`, `mass_g`, `inertia_kg_mm2` and `unbalance_g_mm` are those
//! of the dogs as cut; `cut_off_mm3` is the volume that came off. `plan` lists the operations in order, each
//! with `words`, `dogs` (by number), `stock_mm3`, `off_flank_mm` (the most that is off a flank by then) and
//! `case_left_mm`.

use crenel_words::{Message, Reader};
use serde_json::{Map, Value, json};

use super::cautions::cautions_short;
use super::timed::{at_rest, timed};
use crate::analysis::Analysis;
use crate::diagnosis::{CheckResult, KnownBy, diagnose};
use crate::figures::{FigureValue, figures};
use crate::finding::Finding;
use crate::model::{
    Band, ShiftShares, drawn_shares, gear_lashes, gear_loads, gear_shares, gear_shifts,
};
use crate::pair::Arc;
use crate::rework::{PlanStep, plan_steps};
use crate::ring::Side;
use crate::shift::Outcome;
use crate::stack::{Depth, Facing};
use crate::tolerance::{Driver, FigureRange, ranges};
use crate::verdict::Verdict;

/// The keys at the top of a report.
pub const TOP_KEYS: [&str; 19] = [
    "crenel_report",
    "verdict",
    "title",
    "computed",
    "figures",
    "ranges",
    "entry_windows_deg",
    "full_depth_windows_deg",
    "jam_overlap_mm",
    "contact_inner_mm",
    "contact_outer_mm",
    "contact_meeting_mm",
    "rings",
    "shares",
    "gearbox",
    "depth",
    "trace",
    "cautions",
    "findings",
];

/// The keys of a ring in a report.
pub const RING_KEYS: [&str; 7] =
    ["dogs", "volume_mm3", "mass_g", "inertia_kg_mm2", "unbalance_g_mm", "cut_off_mm3", "plan"];

/// The whole report.
pub fn report_json(analysis: &Analysis) -> Value {
    let figures = figures(analysis).into_iter();
    let figures: Map<_, _> = figures.map(|f| (f.figure.key.to_owned(), value(&f))).collect();
    let pair = analysis.pair.as_ref();
    let contact = pair.map(|m| m.mesh.contact);
    json!({
        "crenel_report": 1,
        "verdict": verdict(&Verdict::of(analysis)),
        "title": analysis.design.title,
        "computed": pair.is_some(),
        "figures": figures,
        "ranges": ranges(analysis).iter().map(range).collect::<Map<_, _>>(),
        "entry_windows_deg": pair.map(|m| windows(&m.entry)),
        "full_depth_windows_deg": pair.map(|m| windows(&m.engagement.windows)),
        "jam_overlap_mm": pair.and_then(|m| m.engagement.jam).map(|jam| jam.overlap_mm),
        "contact_inner_mm": contact.map(|c| c.inner_mm),
        "contact_outer_mm": contact.map(|c| c.outer_mm),
        "contact_meeting_mm": contact.map(|c| c.meeting_mm),
        "rings": { "a": ring(analysis, Side::A), "b": ring(analysis, Side::B) },
        "shares": drawn_shares(analysis).as_ref().map(shares),
        "gearbox": analysis.design.gearbox.as_ref().map(|_| gearbox(analysis)),
        "depth": analysis.selector.depth.as_ref().map(depth),
        "trace": diagnosis(analysis),
        "cautions": cautions_short(Reader::default()),
        "findings": analysis.findings.iter().map(finding).collect::<Vec<_>>(),
    })
}

fn verdict(verdict: &Verdict) -> Value {
    let assumed: Vec<_> = verdict.assumed.iter().map(|slot| slot.path()).collect();
    json!({
        "class": verdict.class.name(),
        "stage": verdict.stage.name(),
        "past": verdict.excess,
        "estimate": verdict.estimate,
        "fact": sentence(&verdict.fact),
        "next": verdict.next.as_ref().map(sentence),
        "short": sentence(&verdict.short),
        "assumed": assumed,
    })
}

fn value(figure: &FigureValue) -> Value {
    let words = |words: &Message| json!(words.show(Reader::default()));
    figure.words.as_ref().map_or_else(|| json!(figure.value), words)
}

fn range(range: &FigureRange) -> (String, Value) {
    let driver = |driver: &Driver| {
        json!({
            "ring": driver.side.key(),
            "dog": driver.place + 1,
            "size": driver.size.name(),
            "at_minus": driver.at_minus,
            "at_plus": driver.at_plus,
        })
    };
    let [p05, p50, p95] = range.shares;
    let value = json!({
        "least": range.worst.least,
        "greatest": range.worst.greatest,
        "p05": p05,
        "p50": p50,
        "p95": p95,
        "not_in": range.not_in,
        "drivers": range.drivers.iter().map(driver).collect::<Vec<_>>(),
    });
    (range.figure.key.to_owned(), value)
}

fn windows(arcs: &[Arc]) -> Vec<[f64; 2]> {
    arcs.iter().map(|arc| [arc.start.degrees(), arc.width.degrees()]).collect()
}

fn gearbox(analysis: &Analysis) -> Value {
    let told = gear_shares(analysis);
    let shifts = gear_shifts(analysis).into_iter().map(|shift| {
        let own = told.iter().find(|(step, _)| *step == shift.step);
        json!({
            "from": shift.step.from + 1,
            "to": shift.step.to + 1,
            "slip_rpm": shift.step.slip_rpm,
            "flank": shift.flank.name(),
            "window_ms": shift.window_ms,
            "limit_rpm": shift.limit_rpm,
            "chance": shift.chance,
            "blow_nm": shift.blow_nm,
            "shares": own.and_then(|(_, shares)| shares.as_ref()).map(shares),
        })
    });
    let lash = gear_lashes(analysis).into_iter().map(|lash| {
        json!({
            "gear": lash.gear + 1,
            "ratio": lash.ratio,
            "ratio_to_wheel": lash.ratio_to_wheel,
            "wheel_deg": lash.wheel_deg,
            "tyre_mm": lash.tyre_mm,
        })
    });
    let loads = gear_loads(analysis).into_iter().map(|load| {
        json!({
            "gear": load.gear + 1,
            "torque_nm": load.torque_nm,
            "dog_force_n": load.dog_force_n,
            "pressure_mpa": load.pressure_mpa,
            "combined_mpa": load.combined_mpa,
            "overrun_combined_mpa": load.overrun_combined_mpa,
        })
    });
    json!({
        "shifts": shifts.collect::<Vec<_>>(),
        "lash": lash.collect::<Vec<_>>(),
        "load": loads.collect::<Vec<_>>(),
        "timed": timed(analysis),
        "at_rest": at_rest(analysis),
    })
}

fn shares(shares: &ShiftShares) -> Value {
    let band = |band: &Band| json!([band.least, band.greatest]);
    let first = &shares.first;
    let ends = Outcome::ALL.into_iter().zip(shares.ends);
    json!({
        "first_pass": {
            "in": first.is_in(),
            "in_band": band(&shares.first_in),
            "straight_in": first.straight_in,
            "after_rubbing": first.after_rubbing,
            "struck": first.struck,
            "half_in": first.half_in,
            "locked": first.locked,
            "ratcheting": first.ratcheting,
        },
        "in_the_end": ends
            .map(|(end, share)| (end.key().to_owned(), json!(share)))
            .chain([
                ("in".to_owned(), json!(shares.ends_in())),
                ("in_band".to_owned(), band(&shares.ends_in)),
            ])
            .collect::<Map<_, _>>(),
    })
}

fn depth(depth: &Depth) -> Value {
    let side = |facing: Facing| {
        depth.given(facing).map(|depth| {
            let chain = depth.chain(facing);
            json!({
                "clearance_mm": chain.gap_mm(),
                "worst_mm": chain.worst_mm(),
                "rss_mm": chain.rss_mm(),
            })
        })
    };
    json!({ "this": side(Facing::This), "other": side(Facing::Other) })
}

fn diagnosis(analysis: &Analysis) -> Value {
    let diagnosis = diagnose(analysis);
    let check = |checked: &CheckResult| {
        json!({
            "check": checked.check.key,
            "title": (checked.check.title)().show(Reader::default()),
            "judged": checked.status.name(),
            "measured": checked.known_by.map(|by| by == KnownBy::Measured),
            "says": sentences(&checked.says),
            "past": checked.exceedance,
            "explains": checked.explains.iter().map(|symptom| symptom.key).collect::<Vec<_>>(),
        })
    };
    json!({
        "checks": diagnosis.checks.iter().map(check).collect::<Vec<_>>(),
        "causes": diagnosis.causes,
        "verdict": sentences(&diagnosis.verdict()),
    })
}

fn ring(analysis: &Analysis, side: Side) -> Value {
    let ring = analysis.ring(side);
    let metal = ring.metal();
    let found = analysis.found[side].metal();
    let dogs = ring.dogs.iter().map(|dog| {
        json!({
            "place": dog.place + 1,
            "centre_deg": dog.centre.degrees(),
            "tip_width_deg": dog.tip_width.degrees(),
            "height_mm": dog.height_mm,
        })
    });
    json!({
        "dogs": dogs.collect::<Vec<_>>(),
        "volume_mm3": metal.volume_mm3,
        "mass_g": metal.mass_g(),
        "inertia_kg_mm2": metal.inertia_kg_mm2(),
        "unbalance_g_mm": metal.unbalance_g_mm(),
        "cut_off_mm3": found.volume_mm3 - metal.volume_mm3,
        "plan": plan(analysis, side),
    })
}

fn plan(analysis: &Analysis, side: Side) -> Value {
    let steps = plan_steps(analysis, side).into_iter();
    let step = |step: PlanStep| {
        json!({
            "key": step.words.key(),
            "values": values(&step.words),
            "words": step.words.show(Reader::default()),
            "dogs": step.dogs,
            "stock_mm3": step.stock_mm3,
            "off_flank_mm": step.off_flank_mm,
            "case_left_mm": step.case_left_mm,
        })
    };
    steps.map(step).collect()
}

fn finding(finding: &Finding) -> Value {
    json!({
        "severity": finding.severity.name(),
        "code": finding.code,
        "message": finding.text(Reader::default()),
        "hint": finding.hint(Reader::default()),
        "numbers": finding.numbers().iter().map(|(_, value)| *value).collect::<Vec<_>>(),
        "values": values(&finding.says),
    })
}

/// Each sentence by its key and values, and in English.
fn sentences(messages: &[Message]) -> Vec<Value> {
    messages.iter().map(sentence).collect()
}

fn sentence(message: &Message) -> Value {
    json!({
        "key": message.key(),
        "values": values(message),
        "words": message.show(Reader::default()),
    })
}

/// The values of a message by their names: numbers as they are, everything else as its English words.
fn values(message: &Message) -> Map<String, Value> {
    let values = message.values().iter().map(|(name, value)| {
        let value =
            value.as_number().map_or_else(|| json!(value.show(Reader::default())), |n| json!(n));
        ((*name).to_owned(), value)
    });
    values.collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::example;

    #[test]
    fn the_keys_are_the_documented_ones() {
        let report = report_json(&Analysis::of(&example()));
        let keys = |v: &Value| v.as_object().map(|o| o.keys().cloned().collect::<Vec<_>>());
        assert_eq!(keys(&report), Some(TOP_KEYS.map(str::to_owned).to_vec()));
        assert_eq!(keys(&report["rings"]["a"]), Some(RING_KEYS.map(str::to_owned).to_vec()));
        assert_eq!(report["figures"]["entry_windows"], 6.0);
    }
}
