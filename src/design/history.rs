//! Undo and redo: one gesture, one step.

use serde_json::{Value, json};

use super::Draft;
use super::delta::Delta;

/// The largest size of all steps back, bytes. A changed number takes some twenty bytes, another design on the
/// board one or two thousand. The store that a browser keeps for a tab holds millions.
const ROOM: usize = 500_000;

/// A draft with its past and future.
///
/// A drag previews many values and is committed once, so that it is undone in one step. A drag that is
/// cancelled leaves no trace. A new history holds whole drafts; once [`keep_as_text`](Self::keep_as_text) was called,
/// past and future are differences of the saved form. When these become too large, the oldest step is dropped.
///
/// ```
/// use crenel::design::{Design, Draft, History};
/// let titled = |title: &str| Draft::new(Design { title: title.to_owned(), ..Design::default() });
/// let mut history = History::new(titled("one"));
/// history.preview(titled("two"));
/// history.preview(titled("three"));
/// history.commit();
/// assert!(history.undo());
/// assert_eq!(*history.now(), titled("one"));
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct History {
    past: Vec<Step>,
    settled: Draft,
    /// The saved form of the settled draft. With it all steps are differences, without it none is.
    text: Option<Text>,
    preview: Option<Draft>,
    future: Vec<Step>,
    forgot: bool,
}

/// Where a step leads.
#[derive(Clone, Debug, PartialEq)]
enum Step {
    To(Box<Draft>),
    /// To the draft whose saved form differs so.
    By(Delta),
}

impl Step {
    const fn bytes(&self) -> usize {
        match self {
            Self::To(_) => 0,
            Self::By(delta) => delta.bytes(),
        }
    }
}

/// A saved form, and how one is written and read. That is held here and nowhere called by its name, so that an app that
/// keeps no text needs no code for it.
#[derive(Clone, Debug)]
struct Text {
    now: String,
    write: fn(&Draft) -> String,
    read: fn(&str) -> Option<Draft>,
}

impl Text {
    fn of(now: String) -> Self {
        Self { now, write, read }
    }
}

impl PartialEq for Text {
    fn eq(&self, other: &Self) -> bool {
        self.now == other.now
    }
}

fn write(draft: &Draft) -> String {
    draft.save().to_string()
}

fn read(text: &str) -> Option<Draft> {
    Draft::open(serde_json::from_str(text).ok()?)
}

impl History {
    /// A history that starts with this draft.
    pub const fn new(draft: Draft) -> Self {
        Self {
            past: Vec::new(),
            settled: draft,
            text: None,
            preview: None,
            future: Vec::new(),
            forgot: false,
        }
    }

    /// Keeps past and future as differences of the saved form from now on: thousands of steps then take little room.
    pub fn keep_as_text(&mut self) {
        if self.text.is_some() {
            return;
        }
        let now = write(&self.settled);
        for steps in [&mut self.past, &mut self.future] {
            let mut from = now.clone();
            for step in steps.iter_mut().rev() {
                if let Step::To(draft) = step {
                    let there = write(draft);
                    *step = Step::By(Delta::between(&from, &there));
                    from = there;
                }
            }
        }
        self.text = Some(Text::of(now));
        self.make_room();
    }

    /// The present draft, previews included.
    pub fn now(&self) -> &Draft {
        self.preview.as_ref().unwrap_or(&self.settled)
    }

    /// The draft without a gesture in progress.
    pub const fn settled(&self) -> &Draft {
        &self.settled
    }

    /// Whether a gesture is in progress.
    pub const fn in_gesture(&self) -> bool {
        self.preview.is_some()
    }

    /// Shows a draft during a gesture.
    pub fn preview(&mut self, draft: Draft) {
        self.preview = Some(draft);
    }

    /// Ends the gesture and keeps its draft as one step.
    pub fn commit(&mut self) {
        if let Some(draft) = self.preview.take() {
            self.apply(draft);
        }
    }

    /// Cancels the gesture. Returns whether there was one.
    pub fn cancel(&mut self) -> bool {
        self.preview.take().is_some()
    }

    /// Makes a change in one step. An unchanged draft makes no step.
    pub fn apply(&mut self, draft: Draft) {
        self.preview = None;
        if draft == self.settled {
            return;
        }
        let text = self.text.as_ref().map(|text| (text.write)(&draft));
        let back = self.settle(draft, text);
        self.past.push(back);
        self.future.clear();
        self.make_room();
    }

    /// Makes a draft with this saved form the settled one; gives the step back.
    fn settle(&mut self, draft: Draft, saved: Option<String>) -> Step {
        let before = std::mem::replace(&mut self.settled, draft);
        match (&mut self.text, saved) {
            (Some(text), Some(saved)) => {
                let back = Delta::between(&saved, &text.now);
                text.now = saved;
                Step::By(back)
            }
            _ => Step::To(Box::new(before)),
        }
    }

