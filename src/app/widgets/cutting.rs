//! The bar under the drawings: choose a dog, keep, shorten or remove it.

use leptos::prelude::*;

use crenel::design::Design;
use crenel::design::{Cut, Plan};
use crenel::fields::{FieldId, Slot};
use crenel::ring::Side;
use crenel::units::Quantity;

use crate::areas::rings::NumberField;
use crate::state::app_state::Office;

#[component]
pub(crate) fn CuttingBar() -> impl IntoView {
    let office = Office::here();
    view! {
        <section class="cutting" aria-label="Cut dogs">
            <div class="rings">{Side::BOTH.map(|side| view! { <Strip side/> }).collect_view()}</div>
            <div class="row">
                <strong class="chosen-dog">{move || chosen_words(office)}</strong>
                <Choice what=None words="Keep"/>
                <Choice what=Some(Cut::Shorten(0.0)) words="Shorten"/>
                <Choice what=Some(Cut::Remove) words="Remove"/>
                <ShortenTo/>
            </div>
            <div class="row">
                <button on:click=move |_| every_second(office)>"Same for every second dog"</button>
                <button on:click=move |_| to_other_ring(office)>{move || format!("Same cuts on {}", office.chosen.get().0.other().lower_name())}</button>
                <button disabled=move || office.with(|d| !d.is_planned())
                    on:click=move |_| office.change(clear)>"Restore all dogs"</button>
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
    let office = Office::here();
    let places = Memo::new(move |_| office.with(|d| d.ring(side).places()));
    let class = if side == Side::A { "strip ring-a" } else { "strip ring-b" };
    view! {
        <div class=class role="group" aria-label=format!("Dogs of {}", side.lower_name())>
            <span class="name">{side.name()}</span>
            <For each=move || 0..places.get() key=|place| *place children=move |place| view! { <DogButton side place/> }/>
        </div>
    }
}

#[component]
fn DogButton(side: Side, place: usize) -> impl IntoView {
    let office = Office::here();
    let state = Memo::new(move |_| office.with(|d| state(d, side, place)));
    let label =
        move || format!("Dog {}{}, {}", side.letter(), place + 1, state.get().words(office));
    let key = move |event: web_sys::KeyboardEvent| {
        let cut = match event.key().as_str() {
            "Delete" | "Backspace" => Some(Cut::Remove),
            "k" | "K" => None,
            "s" | "S" => Some(half_height(office, side, place)),
            _ => return,
        };
        event.prevent_default();
        office.choose(side, place);
        put(office, side, place, cut);
    };
    view! {
        <button class="dog" data-state=move || state.get().name() aria-label=label
            aria-pressed=move || (office.chosen.get() == (side, place)).to_string()
            on:click=move |_| office.choose(side, place) on:keydown=key>
            {format!("{}{}", side.letter(), place + 1)}
        </button>
    }
}

/// How a dog place stands.
#[derive(Clone, Copy, PartialEq)]
enum State {
    Kept(f64),
    Short(f64),
    Gone,
    Empty,
}

fn state(design: &Design, side: Side, place: usize) -> State {
    let ring = design.ring(side);
    let found = ring.found_dogs().get(place).map_or(0.0, |d| d.height_mm);
    match ring.plan.cut_of(place) {
        _ if found <= 0.0 => State::Empty,
        Some(Cut::Remove) => State::Gone,
        Some(Cut::Shorten(to)) => State::Short(to.min(found)),
        None => State::Kept(found),
    }
}

impl State {
    const fn name(self) -> &'static str {
        match self {
            Self::Kept(_) => "kept",
            Self::Short(_) => "short",
            Self::Gone => "gone",
            Self::Empty => "empty",
        }
    }

    fn words(self, office: Office) -> String {
        let mm = |v| Quantity::Length.show(v, office.units.get());
        match self {
            Self::Kept(height) => format!("{} high", mm(height)),
            Self::Short(height) => format!("cut down to {}", mm(height)),
            Self::Gone => "removed".to_owned(),
            Self::Empty => "empty place".to_owned(),
        }
    }
}

fn chosen_words(office: Office) -> String {
    let (side, place) = office.chosen.get();
    let words = office.with(|d| state(d, side, place)).words(office);
    format!("Dog {}{}: {words}", side.letter(), place + 1)
}

/// One of keep, shorten, remove for the chosen dog.
#[component]
fn Choice(what: Option<Cut>, words: &'static str) -> impl IntoView {
    let office = Office::here();
    let kind = |cut: Option<Cut>| cut.as_ref().map(std::mem::discriminant);
    let pressed = move || {
        let (side, place) = office.chosen.get();
        office.with(|d| kind(d.ring(side).plan.cut_of(place)) == kind(what))
    };
    let act = move |_| {
        let (side, place) = office.chosen.get_untracked();
        let cut = match what {
            Some(Cut::Shorten(_)) => Some(half_height(office, side, place)),
            other => other,
        };
        put(office, side, place, cut);
    };
    view! { <button class="choice" aria-pressed=move || pressed().to_string() on:click=act>{words}</button> }
}

/// Half of the height as found: the usual first try.
fn half_height(office: Office, side: Side, place: usize) -> Cut {
    let found =
        office.with(|d| d.ring(side).found_dogs().get(place).map_or(0.0, |dog| dog.height_mm));
    Cut::Shorten((found / 2.0).max(FieldId::ShortenTo.spec().min))
}

fn put(office: Office, side: Side, place: usize, cut: Option<Cut>) {
    if office.with(|d| state(d, side, place)) == State::Empty {
        return office.say("There is no dog at this place.");
    }
    office.change(|d| set_cut(d, side, place, cut));
    office.say(format!(
        "Dog {}{}: {}.",
        side.letter(),
        place + 1,
        office.with(|d| state(d, side, place)).words(office)
    ));
}

fn set_cut(design: &mut Design, side: Side, place: usize, cut: Option<Cut>) {
    design.ring_mut(side).plan.set_cut(place, cut);
}

/// The height that is left, where the chosen dog is cut down.
#[component]
fn ShortenTo() -> impl IntoView {
    let office = Office::here();
    let place = Memo::new(move |_| {
        let (side, place) = office.chosen.get();
        let short =
            office.with(|d| matches!(d.ring(side).plan.cut_of(place), Some(Cut::Shorten(_))));
        short.then_some(Slot::Dog(side, place, FieldId::ShortenTo))
    });
    move || place.get().map(|slot| view! { <NumberField at=slot/> })
}

fn every_second(office: Office) {
    let (side, place) = office.chosen.get_untracked();
    office.change(|design| {
        let cut = design.ring(side).plan.cut_of(place);
        // Of the dogs as found: what is removed already is to be treated alike, not passed over.
        for other in design.ring(side).as_found().every_second(place) {
            set_cut(design, side, other, cut);
        }
    });
    let dogs = office.with(|d| d.ring(side).as_found().dogs.len());
    if dogs % 2 == 1 {
        let text = format!(
            "{} has {dogs} dogs, an odd number: somewhere two neighbours are treated alike.",
            side.name()
        );
        office.tell(text, false);
    }
}

fn to_other_ring(office: Office) {
    let (side, _) = office.chosen.get_untracked();
    office.change(|design| {
        for place in 0..design.ring(side.other()).places() {
            let cut = design.ring(side).plan.cut_of(place);
            set_cut(design, side.other(), place, cut);
        }
    });
}
