//! The second row stands back: how far every second dog must come down before the slot jumps.

use crenel_words::{Value, story as say};

use super::even::{alike, with_rings};
use super::search::{begins, number};
use super::{Answer, Drag, Guess, Span, Story};
use crate::analysis::Analysis;
use crate::design::{Design, SettingField};
use crate::draw::views::UNROLLED;
use crate::figures::{
    FLANK_PRESSURE, FREE_ANGLE, LASH, STRAIGHT_IN_LIMIT, WINDOW_TIME, some_figures,
};
use crate::units::{ABSENT, Quantity};

pub(super) static STORY: Story = Story {
    key: "row",
    title: say::row,
    told: say::row_told,
    drags: &[Drag {
        name: say::height_of_low,
        quantity: Quantity::Length,
        is_switch: false,
        handle: None,
        span: |base| {
            let full = full_mm(base);
            Span { min: LEAST_MM.min(full), max: full, step: 0.1, start: full }
        },
    }],
    guess: Guess {
        name: say::lowered_by,
        quantity: Quantity::Length,
        span: |base| Span { min: 0.0, max: full_mm(base), step: 0.1, start: full_mm(base) / 2.0 },
    },
    is_film: false,
    views: &[&UNROLLED],
    shown: &[&FREE_ANGLE, &WINDOW_TIME, &LASH, &FLANK_PRESSURE],
    asked: |_| say::row_asked(),
    design: |base, values| with_height(base, values[0]),
    answer,
    decides: &WINDOW_TIME,
};

/// The lowest that the dogs are dragged to, mm.
const LEAST_MM: f64 = 0.5;

/// Window times that differ by less than this share are the same.
const SAME: f64 = 1e-6;

/// The full height of the taller ring, mm.
fn full_mm(base: &Design) -> f64 {
    alike(&base.a).height_mm.max(alike(&base.b).height_mm)
}

/// Every second dog of both gears cut down to a height.
fn with_height(base: &Design, height_mm: f64) -> Design {
    with_rings(base, |even| {
        let share = (height_mm / even.height_mm).min(1.0);
        even.heights = vec![1.0, share];
    })
}

fn answer(base: &Design) -> Option<Answer> {
    let full = full_mm(base);
    let window = |height_mm: f64| number(&WINDOW_TIME, &with_height(base, height_mm));
    let before = window(full)?;
    let Some(after) = window(0.0).filter(|after| *after > before * (1.0 + SAME)) else {
        return Some(told(base, None, vec![say::no_jump()], &[full, full / 2.0]));
    };
    let open = |by: f64| window(full - by).is_some_and(|ms| ms >= after * (1.0 - SAME));
    let by = begins(0.0, full, open)?;
    let [time, length] = [Quantity::Time, Quantity::Length];
    let jumps = say::jumps_at(
        Value::Result(length, by),
        Value::Result(length, full - by),
        Value::Result(time, before),
        Value::Result(time, after),
    );
    let hold = base.setting.get(SettingField::HoldDepth);
    let by_hold = ((by - hold).abs() < 1e-4)
        .then(|| say::by_holding_depth(Value::Number(Quantity::Length, hold)));
    let pressure = |height| {
        let mpa = number(&FLANK_PRESSURE, &with_height(base, height))?;
        Some(Value::Result(Quantity::Stress, mpa))
    };
    let costs = pressure(full)
        .zip(pressure(full - by))
        .map(|(before, after)| say::pressure_moves(before, after));
    let says = [jumps].into_iter().chain(by_hold).chain(costs).collect();
    Some(told(base, Some(by), says, &[full, full - by / 2.0, full - by, full / 2.0]))
}

/// The answer with a row for each height.
fn told(
    base: &Design,
    value: Option<f64>,
    says: Vec<crenel_words::Message>,
    heights: &[f64],
) -> Answer {
    let row = |height: &f64| {
        let analysis = Analysis::of(&with_height(base, *height));
        let figures = some_figures([&WINDOW_TIME, &LASH, &FLANK_PRESSURE], &analysis);
        let shown = |figure: &'static crate::figures::Figure| {
            let value = figures.iter().find(|value| value.figure == figure);
            value.map_or(Value::Verbatim(ABSENT.to_owned()), |value| value.to_value())
        };
        let height = Value::Result(Quantity::Length, *height);
        vec![height, shown(&WINDOW_TIME), shown(&LASH), shown(&FLANK_PRESSURE)]
    };
    let decides = Analysis::of(&with_height(base, full_mm(base) - value.unwrap_or_default()));
    Answer {
        value,
        says,
        heads: vec![say::head_height, say::head_window_time, say::head_lash, say::head_pressure],
        rows: heights.iter().map(row).collect(),
        figures: some_figures([&WINDOW_TIME, &STRAIGHT_IN_LIMIT, &FLANK_PRESSURE], &decides),
    }
}
