//! The index plates of the shop.

use crenel_words::page::papers as say;
use leptos::prelude::*;

use crenel::shop::indexing::Plates;

use crate::state::{here, use_app_state};

/// The place under which a text that was refused is kept.
const KEY: &str = "plates";

/// The hole circles of every plate that the shop has, as one line of text.
#[component]
pub(super) fn PlatesField() -> impl IntoView {
    let state = use_app_state();
    // A text that was not accepted, and the plates at that time.
    let wrong = RwSignal::new(state.refused(KEY));
    let refuse = move |refused: Option<(String, String)>| {
        state.refuse(KEY, refused.clone());
        wrong.set(refused);
    };
    let kept = move || state.with(|d| d.plates.to_string());
    let refused = move || wrong.get().filter(|(_, kept_then)| *kept_then == kept());
    let text = move || refused().map_or_else(kept, |(text, _)| text);
    let why = move || refused().map(|_| here(say::plates_wrong));
    let typed = move |event| {
        let text: String = event_target_value(&event);
        match Plates::read(&text) {
            Some(plates) => {
                refuse(None);
                state.change(|d| d.plates = plates);
            }
            None => refuse(Some((text, kept()))),
        }
    };
    view! {
        <div class="field">
            <label for="f-plates">{here(say::plates)}</label>
            <span class="entry">
                <input id="f-plates" type="text" aria-describedby="f-plates-why" autocomplete="off" value=text
                    prop:value=text on:change=typed
                    aria-invalid=move || why().is_some().to_string()/>
            </span>
            <span class="quiet pattern" id="f-plates-why">{here(say::plates_how)}</span>
            <span class="wrong" aria-live="polite">{why}</span>
        </div>
    }
}
