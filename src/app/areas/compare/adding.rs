//! Which layouts are compared, and the ways to add one.

use std::borrow::Cow;

use leptos::prelude::*;
use wasm_bindgen_futures::spawn_local;

use crenel::compare::{MOST_COLUMNS, Shown, shown};
use crenel::design::{
    Design, Layout, MOST_ALTERNATIVES, Opened, RingPair, RingSpec, START_RINGS, StartRing, decode,
};
use crenel_words::page::{common, compare as say};

use crate::state::{AppState, advice, here, use_app_state};
use crate::widgets::file_picker::FilePicker;
use crate::widgets::files::read_design;
use crate::widgets::menu::{Menu, close_menus};
use crate::widgets::variants::variant_name;

/// The menu with the ways to add a layout.
#[component]
pub(super) fn Adding() -> impl IntoView {
    let state = use_app_state();
    let full = move || state.with(|d| d.alternatives.len() >= MOST_ALTERNATIVES);
    view! {
        <div class="row adding">
            <Menu title=|| here(say::add_layout) stays=true><WaysToAdd/></Menu>
            {move || full().then(|| view! { <p class="quiet">{here(say::full(MOST_ALTERNATIVES))}</p> })}
        </div>
    }
}

/// What the menu holds. A layout that was added closes it.
#[component]
fn WaysToAdd() -> impl IntoView {
    let state = use_app_state();
    let full = move || state.with(|d| d.alternatives.len() >= MOST_ALTERNATIVES);
    let link = RwSignal::new(String::new());
    let add_file = Callback::new(move |file| {
        spawn_local(async move {
            match read_design(file).await {
                Ok(opened) => add_opened(state, &opened),
                Err(why) => state.tell(here(say::file_not_added(here(why).into_owned())), true),
            }
        });
    });
    let start = RwSignal::new(START_RINGS[0].key.to_owned());
    let from_start = move |_| {
        let key = start.get_untracked();
        if let Some(start) = START_RINGS.iter().find(|start| start.key == key) {
            add(state, state.with(|d| start_pair(start, d)));
        }
    };
    let from_link = move |_| match decode(&link.get_untracked()) {
        Ok(opened) => {
            link.set(String::new());
            add_opened(state, &opened);
        }
        Err(why) => state.tell(here(say::link_not_added(here(why.says()).into_owned())), true),
    };
    let options = START_RINGS
        .iter()
        .map(|start| view! { <option value=start.key>{here(start.name())}</option> });
    view! {
        <button disabled=full on:click=move |_| add(state, state.with(pair_of))>
            {here(common::current_design)}
        </button>
        <FilePicker label=say::file says=say::add_file on_pick=add_file disabled=Signal::derive(full)/>
        <div class="way">
            <select aria-label=here(say::starting_ring) disabled=full prop:value=move || start.get()
                on:change=move |event| start.set(event_target_value(&event))>
                {options.collect_view()}
            </select>
            <button disabled=full on:click=from_start>{here(say::add_ring)}</button>
        </div>
        <div class="way">
            <input type="text" class="link" placeholder=here(say::paste_link) aria-label=here(say::link_to_add)
                autocomplete="off" disabled=full
                prop:value=move || link.get() on:input=move |event| link.set(event_target_value(&event))/>
            <button disabled=move || full() || link.with(|l| l.trim().is_empty()) on:click=from_link>
                {here(say::add_link)}
            </button>
        </div>
    }
}

/// Which of the variants are compared.
#[component]
pub(super) fn OwnVariants() -> impl IntoView {
    let state = use_app_state();
    let names = Memo::new(move |_| {
        state.with(|d| (0..d.variants.len()).map(|at| variant_name(d, at)).collect::<Vec<_>>())
    });
    let columns = Memo::new(move |_| state.with(shown));
    let full = move || columns.with(|all| all.len() >= MOST_COLUMNS);
    let choice = move |(at, name): (usize, String)| {
        let is_shown = move || columns.with(|all| all.contains(&Shown::Variant(at)));
        // What everything is compared with stays.
        let is_first = move || columns.with(|all| all.first() == Some(&Shown::Variant(at)));
        let turn = move |_| {
            let to = !untrack(is_shown);
            state.change(|d| d.variants.set_compared(at, to));
        };
        view! {
            <button aria-pressed=move || is_shown().to_string()
                disabled=move || is_first() || (full() && !is_shown()) on:click=turn>
                {name}
            </button>
        }
    };
    let choices = move || names.get().into_iter().enumerate().map(choice).collect_view();
    let some = Memo::new(move |_| names.with(|names| !names.is_empty()));
    move || {
        some.get().then(|| {
            view! {
                <div class="row own-variants" role="group" aria-label=here(say::variants_shown)>
                    <span class="quiet">{here(say::variants_shown)}</span>
                    {choices}
                </div>
            }
        })
    }
}

