//! The JSON Schema (draft 2020-12) of the report, generated from the catalogues.
//!
//! Every figure contributes its key, label, meaning, unit and heading. Objects allow no keys but those
//! listed, so that a misspelt key fails.

use crenel_words::{CATALOGUE, Language, Message, Reader};
use serde_json::{Map, Value, json};

use super::cautions::cautions_short;
use super::timed::{PART_KEYS, fault_key};
use crate::design::SYMPTOMS;
use crate::diagnosis::{CHECKS, CheckStatus};
use crate::figures::{Figure, catalogue};
use crate::finding::{Class, Severity};
use crate::model::{Manner, TimingFault};
use crate::ring::FlankSide;
use crate::shift::Outcome;
use crate::tolerance::{Size, figures_with_range};
use crate::units::DisplayUnits;
use crate::verdict::Stage;

/// The JSON Schema of [`report_json`](super::report_json).
pub fn report_schema() -> Value {
    let figures: Map<_, _> =
        catalogue().map(|figure| (figure.key.to_owned(), of_figure(figure))).collect();
    let ranges: Map<_, _> =
        figures_with_range().map(|figure| (figure.key.to_owned(), of_range())).collect();
    let mut schema = object(json!({
        "crenel_report": about(json!({ "const": 1 }), "The version of this form."),
        "verdict": of_verdict(),
        "title": about(text(), "The title of the design."),
        "computed": about(
            json!({ "type": "boolean" }),
            "Whether the pair could be worked out; if not, the findings say why.",
        ),
        "figures": {
            "description": "Every figure that the design has: its number, its words, or null if it has no value.",
            "type": "object",
            "properties": figures,
            "additionalProperties": false,
        },
        "ranges": {
            "description": "Ranges over the tolerances, of every figure that follows from a window or the lash.",
            "type": "object",
            "properties": ranges,
            "additionalProperties": false,
        },
        "entry_windows_deg": about(
            or_null(windows()),
            "Windows between all tips that come level before the holding depth, edges taken as sharp: start and \
                width in degrees of phase, counter-clockwise.",
        ),
        "full_depth_windows_deg": about(
            or_null(windows()),
            "The same at full depth, only windows that can be reached.",
        ),
        "jam_overlap_mm": about(nullable(), "The overlap at which the rings jam; null if they do not."),
        "contact_inner_mm": about(nullable(), "Inner radius of the band in which both rings have dogs."),
        "contact_outer_mm": about(nullable(), "Outer radius of that band."),
        "contact_meeting_mm": about(nullable(), "Radius at which the dogs meet."),
        "rings": object(json!({ "a": of_ring(), "b": of_ring() })),
        "shares": about(
            or_null(of_shares()),
            "How the shift of the design ends, over all starting phases; null if that is not known.",
        ),
        "gearbox": about(or_null(of_gearbox()), "These dogs in every gear; null without a gearbox."),
        "depth": about(
            or_null(object(json!({ "this": or_null(of_chain()), "other": or_null(of_chain()) }))),
            "The tolerance stack-ups along the shaft to both pairs; null where they are not entered.",
        ),
        "trace": of_diagnosis(),
        "cautions": about(
            json!({ "type": "array", "items": { "enum": cautions_short(Reader::default()) } }),
            "Cautions for the work, before and after the gears are cut.",
        ),
        "findings": list(of_finding()),
    }));
    schema["$schema"] = json!("https://json-schema.org/draft/2020-12/schema");
    schema["title"] = json!("Report of a Crenel design");
    schema
}

/// The schema of a figure: a number or null, or one of its answers in words.
fn of_figure(figure: &Figure) -> Value {
    let answers = (figure.words)();
    let words = |answer: &Message| answer.show(Reader::default());
    let mut schema = match answers.as_slice() {
        [] => nullable(),
        answers => json!({ "enum": answers.iter().map(words).collect::<Vec<_>>() }),
    };
    schema["title"] = json!(figure.name().show(Language::British));
    schema["description"] = json!(figure.what_it_is().show(Language::British));
    schema["x-group"] = json!(figure.group.title().show(Reader::default()));
    if answers.is_empty() {
        schema["x-unit"] = json!(figure.quantity.unit(DisplayUnits::default()));
    }
    schema
}

