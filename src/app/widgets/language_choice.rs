//! The choice of a language: both Englishes, and any other from a file.

use crenel_words::Language;
use crenel_words::page::{files, frame as say};
use leptos::prelude::*;
use wasm_bindgen_futures::spawn_local;

use crate::state::{
    AppState, choose_language, here, language, languages, open_language, remove_language,
    use_app_state,
};
use crate::widgets::file_picker::FilePicker;

/// The languages of the page. Choosing one opens the page again; the work is kept.
#[component]
pub(crate) fn LanguageChoice() -> impl IntoView {
    let state = use_app_state();
    let open = Callback::new(move |file| spawn_local(read(state, file)));
    let button = |(one, name): (Language, &'static str)| {
        let pressed = (one == language()).to_string();
        view! { <button aria-pressed=pressed lang=one.tag() on:click=move |_| choose_language(one)>{name}</button> }
    };
    let remove = |(one, name): (Language, &'static str)| {
        let label = here(say::remove_language(name.to_owned()));
        matches!(one, Language::Loaded(_))
            .then(|| view! { <button on:click=move |_| remove_language()>{label}</button> })
    };
    view! {
        <div class="pick" role="group" aria-label=here(say::language)>
            {languages().into_iter().map(button).collect_view()}
        </div>
        <FilePicker label=say::open_language says=say::open_language on_pick=open/>
        {languages().into_iter().filter_map(remove).collect_view()}
    }
}

async fn read(state: AppState, file: gloo_file::File) {
    let name = file.name();
    let text = gloo_file::futures::read_as_text(&file).await;
    let text = text.map_err(|why| files::browser_cannot_read(why.to_string()));
    if let Err(why) = text.and_then(|text| open_language(&text)) {
        state.tell(here(vec![say::language_not_opened(name), why]), true);
    }
}
