//! The gearbox: tooth counts and shift speeds, and the shifts that follow from them.

use crenel_words::Phrase;
use crenel_words::page::shift as say;
use leptos::prelude::*;

use crenel::design::{Clutch, Design, GearSpec, GearboxSpec, MOST_GEARS, ShiftFrom};
use crenel::fields::{FieldId, Slot};
use crenel::model::{GearShift, gear_lashes, gear_shifts, hardest_words};
use crenel::ring::FlankSide;
use crenel::shift::{Shaft, Way};
use crenel::units::{DisplayUnits, Quantity};

use crate::state::{AppState, here, use_app_state};
use crate::widgets::choose::Choose;
use crate::widgets::estimate::{Estimate, Estimator};
use crate::widgets::number_field::NumberField;

const CLUTCHES: [(Clutch, Phrase); 2] =
    [(Clutch::Pulled, say::clutch_pulled), (Clutch::Gripping, say::clutch_gripping)];
const SHAFTS: [(Shaft, &str); 2] = [(Shaft::Output, "output"), (Shaft::Input, "input")];

const DRIVE_FIELDS: [FieldId; 6] = [
    FieldId::PrimaryDriving,
    FieldId::PrimaryDriven,
    FieldId::FinalDriving,
    FieldId::FinalDriven,
    FieldId::EngineTorque,
    FieldId::VehicleMass,
];

#[component]
pub(crate) fn GearboxForm() -> impl IntoView {
    let state = use_app_state();
    let given = Memo::new(move |_| state.with(|d| d.gearbox.is_some()));
    let give = move |_| state.change(|d| d.gearbox = Some(GearboxSpec::default()));
    view! {
        <fieldset class="panel gearbox">
            <legend>"Gearbox"</legend>
            {move || if given.get() {
                view! { <Given/> }.into_any()
            } else {
                view! {
                    <p class="quiet">
                        "With tooth counts and shift speeds every shift gets its own speed difference, and lash is \
                        carried to the wheel in every gear."
                    </p>
                    <button class="wide" on:click=give>"Enter gearbox data"</button>
                    <p class="quiet">"It begins with five invented gears; type your own over them."</p>
                }.into_any()
            }}
        </fieldset>
    }
}

/// Changes the gearbox, if it is given.
fn edit(state: AppState, edit: impl FnOnce(&mut GearboxSpec)) {
    state.change(|d| {
        if let Some(gearbox) = &mut d.gearbox {
            edit(gearbox);
        }
    });
}

const fn full(gears: usize) -> bool {
    gears >= MOST_GEARS
}

fn take_away(design: &mut Design) {
    design.gearbox = None;
    design.setting.from = ShiftFrom::Typed;
}

#[component]
fn Given() -> impl IntoView {
    let state = use_app_state();
    let clutch = Signal::derive(move || {
        state.with(|d| d.gearbox.as_ref().map(|g| g.clutch)).unwrap_or_default()
    });
    let set_clutch = Callback::new(move |clutch| edit(state, |g| g.clutch = clutch));
    let count = Memo::new(move |_| state.with(|d| d.gearbox.as_ref().map_or(0, |g| g.gears.len())));
    let heads = GearSpec::FIELDS.map(|id| view! { <th scope="col">{here(id.spec().name())}</th> });
    let numbers = |ids: &[FieldId]| {
        ids.iter().map(|&id| view! { <NumberField at=Slot::Gearbox(id)/> }).collect_view()
    };
    let inertia = |id: FieldId| {
        view! { <NumberField at=Slot::Gearbox(id)/><Estimator at=Slot::Gearbox(id) how=Estimate::Disc/> }
    };
    view! {
        <div class="scroll" tabindex="0" role="region" aria-label="Gears">
            <table>
                <thead>
                    <tr>
                        <th scope="col">"Gear"</th>{heads.collect_view()}<th scope="col">"Free gear on"</th>
                        <th><span class="sr">"Take out"</span></th>
                    </tr>
                </thead>
                <tbody>
                    <For each=move || 0..count.get() key=|at| *at children=move |at| view! { <GearRow at/> }/>
                </tbody>
            </table>
        </div>
        <button class="wide" disabled=move || full(count.get()) on:click=move |_| edit(state, GearboxSpec::add_gear)>
            "Add a gear"
        </button>
        <div class="two">
            <div>{numbers(&DRIVE_FIELDS)}</div>
            <div>
                <Choose label="Clutch in a shift" words=&CLUTCHES value=clutch on_choose=set_clutch/>
                {inertia(FieldId::EngineInertia)}{inertia(FieldId::InputInertia)}{inertia(FieldId::OutputInertia)}
            </div>
        </div>
        <button class="wide" on:click=move |_| state.change(take_away)>"Remove gearbox"</button>
    }
}

