//! What missed shifts spend on the edges of the dogs, and what rounded edges leave.

use leptos::prelude::*;

use crenel::design::SettingField;
use crenel::model::{EdgeWear, Worked, edge_wear, edges_give_way_mm, rounded_edges, step_wear};
use crenel::shift::Step;
use crenel::units::{ABSENT, Quantity, decimal, sort_by_number};
use crenel_words::page::cut as say;
use crenel_words::{Message, Value};

use crate::state::{AppState, here, use_app_state};

/// Every shift with the dogs of its own gear, that which spends most first.
fn wear(state: AppState) -> Vec<EdgeWear> {
    let Some(boxed) = state.boxed.get() else { return state.unturned.with(|a| edge_wear(a)) };
    let gears = boxed.analysis.gears.iter();
    let each = gears.flat_map(|gear| {
        gear.shifts.iter().filter_map(|(shift, _)| step_wear(&gear.worked, shift.step))
    });
    let mut rows: Vec<_> = each.collect();
    sort_by_number(&mut rows, |row| -row.hundred_j());
    rows
}

/// Every shift with the share that is in at the first pass, as the edges are and rounded, with the dogs of its own gear.
fn rounded_shares(state: AppState, rounding_mm: f64) -> Vec<(Step, [f64; 2])> {
    let of = |worked: &Worked| {
        rounded_edges(worked, rounding_mm).map_or_else(Vec::new, |rounded| rounded.first_pass)
    };
    let Some(boxed) = state.boxed.get() else { return state.unturned.with(|a| of(a)) };
    let gears = boxed.analysis.gears.iter();
    gears
        .flat_map(|gear| of(&gear.worked).into_iter().filter(|(step, _)| step.to == gear.gear))
        .collect()
}

/// The share of a shift that is in at the first pass: with the edges as they are, and rounded.
fn first_pass(of: &[(Step, [f64; 2])], step: Step) -> Option<[f64; 2]> {
    of.iter().find(|(own, _)| (own.from, own.to) == (step.from, step.to)).map(|(_, two)| *two)
}

#[component]
pub(super) fn Wear() -> impl IntoView {
    let state = use_app_state();
    let rows = Memo::new(move |_| wear(state));
    let rounding = move || state.with(|d| d.setting.get(SettingField::EdgeWear));
    let shares = Memo::new(move |_| rounded_shares(state, rounding()));
    let flank =
        Memo::new(move |_| state.unturned.with(|a| Some(rounded_edges(a, rounding())?.flank_mm)));
    let share = move |of: Option<f64>| {
        of.map_or(ABSENT.to_owned(), |of| format!("{} %", decimal(100.0 * of, 0)))
    };
    let row = move |row: EdgeWear| {
        let two = shares.with(|shares| first_pass(shares, row.step));
        let cells = [
            (say::thrown_back as crenel_words::Phrase, share(Some(row.struck))),
            (say::strike, decimal(row.strike_j, 1)),
            (say::hundred, decimal(row.hundred_j(), 0)),
            (say::in_now, share(two.map(|[now, _]| now))),
            (say::in_rounded, share(two.map(|[_, then]| then))),
        ];
        let cells = cells.map(|(head, text)| view! { <td data-head=here(head)>{text}</td> });
        view! { <tr><th scope="row">{format!("{}→{}", row.step.from + 1, row.step.to + 1)}</th>{cells.collect_view()}</tr> }
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
            <p>{move || left_told(state, rounding(), flank.get())}</p>
        })
    }
}

/// The shift that spends most.
fn first_told(rows: &[EdgeWear]) -> Message {
    let most = rows.first().filter(|row| row.hundred_j() > 0.0);
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
    let told = rounded.into_iter().chain(gives).map(|says| says.show(state.reader()));
    told.collect::<Vec<_>>().join(" ")
}
