//! A button that opens a file.

use leptos::prelude::*;

use crenel_words::Phrase;

use crate::state::here;

/// A button with which the user picks a file.
#[component]
pub(crate) fn FilePicker(
    label: Phrase,
    /// What is read aloud for the input that the button stands for.
    says: Phrase,
    on_pick: Callback<gloo_file::File>,
    /// What kind of file: JSON, where nothing else is said.
    #[prop(default = ".json,application/json")]
    accept: &'static str,
    /// The camera of a phone, where the file is a picture to be taken.
    #[prop(default = None)]
    capture: Option<&'static str>,
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
        <input type="file" accept=accept capture=capture hidden node_ref=input on:change=picked
            aria-label=here(says)/>
    }
}
