//! The load on the dogs, and the limits that it is compared with.

use crenel_words::page::{common, load as say};
use crenel_words::{Message, Phrase, Value};
use leptos::prelude::*;

use crenel::design::{
    CORE_YIELDS, LoadCase, Need, Preset, SPLINE_PRESSURES, SPLINE_SHEARS, SetLimits,
};
use crenel::draw::views;
use crenel::fields::{FieldId, Slot};
use crenel::figures::needs;
use crenel::limits::{self, Limit};
use crenel::load::{Carried, Stress};
use crenel::model::{GearLoad, Loaded, Strength, gear_loads};
use crenel::ring::{FlankSide, PerSide, Side};
use crenel::units::{Quantity, sort_by_number};
use crenel::verdict::Stage;

use crate::deferred::Deferred;
use crate::part::part;
use crate::state::{Area, AreaKey, Content, Home, Panel, Picture, here, use_app_state};
use crate::widgets::choose::Choose;
use crate::widgets::drawing::Drawing;
use crate::widgets::gauge_bar::GaugeBar;
use crate::widgets::in_words::InWords;
use crate::widgets::number_field::NumberField;
use crate::widgets::pair_board::StaleBoard;

pub(super) const AREA: Area<AnyView> = Area {
    results: &[
        "flank_pressure_mpa",
        "root_combined_mpa",
        "holding_n",
        "overrun_holding_n",
        "overrun_combined_mpa",
        "clunk_nm",
    ],
    ..Area::of(
        Stage::Pair,
        AreaKey("load"),
        say::title,
        Content::Board {
            pictures: &[Picture::of(
                "forces",
                say::picture_forces,
                part!(work, load_dog_loads, view! { <DogLoads/> }),
            )],
            panels: &[
                Panel {
                    key: "load",
                    title: say::applied_load,
                    owns: |slot| {
                        matches!(
                            slot,
                            Slot::Setting(
                                FieldId::LoadFactor | FieldId::OverrunShare | FieldId::DogStiffness
                            )
                        )
                    },
                    form: part!(work, load_carried_form, view! { <CarriedForm/> }),
                },
                Panel {
                    key: "allowable",
                    title: say::allowable_stresses,
                    owns: |slot| {
                        matches!(
                            slot,
                            Slot::Limit(_)
                                | Slot::Setting(
                                    FieldId::AllowedPressure
                                        | FieldId::AllowedShear
                                        | FieldId::AllowedStress
                                )
                        )
                    },
                    form: part!(work, load_against_form, view! { <AgainstForm/> }),
                },
                Panel {
                    key: "holding",
                    title: say::holding,
                    owns: |slot| {
                        matches!(
                            slot,
                            Slot::Setting(
                                FieldId::FlankFriction
                                    | FieldId::SplineFriction
                                    | FieldId::SplineDiameter
                            )
                        )
                    },
                    form: part!(work, load_hold_form, view! { <HoldForm/> }),
                },
            ],
            home: Home::Panel,
        },
    )
};

const CASES: [(LoadCase, Phrase); 2] =
    [(LoadCase::Throttle, say::case_throttle), (LoadCase::Largest, say::case_largest)];
const RULES: [(Carried, Phrase); 4] = [
    (Carried::HalfAboveThree, say::rule_half),
    (Carried::All, say::rule_all),
    (Carried::Third, say::rule_third),
    (Carried::Spacing, say::rule_spacing),
];

fn field(id: FieldId) -> impl IntoView {
    view! { <NumberField at=Slot::Setting(id)/> }
}

fn fields<const N: usize>(ids: [FieldId; N]) -> impl IntoView {
    ids.map(field).into_iter().collect_view()
}

#[component]
fn CarriedForm() -> impl IntoView {
    let state = use_app_state();
    let case = Signal::derive(move || state.with(|d| d.setting.case));
    let set_case = Callback::new(move |case| state.change(|d| d.setting.case = case));
    let carried = Memo::new(move |_| state.with(|d| d.setting.carried));
    let set_carried = Callback::new(move |rule| state.change(|d| d.setting.carried = rule));
    let typed = Memo::new(move |_| state.with(|d| d.way().is_none()));
    view! {
        <fieldset class="panel">
            <legend>{here(say::applied_load)}</legend>
            <Choose label=here(say::torque) words=&CASES value=case on_choose=set_case/>
            {move || typed.get().then(|| field(FieldId::ThrottleTorque))}
            {field(FieldId::LoadFactor)}
            {field(FieldId::OverrunShare)}
            <Choose label=here(say::carried_by) words=&RULES value=carried on_choose=set_carried/>
            {move || (carried.get() == Carried::Spacing).then(|| field(FieldId::DogStiffness))}
            {move || (case.get() == LoadCase::Largest).then(|| view! {
                <p class="quiet">{here(say::shocks_count_twice(say::allowable_stresses()))}</p>
            })}
            <p class="quiet">{here(say::where_from)}</p>
        </fieldset>
    }
}

