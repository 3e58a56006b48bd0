//! The outcome map and the chances: drawn, in words, and as a table.

use leptos::prelude::*;

use crenel::draw::views;
use crenel::model::chance_table;

use crate::state::use_app_state;
use crate::widgets::drawing::Drawing;

/// Rows of the table of chances.
const TABLE_ROWS: usize = 16;

#[component]
pub(crate) fn Charts() -> impl IntoView {
    view! {
        <section class="charts" aria-label="Chances">
            <Drawing view=&views::OUTCOME/>
            <Drawing view=&views::CHANCE/>
            <ChanceTable/>
        </section>
    }
}

fn counted_over(phases: usize) -> String {
    format!(
        "Shares of all phases at each speed difference. What the first pass comes to is exact; what becomes of \
        shifts that are thrown back is counted over {phases} phases where flanks lean or edges are broken. \
        All rows: Export, chances."
    )
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
            t.heads.into_iter().map(|head| view! { <th scope="col">{head}</th> }).collect_view()
        })
    };
    let rows = move || {
        let row = |cells: Vec<String>| {
            let mut cells = cells.into_iter();
            let first = cells.next();
            view! { <tr><th scope="row">{first}</th>{cells.map(|cell| view! { <td>{cell}</td> }).collect_view()}</tr> }
        };
        table.get().map(|t| t.rows.into_iter().map(row).collect_view())
    };
    view! {
        <details class="table">
            <summary>"The chances as a table"</summary>
            <div class="scroll" tabindex="0" role="region" aria-label="Table of chances">
                <table class="figures"><thead><tr>{heads}</tr></thead><tbody>{rows}</tbody></table>
            </div>
            <p class="quiet">{move || state.outcomes.with(|map| map.as_ref().map(|map| counted_over(map.phases)))}</p>
        </details>
    }
}
