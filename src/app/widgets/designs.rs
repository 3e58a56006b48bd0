//! Designs to open: those kept in this browser, and the invented ones of the gallery.

use js_sys::{Function, Reflect};
use leptos::prelude::*;
use leptos::wasm_split::{SplitLoaderError, wasm_split};
use wasm_bindgen::JsCast;

use crenel::design::{Example, gallery};

use crenel_words::page::designs as say;

use crate::part::{fetched, part};
use crate::state::persistence::keep;
use crate::state::{AppState, AreaKey, Dialog, here, language, use_app_state};
use crate::storage::room::{ROOM, kilobytes, usage};
use crate::storage::saved_session::{SavedSession, restore};
use crate::widgets::dialog::Sheet;

#[component]
pub(crate) fn DesignsDialog() -> impl IntoView {
    view! {
        <Sheet which=Dialog::Designs title=say::title
            show=part!(more, designs, view! { <KeptHere/><Gallery/> })/>
    }
}

/// What this and other tabs worked on.
#[component]
fn KeptHere() -> impl IntoView {
    let state = use_app_state();
    let on_board = state.history.with_untracked(|h| h.settled().clone());
    let kept = state.tab_storage.with_value(|tab_storage| tab_storage.others(Some(&on_board)));
    let kept: Vec<_> =
        kept.into_iter().filter_map(|one| Some((one.draft()?.design, one))).collect();
    let hidden = kept.is_empty();
    // The other open tabs, once they are known.
    let open = RwSignal::new(Vec::new());
    state.tab_storage.with_value(|tab_storage| tab_storage.ask_open(move |tabs| open.set(tabs)));
    let room = RwSignal::new(room_taken());
    let items = kept.into_iter().map(|(design, one)| {
        let title = design.name().to_owned();
        view! { <KeptWork title one open room/> }
    });
    view! {
        <section class="kept" class:hidden=hidden>
            <h3>{here(say::kept_here)}</h3>
            <p class="quiet">
                {here(say::kept_here_why)}
            </p>
            <p class="quiet">{room}</p>
            <ul class="designs">{items.collect_view()}</ul>
        </section>
    }
}

/// A time as the language writes it, or as the browser does if it does not know the language.
fn written(at: &js_sys::Date) -> String {
    let write = Reflect::get(at, &"toLocaleString".into()).and_then(JsCast::dyn_into::<Function>);
    let written = write.and_then(|write| write.call1(at, &language().tag().into()));
    written.ok().and_then(|text| text.as_string()).unwrap_or_else(|| at.to_string().into())
}

fn room_taken() -> String {
    let (works, size) = usage();
    here(say::room_taken(works, size, kilobytes(ROOM))).into_owned()
}

/// One kept work: it can be opened, removed, and restored while the list is open.
#[component]
fn KeptWork(
    title: String,
    one: SavedSession,
    open: RwSignal<Vec<String>>,
    room: RwSignal<String>,
) -> impl IntoView {
    let state = use_app_state();
    let one = StoredValue::new(one);
    let about = one.with_value(|one| {
        let at = js_sys::Date::new(&one.at_ms().into());
        here(say::kept_on(written(&at), kilobytes(one.size)))
    });
    let elsewhere = move || open.with(|tabs| one.with_value(|one| one.is_of(tabs)));
    // What the store held, after it was removed.
    let gone = RwSignal::new(Vec::new());
    let is_gone = move || gone.with(|texts| !texts.is_empty());
    let take_up = move |_| {
        let draft = one.with_value(|one| {
            state.tab_storage.with_value(|tab_storage| tab_storage.taken_up(one))
        });
        draft.into_iter().for_each(|draft| state.put_on_board(draft));
        state.dialog.set(None);
        state.tell(here(say::opened_from_kept), false);
    };
    let forget = {
        let title = title.clone();
        move |_| {
            gone.set(one.with_value(|one| one.remove(&open.get_untracked())));
            room.set(room_taken());
            state.say(here(say::deleted(title.clone())));
            // The current work may have room now.
            keep(state);
        }
    };
    let keep_again = {
        let title = title.clone();
        move |_| {
            let back = gone.with_untracked(|texts| restore(texts));
            if back {
                gone.set(Vec::new());
            }
            room.set(room_taken());
            let done = if back { say::restored } else { say::no_room_to_restore };
            state.say(here(done(title.clone())));
        }
    };
    let put_label = here(say::restore_design(title.clone()));
    let forget_label = here(say::delete_design(title.clone()));
    let status = move || match (is_gone(), elsewhere()) {
        (true, _) => Some(here(say::is_deleted)),
        (false, true) => Some(here(say::is_open_elsewhere)),
        (false, false) => None,
    };
    let to_open = move || here(if elsewhere() { say::open_a_copy } else { say::open });
    view! {
        <li>
            <p><b>{title}</b>" "<span class="quiet">{about}</span></p>
            <div class="row">
                <button class:hidden=is_gone on:click=take_up>{to_open}</button>
                <button class:hidden=move || is_gone() || elsewhere() aria-label=forget_label on:click=forget>
                    {here(say::delete)}
                </button>
                {move || status().map(|words| view! { <span class="quiet">{words}</span> })}
                <button class:hidden=move || !is_gone() aria-label=put_label on:click=keep_again>
                    {here(say::restore)}
                </button>
            </div>
        </li>
    }
}

/// Classic layouts and faults.
#[component]
fn Gallery() -> impl IntoView {
    let state = use_app_state();
    let item = |example: &'static Example| {
        view! {
            <li>
                <p><b>{here(example.name())}</b>" "<span class="quiet">{here(example.story())}</span></p>
                <div class="row">
                    <button aria-label=here(say::open_example(example.name())) on:click=move |_| open_example(state, example)>
                        {here(say::open)}
                    </button>
                </div>
            </li>
        }
    };
    view! {
        <h3>{here(say::examples)}</h3>
        <p class="quiet">
            {here(say::examples_why)}
        </p>
        <ul class="designs">{gallery().iter().map(item).collect_view()}</ul>
    }
}

/// Opens an example in its area.
pub(crate) fn open_example(state: AppState, example: &'static Example) {
    fetched(state, put_on_board(state, example));
}

#[wasm_split(keeping, wasm_split_path = leptos::wasm_split, fallible)]
fn put_on_board(state: AppState, example: &'static Example) -> Result<(), SplitLoaderError> {
    state.replace(example.design());
    state.dialog.set(None);
    state.open_area(AreaKey(example.opens_in));
    let opened = say::example_opened(example.name(), example.story());
    state.tell(here(opened), false);
    Ok(())
}
