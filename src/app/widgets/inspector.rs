//! The inspector: the sizes of what is selected, beside the drawing.

use leptos::prelude::*;

use crenel::design::{Design, EvenLayout, Layout, SettingField};
use crenel::fields::{FieldId, Slot};
use crenel::ring::Side;
use crenel::units::Quantity;
use crenel_words::page::{common, drawing, frame as say};
use crenel_words::{Phrase, Value};

use crate::state::{AppState, Area, Content, Inspected, Panel, Part, here, use_app_state};
use crate::widgets::cutting::CutChoice;
use crate::widgets::menu::Menu;
use crate::widgets::number_field::NumberField;

#[component]
pub(crate) fn Inspector() -> impl IntoView {
    let state = use_app_state();
    let shown = Memo::new(move |_| {
        let area = state.current_area();
        match (state.layout.inspected.get(), &area.content) {
            // The panels are open below.
            (Inspected::Panel(_), _) if state.layout.is_open(Part::Drawer) => Shown::Pair,
            (Inspected::Panel(key), _) => Shown::Panel(area.key.0, key),
            (Inspected::Dog, _) => Shown::Dog,
            (Inspected::Pair, _) => Shown::Pair,
            (Inspected::Home, Content::Board { .. }) if state.layout.is_open(Part::Drawer) => {
                Shown::Pair
            }
            // What is changed in the panel does not take it away.
            (Inspected::Home, Content::Board { home, panels, .. }) => {
                let key = untrack(|| state.with(|design| home.panel(panels, design)));
                key.map_or(Shown::Pair, |key| Shown::Panel(area.key.0, key))
            }
            (Inspected::Home, _) => Shown::Pair,
        }
    });
    let explained = move || {
        let slot = state.explained.get()?;
        Some(here(say::explained(slot.words(), slot.field().spec().explanation())))
    };
    view! {
        <section class="inspector" aria-label=here(say::inspector)>
            {move || (shown.get() != Shown::Dog).then(|| view! { <Head shown/> })}
            {move || match shown.get() {
                Shown::Pair => view! { <PairForm/> }.into_any(),
                Shown::Dog => view! { <DogForm/> }.into_any(),
                Shown::Panel(_, key) => view! { <PanelForm area=state.current_area() key/> }.into_any(),
            }}
            <p class="explain quiet" aria-hidden="true">{explained}</p>
        </section>
    }
}

/// What is in the inspector.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Shown {
    Pair,
    Dog,
    /// A panel, by its area and its key.
    Panel(&'static str, &'static str),
}

/// What the inspector shows, as a menu of all that it can show. While all panels are open below, only the pair.
#[component]
fn Head(shown: Memo<Shown>) -> impl IntoView {
    let state = use_app_state();
    let title = move || match shown.get() {
        Shown::Panel(_, key) => panel_of(state.current_area(), key)
            .map_or_else(|| here(say::the_pair), |panel| here((panel.title)())),
        Shown::Pair | Shown::Dog => here(say::the_pair),
    };
    let each = move || state.layout.is_open(Part::EachRing);
    // While both rings are alike, they are shown as one or each.
    let pair = move |words: Phrase, each_ring: bool| {
        let is = move || shown.get() == Shown::Pair && each() == each_ring;
        let show = move |_| {
            state.layout.inspected.set(Inspected::Pair);
            if untrack(each) != each_ring {
                state.layout.turn(Part::EachRing);
            }
        };
        view! { <button aria-pressed=move || is().to_string() on:click=show>{here(words)}</button> }
    };
    let panel = move |panel: &'static Panel<AnyView>| {
        let is = move || matches!(shown.get(), Shown::Panel(_, key) if key == panel.key);
        view! {
            <button aria-pressed=move || is().to_string()
                on:click=move |_| state.layout.inspected.set(Inspected::Panel(panel.key))>
                {here((panel.title)())}
            </button>
        }
    };
    let choices = move || {
        let alike = state.with(are_equal);
        let panels = state.current_area().panels().iter().map(panel).collect_view();
        view! {
            {pair(say::the_pair, !alike && untrack(each))}
            {alike.then(|| pair(say::enter_each_ring, true))}
            {panels}
        }
    };
    let all_below = Memo::new(move |_| state.layout.is_open(Part::Drawer));
    view! {
        <div class="row head">
            <h2 class:sr=move || !all_below.get()>{title}</h2>
            {move || (!all_below.get()).then(|| view! {
                <Menu title name=here(say::inspector)>{choices}</Menu>
            })}
        </div>
    }
}