#[component]
fn GearRow(at: usize) -> impl IntoView {
    let state = use_app_state();
    let cells = GearSpec::FIELDS
        .map(|id| view! { <td><NumberField at=Slot::Gear(at, id) bare=true/></td> });
    let gear = move |d: &Design| d.gearbox.as_ref().and_then(|g| g.gears.get(at)).copied();
    let input = move || state.with(gear).is_some_and(|g| g.free_on == Shaft::Input);
    let choose = move |event| {
        let word: String = event_target_value(&event);
        let shaft = SHAFTS.into_iter().find(|(_, name)| *name == word).map(|(shaft, _)| shaft);
        edit(state, |g| {
            if let Some((gear, shaft)) = g.gears.get_mut(at).zip(shaft) {
                gear.free_on = shaft;
            }
        });
    };
    let options = SHAFTS.map(|(_, name)| view! { <option value=name>{name}</option> });
    view! {
        <tr>
            <th scope="row">{at + 1}</th>
            {cells.collect_view()}
            <td>
                <select aria-label=format!("Gear {}: free gear on the shaft", at + 1)
                    prop:value=move || if input() { "input" } else { "output" } on:change=choose>
                    {options.collect_view()}
                </select>
            </td>
            <td>
                <button aria-label=format!("Take gear {} out", at + 1)
                    on:click=move |_| edit(state, |g| { g.gears.remove(at); })>
                    "×"
                </button>
            </td>
        </tr>
    }
}

// ---- what it means ----

#[component]
pub(crate) fn GearShifts() -> impl IntoView {
    let state = use_app_state();
    let shifts = Memo::new(move |_| state.unturned.with(|a| gear_shifts(a)));
    let words = move || {
        let units = state.units.get();
        let one = |way| state.unturned.with(|a| hardest_words(a, way, units));
        [one(Way::Up), one(Way::Down)]
            .into_iter()
            .flatten()
            .map(|words| view! { <p class="hardest">{words}</p> })
            .collect_view()
    };
    let rows = move || {
        let most = shifts.with(|all| all.iter().map(|s| s.step.slip_rpm.abs()).fold(0.0, f64::max));
        shifts.get().into_iter().map(|shift| view! { <ShiftRow shift most/> }).collect_view()
    };
    move || {
        (!shifts.with(Vec::is_empty)).then(|| view! {
            <section class="gear-shifts" aria-label="Every shift with these dogs">
                <h2>"Every shift with these dogs"</h2>
                {words}
                <div class="tables">
                    <div class="scroll" tabindex="0" role="region" aria-label="Table of shifts">
                        <table class="figures">
                            <thead><tr>
                                <th scope="col">"Shift"</th><th scope="col" colspan="2">"Speed difference"</th>
                                <th scope="col">"Blow on"</th>
                                <th scope="col">"Window time"</th><th scope="col">"Straight-in limit"</th>
                                <th scope="col">"In at first pass"</th>
                                <th scope="col">"Blow, whole difference"</th><th><span class="sr">"Show it"</span></th>
                            </tr></thead>
                            <tbody>{rows}</tbody>
                        </table>
                    </div>
                    <LashTable/>
                </div>
            </section>
        })
    }
}

fn shown(value: Option<f64>, quantity: Quantity, units: DisplayUnits) -> String {
    value.map_or_else(|| "–".to_owned(), |v| quantity.show(v, units))
}

