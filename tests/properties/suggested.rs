//! Cuts that are suggested, made as badly as a drawing allows.

use crenel::analysis::Analysis;
use crenel::design::{Design, Operation, ShiftFrom, Size, Tolerances, Work};
use crenel::fields::{FieldId, Slot};
use crenel::figures::figures;
use crenel::ring::{Dog, Side};
use crenel::shop::tolerance::Limits;
use crenel::suggest::{Goal, Search, Spare, suggestions, wanted};
use crenel::units::{DisplayUnits, LengthUnit, Quantity};
use crenel_words::{Message, Reader};
use proptest::prelude::*;
use proptest::sample::select;

use crate::designs::{design, sound_pair, within};

/// What a design has of a goal, as it stands under the drawing.
fn has(design: &Design, goal: Goal) -> Option<f64> {
    let key = match goal {
        Goal::Window => "window_time_ms",
        Goal::Lash => "lash_deg",
    };
    let figures = figures(&Analysis::of(design));
    figures.iter().find(|figure| figure.figure.key == key)?.value
}

/// Operations of a plan that another one does not have. One that is left for fewer dogs, since the
/// others are cut otherwise now, is none of them.
fn new_operations(plan: &[Operation], before: &[Operation]) -> Vec<usize> {
    let was = |one: &Operation| {
        let holds = |old: &Operation| old.work == one.work && one.places.is_subset(&old.places);
        before.iter().any(holds)
    };
    (0..plan.len()).filter(|at| !was(&plan[*at])).collect()
}

/// How much more metal a size may leave on a dog than is planned, and how much less, mm.
fn limits(design: &Design, side: Side, dog: &Dog, size: Size) -> Limits {
    let ring = design.ring(side).to_cut();
    let Tolerances { grade, .. } = &design.tolerances;
    let general = || match size {
        Size::Height => grade.linear_mm(dog.height_mm),
        Size::Width => grade.linear_mm(ring.thickness_mm(dog, 0.0)),
        Size::Edge => Some(grade.edge_by_hand_mm(dog.edge_break_mm)),
    };
    let own = |id| design.tolerances.planned(side, dog.place, id);
    let arc = |deg: f64| deg.to_radians() * ring.mean_radius_mm();
    let own = match size {
        Size::Height => own(FieldId::Height),
        Size::Width => own(FieldId::TipWidth)
            .map(|Limits { minus, plus }| Limits { minus: arc(minus), plus: arc(plus) }),
        Size::Edge => own(FieldId::EdgeBreak)
            .map(|Limits { minus, plus }| Limits { minus: plus, plus: minus }),
    };
    own.or_else(|| general().map(Limits::both)).expect("it holds over its tolerance")
}

/// The design with the sizes of its new operations off by this share of their tolerance, plus for more
/// metal, each in turn by its own.
fn made_badly(now: &Design, cut: &Design, shares: &mut impl Iterator<Item = f64>) -> Design {
    let mut bad = cut.clone();
    for side in Side::BOTH {
        let ring = cut.ring(side).to_cut();
        for at in new_operations(&cut.ring(side).plan.operations, &now.ring(side).plan.operations) {
            let share = shares.next().expect("as many as it takes");
            let operation = &mut bad.ring_mut(side).plan.operations[at];
            let Some(size) = operation.work.kind.size else {
                let kind = operation.work.kind;
                assert!(kind.number.is_none(), "{kind:?} is not suggested");
                continue;
            };
            // A number is made for all dogs of its operation, so the tightest of them counts.
            let dogs = ring.dogs.iter().filter(|dog| operation.is_on(dog.place));
            let each = dogs.map(|dog| limits(cut, side, dog, size));
            let tightest = |a: Limits, b: Limits| Limits {
                minus: a.minus.min(b.minus),
                plus: a.plus.min(b.plus),
            };
            let more_mm = each.reduce(tightest).unwrap_or_default().at(share);
            let Work { number, .. } = &mut operation.work;
            let within = |id: FieldId, mm: f64| mm.clamp(id.spec().min, id.spec().max);
            *number = match size {
                Size::Height => within(FieldId::ShortenTo, *number + more_mm),
                // A plan takes no more off than its input allows.
                Size::Width if *number > more_mm => within(FieldId::FlankStock, *number - more_mm),
                Size::Width => 0.0,
                Size::Edge => within(FieldId::BreakTo, *number - more_mm),
            };
        }
        // Where nothing comes off, there is no such work.
        let none =
            |one: &Operation| one.work.kind.size == Some(Size::Width) && one.work.number == 0.0;
        bad.ring_mut(side).plan.operations.retain(|one| !none(one));
    }
    bad
}

