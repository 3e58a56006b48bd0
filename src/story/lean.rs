//! A lean that pulls: from which flank angle the gears draw themselves in.

use crenel_words::{Value, story as say};

use super::even::with_rings;
use super::search::{begins, number};
use super::{Answer, Drag, Guess, Span, Story};
use crate::analysis::Analysis;
use crate::design::{Design, SettingField};
use crate::draw::views::UNROLLED;
use crate::figures::{HOLDING_FORCE, PULL_IN, PULL_OUT, ROOT_COMBINED, some_figures};
use crate::units::{ABSENT, Quantity};

pub(super) static STORY: Story = Story {
    key: "lean",
    title: say::lean,
    told: say::lean_told,
    drags: &[
        Drag {
            name: say::flank_angle,
            quantity: Quantity::Angle,
            is_switch: false,
            handle: None,
            span: |_| Span { min: -4.0, max: MOST_DEG, step: 0.1, start: 3.0 },
        },
        Drag {
            name: say::flank_friction,
            quantity: Quantity::Count,
            is_switch: true,
            handle: None,
            span: |_| ON,
        },
        Drag {
            name: say::spline_friction,
            quantity: Quantity::Count,
            is_switch: true,
            handle: None,
            span: |_| ON,
        },
    ],
    guess: Guess {
        name: say::flank_angle,
        quantity: Quantity::Angle,
        span: |_| Span { min: 0.0, max: MOST_DEG, step: 0.5, start: 5.0 },
    },
    is_film: false,
    views: &[&UNROLLED],
    shown: &[&HOLDING_FORCE, &PULL_IN, &PULL_OUT, &ROOT_COMBINED],
    asked: |_| say::lean_asked(),
    design: |base, values| leaning(base, values[0], [values[1] > 0.5, values[2] > 0.5]),
    answer,
    decides: &PULL_IN,
};

const MOST_DEG: f64 = 18.0;

const ON: Span = Span { min: 0.0, max: 1.0, step: 1.0, start: 1.0 };

/// Drive flanks of both gears at an angle, with the frictions of flanks and splines that count.
fn leaning(base: &Design, angle_deg: f64, [flanks, splines]: [bool; 2]) -> Design {
    let mut design = with_rings(base, |even| even.back_cut_drive_deg = angle_deg);
    let off = [(SettingField::FlankFriction, flanks), (SettingField::SplineFriction, splines)];
    for (field, _) in off.into_iter().filter(|(_, counts)| !counts) {
        design.setting.set(field, 0.0);
    }
    design
}

/// The least angle at which any force draws the gears in, degrees.
fn from_deg(base: &Design, counts: [bool; 2]) -> Option<f64> {
    let draws =
        |deg: f64| number(&PULL_IN, &leaning(base, deg, counts)).is_some_and(|force| force > 0.0);
    begins(0.0, MOST_DEG, draws)
}

fn answer(base: &Design) -> Option<Answer> {
    // Whether the force is known at all.
    number(&PULL_IN, &leaning(base, 0.0, [true; 2]))?;
    let cases = [
        (say::no_friction(), [false, false]),
        (say::flanks_alone(), [true, false]),
        (say::flanks_and_splines(), [true, true]),
    ]
    .map(|(name, counts)| (name, counts, from_deg(base, counts)));
    let value = cases[2].2;
    let given =
        |field: SettingField| Value::Number(field.id().spec().quantity, base.setting.get(field));
    let angle = |deg: f64| Value::Result(Quantity::Angle, deg);
    let first = match value {
        Some(deg) => say::draws_in_from(
            angle(deg),
            given(SettingField::FlankFriction),
            given(SettingField::SplineFriction),
            given(SettingField::SplineDiameter),
        ),
        None => say::never_draws_in(angle(MOST_DEG)),
    };
    let less = cases[0].2.zip(cases[1].2);
    let less = less.map(|(none, flank)| say::draws_in_less(angle(none), angle(flank)));
    let absent = || Value::Verbatim(ABSENT.to_owned());
    let row = |(name, _, deg): &(crenel_words::Message, [bool; 2], Option<f64>)| {
        // What it costs is told with all friction, as it is in the gearbox.
        let there = deg.map(|deg| Analysis::of(&leaning(base, deg, [true; 2])));
        let figures = there.map(|there| some_figures([&ROOT_COMBINED, &PULL_OUT], &there));
        let shown = |at: usize| {
            figures.as_ref().and_then(|all| all.get(at)).map_or_else(absent, |f| f.to_value())
        };
        vec![name.clone().into(), deg.map_or_else(absent, angle), shown(0), shown(1)]
    };
    let decides = Analysis::of(&leaning(base, value.unwrap_or(MOST_DEG), [true; 2]));
    Some(Answer {
        value,
        says: [first].into_iter().chain(less).collect(),
        heads: vec![say::head_friction, say::head_draws_in, say::head_root, say::head_out],
        rows: cases.iter().map(row).collect(),
        figures: some_figures([&PULL_IN, &HOLDING_FORCE, &PULL_OUT], &decides),
    })
}
