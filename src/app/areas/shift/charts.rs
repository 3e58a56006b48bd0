//! The outcome map and the chances: drawn, in words, and as a table.

use crenel_words::Value;
use crenel_words::page::shift as say;
use leptos::prelude::*;

use crenel::design::Need;
use crenel::draw::views;
use crenel::model::chance_table;

use crate::state::{here, use_app_state};
use crate::widgets::drawing::Drawing;
use crate::widgets::optional_parts::Lacking;

/// Rows of the table of chances.
const TABLE_ROWS: usize = 16;

#[component]
pub(crate) fn Charts() -> impl IntoView {
    let state = use_app_state();
    let missing =
        Memo::new(move |_| state.with(|d| d.missing_of(&[Need::TipFriction, Need::Inertia])));
    move || match missing.get() {
        Some(slot) => view! { <Lacking at=slot/> }.into_any(),
        None => view! {
            <section class="charts" aria-label=here(say::chances)>
                <Drawing view=&views::OUTCOME/>
                <Drawing view=&views::CHANCE/>
                <ChanceTable/>
            </section>
        }
        .into_any(),
    }
}

/// The same numbers as a table.
#[component]
fn ChanceTable() -> impl IntoView {
    let state = use_app_state();
    let table = Memo::new(move |_| {
        state.outcomes.with(|map| map.as_ref().map(|map| chance_table(map, TABLE_ROWS)))
    });
    let heads = move || {
        table.get().map(|t| {
            t.heads
                .into_iter()
                .map(|head| view! { <th scope="col">{here(head)}</th> })
                .collect_view()
        })
    };
    let rows = move || {
        let reader = state.reader();
        let row = |cells: Vec<Value>| {
            let mut cells = cells.into_iter().map(|cell| cell.show(reader));
            let first = cells.next();
            view! { <tr><th scope="row">{first}</th>{cells.map(|cell| view! { <td>{cell}</td> }).collect_view()}</tr> }
        };
        table.get().map(|t| t.rows.into_iter().map(row).collect_view())
    };
    let counted = move || {
        let phases = state.outcomes.with(|map| map.as_ref().map(|map| map.phases))?;
        Some(here(say::counted_over(phases)))
    };
    view! {
        <details class="table">
            <summary>{here(say::chances_as_table)}</summary>
            <div class="scroll" tabindex="0" role="region" aria-label=here(say::table_of_chances)>
                <table class="figures"><thead><tr>{heads}</tr></thead><tbody>{rows}</tbody></table>
            </div>
            <p class="quiet">{counted}</p>
        </details>
    }
}
