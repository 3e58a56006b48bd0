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
    let options = words.iter().enumerate().map(|(at, (meaning, word))| {
        view! { <option value=at.to_string() selected=move || value.get() == *meaning>{here(*word)}</option> }
    });
    let chosen = move || {
        words
            .iter()
            .position(|(meaning, _)| *meaning == value.get())
            .unwrap_or_default()
            .to_string()
    };
    let choose = move |event| {
        let at = event_target_value(&event).parse::<usize>().ok();
        if let Some((meaning, _)) = at.and_then(|at| words.get(at)) {
            on_choose.run(*meaning);
        }
    };
    view! {
        <label class="field choose">
            <span>{label}</span>
            <select prop:value=chosen on:change=choose>{options.collect_view()}</select>
        </label>
    }
}
