//! The drawings of the pair.

use leptos::prelude::*;

use crenel::draw::views;
use crenel_words::Phrase;

use crate::deferred::Deferred;
use crate::state::{here, use_app_state};
use crate::widgets::drawing::Drawing;

/// The drawings of the pair, with what is done on them below.
#[component]
pub(crate) fn PairBoard(
    /// What to do here and, less prominently, what else can be done.
    hint: [Phrase; 2],
    /// Whether the unrolled view shows the whole travel of a shift.
    #[prop(optional)]
    whole_shift: bool,
    children: Children,
) -> impl IntoView {
    let state = use_app_state();
    let stale = move || state.analysis.with(|a| a.pair.is_none());
    let stale_words = "This is the last drawing that could be worked out. \
        The findings say what stands in the way.";
    view! {
        <section class="board" aria-label="Drawings" class:stale=stale>
            <p class="old" role="status">{move || stale().then_some(stale_words)}</p>
            <p class="first">{here(hint[0])}" "<span class="quiet">{here(hint[1])}</span></p>
            <Deferred first=true><Drawing view=&views::FACE/></Deferred>
            <Deferred><Legend/></Deferred>
            <Deferred><Drawing view=&views::UNROLLED whole_shift/></Deferred>
            <Deferred><Drawing view=&views::MAP/></Deferred>
            {children()}
        </section>
    }
}

/// What the arcs round the rim mean.
#[component]
fn Legend() -> impl IntoView {
    let key = |class: &'static str, words: &'static str| {
        view! {
            <li>
                <svg class="key" width="28" height="8" aria-hidden="true"><path class=class d="M0 4H28"></path></svg>
                {words}
            </li>
        }
    };
    view! {
        <ul class="legend quiet" aria-label="Arcs round the rim">
            {key("open-entry", "Open between the tips: with the mark of ring A here, it goes in")}
            {key("open-deep", "Open at full depth: the length of the arc is the lash")}
            <li>"Pale dogs are lower than the tallest by the hold depth or more."</li>
        </ul>
    }
}
