//! The head of the page: title, undo, units, files, share.

use gloo_events::{EventListener, EventListenerOptions};
use leptos::prelude::*;
use wasm_bindgen::JsCast as _;

use crenel::units::{AngleStyle, LengthUnit};

use crenel_words::page::{designs, files, find, frame as say, learn, whole};

use crate::deferred::Deferred;
use crate::dom::html_element;
use crate::part::part;
use crate::state::{AppState, Dialog, Inspected, here, use_app_state};
use crate::widgets::area_button::AreaButton;
use crate::widgets::cutting::cut_by_key;
use crate::widgets::files::{Exports, OpenButton, save_design};
use crate::widgets::gear_bar::gear_by_key;
use crate::widgets::inspector::step_dog;
use crate::widgets::menu::{Menu, close_menus};
use crate::widgets::reveal::show_named;
use crate::widgets::variants::switch_by_key;

#[component]
pub(crate) fn Header() -> impl IntoView {
    let state = use_app_state();
    view! {
        <header>
            <a class="skip" href="#results" on:click=move |event| skip_to_results(&event)>
                {here(say::skip_to_results)}
            </a>
            <h1>"Crenel"<span class="sr">" "{here(say::tagline)}</span></h1>
            // The head is whole before a drawing is below it, which would move otherwise.
            <Deferred first=true>
                <label class="title">
                    <span class="sr">{here(say::design_title)}</span>
                    <input type="text" maxlength="120" placeholder=here(say::design_title)
                        prop:value=move || state.with(|d| d.title.clone())
                        on:change=move |event| state.change(|d| d.title = event_target_value(&event))/>
                </label>
            </Deferred>
            // Its space is reserved, so that nothing moves when it appears.
            <p class="offline quiet" class:shown=move || state.offline.get()
                title=here(say::stored_here)>
                "✓ "<span>{here(say::works_offline)}</span>
            </p>
            <div class="tools">
                // All at once, so that none of them moves when another appears.
                <Deferred first=true>
                    <button class="icon" aria-label=here(say::undo) title=here(say::undo)
                        on:click=move |_| state.undo() disabled=move || state.history.with(|h| !h.can_undo())>
                        "↶"
                    </button>
                    <button class="icon redo" aria-label=here(say::redo) title=here(say::redo)
                        on:click=move |_| state.redo() disabled=move || state.history.with(|h| !h.can_redo())>
                        "↷"
                    </button>
                    <button class="find" on:click=move |_| state.dialog.set(Some(Dialog::Find))>
                        {here(find::title)}" "<kbd aria-hidden="true">"/"</kbd>
                    </button>
                    <div class="roomy"><UnitMenu/><FileMenu/><HeadAreas/></div>
                    <div class="tight"><AllMenu/></div>
                    <button class="share" on:click=move |_| state.dialog.set(Some(Dialog::Share))>
                        {here(files::share_link)}
                    </button>
                </Deferred>
            </div>
        </header>
    }
}

/// Goes to the results without changing the fragment, which holds the design.
fn skip_to_results(event: &web_sys::MouseEvent) {
    event.prevent_default();
    if let Some(results) = html_element("results") {
        // Focusing fails only if the page is gone.
        let _ = results.focus();
    }
}

/// The areas that are opened from the head of the page.
#[component]
fn HeadAreas() -> impl IntoView {
    let state = use_app_state();
    state.areas.head_buttons().map(|area| view! { <AreaButton area/> }).collect_view()
}

/// The files of the design: open, keep, export.
#[component]
fn FileMenu() -> impl IntoView {
    view! { <Menu title=move || here(say::files)><Files/></Menu> }
}

/// Everything of the head that a small screen has no room for.
#[component]
fn AllMenu() -> impl IntoView {
    let state = use_app_state();
    view! {
        <Menu title=|| "☰".into() name=here(say::more)>
            <button disabled=move || state.history.with(|h| !h.can_redo()) on:click=move |_| state.redo()>
                {here(say::redo)}
            </button>
            <button on:click=move |_| state.dialog.set(Some(Dialog::Find))>{here(find::title)}</button>
            <HeadAreas/>
            <Files/>
            <UnitChoice/>
        </Menu>
    }
}

#[component]
fn Files() -> impl IntoView {
    let state = use_app_state();
    let begin = move |_| state.open_area(state.areas.first_visit().key);
    view! {
        <button on:click=begin>{here(say::begin_new)}</button>
        <OpenButton/>
        <button on:click=move |_| state.dialog.set(Some(Dialog::Designs))>{here(designs::title)}</button>
        <button on:click=move |_| state.open_area(state.areas.stories().key)>{here(learn::six_stories)}</button>
        <button on:click=move |_| save_design(state)>{here(files::save_file)}</button>
        <button class:hidden=move || state.with(|d| d.around.is_some()) on:click=move |_| state.open_area(state.areas.whole_box().key)>
            {here(whole::make_box)}
        </button>
        <button on:click=move |_| show_named(state, "title")>{here(say::title_and_notes)}</button>
        {part!(shop, exports, view! { <Exports/> })()}
    }
}

