//! Which part is at fault by what was read, the shims that bring the gearbox back, and where to cut first.

use std::sync::Arc;
use std::time::Duration;

use leptos::prelude::*;

use crenel::gearset::{
    CutJob, GearCut, Restored, Suspect, before_shims, cut_jobs, faults, ranked, restore,
};
use crenel::units::Quantity;
use crenel_words::page::whole as say;
use crenel_words::{Value, Words as _};

use super::gear_button;
use crate::state::{Boxed, here, use_app_state};
use crate::widgets::reveal;

/// How many suspects and cures are listed.
const LISTED: usize = 3;

#[component]
pub(super) fn Cure(boxed: Signal<Arc<Boxed>>) -> impl IntoView {
    view! {
        <section class="whole-box cure" aria-label=here(say::cure)>
            <AtFault boxed/><Shims boxed/><CutsFirst boxed/>
        </section>
    }
}

/// The parts that the readings blame, the most probable first, and what to read next.
#[component]
fn AtFault(boxed: Signal<Arc<Boxed>>) -> impl IntoView {
    let state = use_app_state();
    let trace = Memo::new(move |_| boxed.with(|boxed| faults(&boxed.analysis)));
    let enter = move |_| reveal::show_named(state, "readings");
    let suspect = move |suspect: Suspect| {
        let reader = state.reader();
        let share = Value::Result(Quantity::Share, suspect.share);
        let buttons = suspect.gears.iter().map(|gear| gear_button(state, *gear)).collect_view();
        view! {
            <li class:blamed=suspect.is_blamed>
                <p><b>{suspect.part.name().show(reader)}</b>" "{say::how_probable(share).show(reader)}</p>
                <p>{suspect.says.says.show(reader)}" "<span class="quiet">{suspect.says.next.show(reader)}</span></p>
                <div class="row">{buttons}</div>
            </li>
        }
    };
    let told = move || {
        trace.get().map(|trace| {
            let more = trace.says();
            let more =
                more.iter().map(|says| view! { <p>{says.show(state.reader())}</p> }).collect_view();
            let suspects = trace.suspects.into_iter().take(LISTED).map(suspect).collect_view();
            view! { <ol>{suspects}</ol>{more} }
        })
    };
    view! {
        <section aria-label=here(say::at_fault)>
            <h2>{here(say::at_fault)}</h2>
            {told}
            {move || trace.with(Option::is_none).then(|| view! { <p class="quiet">{here(say::nothing_read)}</p> })}
            <div class="row"><button on:click=enter>{here(say::enter_readings)}</button></div>
        </section>
    }
}

/// The shims that give back what is missing; nothing where nothing is.
#[component]
fn Shims(boxed: Signal<Arc<Boxed>>) -> impl IntoView {
    let state = use_app_state();
    let found = Memo::new(move |_| boxed.with(|boxed| restore(&boxed.analysis)));
    let cure = move |restored: Restored| {
        let reader = state.reader();
        let does = restored
            .shims
            .iter()
            .map(|(place, mm)| view! { <p><b>{place.says(*mm).show(reader)}</b></p> });
        let gains = restored.says();
        let gains = gains
            .iter()
            .map(|says| view! { <p class="quiet">{says.show(reader)}</p> })
            .collect_view();
        view! { <li>{does.collect_view()}{gains}</li> }
    };
    // A shim that was chosen around a bent fork is wrong for the straight one.
    let first = Memo::new(move |_| boxed.with(|boxed| before_shims(&boxed.analysis)));
    let told = move || {
        first.get().into_iter().map(|says| view! { <p><b>{here(says)}</b></p> }).collect_view()
    };
    move || {
        let all = found.get();
        (!all.is_empty()).then(|| {
            view! {
                <section aria-label=here(say::shims)>
                    <h2>{here(say::shims)}</h2>
                    {told}
                    {first.with(Vec::is_empty).then(|| view! {
                        <ol>{all.into_iter().take(LISTED).map(cure).collect_view()}</ol>
                    })}
                </section>
            }
        })
    }
}

/// The smallest cut of each gear, those first that gain most for each gram. It is looked for on request, a few
/// milliseconds at a time.
#[component]
fn CutsFirst(boxed: Signal<Arc<Boxed>>) -> impl IntoView {
    let state = use_app_state();
    let found = RwSignal::new(None::<Vec<GearCut>>);
    let left = RwSignal::new(None::<usize>);
    let run = StoredValue::new(0_u32);
    // A change of the gearbox ends the search and what it found.
    Effect::new(move |_| {
        boxed.track();
        run.update_value(|run| *run += 1);
        found.set(None);
        left.set(None);
    });
    on_cleanup(move || run.update_value(|run| *run += 1));
    let search = move |_| {
        run.update_value(|run| *run += 1);
        let jobs =
            boxed.with_untracked(|boxed| cut_jobs(&boxed.analysis, state.units.get_untracked()));
        left.set(Some(jobs.len()));
        go_on(Search { jobs, cuts: Vec::new(), found, left, run, own: run.get_value() });
    };
    let cut = move |cut: GearCut| {
        let reader = state.reader();
        let says = cut.says();
        view! { <li><p>{says.words(reader)}</p><div class="row">{gear_button(state, cut.gear)}</div></li> }
    };
    let told = move || {
        found.get().map(|cuts| match cuts.is_empty() {
            true => view! { <p>{here(say::no_cuts)}</p> }.into_any(),
            false => view! { <ol>{cuts.into_iter().map(cut).collect_view()}</ol> }.into_any(),
        })
    };
    let running = move || left.get().filter(|left| *left > 0);
    view! {
        <section aria-label=here(say::cuts_first)>
            <h2>{here(say::cuts_first)}</h2>
            <p class="quiet">{here(say::cuts_first_why)}</p>
            <div class="row">
                <button disabled=move || running().is_some() on:click=search>{here(say::find_cuts)}</button>
                <span role="status">{move || running().map(|left| say::gears_left(left).show(state.reader()))}</span>
            </div>
            {told}
        </section>
    }
}

/// A search that goes on while the page is at rest.
struct Search {
    jobs: Vec<CutJob>,
    cuts: Vec<GearCut>,
    found: RwSignal<Option<Vec<GearCut>>>,
    left: RwSignal<Option<usize>>,
    /// Which search is wanted now, and which this one is.
    run: StoredValue<u32>,
    own: u32,
}

/// One step, then the next once the browser has drawn.
fn go_on(mut search: Search) {
    if search.run.try_get_value() != Some(search.own) {
        return;
    }
    let Some(job) = search.jobs.last_mut() else {
        search.left.set(Some(0));
        return search.found.set(Some(ranked(search.cuts)));
    };
    if let Some(cut) = job.step() {
        search.cuts.extend(cut);
        search.jobs.pop();
        search.left.set(Some(search.jobs.len()));
    }
    set_timeout(move || go_on(search), Duration::ZERO);
}