#[component]
fn AgainstForm() -> impl IntoView {
    view! {
        <fieldset class="panel">
            <legend>{here(say::allowable_stresses)}</legend>
            <Against id=FieldId::AllowedPressure words=&SPLINE_PRESSURES label=say::typical_pressure/>
            <Against id=FieldId::AllowedShear words=&SPLINE_SHEARS label=say::typical_shear/>
            <Against id=FieldId::AllowedStress words=&CORE_YIELDS label=say::core_yield/>
            {SetLimits::FIELDS.map(|id| view! { <NumberField at=Slot::Limit(id)/> }).into_iter().collect_view()}
            <p class="quiet">{here(say::empty_is_no_limit)}</p>
            <p class="quiet">{here(say::not_checked)}</p>
        </fieldset>
    }
}

/// A limit, and the presets with their sources.
#[component]
fn Against(id: FieldId, words: &'static [Preset], label: Phrase) -> impl IntoView {
    let state = use_app_state();
    let value = Signal::derive(move || state.with(|d| d.get(Slot::Setting(id))));
    let choose = Callback::new(move |value| {
        state.change(|d| {
            d.set_given(Slot::Setting(id), value);
        });
    });
    view! {
        {field(id)}
        <InWords label=here(label) words value on_choose=choose quantity=Quantity::Stress/>
    }
}

#[component]
fn HoldForm() -> impl IntoView {
    view! {
        <fieldset class="panel">
            <legend>{here(say::holding)}</legend>
            {fields([FieldId::FlankFriction, FieldId::SplineFriction, FieldId::SplineDiameter])}
            <p class="quiet">{here(say::friction_does_not_hold)}</p>
        </fieldset>
    }
}

/// The dogs under load: a drawing of the forces, and the pairs under power and on the overrun.
#[component]
fn DogLoads() -> impl IntoView {
    view! {
        <StaleBoard class="board forces">
            <Deferred first=true><Drawing view=&views::FORCES/></Deferred>
            <section class="gear-shifts loads" aria-label=here(say::dogs_under_load)>
                <ForWhichLoad/>
                <div class="tables">
                    <DogTable flank=FlankSide::Drive/>
                    <Bases/>
                    <DogTable flank=FlankSide::Coast/>
                </div>
                <p class="quiet">{here(say::combined_is)}</p>
                <GearTable/>
            </section>
        </StaleBoard>
    }
}

/// That the numbers are for a steady torque, and how far the clunk goes beyond it.
#[component]
fn ForWhichLoad() -> impl IntoView {
    let state = use_app_state();
    let words = move || {
        state.analysis.with(|a| {
            let is_steady = a.design.setting.case == LoadCase::Throttle;
            let is_known = is_steady && a.design.missing(Need::Torque).is_none();
            let torques = &a.pair.as_ref().filter(|_| is_known)?.torques;
            let torque = |nm: f64| Value::Result(Quantity::Torque, nm);
            let steady = torque(torques.steady_nm);
            let clunk = torques.clunk_nm.filter(|_| a.design.missing(Need::Inertia).is_none());
            Some(here(match clunk {
                Some(clunk) => say::steady_beside(steady, torque(clunk)),
                None => say::steady_alone(steady),
            }))
        })
    };
    move || words().map(|words| view! { <p class="for-load">{words}</p> })
}

/// The allowable stresses with the words for them.
const ALLOWABLE: [(FieldId, &[Preset]); 3] = [
    (FieldId::AllowedPressure, &SPLINE_PRESSURES),
    (FieldId::AllowedShear, &SPLINE_SHEARS),
    (FieldId::AllowedStress, &CORE_YIELDS),
];

