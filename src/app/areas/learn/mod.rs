//! Learn: six short stories, each with a live drawing, one thing to drag, a guess and the model's answer.

mod answer;
mod picture;
mod range;
mod told;

use leptos::html::Section;
use leptos::prelude::*;

use crenel::story::{KEYS, STORIES, Story};
use crenel_words::page::{common, learn as say};

use self::told::Told;
use crate::part::part;
use crate::state::{AppState, Area, AreaKey, Content, Player, here, use_app_state};
use crate::widgets::lecture::{self, LectureButton, Press};

pub(super) const AREA: Area<AnyView> = Area {
    // The names alone: the stories themselves are in the part.
    step: |name| KEYS.into_iter().find(|key| *key == name),
    ..Area::of_links(
        AreaKey::LEARN,
        say::title,
        Content::Page(part!(learn, stories, view! { <Learn/> })),
    )
};

#[component]
fn Learn() -> impl IntoView {
    let state = use_app_state();
    let story = Memo::new(move |_| {
        state.layout.picture(AreaKey::LEARN).and_then(Story::named).unwrap_or(STORIES[0])
    });
    let own = RwSignal::new(false);
    let lecture = RwSignal::new(false);
    let section = NodeRef::<Section>::new();
    let film = RwSignal::new(None::<Player>);
    lecture::follow(lecture, move |press| match press {
        Press::On => turn(state, 1),
        Press::Back => turn(state, -1),
        Press::Play => film.get_untracked().into_iter().for_each(lecture::play),
    });
    let choose = move |story: &'static Story, nth: usize| {
        let show = move |_| state.layout.show_picture(AreaKey::LEARN, story.key);
        let current = move || {
            let now = state.layout.picture(AreaKey::LEARN).unwrap_or(KEYS[0]);
            (now == story.key).then_some("step")
        };
        view! {
            <li><button aria-current=current on:click=show>{here(say::nth_story(nth, (story.title)()))}</button></li>
        }
    };
    let all = STORIES.into_iter().zip(0..).map(|(story, nth)| choose(story, nth));
    view! {
        <section class="learn" class:lecture=lecture aria-label=here(say::six_stories) node_ref=section>
            <div class="row head">
                <h2>{here(say::six_stories)}</h2>
                <LectureButton lecture section keys=say::lecture_keys/>
                <button class="icon away" aria-label=here(common::close)
                    on:click=move |_| state.open_area(state.worked_in.get_untracked())>"✕"</button>
            </div>
            <nav aria-label=here(say::stories)><ol>{all.collect_view()}</ol></nav>
            {move || {
                let story = story.get();
                view! { <Told story own lecture film/> }
            }}
            <div class="row turn">
                <button disabled=move || story.get() == STORIES[0] on:click=move |_| turn(state, -1)>
                    "← "{here(say::previous)}
                </button>
                <button disabled=move || story.get() == STORIES[STORIES.len() - 1] on:click=move |_| turn(state, 1)>
                    {here(say::next)}" →"
                </button>
            </div>
        </section>
    }
}

/// To the story so many further on, if there is one.
fn turn(state: AppState, by: isize) {
    let now = state.layout.picture(AreaKey::LEARN).unwrap_or(KEYS[0]);
    let at = KEYS.iter().position(|key| *key == now).and_then(|at| at.checked_add_signed(by));
    if let Some(key) = at.and_then(|at| KEYS.get(at)) {
        state.layout.show_picture(AreaKey::LEARN, key);
    }
}
