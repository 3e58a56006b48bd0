//! What is worst in the gearbox, and the way there.

use std::sync::Arc;

use leptos::prelude::*;

use crenel::gearset::Part;
use crenel_words::page::whole as say;

use super::gear_button;
use crate::state::{AppState, AreaKey, Boxed, Inspected, here, use_app_state};

/// Shows the drum, and the numbers of the part in the inspector.
fn show_part(state: AppState, part: Part) {
    let panel = match part {
        Part::Fork(_) | Part::Slider(_) => "forks",
        Part::Gear(_) => "shafts",
        Part::Position(_) | Part::Selector => "notches",
    };
    state.layout.show_picture(AreaKey::BOX, "drum");
    state.layout.inspected.set(Inspected::Panel(panel));
}

/// The sentence that names the worst and the reason, and the buttons that lead to it.
#[component]
pub(super) fn WorstOf(boxed: Signal<Arc<Boxed>>) -> impl IntoView {
    let state = use_app_state();
    let worst = Memo::new(move |_| boxed.with(|boxed| boxed.worst.clone()));
    let told = move || {
        let worst = worst.get();
        let reader = state.reader();
        let of_drum = worst.part.filter(|part| !matches!(part, Part::Gear(_)));
        let part = of_drum.map(|part| {
            view! {
                <button on:click=move |_| show_part(state, part)>
                    {here(say::show_part(part.name()))}
                </button>
            }
        });
        let gear = worst.gear.map(|gear| gear_button(state, gear));
        view! {
            <p class="box-sentence" data-tone=worst.class.tone()>
                <span class="mark" aria-hidden="true">{worst.class.mark()}" "</span>{worst.says.show(reader)}
            </p>
            {worst.next.map(|next| view! { <p>{next.show(reader)}</p> })}
            <div class="row">{part}{gear}</div>
        }
    };
    view! { <div class="box-worst" role="status" aria-label=here(say::verdict)>{told}</div> }
}
