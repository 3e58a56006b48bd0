//! A choice among a few words.

use std::borrow::Cow;

use crenel_words::Words;
use leptos::prelude::*;

use crate::state::here;

/// A choice among a few words.
#[component]
pub(crate) fn Choose<
    T: Copy + PartialEq + Send + Sync + 'static,
    W: Words + Copy + Sync + 'static,
>(
    #[prop(into)] label: Cow<'static, str>,
    words: &'static [(T, W)],
    #[prop(into)] value: Signal<T>,
    on_choose: Callback<T>,
) -> impl IntoView {
    let options = words.iter().enumerate().map(move |(at, (meaning, word))| {
        view! { <option value=at.to_string() selected=move || value.get() == *meaning>{here(*word)}</option> }
    });
    let chosen = move || {
        words
            .iter()
            .position(|(meaning, _)| *meaning == value.get())
            .unwrap_or_default()
            .to_string()
    };
    let picked = move || {
        let picked = words.iter().find(|(meaning, _)| *meaning == value.get());
        picked.map_or(Cow::Borrowed(""), |(_, word)| here(*word))
    };
    let choose = move |event| {
        let at = event_target_value(&event).parse::<usize>().ok();
        if let Some((meaning, _)) = at.and_then(|at| words.get(at)) {
            on_choose.run(*meaning);
        }
    };
    view! {
        <label class="field choose">
            <span>{label.clone()}</span>
            <Picked text=Signal::derive(picked)>
                <select aria-label=label prop:value=chosen on:change=choose>{options.collect_view()}</select>
            </Picked>
        </label>
    }
}

/// A select whose text wraps where a line is too short for it. The select lies over the text, which no browser wraps
/// in a select of its own. The select has an `aria-label`: what is shown would be part of its name otherwise.
#[component]
pub(crate) fn Picked(text: Signal<Cow<'static, str>>, children: Children) -> impl IntoView {
    view! { <span class="picked" data-text=move || text.get()>{children()}</span> }
}
