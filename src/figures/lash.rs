//! Once in: lash, depth, and how many dogs meet.

use crenel_words::{Message, Value, working as say};

use super::context::{PairContext, deg, formula, mm};
use super::figure::{Answer, Better, Compute, Figure, Group};
use super::{GEOMETRY, count};
use crate::design::{Need, SettingField};
use crate::limits;
use crate::model::TOGETHER_MM;
use crate::pair::{Arc, extremes};
use crate::ring::FlankSide;
use crate::units::{Angle, Quantity};

const PLACES: &str = "λ of every window at full depth; N places where N windows are open";
const MEETING: &str = "pairs whose flanks meet within 0.01 mm of the first, rigid rings";
const RIGID: &str = "Common practice, no source; load closes small spacing errors.";
const RATIO: &str = "Ratio from the dogs to the wheel; plain arithmetic.";

/// The lash at the dogs, as an angle.
pub static LASH: Figure = Figure {
    key: "lash_deg",
    group: Group::Lash,
    label: "Lash at the dogs",
    quantity: Quantity::Angle,
    better: Better::Less,
    limit: Some(limits::lash),
    needs: &[],
    formula: "λ = width of the window that contains the phase, at full depth",
    meaning: "How far the engaged dogs can turn from drive flank to coast flank. The rider feels it as a clunk as the \
        throttle opens and closes.",
    source: GEOMETRY,
    words: Vec::new,
    compute: Compute::Pair(|context| {
        Some(Answer::number(lash(context).map(f64::to_degrees), window_held(context)))
    }),
};

/// The lash along the circle in the middle of the dogs.
pub static LASH_AT_MEAN_RADIUS: Figure = Figure {
    key: "lash_mm",
    group: Group::Lash,
    label: "Lash at the mean radius",
    quantity: Quantity::Length,
    better: Better::Less,
    limit: None,
    needs: &[],
    formula: "λ·rm, λ in radians",
    meaning: "Lash along the arc at the mean radius of the dogs, as a dial [gauge|indicator] set there shows it when \
        the gear is rocked.",
    source: GEOMETRY,
    words: Vec::new,
    compute: Compute::Pair(|context| {
        let radius = context.pair.mesh.contact.mean_mm();
        let working = from_lash(context, |lash| formula("{} × {}", [lash, mm(radius)]));
        Some(Answer::number(lash(context).map(|lash| lash * radius), working))
    }),
};

/// The lash at the rear wheel.
pub static LASH_AT_WHEEL: Figure = Figure {
    key: "lash_wheel_deg",
    group: Group::Lash,
    label: "Lash at the rear wheel",
    quantity: Quantity::Angle,
    better: Better::Less,
    limit: None,
    needs: &[Need::Ratio],
    formula: "λ / i, i the ratio from the dogs to the wheel",
    meaning: "How far the rear wheel turns as the dogs cross their lash, without other play. Feel it by hand with a \
        gear in and the engine off.",
    source: RATIO,
    words: Vec::new,
    compute: Compute::Pair(|context| {
        let ratio = context.pair.shift_case.ratio_to_wheel;
        let i = Value::Working(Quantity::Ratio, ratio);
        let working = from_lash(context, |lash| formula("{} / {}", [lash, i]));
        Some(Answer::number(lash(context).map(|lash| lash.to_degrees() / ratio), working))
    }),
};

/// The lash along the tread of the rear tyre.
pub static LASH_AT_TYRE: Figure = Figure {
    key: "lash_tyre_mm",
    group: Group::Lash,
    label: "Lash at the [tyre|tire]",
    quantity: Quantity::RoadLength,
    better: Better::Less,
    limit: None,
    needs: &[Need::Ratio],
    formula: "λ / i · D/2",
    meaning: "The same lash along the tread, easy to measure with a chalk mark. Chain, cush drive and gear teeth add \
        their own play.",
    source: RATIO,
    words: Vec::new,
    compute: Compute::Pair(|context| {
        let ratio = context.pair.shift_case.ratio_to_wheel;
        let tyre = context.setting(SettingField::WheelDiameter) / 2.0;
        let i = Value::Working(Quantity::Ratio, ratio);
        let working = from_lash(context, |lash| formula("{} / {} × {}", [lash, i, mm(tyre)]));
        Some(Answer::number(lash(context).map(|lash| lash / ratio * tyre), working))
    }),
};

