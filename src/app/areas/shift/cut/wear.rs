//! What missed shifts spend on the edges of the dogs, and what rounded edges leave.

use leptos::prelude::*;

use crenel::design::SettingField;
use crenel::model::{
    EdgeWear, RoundedEdges, Worked, edge_wear, edges_give_way_mm, rounded_edges, step_wear,
};
use crenel::units::{ABSENT, Quantity, decimal, sort_by_number};
use crenel_words::page::cut as say;
use crenel_words::{Message, Value};

use super::shown_all;
use crate::state::{AppState, here, use_app_state};

/// A shift with the share that is in at the first pass with rounded edges.
type Row = (EdgeWear, Option<f64>);

/// Every shift with the dogs of its own gear, that which spends most first. `rounded` are the edges of the pair.
fn rows(state: AppState, rounding_mm: f64, rounded: Option<&RoundedEdges>) -> Vec<Row> {
    let with = |worked: &Worked, wear: Vec<EdgeWear>, rounded: Option<&RoundedEdges>| -> Vec<Row> {
        let is_in = |row: &EdgeWear| rounded.and_then(|edges| edges.is_in(worked, row.step));
        wear.into_iter().map(|row| (row, is_in(&row))).collect()
    };
    let Some(boxed) = state.boxed.get() else {
        return state.unturned.with(|a| with(a, edge_wear(a), rounded));
    };
    let gears = boxed.analysis.gears.iter();
    let each = gears.flat_map(|gear| {
        let steps = gear.shifts.iter().map(|(shift, _)| shift.step);
        let wear = steps.filter_map(|step| step_wear(&gear.worked, step)).collect();
        with(&gear.worked, wear, rounded_edges(&gear.worked, rounding_mm).as_ref())
    });
    let mut rows: Vec<_> = each.collect();
    sort_by_number(&mut rows, |(row, _)| -row.hundred_j());
    rows
}

#[component]
pub(super) fn Wear() -> impl IntoView {
    let state = use_app_state();
    let rounding = move || state.with(|d| d.setting.get(SettingField::EdgeWear));
    let rounded = Memo::new(move |_| state.unturned.with(|a| rounded_edges(a, rounding())));
    let rows = Memo::new(move |_| rounded.with(|r| rows(state, rounding(), r.as_ref())));
    let share = move |of: Option<f64>| {
        of.map_or(ABSENT.to_owned(), |of| format!("{} %", decimal(100.0 * of, 0)))
    };
    let row = move |(row, rounded): Row| {
        let cells = [
            (say::thrown_back as crenel_words::Phrase, share(Some(row.struck))),
            (say::strike, decimal(row.strike_j, 1)),
            (say::hundred, decimal(row.hundred_j(), 0)),
            (say::in_now, share(Some(row.is_in))),
            (say::in_rounded, share(rounded)),
        ];
        let cells = cells.map(|(head, text)| view! { <td data-head=here(head)>{text}</td> });
        view! { <tr><th scope="row">{row.step.gears()}</th>{cells.collect_view()}</tr> }
    };
    let heads =
        [say::shift, say::thrown_back, say::strike, say::hundred, say::in_now, say::in_rounded];
    move || {
        (!rows.with(Vec::is_empty)).then(|| view! {
            <h3>{here(say::wear)}</h3>
            <p>{move || first_told(&rows.get()).show(state.reader())}</p>
            <div class="scroll" tabindex="0" role="region" aria-label=here(say::wear)>
                <table class="figures wear-table">
                    <thead><tr>
                        {heads.into_iter().map(|head| view! { <th scope="col">{here(head)}</th> }).collect_view()}
                    </tr></thead>
                    <tbody>{move || rows.get().into_iter().map(row).collect_view()}</tbody>
                </table>
            </div>
            <p class="quiet">{here(say::wear_meaning)}</p>
            <p>{move || left_told(state, rounding(), rounded.with(|r| r.as_ref().map(|r| r.flank_mm)))}</p>
        })
    }
}

/// The shift that spends most.
fn first_told(rows: &[Row]) -> Message {
    let most = rows.first().map(|(row, _)| row).filter(|row| row.hundred_j() > 0.0);
    most.map_or_else(say::no_wear, |row| {
        say::wear_first(row.step.from, row.step.to, decimal(row.hundred_j(), 0))
    })
}

/// What a rounding leaves of the flanks, and from which one on they give way.
fn left_told(state: AppState, rounding_mm: f64, flank_mm: Option<f64>) -> String {
    let length = |mm: f64| Value::Number(Quantity::Length, mm.max(0.0));
    let hold = state.with(|d| d.setting.get(SettingField::HoldDepth));
    let rounded =
        flank_mm.map(|left| say::rounded(length(rounding_mm), length(left), length(hold)));
    let gives = state.unturned.with(|a| edges_give_way_mm(a));
    let gives = gives.map(|[hold, none]| say::gives_way(length(hold), length(none)));
    shown_all(&rounded.into_iter().chain(gives).collect::<Vec<_>>(), state)
}
