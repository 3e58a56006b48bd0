//! Sheets over the page: one at a time, closed by a button, by Escape, or by choosing something.

use leptos::prelude::*;

use crate::state::app_state::Office;

/// Which sheet lies over the page.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Dialog {
    Share,
    Designs,
}

/// A sheet with its heading; what stands on it is made when it is opened.
#[component]
pub(crate) fn Sheet(which: Dialog, title: &'static str, children: ChildrenFn) -> impl IntoView {
    let office = Office::here();
    let element = NodeRef::<leptos::html::Dialog>::new();
    let open = Memo::new(move |_| office.dialog.get() == Some(which));
    Effect::new(move |_| {
        let Some(element) = element.get() else { return };
        if open.get() {
            office.say("");
            // Fails only if it is open already.
            let _ = element.show_modal();
        } else {
            element.close();
        }
    });
    let close = move || {
        if office.dialog.get_untracked() == Some(which) {
            office.dialog.set(None);
        }
    };
    let id = match which {
        Dialog::Share => "sheet-share",
        Dialog::Designs => "sheet-designs",
    };
    view! {
        <dialog node_ref=element aria-labelledby=id on:close=move |_| close()>
            <div class="row between"><h2 id=id>{title}</h2><button on:click=move |_| close()>"Close"</button></div>
            {move || open.get().then(|| children())}
            <p role="status" class="quiet">{move || open.get().then(|| office.said.get())}</p>
        </dialog>
    }
}
