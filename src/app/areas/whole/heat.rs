//! The figures of all gears beside each other, the worst of each the darkest.

use std::sync::Arc;

use leptos::prelude::*;

use crenel::gearset::{HeatCell, HeatRow, heat};
use crenel::units::{ABSENT, Quantity};
use crenel_words::page::whole as say;

use super::open_dogs;
use crate::state::{Boxed, here, use_app_state};

#[component]
pub(super) fn HeatMap(boxed: Signal<Arc<Boxed>>) -> impl IntoView {
    let state = use_app_state();
    let gears = Memo::new(move |_| boxed.with(|boxed| boxed.analysis.gearset.gears.len()));
    let rows = Memo::new(move |_| boxed.with(|boxed| heat(&boxed.shifts, gears.get())));
    let none = Memo::new(move |_| boxed.with(|boxed| boxed.shifts.is_empty()));
    let heads = move || {
        let head = |gear: usize| {
            view! {
                <th scope="col">
                    <button class="small" aria-label=here(say::show_gear(gear)) on:click=move |_| open_dogs(state, gear)>
                        {gear + 1}
                    </button>
                </th>
            }
        };
        (0..gears.get()).map(head).collect_view()
    };
    let cell = move |quantity: Quantity, cell: Option<HeatCell>| {
        let shown = cell.map_or_else(
            || ABSENT.to_owned(),
            |cell| quantity.format_result(cell.value, state.units.get()),
        );
        let past = cell.is_some_and(|cell| cell.is_past);
        view! {
            <td data-step=cell.map(|cell| cell.step.to_string())>
                {past.then(|| view! {
                    <span class="mark"><span aria-hidden="true">"▲"</span><span class="sr">{here(say::past_limit)}" "</span></span>
                })}
                {shown}
            </td>
        }
    };
    let line = move |row: HeatRow| {
        let unit = row.quantity.suffix(state.units.get());
        let cells = row.cells.into_iter().map(|one| cell(row.quantity, one)).collect_view();
        view! { <tr><th scope="row">{here(row.name)}" "<span class="quiet">{unit}</span></th>{cells}</tr> }
    };
    move || {
        (!none.get()).then(|| {
            view! {
                <section class="heat-map" aria-label=here(say::heat)>
                    <h2>{here(say::heat)}</h2>
                    <p class="quiet">{here(say::heat_caption)}</p>
                    <table class="heat">
                        <thead><tr><th scope="col">{here(say::heat_gear)}</th>{heads}</tr></thead>
                        <tbody>{move || rows.get().into_iter().map(line).collect_view()}</tbody>
                    </table>
                </section>
            }
        })
    }
}