fn of_range() -> Value {
    object(json!({
        "least": about(number(), "The worst case."),
        "greatest": about(number(), "The worst case to the other side."),
        "p05": about(number(), "5 % of the parts are at or below it."),
        "p50": about(number(), "Half of the parts are at or below it."),
        "p95": about(number(), "95 % of the parts are at or below it."),
        "not_in": about(number(), "Share of the parts that do not go in; they are not among the others."),
        "drivers": about(
            list(object(json!({
                "ring": { "enum": ["a", "b"] },
                "dog": count(1),
                "size": { "enum": Size::ALL.map(Size::name) },
                "at_minus": about(number(), "The figure with this size alone at its lower limit."),
                "at_plus": about(number(), "The figure with this size alone at its upper limit."),
            }))),
            "The sizes that move it most, the one that moves it most first.",
        ),
    }))
}

fn of_ring() -> Value {
    object(json!({
        "dogs": list(object(json!({
            "place": about(count(1), "Its position on the ring as found, from 1."),
            "centre_deg": about(number(), "As found."),
            "tip_width_deg": about(number(), "As found."),
            "height_mm": about(number(), "As cut."),
        }))),
        "volume_mm3": about(number(), "Of the dogs as cut."),
        "mass_g": about(number(), "Of the dogs as cut."),
        "inertia_kg_mm2": about(number(), "Of the dogs as cut."),
        "unbalance_g_mm": about(number(), "Of the dogs as cut."),
        "cut_off_mm3": about(number(), "Volume removed."),
        "plan": list(object(json!({
            "key": about(text(), "Key of the sentence for the operation."),
            "values": { "type": "object", "description": "Its values by their names." },
            "words": about(text(), "The same in English."),
            "dogs": about(list(count(1)), "Positions of the dogs that it is done on, from 1."),
            "stock_mm3": about(number(), "Volume that it removes."),
            "off_flank_mm": about(nullable(), "Most stock off a flank so far, from the ring as found."),
            "case_left_mm": about(nullable(), "The least case depth left on a flank after this operation."),
        }))),
    }))
}

fn of_gearbox() -> Value {
    object(json!({
        "shifts": list(object(json!({
            "from": count(1),
            "to": count(1),
            "slip_rpm": about(number(), "Positive if the input side is faster."),
            "flank": about(
                json!({ "enum": FlankSide::BOTH.map(FlankSide::name) }),
                "The flank that meets first.",
            ),
            "window_ms": nullable(),
            "limit_rpm": about(nullable(), "The straight-in limit."),
            "chance": about(nullable(), "Share of starting phases from which the gear is in at the first pass."),
            "blow_nm": about(nullable(), "Absent where the inertias are not known."),
            "shares": or_null(of_shares()),
        }))),
        "lash": list(object(json!({
            "gear": count(1),
            "ratio": number(),
            "ratio_to_wheel": number(),
            "wheel_deg": nullable(),
            "tyre_mm": nullable(),
        }))),
        "load": list(object(json!({
            "gear": count(1),
            "torque_nm": about(number(), "With the throttle open."),
            "dog_force_n": nullable(),
            "pressure_mpa": nullable(),
            "combined_mpa": nullable(),
            "overrun_combined_mpa": nullable(),
        }))),
        "timed": list(of_timed()),
        "at_rest": list(of_rest()),
    }))
}

