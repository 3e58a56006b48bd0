//! The plan of work on both rings, what it changes, and the smallest cut that reaches a target.

mod offers;
mod smallest;
mod solids;
mod variants;

use crenel_words::page::{common, rework as say, variants as variant_words};
use crenel_words::{Label, Message, Phrase, Words as _};
use leptos::prelude::*;

use crenel::design::{Design, MOST_OPERATIONS, Operation, WORKS, WorkKind};
use crenel::fields::{FieldId, Slot};
use crenel::rework::{PlanStep, plan_steps};
use crenel::ring::Side;
use crenel::verdict::Stage;

use crate::dom::html_element;
use crate::part::part;
use crate::state::{Area, AreaKey, Content, Home, Panel, Picture, here, use_app_state};
use crate::widgets::change_table::ChangeTable;
use crate::widgets::choose::Choose;
use crate::widgets::cutting::CUT_PANEL;
use crate::widgets::number_field::NumberField;
use crate::widgets::pair_board::{StaleBoard, TOGETHER};
use smallest::SmallestCut;
use solids::SolidView;
use variants::VariantList;

pub(super) const AREA: Area<AnyView> = Area {
    results: &[
        "window_time_ms",
        "lash_deg",
        "flank_pressure_mpa",
        "root_combined_mpa",
        "holding_n",
        "full_depth_mm",
    ],
    ..Area::of(
        Stage::Change,
        AreaKey::REWORK,
        say::title,
        Content::Board {
            pictures: &[
                Picture { title: say::picture_drawing, ..TOGETHER },
                Picture::of_rings(
                    "solid",
                    say::picture_solid,
                    part!(
                        shop,
                        rework_solid_view,
                        view! { <StaleBoard class="board single"><SolidView/></StaleBoard> }
                    ),
                ),
                Picture::of(
                    "change",
                    say::found_and_cut,
                    part!(shop, rework_before_after, view! { <BeforeAfter/> }),
                ),
            ],
            panels: &[
                Panel {
                    key: "smallest",
                    title: say::smallest_cut,
                    owns: |slot| {
                        matches!(slot, Slot::Setting(FieldId::WishedWindow | FieldId::WishedLash))
                    },
                    form: part!(shop, rework_smallest_cut, view! { <SmallestCut/> }),
                },
                Panel {
                    key: "variants",
                    title: variant_words::title,
                    owns: |_| false,
                    form: part!(shop, rework_variant_list, view! { <VariantList/> }),
                },
                Panel {
                    key: "a",
                    title: || say::work_on(Side::A),
                    owns: |slot| matches!(slot, Slot::Work(Side::A, ..)),
                    form: part!(shop, rework_plan_form_a, view! { <PlanForm side=Side::A/> }),
                },
                Panel {
                    key: "b",
                    title: || say::work_on(Side::B),
                    owns: |slot| matches!(slot, Slot::Work(Side::B, ..)),
                    form: part!(shop, rework_plan_form_b, view! { <PlanForm side=Side::B/> }),
                },
                CUT_PANEL,
                Panel {
                    key: "case",
                    title: say::case_and_balance,
                    owns: |slot| match slot {
                        Slot::Ring(_, id) => id == FieldId::GearMass,
                        Slot::Setting(id) => CASE_AND_BALANCE.contains(&id),
                        _ => false,
                    },
                    form: part!(shop, rework_metal_form, view! { <MetalForm/> }),
                },
                Panel {
                    key: "web",
                    title: say::web_of_solids,
                    owns: |slot| matches!(slot, Slot::Setting(id) if WEB.contains(&id)),
                    form: part!(shop, rework_web_form, view! { <WebForm/> }),
                },
            ],
            home: Home::PanelFor(planned),
        },
    )
};

const CASE_AND_BALANCE: [FieldId; 4] =
    [FieldId::CaseDepth, FieldId::BalanceGrade, FieldId::BalanceSpeed, FieldId::LappedFriction];

const WEB: [FieldId; 3] = [FieldId::WebInside, FieldId::WebOutside, FieldId::WebThickness];

/// The work that is planned, else the way to the least of it.
fn planned(design: &Design) -> &'static str {
    let has_plan = |side: &Side| !design.ring(*side).plan.operations.is_empty();
    Side::BOTH.into_iter().find(has_plan).map_or("smallest", Side::key)
}

/// The kinds of work with the words of the form.
const WORK_WORDS: [(&WorkKind, Label); WORKS.len()] = {
    let mut words = [(WORKS[0], WORKS[0].label()); WORKS.len()];
    let mut at = 0;
    while at < WORKS.len() {
        words[at] = (WORKS[at], WORKS[at].label());
        at += 1;
    }
    words
};

