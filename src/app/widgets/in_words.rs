//! A number chosen by the words for it.

use std::borrow::Cow;

use leptos::prelude::*;

use crenel::design::Preset;
use crenel::units::Quantity;

use crenel_words::page::common as say;
use crenel_words::{Phrase, Value};

use crate::state::{here, use_app_state};
use crate::widgets::choose::Picked;

/// A choice among words, each with its number and the source of that.
#[component]
pub(crate) fn InWords(
    #[prop(into)] label: Cow<'static, str>,
    words: &'static [Preset],
    value: Signal<Option<f64>>,
    on_choose: Callback<f64>,
    quantity: Quantity,
    /// The words while there is no number.
    #[prop(default = say::as_the_number_says)]
    missing: Phrase,
) -> impl IntoView {
    let state = use_app_state();
    let none = move || here(if value.get().is_none() { missing } else { say::as_the_number_says });
    let standing = move || value.get().and_then(|v| words.iter().position(|w| w.value == v));
    let shown = move |w: &Preset| {
        say::preset(w.name(), Value::Number(quantity, w.value)).show(state.reader())
    };
    let picked = move || standing().map_or_else(none, |at| shown(&words[at]).into());
    let options = words.iter().enumerate().map(move |(at, w)| {
        view! { <option value=at.to_string()>{move || shown(w)}</option> }
    });
    let chosen = move || standing().map_or("none".to_owned(), |at| at.to_string());
    let choose = move |at: String| {
        let at = at.parse::<usize>().ok();
        if let Some(preset) = at.and_then(|at| words.get(at)) {
            on_choose.run(preset.value);
        }
    };
    view! {
        <Picked label text=Signal::derive(picked) value=Signal::derive(chosen) on_choose=Callback::new(choose)>
            <option value="none">{none}</option>
            {options.collect_view()}
        </Picked>
        <p class="quiet source">{move || standing().map(|at| here(words[at].from_where()))}</p>
    }
}
