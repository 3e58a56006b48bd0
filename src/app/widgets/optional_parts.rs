//! The parts that a design need not have: how each is begun, and what stands where its drawing would.

use leptos::prelude::*;

use crenel::design::{Claw, Depth, Design, Detent, Linkage, Track};
use crenel::draw::ViewKind;

use crate::state::{AppState, use_app_state};

/// A part that is not there until it is begun.
#[derive(Clone, Copy)]
pub(crate) struct Part {
    /// The button that begins it, with invented sizes.
    pub(crate) begin: &'static str,
    pub(crate) has: fn(&Design) -> bool,
    pub(crate) set: fn(&mut Design, bool),
}

pub(crate) const LINKAGE: Part = Part {
    begin: "Begin with an invented linkage",
    has: |d| d.selector.linkage.is_some(),
    set: |d, to| d.selector.linkage = to.then(Linkage::default),
};
pub(crate) const CLAW: Part = Part {
    begin: "Begin with an invented claw",
    has: |d| d.selector.claw.is_some(),
    set: |d, to| d.selector.claw = to.then(Claw::default),
};
pub(crate) const DETENT: Part = Part {
    begin: "Begin with an invented detent",
    has: |d| d.selector.detent.is_some(),
    set: |d, to| d.selector.detent = to.then(Detent::default),
};
pub(crate) const TRACK: Part = Part {
    begin: "Begin with an invented track",
    has: |d| d.selector.track.is_some(),
    set: |d, to| d.selector.track = to.then(Track::default),
};
pub(crate) const CHAINS: Part = Part {
    begin: "Begin with invented chains",
    has: |d| d.depth.is_some(),
    set: |d, to| d.depth = to.then(Depth::example),
};

/// The parts of which a drawing needs one, and what is said where it has none.
fn need(kind: ViewKind) -> Option<(&'static [Part], &'static str)> {
    Some(match kind {
        ViewKind::Linkage | ViewKind::Swing => (&[LINKAGE], "No linkage is given yet."),
        ViewKind::Claw => (&[CLAW, DETENT], "No claw and no detent is given yet."),
        ViewKind::Track => (&[TRACK], "No drum track is given yet."),
        ViewKind::Chains => (&[CHAINS], "No chains are given yet."),
        _ => return None,
    })
}

/// Whether the part that a drawing shows is missing.
pub(crate) fn is_missing(state: AppState, kind: ViewKind) -> Memo<bool> {
    let need = need(kind);
    Memo::new(move |_| {
        need.is_some_and(|(parts, _)| state.with(|d| !parts.iter().any(|part| (part.has)(d))))
    })
}

/// What stands in place of the drawing meanwhile.
#[component]
pub(crate) fn Missing(kind: ViewKind) -> impl IntoView {
    let state = use_app_state();
    need(kind).map(|(parts, words)| {
        // The swing stands beside the linkage, which has the button.
        let first = parts.first().copied().filter(|_| kind != ViewKind::Swing);
        let button = first.map(|part| {
            view! { <button on:click=move |_| state.change(|d| (part.set)(d, true))>{part.begin}</button> }
        });
        view! { <div class="row missing"><p>{words}</p>{button}</div> }
    })
}
