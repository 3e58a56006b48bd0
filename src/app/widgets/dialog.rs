//! Sheets over the page: one at a time, closed by a button, by Escape, or by choosing something.

use leptos::prelude::*;

use crenel_words::Phrase;
use crenel_words::page::common;

use crate::state::{Dialog, here, use_app_state};

/// A sheet with its heading. `show` builds its content when it is opened.
#[component]
pub(crate) fn Sheet(which: Dialog, title: Phrase, show: fn() -> AnyView) -> impl IntoView {
    let state = use_app_state();
    let element = NodeRef::<leptos::html::Dialog>::new();
    let open = Memo::new(move |_| state.dialog.get() == Some(which));
    Effect::new(move |_| {
        let Some(element) = element.get() else { return };
        if open.get() {
            state.say("");
            // Fails only if it is open already.
            let _ = element.show_modal();
        } else {
            element.close();
        }
    });
    let close = move || {
        if state.dialog.get_untracked() == Some(which) {
            state.dialog.set(None);
        }
    };
    let id = match which {
        Dialog::Share => "sheet-share",
        Dialog::Designs => "sheet-designs",
        Dialog::Find => "sheet-find",
        Dialog::Figure => "sheet-figure",
    };
    view! {
        <dialog node_ref=element aria-labelledby=id on:close=move |_| close()>
            <div class="row between">
                <h2 id=id>{here(title)}</h2>
                <button on:click=move |_| close()>{here(common::close)}</button>
            </div>
            {move || open.get().then(show)}
            <p role="status" class="quiet">{move || open.get().then(|| state.said.get())}</p>
        </dialog>
    }
}