fn panel_of(area: &'static Area<AnyView>, key: &str) -> Option<&'static Panel<AnyView>> {
    area.panels().iter().find(|panel| panel.key == key)
}

/// A panel of the area.
#[component]
fn PanelForm(area: &'static Area<AnyView>, key: &'static str) -> impl IntoView {
    panel_of(area, key).map(|panel| (panel.form)())
}

// ---- nothing selected: the pair ----

/// The sizes of both rings that matter most: once while they are equal, otherwise side by side.
#[component]
fn PairForm() -> impl IntoView {
    let state = use_app_state();
    let apart = Memo::new(move |_| state.layout.is_open(Part::EachRing) || !state.with(are_equal));
    let sizes = move || {
        if apart.get() {
            view! { <EachRing/> }.into_any()
        } else {
            view! { <BothRings/> }.into_any()
        }
    };
    // Beside the overlap, so that one sees how much of it holds; it is typed with the shift.
    let hold = move || {
        let mm = state.with(|d| d.setting.get(SettingField::HoldDepth));
        let value = Value::Number(Quantity::Length, mm);
        drawing::handle(FieldId::HoldDepth.spec().name(), value).show(state.reader())
    };
    view! {
        {sizes}
        {move || apart.get().then(|| view! { <p class="quiet widths">{move || widths_apart(state)}</p> })}
        <NumberField at=Slot::Setting(FieldId::Overlap)/>
        <p class="quiet">{hold}</p>
    }
}

/// The width of a dog in mm, and the diameter that it is measured at.
fn width_mm(state: AppState, side: Side, place: usize) -> Option<[f64; 2]> {
    state.analysis.with(|a| {
        let ring = &a.found[side];
        let dog = ring.at_place(place)?;
        // Across, as a calliper measures it, not along the arc.
        Some([ring.across_mm(dog), 2.0 * ring.mean_radius_mm()])
    })
}

/// The width of the first dog of each ring in mm, where the rings are shown apart.
fn widths_apart(state: AppState) -> String {
    let told = |side: Side| {
        let [width, _] = width_mm(state, side, 0)?;
        Some(say::dog_width_of(side, width).show(state.reader()))
    };
    Side::BOTH.into_iter().filter_map(told).collect::<Vec<_>>().join(" · ")
}

/// Whether both rings have the same sizes, each of them one number.
fn are_equal(design: &Design) -> bool {
    let of = |side| {
        PAIR_SIZES.map(|id| is_typed(design, side, id).then(|| design.get(Slot::Ring(side, id))))
    };
    let [a, b] = Side::BOTH.map(of);
    a == b && a.iter().all(Option::is_some)
}

#[component]
fn BothRings() -> impl IntoView {
    let state = use_app_state();
    let width = move || {
        let [width, _] = width_mm(state, Side::A, 0)?;
        Some(say::dog_width_too(width).show(state.reader()))
    };
    let size = |id: FieldId| {
        let too = (id == FieldId::TipWidth).then(|| view! { <p class="quiet widths">{width}</p> });
        view! { <NumberField at=Slot::Ring(Side::A, id) of_both=true/>{too} }
    };
    view! {
        <div class="pair-sizes">
            {PAIR_SIZES.map(size).collect_view()}
        </div>
    }
}

#[component]
fn EachRing() -> impl IntoView {
    view! {
        <div class="pair-sizes" role="table" aria-label=here(say::the_pair)>
            <div class="line head" role="row">
                <span role="cell"></span>
                {Side::BOTH.map(|side| view! {
                    <span role="columnheader" class=ring_class(side)>{here(common::ring(side))}</span>
                }).collect_view()}
            </div>
            {PAIR_SIZES.map(|id| view! { <PairRow id/> }).collect_view()}
        </div>
    }
}

/// Of each ring, by what they change most.
const PAIR_SIZES: [FieldId; 5] = [
    FieldId::Count,
    FieldId::TipWidth,
    FieldId::Height,
    FieldId::InnerDiameter,
    FieldId::OuterDiameter,
];

const fn ring_class(side: Side) -> &'static str {
    match side {
        Side::A => "ring-a",
        Side::B => "ring-b",
    }
}

