//! The rings: their sizes, where they are to each other, and the title block.

use crenel_words::Phrase;
use crenel_words::page::{common, measured, rings as say, shift};
use leptos::prelude::*;

use crenel::design::{Design, START_RINGS, StartRing, TEXT_LIMITS};
use crenel::design::{DogSpec, EvenLayout, Layout, RingSpec, SizeBy};
use crenel::draw::views;
use crenel::fields::{FieldId, Slot};
use crenel::ring::{PlanForm, Side};
use crenel::units::{Quantity, decimal};
use crenel::verdict::Stage;

use crate::deferred::Deferred;
use crate::part::part;
use crate::state::{AppState, Area, AreaKey, Content, Home, Panel, Picture, here, use_app_state};
use crate::widgets::choose::{Choose, Picked};
use crate::widgets::cutting::CUT_PANEL;
use crate::widgets::number_field::NumberField;
use crate::widgets::pair_board::{SingleBoard, TOGETHER};
use crate::widgets::tolerances::TOLERANCE_PANEL;

pub(super) const AREA: Area<AnyView> = Area {
    results: &[
        "window_time_ms",
        "straight_in_limit_rpm",
        "first_pass_straight_share",
        "lash_deg",
        "lash_tyre_mm",
        "full_depth_mm",
    ],
    ..Area::of(
        Stage::Pair,
        AreaKey::DOGS,
        say::title,
        Content::Board {
            pictures: &[
                Picture { roomy: true, ..TOGETHER },
                Picture::of_rings("face", say::picture_face, || {
                    view! { <SingleBoard view=&views::FACE/> }.into_any()
                }),
                Picture::of_rings("developed", say::picture_developed, || {
                    view! { <SingleBoard view=&views::UNROLLED/> }.into_any()
                }),
                Picture::of_rings(
                    "map",
                    say::picture_map,
                    part!(beside, map_alone, view! { <SingleBoard view=&views::MAP/> }),
                ),
            ],
            panels: &[
                Panel {
                    key: "a",
                    title: || common::ring(Side::A),
                    owns: |slot| matches!(slot, Slot::Ring(Side::A, id) if id != FieldId::GearMass),
                    form: part!(beside, ring_form_a, view! { <RingForm side=Side::A/> }),
                },
                Panel {
                    key: "b",
                    title: || common::ring(Side::B),
                    owns: |slot| matches!(slot, Slot::Ring(Side::B, id) if id != FieldId::GearMass),
                    form: part!(beside, ring_form_b, view! { <RingForm side=Side::B/> }),
                },
                CUT_PANEL,
                TOLERANCE_PANEL,
                Panel {
                    key: "position",
                    title: say::position,
                    owns: |slot| {
                        matches!(
                            slot,
                            Slot::Setting(FieldId::Phase | FieldId::Overlap | FieldId::HoldDepth)
                        )
                    },
                    form: part!(beside, place_form, view! { <PlaceForm/> }),
                },
                Panel {
                    key: "title",
                    title: say::title_block,
                    owns: |_| false,
                    form: part!(beside, notes_form, view! { <NotesForm/> }),
                },
            ],
            home: Home::Pair,
        },
    )
};

#[component]
fn RingForm(side: Side) -> impl IntoView {
    let state = use_app_state();
    let is_list =
        Memo::new(move |_| state.with(|d| matches!(d.ring(side).layout, Layout::Measured(_))));
    let form = Signal::derive(move || state.with(|d| d.ring(side).form));
    let set_form = Callback::new(move |form| state.change(|d| d.ring_mut(side).form = form));
    let role = match side {
        Side::A => here(say::slides),
        Side::B => here(say::is_engaged),
    };
    view! {
        <fieldset class=if side == Side::A { "panel ring-a" } else { "panel ring-b" }>
            <legend>{here(common::ring(side))}</legend>
            <p class="quiet">{role}</p>
            <StartChoice side/>
            <NumberField at=Slot::Ring(side, FieldId::InnerDiameter)/>
            <NumberField at=Slot::Ring(side, FieldId::OuterDiameter)/>
            <Choose label=here(say::flanks_in_plan) words=&FORMS value=form on_choose=set_form/>
            <Deferred>
                {move || if is_list.get() { view! {
                    <MeasuredForm side/>
                }.into_any() } else { view! { <EvenForm side/> }.into_any() }}
            </Deferred>
            <button class="wide" on:click=move |_| enter_readings(state, side)>
                {here(measured::enter_readings())}
            </button>
        </fieldset>
    }
}

/// Opens the table of what was read on a ring.
fn enter_readings(state: AppState, side: Side) {
    state.layout.show_picture(AreaKey::MEASURED, AreaKey::readings_of(side));
    state.open_area(AreaKey::MEASURED);
}

