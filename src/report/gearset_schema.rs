//! The JSON Schema (draft 2020-12) of the report on a whole gearbox. Objects allow no keys but those listed.

use serde_json::{Value, json};

use super::schema::{about, count, list, nullable, number, object, or_null, text};
use crate::finding::Class;
use crate::gearset::{FAULTS, Meeting};

/// The JSON Schema of [`gearset_report`](super::gearset_report).
pub fn gearset_schema() -> Value {
    let mut schema = object(json!({
        "crenel_gearbox_report": about(json!({ "const": 1 }), "The version of this form."),
        "title": about(text(), "The title of the gearbox."),
        "shifts": about(list(of_shift()), "Every shift, the one furthest past a limit first."),
        "findings": about(list(of_finding()), "Everything wrong or worth knowing, the gravest first."),
        "faults": about(or_null(of_faults()), "The part at fault; null where nothing was read."),
        "shims": about(list(of_restored()), "Shims that bring the gearbox back, the fewest first."),
        "cuts": about(list(of_cut()), "The smallest cut of each gear; empty unless asked for."),
        "positions": about(list(of_position()), "Where everything stands in each position of the detent."),
    }));
    schema["$schema"] = json!("https://json-schema.org/draft/2020-12/schema");
    schema["title"] = json!("Report on a gearbox");
    schema
}

fn of_shift() -> Value {
    object(json!({
        "from": count(1),
        "to": count(1),
        "slip_rpm": about(number(), "Positive if the input side is the faster one."),
        "window_ms": nullable(),
        "limit_rpm": about(nullable(), "The straight-in limit."),
        "chance": about(nullable(), "Share of starting phases from which the gear is in at the first pass."),
        "end_chance": about(nullable(), "Share of starting phases from which it is in at last."),
        "blow_nm": nullable(),
        "hold_n": about(pair(nullable()), "Retaining force under power and on the overrun."),
        "depth_left_mm": about(nullable(), "How much deeper than the holding depth the dogs are at the worst."),
        "tyre_mm": about(nullable(), "Lash at the tyre."),
        "excess": about(number(), "Share by which what is worst is past its limit; 0 if nothing is."),
        "class": class(),
        "reason": about(text(), "What is worst about it, in English."),
    }))
}

fn of_finding() -> Value {
    object(json!({
        "part": { "enum": ["gear", "slider", "fork", "position", "selector"] },
        "number": count(1),
        "code": text(),
        "class": class(),
        "text": text(),
        "hint": text(),
    }))
}

fn of_faults() -> Value {
    let part = || json!({ "type": "array", "prefixItems": [text(), count(1)], "minItems": 2, "maxItems": 2 });
    let suspect = object(json!({
        "part": text(),
        "number": count(1),
        "kind": { "enum": FAULTS.iter().map(|kind| kind.key).collect::<Vec<_>>() },
        "gears": about(list(count(1)), "The gears that it is felt in."),
        "size": about(number(), "How large the fault is, in the unit of its kind."),
        "deviation": about(number(), "Standard deviation of the size."),
        "limit": about(number(), "What is allowed of it."),
        "share": about(number(), "Probability that this part is at fault."),
        "blamed": { "type": "boolean" },
        "text": text(),
        "hint": text(),
    }));
    let next = object(json!({
        "read": about(text(), "The place of the reading in the saved form."),
        "parts": about(list(list(part())), "The parts that the reading tells apart."),
        "expects": about(list(number()), "What the reading would be with each of them."),
        "apart": about(number(), "How far apart these are, in standard deviations."),
        "again": about(json!({ "type": "boolean" }), "Whether it was read before."),
    }));
    object(json!({
        "readings": about(count(0), "How many readings count."),
        "sound": about(number(), "Probability that no part is at fault."),
        "suspects": about(list(suspect), "The most probable first."),
        "next": about(or_null(next), "What to read next."),
        "odd": about(
            or_null(object(json!({
                "read": text(),
                "by": about(number(), "Standard deviations that it is off."),
            }))),
            "A reading that fits nothing else.",
        ),
    }))
}

fn of_restored() -> Value {
    let margins = || {
        object(json!({
            "apart_mm": about(nullable(), "How much deeper two gears would have to be to be in at once."),
            "apart": or_null(pair(count(1))),
            "room_mm": about(nullable(), "The least clearance of a fork in gear."),
            "room": or_null(count(1)),
            "hold_mm": about(nullable(), "The least depth beyond the holding depth."),
            "hold": or_null(count(1)),
        }))
    };
    object(json!({
        "shims": list(object(json!({
            "part": { "enum": ["wheel", "fork", "shaft"] },
            "number": count(1),
            "mm": about(number(), "Plus towards the gear with the higher number, or thicker."),
            "text": text(),
        }))),
        "is_enough": { "type": "boolean" },
        "before": margins(),
        "after": margins(),
    }))
}

fn of_cut() -> Value {
    let both = || pair(number());
    object(json!({
        "gear": count(1),
        "metal_g": number(),
        "gain_per_gram": about(number(), "Share of shifts that go in, for each gram."),
        "goes_in": about(both(), "Share of shifts that go in at the first pass, before and after."),
        "off_slider_g": number(),
        "lash_deg": or_null(both()),
        "tyre_mm": or_null(both()),
        "strength": about(or_null(both()), "The share that is used of what is allowed."),
        "unbalance_g_mm": both(),
        "allowed_g_mm": nullable(),
        "twin": or_null(object(json!({ "gear": count(1), "reach": both() }))),
        "advisable": { "type": "boolean" },
        "text": text(),
        "cut": about(text(), "What to do, in English."),
    }))
}

fn of_position() -> Value {
    let gear = object(json!({
        "gear": count(1),
        "overlap_mm": about(number(), "Minus is the clearance from tip to tip."),
        "meeting": { "enum": Meeting::ALL.map(Meeting::name) },
        "home": { "type": "boolean" },
    }));
    object(json!({
        "position_deg": number(),
        "gear": or_null(count(1)),
        "sliders": list(object(json!({
            "fork": count(1),
            "pin_mm": about(number(), "From neutral, plus towards the gear with the higher number."),
            "pad_mm": number(),
            "slider_mm": number(),
            "room_mm": about(pair(number()), "Below 0 the fork carries the thrust."),
            "play_mm": number(),
            "gears": list(gear),
        }))),
    }))
}

fn class() -> Value {
    json!({ "enum": Class::ALL.map(Class::name) })
}

fn pair(of: Value) -> Value {
    let mut pair = json!({ "type": "array", "minItems": 2, "maxItems": 2 });
    pair["items"] = of;
    pair
}
