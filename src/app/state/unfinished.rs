//! Texts that are not in the design: an entry that is still being typed, a text that was not accepted, and the
//! inspection tables. They survive when the page is left or reloaded.

use std::cell::RefCell;

use gloo_events::{EventListener, EventListenerOptions, EventListenerPhase};
use leptos::prelude::*;
use serde_json::{Value, json};
use wasm_bindgen::JsCast as _;

use crenel::design::History;
use crenel::ring::Side;

use super::app_state::AppState;
use super::kinds::{Refused, Unfinished};
use super::persistence::keep;
use crate::storage::store::Store;

/// The key under which this tab stores them.
const UNFINISHED: &str = "crenel.unfinished";

/// The texts that this tab stored when its page was left.
pub(crate) fn recall() -> Unfinished {
    let noted = Store::Tab.get(UNFINISHED).and_then(|text| serde_json::from_str(&text).ok());
    let noted: Value = noted.unwrap_or_default();
    let rows = |key: &str| noted[key].as_array().cloned().unwrap_or_default();
    Unfinished {
        measured: rows("measured").iter().filter_map(cell).collect(),
        refused: rows("refused").iter().filter_map(refused).collect(),
    }
}

fn cell(row: &Value) -> Option<((Side, usize, usize), String)> {
    let number = |at: usize| usize::try_from(row.get(at)?.as_u64()?).ok();
    let side = *Side::BOTH.get(number(0)?)?;
    Some(((side, number(1)?, number(2)?), row.get(3)?.as_str()?.to_owned()))
}

fn refused(row: &Value) -> Option<Refused> {
    let text = |at: usize| Some(row.get(at)?.as_str()?.to_owned());
    Some((text(0)?, text(1)?, text(2)?))
}

fn note_all(state: AppState) {
    let measured = state.measured.with_untracked(|cells| {
        let row = |(&(side, place, at), text): (&(Side, usize, usize), &String)| {
            json!([side as usize, place, at, text])
        };
        cells.iter().map(row).collect::<Value>()
    });
    let refused = state.refused.with_value(|all| json!(all));
    // If they cannot be stored, accepted numbers are kept all the same.
    let _ = Store::Tab
        .put(UNFINISHED, &json!({ "measured": measured, "refused": refused }).to_string());
}

thread_local! {
    /// The entry that is still being typed into.
    static TYPED: RefCell<Option<Entry>> = const { RefCell::new(None) };
    static HIDDEN: RefCell<Option<Hidden>> = const { RefCell::new(None) };
}

/// An element that takes text.
#[derive(Clone)]
enum Entry {
    Line(web_sys::HtmlInputElement),
    Lines(web_sys::HtmlTextAreaElement),
}

impl Entry {
    fn of(event: &web_sys::Event) -> Option<Self> {
        let target = event.target()?;
        let line = target.clone().dyn_into().map(Self::Line);
        line.or_else(|target| target.dyn_into().map(Self::Lines)).ok()
    }

    fn element(&self) -> &web_sys::HtmlElement {
        match self {
            Self::Line(line) => line,
            Self::Lines(lines) => lines,
        }
    }

    fn text(&self) -> String {
        match self {
            Self::Line(line) => line.value(),
            Self::Lines(lines) => lines.value(),
        }
    }

    /// Restores a text, with the cursor where it was.
    fn put(&self, text: &str, cursor: Option<u32>) {
        let cursor = cursor.unwrap_or_default();
        // Inputs that are not text have no cursor position.
        let _ = match self {
            Self::Line(line) => {
                line.set_value(text);
                line.set_selection_range(cursor, cursor)
            }
            Self::Lines(lines) => {
                lines.set_value(text);
                lines.set_selection_range(cursor, cursor)
            }
        };
    }

    fn cursor(&self) -> Option<u32> {
        match self {
            Self::Line(line) => line.selection_end().ok().flatten(),
            Self::Lines(lines) => lines.selection_end().ok().flatten(),
        }
    }

    /// Treats the entry as if the reader had left it.
    fn leave(&self) {
        let options = web_sys::EventInit::new();
        options.set_bubbles(true);
        if let Ok(change) = web_sys::Event::new_with_event_init_dict("change", &options) {
            // No listener cancels this event.
            let _ = self.element().dispatch_event(&change);
        }
    }
}

/// The text and cursor that a hidden page restores when it is visible again.
struct Hidden {
    entry: Entry,
    text: String,
    cursor: Option<u32>,
    before: History,
    after: History,
}

/// Follows what is typed. While the page is hidden the entry counts as left, because a phone may end the page then.
pub(crate) fn watch(state: AppState) {
    let options = || EventListenerOptions { phase: EventListenerPhase::Capture, passive: true };
    let typed = |event: &web_sys::Event| TYPED.set(Entry::of(event));
    EventListener::new_with_options(&document(), "input", options(), typed).forget();
    let left = |_: &web_sys::Event| TYPED.set(None);
    EventListener::new_with_options(&document(), "change", options(), left).forget();
    let turned = move |_: &web_sys::Event| match document().visibility_state() {
        web_sys::VisibilityState::Hidden => hide(state),
        _ => show(state),
    };
    // The page lives as long as its window.
    EventListener::new(&document(), "visibilitychange", turned).forget();
}

/// The page is left: the text being typed is taken into the design if it can be, and stored otherwise.
pub(crate) fn leave(state: AppState) {
    if let Some(entry) = TYPED.take().filter(|entry| entry.element().is_connected()) {
        entry.leave();
        keep(state);
    }
    note_all(state);
}

fn hide(state: AppState) {
    let entry = TYPED.with_borrow(Clone::clone);
    let before = state.history.get_untracked();
    let was = entry.map(|entry| (entry.text(), entry.cursor(), entry));
    leave(state);
    let after = state.history.get_untracked();
    HIDDEN.set(was.map(|(text, cursor, entry)| Hidden { entry, text, cursor, before, after }));
}

/// A reader who comes back goes on typing as if the page had not been hidden.
fn show(state: AppState) {
    let Some(hidden) = HIDDEN.take() else { return };
    let Hidden { entry, text, cursor, before, after } = hidden;
    let focused = document().active_element();
    let stays = focused.is_some_and(|focused| focused == **entry.element());
    if !stays || state.history.with_untracked(|now| *now != after) {
        return;
    }
    state.step(|history| {
        *history = before;
        false
    });
    // The page shows the number of the design first.
    set_timeout(
        move || {
            entry.put(&text, cursor);
            TYPED.set(Some(entry));
        },
        std::time::Duration::ZERO,
    );
}
