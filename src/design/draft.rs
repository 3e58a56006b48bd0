//! The current design, the design it is compared with, and the place where it is kept.

use serde_json::{Value, json};

use super::saved::open_value;
use super::{Design, ShiftFrom, is_invented, save};

/// The current design. Each step of the history holds the whole draft, so that undo brings back a work
/// together with the place where it is kept.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Draft {
    /// The design as it is now.
    pub design: Design,
    /// The design as opened, with which the present one is compared.
    pub opened: Design,
    /// The name of its place among the works of the tab.
    pub place: String,
}

impl Draft {
    /// A design as it was opened, in the first place of its tab.
    pub fn new(design: Design) -> Self {
        Self { opened: design.clone(), design, place: String::new() }
    }

    /// The draft with the pair of another gear open, in the design as opened too, so that the same pair is compared, and
    /// with the shift into it up or down; `None` if there is no such gear.
    #[must_use]
    pub fn with_gear(&self, gear: usize, shift: ShiftFrom) -> Option<Self> {
        let mut draft = self.clone();
        if !draft.design.open_gear(gear) && draft.design.gear_open() != Some(gear) {
            return None;
        }
        draft.design.setting.from = shift;
        if draft.opened.gear_open() != Some(gear) && !draft.opened.open_gear(gear) {
            draft.opened.clone_from(&draft.design);
        }
        draft.opened.setting.from = shift;
        Some(draft)
    }

    /// Whether the draft is an unchanged example, which can be opened again at any time.
    pub fn is_untouched_example(&self) -> bool {
        self.design == self.opened && is_invented(&self.design)
    }

    /// The saved form of the design, with that of the design as opened if it differs.
    pub fn save(&self) -> Value {
        let opened = if self.opened == self.design { Value::Null } else { save(&self.opened) };
        json!({ "place": self.place, "opened": opened, "design": save(&self.design) })
    }

    /// Opens a saved form. `None` if it is not a draft: a store can contain anything.
    pub fn open(mut saved: Value) -> Option<Self> {
        let mut design = |key| open_value(saved.get_mut(key)?.take());
        let now = design("design")?;
        let opened = design("opened").unwrap_or_else(|| now.clone());
        let place = saved["place"].as_str().unwrap_or_default().to_owned();
        Some(Self { design: now, opened, place })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::{example, gallery};

    #[test]
    fn a_draft_opens_as_it_was_saved() {
        let titled = |title: &str| Design { title: title.to_owned(), ..example() };
        let mut draft = Draft { place: "7".to_owned(), ..Draft::new(titled("as opened")) };
        assert_eq!(Draft::open(draft.save()).as_ref(), Some(&draft));
        draft.design = titled("as it stands");
        assert_eq!(Draft::open(draft.save()).as_ref(), Some(&draft));
        // The form in which works were kept before they had a place.
        let old = json!({ "at": 1.0, "design": save(&example()), "opened": null });
        assert_eq!(Draft::open(old), Some(Draft::new(example())));
        for other in [json!(null), json!([]), json!({ "design": 3 }), json!("text")] {
            assert_eq!(Draft::open(other), None);
        }
    }

    #[test]
    fn another_gear_is_compared_with_itself_as_it_was_opened() {
        let whole = Design::in_box(&crate::design::LAYOUTS[0].to_gearset(), 0);
        let mut draft = Draft::new(whole.clone());
        draft.design.a.outer_diameter_mm += 1.0;
        let other = draft.with_gear(2, ShiftFrom::Down).expect("it is there");
        assert_eq!((other.design.gear_open(), other.opened.gear_open()), (Some(2), Some(2)));
        assert_eq!(other.opened.a, whole.a);
        assert_ne!(other.design, other.opened, "first gear was changed");
        let back = other.with_gear(0, ShiftFrom::Down).expect("it is there");
        let rings = |design: &Design| {
            let set = design.to_gearset().expect("it has one");
            (0..4).map(|gear| set.pair(gear).unwrap().a.clone()).collect::<Vec<_>>()
        };
        assert_eq!(rings(&back.design), rings(&draft.design));
        assert_eq!(other.with_gear(9, ShiftFrom::Up), None);
        assert_eq!(Draft::open(other.save()).as_ref(), Some(&other));
        let mut made = Draft { opened: example(), ..draft };
        made = made.with_gear(1, ShiftFrom::Up).expect("it is there");
        assert_eq!(made.opened, made.design, "there was no such gear before");
    }

    #[test]
    fn only_an_example_as_it_was_opened_is_nobodys_work() {
        let examples = gallery().iter().map(|exhibit| exhibit.design()).chain([example()]);
        for design in examples {
            let mut draft = Draft::new(design);
            assert!(draft.is_untouched_example(), "{}", draft.design.title);
            draft.design.initials = "me".to_owned();
            assert!(!draft.is_untouched_example());
            draft.opened = draft.design.clone();
            assert!(!draft.is_untouched_example());
        }
    }
}
