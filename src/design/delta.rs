//! The difference between two texts. Steps of a design differ in few characters, so a step that is kept as a
//! difference takes some dozen bytes, where the design takes thousands.

use serde_json::{Value, json};

/// Bytes that a step takes besides its text, in memory and in the saved form.
const FRAME: usize = 16;

/// The part of the second text between the beginning and the end that both texts share.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Delta {
    /// Bytes at the beginning that are unchanged.
    head: usize,
    /// Bytes at the end that are unchanged.
    tail: usize,
    middle: String,
}

impl Delta {
    /// The difference that turns `now` into `then`.
    pub(super) fn between(now: &str, then: &str) -> Self {
        let shorter = now.len().min(then.len());
        let mut head = shared(now.bytes(), then.bytes());
        while !(now.is_char_boundary(head) && then.is_char_boundary(head)) {
            head -= 1;
        }
        let mut tail = shared(now.bytes().rev(), then.bytes().rev()).min(shorter - head);
        let starts = |text: &str, tail| text.is_char_boundary(text.len() - tail);
        while !(starts(now, tail) && starts(then, tail)) {
            tail -= 1;
        }
        Self { head, tail, middle: then[head..then.len() - tail].to_owned() }
    }

    /// The second text; `None` if `now` is not the text that the difference starts from.
    pub(super) fn apply(&self, now: &str) -> Option<String> {
        let end = now.len().checked_sub(self.tail).filter(|end| *end >= self.head)?;
        Some([now.get(..self.head)?, &self.middle, now.get(end..)?].concat())
    }

    /// Size of the difference, bytes.
    pub(super) const fn bytes(&self) -> usize {
        self.middle.len() + FRAME
    }

    pub(super) fn save(&self) -> Value {
        json!([self.head, self.tail, self.middle])
    }

    pub(super) fn open(saved: &Value) -> Option<Self> {
        let number = |at: usize| usize::try_from(saved.get(at)?.as_u64()?).ok();
        let middle = saved.get(2)?.as_str()?.to_owned();
        Some(Self { head: number(0)?, tail: number(1)?, middle })
    }
}

/// The number of bytes that two sequences share at their start.
fn shared(one: impl Iterator<Item = u8>, other: impl Iterator<Item = u8>) -> usize {
    one.zip(other).take_while(|(a, b)| a == b).count()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_text_is_made_from_another_and_back() {
        let texts =
            ["", "a", "aa", "aaa", "3.2", "3.25", "Ø30 ° ″", "Ø30 ° ′", "é", "è", "xéx", "日本"];
        for now in texts {
            for then in texts {
                let delta = Delta::between(now, then);
                assert_eq!(delta.apply(now).as_deref(), Some(then), "{now} to {then}");
                assert_eq!(Delta::open(&delta.save()).as_ref(), Some(&delta));
            }
        }
        assert_eq!(Delta::between("{\"a\":1,\"b\":3}", "{\"a\":1,\"b\":4}").bytes(), 1 + FRAME);
    }

    #[test]
    fn what_belongs_to_another_text_does_not_panic() {
        let delta = Delta { head: 3, tail: 3, middle: String::new() };
        assert_eq!(delta.apply("short"), None);
        assert_eq!(Delta { head: 1, ..delta.clone() }.apply("日本"), None);
        assert_eq!(Delta { head: usize::MAX, tail: usize::MAX, ..delta }.apply("short"), None);
        assert_eq!(Delta::open(&json!([1, -1, "x"])), None);
    }
}