/// Every size of the new operations is what is shown, to the last digit.
fn hides_no_digit(now: &Design, cut: &Design, words: &[Message], units: DisplayUnits) {
    let reader = Reader { units, ..Reader::default() };
    let words: String = words.iter().map(|message| message.show(reader)).collect();
    for side in Side::BOTH {
        let plan = &cut.ring(side).plan.operations;
        for at in new_operations(plan, &now.ring(side).plan.operations) {
            let Some((_, mm)) = plan[at].work.number() else { continue };
            let shown = Quantity::Length.show_kept(mm, units);
            assert!(words.contains(&shown), "{words}: {mm}");
            // A step in mm is no whole number of steps in inches, but every step is one in mm.
            for units in [units, DisplayUnits::default()] {
                let shown = Quantity::Length.show_kept(mm, units);
                let read = Quantity::Length.parse(&shown, units).expect("it is a number");
                assert!((read - mm).abs() < 1e-9, "{shown}: {mm}");
            }
        }
    }
}

fn asked() -> impl Strategy<Value = (Design, Goal, DisplayUnits)> {
    let goal = select(vec![Goal::Window, Goal::Lash]);
    let length = select(vec![LengthUnit::Millimetre, LengthUnit::Inch]);
    (design(within), sound_pair(), goal, length, 1.01_f64..4.0, 0.3_f64..2.5).prop_map(
        |(mut design, [a, b], goal, length, more, hold)| {
            (design.a, design.b) = (a, b);
            design.setting.from = ShiftFrom::Typed;
            let tallest = design.a.to_cut().tallest_mm().min(design.b.to_cut().tallest_mm());
            design.set(Slot::Setting(FieldId::Overlap), (tallest * 0.9).clamp(0.2, 50.0));
            design.set(Slot::Setting(FieldId::HoldDepth), hold);
            let field = goal.field().id().spec();
            let wished = has(&design, goal).unwrap_or(field.default) * more;
            design.set(Slot::Setting(goal.field().id()), wished.clamp(field.min, field.max));
            (design, goal, DisplayUnits { length, ..DisplayUnits::default() })
        },
    )
}

proptest! {
    #![proptest_config(crate::cases(150))]

    #[test]
    fn a_suggested_cut_holds_over_its_tolerance(
        (design, goal, units) in asked(),
        shares in proptest::collection::vec(-1.0_f64..=1.0, 32),
    ) {
        let now = Analysis::of(&design);
        let wanted = wanted(&design, goal);
        for one in suggestions(&now, &Search::new(goal, units)) {
            hides_no_digit(&design, &one.design, &one.words, units);
            let reached = has(&one.design, goal).is_some_and(|has| has >= wanted);
            prop_assert_eq!(reached, one.reached, "{:?}", one.words);
            if one.spare != Spare::Holds {
                continue;
            }
            let all_bad = made_badly(&design, &one.design, &mut std::iter::repeat(1.0));
            let mixed = made_badly(&design, &one.design, &mut shares.iter().copied());
            // Lash is that of the window that holds the phase as drawn, and metal that one dog lacks may
            // leave the phase to a narrower neighbour: it is held to sizes that are all off the bad way.
            let tried = if goal == Goal::Lash { vec![all_bad] } else { vec![all_bad, mixed] };
            for bad in tried {
                let has = has(&bad, goal);
                prop_assert!(has.is_some_and(|has| has >= wanted), "{:?}: {has:?} of {wanted}", one.words);
            }
        }
    }
}
