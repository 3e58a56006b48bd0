//! The first visit: three doors, and the ways to begin with something of one's own.

use leptos::prelude::*;
use leptos::wasm_split::{SplitLoaderError, wasm_split};

use crenel::analysis::Analysis;
use crenel::design::{Design, example, gallery};
use crenel::draw::views::FACE;
use crenel::draw::{Item, Role, Scene, ViewOptions};
use crenel::ring::Side;
use crenel_words::Phrase;
use crenel_words::page::{designs, learn, start as say};

use crate::part::fetched;
use crate::state::persistence::note_met;
use crate::state::{AppState, Area, AreaKey, Content, Dialog, here, use_app_state};
use crate::widgets::designs::open_example;
use crate::widgets::drawing::LETTER_PX;
use crate::widgets::files::OpenButton;
use crate::widgets::scene_marks::SceneMarks;

pub(super) const AREA: Area<AnyView> = Area::of_first_visit(
    AreaKey("start"),
    say::title,
    Content::Page(|| view! { <Doors/> }.into_any()),
);

/// One way in.
struct Door {
    title: Phrase,
    text: Phrase,
    go: Phrase,
    enter: fn(AppState),
}

const DOORS: [Door; 3] = [
    Door {
        title: say::shifts_badly,
        text: say::shifts_badly_text,
        go: say::find_cause,
        enter: find_cause,
    },
    Door { title: say::cut_dogs, text: say::cut_dogs_text, go: say::plan_cut, enter: own_gear },
    Door { title: say::compare, text: say::compare_text, go: say::compare_go, enter: compare },
];

#[component]
fn Doors() -> impl IntoView {
    let state = use_app_state();
    let door = |door: &'static Door| {
        view! {
            <section class="door">
                <h3>{here(door.title)}</h3>
                <p>{here(door.text)}</p>
                <button on:click=move |_| (door.enter)(state)>{here(door.go)}" "<span aria-hidden="true">"→"</span></button>
            </section>
        }
    };
    // Whoever goes on from here has been here.
    on_cleanup(note_met);
    view! {
        <div class="doors">
            <h2>{here(say::what_brings_you)}</h2>
            <TurningPair/>
            <div class="three">{DOORS.iter().map(door).collect_view()}</div>
            <div class="row">
                <button on:click=move |_| own_gear(state)>{here(say::own_gear)}</button>
                <button on:click=move |_| state.open_area(state.areas.first().key)>{here(say::try_example)}</button>
                <OpenButton/>
                <button on:click=move |_| state.dialog.set(Some(Dialog::Designs))>{here(designs::title)}</button>
                <button on:click=move |_| state.open_area(AreaKey::LEARN)>{here(learn::six_stories)}</button>
            </div>
        </div>
    }
}

/// Ring A of the example turns behind ring B, and rests where it fits. The style sheet alone moves it, as a layer of
/// its own: nothing is drawn again, and where less motion is wanted it is still.
#[component]
fn TurningPair() -> impl IntoView {
    let example = Analysis::of(&example());
    let frame = FACE.frame(&example, PAIR_PX, 1.0, LETTER_PX);
    let scene = FACE.draw(&example, &frame, &ViewOptions::default());
    let of_ring = |side: Side| {
        let mut ring = Scene::new(frame.bounds);
        let drawn = [Role::Rim, Role::Tip, Role::Root];
        let of_it = |item: &&Item| item.side == Some(side) && drawn.contains(&item.role);
        ring.items = scene.items.iter().filter(of_it).cloned().collect();
        ring
    };
    let (size, paper) = (2.1 * frame.radius_mm, frame.bounds.width());
    let edge = (paper - size) / 2.0;
    let ring = |side: Side, class: &'static str| {
        view! {
            <svg class=class viewBox=format!("{edge:.4} {edge:.4} {size:.4} {size:.4}")>
                <SceneMarks scene=Signal::stored(of_ring(side))/>
            </svg>
        }
    };
    view! {
        <div class="view turning-pair" aria-hidden="true">{ring(Side::A, "turns")}{ring(Side::B, "")}</div>
    }
}

/// The width that the pair is drawn for, CSS pixels.
const PAIR_PX: f64 = 320.0;

/// Plausible rings, where the cause is looked for.
fn find_cause(state: AppState) {
    fetched(state, begin_own_gear(state, AreaKey::CHECKS));
}

/// Plausible rings to fill in, and nothing else.
fn own_gear(state: AppState) {
    fetched(state, begin_own_gear(state, AreaKey::DOGS));
}

#[wasm_split(keeping, wasm_split_path = leptos::wasm_split, fallible)]
fn begin_own_gear(state: AppState, area: AreaKey) -> Result<(), SplitLoaderError> {
    state.replace(Design::own_gear());
    state.open_area(area);
    if area == AreaKey::DOGS {
        state.tell(here(say::own_gear_begun), false);
    }
    Ok(())
}

/// Layouts beside one another, invented.
fn compare(state: AppState) {
    fetched(state, open_layouts(state));
}

#[wasm_split(keeping, wasm_split_path = leptos::wasm_split, fallible)]
fn open_layouts(state: AppState) -> Result<(), SplitLoaderError> {
    let example = gallery().iter().find(|example| example.opens_in == "compare");
    example.into_iter().for_each(|example| open_example(state, example));
    Ok(())
}