const WHICH: [(Which, Phrase); 4] = [
    (Which::Second, say::which_second),
    (Which::All, say::which_all),
    (Which::Selected, say::which_selected),
    (Which::Others, say::which_others),
];

/// The dogs that a new operation is done to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Which {
    All,
    Second,
    Selected,
    Others,
}

// ---- the plan ----

#[component]
fn PlanForm(side: Side) -> impl IntoView {
    let state = use_app_state();
    let operations = Memo::new(move |_| state.with(|d| d.ring(side).plan.operations.clone()));
    // A row is rebuilt when its kind of work changes, but not when its number or its dogs do.
    let rows = move || {
        operations.with(|list| {
            list.iter().enumerate().map(|(at, o)| (at, o.work.kind.key)).collect::<Vec<_>>()
        })
    };
    let steps = Memo::new(move |_| state.analysis.with(|a| plan_steps(a, side)));
    view! {
        <fieldset class=if side == Side::A { "panel plan ring-a" } else { "panel plan ring-b" }>
            <legend>{here(say::work_on(side))}</legend>
            <p class="quiet">{here(say::plan_rules)}</p>
            <ol class="operations">
                <For each=rows key=|row| *row
                    children=move |(at, _)| view! { <OperationRow side at operations steps/> }/>
            </ol>
            {move || operations.with(Vec::is_empty).then(|| view! {
                <p class="none">{here(say::nothing_planned)}</p>
            })}
            <AddWork side/>
        </fieldset>
    }
}

#[component]
fn OperationRow(
    side: Side,
    at: usize,
    operations: Memo<Vec<Operation>>,
    steps: Memo<Vec<PlanStep>>,
) -> impl IntoView {
    let state = use_app_state();
    let work = Memo::new(move |_| operations.with(|list| list.get(at).map(|o| o.work)));
    let number = operations.with_untracked(|list| list.get(at).and_then(|o| o.work.number()));
    let on_all =
        operations.with_untracked(|list| list.get(at).is_some_and(|o| o.work.kind.is_on_all));
    let places = Memo::new(move |_| state.with(|d| d.ring(side).places()));
    let last = move || operations.with(|list| at + 1 == list.len());
    let name = move || work.get().map(|work| here(work.kind.label()));
    let told = move || {
        let effect = steps.with(|list| list.get(at).map(effect_of))?;
        Some(effect.words(state.reader()))
    };
    let move_by = move |from: usize, to: usize| {
        state.change(|d| d.ring_mut(side).plan.operations.swap(from, to));
        state.say(here(say::moved(from, to)));
        let (this, other) = if to < from { ("earlier", "later") } else { ("later", "earlier") };
        focus_first(&[button_id(side, to, this), button_id(side, to, other)]);
    };
    let delete = move |_| {
        state.change(|d| drop(d.ring_mut(side).plan.operations.remove(at)));
        state.say(here(say::deleted(at)));
        let before = at.saturating_sub(1);
        let rows = [button_id(side, at, "delete"), button_id(side, before, "delete"), add_id(side)];
        focus_first(&rows);
    };
    view! {
        <li>
            <div class="row head">
                <strong>{name}</strong>
                <span class="buttons">
                    <button id=button_id(side, at, "earlier") aria-label=here(say::earlier(side, at)) disabled=at == 0
                        on:click=move |_| move_by(at, at - 1)>
                        "↑"
                    </button>
                    <button id=button_id(side, at, "later") aria-label=here(say::later(side, at)) disabled=last
                        on:click=move |_| move_by(at, at + 1)>
                        "↓"
                    </button>
                    <button id=button_id(side, at, "delete") aria-label=here(say::delete(side, at)) on:click=delete>
                        "×"
                    </button>
                </span>
            </div>
            {number.map(|(id, _)| view! { <NumberField at=Slot::Work(side, at, id)/> })}
            {(!on_all).then(|| view! {
                <div class="dogs" role="group" aria-label=here(say::dogs_of(side, at))>
                    <For each=move || 0..places.get() key=|place| *place
                        children=move |place| view! { <PlaceButton side at place operations/> }/>
                </div>
            })}
            <p class="quiet">{told}</p>
        </li>
    }
}

fn button_id(side: Side, at: usize, what: &str) -> String {
    format!("op-{}-{}-{what}", side.letter(), at + 1)
}

fn add_id(side: Side) -> String {
    format!("add-work-{}", side.letter())
}

/// Focuses the first of some elements that can take the focus, after the rows were rebuilt.
fn focus_first(ids: &[String]) {
    use wasm_bindgen::JsCast as _;
    let ids = ids.to_vec();
    request_animation_frame(move || {
        let mut usable = ids.iter().filter_map(|id| html_element(id)).filter(|element| {
            let button = element.dyn_ref::<web_sys::HtmlButtonElement>();
            button.is_none_or(|button| !button.disabled())
        });
        if let Some(element) = usable.next() {
            // Focusing fails only if the page is gone.
            let _ = element.focus();
        }
    });
}

