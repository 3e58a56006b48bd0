//! The variants of the plan: their names, what each does in one line, and the switch between them.

use crenel::design::{Design, MOST_VARIANTS, VARIANT_NAME_LIMIT};
use crenel::rework::plan_summary;
use crenel_words::Message;
use crenel_words::page::variants as say;
use leptos::prelude::*;

use super::focus_first;
use crate::state::{AppState, here, use_app_state};
use crate::widgets::variants::{short_name, switch_variant, variant_name};

/// What a row shows.
#[derive(Clone, PartialEq)]
struct Row {
    name: String,
    given: String,
    is_current: bool,
    own_rings: bool,
    summary: Message,
}

fn rows(design: &Design) -> Vec<Row> {
    let row = |(at, variant): (usize, &crenel::design::Variant)| {
        let is_current = design.variants.current() == Some(at);
        let other = || design.to_variant(at).as_ref().map(plan_summary);
        let summary = if is_current { Some(plan_summary(design)) } else { other() };
        Some(Row {
            name: variant_name(design, at),
            given: variant.name.clone(),
            is_current,
            own_rings: design.variants.has_own_rings(at),
            summary: summary?,
        })
    };
    design.variants.iter().enumerate().filter_map(row).collect()
}

#[component]
pub(super) fn VariantList() -> impl IntoView {
    let state = use_app_state();
    let rows = Memo::new(move |_| state.with(rows));
    let count = Memo::new(move |_| rows.with(Vec::len));
    let add = move |_| {
        let name = here(say::untitled(count.get_untracked().max(1))).into_owned();
        let first =
            if state.with(Design::is_planned) { say::as_planned() } else { say::as_found() };
        let first = here(first).into_owned();
        put(state, |design| design.add_variant(first, name));
    };
    view! {
        <fieldset class="panel variants">
            <legend>{here(say::title)}</legend>
            <p class="quiet">
                {move || here(if count.get() == 0 { say::none_yet } else { say::about })}
            </p>
            <ol class="variant-list">
                <For each=move || 0..count.get() key=|at| *at children=move |at| view! { <VariantRow at rows/> }/>
            </ol>
            <button class="wide" id=ADD on:click=add>{here(say::add)}</button>
        </fieldset>
    }
}

const ADD: &str = "add-variant";

fn id(at: usize, what: &str) -> String {
    format!("variant-{}-{what}", at + 1)
}

/// Adds a variant, says so, and goes to its name. Says why where there is no room.
fn put(state: AppState, add: impl FnOnce(&mut Design) -> bool) {
    let mut design = state.with(Design::clone);
    if !add(&mut design) {
        return state.tell(here(say::full(MOST_VARIANTS)), true);
    }
    state.change(|d| *d = design);
    let Some(at) = state.with(|d| d.variants.current()) else { return };
    state.say(here(say::added(state.with(|d| variant_name(d, at)))));
    focus_first(&[id(at, "name")]);
}

#[component]
fn VariantRow(at: usize, rows: Memo<Vec<Row>>) -> impl IntoView {
    let state = use_app_state();
    let row = Memo::new(move |_| rows.with(|rows| rows.get(at).cloned()));
    let with = move |read: fn(&Row) -> bool| row.with(|row| row.as_ref().is_some_and(read));
    let name = move || row.with(|row| row.as_ref().map(|row| row.name.clone()).unwrap_or_default());
    let given = move || row.with(|row| row.as_ref().map(|row| row.given.clone()));
    let is_current = move || with(|row| row.is_current);
    let summary = move || row.with(|row| Some(row.as_ref()?.summary.show(state.reader())));
    let says =
        move || here(if is_current() { say::is_current(name()) } else { say::switch_to(name()) });
    let rename = move |event| {
        let text: String = event_target_value(&event);
        state.change(|d| d.variants.rename(at, text.trim().to_owned()));
    };
    let duplicate = move |_| {
        let copy = short_name(say::copy_of(untrack(name)));
        put(state, |design| design.duplicate_variant(at, copy));
    };
    let remove = move |_| {
        let gone = untrack(name);
        state.change(|d| d.remove_variant(at));
        state.say(here(say::removed(gone)));
        focus_first(&[id(at, "remove"), id(at.saturating_sub(1), "remove"), ADD.to_owned()]);
    };
    view! {
        <li class:current=is_current>
            <div class="row head">
                <button class="switch" aria-pressed=move || is_current().to_string() aria-label=says
                    on:click=move |_| switch_variant(state, at)>
                    {move || here(if is_current() { say::current } else { say::switch })}
                </button>
                <input id=id(at, "name") type="text" autocomplete="off" maxlength=VARIANT_NAME_LIMIT.to_string()
                    aria-label=here(say::name_of(at)) placeholder=here(say::untitled(at))
                    prop:value=given on:change=rename/>
                <span class="buttons">
                    <button aria-label=move || here(say::copy_this(name())) on:click=duplicate>
                        {here(say::copy)}
                    </button>
                    <button id=id(at, "remove") aria-label=move || here(say::remove(name()))
                        title=move || here(say::remove(name())) on:click=remove>
                        "×"
                    </button>
                </span>
            </div>
            <p class="quiet">{summary}</p>
            {move || with(|row| row.own_rings).then(|| view! { <p class="quiet">{here(say::has_own_rings)}</p> })}
        </li>
    }
}
