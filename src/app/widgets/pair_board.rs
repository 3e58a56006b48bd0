//! The drawings of the pair.

use leptos::prelude::*;

use crenel::draw::views;
use crenel_words::Phrase;
use crenel_words::page::{common, drawing as say};

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
    view! {
        <section class="board" aria-label=here(common::drawings) class:stale=stale>
            <p class="old" role="status">{move || stale().then(|| here(say::last_computed))}</p>
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
    let key = |class: &'static str, words: Phrase| {
        view! {
            <li>
                <svg class="key" width="28" height="8" aria-hidden="true"><path class=class d="M0 4H28"></path></svg>
                {here(words)}
            </li>
        }
    };
    view! {
        <ul class="legend quiet" aria-label=here(say::rim_arcs)>
            {key("open-entry", say::open_between_tips)}
            {key("open-deep", say::open_at_depth)}
            <li>{here(say::pale_dogs)}</li>
        </ul>
    }
}
