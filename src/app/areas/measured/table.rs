//! The table: a row for each dog, a column for each gauge.

use leptos::prelude::*;
use wasm_bindgen::JsCast as _;
use web_sys::ClipboardEvent;

use crenel_words::page::{common, measured as say};

use super::cells::{At, Input, why_id};
use super::columns::ColumnHead;
use super::sheet::{Sheet, Spot};
use crate::deferred::Deferred;
use crate::state::here;
use crate::widgets::clipboard::copy_text;

#[component]
pub(super) fn Table(sheet: Sheet) -> impl IntoView {
    let columns = Memo::new(move |_| {
        let columns = |read: &super::sheet::Read| -> Vec<At> {
            read.readings.columns.iter().map(|column| column.kind).enumerate().collect()
        };
        sheet.with(columns)
    });
    let dogs = Memo::new(move |_| sheet.with(|read| read.readings.dogs));
    let key = |(at, kind): &At| (*at, kind.key);
    let has_columns = Memo::new(move |_| columns.with(|columns| !columns.is_empty()));
    view! {
        <div class="scroll" tabindex="0" role="region" aria-label=here(say::readings_of(sheet.side))>
            <table class="readings" on:paste=move |event| pasted(sheet, &event)>
                <thead>
                    <tr>
                        <th scope="col" class="dog-name">{here(common::dog_head)}</th>
                        <For each=move || columns.get() key=key
                            children=move |column| view! { <ColumnHead sheet column/> }/>
                        <th scope="col" title=here(say::contact_how())>{here(say::contact())}</th>
                    </tr>
                </thead>
                <tbody>
                    <For each=move || 0..dogs.get() key=|dog| *dog
                        children=move |dog| view! { <Deferred last=true><DogRow sheet dog columns/></Deferred> }/>
                </tbody>
            </table>
        </div>
        <p class="quiet">{here(say::contact_how())}</p>
        {move || has_columns.get().then(|| view! { <Tools sheet/> })}
    }
}

/// Filling down and copying, and what keys and uncertainties are.
#[component]
fn Tools(sheet: Sheet) -> impl IntoView {
    let fill = move |_| {
        let (column, dog) = sheet.last.get_untracked();
        sheet.fill_down(column, dog);
    };
    let copy = move |_| {
        let units = sheet.state.units.get_untracked();
        let text = untrack(|| sheet.with(|read| read.readings.to_sheet(units)));
        copy_text(sheet.state, &text, [say::copied, say::copy_refused]);
    };
    view! {
        <div class="row">
            <button on:click=fill>{here(say::fill_down())}</button>
            <button on:click=copy>{here(say::copy())}</button>
        </div>
        <p class="quiet">{here(say::keys())}</p>
        <p class="quiet">{here(say::usual())}</p>
    }
}

#[component]
fn DogRow(sheet: Sheet, dog: usize, columns: Memo<Vec<At>>) -> impl IntoView {
    let key = |(at, kind): &At| (*at, kind.key);
    let marked = move || sheet.with(|read| read.readings.contact.contains(&dog));
    let mark = move |event| {
        let is_marked = event_target_checked(&event);
        sheet.change(|readings| {
            if is_marked {
                readings.contact.insert(dog);
            } else {
                readings.contact.remove(&dog);
            }
        });
    };
    view! {
        <tr>
            <th scope="row" class="dog-name">{format!("{}{}", sheet.side.letter(), dog + 1)}</th>
            <For each=move || columns.get() key=key
                children=move |(column, _)| view! { <ReadingCell sheet at=Spot::Cell(column, dog)/> }/>
            <td class="contact">
                <label class="tick">
                    <input type="checkbox" aria-label=here(say::contact_of(dog)) prop:checked=marked on:change=mark/>
                </label>
            </td>
        </tr>
        <Told sheet dog columns/>
    }
}

/// One reading: its entry, and how far off it is.
#[component]
fn ReadingCell(sheet: Sheet, at: Spot) -> impl IntoView {
    let name = here(sheet.name(at));
    view! {
        <td>
            <Input sheet at name/>
            {move || {
                let (off, is_marked) = sheet.off(at)?;
                Some(view! {
                    <span class="off" class:marked=is_marked>
                        {off}
                        {is_marked.then(|| format!(" ▲ {}", here(say::beyond())))}
                    </span>
                })
            }}
        </td>
    }
}

/// What is wrong in the row of a dog, below it.
#[component]
fn Told(sheet: Sheet, dog: usize, columns: Memo<Vec<At>>) -> impl IntoView {
    let told = Memo::new(move |_| {
        let cells = columns.with(|columns| {
            columns.iter().map(|(column, _)| Spot::Cell(*column, dog)).collect::<Vec<_>>()
        });
        let told = cells.into_iter().filter_map(|at| Some((at, sheet.why(at)?)));
        told.collect::<Vec<_>>()
    });
    let wide = move || (columns.with(Vec::len) + 2).to_string();
    move || {
        let sentences = told.get().into_iter().map(|(at, why)| {
            let gauge = at_gauge(sheet, at);
            view! { <p id=why_id(sheet, at)>{gauge}{why}</p> }
        });
        let sentences = sentences.collect::<Vec<_>>();
        (!sentences.is_empty()).then(|| {
            view! {
                <tr class="told">
                    <td colspan=wide><div class="wrong" aria-live="polite">{sentences}</div></td>
                </tr>
            }
        })
    }
}

/// The gauge of a cell, before what is said about it.
fn at_gauge(sheet: Sheet, at: Spot) -> Option<String> {
    match at {
        Spot::Cell(column, _) => {
            sheet.kind(column).map(|kind| format!("{}: ", here((kind.name)())))
        }
        _ => None,
    }
}

/// Takes a block that is pasted into a cell. One number alone goes into the text of the cell.
fn pasted(sheet: Sheet, event: &ClipboardEvent) {
    let target = event.target().and_then(|t| t.dyn_into::<web_sys::Element>().ok());
    let at = target.and_then(|cell| cell.get_attribute("data-reading"));
    let Some(at) = at.and_then(|key| untrack(|| sheet.cell_of(&key))) else { return };
    let text = event.clipboard_data().and_then(|data| data.get_data("text/plain").ok());
    let Some(text) = text.filter(|text| is_block(text)) else { return };
    event.prevent_default();
    sheet.paste(at, &text);
}

/// Whether a text has more than one cell.
fn is_block(text: &str) -> bool {
    let lines = crenel::design::sheet_cells(text);
    lines.len() > 1 || lines.iter().any(|line| line.len() > 1)
}
