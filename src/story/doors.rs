//! Fewer doors, wider doors: how many dogs still go straight in.

use crenel_words::{Message, Value, story as say};

use super::even::with_rings;
use super::{Answer, Drag, Guess, Span, Story};
use crate::analysis::Analysis;
use crate::design::{Design, Need};
use crate::draw::views::FACE;
use crate::figures::{FREE_ANGLE, STRAIGHT_IN_LIMIT, TRAVEL_TIME, WINDOW_TIME, some_figures};
use crate::model::ShiftCase;
use crate::units::{ABSENT, Quantity};

pub(super) static STORY: Story = Story {
    key: "doors",
    title: say::doors,
    told: say::doors_told,
    drags: &[Drag {
        name: say::number_of_dogs,
        quantity: Quantity::Count,
        is_switch: false,
        handle: None,
        span: |_| COUNTS,
    }],
    guess: Guess { name: say::number_of_dogs, quantity: Quantity::Count, span: |_| COUNTS },
    is_film: false,
    views: &[&FACE],
    shown: &[&FREE_ANGLE, &WINDOW_TIME, &TRAVEL_TIME, &STRAIGHT_IN_LIMIT],
    asked: |base| say::doors_asked(slip(base)),
    design: |base, values| with_dogs(base, values[0]),
    answer,
    decides: &STRAIGHT_IN_LIMIT,
};

const COUNTS: Span = Span { min: 2.0, max: 12.0, step: 1.0, start: 6.0 };

fn with_dogs(base: &Design, count: f64) -> Design {
    with_rings(base, |even| even.count = count.round())
}

/// How far the gears are apart in the shift of the design.
fn slip(base: &Design) -> Value {
    Value::Result(Quantity::Speed, ShiftCase::of(base).slip_rpm.abs())
}

fn answer(base: &Design) -> Option<Answer> {
    if base.missing(Need::Speed).is_some() {
        return None;
    }
    let asked = ShiftCase::of(base).slip_rpm.abs();
    let tried: Vec<_> = (2..=12).map(|count: u32| tried(base, f64::from(count))).collect();
    let most = tried.iter().rev().find(|tried| tried.limit_rpm.is_some_and(|rpm| rpm >= asked));
    let count = |count| Value::Number(Quantity::Count, count);
    let says = match most {
        None => vec![say::no_number(slip(base))],
        Some(most) => {
            let more = tried.iter().find(|tried| tried.count > most.count);
            let more = more.map(|more| match more.limit_rpm {
                Some(rpm) => say::one_more(count(more.count), Value::Result(Quantity::Speed, rpm)),
                None => say::one_more_shut(count(more.count)),
            });
            let limit = Value::Result(Quantity::Speed, most.limit_rpm.unwrap_or_default());
            let told: Message = say::most_dogs(count(most.count), limit, slip(base));
            [told].into_iter().chain(more).collect()
        }
    };
    let decides = Analysis::of(&with_dogs(base, most.map_or(COUNTS.min, |most| most.count)));
    Some(Answer {
        value: most.map(|most| most.count),
        says,
        heads: vec![say::number_of_dogs, say::head_window_time, say::head_limit],
        rows: tried.iter().map(Tried::row).collect(),
        figures: some_figures([&STRAIGHT_IN_LIMIT, &TRAVEL_TIME], &decides),
    })
}

/// One number of dogs that was tried.
struct Tried {
    count: f64,
    window_ms: Option<f64>,
    limit_rpm: Option<f64>,
}

fn tried(base: &Design, count: f64) -> Tried {
    let figures =
        some_figures([&WINDOW_TIME, &STRAIGHT_IN_LIMIT], &Analysis::of(&with_dogs(base, count)));
    let number = |at: usize| figures.get(at).and_then(|figure| figure.value);
    Tried { count, window_ms: number(0), limit_rpm: number(1) }
}

impl Tried {
    fn row(&self) -> Vec<Value> {
        let shown = |quantity, value: Option<f64>| {
            value.map_or(Value::Verbatim(ABSENT.to_owned()), |v| Value::Result(quantity, v))
        };
        vec![
            Value::Number(Quantity::Count, self.count),
            shown(Quantity::Time, self.window_ms),
            shown(Quantity::Speed, self.limit_rpm),
        ]
    }
}