/// Whether an operation is done to one dog.
#[component]
fn PlaceButton(
    side: Side,
    at: usize,
    place: usize,
    operations: Memo<Vec<Operation>>,
) -> impl IntoView {
    let state = use_app_state();
    let on = move || operations.with(|list| list.get(at).is_some_and(|o| o.is_on(place)));
    let turn = move |_| {
        state.change(|d| {
            if let Some(operation) = d.ring_mut(side).plan.operations.get_mut(at) {
                let there = operation.places.remove(&place);
                let _ = there || operation.places.insert(place);
            }
        });
    };
    view! {
        <button class="dog" aria-pressed=move || on().to_string()
            aria-label=here(common::dog(side, place)) on:click=turn>
            {format!("{}{}", side.letter(), place + 1)}
        </button>
    }
}

/// What an operation removes, and what it leaves of the case.
fn effect_of(step: &PlanStep) -> Vec<Message> {
    let removes = if step.stock_g > 0.0 {
        say::removes(step.stock_g, step.stock_mm3)
    } else if step.dogs.is_empty() {
        say::no_dog_left()
    } else if step.edges_only {
        say::removes_edges()
    } else {
        say::removes_nothing()
    };
    let case = step.case_left_mm.map(|left| say::case_left(step.off_flank_mm, left));
    [removes].into_iter().chain(case).collect()
}

#[component]
fn AddWork(side: Side) -> impl IntoView {
    let state = use_app_state();
    let (work, which) = (RwSignal::new(WORKS[0]), RwSignal::new(Which::Second));
    let set_work = Callback::new(move |kind| work.set(kind));
    let set_which = Callback::new(move |kind| which.set(kind));
    let add = move |_| {
        let chosen = match state.chosen.get_untracked() {
            (ring, place) if ring == side => place,
            _ => 0,
        };
        if state.with(|d| d.ring(side).plan.operations.len() >= MOST_OPERATIONS) {
            return state.tell(here(say::plan_full(MOST_OPERATIONS)), true);
        }
        state.change(|d| {
            let all = 0..d.ring(side).places();
            let places: Vec<_> = match which.get_untracked() {
                Which::All => all.collect(),
                // Counted among the dogs as found, as below the drawing: removed dogs count too.
                Which::Second => d.ring(side).to_found().every_second(chosen),
                Which::Selected => vec![chosen],
                Which::Others => all.filter(|place| *place != chosen).collect(),
            };
            let work = work.get_untracked().begin(&d.ring(side).to_found());
            let places =
                if work.kind.is_on_all { Default::default() } else { places.into_iter().collect() };
            d.ring_mut(side).plan.operations.push(Operation { work, places });
        });
        state.say(here(say::added(side)));
    };
    view! {
        <div class="adding-work" role="group" aria-label=here(say::add_work_on(side))>
            <Choose label=here(say::work) words=&WORK_WORDS value=work on_choose=set_work/>
            <Choose label=here(say::on) words=&WHICH value=which on_choose=set_which/>
            <button class="wide" id=add_id(side) on:click=add>{here(say::add_work)}</button>
        </div>
    }
}

/// Case depth, balance and lapped friction.
#[component]
fn MetalForm() -> impl IntoView {
    let field = |id| view! { <NumberField at=Slot::Setting(id)/> };
    view! {
        <fieldset class="panel">
            <legend>{here(say::case_and_balance)}</legend>
            {field(FieldId::CaseDepth)}
            <NumberField at=Slot::Ring(Side::A, FieldId::GearMass)/>
            <NumberField at=Slot::Ring(Side::B, FieldId::GearMass)/>
            {field(FieldId::BalanceGrade)}
            {field(FieldId::BalanceSpeed)}
            {field(FieldId::LappedFriction)}
        </fieldset>
    }
}

/// The web that the files of the solids have.
#[component]
fn WebForm() -> impl IntoView {
    view! {
        <fieldset class="panel">
            <legend>{here(say::web_of_solids)}</legend>
            {WEB.map(|id| view! { <NumberField at=Slot::Setting(id)/> }).into_iter().collect_view()}
        </fieldset>
    }
}

// ---- before and after ----

#[component]
fn BeforeAfter() -> impl IntoView {
    let state = use_app_state();
    let planned = move || state.with(Design::is_planned);
    view! {
        <section class="before-after" aria-label=here(say::found_and_cut)>
            <h2>{here(say::found_and_cut)}</h2>
            {move || (!planned()).then(|| view! {
                <p class="quiet">{here(say::plan_to_compare)}</p>
            })}
            <ChangeTable found=state.found cut=state.drawn heads=[common::as_found, common::as_cut]/>
        </section>
    }
}
