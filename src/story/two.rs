//! It takes two: cutting one gear alone opens nothing.

use crenel_words::{Value, story as say};

use super::even::{count_of, with_cuts};
use super::{Answer, Drag, Guess, Span, Story};
use crate::analysis::Analysis;
use crate::design::{Design, SettingField};
use crate::draw::views::FACE;
use crate::figures::{ENTRY_WINDOWS, FREE_ANGLE, LASH, WINDOW_TIME, some_figures};
use crate::model::LaidOut;
use crate::pair::{Edges, extremes};
use crate::ring::Side;
use crate::units::{ABSENT, Quantity};

pub(super) static STORY: Story = Story {
    key: "two",
    title: say::two,
    told: say::two_told,
    drags: &[Drag {
        name: say::dogs_cut,
        quantity: Quantity::Count,
        is_switch: false,
        handle: None,
        span: |base| Span { min: 0.0, max: count_of(cuts(base).len()), step: 1.0, start: 0.0 },
    }],
    guess: Guess {
        name: say::wider_by,
        quantity: Quantity::Angle,
        span: |base| {
            let pitch = 360.0 / count_of(base.a.places().max(1));
            Span { min: 0.0, max: pitch, step: 1.0, start: (pitch / 2.0).round() }
        },
    },
    is_film: false,
    views: &[&FACE],
    shown: &[&FREE_ANGLE, &ENTRY_WINDOWS, &WINDOW_TIME, &LASH],
    asked: |base| {
        let [cut, dogs] = [half(base.a.places()), base.a.places()].map(how_many);
        say::two_asked(cut, dogs)
    },
    design: |base, values| with_first(base, values[0]),
    answer,
    decides: &FREE_ANGLE,
};

/// The most ways to choose dogs of the mate that are tried.
const MOST_WAYS: usize = 1000;

/// Angles that differ by less are the same, rad.
const SAME: f64 = 1e-9;

const fn half(dogs: usize) -> usize {
    dogs / 2
}

fn how_many(n: usize) -> Value {
    Value::Number(Quantity::Count, count_of(n))
}

/// The cuts in their order: every second dog of A from the first, then every second of B from the second.
fn cuts(base: &Design) -> Vec<(Side, usize)> {
    let [a, b] = Side::BOTH.map(|side| base.ring(side).places());
    let of_a = (0..half(a)).map(|nth| (Side::A, 2 * nth));
    of_a.chain((0..half(b)).map(|nth| (Side::B, 2 * nth + 1))).collect()
}

/// The design after the first so many cuts.
fn with_first(base: &Design, done: f64) -> Design {
    let all = cuts(base).into_iter().zip(1_u32..);
    let done: Vec<_> =
        all.filter(|(_, nth)| f64::from(*nth) <= done + 0.5).map(|(cut, _)| cut).collect();
    with_cuts(base, |side| {
        done.iter().filter(|(of, _)| *of == side).map(|(_, place)| *place).collect()
    })
}

/// The widest window between all dogs that are met before the holding depth, rad.
fn slot(design: &Design) -> Option<f64> {
    let laid = LaidOut::of(design);
    let (mesh, _) = laid.engaged()?;
    let hold = design.setting.get(SettingField::HoldDepth);
    let open = mesh.windows_down_to(hold, Edges::Sharp);
    Some(extremes(&open).map_or(0.0, |(_, widest)| widest.radians()))
}

fn angle(rad: f64) -> Value {
    Value::Result(Quantity::Angle, rad.to_degrees())
}

fn answer(base: &Design) -> Option<Answer> {
    let all = cuts(base);
    let of_a = half(base.a.places());
    let after = |done: usize| slot(&with_first(base, count_of(done)));
    let steps: Vec<Option<f64>> = (0..=all.len()).map(after).collect();
    let (before, alone, last) = (steps[0]?, steps[of_a]?, (*steps.last()?)?);
    let wider = alone - before;
    let first = if wider.abs() < SAME {
        say::nothing_until_mate(angle(before), angle(last))
    } else {
        say::wider_alone(angle(before), angle(alone), angle(last))
    };
    let chosen = ways(base.b.places(), half(base.b.places()));
    let choices = (chosen.len() <= MOST_WAYS && last > before + SAME).then(|| {
        let opens = |mate: &&Vec<usize>| {
            let design = with_cuts(base, |side| match side {
                Side::A => (0..of_a).map(|nth| 2 * nth).collect(),
                Side::B => (*mate).clone(),
            });
            slot(&design).is_some_and(|slot| slot > before + SAME)
        };
        let open = chosen.iter().filter(opens).count();
        let cut = half(base.b.places());
        say::choices(how_many(chosen.len()), how_many(cut), how_many(open))
    });
    let names = all.iter().map(|(side, place)| format!("{}{}", side.letter(), place + 1));
    let names = [say::none_cut().into()].into_iter().chain(names.map(Value::Verbatim));
    let shown = |slot: &Option<f64>| slot.map_or(Value::Verbatim(ABSENT.to_owned()), angle);
    let decides = Analysis::of(&with_first(base, count_of(of_a)));
    Some(Answer {
        value: Some(wider.to_degrees()),
        says: [first].into_iter().chain(choices).collect(),
        heads: vec![say::head_cut, say::head_window],
        rows: names.zip(&steps).map(|(name, slot)| vec![name, shown(slot)]).collect(),
        figures: some_figures([&FREE_ANGLE, &ENTRY_WINDOWS], &decides),
    })
}

/// All ways to choose some of so many places. Stops once there are more than are tried.
fn ways(places: usize, chosen: usize) -> Vec<Vec<usize>> {
    let mut ways = vec![Vec::new()];
    for nth in 0..chosen {
        let longer = |way: &Vec<usize>| {
            let from = way.last().map_or(0, |last| last + 1);
            let room = places - (chosen - nth - 1);
            let way = way.clone();
            (from..room).map(move |place| [way.clone(), vec![place]].concat())
        };
        ways = ways.iter().flat_map(longer).take(MOST_WAYS + 1).collect();
    }
    ways
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_ways_to_choose_are_counted_once() {
        assert_eq!(ways(6, 3).len(), 20);
        assert_eq!(ways(4, 2), [[0, 1], [0, 2], [0, 3], [1, 2], [1, 3], [2, 3]]);
        assert_eq!(ways(96, 48).len(), MOST_WAYS + 1);
        assert_eq!(ways(1, 0), [Vec::new()] as [Vec<usize>; 1]);
    }
}
