//! The optional parts of a design: how each is begun, and what is shown instead of its drawing.

use std::borrow::Cow;

use leptos::prelude::*;

use crenel::analysis::Analysis;
use crenel::design::{ClawSpec, DepthSpec, Design, DetentSpec, LinkageSpec, TrackSpec};

use crenel::draw::{Scene, Shape, View, ViewOptions};
use crenel::fields::Slot;
use crenel::figures::needs;
use crenel_words::Phrase;
use crenel_words::page::common as say;

use crate::state::{here, use_app_state};
use crate::widgets::reveal;
use crate::widgets::scene_marks::SceneMarks;

/// A part that a design may lack.
#[derive(Clone, Copy)]
pub(crate) struct OptionalPart {
    /// The button that adds it, with invented sizes.
    pub(crate) begin: Phrase,
    pub(crate) has: fn(&Design) -> bool,
    pub(crate) set: fn(&mut Design, bool),
}

pub(crate) const LINKAGE: OptionalPart = OptionalPart {
    begin: say::begin_linkage,
    has: |d| d.selector.linkage.is_some(),
    set: |d, to| d.selector.linkage = to.then(LinkageSpec::default),
};
pub(crate) const CLAW: OptionalPart = OptionalPart {
    begin: say::begin_claw,
    has: |d| d.selector.claw.is_some(),
    set: |d, to| d.selector.claw = to.then(ClawSpec::default),
};
pub(crate) const DETENT: OptionalPart = OptionalPart {
    begin: say::begin_detent,
    has: |d| d.selector.detent.is_some(),
    set: |d, to| d.selector.detent = to.then(DetentSpec::default),
};
pub(crate) const TRACK: OptionalPart = OptionalPart {
    begin: say::begin_track,
    has: |d| d.selector.track.is_some(),
    set: |d, to| d.selector.track = to.then(TrackSpec::default),
};
pub(crate) const CHAINS: OptionalPart = OptionalPart {
    begin: say::begin_chains,
    has: |d| d.depth.is_some(),
    set: |d, to| d.depth = to.then(DepthSpec::example),
};

/// Every part from the pedal to the fork.
pub(crate) const SELECTOR: [OptionalPart; 4] = [LINKAGE, CLAW, DETENT, TRACK];

/// What is shown in place of the drawing of a part that the design does not have.
#[component]
pub(crate) fn Missing(
    /// Why there is no drawing.
    #[prop(into)]
    words: Cow<'static, str>,
    /// The part that the button adds, if this view has the button.
    begin: Option<OptionalPart>,
) -> impl IntoView {
    let state = use_app_state();
    let button = begin.map(|part| {
        view! { <button on:click=move |_| state.change(|d| (part.set)(d, true))>{here(part.begin)}</button> }
    });
    view! { <div class="row missing"><p>{words}</p>{button}</div> }
}

/// A picture as it will be, drawn faintly where it is missing.
#[derive(Clone, Copy)]
pub(crate) struct Outline {
    pub(crate) view: &'static View,
    /// Gives the design what the picture shows.
    pub(crate) begin: fn(&mut Design),
}

/// The width that an outline is laid out for, CSS pixels, and its height for each of them.
const OUTLINE_PX: f64 = 480.0;
const OUTLINE_SHAPE: f64 = 0.6;

#[component]
fn Faint(outline: Outline) -> impl IntoView {
    let state = use_app_state();
    // As the design is now: an outline need not follow it.
    let mut design = untrack(|| state.with(Design::clone));
    (outline.begin)(&mut design);
    let analysis = Analysis::of(&design);
    let scene = Memo::new(move |_| {
        let frame = outline.view.frame(&analysis, OUTLINE_PX, OUTLINE_SHAPE, 12.0);
        let options = ViewOptions { reader: state.reader(), ..ViewOptions::default() };
        let mut scene = outline.view.draw(&analysis, &frame, &options);
        // Numbers would look like one's own.
        let has_number = |words: &str| words.contains(|c: char| c.is_ascii_digit());
        scene
            .items
            .retain(|item| !matches!(&item.shape, Shape::Text(text) if has_number(&text.words)));
        scene
    });
    let view_box = move || {
        let size = scene.with(|scene: &Scene| (scene.bounds.width(), scene.bounds.height()));
        format!("0 0 {:.4} {:.4}", size.0, size.1)
    };
    view! {
        <div class="view faint" aria-hidden="true"><svg viewBox=view_box><SceneMarks scene/></svg></div>
    }
}

/// What is shown in place of a whole picture: what is missing, and the button that goes on.
#[component]
pub(crate) fn EmptyState(
    /// What is missing, in a sentence.
    #[prop(into)]
    words: Cow<'static, str>,
    /// What is written on the button.
    #[prop(into)]
    go: Cow<'static, str>,
    on_go: Callback<()>,
    /// How it will look.
    #[prop(optional)]
    outline: Option<Outline>,
) -> impl IntoView {
    view! {
        <section class="empty-state">
            {outline.map(|outline| view! { <Faint outline/> })}
            <p>{words}</p>
            <button class="main" on:click=move |_| on_go.run(())>{go}</button>
        </section>
    }
}

/// The same where nobody knows a number: the button goes to its field.
#[component]
pub(crate) fn Lacking(at: Slot) -> impl IntoView {
    let state = use_app_state();
    let on_go = Callback::new(move |()| {
        reveal::show(state, at);
        reveal::focus_field(at);
    });
    view! { <EmptyState words=here(say::lacking(needs(at)())) go=here(say::enter_number(at.words())) on_go/> }
}
