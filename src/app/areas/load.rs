//! The load on the dogs, and the limits that it is compared with.

use crenel_words::Phrase;
use crenel_words::page::load as say;
use leptos::prelude::*;

use crenel::design::{CORE_YIELDS, LoadCase, Preset, SPLINE_PRESSURES, SPLINE_SHEARS};
use crenel::fields::{FieldId, Slot};
use crenel::load::Carried;
use crenel::model::{GearLoad, Loaded, gear_loads};
use crenel::ring::{FlankSide, PerSide, Side};
use crenel::units::Quantity;

use crate::deferred::Deferred;
use crate::state::{Area, AreaKey, Content, use_app_state};
use crate::widgets::choose::Choose;
use crate::widgets::cutting::{CUTTING_HINT, CuttingBar};
use crate::widgets::in_words::InWords;
use crate::widgets::number_field::NumberField;
use crate::widgets::pair_board::PairBoard;

pub(super) const AREA: Area<AnyView> = Area {
    tour: Some(say::tour),
    ..Area::tab(
        AreaKey("load"),
        say::title,
        Content::Board {
            drawings: || view! { <Drawings/> }.into_any(),
            sizes: || view! { <Sizes/> }.into_any(),
            // Here the work is done in the tables.
            sizes_first: true,
        },
    )
};

#[component]
fn Drawings() -> impl IntoView {
    view! { <PairBoard hint=CUTTING_HINT><Deferred><CuttingBar/></Deferred></PairBoard> }
}

const CASES: [(LoadCase, Phrase); 2] =
    [(LoadCase::Throttle, say::case_throttle), (LoadCase::Largest, say::case_largest)];
const RULES: [(Carried, Phrase); 4] = [
    (Carried::HalfAboveThree, say::rule_half),
    (Carried::All, say::rule_all),
    (Carried::Third, say::rule_third),
    (Carried::Spacing, say::rule_spacing),
];

#[component]
fn Sizes() -> impl IntoView {
    view! {
        <DogLoads/>
        <div class="panels">
            <CarriedForm/>
            <AgainstForm/>
            <HoldForm/>
        </div>
    }
}

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
            <legend>"Applied load"</legend>
            <Choose label="Torque" words=&CASES value=case on_choose=set_case/>
            {move || typed.get().then(|| field(FieldId::ThrottleTorque))}
            {field(FieldId::LoadFactor)}
            {field(FieldId::OverrunShare)}
            <Choose label="Carried by" words=&RULES value=carried on_choose=set_carried/>
            {move || (carried.get() == Carried::Spacing).then(|| field(FieldId::DogStiffness))}
            {move || (case.get() == LoadCase::Largest).then(|| view! {
                <p class="quiet">
                    "The starting numbers under “Allowable stresses” leave room for shocks already (application \
                    factor 2). Against blow and clunk that room is counted twice."
                </p>
            })}
            <p class="quiet">
                "Where the shift comes from the gearbox, so does the torque of the throttle. Drive flanks take the \
                clunk of opening it, coast flanks that of shutting it; the blow of a shift can come on either. \
                Spacing needs rings listed dog by dog, as measured."
            </p>
        </fieldset>
    }
}

#[component]
fn AgainstForm() -> impl IntoView {
    view! {
        <fieldset class="panel">
            <legend>"Allowable stresses"</legend>
            <Against id=FieldId::AllowedPressure words=&SPLINE_PRESSURES label="Pressure as of"/>
            <Against id=FieldId::AllowedShear words=&SPLINE_SHEARS label="Shear as of"/>
            <Against id=FieldId::AllowedStress words=&CORE_YIELDS label="Yield of core"/>
            <p class="quiet">
                "Starting points, no limits of your gear. Not checked: impact fatigue, the notch of the root fillet, \
                spalling of the case, cracks that are there already."
            </p>
        </fieldset>
    }
}

/// A limit, and the presets with their sources.
#[component]
fn Against(id: FieldId, words: &'static [Preset], label: &'static str) -> impl IntoView {
    let state = use_app_state();
    let value = Signal::derive(move || state.with(|d| d.get(Slot::Setting(id))));
    let choose = Callback::new(move |value| {
        state.change(|d| {
            d.set(Slot::Setting(id), value);
        });
    });
    view! {
        {field(id)}
        <InWords label words value on_choose=choose quantity=Quantity::Stress/>
    }
}

#[component]
fn HoldForm() -> impl IntoView {
    view! {
        <fieldset class="panel">
            <legend>"Holding"</legend>
            {fields([FieldId::FlankFriction, FieldId::SplineFriction, FieldId::SplineDiameter])}
            <p class="quiet">
                "Friction makes it heavier to shift out under load. It is not counted on to hold: vibration takes it \
                away."
            </p>
        </fieldset>
    }
}

