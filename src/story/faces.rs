//! Face to face: how shifts end that begin anywhere.

use crenel_words::{Value, story as say};

use super::{Answer, Drag, Guess, Span, Story};
use crate::analysis::Analysis;
use crate::design::{Design, SettingField};
use crate::draw::views::{OUTCOME, UNROLLED};
use crate::fields::FieldId;
use crate::figures::{HANGS, SHIFT_ENDING, SHIFT_TIME, some_figures};
use crate::model::{ShiftCase, drawn_shares};
use crate::shift::Outcome;
use crate::units::Quantity;

pub(super) static STORY: Story = Story {
    key: "faces",
    title: say::faces,
    told: say::faces_told,
    drags: &[
        Drag {
            name: say::start_phase,
            quantity: Quantity::Angle,
            is_switch: false,
            handle: Some(FieldId::Phase),
            span: |_| Span { min: 0.0, max: 360.0, step: 0.5, start: 30.0 },
        },
        Drag {
            name: say::speed_apart,
            quantity: Quantity::Speed,
            is_switch: false,
            handle: Some(FieldId::SlipSpeed),
            span: |_| Span { min: 10.0, max: MAP_TOP_RPM, step: 10.0, start: ASKED_RPM },
        },
    ],
    guess: Guess {
        name: say::end_in,
        quantity: Quantity::Share,
        span: |_| Span { min: 0.0, max: 1.0, step: 0.01, start: 0.5 },
    },
    is_film: true,
    views: &[&UNROLLED, &OUTCOME],
    shown: &[&SHIFT_ENDING, &SHIFT_TIME],
    asked: |_| say::faces_asked(Value::Number(Quantity::Speed, ASKED_RPM)),
    design: |base, values| meeting(base, values[0], values[1]),
    answer,
    decides: &HANGS,
};

/// The speed difference that is asked about, rpm.
const ASKED_RPM: f64 = 100.0;

/// The greatest speed difference that is dragged to, rpm.
const MAP_TOP_RPM: f64 = 500.0;

/// The shift of the design from a phase at a speed difference: what has to change speed stays as it is.
fn meeting(base: &Design, phase_deg: f64, slip_rpm: f64) -> Design {
    let mut design = ShiftCase::typed(base);
    let setting = &mut design.setting;
    let sign = setting.get(SettingField::SlipSpeed).signum();
    setting.set(SettingField::SlipSpeed, slip_rpm * sign);
    setting.set(SettingField::Phase, phase_deg);
    design
}

fn answer(base: &Design) -> Option<Answer> {
    let given = meeting(base, 0.0, ASKED_RPM);
    let mut lapped = given.clone();
    lapped.setting.set(SettingField::TipFriction, base.setting.get(SettingField::LappedFriction));
    let shares = |design: &Design| drawn_shares(&Analysis::of(design));
    let (now, after) = (shares(&given)?, shares(&lapped)?);
    let share = |share: f64| Value::Result(Quantity::Share, share);
    let hang = |ends: &[f64; 6]| share(of(ends, Outcome::Locked));
    let friction = |design: &Design| Value::Number(Quantity::Ratio, design.tip_friction());
    let says = vec![
        say::shares_in(share(now.ends_in()), hang(&now.ends)),
        say::shares_lapped(
            friction(&given),
            friction(&lapped),
            share(after.ends_in()),
            hang(&after.ends),
        ),
    ];
    let row = |outcome: Outcome| {
        vec![
            say::ends(outcome).into(),
            share(of(&now.ends, outcome)),
            share(of(&after.ends, outcome)),
        ]
    };
    Some(Answer {
        value: Some(now.ends_in()),
        says,
        heads: vec![say::head_ending, say::head_as_given, say::head_lapped],
        rows: Outcome::ALL.map(row).to_vec(),
        figures: some_figures([&HANGS], &Analysis::of(&given)),
    })
}

/// The share of an outcome.
fn of(ends: &[f64; 6], outcome: Outcome) -> f64 {
    Outcome::ALL
        .into_iter()
        .zip(ends)
        .find(|(of, _)| *of == outcome)
        .map_or(0.0, |(_, share)| *share)
}