/// The units of lengths and angles, in a menu that shows what is chosen.
#[component]
fn UnitMenu() -> impl IntoView {
    let state = use_app_state();
    let title = move || {
        let units = state.units.get();
        let length = if units.length == LengthUnit::Inch { "in" } else { "mm" };
        let angle = if units.angle == AngleStyle::Dms { "12°30′" } else { "12.5°" };
        format!("{length} · {angle}").into()
    };
    view! { <Menu title name=here(say::units) class="menu units" stays=true><UnitChoice/></Menu> }
}

#[component]
fn UnitChoice() -> impl IntoView {
    let state = use_app_state();
    let inch = move || state.units.get().length == LengthUnit::Inch;
    let dms = move || state.units.get().angle == AngleStyle::Dms;
    view! {
        <div class="pick" role="group" aria-label=here(say::lengths_in)>
            <button aria-pressed=move || (!inch()).to_string() on:click=move |_| state.show_lengths_in(LengthUnit::Millimetre)>
                "mm"
            </button>
            <button aria-pressed=move || inch().to_string() on:click=move |_| state.show_lengths_in(LengthUnit::Inch)>
                {here(say::inch)}
            </button>
        </div>
        <div class="pick" role="group" aria-label=here(say::angles_in)>
            <button aria-pressed=move || (!dms()).to_string() aria-label=here(say::decimal_degrees)
                on:click=move |_| state.show_angles_in(AngleStyle::Decimal)>
                "12.5°"
            </button>
            <button aria-pressed=move || dms().to_string() aria-label=here(say::degrees_and_minutes)
                on:click=move |_| state.show_angles_in(AngleStyle::Dms)>
                "12°30′"
            </button>
        </div>
    }
}

/// Ctrl+Z, Ctrl+Y and Ctrl+Shift+Z anywhere but in a text that has its own undo; Escape gives up a drag.
pub(crate) fn listen_for_keys(state: AppState) {
    let options = EventListenerOptions::enable_prevent_default();
    let listener = EventListener::new_with_options(&window(), "keydown", options, move |event| {
        let Some(event) = event.dyn_ref::<web_sys::KeyboardEvent>() else { return };
        if event.key() == "Escape" {
            state.cancel();
            close_menus(None);
        }
        if let Some(area) = state.areas.opened_by_key(&event.key()).filter(|_| !is_field(event)) {
            state.open_area(area.key);
            event.prevent_default();
        }
        let command = event.ctrl_key() || event.meta_key();
        if !command && !event.alt_key() && !is_field(event) && by_single_key(state, &event.key()) {
            event.prevent_default();
        }
        if !command || in_text(event) {
            return;
        }
        match (event.key().to_ascii_lowercase().as_str(), event.shift_key()) {
            ("k", false) => state.dialog.set(Some(Dialog::Find)),
            ("z", false) => state.undo(),
            ("y", false) | ("z", true) => state.redo(),
            _ => return,
        }
        event.prevent_default();
    });
    let outside = EventListener::new(&window(), "pointerdown", |event| {
        let target = event.target().and_then(|t| t.dyn_into::<web_sys::Element>().ok());
        close_menus(target.and_then(|t| t.closest("details.menu").ok().flatten()).as_ref());
    });
    // The page lives as long as its window.
    listener.forget();
    outside.forget();
}

/// What a single key does anywhere but in a field: chooses a picture, a dog or a variant, or cuts the selected dog. Returns
/// whether it did something.
fn by_single_key(state: AppState, key: &str) -> bool {
    if state.dialog.with_untracked(Option::is_some) {
        return false;
    }
    let area = state.areas.find(state.area.get_untracked());
    let nth = key.parse::<usize>().ok().and_then(|nth| nth.checked_sub(1));
    if let Some(picture) = nth.and_then(|nth| area.pictures().get(nth)) {
        state.layout.show_picture(area.key, picture.key);
        return true;
    }
    match key {
        "/" => state.dialog.set(Some(Dialog::Find)),
        "v" | "V" => return switch_by_key(state, key == "V"),
        "g" | "G" => return gear_by_key(state, key == "G"),
        _ if area.pictures().is_empty() => return false,
        "[" => step_dog(state, -1),
        "]" => step_dog(state, 1),
        key if state.layout.inspected.get_untracked() == Inspected::Dog => {
            let (side, place) = state.chosen.get_untracked();
            return cut_by_key(state, side, place, key);
        }
        _ => return false,
    }
    true
}

/// Whether the key was pressed in a field.
fn is_field(event: &web_sys::KeyboardEvent) -> bool {
    let target = event.target().and_then(|t| t.dyn_into::<web_sys::Element>().ok());
    target.is_some_and(|t| matches!(t.tag_name().as_str(), "INPUT" | "TEXTAREA" | "SELECT"))
}

/// Whether the key was pressed in a text that is still being typed.
fn in_text(event: &web_sys::KeyboardEvent) -> bool {
    let target = event.target();
    let input = target.as_ref().and_then(|t| t.dyn_ref::<web_sys::HtmlInputElement>());
    let typing = input.is_some_and(|i| i.type_() == "text" && i.value() != i.default_value());
    typing || target.is_some_and(|t| t.dyn_ref::<web_sys::HtmlTextAreaElement>().is_some())
}
