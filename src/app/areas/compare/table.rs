//! The results of all layouts in one table.

use std::sync::Arc;

use leptos::prelude::*;

use crenel::compare::{CompareRow, Comparison};
use crenel_words::page::{common, compare as say};
use crenel_words::{Message, Reader};

use super::page::{printing, shown_with_mark};
use crate::deferred::LazyDetails;
use crate::state::{here, use_app_state};
use crate::widgets::explained::explained;

/// How many results stand open in the table: those that differ most.
const OPEN_ROWS: usize = 8;

/// The results in three lots: those that differ most, the others that differ, and those that are the same.
#[component]
pub(super) fn Table(comparison: Memo<Arc<Comparison>>) -> impl IntoView {
    let state = use_app_state();
    let heads = move || {
        let reader = state.reader();
        comparison.with(|c| {
            c.columns.iter().map(|c| view! {
            <th scope="col">{c.number}" "<span class="quiet">{c.name().show(reader)}</span></th>
        }).collect_view()
        })
    };
    let opened = [RwSignal::new(false), RwSignal::new(false)];
    let printing = printing();
    let lot = move |at: usize| {
        comparison.with(|c| {
            let rows = c.by_difference(OPEN_ROWS);
            rows[at].iter().map(|row| line(row, state.reader())).collect_view()
        })
    };
    let folded = move |at: usize, words: fn(usize) -> Message| {
        let opened = opened[at - 1];
        let count = Memo::new(move |_| comparison.with(|c| c.by_difference(OPEN_ROWS)[at].len()));
        let across = move || comparison.with(|c| c.columns.len() + 1);
        let head = move || {
            view! {
                <tr class="fold"><td colspan=across>
                    <button aria-expanded=move || opened.get().to_string()
                        on:click=move |_| opened.update(|is| *is = !*is)>
                        {move || words(count.get()).show(state.reader())}
                    </button>
                </td></tr>
            }
        };
        view! {
            <tbody>
                {move || (count.get() > 0).then(head)}
                {move || (opened.get() || printing.get()).then(|| lot(at))}
            </tbody>
        }
    };
    view! {
        <div class="scroll" tabindex="0" role="region" aria-label=here(say::all_results)>
            <table class="figures results">
                <thead><tr><th scope="col">{here(common::result)}</th>{heads}</tr></thead>
                <tbody>{move || lot(0)}</tbody>
                {folded(1, say::more_that_differ)}
                {folded(2, say::same_in_all)}
            </table>
        </div>
    }
}

/// One result for every layout. Its name opens to the formula and workings.
fn line(row: &CompareRow, reader: Reader) -> impl IntoView + use<> {
    let cells = row
        .cells
        .iter()
        .map(|cell| view! { <td class:best=cell.is_best>{shown_with_mark(cell, reader)}</td> });
    let cells = cells.collect_view();
    let lazy = LazyDetails::new();
    let (figure, formula) = (row.figure, row.formula);
    let workings: Vec<_> = row.cells.iter().map(|cell| cell.working.clone()).collect();
    let details = move || {
        let each = workings.iter().zip(1..).filter_map(|(working, number)| {
            let working = working.as_ref()?.show(reader);
            Some(view! { <dt>{number}</dt><dd>{working}</dd> })
        });
        view! {
            <dl>
                <dt>{here(common::what_it_is)}</dt><dd>{explained(&here(figure.what_it_is()))}</dd>
                <dt>{here(common::formula)}</dt><dd class="formula">{here(formula)}</dd>
                {each.collect_view()}
            </dl>
        }
    };
    view! {
        <tr data-row=figure.key>
            <th scope="row">
                <details on:toggle=move |_| lazy.open()>
                    <summary on:click=move |_| lazy.open()>{here(figure.name())}</summary>
                    {move || lazy.is_opened().then(&details)}
                </details>
            </th>
            {cells}
        </tr>
    }
}
