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
    let choose = move |at: String| {
        let at = at.parse::<usize>().ok();
        if let Some((meaning, _)) = at.and_then(|at| words.get(at)) {
            on_choose.run(*meaning);
        }
    };
    view! {
        <Picked label text=Signal::derive(picked) value=Signal::derive(chosen) on_choose=Callback::new(choose)>
            {options.collect_view()}
        </Picked>
    }
}

/// A select whose text wraps where a line is too short for it. The select lies over the text, which no browser wraps
/// in a select of its own. The select has an `aria-label`: what is shown would be part of its name otherwise.
#[component]
pub(crate) fn Picked(
    label: Cow<'static, str>,
    /// What is shown.
    text: Signal<Cow<'static, str>>,
    /// The value of the option that is chosen.
    value: Signal<String>,
    /// Takes the value of an option.
    on_choose: Callback<String>,
    /// The options.
    children: Children,
) -> impl IntoView {
    view! {
        <label class="field choose">
            <span>{label.clone()}</span>
            <span class="picked" data-text=move || text.get()>
                <select aria-label=label prop:value=move || value.get()
                    on:change=move |event| on_choose.run(event_target_value(&event))>
                    {children()}
                </select>
            </span>
        </label>
    }
}
