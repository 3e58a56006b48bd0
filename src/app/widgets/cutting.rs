//! The bar under the drawings: choose a dog, keep, shorten or remove it.

use leptos::prelude::*;

use crenel::design::Design;
use crenel::design::{Cut, Plan};
use crenel::fields::{FieldId, Slot};
use crenel::ring::Side;
use crenel::units::Quantity;
use crenel_words::Phrase;
use crenel_words::page::common as say;

use crate::state::{AppState, use_app_state};
use crate::widgets::number_field::NumberField;

/// The hint of boards with a cutting bar.
pub(crate) const CUTTING_HINT: [Phrase; 2] = [say::hint_cut, say::hint_drag];

#[component]
pub(crate) fn CuttingBar() -> impl IntoView {
    let state = use_app_state();
    view! {
        <section class="cutting" aria-label="Cut dogs">
            <div class="rings">{Side::BOTH.map(|side| view! { <Strip side/> }).collect_view()}</div>
            <div class="row">
                <strong class="chosen-dog">{move || chosen_words(state)}</strong>
                <Choice what=None words="Keep"/>
                <Choice what=Some(Cut::Shorten(0.0)) words="Shorten"/>
                <Choice what=Some(Cut::Remove) words="Remove"/>
                <ShortenTo/>
            </div>
            <div class="row">
                <button on:click=move |_| every_second(state)>"Same for every second dog"</button>
                <button on:click=move |_| to_other_ring(state)>
                    {move || format!("Same cuts on {}", state.chosen.get().0.other().lower_name())}
                </button>
                <button disabled=move || state.with(|d| !d.is_planned())
                    on:click=move |_| state.change(clear)>"Restore all dogs"</button>
            </div>
        </section>
    }
}

fn clear(design: &mut Design) {
    design.a.plan = Plan::default();
    design.b.plan = Plan::default();
}

/// The dogs of one ring as buttons.
#[component]
fn Strip(side: Side) -> impl IntoView {
    let state = use_app_state();
    let places = Memo::new(move |_| state.with(|d| d.ring(side).places()));
    let class = if side == Side::A { "strip ring-a" } else { "strip ring-b" };
    view! {
        <div class=class role="group" aria-label=format!("Dogs of {}", side.lower_name())>
            <span class="name">{side.name()}</span>
            <For each=move || 0..places.get() key=|place| *place
                children=move |place| view! { <DogButton side place/> }/>
        </div>
    }
}

#[component]
fn DogButton(side: Side, place: usize) -> impl IntoView {
    let state = use_app_state();
    let now = Memo::new(move |_| state.with(|d| dog_state(d, side, place)));
    let label = move || format!("Dog {}{}, {}", side.letter(), place + 1, now.get().words(state));
    let key = move |event: web_sys::KeyboardEvent| {
        let cut = match event.key().as_str() {
            "Delete" | "Backspace" => Some(Cut::Remove),
            "k" | "K" => None,
            "s" | "S" => Some(half_height(state, side, place)),
            _ => return,
        };
        event.prevent_default();
        state.choose(side, place);
        put(state, side, place, cut);
    };
    view! {
        <button class="dog" data-state=move || now.get().name() aria-label=label
            aria-pressed=move || (state.chosen.get() == (side, place)).to_string()
            on:click=move |_| state.choose(side, place) on:keydown=key>
            {format!("{}{}", side.letter(), place + 1)}
        </button>
    }
}

/// The state of one dog place.
#[derive(Clone, Copy, PartialEq)]
enum DogState {
    Kept(f64),
    Short(f64),
    Gone,
    Empty,
}

fn dog_state(design: &Design, side: Side, place: usize) -> DogState {
    let ring = design.ring(side);
    let found = ring.found_dogs().get(place).map_or(0.0, |d| d.height_mm);
    match ring.plan.cut_of(place) {
        _ if found <= 0.0 => DogState::Empty,
        Some(Cut::Remove) => DogState::Gone,
        Some(Cut::Shorten(to)) => DogState::Short(to.min(found)),
        None => DogState::Kept(found),
    }
}

