//! What the throttle finds: the peak torque over the lash.

use crenel_words::{Value, story as say};

use super::even::{alike, with_rings};
use super::search::number;
use super::{Answer, Drag, Guess, Span, Story};
use crate::analysis::Analysis;
use crate::design::Design;
use crate::draw::views::FACE;
use crate::figures::{CLUNK, LASH, LASH_AT_TYRE, LASH_AT_WHEEL, some_figures};
use crate::units::{ABSENT, Quantity};

pub(super) static STORY: Story = Story {
    key: "throttle",
    title: say::throttle,
    told: say::throttle_told,
    drags: &[Drag {
        name: say::lash_at_dogs,
        quantity: Quantity::Angle,
        is_switch: false,
        handle: None,
        span: |base| {
            let max = most_deg(base);
            let start = lash_deg(base).unwrap_or(LEAST_DEG).clamp(LEAST_DEG, max);
            Span { min: LEAST_DEG, max, step: 0.1, start }
        },
    }],
    guess: Guess {
        name: say::more_torque,
        quantity: Quantity::Share,
        span: |_| Span { min: 0.0, max: 1.5, step: 0.05, start: 1.0 },
    },
    is_film: false,
    views: &[&FACE],
    shown: &[&LASH, &CLUNK, &LASH_AT_WHEEL, &LASH_AT_TYRE],
    asked: |_| say::throttle_asked(),
    design: |base, values| with_lash(base, values[0]),
    answer,
    decides: &CLUNK,
};

/// The least and the greatest lash that is dragged to, degrees.
const LEAST_DEG: f64 = 2.0;
const MOST_DEG: f64 = 60.0;

/// The narrowest dog that is drawn, degrees.
const NARROWEST_DEG: f64 = 6.0;

/// The dogs as found and evenly spaced, as wide as they are.
fn plain(base: &Design) -> Design {
    with_rings(base, |_| ())
}

fn lash_deg(base: &Design) -> Option<f64> {
    number(&LASH, &plain(base))
}

/// The lash to which dogs of these gears can be narrowed, degrees.
fn most_deg(base: &Design) -> f64 {
    let narrowest = alike(&base.a).tip_width_deg.min(alike(&base.b).tip_width_deg);
    let now = lash_deg(base).unwrap_or(LEAST_DEG);
    (now + 2.0 * (narrowest - NARROWEST_DEG).max(0.0)).clamp(LEAST_DEG, MOST_DEG).floor()
}

/// The dogs of both gears narrowed or widened until the lash is this.
fn with_lash(base: &Design, lash_deg: f64) -> Design {
    let Some(now) = self::lash_deg(base) else { return plain(base) };
    with_rings(base, |even| even.tip_width_deg += (now - lash_deg) / 2.0)
}

fn answer(base: &Design) -> Option<Answer> {
    let now = lash_deg(base)?;
    let peak = |lash| number(&CLUNK, &with_lash(base, lash));
    let (one, two) = (peak(now)?, peak(2.0 * now)?);
    let more = two / one - 1.0;
    let [lash, twice] = [now, 2.0 * now].map(|deg| Value::Result(Quantity::Angle, deg));
    let [first, second] = [one, two].map(|nm| Value::Result(Quantity::Torque, nm));
    let by = Value::Result(Quantity::Share, more);
    let row = |deg: f64| {
        let analysis = Analysis::of(&with_lash(base, deg));
        let figures = some_figures([&CLUNK, &LASH_AT_TYRE], &analysis);
        let shown = |figure: &'static crate::figures::Figure| {
            let value = figures.iter().find(|value| value.figure == figure);
            value.map_or(Value::Verbatim(ABSENT.to_owned()), |value| value.to_value())
        };
        vec![Value::Result(Quantity::Angle, deg), shown(&CLUNK), shown(&LASH_AT_TYRE)]
    };
    let decides = Analysis::of(&with_lash(base, 2.0 * now));
    Some(Answer {
        value: Some(more),
        says: vec![say::twice_lash(lash, first, twice, second, by), say::by_the_root()],
        heads: vec![say::head_lash, say::head_clunk, say::head_tyre],
        rows: [now / 2.0, now, 2.0 * now].map(row).to_vec(),
        figures: some_figures([&CLUNK, &LASH_AT_TYRE], &decides),
    })
}
