//! Cutting dogs: the chosen one is kept, shortened or removed, and others like it.

use leptos::prelude::*;

use crenel::analysis::Analysis;
use crenel::design::{Cut, Design, Need, Plan};
use crenel::fields::{FieldId, Slot};
use crenel::ring::Side;
use crenel::units::Quantity;
use crenel_words::page::{common, drawing as say};
use crenel_words::{Message, Phrase, Value};

use crate::part::part;
use crate::state::{AppState, Panel, here, use_app_state};
use crate::widgets::number_field::NumberField;

/// What is cut of the chosen dog, and on which other dogs.
#[component]
pub(crate) fn CutChoice() -> impl IntoView {
    let state = use_app_state();
    view! {
        <section class="cut-choice" aria-label=here(say::cut_dogs)>
            <p class="chosen-dog">{move || chosen_words(state).show(state.reader())}</p>
            <div class="segmented" role="group" aria-label=here(say::cut_dogs)>
                <Choice what=None words=say::keep/>
                <Choice what=Some(Cut::Shorten(0.0)) words=say::shorten/>
                <Choice what=Some(Cut::Remove) words=common::remove/>
            </div>
            <ShortenTo/>
            <SameFor/>
        </section>
    }
}

/// The dogs to cut, as a panel of an area.
pub(crate) const CUT_PANEL: Panel<AnyView> = Panel {
    key: "cut",
    title: say::cut_dogs,
    owns: |_| false,
    form: part!(beside, cut_form, view! { <CutForm/> }),
};

/// The dogs of both rings as buttons, and the way back to the rings as found.
#[component]
fn CutForm() -> impl IntoView {
    let state = use_app_state();
    view! {
        <fieldset class="panel cutting">
            <legend>{here(say::cut_dogs)}</legend>
            <div class="rings">{Side::BOTH.map(|side| view! { <Strip side/> }).collect_view()}</div>
            <button disabled=move || state.with(|d| !d.is_planned()) on:click=move |_| state.change(clear)>
                {here(say::clear_plan)}
            </button>
        </fieldset>
    }
}

/// Other dogs that can be cut as the chosen one is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Others {
    /// Every second dog of its ring, beginning with itself.
    Second,
    /// All dogs of its ring.
    All,
    /// The other ring, dog by dog as this ring.
    Mate,
}

/// Cuts other dogs as the chosen one. Each button says the window time that the design would have.
#[component]
fn SameFor() -> impl IntoView {
    let state = use_app_state();
    let button = move |others: Others| {
        let told = effect_of(state, move |design| {
            let (side, place) = state.chosen.get();
            cut_like(design, side, place, others);
        });
        let words = move || match others {
            Others::Second => here(say::same_every_second),
            Others::All => here(say::same_all),
            Others::Mate => here(say::same_on_ring(state.chosen.get().0.other())),
        };
        view! {
            <button on:click=move |_| apply(state, others)>
                {words}" "<span class="effect">{told}</span>
            </button>
        }
    };
    view! { <div class="same-for">{[Others::Second, Others::All, Others::Mate].map(button).collect_view()}</div> }
}

/// What an edit would make of the window time, before it is made; nothing where it changes nothing.
fn effect_of(
    state: AppState,
    edit: impl Fn(&mut Design) + Send + Sync + 'static,
) -> impl Fn() -> Option<String> + Copy {
    // A memo of its own, so that a drag does not work out every cut at each of its steps.
    let settled = Memo::new(move |_| state.history.with(|h| h.settled().design.clone()));
    let after = Memo::new(move |_| {
        settled.with(|settled| {
            let mut design = settled.clone();
            edit(&mut design);
            (design != *settled).then(|| window_ms(&Analysis::of(&design)))
        })
    });
    let now = Memo::new(move |_| state.analysis.with(|a| window_ms(a)));
    move || {
        let (now, after) = (now.get(), after.get()?);
        let time = |ms: f64| Value::Result(Quantity::Time, ms);
        let words = match (now, after) {
            _ if now == after => say::no_gain(),
            (Some(now), Some(after)) => say::window_from_to(time(now), time(after)),
            _ => window_words(after),
        };
        Some(words.show(state.reader()))
    }
}

/// How long the widest window is open, ms.
fn window_ms(analysis: &Analysis) -> Option<f64> {
    let known = analysis.design.missing(Need::Speed).is_none();
    let pair = analysis.pair.as_ref().filter(|_| known)?;
    let (_, widest) = pair.passing.extremes()?;
    Some(pair.passing.seconds_open(widest) * 1000.0)
}

fn window_words(window_ms: Option<f64>) -> Message {
    window_ms.map_or_else(say::no_window, |ms| say::window_of(Value::Result(Quantity::Time, ms)))
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
        <div class=class role="group" aria-label=here(say::dogs_of_ring(side))>
            <span class="name">{here(common::ring(side))}</span>
            <For each=move || 0..places.get() key=|place| *place
                children=move |place| view! { <DogButton side place/> }/>
        </div>
    }
}

