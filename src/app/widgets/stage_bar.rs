//! The stages of the job, and the areas of the open stage.

use std::collections::HashMap;

use leptos::prelude::*;

use crenel::finding::Class;
use crenel::verdict::Stage;
use crenel_words::page::frame as say;

use crate::state::{AppState, Area, AreaKey, here, use_app_state};
use crate::widgets::area_button::AreaButton;
use crate::widgets::icon::{self, Icon};

/// The stages, and the areas of the one that is open.
#[component]
pub(crate) fn StageBar() -> impl IntoView {
    let state = use_app_state();
    let open = state.stage;
    // The class of the gravest matter of each stage, and how many there are.
    let marked = Memo::new(move |_| {
        state.matters.with(|matters| {
            Stage::ALL.map(|stage| {
                let of_stage = || matters.iter().filter(|matter| matter.stage == stage);
                of_stage().next().map(|gravest| (gravest.class, of_stage().count()))
            })
        })
    });
    // The area that each stage was left in.
    let left = StoredValue::new(HashMap::<Stage, AreaKey>::new());
    Effect::new(move |_| {
        let area = state.current_area();
        if let Some(stage) = area.stage() {
            left.update_value(|left| {
                left.insert(stage, area.key);
            });
        }
    });
    let keys = Memo::new(move |_| {
        let current = state.current_area().key;
        let listed = |area: &&Area<AnyView>| {
            area.key == current || state.with(|design| (area.listed)(design))
        };
        state.areas.of_stage(open.get()).filter(listed).map(|area| area.key).collect::<Vec<_>>()
    });
    let areas = move || {
        let areas = keys.get().into_iter().map(|key| state.areas.find(key));
        areas.map(|area| view! { <AreaButton area/> }).collect_view()
    };
    let go = move |stage| {
        let area = left.with_value(|left| left.get(&stage).copied());
        let first = || state.areas.of_stage(stage).next().map(|area| area.key);
        area.or_else(first).into_iter().for_each(|key| state.open_area(key));
    };
    view! {
        <nav class="stage-bar" aria-label=here(say::parts_of_the_job)>
            <div class="stages">
                {Stage::ALL.into_iter().zip(1_usize..).map(|(stage, number)| view! {
                    <button class="stage" aria-current=move || is_current(state, open.get(), stage)
                        on:click=move |_| go(stage)>
                        <span class="number">{number}</span>
                        <Icon path=picture_of(stage)/>
                        <StageName stage/>
                        <StageMark at=number - 1 marked/>
                    </button>
                }).collect_view()}
            </div>
            <div class="areas" role="group" aria-label=move || here(open.get().title())>{areas}</div>
        </nav>
    }
}

/// The stage whose area is on the screen.
fn is_current(state: AppState, open: Stage, stage: Stage) -> Option<&'static str> {
    (open == stage && state.current_area().stage().is_some()).then_some("true")
}

/// Its picture, in place of its number where there is little room.
const fn picture_of(stage: Stage) -> &'static str {
    match stage {
        Stage::Cause => icon::LOOK,
        Stage::Pair => icon::PAIR,
        Stage::Change => icon::CUT,
        Stage::Make => icon::SHEET,
    }
}

/// Its name, shortened where there is little room for it.
#[component]
fn StageName(stage: Stage) -> impl IntoView {
    view! {
        <span class="long">{here(stage.title())}</span>
        <span class="brief" aria-hidden="true">{here(stage.short_title())}</span>
    }
}

/// The gravest matter of each stage, and how many there are.
type Marked = [Option<(Class, usize)>; Stage::ALL.len()];

/// What is past a limit in a stage.
#[component]
fn StageMark(at: usize, marked: Memo<Marked>) -> impl IntoView {
    move || {
        marked.with(|marked| marked[at]).map(|(class, count)| {
            view! {
                <span class="stage-mark" data-tone=class.tone()>
                    <span aria-hidden="true">{class.mark()}{count}</span>
                    <span class="sr">{here(say::past_limits(count))}</span>
                </span>
            }
        })
    }
}
