//! Where the reader is on the page: area, picture and selection. It follows the design in the address, as
//! `1.…/dogs.face.A2`, and each change of it is an entry of the browser's history. Changes of the design are not.

use leptos::prelude::*;
use wasm_bindgen::JsValue;

use crenel::design::{LINK_LIMIT, encode};
use crenel::ring::Side;

use crate::state::app_state::AppState;
use crate::state::layout::Inspected;

/// Between the design and the place.
const MARK: char = '/';

/// What follows the `#` of the address.
pub(super) fn fragment() -> String {
    window().location().hash().unwrap_or_default().trim_start_matches('#').to_owned()
}

/// The design and the place of a fragment.
pub(super) fn parts(fragment: &str) -> (&str, Option<&str>) {
    match fragment.split_once(MARK) {
        Some((link, place)) => (link, Some(place)),
        None => (fragment, None),
    }
}

/// The selection of both rings, where an area begins with something else.
const PAIR: &str = "pair";

/// Where the reader is. What is as on opening an area is left out.
pub(crate) fn place_of(state: AppState) -> String {
    let area = state.current_area();
    let picture = state.layout.picture(area.key).unwrap_or_default();
    let selected = match state.layout.inspected.get() {
        Inspected::Home => String::new(),
        Inspected::Pair => PAIR.to_owned(),
        Inspected::Dog => {
            let (side, place) = state.chosen.get();
            format!("{}{}", side.letter(), place + 1)
        }
        Inspected::Panel(key) => key.to_owned(),
    };
    let place = format!("{}.{picture}.{selected}", area.key.0);
    place.trim_end_matches('.').to_owned()
}

/// Goes to a place. What is not there is left out.
pub(super) fn go_to(state: AppState, place: &str) {
    let mut parts = place.split('.');
    let key = parts.next().unwrap_or_default();
    let Some(area) = state.areas.0.iter().find(|area| area.key.0 == key) else { return };
    state.open_area(area.key);
    let picture = parts.next().unwrap_or_default();
    let known = area.pictures().iter().find(|known| known.key == picture);
    let first = area.pictures().first();
    let shown = known.or(first).map(|picture| picture.key).or_else(|| (area.step)(picture));
    if let Some(key) = shown {
        state.layout.show_picture(area.key, key);
    }
    let selected = parts.next().unwrap_or_default();
    let panel = area.panels().iter().find(|panel| panel.key == selected);
    let inspected = match (panel, dog(state, selected)) {
        (Some(panel), _) => Inspected::Panel(panel.key),
        (None, Some(chosen)) => {
            state.chosen.set(chosen);
            Inspected::Dog
        }
        (None, None) if selected == PAIR => Inspected::Pair,
        (None, None) => Inspected::Home,
    };
    state.layout.inspected.set(inspected);
}

/// A dog by its name, if the ring has it.
fn dog(state: AppState, name: &str) -> Option<(Side, usize)> {
    let side = Side::BOTH.into_iter().find(|side| name.starts_with(side.letter()))?;
    let number: usize = name.get(1..)?.parse().ok()?;
    let place = number.checked_sub(1)?;
    (place < state.with(|d| d.ring(side).places())).then_some((side, place))
}

/// The fragment for a design, which is left out if it is too large for a link, and a place.
fn fragment_of(link: &str, place: &str) -> String {
    if link.len() <= LINK_LIMIT {
        format!("#{link}{MARK}{place}")
    } else {
        format!("#{MARK}{place}")
    }
}

/// Goes to the place that the page was opened at.
pub(crate) fn go_to_start(state: AppState) {
    let fragment = fragment();
    parts(&fragment).1.into_iter().for_each(|place| go_to(state, place));
}

/// Makes a new place an entry of the browser's history, from the first one that is left.
pub(super) fn watch(state: AppState) {
    Effect::new(move |before: Option<String>| {
        let place = place_of(state);
        let gone_to = state.gone_to.try_update_value(Option::take).flatten();
        match before {
            // Back and Forward have been there already.
            Some(before) if before != place && gone_to.as_ref() != Some(&place) => {
                let link = state.history.with_untracked(|h| encode(&h.settled().design));
                if fragment().is_empty() {
                    // The first entry has not been written yet.
                    put(
                        state,
                        &fragment_of(&link, &before),
                        web_sys::History::replace_state_with_url,
                    );
                }
                put(state, &fragment_of(&link, &place), web_sys::History::push_state_with_url);
            }
            _ => {}
        }
        place
    });
}

/// Replaces the address by that of the design as it is now.
pub(super) fn rewrite(state: AppState, link: &str) {
    let place = untrack(|| place_of(state));
    put(state, &fragment_of(link, &place), web_sys::History::replace_state_with_url);
}

type Put = fn(&web_sys::History, &JsValue, &str, Option<&str>) -> Result<(), JsValue>;

/// An entry carries the name of the work that it was made in, so that Back within it keeps the work.
fn put(state: AppState, fragment: &str, how: Put) {
    let work = state.history.with_untracked(|h| h.settled().place.clone());
    if let Ok(history) = window().history() {
        // A browser refuses this if it happens too often; the next change tries again.
        let _ = how(&history, &JsValue::from_str(&work), "", Some(fragment));
    }
}

/// Back or Forward within this work: goes to the place, and keeps the design. Returns whether it was one.
pub(super) fn travelled(state: AppState, entry: &JsValue, fragment: &str) -> bool {
    let work = state.history.with_untracked(|h| h.settled().place.clone());
    if entry.as_string().as_ref() != Some(&work) {
        return false;
    }
    let place = parts(fragment).1.unwrap_or_default().to_owned();
    go_to(state, &place);
    state.gone_to.set_value(Some(untrack(|| place_of(state))));
    rewrite(state, &state.history.with_untracked(|h| encode(&h.settled().design)));
    true
}
