//! The first minute: five stops on the page, skipped at any time.

use leptos::prelude::*;

use crate::dom::html_element;
use crate::state::{AppState, Tour, here, use_app_state};
use crate::storage::store::Store;

/// Stored once the tour was taken or declined.
const SEEN: &str = "crenel.shown-round";

/// A stop: what it points at, a heading, and what to do there.
struct Stop {
    at: &'static str,
    head: &'static str,
    words: Words,
}

/// The words of a stop.
enum Words {
    Said(&'static str),
    /// The sentences of the areas.
    OfAreas,
}

const STOPS: [Stop; 5] = [
    Stop {
        at: ".view.face",
        head: "Two dog rings, face to face",
        words: Words::Said(
            "You look at the dogs of ring A; ring B lies over them, hatched. Drag a round handle, step it with the \
                arrow keys, or type the size below. The green arcs show where ring A goes in.",
        ),
    },
    Stop {
        at: ".cutting",
        head: "Cut metal and see what it does",
        words: Words::Said(
            "Click a dog and shorten or remove it, here by every second one if you like. Undo takes everything back.",
        ),
    },
    Stop {
        at: "#results",
        head: "Numbers, before and after",
        words: Words::Said(
            "Each number says whether it got better or worse. Open one for what it is, its formula, its working and \
                its source. What is wrong or worth a look stands above them.",
        ),
    },
    Stop { at: ".areas", head: "The parts of the job, in their order", words: Words::OfAreas },
    Stop {
        at: "header .tools",
        head: "Take it with you",
        words: Words::Said(
            "The link holds the whole design: send it to a friend. Files for the machine are under Export. Designs \
                has examples to open, and Help has the keys, the words and how all is computed.",
        ),
    },
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
    move || match state.tour.get() {
        None => ().into_any(),
        Some(Tour::ShiftCase) => view! {
            <aside class="tour offered" aria-label="First visit">
                <p>"New here? "<span class="wide-only">"Five stops, one minute."</span></p>
                <button class="main" on:click=move |_| begin(state)>"Show me round"</button>
                <button on:click=move |_| end(state)>"No, thanks"</button>
            </aside>
        }
        .into_any(),
        Some(Tour::At(at)) => stop(state, at).into_any(),
    }
}

fn stop(state: AppState, at: usize) -> impl IntoView {
    let Stop { head, words, .. } = &STOPS[at];
    let words = match words {
        Words::Said(words) => (*words).to_owned(),
        Words::OfAreas => state.areas.tour().map(here).collect::<Vec<_>>().join(" "),
    };
    let last = at + 1 == STOPS.len();
    let go = move |to: usize| state.tour.set(Some(Tour::At(to)));
    let on = move |_| if last { end(state) } else { go(at + 1) };
    view! {
        <aside class="tour" aria-label="First minute">
            <h2 id="tour-head" tabindex="-1">{format!("{} of {}: {head}", at + 1, STOPS.len())}</h2>
            <p>{words}</p>
            <div class="row">
                <button class="main" on:click=on>{if last { "Done" } else { "Next" }}</button>
                <button disabled=at == 0 on:click=move |_| go(at.saturating_sub(1))>"Back"</button>
                {(!last).then(|| view! { <button on:click=move |_| end(state)>"Skip the rest"</button> })}
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
