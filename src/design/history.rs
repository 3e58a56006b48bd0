//! Undo and redo: one gesture, one step.

/// How many steps are kept.
const KEPT: usize = 200;

/// A value with its past and future.
///
/// A drag previews many values and is committed once, so that it is undone in one step, or is given
/// up and leaves no trace.
///
/// ```
/// use crenel::design::History;
/// let mut history = History::new(1);
/// history.preview(2);
/// history.preview(3);
/// history.commit();
/// assert!(history.undo());
/// assert_eq!(*history.now(), 1);
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct History<T> {
    past: Vec<T>,
    settled: T,
    preview: Option<T>,
    future: Vec<T>,
}

impl<T: Clone + PartialEq> History<T> {
    /// A history that starts here.
    pub const fn new(value: T) -> Self {
        Self { past: Vec::new(), settled: value, preview: None, future: Vec::new() }
    }

    /// The value as it stands, previews included.
    pub fn now(&self) -> &T {
        self.preview.as_ref().unwrap_or(&self.settled)
    }

    /// The value without a gesture in progress.
    pub const fn settled(&self) -> &T {
        &self.settled
    }

    /// Whether a gesture is in progress.
    pub const fn in_gesture(&self) -> bool {
        self.preview.is_some()
    }

    /// Shows a value during a gesture.
    pub fn preview(&mut self, value: T) {
        self.preview = Some(value);
    }

    /// Ends the gesture and keeps its value as one step.
    pub fn commit(&mut self) {
        if let Some(value) = self.preview.take() {
            self.apply(value);
        }
    }

    /// Gives the gesture up. Says whether there was one.
    pub fn cancel(&mut self) -> bool {
        self.preview.take().is_some()
    }

    /// Makes a change in one step. A value that is the same makes no step.
    pub fn apply(&mut self, value: T) {
        self.preview = None;
        if value == self.settled {
            return;
        }
        self.past.push(std::mem::replace(&mut self.settled, value));
        if self.past.len() > KEPT {
            self.past.remove(0);
        }
        self.future.clear();
    }

    /// One step back. Says whether there was one.
    pub fn undo(&mut self) -> bool {
        self.preview = None;
        let Some(value) = self.past.pop() else { return false };
        self.future.push(std::mem::replace(&mut self.settled, value));
        true
    }

    /// One step forward again. Says whether there was one.
    pub fn redo(&mut self) -> bool {
        self.preview = None;
        let Some(value) = self.future.pop() else { return false };
        self.past.push(std::mem::replace(&mut self.settled, value));
        true
    }

    /// Whether a step back is possible.
    pub const fn can_undo(&self) -> bool {
        !self.past.is_empty()
    }

    /// Whether a step forward is possible.
    pub const fn can_redo(&self) -> bool {
        !self.future.is_empty()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_gesture_given_up_leaves_no_trace() {
        let mut history = History::new(1);
        history.preview(5);
        assert_eq!(*history.now(), 5);
        assert!(history.cancel());
        assert_eq!(*history.now(), 1);
        assert!(!history.can_undo() && !history.cancel());
    }

    #[test]
    fn a_new_step_drops_the_future_and_an_idle_one_does_not() {
        let mut history = History::new(1);
        history.apply(2);
        history.apply(3);
        assert!(history.undo());
        history.apply(2);
        assert!(history.can_redo(), "nothing changed, so the future stands");
        history.apply(9);
        assert!(!history.can_redo());
        assert!(history.undo() && history.undo() && !history.undo());
        assert_eq!(*history.now(), 1);
    }

    #[test]
    fn the_past_is_bounded() {
        let mut history = History::new(0);
        (1..1000).for_each(|step| history.apply(step));
        assert_eq!(std::iter::from_fn(|| history.undo().then_some(())).count(), KEPT);
    }
}
