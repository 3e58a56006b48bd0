//! The whole page, put together.

use std::hint::black_box;

use leptos::prelude::*;

use crenel::design::Design;
use crenel::draw::ViewKind;
use crenel::report::{LaidOut, Meshed};
use crenel::units::Quantity;

use crate::areas::compare::Compare;
use crate::areas::depth::DepthBoard;
use crate::areas::help::Help;
use crate::areas::papers::Papers;
use crate::areas::rework::solids::SolidView;
use crate::areas::rings::Forms;
use crate::areas::selector::SelectorBoard;
use crate::areas::shift::charts::{self, Charts};
use crate::areas::trace::Tracing;
use crate::deferred::{Deferred, is_busy, schedule};
use crate::state::persistence;
use crate::state::{AppState, Area, use_app_state};
use crate::widgets::cutting::CuttingBar;
use crate::widgets::designs::DesignsDialog;
use crate::widgets::drawing::Drawing;
use crate::widgets::findings::Findings;
use crate::widgets::focus;
use crate::widgets::header::{self, Header};
use crate::widgets::offline::{self, NewerNotice};
use crate::widgets::play_bar::PlayBar;
use crate::widgets::results::Results;
use crate::widgets::share::{ShareDialog, SharedNotice};
use crate::widgets::tour::{self, TourCard};

/// The whole page, put up piece by piece.
#[component]
pub(crate) fn App() -> impl IntoView {
    view! { <Deferred><Page/></Deferred> }
}

#[component]
fn Page() -> impl IntoView {
    let state = AppState::open(persistence::start(), tour::offered());
    provide_context(state);
    let area = Memo::new(move |_| state.area.get());
    Effect::new(move |before: Option<Area>| {
        let now = area.get();
        if before.is_some_and(|before| before != now) {
            begin_at_top(state);
        }
        now
    });
    view! {
        <Deferred>{persistence::watch(state)}</Deferred>
        <Deferred><Hatching/><Header/></Deferred>
        <Deferred><Areas/></Deferred>
        <Deferred><NewerNotice/><SharedNotice/><TourCard/></Deferred>
        <Deferred>{header::listen_for_keys(state)}{focus::keep_place()}</Deferred>
        <Deferred>{offline::opened()}</Deferred>
        <Deferred>{work_out(state)}</Deferred>
        <Deferred><Stand area/></Deferred>
        <Deferred>
            <footer>
                <p>
                    "Crenel computes from the sizes you give and does not know your gearbox. Keep to the maker's limits and local rules, and have a qualified shop check what you cut: a part that fails can lock the rear wheel."
                </p>
            </footer>
            <p class="sr" role="status">{move || state.said.get()}</p>
            {move || state.flashed.get().map(|text| view! { <p class="flash" aria-hidden="true">{text}</p> })}
        </Deferred>
        <Deferred><ShareDialog/><DesignsDialog/></Deferred>
        <Deferred>{charts::keep_outcomes(state)}</Deferred>
        <Deferred>{offline::keep_whole(state)}</Deferred>
    }
}

/// Another part of the job begins at its top, with its tab in sight; the head of the page stays out of
/// sight where it was.
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

/// Works the design out in steps. A browser compiles what is called for the first time, which takes far
/// longer than the work itself.
fn work_out(state: AppState) {
    schedule(move || drop(black_box(state.with(Design::check))));
    schedule(move || drop(black_box(state.with(LaidOut::of))));
    schedule(move || state.analysis.with_untracked(|_| ()));
}

/// The part of the job that is on the screen, and the results beside it.
#[component]
fn Stand(area: Memo<Area>) -> impl IntoView {
    let whole_page =
        move || matches!(area.get(), Area::Compare | Area::Papers | Area::Trace | Area::Help);
    // The numbers and what is wrong come before the many fields, though they stand after them.
    let told = RwSignal::new(false);
    view! {
        <main aria-busy=move || is_busy().then_some("true")>
            {move || match area.get() {
                Area::Compare => view! { <Compare/> }.into_any(),
                Area::Papers => view! { <Papers/> }.into_any(),
                Area::Trace => view! { <Tracing/> }.into_any(),
                Area::Help => view! { <Help/> }.into_any(),
                Area::Selector => view! { <SelectorBoard/><Sizes after=told/> }.into_any(),
                Area::Depth => view! { <DepthBoard/><Sizes after=told/> }.into_any(),
                // There the tables are what is worked with.
                Area::Load => view! { <Sizes after=told/><Board/> }.into_any(),
                _ => view! { <Board/><Sizes after=told/> }.into_any(),
            }}
            <aside class="numbers" class:hidden=whole_page id="results" tabindex="-1" aria-label="Results">
                <Deferred><Findings/></Deferred>
                <Deferred><Results/></Deferred>
                <Deferred>{told.set(true)}</Deferred>
            </aside>
        </main>
    }
}

