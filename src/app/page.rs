//! The whole page, put together.

use std::hint::black_box;

use leptos::prelude::*;

use crenel::design::Design;
use crenel::model::{LaidOut, PairAnalysis};
use crenel::units::{ABSENT, Quantity};

use crenel_words::page::{frame as say, results};

use crate::areas::AREAS;
use crate::deferred::{Deferred, is_busy, schedule_first};
use crate::state::{AppState, AreaKey, Content, here, persistence, use_app_state, watch_outcomes};
use crate::widgets::area_button::AreaButton;
use crate::widgets::designs::DesignsDialog;
use crate::widgets::findings::Findings;
use crate::widgets::focus;
use crate::widgets::hatching::Hatching;
use crate::widgets::header::{self, Header};
use crate::widgets::offline::{self, NewerNotice};
use crate::widgets::results::Results;
use crate::widgets::share::{ShareDialog, SharedNotice};
use crate::widgets::tour::{self, TourCard};

/// The whole page. Its pieces are mounted one after the other.
#[component]
pub(crate) fn App() -> impl IntoView {
    view! { <Deferred><Page/></Deferred> }
}

#[component]
fn Page() -> impl IntoView {
    let state = AppState::open(AREAS, persistence::start(), tour::offered());
    provide_context(state);
    let area = Memo::new(move |_| state.area.get());
    Effect::new(move |before: Option<AreaKey>| {
        let now = area.get();
        if before.is_some_and(|before| before != now) {
            begin_at_top(state);
        }
        now
    });
    view! {
        <Deferred>{persistence::watch(state)}</Deferred>
        <Deferred first=true><Hatching/><Header/></Deferred>
        <Deferred first=true><AreaTabs/></Deferred>
        <Deferred first=true><NewerNotice/><SharedNotice/><TourCard/></Deferred>
        <Deferred>{header::listen_for_keys(state)}{focus::keep_place()}</Deferred>
        <Deferred>{offline::opened()}</Deferred>
        <Deferred first=true>{work_out(state)}</Deferred>
        <Deferred first=true><CurrentArea area/></Deferred>
        <Deferred>
            <footer>
                <p>{here(say::disclaimer)}</p>
            </footer>
            <p class="sr" role="status">{move || state.said.get()}</p>
            {move || state.flashed.get().map(|text| view! { <p class="flash" aria-hidden="true">{text}</p> })}
        </Deferred>
        <Deferred><ShareDialog/><DesignsDialog/></Deferred>
        <Deferred>{watch_outcomes(state)}</Deferred>
        <Deferred>{offline::keep_whole(state)}</Deferred>
    }
}

/// Shows a newly opened area from its top, with its tab visible. If the head of the page was scrolled away, it
/// stays so.
fn begin_at_top(state: AppState) {
    state.explained.set(None);
    // On a page that is gone there is nothing to scroll.
    let head = document().query_selector("header").ok().flatten();
    let below = head.map_or(0.0, |head| head.get_bounding_client_rect().bottom());
    if below < 0.0 {
        window().scroll_by_with_x_and_y(0.0, below);
    }
    request_animation_frame(|| {
        if let Ok(Some(tab)) = document().query_selector(".areas [aria-current]") {
            let options = web_sys::ScrollIntoViewOptions::new();
            options.set_block(web_sys::ScrollLogicalPosition::Nearest);
            options.set_inline(web_sys::ScrollLogicalPosition::Nearest);
            tab.scroll_into_view_with_scroll_into_view_options(&options);
        }
    });
}

/// Works out the design in steps. A browser compiles code when it is called for the first time, which takes
/// far longer than the work itself.
fn work_out(state: AppState) {
    schedule_first(move || drop(black_box(state.with(Design::check))));
    schedule_first(move || drop(black_box(state.with(LaidOut::of))));
    schedule_first(move || state.analysis.with_untracked(|_| ()));
}

/// The area that is on the screen, and the results beside it.
#[component]
fn CurrentArea(area: Memo<AreaKey>) -> impl IntoView {
    let state = use_app_state();
    let content = move || &state.areas.find(area.get()).content;
    let whole_page = move || matches!(content(), Content::Page(_));
    // Findings and results are mounted before the many fields, although they come after them on the page.
    let told = RwSignal::new(false);
    view! {
        <main aria-busy=move || is_busy().then_some("true")>
            {move || match content() {
                Content::Page(page) => page(),
                Content::Board { drawings, sizes, sizes_first: false } => {
                    view! { {drawings()}<Sizes after=told sizes=*sizes/> }.into_any()
                }
                Content::Board { drawings, sizes, sizes_first: true } => {
                    view! { <Sizes after=told sizes=*sizes/>{drawings()} }.into_any()
                }
            }}
            <aside class="numbers" class:hidden=whole_page id="results" tabindex="-1" aria-label=here(results::title)>
                <Deferred><Findings/></Deferred>
                <Deferred><Results/></Deferred>
                <Deferred>{told.set(true)}</Deferred>
            </aside>
        </main>
    }
}

/// The sizes to type in, and on a small screen the numbers that matter most.
#[component]
fn Sizes(after: RwSignal<bool>, sizes: fn() -> AnyView) -> impl IntoView {
    move || {
        after
            .get()
            .then(|| view! { <Deferred><Forms sizes/></Deferred><Deferred><Gist/></Deferred> })
    }
}

/// The sizes of an area, below the explanation of the number that was chosen.
#[component]
fn Forms(sizes: fn() -> AnyView) -> impl IntoView {
    let state = use_app_state();
    let explained = move || {
        state.explained.get().map_or_else(
            || here(say::select_a_number),
            |slot| here(say::explained(slot.words(), slot.field().spec().explanation())),
        )
    };
    view! {
        <section class="forms" aria-label=here(say::sizes)>
            <p class="explain" aria-hidden="true">{explained}</p>
            {sizes()}
        </section>
    }
}

/// The areas, in the order of the job.
#[component]
fn AreaTabs() -> impl IntoView {
    let state = use_app_state();
    view! {
        <nav class="areas" aria-label=here(say::parts_of_the_job)>
            {state.areas.tabs().map(|area| view! { <AreaButton area/> }).collect_view()}
        </nav>
    }
}

/// The numbers that matter most, always visible on a small screen.
#[component]
fn Gist() -> impl IntoView {
    let state = use_app_state();
    let angle = move |radians: Option<f64>| {
        let show = |v: f64| Quantity::Angle.show_result(v.to_degrees(), state.units.get());
        radians.map_or_else(|| ABSENT.to_owned(), show)
    };
    let pair = move |read: fn(&PairAnalysis) -> Option<f64>| {
        state.analysis.with(|a| a.pair.as_ref().and_then(read))
    };
    let free = move || angle(pair(PairAnalysis::free_angle));
    let lash = move || angle(pair(|m| m.held.map(|w| w.width.radians())));
    let findings = move || state.analysis.with(|a| a.findings.len());
    view! {
        <div class="gist" aria-hidden="true">
            <span>{here(say::free_angle)}" "<b>{free}</b></span>
            <span>{here(say::lash)}" "<b>{lash}</b></span>
            <span>{here(results::findings)}" "<b>{findings}</b></span>
        </div>
    }
}
