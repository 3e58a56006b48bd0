//! The gearbox: tooth counts and shift speeds, and the shifts that follow from them.

use crenel_words::page::{common, shift as say};
use crenel_words::{Message, Phrase, Value, Words as _};
use leptos::prelude::*;

use crenel::design::{Clutch, Design, GearSpec, GearboxSpec, MOST_GEARS, Need, ShiftFrom};
use crenel::fields::{FieldId, Slot};
use crenel::gauge::Gauge;
use crenel::model::{GearLash, GearShift, gear_lashes, gear_shifts, hardest_words};
use crenel::shift::{Shaft, Step, Way};
use crenel::units::{ABSENT, DisplayUnits, Quantity};

use crate::state::{AppState, here, use_app_state};
use crate::widgets::choose::Choose;
use crate::widgets::estimate::{Estimate, Estimator};
use crate::widgets::gauge_bar::GaugeBar;
use crate::widgets::number_field::NumberField;
use crate::widgets::optional_parts::{EmptyState, Lacking};
use crate::widgets::reveal;

const CLUTCHES: [(Clutch, Phrase); 2] =
    [(Clutch::Pulled, say::clutch_pulled), (Clutch::Gripping, say::clutch_gripping)];
const SHAFTS: [(Shaft, &str, Phrase); 2] =
    [(Shaft::Output, "output", say::shaft_output), (Shaft::Input, "input", say::shaft_input)];

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
    let give = move |_| state.change(Design::add_gearbox);
    view! {
        <fieldset class="panel gearbox">
            <legend>{here(say::gearbox)}</legend>
            {move || if given.get() {
                view! { <Given/> }.into_any()
            } else {
                view! {
                    <p class="quiet">{here(say::gearbox_why)}</p>
                    <button class="wide" on:click=give>{here(say::enter_gearbox)}</button>
                    <p class="quiet">{here(say::gearbox_example)}</p>
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

fn remove_gearbox(design: &mut Design) {
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
    // A gearbox around the pair has its own gears and shafts.
    let in_box = Memo::new(move |_| state.with(|d| d.around.is_some()));
    let heads = GearSpec::FIELDS.map(|id| view! { <th scope="col">{here(id.spec().name())}</th> });
    let numbers = |ids: &[FieldId]| {
        ids.iter().map(|&id| view! { <NumberField at=Slot::Gearbox(id)/> }).collect_view()
    };
    let inertia = |id: FieldId| {
        view! { <NumberField at=Slot::Gearbox(id)/><Estimator at=Slot::Gearbox(id) how=Estimate::Disc/> }
    };
    view! {
        <div class="scroll" tabindex="0" role="region" aria-label=here(say::gears)>
            <table>
                <thead>
                    <tr>
                        <th scope="col">{here(common::gear)}</th>{heads.collect_view()}
                        <th scope="col">{here(say::free_gear_on)}</th>
                        <th><span class="sr">{here(common::remove)}</span></th>
                    </tr>
                </thead>
                <tbody>
                    <For each=move || 0..count.get() key=|at| *at children=move |at| view! { <GearRow at/> }/>
                </tbody>
            </table>
        </div>
        <button class="wide" class:hidden=in_box disabled=move || full(count.get())
            on:click=move |_| state.change(Design::add_gear)>
            {here(say::add_gear)}
        </button>
        <div class="two">
            <div>{numbers(&DRIVE_FIELDS)}</div>
            <div>
                <Choose label=here(say::clutch) words=&CLUTCHES value=clutch on_choose=set_clutch/>
                {inertia(FieldId::EngineInertia)}{inertia(FieldId::InputInertia)}{inertia(FieldId::OutputInertia)}
            </div>
        </div>
        <button class="wide" class:hidden=in_box on:click=move |_| state.change(remove_gearbox)>
            {here(say::remove_gearbox)}
        </button>
    }
}

#[component]
fn GearRow(at: usize) -> impl IntoView {
    let state = use_app_state();
    let cells = GearSpec::FIELDS
        .map(|id| view! { <td><NumberField at=Slot::Gear(at, id) bare=true/></td> });
    let gear = move |d: &Design| d.gearbox.as_ref().and_then(|g| g.gears.get(at)).copied();
    let free_on = move || state.with(gear).map(|g| g.free_on).unwrap_or_default();
    let in_box = Memo::new(move |_| state.with(|d| d.around.is_some()));
    let key =
        move || SHAFTS.into_iter().find(|(shaft, ..)| *shaft == free_on()).map(|(_, key, _)| key);
    let choose = move |event| {
        let chosen: String = event_target_value(&event);
        let shaft = SHAFTS.into_iter().find(|(_, key, _)| *key == chosen).map(|(shaft, ..)| shaft);
        edit(state, |g| {
            if let Some((gear, shaft)) = g.gears.get_mut(at).zip(shaft) {
                gear.free_on = shaft;
            }
        });
    };
    let options = SHAFTS.map(|(_, key, word)| view! { <option value=key>{here(word)}</option> });
    view! {
        <tr>
            <th scope="row">{at + 1}</th>
            {cells.collect_view()}
            <td>
                <select aria-label=here(say::free_gear_of(at)) prop:value=key on:change=choose disabled=in_box>
                    {options.collect_view()}
                </select>
            </td>
            <td>
                <button aria-label=here(say::remove_gear(at)) class:hidden=in_box
                    on:click=move |_| state.change(|d| d.remove_gear(at))>
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
        let one = |way| state.unturned.with(|a| hardest_words(a, way));
        [one(Way::Up), one(Way::Down)]
            .into_iter()
            .filter(|told| !told.is_empty())
            .map(|told| view! { <p class="hardest">{told.words(state.reader())}</p> })
            .collect_view()
    };
    let rows = move || {
        let most = shifts.with(|all| all.iter().map(|s| s.step.slip_rpm.abs()).fold(0.0, f64::max));
        let gear = state.with(Design::gear);
        let (own, others): (Vec<_>, Vec<_>) =
            shifts.get().into_iter().partition(|shift| Some(shift.step.to) == gear);
        let head = (!own.is_empty() && !others.is_empty()).then(|| {
            view! { <tr class="if-other"><th scope="colgroup" colspan="9">{here(say::if_other_gears)}</th></tr> }
        });
        let of = |shifts: Vec<GearShift>, own: bool| {
            shifts.into_iter().map(|shift| view! { <ShiftRow shift most own/> }).collect_view()
        };
        view! { {of(own, true)}{head}{of(others, false)} }
    };
    let give = Callback::new(move |()| {
        state.change(Design::add_gearbox);
        reveal::show(state, Slot::Gear(0, FieldId::GearDriving));
        reveal::focus_field(Slot::Gear(0, FieldId::GearDriving));
    });
    // What is missing: the gearbox, or a number of it.
    let missing = Memo::new(move |_| {
        state.with(|d| d.gearbox.is_some().then(|| d.missing_of(&[Need::Speed])).flatten())
    });
    move || {
        if let Some(slot) = missing.get() {
            return view! { <Lacking at=slot/> }.into_any();
        }
        if state.with(|d| d.gearbox.is_none()) {
            return view! { <EmptyState words=here(say::gearbox_why) go=here(say::enter_gearbox) on_go=give/> }
                .into_any();
        }
        (!shifts.with(Vec::is_empty)).then(|| view! {
            <section class="gear-shifts" aria-label=here(say::every_shift)>
                <h2>{here(say::every_shift)}</h2>
                <div class="tables">
                    <div class="scroll" tabindex="0" role="region" aria-label=here(say::table_of_shifts)>
                        <table class="figures shift-table">
                            <thead><tr>
                                <th scope="col">{here(say::shift)}</th>
                                <th scope="col" colspan="2">{here(say::speed_difference)}</th>
                                <th scope="col">{here(say::straight_in_limit)}</th>
                                <th scope="col">{here(say::first_pass)}</th>
                                <th scope="col">{here(say::window_time)}</th>
                                <th scope="col">{here(say::contact)}</th>
                                <th scope="col">{here(say::shock)}</th>
                                <th><span class="sr">{here(say::show)}</span></th>
                            </tr></thead>
                            <tbody>{rows}</tbody>
                        </table>
                    </div>
                    <LashTable/>
                </div>
                {words}
            </section>
        }).into_any()
    }
}

/// Whether the drawings show a shift.
fn is_on_board(state: AppState, step: Step) -> bool {
    state.analysis.with(|a| {
        let shown = a.pair.as_ref().and_then(|m| m.shift_case.step);
        shown.is_some_and(|s| s.to == step.to && s.way == step.way)
    })
}

/// Shows a shift in the drawings.
fn put_on_board(state: AppState, step: Step) {
    let from = if step.way == Way::Up { ShiftFrom::Up } else { ShiftFrom::Down };
    if state.with(|d| d.around.is_some()) {
        return state.open_gear(step.to, from);
    }
    state.change(|d| {
        d.setting.from = from;
        d.set(Slot::Setting(FieldId::Gear), f64::from(u8::try_from(step.to + 1).unwrap_or(1)));
    });
}

/// The shifts into the gear that has these dogs, to choose which is filmed.
#[component]
pub(crate) fn ShiftPicks() -> impl IntoView {
    let state = use_app_state();
    let shifts = Memo::new(move |_| {
        let gear = state.with(Design::gear);
        let mut shifts = state.unturned.with(|a| gear_shifts(a));
        shifts.retain(|shift| Some(shift.step.to) == gear);
        shifts
    });
    let pick = move |shift: GearShift| {
        let step = shift.step;
        let words = move || {
            let slip = Value::Result(Quantity::Speed, step.slip_rpm.abs());
            let chance = shift.chance.map(|chance| Value::Result(Quantity::Share, chance));
            let told = match chance {
                Some(chance) => say::pick(step.from, step.to, slip, chance),
                None => say::pick_without_chance(step.from, step.to, slip),
            };
            told.show(state.reader())
        };
        view! {
            <button aria-pressed=move || is_on_board(state, step).to_string()
                on:click=move |_| put_on_board(state, step)>
                {shift.is_mostly_missed().then(|| view! { <span class="past">"▲ "</span> })}{words}
            </button>
        }
    };
    move || {
        let shifts = shifts.get();
        (shifts.len() > 1).then(|| {
            view! {
                <div class="shift-picks" role="group" aria-label=here(say::filmed_shift)>
                    {shifts.into_iter().map(pick).collect_view()}
                </div>
            }
        })
    }
}

fn shown(value: Option<f64>, quantity: Quantity, units: DisplayUnits) -> String {
    value.map_or_else(|| ABSENT.to_owned(), |value| quantity.show_result(value, units))
}

/// One shift. `most` is the largest speed difference of all shifts, for the length of its bar.
#[component]
fn ShiftRow(
    shift: GearShift,
    most: f64,
    /// Whether it goes into the gear that has these dogs.
    own: bool,
) -> impl IntoView {
    let state = use_app_state();
    let reader = untrack(|| state.reader());
    let units = reader.units;
    let step = shift.step;
    let gear = step.to + 1;
    let on_board = Memo::new(move |_| is_on_board(state, step));
    let missed = shift.is_mostly_missed();
    let over = shift.limit_rpm.is_some_and(|limit| step.slip_rpm.abs() > limit);
    let rpm = step.slip_rpm;
    let gauge = shift.limit_rpm.map(|limit| Gauge::at_most(limit, rpm.abs()));
    let limit = |limit: f64| {
        let past =
            over.then(|| say::limit_exceeded(Value::Result(Quantity::Speed, rpm.abs() - limit)));
        view! {
            {say::below(Value::Result(Quantity::Speed, limit)).show(reader)}
            {past.map(|past| view! { <span class="note">" · "{past.show(reader)}</span> })}
        }
    };
    let verb = move || here(if on_board.get() { say::shown } else { say::show });
    let label = move || {
        let say = if on_board.get() { say::shown_shift } else { say::show_shift };
        here(say(step.from, step.to))
    };
    view! {
        <tr class:other=!own aria-current=move || on_board.get().then_some("true")>
            <th scope="row">{format!("{}→{gear}", step.from + 1)}</th>
            <td class="faster">{faster(rpm).show(reader)}</td>
            <td><GaugeBar gauge=Memo::new(move |_| gauge) was=Memo::new(|_| None) end=most/></td>
            <td class="limit" data-head=here(say::limit_brief)>{shift.limit_rpm.map(limit)}</td>
            <td data-head=here(say::first_pass_brief)>
                {shown(shift.chance, Quantity::Share, units)}
                {missed.then(|| view! { <span class="past">"▲"</span> })}
            </td>
            <td data-head=here(say::window_brief)>{shown(shift.window_ms, Quantity::Time, units)}</td>
            <td class="contact">{here(say::contact_on(shift.flank))}</td>
            <td data-head=here(say::shock_brief)>{shown(shift.blow_nm, Quantity::Torque, units)}</td>
            <td class="show">
                <button disabled=on_board aria-label=label on:click=move |_| put_on_board(state, step)>{verb}</button>
            </td>
        </tr>
    }
}

/// A speed difference, and which side is the faster one.
fn faster(rpm: f64) -> Message {
    let say = if rpm < 0.0 { say::input_slower } else { say::input_faster };
    say(Value::Result(Quantity::Speed, rpm.abs()))
}

/// The lash at the wheel in every gear: one sentence where it is the same in all, otherwise a table.
#[component]
fn LashTable() -> impl IntoView {
    let state = use_app_state();
    let lashes = Memo::new(move |_| state.analysis.with(|a| gear_lashes(a)));
    let row = move |lash: GearLash| {
        let units = state.units.get();
        view! {
            <tr>
                <th scope="row">{lash.gear + 1}</th>
                <td>{Quantity::Ratio.show_working(lash.ratio, units)}</td>
                <td>{shown(lash.wheel_deg, Quantity::Angle, units)}</td>
                <td>{shown(lash.tyre_mm, Quantity::RoadLength, units)}</td>
            </tr>
        }
    };
    let same = move || {
        lashes.with(|all| {
            let shown = |lash: &GearLash| {
                let wheel = Value::Result(Quantity::Angle, lash.wheel_deg?);
                let tyre = Value::Result(Quantity::RoadLength, lash.tyre_mm?);
                Some(say::same_lash(wheel, tyre).show(state.reader()))
            };
            let first = shown(all.first()?)?;
            all.iter().all(|lash| shown(lash).as_ref() == Some(&first)).then_some(first)
        })
    };
    move || {
        match same() {
        Some(words) => view! { <p class="same-lash">{words}</p> }.into_any(),
        None => view! {
            <div class="scroll" tabindex="0" role="region" aria-label=here(say::lash_in_gears)>
                <table class="figures">
                    <thead>
                        <tr>
                            <th scope="col">{here(common::gear)}</th><th scope="col">{here(say::ratio)}</th>
                            <th scope="col">{here(say::lash_at_wheel)}</th><th scope="col">{here(say::lash_at_tyre)}</th>
                        </tr>
                    </thead>
                    <tbody>{lashes.get().into_iter().map(row).collect_view()}</tbody>
                </table>
            </div>
        }
        .into_any(),
    }
    }
}
