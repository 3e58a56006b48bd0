//! The gears of the whole gearbox, above the stages: how each stands, and which one is open.

use std::sync::Arc;

use leptos::prelude::*;

use crenel::design::{Design, ShiftFrom};
use crenel::finding::Class;
use crenel::gearset::{Gathering, GearMark};
use crenel_words::page::whole as say;

use crate::deferred::schedule;
use crate::part::part;
use crate::state::{AppState, Boxed, here, use_app_state};

/// The bar, and the room for it until its code is there. A pair alone has none.
#[component]
pub(crate) fn GearBarPlace() -> impl IntoView {
    let state = use_app_state();
    let in_box = Memo::new(move |_| state.with(|d| d.around.is_some()));
    let bar = part!(work, gear_bar, view! { <GearBar/> });
    move || {
        in_box
            .get()
            .then(|| view! { <nav class="gear-bar" aria-label=here(say::gears)>{bar()}</nav> })
    }
}

/// Opens the next gear, or the one before.
pub(crate) fn gear_by_key(state: AppState, back: bool) -> bool {
    let gears = state.with(|d| Some((d.gear_open()?, d.around.as_ref()?.gears())));
    let Some((open, gears)) = gears.filter(|(_, gears)| *gears > 1) else { return false };
    show_gear(state, (open + if back { gears - 1 } else { 1 }) % gears);
    true
}

/// Opens the pair of a gear, shifted up into it.
pub(crate) fn show_gear(state: AppState, gear: usize) {
    state.open_gear(gear, if gear == 0 { ShiftFrom::Down } else { ShiftFrom::Up });
}

#[component]
fn GearBar() -> impl IntoView {
    let state = use_app_state();
    watch(state);
    let count = Memo::new(move |_| state.with(|d| d.around.as_ref().map_or(0, |a| a.gears())));
    let gravest = Memo::new(move |_| state.boxed.with(|b| b.as_ref().map(|b| b.worst.class)));
    let area = state.areas.whole_box().key;
    let whole = move || (state.area.get() == area).then_some("page");
    view! {
        <button class="whole" aria-current=whole on:click=move |_| state.open_area(area)>
            {here(say::title)}
            {move || gravest.get().filter(|class| *class != Class::Within).map(|class| view! {
                <span class="stage-mark" data-tone=class.tone() aria-hidden="true">{class.mark()}</span>
            })}
        </button>
        <For each=move || 0..count.get() key=|gear| *gear children=move |gear| view! { <GearButton gear/> }/>
    }
}

#[component]
fn GearButton(gear: usize) -> impl IntoView {
    let state = use_app_state();
    let mark = Memo::new(move |_| -> Option<GearMark> {
        state.boxed.with(|boxed| boxed.as_ref()?.marks.get(gear).copied())
    });
    let is_worst = Memo::new(move |_| {
        state.boxed.with(|boxed| {
            let worst = boxed.as_ref().map(|boxed| &boxed.worst);
            worst.is_some_and(|worst| worst.gear == Some(gear) && worst.class != Class::Within)
        })
    });
    let open = move || state.with(|d| d.gear_open() == Some(gear)).to_string();
    let label = move || match mark.get() {
        Some(mark) => here(say::gear_stands(gear, mark.count)),
        None => here(say::gear(gear)),
    };
    view! {
        <button class="gear" class:worst=is_worst aria-pressed=open aria-label=label
            on:click=move |_| show_gear(state, gear)>
            <span aria-hidden="true">{gear + 1}</span>
            {move || mark.get().map(|mark| view! {
                <span class="stage-mark" data-tone=mark.class.tone() aria-hidden="true">
                    {mark.class.mark()}{Some(mark.count).filter(|count| *count > 1)}
                </span>
            })}
        </button>
    }
}

/// Works the gearbox out whenever the settled design has changed, a gear at a time.
fn watch(state: AppState) {
    let newest = StoredValue::new(0_u32);
    let settled = Memo::new(move |_| state.history.with(|h| h.settled().design.clone()));
    Effect::new(move |_| {
        let turn = newest.with_value(|newest| newest.wrapping_add(1));
        newest.set_value(turn);
        let before = state.boxed.get_untracked();
        let begun =
            |design: &Design| Gathering::around(design, before.as_ref().map(|b| &b.analysis));
        match settled.with(begun) {
            Some(gathering) => {
                carry_on(state, gathering, Box::new(move || newest.try_get_value() == Some(turn)));
            }
            None => state.boxed.set(None),
        }
    });
}

/// Works out the next gear a moment later, until something newer has begun.
fn carry_on(state: AppState, mut gathering: Gathering, is_newest: Box<dyn Fn() -> bool>) {
    schedule(move || {
        if !is_newest() {
            return;
        }
        if gathering.step() {
            return carry_on(state, gathering, is_newest);
        }
        state.boxed.set(Some(Arc::new(Boxed::of(gathering.finish()))));
    });
}
