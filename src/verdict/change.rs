//! What the last change did.

use crenel_words::{Message, Value, verdict as say};

use super::said::result;
use crate::analysis::Analysis;
use crate::compare::Verdict as Way;
use crate::design::Design;
use crate::fields::Slot;
use crate::figures::{Figure, limited, numbers};
use crate::ring::Side;
use crate::units::sort_by_number;

/// The line on the last change.
#[derive(Clone, Debug, PartialEq)]
pub struct ChangeLine {
    /// What was changed, from which number to which; or how many numbers were, or that a choice was.
    pub what: Message,
    /// The figure that moved most in its own limit’s share; `None` if none with a limit moved.
    pub moved: Option<Moved>,
    /// The limits that were crossed, those that are exceeded now first.
    pub crossed: Vec<Crossed>,
}

/// A figure before and after a change.
#[derive(Clone, Debug, PartialEq)]
pub struct Moved {
    /// Which figure.
    pub figure: &'static Figure,
    /// Its name with both numbers.
    pub words: Message,
    /// Whether it became better or worse.
    pub way: Way,
}

/// A limit that a change crossed.
#[derive(Clone, Debug, PartialEq)]
pub struct Crossed {
    /// The figure with that limit.
    pub figure: &'static Figure,
    /// Whether it is past its limit now; else it is within it again.
    pub past: bool,
    /// Both in words.
    pub words: Message,
}

/// What a change did; `None` if it changed neither a number nor a choice of the design.
pub fn change(before: &Analysis, after: &Analysis) -> Option<ChangeLine> {
    let what = what(&before.design, &after.design)?;
    let (was, is) = (numbers(limited(), before), numbers(limited(), after));
    let steps = is.into_iter().filter_map(|(figure, is)| {
        let (_, was) = was.iter().find(|(own, _)| *own == figure)?;
        Step::of(figure, (before, *was), (after, is))
    });
    let steps: Vec<_> = steps.collect();
    let moved = steps.iter().filter(|step| step.by() != 0.0);
    let most = moved.max_by(|a, b| a.by().abs().total_cmp(&b.by().abs()));
    let mut crossed: Vec<_> = steps.iter().filter_map(Step::crossed).collect();
    sort_by_number(&mut crossed, |crossed| if crossed.past { 0.0 } else { 1.0 });
    Some(ChangeLine { what, moved: most.map(Step::moved), crossed })
}

/// What differs: one number by its name, several by their count, or readings, a plan or a choice.
fn what(before: &Design, after: &Design) -> Option<Message> {
    let mut slots = after.slots();
    slots.extend(before.slots().into_iter().filter(|slot| after.get(*slot).is_none()));
    let changed: Vec<Slot> =
        slots.into_iter().filter(|slot| before.get(*slot) != after.get(*slot)).collect();
    match changed.as_slice() {
        // The sizes of dogs follow their readings, so those that changed with them are not counted.
        _ if has_other_readings(before, after) => Some(say::readings_changed()),
        [] if is_planned_otherwise(before, after) => Some(say::plan_changed()),
        [] => has_other_choices(before, after).then(say::choice_changed),
        [slot] => {
            let quantity = slot.field().spec().quantity;
            let shown = |design: &Design| Some(Value::Number(quantity, design.get(*slot)?));
            Some(match (shown(before), shown(after)) {
                (Some(from), Some(to)) => say::slot_changed(slot.words(), from, to),
                (None, Some(to)) => say::slot_added(slot.words(), to),
                (_, None) => say::slot_removed(slot.words()),
            })
        }
        several => Some(say::sizes_changed(several.len())),
    }
}

/// Whether the work on a ring differs.
fn is_planned_otherwise(before: &Design, after: &Design) -> bool {
    Side::BOTH.into_iter().any(|side| before.ring(side).plan != after.ring(side).plan)
}

/// Whether the gauge readings of a ring differ.
fn has_other_readings(before: &Design, after: &Design) -> bool {
    Side::BOTH.into_iter().any(|side| before.ring(side).readings != after.ring(side).readings)
}

/// Whether two designs with the same numbers differ in more than their texts.
fn has_other_choices(before: &Design, after: &Design) -> bool {
    let Design { title, initials, notes, given, .. } = after.clone();
    Design { title, initials, notes, given, ..before.clone() } != *after
}

/// A figure with a limit before and after.
struct Step {
    figure: &'static Figure,
    numbers: [f64; 2],
    used: [f64; 2],
    past: [bool; 2],
}

impl Step {
    fn of(
        figure: &'static Figure,
        (before, was): (&Analysis, f64),
        (after, is): (&Analysis, f64),
    ) -> Option<Self> {
        let (from, to) = (figure.gauge(was, before)?, figure.gauge(is, after)?);
        Some(Self {
            figure,
            numbers: [was, is],
            used: [from.used(), to.used()],
            past: [from.is_past(), to.is_past()],
        })
    }

    /// By which share of its limit it moved; plus is towards it.
    fn by(&self) -> f64 {
        let [from, to] = self.used;
        let by = to - from;
        if by.abs() > 1e-9 { by } else { 0.0 }
    }

    fn moved(&self) -> Moved {
        let [before, after] = self.numbers.map(|value| result(self.figure.quantity, value));
        let way = if self.by() < 0.0 { Way::Better } else { Way::Worse };
        let words = say::figure_moved(self.figure.name(), before, after);
        Moved { figure: self.figure, words, way }
    }

    fn crossed(&self) -> Option<Crossed> {
        let [was, past] = self.past;
        let words = say::crossed(self.figure.name(), if past { "past" } else { "within" });
        (was != past).then_some(Crossed { figure: self.figure, past, words })
    }
}