/// The sizes typed in, and on a small screen the numbers that matter most.
#[component]
fn Sizes(after: RwSignal<bool>) -> impl IntoView {
    move || after.get().then(|| view! { <Deferred><Forms/></Deferred><Deferred><Gist/></Deferred> })
}

/// The parts of the job, in its order.
#[component]
fn Areas() -> impl IntoView {
    let state = use_app_state();
    let tab = |area: Area, words: &'static str| {
        let beside = move || match state.with(|d| d.beside.len()) {
            0 => String::new(),
            n if area == Area::Compare => format!(" ({})", n + 1),
            _ => String::new(),
        };
        view! {
            <button aria-current=move || (state.area.get() == area).then_some("page") on:click=move |_| state.area.set(area)>{words}{beside}</button>
        }
    };
    view! {
        <nav class="areas" aria-label="Parts of the job">
            {tab(Area::Rings, "Rings")}
            {tab(Area::Shift, "Shift")}
            {tab(Area::Load, "Load")}
            {tab(Area::Rework, "Rework")}
            {tab(Area::Depth, "Depth")}
            {tab(Area::Selector, "Selector")}
            {tab(Area::Trace, "Trace")}
            {tab(Area::Papers, "Papers")}
            {tab(Area::Compare, "Compare")}
        </nav>
    }
}

/// The drawings, with what is done on them below.
#[component]
fn Board() -> impl IntoView {
    let state = use_app_state();
    let stale = move || state.analysis.with(|a| a.meshed.is_none());
    let area = Memo::new(move |_| state.area.get());
    let in_shift = Memo::new(move |_| area.get() == Area::Shift);
    view! {
        <section class="board" aria-label="Drawings" class:stale=stale>
            <p class="old" role="status">{move || stale().then_some("This is the last drawing that could be worked out. The findings say what stands in the way.")}</p>
            <p class="first">
                {move || if !in_shift.get() {
                    view! { "Click a dog, then cut it with the buttons below the drawing, and watch the numbers. " <span class="quiet">"Drag any round handle, or type the size."</span> }.into_any()
                } else {
                    view! { "Choose the shift below, then play it: the three drawings move together. " <span class="quiet">"Drag the phase to start it elsewhere."</span> }.into_any()
                }}
            </p>
            <Deferred><Drawing kind=ViewKind::Face title="Face view" caption="Looking along the shaft at the dogs of ring A. Ring B lies towards you, seen through its web."/></Deferred>
            <Deferred><Legend/></Deferred>
            <Deferred><Drawing kind=ViewKind::Unrolled title="Unrolled view" caption="The dogs at the mean radius, rolled out. Heights are drawn larger than widths."/></Deferred>
            <Deferred><Drawing kind=ViewKind::Map title="Phase map" caption="Grey is blocked: a dog is in the way. Across: phase. Down: overlap. Move the cross to try a place; the curve is one shift from its phase."/></Deferred>
            {move || match area.get() {
                Area::Shift => view! { <Deferred><PlayBar/></Deferred><Deferred><Charts/></Deferred> }.into_any(),
                Area::Rework => view! { <Deferred><CuttingBar/></Deferred><Deferred><SolidView/></Deferred> }.into_any(),
                _ => view! { <Deferred><CuttingBar/></Deferred> }.into_any(),
            }}
        </section>
    }
}

/// The numbers that matter most, kept in sight on a small screen.
#[component]
fn Gist() -> impl IntoView {
    let state = use_app_state();
    let angle = move |radians: Option<f64>| {
        let show = |v: f64| Quantity::Angle.show_short(v.to_degrees(), state.units.get());
        radians.map_or_else(|| "none".to_owned(), show)
    };
    let meshed = move |read: fn(&Meshed) -> Option<f64>| {
        state.analysis.with(|a| a.meshed.as_ref().and_then(read))
    };
    let free = move || angle(meshed(Meshed::free_angle));
    let lash = move || angle(meshed(|m| m.held.map(|w| w.width.radians())));
    let findings = move || state.analysis.with(|a| a.findings.len());
    view! {
        <div class="gist" aria-hidden="true">
            <span>"Free angle "<b>{free}</b></span>
            <span>"Lash "<b>{lash}</b></span>
            <span>"Findings "<b>{findings}</b></span>
        </div>
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

/// The fills that the style sheet draws ring B and the webs with.
#[component]
fn Hatching() -> impl IntoView {
    view! {
        <svg class="sr" width="0" height="0" aria-hidden="true">
            <defs>
                <pattern id="hatch-b" width="1.6" height="1.6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
                    <rect class="tint" width="1.6" height="1.6"></rect>
                    <rect class="bar" width="0.35" height="1.6"></rect>
                </pattern>
                <pattern id="hatch-web" width="1.6" height="1.6" patternUnits="userSpaceOnUse" patternTransform="rotate(-45)">
                    <rect class="bar" width="0.25" height="1.6"></rect>
                </pattern>
            </defs>
        </svg>
    }
}