/// How deep the dogs engage.
pub static FULL_DEPTH: Figure = Figure {
    key: "full_depth_mm",
    group: Group::Lash,
    label: "Overlap in gear",
    quantity: Quantity::Length,
    better: Better::More,
    limit: None,
    needs: &[],
    formula: "least of: overlap after the cut, tallest dog of A, tallest dog of B",
    meaning: "How deep the dogs engage. With too little, the tips carry the load and round off; with no value, the \
        rings jam on the way in or are not engaged.",
    source: GEOMETRY,
    words: Vec::new,
    compute: Compute::Pair(|context| {
        let engagement = &context.pair.engagement;
        if let Some(jam) = engagement.jam {
            return Some(Answer::number(None, say::jams_at(mm(jam.overlap_mm))));
        }
        let [a, b] = context.pair.mesh.tallest_mm.map(mm);
        let depth = Some(engagement.full_depth_mm).filter(|depth| *depth > 0.0);
        let overlap = mm(context.worked.overlap_mm());
        Some(Answer::number(depth, formula("min({}, {}, {})", [overlap, a, b])))
    }),
};

/// How many pairs of dogs meet under power.
pub static PAIRS_MEETING_DRIVE: Figure = Figure {
    key: "pairs_meeting_drive",
    group: Group::Lash,
    label: "Dog pairs meeting under power",
    quantity: Quantity::Count,
    better: Better::More,
    limit: None,
    needs: &[],
    formula: MEETING,
    meaning: "How many pairs of dogs touch under power, with rigid rings. A dog that leads carries the whole load \
        until it yields, wears or breaks.",
    source: RIGID,
    words: Vec::new,
    compute: Compute::Pair(|context| Some(meeting(context, FlankSide::Drive))),
};

/// What the lash of a place has in common.
const OF_PLACE: Figure = Figure {
    key: "",
    label: "",
    meaning: "",
    compute: Compute::Pair(|_| None),
    group: Group::Lash,
    quantity: Quantity::Angle,
    better: Better::Less,
    limit: None,
    needs: &[],
    formula: PLACES,
    source: GEOMETRY,
    words: Vec::new,
};

/// The lash where rings that are not alike engage best.
static LASH_BEST_PLACE: Figure = Figure {
    key: "lash_best_place_deg",
    label: "Lash in the best place",
    meaning: "The least lash of all places in which these rings can engage, because they are not alike. Do not count \
        on it: nobody can hold a gear to one place.",
    compute: Compute::Pair(|context| {
        let (best, _) = places(context)?;
        Some(Answer::number(Some(best.degrees()), place_words(context)))
    }),
    ..OF_PLACE
};

/// The lash where rings that are not alike engage worst.
static LASH_WORST_PLACE: Figure = Figure {
    key: "lash_worst_place_deg",
    label: "Lash in the worst place",
    meaning: "The most lash of all places in which these rings can engage, because they are not alike. Judge the pair \
        by it: every place comes up in turn.",
    compute: Compute::Pair(|context| {
        let (_, worst) = places(context)?;
        Some(Answer::number(Some(worst.degrees()), place_words(context)))
    }),
    ..OF_PLACE
};

/// Where windows differ by less, all places are the same, rad: far below what can be measured.
const SAME_RAD: f64 = 1e-4;

/// Whether the rings are not alike: what they offer differs from place to place, at full depth or on the way in.
pub(super) fn are_unlike(context: &PairContext<'_>) -> bool {
    let differ = |windows: &[Arc]| {
        let ends = extremes(windows);
        ends.is_some_and(|(least, most)| most.radians() - least.radians() > SAME_RAD)
    };
    differ(&context.pair.engagement.windows) || differ(&context.pair.to_hold)
}

/// The narrowest and the widest window at full depth of rings that are not alike.
fn places(context: &PairContext<'_>) -> Option<(Angle, Angle)> {
    extremes(&context.pair.engagement.windows).filter(|_| are_unlike(context))
}

fn place_words(context: &PairContext<'_>) -> Message {
    let windows = &context.pair.engagement.windows;
    let widths = windows.iter().map(|window| deg(window.width.degrees())).collect();
    say::places(windows.len(), widths)
}

pub(super) static ROWS: &[&Figure] = &[
    &LASH,
    &LASH_BEST_PLACE,
    &LASH_WORST_PLACE,
    &LASH_AT_MEAN_RADIUS,
    &LASH_AT_WHEEL,
    &LASH_AT_TYRE,
    &FULL_DEPTH,
    &PAIRS_MEETING_DRIVE,
    &Figure {
        key: "pairs_meeting_coast",
        group: Group::Lash,
        label: "Dog pairs meeting [on the overrun|when coasting]",
        quantity: Quantity::Count,
        better: Better::More,
        limit: None,
        needs: &[],
        formula: MEETING,
        meaning: "How many pairs of dogs touch when the wheel drives the engine. Coast flanks often wear unevenly, so \
            the number may differ from that under power.",
        source: RIGID,
        words: Vec::new,
        compute: Compute::Pair(|context| Some(meeting(context, FlankSide::Coast))),
    },
];

