//! The load on the dogs, and the limits that it is compared with.

use crenel_words::page::{common, load as say};
use crenel_words::{Phrase, Value};
use leptos::prelude::*;

use crenel::design::{
    CORE_YIELDS, LoadCase, Need, Preset, SPLINE_PRESSURES, SPLINE_SHEARS, SetLimits,
};
use crenel::fields::{FieldId, Slot};
use crenel::figures::needs;
use crenel::load::Carried;
use crenel::model::{GearLoad, Loaded, gear_loads};
use crenel::ring::{FlankSide, PerSide, Side};
use crenel::units::Quantity;
use crenel::verdict::Stage;

use crate::state::{Area, AreaKey, Content, Home, Panel, Picture, here, use_app_state};
use crate::widgets::choose::Choose;
use crate::widgets::in_words::InWords;
use crate::widgets::number_field::NumberField;
use crate::widgets::pair_board::TOGETHER;

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
            pictures: &[
                Picture::of("forces", say::picture_forces, || view! { <DogLoads/> }.into_any()),
                TOGETHER,
            ],
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
                    form: || view! { <CarriedForm/> }.into_any(),
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
                    form: || view! { <AgainstForm/> }.into_any(),
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
                    form: || view! { <HoldForm/> }.into_any(),
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

/// Every pair of dogs under load, under power and on the overrun.
#[component]
fn DogLoads() -> impl IntoView {
    view! {
        <section class="gear-shifts loads" aria-label=here(say::dogs_under_load)>
            <DogTable flank=FlankSide::Drive/>
            <DogTable flank=FlankSide::Coast/>
            <GearTable/>
        </section>
    }
}

#[component]
fn DogTable(flank: FlankSide) -> impl IntoView {
    let state = use_app_state();
    let pairs = Memo::new(move |_| {
        state.analysis.with(|a| {
            let pair = a.pair.as_ref()?;
            let strength = match flank {
                FlankSide::Drive => pair.strength.as_ref(),
                FlankSide::Coast => pair.overrun.as_ref(),
            };
            strength.map(|s| (s.pairs.clone(), s.force_head(), s.idle_words()))
        })
    });
    let rows = move || {
        pairs
            .get()
            .map(|(pairs, ..)| pairs)
            .unwrap_or_default()
            .into_iter()
            .map(|pair| view! { <PairRow pair/> })
            .collect_view()
    };
    let head = move || pairs.with(|p| p.as_ref().map(|p| p.1.show(state.reader())));
    let title = move || say::load_table(flank);
    let roots = Side::BOTH.into_iter().map(|side| {
        view! { <th scope="colgroup" colspan="3">{here(say::root_of(side))}</th> }
    });
    let stresses = Side::BOTH.map(|_| {
        [say::shear, say::bending, say::combined]
            .map(|name: Phrase| view! { <th scope="col">{here(name)}</th> })
    });
    let idle =
        move || pairs.with(|p| p.as_ref().and_then(|p| Some(p.2.as_ref()?.show(state.reader()))));
    view! {
        <h2>{here(title())}</h2>
        {move || pairs.with(Option::is_none).then(|| {
            let missing = state.with(|d| d.missing(Need::Torque));
            let why = missing.map_or_else(say::nothing_carried, |slot| common::lacking(needs(slot)()));
            view! { <p class="quiet">{here(why)}</p> }
        })}
        <div class="scroll" tabindex="0" role="region" aria-label=here(common::table_of(title()))>
            <table class="figures">
                <thead>
                    <tr>
                        <th scope="col" rowspan="2">{here(say::dogs)}</th>
                        <th scope="col" rowspan="2">{head}</th>
                        <th scope="col" rowspan="2">{here(say::engaged_height)}</th>
                        <th scope="col" rowspan="2">{here(say::flank_pressure)}</th>
                        {roots.collect_view()}
                    </tr>
                    <tr>{stresses.into_iter().flatten().collect_view()}</tr>
                </thead>
                <tbody>{rows}</tbody>
            </table>
        </div>
        {move || idle().map(|words| view! { <p class="quiet">{words}</p> })}
    }
}

const GEAR_HEADS: [Phrase; 6] = [
    common::gear,
    say::torque_at_dogs,
    say::peak_per_dog,
    say::flank_pressure,
    say::combined_stress,
    say::combined_on_overrun,
];

/// The load on these dogs in every gear.
#[component]
fn GearTable() -> impl IntoView {
    let state = use_app_state();
    let loads = Memo::new(move |_| state.analysis.with(|a| gear_loads(a)));
    let show = move |quantity, value| Value::Result(quantity, value).show(state.reader());
    let mpa = move |value| show(Quantity::Stress, value);
    let row = move |load: GearLoad| {
        view! {
            <tr>
                <th scope="row">{load.gear + 1}</th>
                <td>{show(Quantity::Torque, load.torque_nm)}</td>
                <td>{show(Quantity::Force, load.dog_force_n)}</td>
                <td>{load.pressure_mpa.map(mpa)}</td>
                <td>{mpa(load.combined_mpa)}</td>
                <td>{load.overrun_combined_mpa.map(mpa)}</td>
            </tr>
        }
    };
    move || {
        let list = loads.get();
        (!list.is_empty()).then(|| {
            let rows = list.into_iter().map(row).collect_view();
            let heads = GEAR_HEADS.iter().map(|name| view! { <th scope="col">{here(*name)}</th> });
            view! {
                <h2>{here(say::gear_table)}</h2>
                <p class="quiet">{here(common::if_every_gear)}</p>
                <div class="scroll" tabindex="0" role="region" aria-label=here(common::table_of(say::gear_table()))>
                    <table class="figures">
                        <thead>
                            <tr>
                                {heads.collect_view()}
                            </tr>
                        </thead>
                        <tbody>{rows}</tbody>
                    </table>
                </div>
            }
        })
    }
}

#[component]
fn PairRow(pair: Loaded) -> impl IntoView {
    let state = use_app_state();
    let show = move |quantity, value| move || Value::Result(quantity, value).show(state.reader());
    let roots = Side::BOTH.map(|side| {
        let stress = &pair.stresses[side];
        [stress.shear_mpa, stress.bending_mpa, stress.combined_mpa()]
            .map(|mpa| view! { <td>{show(Quantity::Stress, mpa)}</td> })
    });
    let pressure = if pair.on_edge {
        here(say::on_edge).into_any()
    } else {
        show(Quantity::Stress, pair.stresses.a.pressure_mpa).into_any()
    };
    let PerSide { a, b } = pair.places;
    view! {
        <tr>
            <th scope="row">{here(say::pair(a, b))}</th>
            <td>{show(Quantity::Force, pair.force_n)}</td>
            <td>{show(Quantity::Length, pair.roots.a.engaged_mm)}</td>
            <td>{pressure}</td>
            {roots.into_iter().flatten().collect_view()}
        </tr>
    }
}