#[component]
fn DogButton(side: Side, place: usize) -> impl IntoView {
    let state = use_app_state();
    let now = Memo::new(move |_| state.with(|d| dog_state(d, side, place)));
    let label = move || now.get().words(side, place).show(state.reader());
    let key = move |event: web_sys::KeyboardEvent| {
        if cut_by_key(state, side, place, &event.key()) {
            event.prevent_default();
            event.stop_propagation();
        }
    };
    view! {
        <button class="dog" data-state=move || now.get().name() aria-label=label
            aria-pressed=move || (state.chosen.get() == (side, place)).to_string()
            on:click=move |_| state.choose(side, place) on:keydown=key>
            {here(say::dog(side, place))}
        </button>
    }
}

/// Cuts a dog by a key: Delete removes it, S shortens it, K keeps it. Returns whether it is one of these keys.
pub(crate) fn cut_by_key(state: AppState, side: Side, place: usize, key: &str) -> bool {
    let cut = match key {
        "Delete" | "Backspace" => Some(Cut::Remove),
        "k" | "K" => None,
        "s" | "S" => Some(half_height(state, side, place)),
        _ => return false,
    };
    // What is said last is what became of the dog.
    state.choose(side, place);
    put(state, side, place, cut);
    true
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

    fn words(self, side: Side, place: usize) -> Message {
        match self {
            Self::Kept(height) => say::dog_is_high(side, place, height),
            Self::Short(height) => say::dog_is_short(side, place, height),
            Self::Gone => say::dog_is_removed(side, place),
            Self::Empty => say::no_dog_here(side, place),
        }
    }
}

fn chosen_words(state: AppState) -> Message {
    let (side, place) = state.chosen.get();
    state.with(|d| dog_state(d, side, place)).words(side, place)
}

/// A button that keeps, shortens or removes the chosen dog.
#[component]
fn Choice(what: Option<Cut>, words: Phrase) -> impl IntoView {
    let state = use_app_state();
    let kind = |cut: Option<Cut>| cut.as_ref().map(std::mem::discriminant);
    let pressed = move || {
        let (side, place) = state.chosen.get();
        state.with(|d| kind(d.ring(side).plan.cut_of(place)) == kind(what))
    };
    let cut = move |side: Side, place: usize| match what {
        Some(Cut::Shorten(_)) => Some(half_height(state, side, place)),
        other => other,
    };
    let act = move |_| {
        let (side, place) = state.chosen.get_untracked();
        put(state, side, place, cut(side, place));
    };
    let effect = effect_of(state, move |design| {
        let (side, place) = state.chosen.get();
        set_cut(design, side, place, untrack(|| cut(side, place)));
    });
    let told = move || (!pressed()).then(effect).flatten();
    // The name of the button stays what it does; the effect is shown beneath and described.
    view! {
        <button class="choice" data-effect=told aria-description=told aria-pressed=move || pressed().to_string()
            on:click=act>
            {here(words)}
        </button>
    }
}

/// Half the height as found, the usual first try.
fn half_height(state: AppState, side: Side, place: usize) -> Cut {
    let found =
        state.with(|d| d.ring(side).found_dogs().get(place).map_or(0.0, |dog| dog.height_mm));
    Cut::Shorten((found / 2.0).max(FieldId::ShortenTo.spec().min))
}

fn put(state: AppState, side: Side, place: usize, cut: Option<Cut>) {
    if state.with(|d| dog_state(d, side, place)) == DogState::Empty {
        return state.say(here(say::nothing_to_cut));
    }
    state.change(|d| set_cut(d, side, place, cut));
    let now = state.with(|d| dog_state(d, side, place)).words(side, place);
    state.say(untrack(|| now.show(state.reader())));
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

/// Cuts other dogs as a dog is cut.
fn cut_like(design: &mut Design, side: Side, place: usize, others: Others) {
    let cut = design.ring(side).plan.cut_of(place);
    match others {
        // Counted among the dogs as found: dogs that are removed already are not skipped.
        Others::Second => {
            for other in design.ring(side).to_found().every_second(place) {
                set_cut(design, side, other, cut);
            }
        }
        Others::All => {
            for other in 0..design.ring(side).places() {
                set_cut(design, side, other, cut);
            }
        }
        Others::Mate => {
            for place in 0..design.ring(side.other()).places() {
                let cut = design.ring(side).plan.cut_of(place);
                set_cut(design, side.other(), place, cut);
            }
        }
    }
}

fn apply(state: AppState, others: Others) {
    let (side, place) = state.chosen.get_untracked();
    state.change(|design| cut_like(design, side, place, others));
    let dogs = state.with(|d| d.ring(side).to_found().dogs.len());
    if others == Others::Second && dogs % 2 == 1 {
        state.tell(here(say::odd_dogs(side, dogs)), false);
    }
}