impl DogState {
    const fn name(self) -> &'static str {
        match self {
            Self::Kept(_) => "kept",
            Self::Short(_) => "short",
            Self::Gone => "gone",
            Self::Empty => "empty",
        }
    }

    fn words(self, state: AppState) -> String {
        let mm = |v| Quantity::Length.show(v, state.units.get());
        match self {
            Self::Kept(height) => format!("{} high", mm(height)),
            Self::Short(height) => format!("cut down to {}", mm(height)),
            Self::Gone => "removed".to_owned(),
            Self::Empty => "empty place".to_owned(),
        }
    }
}

fn chosen_words(state: AppState) -> String {
    let (side, place) = state.chosen.get();
    let words = state.with(|d| dog_state(d, side, place)).words(state);
    format!("Dog {}{}: {words}", side.letter(), place + 1)
}

/// A button that keeps, shortens or removes the chosen dog.
#[component]
fn Choice(what: Option<Cut>, words: &'static str) -> impl IntoView {
    let state = use_app_state();
    let kind = |cut: Option<Cut>| cut.as_ref().map(std::mem::discriminant);
    let pressed = move || {
        let (side, place) = state.chosen.get();
        state.with(|d| kind(d.ring(side).plan.cut_of(place)) == kind(what))
    };
    let act = move |_| {
        let (side, place) = state.chosen.get_untracked();
        let cut = match what {
            Some(Cut::Shorten(_)) => Some(half_height(state, side, place)),
            other => other,
        };
        put(state, side, place, cut);
    };
    view! { <button class="choice" aria-pressed=move || pressed().to_string() on:click=act>{words}</button> }
}

/// Half the height as found, the usual first try.
fn half_height(state: AppState, side: Side, place: usize) -> Cut {
    let found =
        state.with(|d| d.ring(side).found_dogs().get(place).map_or(0.0, |dog| dog.height_mm));
    Cut::Shorten((found / 2.0).max(FieldId::ShortenTo.spec().min))
}

fn put(state: AppState, side: Side, place: usize, cut: Option<Cut>) {
    if state.with(|d| dog_state(d, side, place)) == DogState::Empty {
        return state.say("There is no dog at this place.");
    }
    state.change(|d| set_cut(d, side, place, cut));
    state.say(format!(
        "Dog {}{}: {}.",
        side.letter(),
        place + 1,
        state.with(|d| dog_state(d, side, place)).words(state)
    ));
}

fn set_cut(design: &mut Design, side: Side, place: usize, cut: Option<Cut>) {
    design.ring_mut(side).plan.set_cut(place, cut);
}

/// The remaining height, if the chosen dog is shortened.
#[component]
fn ShortenTo() -> impl IntoView {
    let state = use_app_state();
    let place = Memo::new(move |_| {
        let (side, place) = state.chosen.get();
        let short =
            state.with(|d| matches!(d.ring(side).plan.cut_of(place), Some(Cut::Shorten(_))));
        short.then_some(Slot::Dog(side, place, FieldId::ShortenTo))
    });
    move || place.get().map(|slot| view! { <NumberField at=slot/> })
}

fn every_second(state: AppState) {
    let (side, place) = state.chosen.get_untracked();
    state.change(|design| {
        let cut = design.ring(side).plan.cut_of(place);
        // Counted among the dogs as found: dogs that are removed already are not skipped.
        for other in design.ring(side).to_found().every_second(place) {
            set_cut(design, side, other, cut);
        }
    });
    let dogs = state.with(|d| d.ring(side).to_found().dogs.len());
    if dogs % 2 == 1 {
        let text = format!(
            "{} has {dogs} dogs, an odd number: somewhere two neighbours are treated alike.",
            side.name()
        );
        state.tell(text, false);
    }
}

fn to_other_ring(state: AppState) {
    let (side, _) = state.chosen.get_untracked();
    state.change(|design| {
        for place in 0..design.ring(side.other()).places() {
            let cut = design.ring(side).plan.cut_of(place);
            set_cut(design, side.other(), place, cut);
        }
    });
}