/// One shift. `most` is the largest speed difference of all shifts, for the length of its bar.
#[component]
fn ShiftRow(shift: GearShift, most: f64) -> impl IntoView {
    let state = use_app_state();
    let units = state.units.get_untracked();
    let step = shift.step;
    let (from, gear) =
        (if step.way == Way::Up { ShiftFrom::Up } else { ShiftFrom::Down }, step.to + 1);
    let on_board = Memo::new(move |_| {
        state.analysis.with(|a| {
            let shown = a.pair.as_ref().and_then(|m| m.shift_case.step);
            shown.is_some_and(|s| s.to == step.to && s.way == step.way)
        })
    });
    let past = shift.limit_rpm.map(|limit| step.slip_rpm.abs().round() - limit.round());
    let over = shift.limit_rpm.is_some_and(|limit| step.slip_rpm.abs() > limit);
    let show = move |_| {
        state.change(|d| {
            d.setting.from = from;
            d.set(Slot::Setting(FieldId::Gear), f64::from(u8::try_from(gear).unwrap_or(1)));
        });
    };
    let flank = match shift.flank {
        FlankSide::Drive => "drive flank",
        FlankSide::Coast => "coast flank",
    };
    let rpm = step.slip_rpm;
    let limit_line = |limit: f64| {
        let x = format!("{:.1}", 100.0 * limit / most);
        view! { <line x1=x.clone() x2=x y1="0" y2="10"></line> }
    };
    let words = format!("{}→{}", step.from + 1, gear);
    let verb = |on_board: bool| if on_board { "Shown" } else { "Show" };
    let named = format!("the shift {words}");
    let label = move || {
        format!("{}{} {named}", verb(on_board.get()), if on_board.get() { ":" } else { "" })
    };
    view! {
        <tr aria-current=move || on_board.get().then_some("true")>
            <th scope="row">{words}</th>
            <td>{format!("{rpm:+.0} rpm").replace('-', "−")}</td>
            <td><svg class="bar" class:over=over viewBox="0 0 100 10" width="80" height="10" aria-hidden="true">
                <rect width=format!("{:.1}", 100.0 * rpm.abs() / most.max(1e-9)) height="10"></rect>
                {shift.limit_rpm.filter(|limit| *limit < most).map(limit_line)}
            </svg></td>
            <td>{flank}</td>
            <td>{shown(shift.window_ms, Quantity::Time, units)}</td>
            <td>
                {shift.limit_rpm.map_or("–".to_owned(), |l| format!("{l:.0} rpm"))}
                {over.then(|| format!(", {:.0} over", past.unwrap_or_default()))}
            </td>
            <td>{shift.chance.map_or("–".to_owned(), |c| format!("{:.0} %", c * 100.0))}</td>
            <td>{format!("{:.0} N·m", shift.blow_nm)}</td>
            <td><button disabled=on_board aria-label=label on:click=show>{move || verb(on_board.get())}</button></td>
        </tr>
    }
}

/// The lash at the wheel in every gear.
#[component]
fn LashTable() -> impl IntoView {
    let state = use_app_state();
    let rows = move || {
        let units = state.units.get();
        let row = |lash: crenel::model::GearLash| {
            view! {
                <tr>
                    <th scope="row">{lash.gear + 1}</th>
                    <td>{format!("{:.3}", lash.ratio)}</td>
                    <td>{shown(lash.wheel_deg, Quantity::Angle, units)}</td>
                    <td>{shown(lash.tyre_mm.map(|mm| (mm * 10.0).round() / 10.0), Quantity::Length, units)}</td>
                </tr>
            }
        };
        state.analysis.with(|a| gear_lashes(a)).into_iter().map(row).collect_view()
    };
    view! {
        <div class="scroll" tabindex="0" role="region" aria-label="Lash in every gear">
            <table class="figures">
                <thead>
                    <tr>
                        <th scope="col">"Gear"</th><th scope="col">"Ratio"</th>
                        <th scope="col">"Lash at the wheel"</th><th scope="col">"Lash at the tyre"</th>
                    </tr>
                </thead>
                <tbody>{rows}</tbody>
            </table>
        </div>
    }
}