/// What the limits come from: their words, and the sources on request.
#[component]
fn Bases() -> impl IntoView {
    let state = use_app_state();
    let standing = Memo::new(move |_| {
        ALLOWABLE.map(|(id, words)| {
            let value = state.with(|d| d.get(Slot::Setting(id))).unwrap_or_default();
            (value, words.iter().position(|preset| preset.value == value))
        })
    });
    let each = move || standing.get().into_iter().zip(ALLOWABLE);
    let told = move || {
        let basis = |((value, at), (_, words)): ((f64, Option<usize>), (_, &[Preset]))| {
            let limit = Value::Result(Quantity::Stress, value);
            here(match at {
                Some(at) => say::basis(limit, words[at].name()),
                None => say::basis_entered(limit),
            })
        };
        each().map(basis).collect::<Vec<_>>().join(" ")
    };
    let sources = move || {
        let source = |((_, at), (_, words)): ((f64, Option<usize>), (_, &'static [Preset]))| {
            let source = words[at?].from_where();
            Some(view! { <li>{here(source)}</li> })
        };
        each().filter_map(source).collect_view()
    };
    view! {
        <div class="quiet bases">
            <p>{here(say::limits_from)}" "{told}</p>
            <details class="table"><summary>{here(say::sources_of_limits)}</summary><ul>{sources}</ul></details>
        </div>
    }
}

/// The most pairs that are named at the head of a column.
const NAMED_PAIRS: usize = 8;

/// Pairs of dogs that carry alike: their places, and one of them for its numbers.
#[derive(Clone, PartialEq)]
struct Alike {
    places: Vec<PerSide<usize>>,
    one: Loaded,
}

fn alike(strength: &Strength) -> Vec<Alike> {
    let group = |group: Vec<&Loaded>| {
        let places = group.iter().map(|pair| pair.places).collect();
        group.first().map(|one| Alike { places, one: **one })
    };
    strength.alike().into_iter().filter_map(group).collect()
}

/// Reads one of the stresses of a dog, MPa.
type ReadStress = fn(&Stress) -> f64;

/// The stresses of one root, each with the limit that it is compared with.
const ROOT: [(Phrase, ReadStress, Option<Limit>); 3] = [
    (say::shear, |stress| stress.shear_mpa, Some(limits::shear)),
    (say::bending, |stress| stress.bending_mpa, None),
    (say::combined, Stress::combined_mpa, Some(limits::combined)),
];

/// What the dogs bear on one flank: a column for those that carry alike, and the limits beside them.
#[component]
fn DogTable(flank: FlankSide) -> impl IntoView {
    let state = use_app_state();
    let loaded = Memo::new(move |_| {
        state.analysis.with(|a| {
            let pair = a.pair.as_ref()?;
            let strength = match flank {
                FlankSide::Drive => pair.strength.as_ref(),
                FlankSide::Coast => pair.overrun.as_ref(),
            };
            strength.map(|s| (alike(s), s.force_head(), s.idle_words()))
        })
    });
    let title = move || say::load_table(flank);
    let table = move || {
        loaded.get().map(|(groups, force, idle)| {
            view! {
                <div class="scroll" tabindex="0" role="region" aria-label=here(common::table_of(title()))>
                    <table class="figures">{load_rows(&groups, force)}</table>
                </div>
                {idle.map(|words| view! { <p class="quiet">{here(words)}</p> })}
            }
        })
    };
    let why = move || {
        let missing = state.with(|d| d.missing(Need::Torque));
        here(missing.map_or_else(say::nothing_carried, |slot| common::lacking(needs(slot)())))
    };
    view! {
        <section>
            <h2>{here(title())}</h2>
            {move || loaded.with(Option::is_none).then(|| view! { <p class="quiet">{why}</p> })}
            {table}
        </section>
    }
}

/// A column for each root of the dogs that carry alike; what both have in common stands across their two.
fn load_rows(groups: &[Alike], force: Message) -> impl IntoView + use<> {
    let state = use_app_state();
    let show = move |quantity, value| move || Value::Result(quantity, value).show(state.reader());
    let plain = |label: Message, quantity, read: fn(&Loaded) -> f64| {
        let cell = |g: &Alike| view! { <td colspan="2">{show(quantity, read(&g.one))}</td> };
        let cells: Vec<_> = groups.iter().map(cell).collect();
        view! { <tr><th scope="row">{here(label)}</th>{cells}<td></td></tr> }
    };
    let pressures: Vec<_> = groups.iter().map(|g| pressure_cell(&g.one)).collect();
    let roots = ROOT.map(|(name, read, limit)| {
        let cell = |(g, side): (&Alike, Side)| {
            view! { <StressCell mpa=read(&g.one.stresses[side]) limit/> }
        };
        let sides = groups.iter().flat_map(|g| Side::BOTH.map(|side| (g, side)));
        let cells: Vec<_> = sides.map(cell).collect();
        view! { <tr><th scope="row">{here(name)}</th>{cells}<td><AtMost limit/></td></tr> }
    });
    let all = groups.len() == 1;
    let head = |g: &Alike| view! { <th scope="colgroup" colspan="2">{pairs_named(g, all)}</th> };
    let heads: Vec<_> = groups.iter().map(head).collect();
    let sides = groups.iter().flat_map(|_| Side::BOTH);
    let sides: Vec<_> = sides
        .map(|side| {
            let class = if side == Side::A { "ring-a" } else { "ring-b" };
            view! { <th scope="col" class=class>{here(say::root_of(side))}</th> }
        })
        .collect();
    view! {
        <thead>
            <tr><td></td>{heads}<th scope="col">{here(say::limit)}</th></tr>
        </thead>
        <tbody>
            {plain(force, Quantity::Force, |one| one.force_n)}
            {plain(say::engaged_height(), Quantity::Length, |one| one.deep_mm)}
            <tr>
                <th scope="row">{here(say::flank_pressure)}</th>
                {pressures}
                <td><AtMost limit=Some(limits::pressure)/></td>
            </tr>
            <tr class="of-root"><td></td>{sides}<td></td></tr>
            {roots.into_iter().collect_view()}
        </tbody>
    }
}

fn pressure_cell(one: &Loaded) -> AnyView {
    if one.on_edge {
        return view! { <td colspan="2">{here(say::on_edge)}</td> }.into_any();
    }
    let mpa = one.stresses.a.pressure_mpa;
    view! { <StressCell mpa limit=Some(limits::pressure) columns=2/> }.into_any()
}

/// How many pairs carry alike, and their names if they are few and not all.
fn pairs_named(alike: &Alike, all: bool) -> impl IntoView + use<> {
    let places = &alike.places;
    let name = |PerSide { a, b }: &PerSide<usize>| Value::from(say::pair(*a, *b));
    let few = places.len() == 1 || !all && places.len() <= NAMED_PAIRS;
    let names = few.then(|| here(say::listed(places.iter().map(name).collect())));
    view! {
        {(places.len() > 1).then(|| here(say::pairs(places.len())))}
        {names.map(|names| view! { <span class="names">{names}</span> })}
    }
}

const GEAR_HEADS: [(Phrase, Option<Limit>); 6] = [
    (common::gear, None),
    (say::torque_at_dogs, None),
    (say::peak_per_dog, None),
    (say::flank_pressure, Some(limits::pressure)),
    (say::combined_stress, Some(limits::combined)),
    (say::combined_on_overrun, Some(limits::combined)),
];

/// The load on these dogs in every gear.
#[component]
fn GearTable() -> impl IntoView {
    let state = use_app_state();
    let loads = Memo::new(move |_| state.analysis.with(|a| gear_loads(a)));
    let show = move |quantity, value| Value::Result(quantity, value).show(state.reader());
    let stress = |mpa: Option<f64>, limit: Limit| match mpa {
        Some(mpa) => view! { <StressCell mpa limit=Some(limit)/> }.into_any(),
        None => view! { <td></td> }.into_any(),
    };
    let row = move |load: GearLoad| {
        view! {
            <tr>
                <th scope="row">{load.gear + 1}</th>
                <td>{show(Quantity::Torque, load.torque_nm)}</td>
                <td>{show(Quantity::Force, load.dog_force_n)}</td>
                {stress(load.pressure_mpa, limits::pressure)}
                {stress(Some(load.combined_mpa), limits::combined)}
                {stress(load.overrun_combined_mpa, limits::combined)}
            </tr>
        }
    };
    move || {
        let mut list = loads.get();
        // The one that asks most of the dogs first.
        sort_by_number(&mut list, |load| -load.torque_nm);
        (!list.is_empty()).then(|| {
            let rows = list.into_iter().map(row).collect_view();
            let heads = GEAR_HEADS
                .map(|(name, limit)| view! { <th scope="col">{here(name)}<AtMost limit/></th> });
            view! {
                <h2>{here(say::gear_table)}</h2>
                <p class="quiet">{here(common::if_every_gear)}</p>
                <div class="scroll" tabindex="0" role="region" aria-label=here(common::table_of(say::gear_table()))>
                    <table class="figures">
                        <thead>
                            <tr>
                                {heads.into_iter().collect_view()}
                            </tr>
                        </thead>
                        <tbody>{rows}</tbody>
                    </table>
                </div>
            }
        })
    }
}

/// Under the head of a column: the limit of its numbers.
#[component]
fn AtMost(limit: Option<Limit>) -> impl IntoView {
    let state = use_app_state();
    let words = move || {
        let gauge = state.analysis.with(|a| limit?(a, 0.0))?;
        let limit = Value::Result(Quantity::Stress, gauge.limit);
        Some(say::no_more_than(limit).show(state.reader()))
    };
    view! { <span class="limit">{words}</span> }
}

/// A stress beside its limit, marked where it is past it.
#[component]
fn StressCell(
    mpa: f64,
    limit: Option<Limit>,
    /// How many columns it stands across.
    #[prop(default = 1)]
    columns: u8,
) -> impl IntoView {
    let state = use_app_state();
    let gauge = Memo::new(move |_| state.analysis.with(|a| limit?(a, mpa)));
    let past = move || gauge.with(|g| g.is_some_and(|g| g.is_past()));
    let none = Memo::new(|_| None);
    view! {
        <td class:past=past colspan=columns.to_string()>
            {move || Value::Result(Quantity::Stress, mpa).show(state.reader())}
            {move || past().then(|| view! { <span class="past" role="img" aria-label=here(say::past)>"▲"</span> })}
            {limit.is_some().then(|| view! { <GaugeBar gauge was=none/> })}
        </td>
    }
}
