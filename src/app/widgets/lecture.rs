//! A lecture: a section of the page fills the screen with larger text, and the keys of a presenter turn it.

use gloo_events::{EventListener, EventListenerOptions};
use leptos::html::Section;
use leptos::prelude::*;
use wasm_bindgen::JsCast as _;
use web_sys::{Element, KeyboardEvent};

use crenel_words::Phrase;
use crenel_words::page::learn as say;

use crate::dom::prefers_reduced_motion;
use crate::state::{Player, here};

/// How much larger letters are in a lecture.
pub(crate) const LECTURE: f64 = 1.5;

/// The class of the button that ends a lecture. It has the focus once the button that began it is gone, and Space there
/// plays all the same: Enter and Escape end it.
const LEAVE: &str = "leave-lecture";

/// What a key asks for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Press {
    On,
    Back,
    Play,
}

/// The button that begins a lecture of a section; during it, what the keys do, and the button that ends it.
#[component]
pub(crate) fn LectureButton(
    lecture: RwSignal<bool>,
    section: NodeRef<Section>,
    /// What the keys do.
    keys: Phrase,
) -> impl IntoView {
    move || {
        if lecture.get() {
            view! {
                <span class="quiet">{here(keys)}</span>
                <button class=LEAVE on:click=move |_| end(lecture)>{here(say::leave_lecture)}</button>
            }
            .into_any()
        } else {
            view! { <button on:click=move |_| begin(section, lecture)>{here(say::lecture)}</button> }.into_any()
        }
    }
}

/// The section alone, on the whole screen where the browser allows it.
fn begin(section: NodeRef<Section>, lecture: RwSignal<bool>) {
    lecture.set(true);
    if let Some(section) = section.get_untracked() {
        // Where it is refused, the section fills the window.
        let _ = section.request_fullscreen();
    }
}

fn end(lecture: RwSignal<bool>) {
    lecture.set(false);
    if document().fullscreen_element().is_some() {
        document().exit_fullscreen();
    }
}

/// Plays or holds a film. Where the reader's system asks for less motion, it goes from event to event.
pub(crate) fn play(player: Player) {
    if prefers_reduced_motion() { player.step(true) } else { player.play() }
}

/// Follows the keys of a lecture, and ends it where the browser leaves the whole screen.
pub(crate) fn follow(lecture: RwSignal<bool>, act: impl Fn(Press) + 'static) {
    let options = EventListenerOptions::enable_prevent_default();
    let keys = EventListener::new_with_options(&window(), "keydown", options, move |event| {
        let Some(event) = event.dyn_ref::<KeyboardEvent>() else { return };
        let command = event.ctrl_key() || event.meta_key() || event.alt_key();
        if !lecture.get_untracked() || command {
            return;
        }
        match event.key().as_str() {
            "PageDown" => act(Press::On),
            "PageUp" => act(Press::Back),
            "ArrowRight" if !is_in(event, &["INPUT", "SELECT", "TEXTAREA"]) => act(Press::On),
            "ArrowLeft" if !is_in(event, &["INPUT", "SELECT", "TEXTAREA"]) => act(Press::Back),
            // On another button or a summary it presses that.
            " " if is_on_leave(event)
                || !is_in(event, &["INPUT", "SELECT", "TEXTAREA", "BUTTON", "SUMMARY"]) =>
            {
                act(Press::Play);
            }
            "Escape" => end(lecture),
            _ => return,
        }
        event.prevent_default();
    });
    let left = EventListener::new(&document(), "fullscreenchange", move |_| {
        if document().fullscreen_element().is_none() {
            lecture.set(false);
        }
    });
    let listeners = StoredValue::new_local([keys, left]);
    // Dropping the listeners removes them.
    on_cleanup(move || listeners.dispose());
}

/// Whether a key was pressed in an element of these names, which has a use of its own for it.
fn is_in(event: &KeyboardEvent, names: &[&str]) -> bool {
    target(event).is_some_and(|target| names.contains(&target.tag_name().as_str()))
}

fn is_on_leave(event: &KeyboardEvent) -> bool {
    target(event).is_some_and(|target| target.get_attribute("class").as_deref() == Some(LEAVE))
}

fn target(event: &KeyboardEvent) -> Option<Element> {
    event.target().and_then(|target| target.dyn_into::<Element>().ok())
}