    /// Puts another draft in place of the settled one without a step of its own: undo goes from it to where it would
    /// have gone, and redo too. Used where the reader looks at another part of the same work.
    pub fn amend(&mut self, draft: Draft) {
        self.preview = None;
        if let Some(text) = &mut self.text {
            let now = (text.write)(&draft);
            for steps in [&mut self.past, &mut self.future] {
                let Some(step) = steps.pop() else { continue };
                // A step that cannot be read goes, as it would when it is its turn.
                steps.extend(match step {
                    Step::By(step) => {
                        step.apply(&text.now).map(|there| Step::By(Delta::between(&now, &there)))
                    }
                    Step::To(_) => Some(step),
                });
            }
            text.now = now;
        }
        self.settled = draft;
    }

    /// Drops the oldest steps until the rest fits. The latest step is always kept, whatever its size.
    fn make_room(&mut self) {
        let mut left: usize = self.past.iter().map(Step::bytes).sum();
        let goes = |step: &&Step| {
            let goes = left > ROOM;
            left -= step.bytes();
            goes
        };
        let count = self.past.iter().take_while(goes).count();
        let count = count.min(self.past.len().saturating_sub(1));
        self.past.drain(..count);
        self.forgot |= count > 0;
    }

    /// Whether the oldest steps were dropped.
    pub const fn forgot(&self) -> bool {
        self.forgot
    }

    /// Goes one step back. Returns whether there was one.
    pub fn undo(&mut self) -> bool {
        self.preview = None;
        let turned = self.past.pop().and_then(|step| self.turn(step));
        let Some(forward) = turned else {
            // If one step cannot be read, the steps before it cannot be read either.
            self.past.clear();
            return false;
        };
        self.future.push(forward);
        true
    }

    /// Goes one step forward again. Returns whether there was one.
    pub fn redo(&mut self) -> bool {
        self.preview = None;
        let turned = self.future.pop().and_then(|step| self.turn(step));
        let Some(back) = turned else {
            self.future.clear();
            return false;
        };
        self.past.push(back);
        true
    }

    /// Goes where a step leads, and returns the step that leads back.
    fn turn(&mut self, step: Step) -> Option<Step> {
        match step {
            // Without a text, or it would be a difference.
            Step::To(draft) => Some(self.settle(*draft, None)),
            Step::By(step) => {
                let text = self.text.as_ref()?;
                let there = step.apply(&text.now)?;
                let draft = (text.read)(&there)?;
                Some(self.settle(draft, Some(there)))
            }
        }
    }

    /// Whether a step back is possible.
    pub const fn can_undo(&self) -> bool {
        !self.past.is_empty()
    }

    /// Whether a step forward is possible.
    pub const fn can_redo(&self) -> bool {
        !self.future.is_empty()
    }

    /// A text with the settled draft, its past and its future.
    pub fn save(&self) -> String {
        let Some(text) = &self.text else {
            let mut kept = self.clone();
            kept.keep_as_text();
            return kept.save();
        };
        let step = |step: &Step| match step {
            Step::By(delta) => delta.save(),
            Step::To(_) => unreachable!("a history with a text has differences of it alone"),
        };
        let steps = |steps: &[Step]| steps.iter().map(step).collect::<Value>();
        let (past, future) = (steps(&self.past), steps(&self.future));
        json!({ "now": text.now, "past": past, "future": future, "forgot": self.forgot })
            .to_string()
    }

