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
/// cancelled leaves no trace. Past and future are kept as differences of the saved form. When they become
/// too large, the oldest step is dropped.
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
    past: Vec<Delta>,
    settled: Draft,
    /// The saved form of the settled draft.
    text: String,
    preview: Option<Draft>,
    future: Vec<Delta>,
    forgot: bool,
}

impl History {
    /// A history that starts with this draft.
    pub fn new(draft: Draft) -> Self {
        let text = draft.save().to_string();
        let (past, future) = (Vec::new(), Vec::new());
        Self { past, settled: draft, text, preview: None, future, forgot: false }
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
        let text = draft.save().to_string();
        self.past.push(Delta::between(&text, &self.text));
        (self.settled, self.text) = (draft, text);
        self.future.clear();
        self.make_room();
    }

    /// Puts another draft in place of the settled one without a step of its own: undo goes from it to where it would
    /// have gone, and redo too. Used where the reader looks at another part of the same work.
    pub fn amend(&mut self, draft: Draft) {
        self.preview = None;
        let text = draft.save().to_string();
        for steps in [&mut self.past, &mut self.future] {
            let Some(step) = steps.pop() else { continue };
            // A step that cannot be read goes, as it would when it is its turn.
            steps.extend(step.apply(&self.text).map(|there| Delta::between(&text, &there)));
        }
        (self.settled, self.text) = (draft, text);
    }

    /// Drops the oldest steps until the rest fits. The latest step is always kept, whatever its size.
    fn make_room(&mut self) {
        let mut left: usize = self.past.iter().map(Delta::bytes).sum();
        let goes = |step: &&Delta| {
            let goes = left > ROOM;
            left -= step.bytes();
            goes
        };
        let count = self.past.iter().take_while(goes).count().min(self.past.len() - 1);
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
        let turned = self.past.pop().and_then(|step| self.turn(&step));
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
        let turned = self.future.pop().and_then(|step| self.turn(&step));
        let Some(back) = turned else {
            self.future.clear();
            return false;
        };
        self.past.push(back);
        true
    }

    /// Goes where a step leads, and returns the step that leads back.
    fn turn(&mut self, step: &Delta) -> Option<Delta> {
        let text = step.apply(&self.text)?;
        self.settled = read(&text)?;
        let back = Delta::between(&text, &self.text);
        self.text = text;
        Some(back)
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
        let steps = |steps: &[Delta]| steps.iter().map(Delta::save).collect::<Value>();
        let (past, future) = (steps(&self.past), steps(&self.future));
        json!({ "now": self.text, "past": past, "future": future, "forgot": self.forgot })
            .to_string()
    }

    /// Opens such a text. `None` if it is not a history: a store can contain anything.
    pub fn open(text: &str) -> Option<Self> {
        let saved: Value = serde_json::from_str(text).ok()?;
        let steps = |key: &str| {
            saved.get(key)?.as_array()?.iter().map(Delta::open).collect::<Option<Vec<_>>>()
        };
        let text = saved.get("now")?.as_str()?.to_owned();
        let (past, settled, future) = (steps("past")?, read(&text)?, steps("future")?);
        let forgot = saved["forgot"] == true;
        Some(Self { past, settled, text, preview: None, future, forgot })
    }
}

fn read(text: &str) -> Option<Draft> {
    Draft::open(serde_json::from_str(text).ok()?)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::{Design, TEXT_LIMITS, example};

    fn noted(notes: &str) -> Draft {
        Draft::new(Design { notes: notes.to_owned(), ..example() })
    }

    /// A history with the notes 1 to `last`.
    fn counted(last: usize) -> History {
        let mut history = History::new(noted("1"));
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
    fn thousands_of_small_steps_are_kept() {
        let mut history = counted(5000);
        assert!(!history.forgot());
        assert_eq!(std::iter::from_fn(|| history.undo().then_some(())).count(), 4999);
        assert_eq!(*history.now(), noted("1"));
    }

    #[test]
    fn the_oldest_step_goes_when_they_take_too_much_and_it_is_known() {
        let long = |at: usize| noted(&format!("{at} ").repeat(TEXT_LIMITS[2].1 / 6));
        let mut history = History::new(long(10_000));
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
        let mut history = History::new(noted(&"x".repeat(ROOM)));
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
