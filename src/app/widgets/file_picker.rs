//! A button that opens a file.

use leptos::prelude::*;

use crenel_words::Phrase;

use crate::state::here;

/// A button with which the user picks a JSON file.
#[component]
pub(crate) fn FilePicker(
    label: Phrase,
    /// What is read aloud for the input that the button stands for.
    says: Phrase,
    on_pick: Callback<gloo_file::File>,
    #[prop(optional, into)] disabled: Signal<bool>,
) -> impl IntoView {
    let input = NodeRef::<leptos::html::Input>::new();
    let pick = move |_| {
        if let Some(input) = input.get_untracked() {
            input.click();
        }
    };
    let picked = move |_| {
        let Some(input) = input.get_untracked() else { return };
        if let Some(file) = input.files().and_then(|list| list.get(0)) {
            on_pick.run(file.into());
        }
        // So that the same file can be opened again.
        input.set_value("");
    };
    view! {
        <button disabled=disabled on:click=pick>{here(label)}</button>
        <input type="file" accept=".json,application/json" hidden node_ref=input on:change=picked
            aria-label=here(says)/>
    }
}
