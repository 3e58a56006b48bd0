//! Each gear selected at rest: what goes straight in, what rolling does, and what a dragging clutch does.

use std::borrow::Cow;

use leptos::prelude::*;

use crenel::design::SettingField;
use crenel::fields::{FieldId, Slot};
use crenel::model::{Idling, Standing, standing};
use crenel::units::{ABSENT, Quantity};
use crenel_words::page::{cut, rest as say};
use crenel_words::{Message, Phrase, Value};

use crate::state::{AppState, here, use_app_state};
use crate::widgets::number_field::NumberField;

/// The inputs that only a gear selected at rest has.
pub(super) const FIELDS: [FieldId; 2] = [FieldId::RollTravel, FieldId::IdleSpeed];

#[component]
pub(super) fn RestForm() -> impl IntoView {
    view! {
        <fieldset class="panel">
            <legend>{here(say::title)}</legend>
            {FIELDS.map(|id| view! { <NumberField at=Slot::Setting(id)/> }).into_iter().collect_view()}
        </fieldset>
    }
}

/// Every gear: with its own dogs in a whole gearbox, from first on; otherwise with those of the pair, its own gear
/// first.
fn rows(state: AppState) -> Vec<Standing> {
    if let Some(boxed) = state.boxed.get() {
        let gears = boxed.analysis.gears.iter();
        return gears.filter_map(|gear| standing(&gear.worked, gear.gear)).collect();
    }
    let own = state.with(|d| d.gear());
    let gears = state.with(|d| d.gearbox.as_ref().map_or(0, |gearbox| gearbox.gears.len()));
    let mut rows: Vec<_> =
        state.unturned.with(|a| (0..gears).filter_map(|gear| standing(a, gear)).collect());
    rows.sort_by_key(|row| Some(row.gear) != own);
    rows
}

#[component]
pub(super) fn Rest() -> impl IntoView {
    let state = use_app_state();
    let rows = Memo::new(move |_| rows(state));
    let told = move || {
        let says = rows.with(|rows| rows.first().map(|first| first_told(first, state)));
        let reader = state.reader();
        let line = |(at, says): (usize, Message)| {
            let class = if at == 0 { "told" } else { "" };
            view! { <p class=class>{says.show(reader)}</p> }
        };
        says.into_iter().flatten().enumerate().map(line).collect_view()
    };
    let heads: [Phrase; 8] = [
        say::gear,
        say::once,
        say::rolled,
        say::from_tips,
        say::always,
        say::slip,
        say::first,
        say::locked,
    ];
    let table = move || {
        view! {
            {told}
            <p>{here(say::ease)}</p>
            <div class="scroll" tabindex="0" role="region" aria-label=here(say::title)>
                <table class="figures wear-table">
                    <thead><tr>
                        {heads.map(|head| view! { <th scope="col">{here(head)}</th> }).into_iter().collect_view()}
                    </tr></thead>
                    <tbody>{move || rows.get().iter().map(|row| line_of(row, &heads, state)).collect_view()}</tbody>
                </table>
            </div>
            <p class="quiet">{here(say::meaning)}" "{move || same_dogs(state)}</p>
        }
    };
    view! {
        <section class="cuts" aria-label=here(say::title)>
            <h2>{here(say::title)}</h2>
            {move || if rows.with(Vec::is_empty) {
                view! { <p class="quiet">{here(say::lacks)}</p> }.into_any()
            } else {
                table().into_any()
            }}
        </section>
    }
}

/// That each gear has the dogs of the pair, where nobody gave it its own.
fn same_dogs(state: AppState) -> Option<Cow<'static, str>> {
    state.boxed.with(Option::is_none).then(|| here(cut::same_dogs))
}

fn length(mm: f64) -> Value {
    Value::Number(Quantity::Length, mm)
}

/// One row of the table.
fn line_of(row: &Standing, heads: &[Phrase; 8], state: AppState) -> impl IntoView + use<> {
    let reader = state.reader();
    let share = |share: Option<f64>| {
        share.map_or(ABSENT.to_owned(), |share| Value::Number(Quantity::Share, share).show(reader))
    };
    let shown = |value: Option<Value>| value.map_or(ABSENT.to_owned(), |value| value.show(reader));
    let idling = row.idling;
    let slip = idling.map(|idling| Value::Number(Quantity::Speed, idling.slip_rpm.round()));
    let cells = [
        share(Some(row.at_once)),
        share(Some(row.rolled)),
        share(Some(row.rolled_from_tips)),
        shown(row.sure_mm.map(|mm| length(mm.ceil()))),
        shown(slip),
        share(idling.map(|idling| idling.first.is_in())),
        share(idling.map(|idling| idling.first.locked)),
    ];
    let cells = heads[1..].iter().zip(cells);
    let cells = cells.map(|(head, text)| view! { <td data-head=here(*head)>{text}</td> });
    view! { <tr><th scope="row">{row.gear + 1}</th>{cells.collect_view()}</tr> }
}

/// What is told of the gear that is selected at rest: the first.
fn first_told(row: &Standing, state: AppState) -> Vec<Message> {
    let roll = || length(state.with(|d| d.setting.get(SettingField::RollTravel)));
    let mut says = vec![say::nothing_turns(row.gear, row.at_once, roll(), row.rolled)];
    says.push(row.sure_mm.map_or_else(say::never, |mm| say::sure(length(mm.ceil()))));
    says.push(say::after_rubbing(roll(), row.rolled_from_tips));
    says.extend(row.idling.iter().flat_map(idling_told));
    says
}

fn idling_told(told: &Idling) -> [Message; 2] {
    let torque = |nm: f64| Value::Number(Quantity::Torque, nm);
    let slip = Value::Number(Quantity::Speed, told.slip_rpm.round());
    let (clutch, tips) = (torque(told.clutch_nm), torque(told.tips_nm));
    let then = if told.turns_on() {
        say::turns_on(clutch, tips)
    } else {
        say::stops(clutch, tips, told.first.locked)
    };
    [say::idling(slip, told.first.is_in()), then]
}