fn of_timed() -> Value {
    let faults = [
        TimingFault::NotOut,
        TimingFault::Rattles,
        TimingFault::NeverIn,
        TimingFault::TooNear,
        TimingFault::NeverNearer,
    ];
    let spread = || {
        about(
            json!({ "type": "array", "items": number(), "minItems": 3, "maxItems": 3 }),
            "Not exceeded in 5, 50 and 95 % of the shifts.",
        )
    };
    let mut times = json!({
        "length_ms": about(number(), "Of the cut, the blip, or the pull of the clutch: the sum of its parts."),
        "not_longer_than_ms": about(nullable(), "Past this the engine has gone beyond the speed of the new gear."),
        "in_at_engine_rpm": number(),
        "share": about(number(), "The share of shifts that this is long enough for."),
        "other_flanks_strike": json!({ "type": "boolean" }),
        "out_spread_ms": spread(),
        "in_spread_ms": spread(),
    });
    for key in PART_KEYS {
        times[key] = number();
    }
    let foot = json!({ "signal_ms": number(), "hook_ms": nullable(), "fork_ms": nullable() });
    let mut timed = object(json!({
        "manner": json!({ "enum": Manner::ALL.map(Manner::key) }),
        "from": count(1),
        "to": count(1),
        "engine_rpm": number(),
        "fault": or_null(json!({ "enum": faults.map(fault_key) })),
        "times": or_null(object(times)),
        "peaks": or_null(object(json!({
            "rigid_nm": about(number(), "At the new dogs, two masses on one spring."),
            "rigid_tyre_n": number(),
            "dogs_nm": about(nullable(), "With the whole driveline; null while it is not known."),
            "tyre_nm": about(nullable(), "At the shaft of the new dogs."),
            "tyre_n": nullable(),
        }))),
    }));
    timed["properties"]["foot"] =
        about(object(foot), "From where the foot begins to move; absent without a sensor.");
    timed
}

fn of_rest() -> Value {
    object(json!({
        "gear": count(1),
        "at_once": about(number(), "Share of the phases in which it is in with nothing turning."),
        "rolled": about(number(), "The same with the machine rolled as far as the design says."),
        "rolled_from_tips": about(number(), "The same where every phase has tip on tip."),
        "sure_mm": about(nullable(), "Rolled so far it is always in; null where no window is open."),
        "idling": or_null(object(json!({
            "slip_rpm": number(),
            "first_pass": about(number(), "Share that is in at the first pass."),
            "locked": about(number(), "Share that stops tip on tip."),
            "clutch_nm": about(number(), "What the dragging clutch carries to the dogs."),
            "tips_nm": about(number(), "What tip on tip holds against it."),
        }))),
    }))
}

fn of_shares() -> Value {
    let band = |over: &str| about(json!({ "type": "array", "items": number() }), over);
    let mut ends = json!({
        "in": about(number(), "Share that is in at last."),
        "in_band": band(
            "The least and the greatest of it, over tip frictions from 0.05 to 0.15 and strikes that take none \
                to all of the speed difference.",
        ),
    });
    for end in Outcome::ALL {
        ends[end.key()] = number();
    }
    object(json!({
        "first_pass": object(json!({
            "in": about(number(), "Share that is in at the first pass."),
            "in_band": band("The least and the greatest of it, over tip frictions from 0.05 to 0.15."),
            "straight_in": number(),
            "after_rubbing": number(),
            "struck": about(number(), "Thrown back by a flank."),
            "half_in": number(),
            "locked": number(),
            "ratcheting": number(),
        })),
        "in_the_end": object(ends),
    }))
}

fn of_chain() -> Value {
    object(json!({
        "clearance_mm": number(),
        "worst_mm": about(number(), "How far the clearance can be out, every size at its limit."),
        "rss_mm": about(number(), "How far the clearance is likely to be out: root of the sum of squares."),
    }))
}

