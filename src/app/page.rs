//! The whole page, put together.

use std::hint::black_box;

use leptos::prelude::*;

use crenel::design::Design;
use crenel::model::LaidOut;

use crenel_words::page::{frame as say, results, rework};

use crate::areas::AREAS;
use crate::deferred::{Deferred, is_busy, schedule_first};
use crate::dom::opened;
use crate::part::{Part, fetch_ahead, part, part_of, show};
use crate::state::persistence::Beginning;
use crate::state::{
    AppState, AreaKey, Content, Start, here, persistence, use_app_state, watch_outcomes,
};
use crate::widgets::board::Board;
use crate::widgets::designs::DesignsDialog;
use crate::widgets::figure_dialog::FigureDialog;
use crate::widgets::find::FindDialog;
use crate::widgets::findings::Findings;
use crate::widgets::focus;
use crate::widgets::gear_bar::GearBarPlace;
use crate::widgets::hatching::Hatching;
use crate::widgets::header::{self, Header};
use crate::widgets::inspector::Inspector;
use crate::widgets::keypad::Keypad;
use crate::widgets::lighting;
use crate::widgets::offline::{self, NewerNotice};
use crate::widgets::results::Results;
use crate::widgets::share::{ShareDialog, SharedNotice};
use crate::widgets::stage_bar::StageBar;
use crate::widgets::verdict::VerdictStrip;

/// The verdict on the design. What finds it is a sixth of the code, and comes while the drawing is built.
const VERDICT: Part = part_of!(answer, verdict, view! { <VerdictStrip/> });

/// The whole page. Its pieces are mounted one after the other. Where something is kept or was sent, it waits for the
/// code that reads designs.
#[component]
pub(crate) fn App() -> impl IntoView {
    let page = match persistence::beginning() {
        Beginning::Fresh => begun(persistence::fresh()),
        Beginning::Sent => part!(reading, sent, begun(persistence::sent()))(),
        Beginning::Kept => part!(keeping, page, begun(persistence::start()))(),
    };
    fetch_ahead(VERDICT);
    page
}

fn begun(start: Start) -> AnyView {
    let start = StoredValue::new_local(Some(start));
    let page =
        move || start.try_update_value(Option::take).flatten().map(|start| view! { <Page start/> });
    view! { <Deferred>{page()}</Deferred> }.into_any()
}

#[component]
fn Page(start: Start) -> impl IntoView {
    let state = AppState::open(AREAS, start);
    provide_context(state);
    persistence::go_to_start(state);
    let area = Memo::new(move |_| state.area.get());
    Effect::new(move |before: Option<AreaKey>| {
        let now = area.get();
        if before.is_some_and(|before| before != now) {
            state.explained.set(None);
            window().scroll_to_with_x_and_y(0.0, 0.0);
        }
        now
    });
    view! {
        <Deferred>{part!(keeping, kept, view! { <Kept/> })()}</Deferred>
        <Deferred first=true><Hatching/><Header/></Deferred>
        <Deferred first=true><NewerNotice/><SharedNotice/></Deferred>
        <Deferred first=true>{verdict_waits(state)}{show(VERDICT)}</Deferred>
        <Deferred first=true><GearBarPlace/></Deferred>
        <Deferred first=true><StageBar/></Deferred>
        <Deferred>{header::listen_for_keys(state)}{focus::keep_place()}{lighting::follow()}</Deferred>
        <Deferred>{opened()}</Deferred>
        <Deferred first=true>{work_out(state)}</Deferred>
        <Deferred first=true><CurrentArea area/></Deferred>
        <Deferred>
            <p class="sr" role="status">{move || state.said.get()}</p>
            {move || state.flashed.get().map(|text| view! { <p class="flash" aria-hidden="true">{text}</p> })}
        </Deferred>
        <Deferred><ShareDialog/><DesignsDialog/><FindDialog/><FigureDialog/></Deferred>
        <Deferred>{part!(beside, keypad, view! { <Keypad/> })()}</Deferred>
        <Deferred>{offline::keep_whole(state)}</Deferred>
    }
}

/// Keeps the work, and works out beside the page what takes longer: all that needs designs as text.
#[component]
fn Kept() -> impl IntoView {
    let state = use_app_state();
    persistence::watch(state);
    watch_outcomes(state);
    state.spans.watch();
    state.cuts.watch(move || state.say(here(rework::search_ended)));
}

/// Holds the room of the verdict until it is there.
fn verdict_waits(state: AppState) -> impl IntoView {
    let waits = move || state.find_matters.with(Option::is_none);
    move || {
        waits().then(
            || view! { <div class="verdict-strip" data-tone="open" aria-hidden="true"></div> },
        )
    }
}

/// Works out the design in steps. A browser compiles code when it is called for the first time, which takes
/// far longer than the work itself.
fn work_out(state: AppState) {
    schedule_first(move || drop(black_box(state.with(Design::check))));
    schedule_first(move || drop(black_box(state.with(LaidOut::of))));
    schedule_first(move || state.analysis.with_untracked(|_| ()));
}

/// What the results are not. It comes after them, so that it stands where it stays.
#[component]
fn Disclaimer() -> impl IntoView {
    view! { <Deferred><p class="disclaimer">{here(say::disclaimer)}</p></Deferred> }
}

/// The area that is on the screen, with inspector and results beside it.
#[component]
fn CurrentArea(area: Memo<AreaKey>) -> impl IntoView {
    let state = use_app_state();
    let shown = move || state.areas.find(area.get());
    let whole_page = move || matches!(shown().content, Content::Page(_));
    view! {
        <main aria-busy=move || is_busy().then_some("true") class:whole=whole_page>
            {move || {
                let area = shown();
                match area.content {
                    Content::Page(page) => view! { <div class="whole-page">{page()}</div> }.into_any(),
                    Content::Board { .. } => view! { <Board area/> }.into_any(),
                }
            }}
            <aside class="beside-board" class:hidden=whole_page>
                <Deferred>{part!(beside, inspector, view! { <Inspector/> })()}</Deferred>
                <section class="numbers" id="results" tabindex="-1" aria-label=here(results::title)>
                    <Deferred>{part!(beside, results, view! { <Findings/><Results/><Disclaimer/> })()}</Deferred>
                </section>
            </aside>
        </main>
    }
}
