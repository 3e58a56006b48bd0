//! From a pair to a whole gearbox.

use leptos::prelude::*;

use crenel::design::{LAYOUTS, PlainLayout};
use crenel_words::page::whole as say;

use crate::state::{AppState, here, use_app_state};

/// The layouts to begin with, by their names.
const OFFERED: [&str; 3] = ["four-speed", "five-speed", "six-speed"];

/// The layouts that a gearbox can begin with.
#[component]
pub(super) fn MakeBox() -> impl IntoView {
    let state = use_app_state();
    let offered = LAYOUTS.iter().filter(|layout| OFFERED.contains(&layout.key));
    let begin = |layout: &'static PlainLayout| {
        view! {
            <button class="main" on:click=move |_| make(state, layout)>{here(say::layout(layout.gears()))}</button>
        }
    };
    view! {
        <section class="whole-box make-box">
            <h2>{here(say::make_box)}</h2>
            <p>{here(say::make_box_why)}</p>
            <div class="row">{offered.map(begin).collect_view()}</div>
        </section>
    }
}

fn make(state: AppState, layout: &PlainLayout) {
    state.replace(state.with(|design| design.to_box(layout)));
    state.tell(here(say::box_made(layout.gears())), false);
}
