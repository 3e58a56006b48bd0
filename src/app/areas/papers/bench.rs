//! The bench check sheet: what is measured with the case open.

use crenel_words::Message;
use crenel_words::page::{common, papers as say};
use leptos::prelude::*;

use crenel::fields::FieldId;
use crenel::report::{BENCH, BenchCheck, CAUTIONS, parts_in_order};
use crenel::stack::Facing;

use super::col;
use crate::state::{here, use_app_state};
use crate::widgets::number_field::NumberField;

/// The sheet of what is measured in each position of the drum.
#[component]
pub(super) fn BenchSheet() -> impl IntoView {
    let state = use_app_state();
    let title = move || here(say::bench_head(state.with(|d| d.name().to_owned())));
    let heads = [say::detent, say::measure, say::gauge, say::expected, say::limits, say::judgement];
    view! {
        <article class="set-up bench" aria-label=here(say::bench)>
            <header class="block">
                <h3>{title}</h3>
                <p>
                    <span class="whole">{here(say::measured_by)}</span>" "
                    <span class="whole">{here(say::checked_by)}</span>
                </p>
            </header>
            <section>
                <h4>{here(say::bench_measures)}</h4>
                <p>{here(say::how_to_bench)}</p>
                <div class="scroll" tabindex="0" role="region" aria-label=here(say::bench_measures)>
                    <table class="figures">
                        <thead><tr>{heads.map(col).into_iter().collect_view()}</tr></thead>
                        <tbody>{BENCH.iter().map(|check| view! { <BenchRow check/> }).collect_view()}</tbody>
                    </table>
                </div>
            </section>
            {Facing::BOTH.map(|facing| view! { <Parts facing/> }).into_iter().collect_view()}
            <section class="cautions">
                <h4>{here(common::cautions)}</h4>
                <ul>{CAUTIONS.map(|text| view! { <li>{here(text)}</li> }).into_iter().collect_view()}</ul>
            </section>
        </article>
    }
}

#[component]
fn BenchRow(check: &'static BenchCheck) -> impl IntoView {
    let state = use_app_state();
    let expected = Memo::new(move |_| state.analysis.with(|a| check.expected(a)));
    let shown = move |message: Option<Message>| {
        message.map_or_else(String::new, |message| message.show(state.reader()))
    };
    let seen = move || state.with(|d| d.trace.seen(check.field));
    let judged = move || seen().and_then(|got| expected.get().judge(got));
    let class = move || match judged() {
        None => "judged",
        Some((true, _)) => "judged good",
        Some((false, _)) => "judged under",
    };
    let how = |id: FieldId| here(id.spec().explanation());
    view! {
        <tr>
            <th scope="row">{here(check.detent)}</th>
            <td class="words">
                {here(check.field.spec().name())}
                <span class="quiet how">{how(check.field)}</span>
                <NumberField at=check.slot() bare=true/>
            </td>
            <td class="words">{here(check.gauge)}</td>
            <td>{move || shown(expected.get().nominal_words())}</td>
            <td>{move || shown(expected.get().limit_words())}</td>
            <td class="words"><span class=class>{move || shown(judged().map(|(_, words)| words))}</span></td>
        </tr>
    }
}

/// The parts along the shaft on one side, in their order.
#[component]
fn Parts(facing: Facing) -> impl IntoView {
    let state = use_app_state();
    let parts = move || {
        let reader = state.reader();
        state.with(|d| {
            let parts = d.depth.as_ref().map(|depth| parts_in_order(depth, facing));
            let parts = parts.unwrap_or_default();
            parts.iter().map(|part| part.show(reader)).collect::<Vec<_>>()
        })
    };
    move || {
        let parts = parts();
        let items = parts.iter().map(|part| view! { <li>{part.clone()}</li> }).collect_view();
        (!parts.is_empty()).then(|| {
            view! { <section><h4>{here(say::parts_in_order(facing))}</h4><ol>{items}</ol></section> }
        })
    }
}