/// Every pair of dogs under load, under power and on the over-run.
#[component]
fn DogLoads() -> impl IntoView {
    view! {
        <section class="gear-shifts loads" aria-label="Dogs under load">
            <DogTable flank=FlankSide::Drive words="Dogs under load, at full depth under power"/>
            <DogTable flank=FlankSide::Coast words="Dogs under load on the over-run"/>
            <GearTable/>
        </section>
    }
}

#[component]
fn DogTable(flank: FlankSide, words: &'static str) -> impl IntoView {
    let state = use_app_state();
    let pairs = Memo::new(move |_| {
        state.analysis.with(|a| {
            let pair = a.pair.as_ref()?;
            let strength = match flank {
                FlankSide::Drive => pair.strength.as_ref(),
                FlankSide::Coast => pair.overrun.as_ref(),
            };
            let units = state.units.get();
            strength.map(|s| (s.pairs.clone(), s.force_head(), s.idle_words(units)))
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
    let head =
        move || pairs.with(|p| p.as_ref().map_or_else(|| "Force".to_owned(), |p| p.1.clone()));
    let idle = move || pairs.with(|p| p.as_ref().and_then(|p| p.2.clone()));
    view! {
        <h2>{words}</h2>
        {move || pairs.with(Option::is_none).then(|| view! {
            <p class="quiet">"Nothing is carried: the rings jam or stand apart."</p>
        })}
        <div class="scroll" tabindex="0" role="region" aria-label=format!("Table: {}", words.to_lowercase())>
            <table class="figures">
                <thead>
                    <tr>
                        <th scope="col">"Dogs"</th><th scope="col">{head}</th><th scope="col">"Engaged height"</th>
                        <th scope="col">"Flank pressure"</th>
                        <th scope="col">"Root of A: shear, bending, together"</th>
                        <th scope="col">"Root of B: shear, bending, together"</th>
                    </tr>
                </thead>
                <tbody>{rows}</tbody>
            </table>
        </div>
        {move || idle().map(|words| view! { <p class="quiet">{words}</p> })}
    }
}

/// The load on these dogs in every gear.
#[component]
fn GearTable() -> impl IntoView {
    let state = use_app_state();
    let loads = Memo::new(move |_| state.analysis.with(|a| gear_loads(a)));
    let mpa = |value: f64| format!("{value:.1} MPa");
    let row = move |load: GearLoad| {
        view! {
            <tr>
                <th scope="row">{load.gear + 1}</th>
                <td>{format!("{:.1} N·m", load.torque_nm)}</td>
                <td>{format!("{:.0} N", load.dog_force_n)}</td>
                <td>{mpa(load.pressure_mpa)}</td>
                <td>{mpa(load.combined_mpa)}</td>
                <td>{load.overrun_combined_mpa.map(mpa)}</td>
            </tr>
        }
    };
    move || {
        let list = loads.get();
        (!list.is_empty()).then(|| {
            let rows = list.into_iter().map(row).collect_view();
            view! {
                <h2>"The same dogs in every gear, steady pull"</h2>
                <div class="scroll" tabindex="0" role="region" aria-label="Table of loads in every gear">
                    <table class="figures">
                        <thead>
                            <tr>
                                <th scope="col">"Gear"</th><th scope="col">"Torque at the dogs"</th>
                                <th scope="col">"Peak per dog"</th><th scope="col">"Flank pressure"</th>
                                <th scope="col">"Bending and shear"</th>
                                <th scope="col">"The same on the over-run"</th>
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
    let units = use_app_state().units.get_untracked();
    let show = |quantity: Quantity, value: f64| quantity.show(value, units);
    let root = |side: Side| {
        let stress = &pair.stresses[side];
        let [shear, bending, both] = [stress.shear_mpa, stress.bending_mpa, stress.combined_mpa()]
            .map(|mpa| format!("{mpa:.1}"));
        format!("{shear}, {bending}, {both} MPa")
    };
    let PerSide { a, b } = pair.places;
    view! {
        <tr>
            <th scope="row">{format!("A{} on B{}", a + 1, b + 1)}</th>
            <td>{format!("{:.0} N", pair.force_n)}</td>
            <td>{show(Quantity::Length, pair.roots.a.engaged_mm)}</td>
            <td>{format!("{:.1} MPa", pair.stresses.a.pressure_mpa)}</td>
            <td>{root(Side::A)}</td>
            <td>{root(Side::B)}</td>
        </tr>
    }
}