/// The design with something to compare it with: where it has nothing, the layout that is offered.
pub(super) fn beside(design: &Design) -> Cow<'_, Design> {
    if shown(design).len() > 1 {
        return Cow::Borrowed(design);
    }
    Cow::Owned(Design { alternatives: vec![offered(design)], ..design.clone() })
}

/// The rings of a design with every second dog at half height or, if they are so already, with all dogs tall.
/// Rings that are listed dog by dog get a starting ring beside them.
pub(super) fn offered(design: &Design) -> RingPair {
    let heights = |ring: &RingSpec| match &ring.layout {
        Layout::Even(even) => Some(even.heights.clone()),
        Layout::Measured(_) => None,
    };
    let start = |key| {
        let found = START_RINGS.iter().find(|start| start.key == key);
        start_pair(found.unwrap_or(&START_RINGS[0]), design)
    };
    let Some(own) = heights(&design.a).filter(|_| heights(&design.b).is_some()) else {
        return start("six-half");
    };
    let (title, now) = if own.len() > 1 {
        (say::all_tall(), vec![1.0])
    } else {
        (say::every_second_lower(), vec![1.0, 0.5])
    };
    let with = |ring: &RingSpec| {
        let mut ring = ring.clone();
        if let Layout::Even(even) = &mut ring.layout {
            even.heights.clone_from(&now);
        }
        ring
    };
    RingPair { title: here(title).into_owned(), a: with(&design.a), b: with(&design.b) }
}

fn pair_of(design: &Design) -> RingPair {
    RingPair { title: design.title.clone(), a: design.a.clone(), b: design.b.clone() }
}

/// A starting ring on both sides, with the diameters, undercut and edge breaks of the current design, so that only
/// the layout differs.
fn start_pair(start: &StartRing, current: &Design) -> RingPair {
    let mut pair =
        RingPair { title: here(start.name()).into_owned(), a: start.ring(), b: start.ring() };
    for (ring, like) in [(&mut pair.a, &current.a), (&mut pair.b, &current.b)] {
        ring.inner_diameter_mm = like.inner_diameter_mm;
        ring.outer_diameter_mm = like.outer_diameter_mm;
        if let (Layout::Even(even), Some(dog)) = (&mut ring.layout, like.to_found().dogs.first()) {
            even.back_cut_drive_deg = dog.back_cut.drive.degrees();
            even.back_cut_coast_deg = dog.back_cut.coast.degrees();
            even.edge_break_mm = dog.edge_break_mm;
        }
    }
    pair
}

/// Adds the rings of a file or a link, and says what was odd about it.
fn add_opened(state: AppState, opened: &Opened) {
    add(state, pair_of(&opened.design));
    if !opened.findings.is_empty() {
        state.tell(here(say::added_with(here(advice(&opened.findings)).into_owned())), true);
    }
}

pub(super) fn add(state: AppState, pair: RingPair) {
    close_menus(None);
    state.say(here(say::added(pair.title.clone())));
    state.change(|d| {
        if d.alternatives.len() < MOST_ALTERNATIVES {
            d.alternatives.push(pair);
        }
    });
}

/// Exchanges the rings of the current design with those beside it.
pub(super) fn swap(design: &mut Design, at: usize) {
    let current = pair_of(design);
    if let Some(pair) = design.alternatives.get_mut(at) {
        let RingPair { title, a, b } = std::mem::replace(pair, current);
        design.title = title;
        design.replace_rings(a, b);
    }
}
