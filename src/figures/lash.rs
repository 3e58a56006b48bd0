//! Once in: lash, depth, and how many dogs meet.

use super::context::PairContext;
use super::figure::{Answer, Better, Compute, Figure, Group};
use super::{GEOMETRY, count};
use crate::design::SettingField;
use crate::model::TOGETHER_MM;
use crate::ring::FlankSide;
use crate::units::Quantity;

const MEETING: &str = "pairs whose flanks meet within 0.01 mm of the first, rigid rings";
const RIGID: &str = "Common practice, no source; load closes small spacing errors.";
const NO_WINDOW: &str = "no window at full depth";

/// The lash at the dogs, as an angle.
pub static LASH: Figure = Figure {
    key: "lash_deg",
    group: Group::Lash,
    label: "Lash at the dogs",
    quantity: Quantity::Angle,
    better: Better::Less,
    limit: None,
    formula: "λ = width of the window that holds the phase, at full depth",
    meaning: "How far the engaged dogs can turn from the drive flank to the coast flank. It is what the rider feels \
        as a clunk as the throttle opens and closes.",
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
    formula: "λ·rm",
    meaning: "The lash measured along the circle at the middle of the dogs: what a dial indicator reads there when \
        the gear is rocked.",
    source: GEOMETRY,
    words: Vec::new,
    compute: Compute::Pair(|context| {
        let radius = context.pair.mesh.contact.mean_mm();
        let working = format!("{} × {}", lash_text(context), context.mm(radius));
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
    formula: "λ / i",
    meaning: "How far the rear wheel turns while the dogs cross their lash, with nothing else loose. It can be felt \
        with the gear in and the engine still.",
    source: GEOMETRY,
    words: Vec::new,
    compute: Compute::Pair(|context| {
        let ratio = context.pair.shift_case.ratio_to_wheel;
        let working = format!("{} / {}", lash_text(context), context.show(Quantity::Ratio, ratio));
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
    formula: "λ / i · D/2",
    meaning: "The same lash along the tread. It is easily measured with a chalk mark; chain, cush drive and gear \
        teeth add their own play.",
    source: GEOMETRY,
    words: Vec::new,
    compute: Compute::Pair(|context| {
        let ratio = context.pair.shift_case.ratio_to_wheel;
        let tyre = context.setting(SettingField::WheelDiameter) / 2.0;
        let ratio_text = context.show(Quantity::Ratio, ratio);
        let working = format!("{} / {ratio_text} × {}", lash_text(context), context.mm(tyre));
        Some(Answer::number(lash(context).map(|lash| lash / ratio * tyre), working))
    }),
};

/// How deep the dogs engage.
pub static FULL_DEPTH: Figure = Figure {
    key: "full_depth_mm",
    group: Group::Lash,
    label: "Full depth",
    quantity: Quantity::Length,
    better: Better::More,
    limit: None,
    formula: "least of: overlap asked for, tallest dog of A, tallest dog of B",
    meaning: "How far the dogs end up inside each other. Too little loads the tips and rounds them; where there is no \
        number the rings jam on the way in.",
    source: GEOMETRY,
    words: Vec::new,
    compute: Compute::Pair(|context| {
        let [a, b] = context.pair.mesh.tallest_mm.map(|height| context.mm(height));
        let engagement = &context.pair.engagement;
        let jams = |overlap_mm| format!("; jams at {}", context.mm(overlap_mm));
        let jams = engagement.jam.map_or_else(String::new, |jam| jams(jam.overlap_mm));
        let overlap = context.given(SettingField::Overlap);
        let goes_in = engagement.jam.is_none() && engagement.full_depth_mm > 0.0;
        let depth = goes_in.then_some(engagement.full_depth_mm);
        Some(Answer::number(depth, format!("least of {overlap}, {a}, {b}{jams}")))
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
    formula: MEETING,
    meaning: "How many dogs really touch when the engine drives, with rings that do not give. One dog that stands \
        proud takes the whole load until it wears or breaks.",
    source: RIGID,
    words: Vec::new,
    compute: Compute::Pair(|context| Some(meeting(context, FlankSide::Drive))),
};

pub(super) static ROWS: &[&Figure] = &[
    &LASH,
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
        formula: MEETING,
        meaning: "How many dogs touch when the wheel drives the engine. Coast flanks are often worn unevenly, so the \
            number may differ from that under power.",
        source: RIGID,
        words: Vec::new,
        compute: Compute::Pair(|context| Some(meeting(context, FlankSide::Coast))),
    },
];

/// The lash, rad; `None` without a window at full depth.
fn lash(context: &PairContext<'_>) -> Option<f64> {
    context.pair.held.map(|window| window.width.radians())
}

fn lash_text(context: &PairContext<'_>) -> String {
    lash(context).map_or_else(|| NO_WINDOW.to_owned(), |lash| context.deg(lash))
}

/// Which window holds the phase, or is nearest to it, or why there is none.
fn window_held(context: &PairContext<'_>) -> String {
    let engagement = &context.pair.engagement;
    let Some(held) = context.pair.held else {
        if engagement.full_depth_mm <= 0.0 {
            return "the rings stand apart".to_owned();
        }
        let jam = engagement.jam.map_or(0.0, |jam| jam.overlap_mm);
        return format!("jams at an overlap of {}", context.mm(jam));
    };
    let phase = context.worked.phase();
    let place = if held.contains(phase) { "holds" } else { "is nearest to" };
    let (from, width) = (held.start.radians(), held.width.radians());
    format!(
        "at {} the window {}…{} {place} the phase {}: {}",
        context.mm(engagement.full_depth_mm),
        context.deg(from),
        context.deg(from + width),
        context.deg(phase.radians()),
        context.deg(width)
    )
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
    let working = |meeting| format!("{meeting} of {} pairs", mesh.blocks.len());
    Answer::number(meeting.map(count), meeting.map_or_else(|| NO_WINDOW.to_owned(), working))
}
