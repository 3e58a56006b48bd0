//! An entry for a number that is not in the design, and may be left empty.

use std::borrow::Cow;

use crenel::finding::Finding;
use crenel::units::Quantity;
use crenel_words::Phrase;
use crenel_words::page::common as say;
use leptos::prelude::*;

use crate::state::{here, use_app_state};

/// A number of at least 0, or nothing.
#[component]
pub(crate) fn OptionalNumber(
    #[prop(into)] label: Cow<'static, str>,
    quantity: Quantity,
    value: Signal<Option<f64>>,
    on_change: Callback<Option<f64>>,
    /// What is shown while there is none.
    #[prop(default = say::no_limit)]
    empty: Phrase,
    /// What counts in its place then, where something does.
    #[prop(optional)]
    instead: Option<Signal<Option<f64>>>,
) -> impl IntoView {
    let state = use_app_state();
    let wrong = RwSignal::new(None::<(String, String)>);
    let text = move || {
        let shown = value.get().map(|value| quantity.format(value, state.units.get()));
        wrong.get().map(|(text, _)| text).or(shown).unwrap_or_default()
    };
    let placeholder = move || match instead.and_then(|instead| instead.get()) {
        Some(number) => quantity.format(number, state.units.get()).into(),
        None => here(empty),
    };
    let why = move || wrong.get().map(|(_, why)| why);
    let typed = move |text: String| {
        let read = quantity.parse(&text, state.units.get_untracked());
        let refuse = |why: String| wrong.set(Some((text.clone(), why)));
        match read {
            _ if text.trim().is_empty() => {
                wrong.set(None);
                on_change.run(None);
            }
            Ok(number) if number >= 0.0 => {
                wrong.set(None);
                on_change.run(Some(number));
            }
            Ok(_) => refuse(here(say::not_negative).into_owned()),
            Err(error) => refuse(Finding::from(error).whole(untrack(|| state.reader()))),
        }
    };
    view! {
        <label class="field">
            <span>{label}</span>
            <span class="entry">
                <input type="text" inputmode="decimal" autocomplete="off" placeholder=placeholder
                    prop:value=text aria-invalid=move || why().is_some().to_string()
                    on:change=move |event| typed(event_target_value(&event))/>
                <span class="unit">{move || quantity.suffix(state.units.get())}</span>
            </span>
            <span class="wrong" aria-live="polite">{why}</span>
        </label>
    }
}
