//! Learn: six short stories, each with a live drawing, one thing to drag, a guess and the model's answer.

mod answer;
mod picture;
mod range;
mod told;

use gloo_events::{EventListener, EventListenerOptions};
use leptos::html::Section;
use leptos::prelude::*;
use wasm_bindgen::JsCast as _;

use crenel::story::{KEYS, STORIES, Story};
use crenel_words::page::{common, learn as say};

use self::told::Told;
use crate::part::part;
use crate::state::{AppState, Area, AreaKey, Content, here, use_app_state};

pub(super) const AREA: Area<AnyView> = Area {
    // The names alone: the stories themselves are in the part.
    step: |name| KEYS.into_iter().find(|key| *key == name),
    ..Area::of_links(
        AreaKey::LEARN,
        say::title,
        Content::Page(part!(learn, stories, view! { <Learn/> })),
    )
};

#[component]
fn Learn() -> impl IntoView {
    let state = use_app_state();
    let story = Memo::new(move |_| {
        state.layout.picture(AreaKey::LEARN).and_then(Story::named).unwrap_or(STORIES[0])
    });
    let own = RwSignal::new(false);
    let lecture = RwSignal::new(false);
    let section = NodeRef::<Section>::new();
    listen(state, lecture);
    let begin = move |_| begin_lecture(section, lecture);
    let choose = move |story: &'static Story, nth: usize| {
        let show = move |_| state.layout.show_picture(AreaKey::LEARN, story.key);
        let current = move || {
            let now = state.layout.picture(AreaKey::LEARN).unwrap_or(KEYS[0]);
            (now == story.key).then_some("step")
        };
        view! {
            <li><button aria-current=current on:click=show>{here(say::nth_story(nth, (story.title)()))}</button></li>
        }
    };
    let all = STORIES.into_iter().zip(0..).map(|(story, nth)| choose(story, nth));
    view! {
        <section class="learn" class:lecture=lecture aria-label=here(say::six_stories) node_ref=section>
            <div class="row head">
                <h2>{here(say::six_stories)}</h2>
                {move || if lecture.get() {
                    view! {
                        <span class="quiet">{here(say::lecture_keys)}</span>
                        <button on:click=move |_| end_lecture(lecture)>{here(say::leave_lecture)}</button>
                    }.into_any()
                } else {
                    view! { <button on:click=begin>{here(say::lecture)}</button> }.into_any()
                }}
                <button class="icon away" aria-label=here(common::close)
                    on:click=move |_| state.open_area(state.worked_in.get_untracked())>"✕"</button>
            </div>
            <nav aria-label=here(say::stories)><ol>{all.collect_view()}</ol></nav>
            {move || {
                let (story, own) = (story.get(), own);
                view! { <Told story own lecture/> }
            }}
            <div class="row turn">
                <button disabled=move || story.get() == STORIES[0] on:click=move |_| turn(state, -1)>
                    "← "{here(say::previous)}
                </button>
                <button disabled=move || story.get() == STORIES[STORIES.len() - 1] on:click=move |_| turn(state, 1)>
                    {here(say::next)}" →"
                </button>
            </div>
        </section>
    }
}

/// To the story so many further on, if there is one.
fn turn(state: AppState, by: isize) {
    let now = state.layout.picture(AreaKey::LEARN).unwrap_or(KEYS[0]);
    let at = KEYS.iter().position(|key| *key == now).and_then(|at| at.checked_add_signed(by));
    if let Some(key) = at.and_then(|at| KEYS.get(at)) {
        state.layout.show_picture(AreaKey::LEARN, key);
    }
}

/// The story and its controls alone, on the whole screen where the browser allows it.
fn begin_lecture(section: NodeRef<Section>, lecture: RwSignal<bool>) {
    lecture.set(true);
    if let Some(section) = section.get_untracked() {
        // Where it is refused, the story fills the window.
        let _ = section.request_fullscreen();
    }
}

fn end_lecture(lecture: RwSignal<bool>) {
    lecture.set(false);
    if document().fullscreen_element().is_some() {
        document().exit_fullscreen();
    }
}

/// The keys of a lecture, and the end of it where the browser leaves the whole screen.
fn listen(state: AppState, lecture: RwSignal<bool>) {
    let options = EventListenerOptions::enable_prevent_default();
    let keys = EventListener::new_with_options(&window(), "keydown", options, move |event| {
        let Some(event) = event.dyn_ref::<web_sys::KeyboardEvent>() else { return };
        let command = event.ctrl_key() || event.meta_key() || event.alt_key();
        if !lecture.get_untracked() || command {
            return;
        }
        match event.key().as_str() {
            "PageDown" => turn(state, 1),
            "PageUp" => turn(state, -1),
            "ArrowRight" if !in_field(event) => turn(state, 1),
            "ArrowLeft" if !in_field(event) => turn(state, -1),
            "Escape" => end_lecture(lecture),
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

/// Whether a key was pressed where arrows move something else.
fn in_field(event: &web_sys::KeyboardEvent) -> bool {
    let target = event.target().and_then(|t| t.dyn_into::<web_sys::Element>().ok());
    target.is_some_and(|t| matches!(t.tag_name().as_str(), "INPUT" | "SELECT" | "TEXTAREA"))
}
