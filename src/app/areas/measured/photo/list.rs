//! The flanks as a list beside the picture, and what is done with the one that is chosen.

use leptos::prelude::*;

use crenel::units::Quantity;
use crenel_photo::Doubt;
use crenel_words::Message;
use crenel_words::page::{common, photo as say};

use super::desk::{Desk, Grip, side_name};
use crate::state::here;

#[component]
pub(super) fn FlankList(desk: Desk) -> impl IntoView {
    let dogs =
        Memo::new(move |_| desk.ring.with(|ring| ring.as_ref().map_or(0, |ring| ring.dogs.len())));
    let row = move |place: usize| {
        view! {
            <tr>
                <th scope="row">{format!("{}{}", desk.sheet.side.letter(), place + 1)}</th>
                <td><FlankCell desk place side=0 dogs/></td>
                <td><FlankCell desk place side=1 dogs/></td>
            </tr>
        }
    };
    move || {
        (dogs.get() > 0).then(|| {
            view! {
                <div class="scroll" tabindex="0" role="region" aria-label=here(say::flanks_of(desk.sheet.side))>
                    <table class="figures photo-flanks">
                        <thead>
                            <tr>
                                <th scope="col">{here(common::dog_head)}</th>
                                <th scope="col">{here(say::drive)}</th>
                                <th scope="col">{here(say::coast)}</th>
                            </tr>
                        </thead>
                        <tbody>{(0..dogs.get()).map(row).collect_view()}</tbody>
                    </table>
                </div>
            }
        })
    }
}

/// One flank: pressing it chooses it in the picture.
#[component]
fn FlankCell(desk: Desk, place: usize, side: usize, dogs: Memo<usize>) -> impl IntoView {
    let dog = move || desk.nth(place, dogs.get());
    let is_used = move || desk.is_used(dog(), side);
    let text = move || {
        if is_used() {
            return flank_text(desk, dog(), side);
        }
        let is_out = desk.placed.with(|placed| placed.contains_key(&(dog(), side)));
        here(if is_out { say::left_out() } else { say::is_unsure() }).into_owned()
    };
    let choose = move |_| desk.grip.set(Some(Grip::Flank(dog(), side)));
    view! {
        <button class="photo-flank-cell" aria-pressed=move || (desk.grip.get() == Some(Grip::Flank(dog(), side))).to_string()
            class:unsure=move || !is_used() on:click=choose>
            {move || (!is_used()).then_some("▲ ")}{text}
        </button>
    }
}

/// The angle of a flank with its uncertainty, as it is read.
pub(super) fn flank_text(desk: Desk, dog: usize, side: usize) -> String {
    let units = desk.sheet.state.units.get();
    let shown = |deg: f64| Quantity::Angle.format((deg * 100.0).round() / 100.0, units);
    let told = desk.told(dog, side).map(|told| told.map(shown));
    told.map_or_else(String::new, |[angle, off]| here(say::angle_of_flank(angle, off)).into_owned())
}

/// What is said of a flank beside its angle: that it was placed or left out by hand, or why it is unsure.
pub(super) fn flank_state(desk: Desk, dog: usize, side: usize) -> Option<Message> {
    match desk.placed.with(|placed| placed.get(&(dog, side)).copied()) {
        Some(Some(_)) => Some(say::placed()),
        Some(None) => Some(say::left_out()),
        None => desk.flank(dog, side).and_then(|flank| flank.doubt).map(doubt_words),
    }
}

/// What is said of the flank that is chosen, and what can be done with it.
#[component]
pub(super) fn Chosen(desk: Desk) -> impl IntoView {
    let chosen = Memo::new(move |_| match desk.grip.get() {
        Some(Grip::Flank(dog, side)) => Some((dog, side)),
        _ => None,
    });
    let has_ring = Memo::new(move |_| desk.ring.with(Option::is_some));
    move || {
        let Some((dog, side)) = chosen.get() else {
            let hint = view! { <p class="quiet row photo-chosen">{here(say::choose_flank)}</p> };
            return has_ring.get().then(|| hint.into_any());
        };
        let told = move || {
            let mut told =
                vec![here(say::flank_of(desk.place_of(dog), side_name(side))).into_owned()];
            let flank = desk.flank(dog, side);
            if let Some(px) =
                flank.filter(|flank| flank.angle.is_some()).map(|flank| flank.scatter_px)
            {
                told.push(here(say::scatter(format!("{px:.2}"))).into_owned());
            }
            told.extend(flank_state(desk, dog, side).map(|state| here(state).into_owned()));
            told.join(" · ")
        };
        let is_used = move || desk.is_used(dog, side);
        let shown = view! {
            <div class="row photo-chosen">
                <span role="status">{told}</span>
                <button class="icon" aria-label=here(say::on()) on:click=move |_| desk.turn(dog, side, 0.1)>"↺"</button>
                <button class="icon" aria-label=here(say::back()) on:click=move |_| desk.turn(dog, side, -0.1)>"↻"</button>
                <button on:click=move |_| desk.use_flank(dog, side, !untrack(is_used))>
                    {move || here(if is_used() { say::leave_it() } else { say::use_it() })}
                </button>
            </div>
        };
        Some(shown.into_any())
    }
}

fn doubt_words(doubt: Doubt) -> Message {
    match doubt {
        Doubt::NoEdge => say::no_edge(),
        Doubt::Scattered => say::scattered(),
        Doubt::TwoEdges => say::two_edges(),
        Doubt::Faint => say::faint(),
        Doubt::Askew => say::askew(),
        Doubt::OffCircle => say::off_circle(),
    }
}
