//! The columns of the table: adding a gauge, and the head of each column.

use leptos::prelude::*;

use crenel::design::{GAUGES, GaugeKind};
use crenel_words::Phrase;
use crenel_words::page::measured as say;

use super::cells::{At, Entry, go_to, unit_of};
use super::sheet::{Sheet, Spot};
use crate::state::here;
use crate::widgets::choose::Picked;

/// Sets of gauges to begin with.
const BEGIN: [(Phrase, &[&str]); 2] = [
    (say::begin_with_pins, &["chord", "over_pins", "height"]),
    (say::begin_on_table, &["drive_table", "coast_table", "height"]),
];

/// A choice of gauges, and a button for the column of one.
#[component]
pub(super) fn AddColumn(sheet: Sheet) -> impl IntoView {
    let chosen = RwSignal::new(0_usize);
    let options = GAUGES.iter().enumerate().map(|(at, kind)| {
        view! { <option value=at.to_string()>{here((kind.name)())}</option> }
    });
    let text = Signal::derive(move || here((GAUGES[chosen.get()].name)()));
    let value = Signal::derive(move || chosen.get().to_string());
    let choose = Callback::new(move |at: String| {
        let at = at.parse().ok().filter(|at| *at < GAUGES.len());
        at.into_iter().for_each(|at| chosen.set(at));
    });
    let is_new = Memo::new(move |_| sheet.with(|read| read.readings.columns.is_empty()));
    view! {
        {move || is_new.get().then(|| view! { <Begin sheet/> })}
        <div class="row adding-gauge">
            <Picked label=here(say::add_gauge()) text value on_choose=choose>{options.collect_view()}</Picked>
            <button on:click=move |_| add(sheet, &[GAUGES[chosen.get_untracked()]])>{here(say::add())}</button>
        </div>
    }
}

#[component]
fn Begin(sheet: Sheet) -> impl IntoView {
    let sets = BEGIN.map(|(name, keys)| {
        let kinds: Vec<_> =
            GAUGES.iter().copied().filter(|kind| keys.contains(&kind.key)).collect();
        view! { <button on:click=move |_| add(sheet, &kinds)>{here(name)}</button> }
    });
    view! {
        <p>{here(say::begin_with())}</p>
        <div class="row">{sets.into_iter().collect_view()}</div>
    }
}

/// Adds columns and goes to the first cell of the first one.
fn add(sheet: Sheet, kinds: &[&'static GaugeKind]) {
    let at = untrack(|| sheet.with(|read| read.readings.columns.len()));
    if !sheet.has_room(kinds.len()) {
        return;
    }
    sheet.add_columns(kinds.iter().copied());
    if let [kind] = kinds {
        sheet.state.say(here(say::added((kind.name)())));
    }
    // The column is on the page by then.
    request_animation_frame(move || go_to(sheet, at, 0));
}

/// The head of a column: its gauge with the unit, what it is set by, its uncertainty, and the way to remove it.
#[component]
pub(super) fn ColumnHead(sheet: Sheet, column: At) -> impl IntoView {
    let (at, kind) = column;
    let unit = move || unit_of(sheet, kind.quantity);
    let set_by = kind.set_by.map(|by| {
        view! { <Entry sheet at=Spot::SetAt(at) label=here((by.name)())/> }
    });
    view! {
        <th scope="col">
            <span class="gauge-name">
                <span>{here((kind.name)())}", "<span class="quiet">{unit}</span></span>
                <button class="icon" aria-label=here(say::remove_column((kind.name)()))
                    on:click=move |_| sheet.remove_column(at)>
                    "×"
                </button>
            </span>
            {set_by}
            <Entry sheet at=Spot::Sigma(at) label=here(say::uncertainty())/>
        </th>
    }
}
