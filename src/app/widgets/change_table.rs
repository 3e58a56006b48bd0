//! Every number of the pair in two states side by side.

use std::sync::Arc;

use leptos::prelude::*;

use crenel::analysis::Analysis;
use crenel::compare::{Change, Verdict, changes, verdict_words};
use crenel::figures::{Figure, Group};
use crenel::units::{ABSENT, Quantity};

use crenel_words::page::{common, results as say};
use crenel_words::{Message, Phrase, Value};

use crate::state::{here, use_app_state};

/// Every number of the pair in two states side by side, with what became better and what became worse.
#[component]
pub(crate) fn ChangeTable(
    found: Memo<Arc<Analysis>>,
    cut: Memo<Arc<Analysis>>,
    heads: [Phrase; 2],
) -> impl IntoView {
    let state = use_app_state();
    let list = Memo::new(move |_| found.with(|found| cut.with(|cut| changes(found, cut))));
    let told = move || {
        let reader = state.reader();
        let shown = |told: Option<Message>| told.map(|message| message.show(reader));
        let [better, worse] = list.with(|list| verdict_words(list)).map(shown);
        view! { <p class="told better">{better}</p><p class="told worse">{worse}</p> }
    };
    let only_changed = RwSignal::new(true);
    // During a drag only the texts of the rows change.
    let rows = Memo::new(move |_| {
        let all = !only_changed.get();
        let told = |change: &&Change| all || change.is_one();
        list.with(|list| list.iter().filter(told).map(|c| c.figure).collect::<Vec<_>>())
    });
    let group = move |group: Group| {
        let of_group = move || {
            rows.with(|rows| rows.iter().filter(|f| f.group == group).copied().collect::<Vec<_>>())
        };
        let any = Memo::new(move |_| rows.with(|rows| rows.iter().any(|f| f.group == group)));
        view! {
            <tbody>
                {move || any.get().then(|| view! {
                    <tr class="group-head"><th scope="rowgroup" colspan="4">{here(group.title())}</th></tr>
                })}
                <For each=of_group key=|figure| figure.key children=move |figure| view! { <ChangeRow figure list/> }/>
            </tbody>
        }
    };
    let groups = Group::ALL.map(group).collect_view();
    let nothing = move || list.with(|list| !list.iter().any(Change::is_one));
    let label = here(common::table_of_changes(heads[0](), heads[1]()));
    let [one, other] = heads.map(here);
    view! {
        {told}
        {move || nothing().then(|| view! { <p class="quiet">{here(say::nothing_changes)}</p> })}
        <label class="tick" class:hidden=move || only_changed.get() && nothing()>
            <input type="checkbox" prop:checked=move || only_changed.get()
                on:change=move |event| only_changed.set(event_target_checked(&event))/>
            {here(say::only_changes)}
        </label>
        // Heads of columns over nothing would look like a fault.
        <div class="scroll" tabindex="0" role="region" aria-label=label hidden=move || rows.with(Vec::is_empty)>
            <table class="figures">
                <thead>
                    <tr>
                        <th scope="col">{here(say::number)}</th><th scope="col">{one}</th><th scope="col">{other}</th>
                        <th scope="col">{here(say::change)}</th>
                    </tr>
                </thead>
                {groups}
            </table>
        </div>
    }
}

/// One number as found and as cut.
#[component]
fn ChangeRow(figure: &'static Figure, list: Memo<Vec<Change>>) -> impl IntoView {
    let change = Memo::new(move |_| list.with(|l| l.iter().find(|c| c.figure == figure).cloned()));
    let with = move |read: fn(&Change) -> String| {
        change.with(|c| c.as_ref().map(read).unwrap_or_default())
    };
    let state = use_app_state();
    let shown = move |read: fn(&Change) -> Option<Value>| {
        let value = change.with(|c| c.as_ref().and_then(read));
        value.map_or_else(|| ABSENT.to_owned(), |value| value.show(state.reader()))
    };
    let way =
        move || change.with(|c| c.as_ref().and_then(|c| c.verdict).map_or("same", Verdict::way));
    let by = |change: &Change| {
        change.by.filter(|_| change.verdict.is_some()).map_or(String::new(), |share| {
            " ".to_owned() + &Quantity::Share.show_change(share, Default::default())
        })
    };
    view! {
        <tr>
            <th scope="row">{here(figure.name())}</th>
            <td>{move || shown(|c| c.before.clone())}</td>
            <td>{move || shown(|c| c.after.clone())}</td>
            <td class="verdict" data-way=way>
                {move || with(|c| c.verdict.map(|v| here(v.word()).into_owned()).unwrap_or_default())}
                <span class="quiet">{move || with(by)}</span>
            </td>
        </tr>
    }
}