fn of_diagnosis() -> Value {
    let keys: Vec<_> = CHECKS.iter().map(|check| check.key).collect();
    let symptoms: Vec<_> = SYMPTOMS.iter().map(|symptom| symptom.key).collect();
    object(json!({
        "checks": list(object(json!({
            "check": { "enum": keys },
            "title": about(text(), "Its title in English."),
            "judged": { "enum": CheckStatus::ALL.map(CheckStatus::name) },
            "measured": about(
                json!({ "type": ["boolean", "null"] }),
                "Whether its number was measured; null if the check is still open.",
            ),
            "says": list(of_sentence()),
            "past": about(
                json!({ "type": "number", "minimum": 0 }),
                "Excess over the limit, as a multiple of the limit; 0 within it.",
            ),
            "explains": list(json!({ "enum": symptoms })),
        }))),
        "causes": about(
            list(count(0)),
            "Places in the list of checks, from 0, the furthest past its limit first.",
        ),
        "verdict": about(list(of_sentence()), "Sentences that sum up the checks."),
    }))
}

fn of_verdict() -> Value {
    object(json!({
        "class": { "enum": Class::ALL.map(Class::name) },
        "stage": { "enum": Stage::ALL.map(Stage::name) },
        "past": about(
            json!({ "type": "number", "minimum": 0 }),
            "Excess over the limit, as a share of the limit; 0 within it.",
        ),
        "estimate": about(json!({ "type": "boolean" }), "Whether its numbers are estimates."),
        "fact": of_sentence(),
        "next": or_null(of_sentence()),
        "short": of_sentence(),
        "assumed": about(
            list(text()),
            "Numbers that it relies on and that were not entered, by their places in the saved form.",
        ),
    }))
}

fn of_sentence() -> Value {
    object(json!({
        "key": about(text(), "Its key in the catalogue of sentences."),
        "values": of_values(),
        "words": about(text(), "The sentence in English."),
    }))
}

/// The values of a message by their names.
fn of_values() -> Value {
    json!({
        "type": "object",
        "additionalProperties": { "type": ["number", "string", "null"] },
        "description": "The values of the message by their names: numbers, or words in English.",
    })
}

fn of_finding() -> Value {
    object(json!({
        "severity": { "enum": Severity::ALL.map(Severity::name) },
        "code": { "enum": codes() },
        "message": text(),
        "hint": text(),
        "numbers": list(nullable()),
        "values": of_values(),
    }))
}

/// The code of every finding that the catalogue has, by the alphabet.
fn codes() -> Vec<&'static str> {
    let keys = CATALOGUE.iter().copied().flatten().map(|entry| entry.text.key);
    let mut codes: Vec<_> = keys.filter_map(|key| key.strip_prefix("finding.")).collect();
    codes.sort_unstable();
    codes
}

/// An object with exactly these keys.
pub(super) fn object(properties: Value) -> Value {
    let keys: Vec<_> = properties.as_object().into_iter().flat_map(Map::keys).collect();
    let mut schema = json!({ "type": "object", "required": keys, "additionalProperties": false });
    schema["properties"] = properties;
    schema
}

pub(super) fn list(items: Value) -> Value {
    let mut schema = json!({ "type": "array" });
    schema["items"] = items;
    schema
}

/// A list of windows: start and width of each, degrees.
fn windows() -> Value {
    list(json!({ "type": "array", "items": number(), "minItems": 2, "maxItems": 2 }))
}

pub(super) fn or_null(schema: Value) -> Value {
    let mut either = json!({});
    either["anyOf"] = Value::Array(vec![schema, json!({ "type": "null" })]);
    either
}

pub(super) fn text() -> Value {
    json!({ "type": "string" })
}

pub(super) fn number() -> Value {
    json!({ "type": "number" })
}

pub(super) fn nullable() -> Value {
    json!({ "type": ["number", "null"] })
}

/// A whole number not less than `least`.
pub(super) fn count(least: u32) -> Value {
    json!({ "type": "integer", "minimum": least })
}

pub(super) fn about(mut schema: Value, words: &str) -> Value {
    schema["description"] = json!(words);
    schema
}
