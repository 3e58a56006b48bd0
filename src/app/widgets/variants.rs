//! The variants of the design: which is the current one, and the switch to another.

use leptos::prelude::*;

use crenel::design::{Design, VARIANT_NAME_LIMIT};
use crenel_words::Message;
use crenel_words::page::variants as say;

use crate::state::{AppState, here, use_app_state};
use crate::widgets::menu::Menu;

/// The name of a variant; its number where it has none.
pub(crate) fn variant_name(design: &Design, at: usize) -> String {
    let name = design.variants.iter().nth(at).map_or("", |variant| variant.name.trim());
    if name.is_empty() { here(say::untitled(at)).into_owned() } else { name.to_owned() }
}

/// A name as long as a variant can have.
pub(crate) fn short_name(name: Message) -> String {
    here(name).chars().take(VARIANT_NAME_LIMIT).collect()
}

/// Makes a variant the current one, and says so.
pub(crate) fn switch_variant(state: AppState, to: usize) {
    if state.with(|d| d.variants.current() != Some(to) && to < d.variants.len()) {
        state.change(|d| _ = d.switch_variant(to));
        state.say(here(say::switched(state.with(|d| variant_name(d, to)))));
    }
}

/// Switches by a key to the next variant, or to the one before. Returns whether there is another one.
pub(crate) fn switch_by_key(state: AppState, back: bool) -> bool {
    let (count, current) = state.with(|d| (d.variants.len(), d.variants.current()));
    let by = if back { count.saturating_sub(1) } else { 1 };
    let Some(current) = current.filter(|_| count > 1) else { return false };
    switch_variant(state, (current + by) % count);
    true
}

/// The current variant, as a menu of all of them; nothing while there is none.
#[component]
pub(crate) fn VariantMenu() -> impl IntoView {
    let state = use_app_state();
    let names = Memo::new(move |_| {
        state.with(|d| (0..d.variants.len()).map(|at| variant_name(d, at)).collect::<Vec<_>>())
    });
    let current = Memo::new(move |_| state.with(|d| d.variants.current()));
    let title = move || {
        let name = current.get().and_then(|at| names.with(|names| names.get(at).cloned()));
        name.unwrap_or_default().into()
    };
    let choices = move || {
        let choice = |(at, name): (usize, String)| {
            view! {
                <button aria-pressed=move || (current.get() == Some(at)).to_string()
                    on:click=move |_| switch_variant(state, at)>
                    {name}
                </button>
            }
        };
        names.get().into_iter().enumerate().map(choice).collect_view()
    };
    let some = Memo::new(move |_| current.get().is_some());
    move || {
        some.get().then(|| {
            view! { <Menu title name=here(say::menu) class="menu variants">{choices}</Menu> }
        })
    }
}