#[component]
fn PairRow(id: FieldId) -> impl IntoView {
    let state = use_app_state();
    let unit = move || id.spec().quantity.suffix(state.units.get());
    let cell = move |side: Side| {
        let slot = Slot::Ring(side, id);
        let typed = Memo::new(move |_| state.with(|d| is_typed(d, side, id)));
        view! {
            <span role="cell">
                {move || if typed.get() {
                    view! { <NumberField at=slot bare=true/> }.into_any()
                } else {
                    view! { <span class="quiet">{here(say::differs)}</span> }.into_any()
                }}
            </span>
        }
    };
    view! {
        <div class="line" role="row">
            <span role="rowheader">{here(id.spec().name())}" "<span class="unit">{unit}</span></span>
            {Side::BOTH.map(cell).collect_view()}
        </div>
    }
}

/// Whether a size is one number of the ring, and not one of each dog or one that follows from another.
fn is_typed(design: &Design, side: Side, id: FieldId) -> bool {
    match &design.ring(side).layout {
        Layout::Even(even) => {
            even.fields().contains(&id)
                || matches!(id, FieldId::InnerDiameter | FieldId::OuterDiameter)
        }
        Layout::Measured(_) => matches!(id, FieldId::InnerDiameter | FieldId::OuterDiameter),
    }
}

// ---- a dog ----

/// The sizes of the chosen dog, and what to cut of it.
#[component]
fn DogForm() -> impl IntoView {
    let state = use_app_state();
    let chosen = Memo::new(move |_| state.chosen.get());
    let measured = Memo::new(move |_| {
        let (side, _) = chosen.get();
        state.with(|d| matches!(d.ring(side).layout, Layout::Measured(_)))
    });
    let by = Memo::new(move |_| {
        let (side, _) = chosen.get();
        state.with(|d| match &d.ring(side).layout {
            Layout::Even(even) => Some(even.size_by),
            Layout::Measured(_) => None,
        })
    });
    let fields = move || {
        let (side, place) = chosen.get();
        match by.get() {
            None => DOG_SIZES.map(|id| Slot::Dog(side, place, id)).to_vec(),
            Some(size_by) => {
                let fields = EvenLayout { size_by, ..EvenLayout::default() }.fields();
                let of_dog = fields.into_iter().filter(|id| *id != FieldId::Count);
                of_dog.take(RING_ROWS).map(|id| Slot::Ring(side, id)).collect()
            }
        }
    };
    let class = move || format!("dog-name {}", ring_class(chosen.get().0));
    let name = move || {
        let (side, place) = chosen.get();
        here(common::dog(side, place))
    };
    let width = move || {
        let (side, place) = chosen.get();
        let [width, diameter] = width_mm(state, side, place)?;
        Some(say::dog_width(width, diameter).show(state.reader()))
    };
    let to_pair = move |_| state.layout.inspected.set(Inspected::Home);
    view! {
        <div class="row head">
            <button class="icon" aria-label=here(say::previous_dog) on:click=move |_| step_dog(state, -1)>"◀"</button>
            <h2 class=class>{name}</h2>
            <button class="icon" aria-label=here(say::next_dog) on:click=move |_| step_dog(state, 1)>"▶"</button>
            <span class="quiet">{move || here(if measured.get() { say::measured_singly } else { say::alike })}</span>
            <button class="icon away" aria-label=here(say::show_pair) on:click=to_pair>"✕"</button>
        </div>
        <For each=fields key=|slot| *slot children=|slot| view! { <NumberField at=slot stepper=true/> }/>
        <p class="quiet widths">{width}</p>
        <CutChoice/>
    }
}

/// Chooses the dog before or after the chosen one. Past the last dog of a ring comes the other ring.
pub(crate) fn step_dog(state: AppState, by: isize) {
    let (side, place) = state.chosen.get_untracked();
    let places = state.with(|d| d.ring(side).places());
    match place.checked_add_signed(by) {
        Some(next) if next < places => state.choose(side, next),
        next => {
            let other = state.with(|d| d.ring(side.other()).places());
            state.choose(side.other(), if next.is_none() { other.saturating_sub(1) } else { 0 });
        }
    }
}

/// The sizes of one dog that is listed, in the order of what they change.
const DOG_SIZES: [FieldId; 5] = [
    FieldId::TipWidth,
    FieldId::Height,
    FieldId::BackCutDrive,
    FieldId::BackCutCoast,
    FieldId::Centre,
];

/// The rows of a ring whose dogs are alike: width, height and the undercut of both flanks.
const RING_ROWS: usize = 4;
