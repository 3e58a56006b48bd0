//! The first minute: five stops on the page, skipped at any time.

use leptos::prelude::*;

use crenel_words::Phrase;
use crenel_words::page::frame as say;

use crate::dom::html_element;
use crate::state::{AppState, Tour, here, use_app_state};
use crate::storage::store::Store;

/// Stored once the tour was taken or declined.
const SEEN: &str = "crenel.shown-round";

/// A stop: what it points at, a heading, and what to do there; `None` for the sentences of the areas.
struct Stop {
    at: &'static str,
    head: Phrase,
    words: Option<Phrase>,
}

const STOPS: [Stop; 5] = [
    Stop { at: ".view.face", head: say::stop_rings, words: Some(say::stop_rings_words) },
    Stop { at: ".cutting", head: say::stop_cut, words: Some(say::stop_cut_words) },
    Stop { at: "#results", head: say::stop_results, words: Some(say::stop_results_words) },
    Stop { at: ".areas", head: say::stop_areas, words: None },
    Stop { at: "header .tools", head: say::stop_tools, words: Some(say::stop_tools_words) },
];

/// The tour is offered to readers who have neither taken nor declined it.
pub(crate) fn offered() -> Option<Tour> {
    Store::Browser.get(SEEN).is_none().then_some(Tour::ShiftCase)
}

/// Begins the tour.
pub(crate) fn begin(state: AppState) {
    state.area.set(state.areas.first().key);
    state.tour.set(Some(Tour::At(0)));
}

/// Ends the tour, or declines it.
pub(crate) fn end(state: AppState) {
    if state.tour.get_untracked().is_some() {
        state.tour.set(None);
        // If that cannot be stored, the tour is offered again.
        let _ = Store::Browser.put(SEEN, "yes");
    }
}

/// Ends the tour if it is under way. An offer remains.
pub(crate) fn leave(state: AppState) {
    if matches!(state.tour.get_untracked(), Some(Tour::At(_))) {
        end(state);
    }
}

/// The offer, or the stop it is at.
#[component]
pub(crate) fn TourCard() -> impl IntoView {
    let state = use_app_state();
    Effect::new(move |_| point_at(state.tour.get()));
    move || {
        match state.tour.get() {
        None => ().into_any(),
        Some(Tour::ShiftCase) => view! {
            <aside class="tour offered" aria-label=here(say::first_visit)>
                <p>{here(say::new_here)}" "<span class="wide-only">{here(say::five_stops)}</span></p>
                <button class="main" on:click=move |_| begin(state)>{here(say::show_me_round)}</button>
                <button on:click=move |_| end(state)>{here(say::no_thanks)}</button>
            </aside>
        }
        .into_any(),
        Some(Tour::At(at)) => stop(state, at).into_any(),
    }
    }
}

fn stop(state: AppState, at: usize) -> impl IntoView {
    let Stop { head, words, .. } = &STOPS[at];
    let words: Vec<_> = match words {
        Some(words) => vec![words()],
        None => state.areas.tour().map(|words| words()).collect(),
    };
    let last = at + 1 == STOPS.len();
    let go = move |to: usize| state.tour.set(Some(Tour::At(to)));
    let on = move |_| if last { end(state) } else { go(at + 1) };
    view! {
        <aside class="tour" aria-label=here(say::first_minute)>
            <h2 id="tour-head" tabindex="-1">{here(say::stop_of(at + 1, STOPS.len(), head()))}</h2>
            <p>{here(words)}</p>
            <div class="row">
                <button class="main" on:click=on>{here(if last { say::done } else { say::next })}</button>
                <button disabled=at == 0 on:click=move |_| go(at.saturating_sub(1))>{here(say::back)}</button>
                {(!last).then(|| view! { <button on:click=move |_| end(state)>{here(say::skip_the_rest)}</button> })}
            </div>
        </aside>
    }
}

/// Marks the place on the page and scrolls to it. The heading of the stop takes the focus, so that a screen
/// reader continues from there.
fn point_at(tour: Option<Tour>) {
    if let Ok(Some(before)) = document().query_selector("[data-pointed]") {
        // Changing an attribute fails only if the page is gone.
        let _ = before.remove_attribute("data-pointed");
    }
    let Some(Tour::At(at)) = tour else { return };
    if let Ok(Some(place)) = document().query_selector(STOPS[at].at) {
        let _ = place.set_attribute("data-pointed", "");
        let options = web_sys::ScrollIntoViewOptions::new();
        options.set_block(web_sys::ScrollLogicalPosition::Nearest);
        place.scroll_into_view_with_scroll_into_view_options(&options);
    }
    request_animation_frame(|| {
        if let Some(head) = html_element("tour-head") {
            let _ = head.focus();
        }
    });
}
