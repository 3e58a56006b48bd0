//! The drawings of the pair.

use leptos::prelude::*;

use crenel::draw::{View, views};
use crenel_words::page::{common, drawing as say, rings};

use crate::deferred::Deferred;
use crate::part::part;
use crate::state::{Picture, here, use_app_state};
use crate::widgets::drawing::Drawing;

/// The drawings of the pair, as a picture of an area.
pub(crate) const TOGETHER: Picture<AnyView> =
    Picture::of_rings("pair", rings::picture_pair, || view! { <PairBoard/> }.into_any());

/// The drawings of the pair side by side.
#[component]
pub(crate) fn PairBoard(
    /// Whether developed view and phase map show the whole travel of a shift.
    #[prop(optional)]
    whole_shift: bool,
    /// Whether the drawings are only looked at: they have no handles.
    #[prop(optional)]
    still: bool,
    /// What comes below them.
    #[prop(optional)]
    children: Option<Children>,
) -> impl IntoView {
    provide_context(Looked { whole_shift, still });
    view! {
        <StaleBoard class="board pair">
            <Deferred first=true><Drawing view=&views::FACE still/></Deferred>
            <Deferred><Drawing view=&views::UNROLLED whole_shift still/></Deferred>
            <Deferred>{part!(beside, phase_map, view! { <PhaseMap/> })()}</Deferred>
            {children.map(|children| children())}
        </StaleBoard>
    }
}

/// How the drawings of a board are looked at.
#[derive(Clone, Copy)]
struct Looked {
    whole_shift: bool,
    still: bool,
}

/// The phase map of a board. Its code comes after that of the first drawings.
#[component]
fn PhaseMap() -> impl IntoView {
    let Looked { whole_shift, still } = expect_context();
    view! { <Drawing view=&views::MAP whole_shift still/> }
}

/// One drawing of the pair by itself.
#[component]
pub(crate) fn SingleBoard(view: &'static View) -> impl IntoView {
    view! { <StaleBoard class="board single"><Deferred first=true><Drawing view/></Deferred></StaleBoard> }
}

/// Says when the drawings are those of an earlier design.
#[component]
pub(crate) fn StaleBoard(class: &'static str, children: Children) -> impl IntoView {
    let state = use_app_state();
    let stale = move || state.analysis.with(|a| a.pair.is_none());
    view! {
        <section class=class aria-label=here(common::drawings) class:stale=stale>
            <p class="old" role="status">{move || stale().then(|| here(say::last_computed))}</p>
            {children()}
        </section>
    }
}