const FORMS: [(PlanForm, Phrase); 2] =
    [(PlanForm::Radial, say::flanks_radial), (PlanForm::Parallel, say::flanks_parallel)];
const SIZES: [(SizeBy, Phrase); 2] = [(SizeBy::Dog, say::by_dog), (SizeBy::Gap, say::by_gap)];

/// Replaces the ring by one to start from.
#[component]
fn StartChoice(side: Side) -> impl IntoView {
    let state = use_app_state();
    let options = START_RINGS
        .iter()
        .map(|start| view! { <option value=start.key>{here(start.name())}</option> });
    // The starting ring that was chosen, and the ring it became.
    let placed = RwSignal::new(None::<(&'static StartRing, RingSpec)>);
    let standing = move || {
        let placed = placed.get()?;
        state.with(|d| *d.ring(side) == placed.1).then_some(placed.0)
    };
    let picked =
        move || standing().map_or_else(|| here(say::unchanged), |start| here(start.name()));
    let chosen = move || standing().map_or("", |start| start.key).to_owned();
    let choose = move |key: String| {
        if let Some(start) = START_RINGS.iter().find(|start| start.key == key) {
            state.change(|d| {
                let old = d.ring(side).clone();
                *d.ring_mut(side) = start.ring();
                d.ring_mut(side).inner_diameter_mm = old.inner_diameter_mm;
                d.ring_mut(side).outer_diameter_mm = old.outer_diameter_mm;
            });
            placed.set(Some((start, state.with(|d| d.ring(side).clone()))));
            state.choose(side, 0);
        }
    };
    let copy = move |_| state.change(|d| *d.ring_mut(side) = d.ring(side.other()).clone());
    view! {
        <Picked label=here(say::start_from) text=Signal::derive(picked) value=Signal::derive(chosen)
            on_choose=Callback::new(choose)>
            <option value="">{here(say::unchanged)}</option>
            {options.collect_view()}
        </Picked>
        <p class="quiet start">{move || standing().map(|start| here(start.explanation()))}</p>
        <button class="wide" on:click=copy>{here(say::copy_ring(side.other()))}</button>
    }
}

#[component]
fn EvenForm(side: Side) -> impl IntoView {
    let state = use_app_state();
    let even = move |d: &Design| match &d.ring(side).layout {
        Layout::Even(even) => even.clone(),
        Layout::Measured(_) => EvenLayout::default(),
    };
    let size_by = Memo::new(move |_| state.with(|d| even(d).size_by));
    let set_size = Callback::new(move |by| state.change(|d| d.size_by(side, by)));
    let fields = move || EvenLayout { size_by: size_by.get(), ..EvenLayout::default() }.fields();
    view! {
        <Choose label=here(say::size_by) words=&SIZES value=size_by on_choose=set_size/>
        <For each=fields key=|id| *id children=move |id| view! { <NumberField at=Slot::Ring(side, id)/> }/>
        <HeightPattern side/>
        <button class="wide" on:click=move |_| state.change(|d| d.list_dogs(side))>
            {here(say::list_dogs)}
        </button>
    }
}

/// Shares of the full height, repeated round the ring.
#[component]
fn HeightPattern(side: Side) -> impl IntoView {
    let state = use_app_state();
    let key = format!("{}.heights", side.letter());
    // A text that was not accepted, and the pattern at that time.
    let wrong = RwSignal::new(state.refused(&key));
    let refuse = move |refused: Option<(String, String)>| {
        state.refuse(&key, refused.clone());
        wrong.set(refused);
    };
    let kept = move |d: &Design| match &d.ring(side).layout {
        Layout::Even(even) => {
            even.heights.iter().map(|h| decimal(*h, 4)).collect::<Vec<_>>().join(" ")
        }
        Layout::Measured(_) => String::new(),
    };
    let standing = move || wrong.get().filter(|(_, stood)| *stood == state.with(kept));
    let text = move || standing().map_or_else(|| state.with(kept), |(text, _)| text);
    let why = move || standing().map(|_| here(say::height_pattern_wrong));
    let typed = move |event| {
        let text: String = event_target_value(&event);
        match read_heights(&text) {
            Some(heights) => {
                refuse(None);
                state.change(|d| {
                    if let Layout::Even(even) = &mut d.ring_mut(side).layout {
                        even.heights = heights;
                    }
                });
            }
            None => refuse(Some((text, state.with(kept)))),
        }
    };
    let id = format!("f-{}-heights", side.letter());
    view! {
        <div class="field">
            <label for=id.clone()>{here(say::height_pattern)}</label>
            <span class="entry">
                <input id=id.clone() type="text" aria-describedby=format!("{id}-why") autocomplete="off" value=text
                    prop:value=text on:change=typed
                    aria-invalid=move || why().is_some().to_string()/>
            </span>
            <span class="quiet pattern" id=format!("{id}-why")>
                {here(say::height_pattern_how)}
            </span>
            <span class="wrong" aria-live="polite">{why}</span>
        </div>
    }
}

fn read_heights(text: &str) -> Option<Vec<f64>> {
    let shares = text.split([' ', ';']).filter(|part| !part.is_empty());
    let read = |part: &str| {
        Quantity::Ratio.parse(part, Default::default()).ok().filter(|v| (0.0..=1.0).contains(v))
    };
    let heights: Vec<f64> = shares.map(read).collect::<Option<_>>()?;
    heights.iter().any(|h| *h > 0.0).then_some(heights)
}

/// The dogs one by one.
#[component]
fn MeasuredForm(side: Side) -> impl IntoView {
    let state = use_app_state();
    let places = Memo::new(move |_| state.with(|d| d.ring(side).places()));
    let heads = DogSpec::FIELDS.map(|id| view! { <th scope="col">{here(id.spec().name())}</th> });
    view! {
        <div class="scroll" tabindex="0" role="region" aria-label=here(say::dogs_as_measured(side))>
            <table>
                <thead>
                    <tr>
                        <th scope="col">{here(common::dog_head)}</th>{heads.collect_view()}
                        <th><span class="sr">{here(common::remove)}</span></th>
                    </tr>
                </thead>
                <tbody>
                    <For each=move || 0..places.get() key=|place| *place
                        children=move |place| view! { <Deferred last=true><DogRow side place/></Deferred> }/>
                </tbody>
            </table>
        </div>
        <button class="wide" on:click=move |_| state.change(|d| add_dog(d, side))>{here(say::add_dog)}</button>
    }
}

#[component]
fn DogRow(side: Side, place: usize) -> impl IntoView {
    let state = use_app_state();
    let cells = DogSpec::FIELDS
        .map(|id| view! { <td><NumberField at=Slot::Dog(side, place, id) bare=true/></td> });
    view! {
        <tr>
            <th scope="row">{place + 1}</th>
            {cells.collect_view()}
            <td>
                <button aria-label=here(say::remove_dog(place))
                    on:click=move |_| state.change(|d| drop_dog(d, side, place))>
                    "×"
                </button>
            </td>
        </tr>
    }
}

/// Adds a dog like the last one, in the widest gap.
fn add_dog(design: &mut Design, side: Side) {
    let ring = design.ring(side).to_found();
    let dogs = ring.by_centre();
    let gaps = ring.gaps();
    let widest = (0..gaps.len()).max_by(|&a, &b| gaps[a].total_cmp(&gaps[b]));
    let centre = widest.map_or(0.0, |at| {
        let end = dogs[at].centre + dogs[at].tip_width / 2.0;
        (end.radians() + gaps[at] / 2.0).to_degrees().rem_euclid(360.0)
    });
    if let Layout::Measured(list) = &mut design.ring_mut(side).layout {
        let like = list.last().copied().unwrap_or_else(|| EvenLayout::default().dogs()[0]);
        list.push(DogSpec { centre_deg: (centre * 1000.0).round() / 1000.0, ..like });
    }
}

/// Removes a dog from the list. The cuts of the dogs after it keep to their dogs.
fn drop_dog(design: &mut Design, side: Side, place: usize) {
    if let Layout::Measured(list) = &mut design.ring_mut(side).layout {
        list.remove(place);
        design.renumber(side, |at| (at != place).then_some(if at > place { at - 1 } else { at }));
    }
}

/// Phase, overlap and holding depth.
#[component]
fn PlaceForm() -> impl IntoView {
    view! {
        <fieldset class="panel">
            <legend>{here(say::position)}</legend>
            {[FieldId::Phase, FieldId::Overlap, FieldId::HoldDepth].map(|id| view! {
                <NumberField at=Slot::Setting(id)/>
            }).collect_view()}
            <p class="quiet">{here(say::more_elsewhere(shift::title()))}</p>
        </fieldset>
    }
}

#[component]
fn NotesForm() -> impl IntoView {
    let state = use_app_state();
    let limit = |at: usize| TEXT_LIMITS[at].1.to_string();
    view! {
        <fieldset class="panel panel-title">
            <legend>{here(say::title_block)}</legend>
            <label class="field">
                <span>{here(say::drawn_by)}</span>
                <input type="text" maxlength=limit(1) prop:value=move || state.with(|d| d.initials.clone())
                    on:change=move |event| state.change(|d| d.initials = event_target_value(&event))/>
            </label>
            <label class="field tall">
                <span>{here(say::notes)}</span>
                <textarea rows="5" maxlength=limit(2) prop:value=move || state.with(|d| d.notes.clone())
                    on:change=move |event| state.change(|d| d.notes = event_target_value(&event))></textarea>
            </label>
        </fieldset>
    }
}