/// The lash, rad; `None` without a window at full depth.
fn lash(context: &PairContext<'_>) -> Option<f64> {
    context.pair.held.map(|window| window.width.radians())
}

/// A working that begins with the lash.
fn from_lash(context: &PairContext<'_>, working: impl FnOnce(Value) -> Message) -> Message {
    lash(context).map_or_else(say::no_window_at_depth, |lash| working(deg(lash.to_degrees())))
}

/// Which window holds the phase, or is nearest to it, or why there is none.
fn window_held(context: &PairContext<'_>) -> Message {
    let engagement = &context.pair.engagement;
    let Some(held) = context.pair.held else {
        if engagement.full_depth_mm <= 0.0 {
            return say::not_engaged();
        }
        return say::jams_at(mm(engagement.jam.map_or(0.0, |jam| jam.overlap_mm)));
    };
    let phase = context.worked.phase();
    let place = if held.contains(phase) { "holds" } else { "is_nearest" };
    say::window_held(mm(engagement.full_depth_mm), window(&held), place, deg(phase.degrees()))
}

/// A window from its start to its end, and its width.
pub(super) fn window(window: &Arc) -> Message {
    let (from, width) = (window.start.degrees(), window.width.degrees());
    formula("{}…{} = {}", [from, from + width, width].map(deg))
}

/// How many pairs of dogs meet at once when a flank takes the load.
fn meeting(context: &PairContext<'_>, flank: FlankSide) -> Answer {
    let mesh = &context.pair.mesh;
    let meeting = context.pair.held.map(|held| {
        let end = match flank {
            FlankSide::Drive => held.start,
            FlankSide::Coast => held.end(),
        };
        let depth_mm = context.pair.engagement.full_depth_mm;
        mesh.meeting_at(flank, end, depth_mm, TOGETHER_MM).len()
    });
    let working = |meeting| say::pairs_meeting(meeting, mesh.blocks.len());
    Answer::number(meeting.map(count), meeting.map_or_else(say::no_window_at_depth, working))
}

#[cfg(test)]
mod tests {
    use crate::analysis::Analysis;
    use crate::design::{Design, open};
    use crate::figures::figures;

    fn number(design: &Design, key: &str) -> Option<f64> {
        figures(&Analysis::of(design)).iter().find(|value| value.figure.key == key)?.value
    }

    /// Six on six with 12° of lash, one dog of each ring out of position by 1°: where e is how far each dog is off,
    /// the lash of a clocking is `12° + min(e_B,i+1 − e_A,i) − max(e_B,i − e_A,i)`, 11° in some places and 10° in
    /// the others. At 300 rpm 10° pass in 10/1800 s.
    #[test]
    fn rings_that_are_not_alike_have_a_best_and_a_worst_place() {
        let dogs = |second: f64| {
            let centres = [0.0, second, 120.0, 180.0, 240.0, 300.0];
            centres.map(|at| format!(r#"{{ "centre_deg": {at} }}"#)).join(", ")
        };
        let design = |a: f64, b: f64| {
            let [a, b] = [a, b].map(dogs);
            let text =
                format!(r#"{{ "crenel": 1, "a": {{ "dogs": [{a}] }}, "b": {{ "dogs": [{b}] }} }}"#);
            open(&text).expect("it opens").design
        };
        let unlike = design(61.0, 59.0);
        let wanted = [
            ("lash_best_place_deg", 10.0),
            ("lash_worst_place_deg", 11.0),
            ("window_time_ms", 11.0 / 1.8),
            ("window_time_worst_place_ms", 10.0 / 1.8),
        ];
        for (key, want) in wanted {
            let is = number(&unlike, key).unwrap_or_else(|| panic!("no {key}"));
            assert!((is - want).abs() < 1e-9, "{key}: {is}");
        }
        // A ring that is even offers the same in every place, whatever the other is like.
        for alike in [Design::default(), design(61.0, 60.0)] {
            for key in ["lash_best_place_deg", "lash_worst_place_deg", "window_time_worst_place_ms"]
            {
                assert_eq!(number(&alike, key), None, "{key}");
            }
        }
    }
}
