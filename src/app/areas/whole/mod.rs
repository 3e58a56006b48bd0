//! The whole gearbox: what is worst, all shifts, what is wrong with it, and its drum.

mod beginning;
mod chart;
mod cure;
mod drum;
mod findings;
mod heat;
mod parts;
mod section;
mod shifts;
mod stroke;
mod tracks;
mod turning;
mod worst;

use std::sync::Arc;

use leptos::prelude::*;

use crenel::verdict::Stage;
use crenel_words::page::whole as say;

use crate::part::part;
use crate::state::{
    AppState, Area, AreaKey, Boxed, Content, Home, Panel, Picture, here, use_app_state,
};
use crate::widgets::gear_bar::show_gear;
use beginning::MakeBox;
use cure::Cure;
use drum::Development;
use findings::BoxFindings;
use heat::HeatMap;
use parts::{DrumForm, ForkForm, ReadingForm, ShaftForm};
use shifts::AllShifts;
use worst::WorstOf;

pub(super) const AREA: Area<AnyView> = Area {
    results: &["window_time_ms", "straight_in_limit_rpm", "first_pass_straight_share", "lash_deg"],
    begins: |design| design.around.is_some(),
    listed: |design| design.around.is_some(),
    ..Area::of(
        Stage::Cause,
        AreaKey::BOX,
        say::title,
        Content::Board {
            pictures: &[
                Picture::of("shifts", say::shifts, part!(work, box_shifts, view! { <Overview/> })),
                Picture::of("drum", say::drum, part!(work, box_drum, view! { <DrumView/> })),
                Picture::of("cure", say::cure, part!(work, box_cure, view! { <CureView/> })),
            ],
            panels: &[
                Panel {
                    key: "forks",
                    title: say::forks,
                    owns: parts::is_of_fork,
                    form: part!(work, box_fork_form, view! { <ForkForm/> }),
                },
                Panel {
                    key: "shafts",
                    title: say::shafts,
                    owns: parts::is_of_shaft,
                    form: part!(work, box_shaft_form, view! { <ShaftForm/> }),
                },
                Panel {
                    key: "notches",
                    title: say::notches,
                    owns: parts::is_of_drum,
                    form: part!(work, box_drum_form, view! { <DrumForm/> }),
                },
                Panel {
                    key: "readings",
                    title: say::readings,
                    owns: parts::is_read,
                    form: part!(work, box_reading_form, view! { <ReadingForm/> }),
                },
            ],
            home: Home::Panel,
        },
    )
};

#[component]
fn CureView() -> impl IntoView {
    once_worked_out(|boxed| view! { <Cure boxed/> }.into_any())
}

/// What is shown once the gearbox is worked out, or the way to make one.
fn once_worked_out(
    show: impl Fn(Signal<Arc<Boxed>>) -> AnyView + Copy + Send + 'static,
) -> impl IntoView {
    let state = use_app_state();
    let in_box = Memo::new(move |_| state.with(|d| d.around.is_some()));
    let there = Memo::new(move |_| state.boxed.with(Option::is_some));
    move || match (in_box.get(), there.get()) {
        (false, _) => view! { <MakeBox/> }.into_any(),
        (true, false) => {
            view! { <p class="quiet working-out">{here(say::working_out)}</p> }.into_any()
        }
        (true, true) => {
            // What was worked out last stays until the view is gone.
            let shown = RwSignal::new(state.boxed.get_untracked());
            Effect::new(move |_| {
                if let Some(boxed) = state.boxed.get() {
                    shown.set(Some(boxed));
                }
            });
            shown.get_untracked().map_or_else(
                || ().into_any(),
                |first| {
                    show(Signal::derive(move || shown.get().unwrap_or_else(|| Arc::clone(&first))))
                },
            )
        }
    }
}

#[component]
fn Overview() -> impl IntoView {
    once_worked_out(|boxed| {
        view! {
            <section class="whole-box" aria-label=here(say::all_gears)>
                <WorstOf boxed/><AllShifts boxed/><HeatMap boxed/><BoxFindings boxed/>
            </section>
        }
        .into_any()
    })
}

#[component]
fn DrumView() -> impl IntoView {
    once_worked_out(|boxed| view! { <Development boxed/> }.into_any())
}

/// Opens the dogs of a gear.
fn open_dogs(state: AppState, gear: usize) {
    show_gear(state, gear);
    state.open_area(AreaKey::DOGS);
}

/// A button that opens the dogs of a gear.
fn gear_button(state: AppState, gear: usize) -> impl IntoView {
    view! { <button on:click=move |_| open_dogs(state, gear)>{here(say::show_gear(gear))}</button> }
}