    /// Opens such a text. `None` if it is not a history: a store can contain anything.
    pub fn open(text: &str) -> Option<Self> {
        let saved: Value = serde_json::from_str(text).ok()?;
        let step = |saved| Delta::open(saved).map(Step::By);
        let steps =
            |key: &str| saved.get(key)?.as_array()?.iter().map(step).collect::<Option<Vec<_>>>();
        let text = saved.get("now")?.as_str()?.to_owned();
        let (past, settled, future) = (steps("past")?, read(&text)?, steps("future")?);
        let forgot = saved["forgot"] == true;
        Some(Self { past, settled, text: Some(Text::of(text)), preview: None, future, forgot })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::{Design, TEXT_LIMITS, example};

    fn noted(notes: &str) -> Draft {
        Draft::new(Design { notes: notes.to_owned(), ..example() })
    }

    /// A history that keeps text, and starts with a draft.
    fn kept(draft: Draft) -> History {
        let mut history = History::new(draft);
        history.keep_as_text();
        history
    }

    /// A history with the notes 1 to `last`.
    fn counted(last: usize) -> History {
        let mut history = kept(noted("1"));
        (2..=last).for_each(|at| history.apply(noted(&at.to_string())));
        history
    }

    #[test]
    fn a_gesture_given_up_leaves_no_trace() {
        let mut history = counted(1);
        history.preview(noted("5"));
        assert_eq!(*history.now(), noted("5"));
        assert!(history.cancel());
        assert_eq!(*history.now(), noted("1"));
        assert!(!history.can_undo() && !history.cancel());
    }

    #[test]
    fn a_new_step_drops_the_future_and_an_idle_one_does_not() {
        let mut history = counted(3);
        assert!(history.undo());
        history.apply(noted("2"));
        assert!(history.can_redo(), "nothing changed, so the future stands");
        history.apply(noted("9"));
        assert!(!history.can_redo());
        assert!(history.undo() && history.undo() && !history.undo());
        assert_eq!(*history.now(), noted("1"));
    }

    #[test]
    fn looking_elsewhere_is_no_step_and_keeps_past_and_future() {
        let mut history = counted(4);
        assert!(history.undo());
        history.amend(noted("elsewhere"));
        assert_eq!(*history.now(), noted("elsewhere"));
        let mut back = history.clone();
        assert!(back.undo());
        assert_eq!(*back.now(), noted("2"));
        assert!(back.redo());
        assert_eq!(*back.now(), noted("elsewhere"));
        assert!(history.redo());
        assert_eq!(*history.now(), noted("4"));
        let mut alone = counted(1);
        alone.amend(noted("2"));
        assert!(!alone.can_undo() && !alone.can_redo());
        assert_eq!(History::open(&alone.save()).as_ref(), Some(&alone));
    }

    #[test]
    fn whole_drafts_become_text_at_any_time_and_nothing_else_changes() {
        type Act = fn(&mut History, usize) -> bool;
        let acts: [Act; 5] = [
            |history, at| {
                history.apply(noted(&at.to_string()));
                true
            },
            |history, _| history.undo(),
            |history, _| history.undo() && history.undo(),
            |history, _| history.redo(),
            |history, at| {
                history.amend(noted(&format!("elsewhere {at}")));
                true
            },
        ];
        for turn in 0..40 {
            let mut whole = History::new(noted("0"));
            let mut text = kept(noted("0"));
            for at in 1..30 {
                // A walk of its own for each turn.
                let act = acts[(at * at * (turn + 3) + at) % acts.len()];
                assert_eq!(act(&mut whole, at), act(&mut text, at));
                if at == turn {
                    whole.keep_as_text();
                    assert_eq!(whole, text);
                }
                assert_eq!(whole.now(), text.now());
                assert_eq!(
                    (whole.can_undo(), whole.can_redo()),
                    (text.can_undo(), text.can_redo())
                );
                assert_eq!(whole.save(), text.save());
            }
        }
    }

    #[test]
    fn thousands_of_small_steps_are_kept() {
        let mut history = counted(5000);
        assert!(!history.forgot());
        assert_eq!(std::iter::from_fn(|| history.undo().then_some(())).count(), 4999);
        assert_eq!(*history.now(), noted("1"));
    }

    #[test]
    fn the_oldest_step_goes_when_they_take_too_much_and_it_is_known() {
        let long = |at: usize| noted(&format!("{at} ").repeat(TEXT_LIMITS[2].1 / 6));
        let mut history = kept(long(10_000));
        let mut steps = 0;
        while !history.forgot() {
            steps += 1;
            history.apply(long(10_000 + steps));
            assert!(history.save().len() < ROOM + ROOM / 10, "{} at {steps}", history.save().len());
        }
        assert!(steps > 100, "{steps}");
        assert_eq!(std::iter::from_fn(|| history.undo().then_some(())).count(), steps - 1);
        assert_eq!(*history.now(), long(10_001));
    }

    #[test]
    fn a_step_larger_than_the_room_is_undone_all_the_same() {
        let mut history = kept(noted(&"x".repeat(ROOM)));
        history.apply(noted("short"));
        assert!(!history.forgot() && history.undo());
        assert_eq!(history.now().design.notes.len(), ROOM);
    }

    #[test]
    fn a_saved_history_goes_on_where_it_was() {
        let mut history = counted(9);
        assert!(history.undo() && history.undo());
        let mut other = History::open(&history.save()).expect("our own text");
        assert_eq!(other, history);
        assert!(other.redo() && other.redo() && !other.redo());
        assert_eq!(*other.now(), noted("9"));
        assert_eq!(std::iter::from_fn(|| other.undo().then_some(())).count(), 8);
        assert_eq!(*other.now(), noted("1"));
    }

    #[test]
    fn what_is_no_history_is_not_opened_and_a_broken_step_ends_it() {
        for text in ["", "{}", "[]", "{\"now\":\"{}\",\"past\":[],\"future\":[]}"] {
            assert_eq!(History::open(text), None, "{text}");
        }
        let broken = counted(3).save().replacen("\"past\":[[", "\"past\":[[9", 1);
        let mut history = History::open(&broken).expect("it looks like a history");
        assert!(history.undo() && !history.undo() && !history.can_undo());
        assert_eq!(*history.now(), noted("2"));
    }
}
