//! The head of the page: title, undo, units, files, share.

use gloo_events::{EventListener, EventListenerOptions};
use leptos::prelude::*;
use wasm_bindgen::JsCast as _;

use crenel::design::History;
use crenel::units::{AngleStyle, DisplayUnits, LengthUnit};

use crate::deferred::Later;
use crate::page::skip_to_results;
use crate::state::app_state::{Area, Office};
use crate::widgets::dialog::Dialog;
use crate::widgets::files::{ExportMenu, OpenButton, close_menu, save_design};
use crate::widgets::tour;

#[component]
pub(crate) fn Header() -> impl IntoView {
    let office = Office::here();
    // On a small screen what is seldom used is shown when asked for, and goes with another part of the job.
    let more = RwSignal::new(false);
    Effect::new(move |_| {
        office.area.track();
        more.set(false);
    });
    view! {
        <header>
            <a class="skip" href="#results" on:click=move |event| skip_to_results(&event)>"Skip to the results"</a>
            <h1>"Crenel" <span class="quiet">" gearbox dogs"</span></h1>
            // Its room is there before it is, so that nothing moves.
            <p class="offline quiet" class:shown=move || office.offline.get() title="This browser keeps the whole app: it opens without a network.">"✓"<span>" works offline"</span></p>
            <Later>
                <label class="title">
                    <span class="sr">"Title of the design"</span>
                    <input type="text" maxlength="120" placeholder="Title of the design" prop:value=move || office.with(|d| d.title.clone())
                        on:change=move |event| office.change(|d| d.title = event_target_value(&event))/>
                </label>
            </Later>
            <div class="tools">
                // At once, so that none of them moves when another comes.
                <Later>
                    <button on:click=move |_| undo(office) disabled=move || office.history.with(|h| !h.can_undo())>"Undo"</button>
                    <button on:click=move |_| redo(office) disabled=move || office.history.with(|h| !h.can_redo())>"Redo"</button>
                    <button class="more" aria-controls="more-tools" aria-expanded=move || more.get().to_string() on:click=move |_| more.update(|more| *more = !*more)>"More"</button>
                    <div class="more-tools" id="more-tools" class:shown=more><MoreTools/></div>
                    <button class="main" on:click=move |_| office.dialog.set(Some(Dialog::Share))>"Share link"</button>
                </Later>
            </div>
        </header>
    }
}

/// What a small screen shows only when asked for.
#[component]
fn MoreTools() -> impl IntoView {
    let office = Office::here();
    view! {
        <Later><UnitChoice/></Later>
        <Later>
            <OpenButton/>
            <button on:click=move |_| office.dialog.set(Some(Dialog::Designs))>"Designs"</button>
            <button on:click=move |_| save_design(office)>"Save file"</button>
        </Later>
        <Later>
            <ExportMenu/>
            <button aria-current=move || (office.area.get() == Area::Help).then_some("page") on:click=move |_| office.area.set(Area::Help)>"Help"</button>
        </Later>
    }
}

#[component]
fn UnitChoice() -> impl IntoView {
    let office = Office::here();
    let inch = move || office.units.get().length == LengthUnit::Inch;
    let dms = move || office.units.get().angle == AngleStyle::Dms;
    let length =
        move |length| office.show_in(DisplayUnits { length, ..office.units.get_untracked() });
    let angle = move |angle| office.show_in(DisplayUnits { angle, ..office.units.get_untracked() });
    view! {
        <div class="pick" role="group" aria-label="Lengths in">
            <button aria-pressed=move || (!inch()).to_string() on:click=move |_| length(LengthUnit::Millimetre)>"mm"</button>
            <button aria-pressed=move || inch().to_string() on:click=move |_| length(LengthUnit::Inch)>"inch"</button>
        </div>
        <div class="pick" role="group" aria-label="Angles in">
            <button aria-pressed=move || (!dms()).to_string() aria-label="12.5°, decimal degrees" on:click=move |_| angle(AngleStyle::Decimal)>"12.5°"</button>
            <button aria-pressed=move || dms().to_string() aria-label="12°30′, degrees and minutes" on:click=move |_| angle(AngleStyle::Dms)>"12°30′"</button>
        </div>
    }
}

fn undo(office: Office) {
    if office.step(History::undo) {
        office.say("Undone.");
    }
}

fn redo(office: Office) {
    if office.step(History::redo) {
        office.say("Done again.");
    }
}

/// Ctrl+Z, Ctrl+Y and Ctrl+Shift+Z anywhere but in a text that has its own undo; Escape gives up a drag.
pub(crate) fn listen_for_keys(office: Office) {
    let options = EventListenerOptions::enable_prevent_default();
    let listener = EventListener::new_with_options(&window(), "keydown", options, move |event| {
        let Some(event) = event.dyn_ref::<web_sys::KeyboardEvent>() else { return };
        if event.key() == "Escape" {
            office.cancel();
            close_menu();
            tour::leave(office);
        }
        if event.key() == "?" && !is_field(event) {
            office.area.set(Area::Help);
            event.prevent_default();
        }
        let command = event.ctrl_key() || event.meta_key();
        if !command || in_text(event) {
            return;
        }
        match (event.key().to_ascii_lowercase().as_str(), event.shift_key()) {
            ("z", false) => undo(office),
            ("y", false) | ("z", true) => redo(office),
            _ => return,
        }
        event.prevent_default();
    });
    let outside = EventListener::new(&window(), "pointerdown", |event| {
        let target = event.target().and_then(|t| t.dyn_into::<web_sys::Element>().ok());
        let inside = target.and_then(|t| t.closest("#export").ok().flatten()).is_some();
        if !inside {
            close_menu();
        }
    });
    // The page lives as long as its window.
    listener.forget();
    outside.forget();
}

/// Whether the key goes into a field.
fn is_field(event: &web_sys::KeyboardEvent) -> bool {
    let target = event.target().and_then(|t| t.dyn_into::<web_sys::Element>().ok());
    target.is_some_and(|t| matches!(t.tag_name().as_str(), "INPUT" | "TEXTAREA" | "SELECT"))
}

/// Whether the key goes into a text that somebody is still typing.
fn in_text(event: &web_sys::KeyboardEvent) -> bool {
    let target = event.target();
    let input = target.as_ref().and_then(|t| t.dyn_ref::<web_sys::HtmlInputElement>());
    let typing = input.is_some_and(|i| i.type_() == "text" && i.value() != i.default_value());
    typing || target.is_some_and(|t| t.dyn_ref::<web_sys::HtmlTextAreaElement>().is_some())
}
