//! The numbers beside the drawing, each opening to its formula, working and source.

use std::borrow::Cow;
use std::sync::Arc;

use leptos::prelude::*;

use crenel::analysis::Analysis;
use crenel::compare::Verdict;
use crenel::export::{Export, Place, results_tsv};
use crenel::figures::{Figure, FigureValue, Group, figures};
use crenel::units::DisplayUnits;

use crenel_words::page::{common, files, results as say};

use crate::deferred::{Deferred, LazyDetails, schedule};
use crate::state::{here, use_app_state};
use crate::widgets::clipboard::copy_text;
use crate::widgets::files::{files_at, take_file};

#[component]
pub(crate) fn Results() -> impl IntoView {
    let state = use_app_state();
    let of = |analysis: Memo<Arc<Analysis>>| Memo::new(move |_| analysis.with(|a| figures(a)));
    let (now, before) = (of(state.analysis), of(state.before));
    let rows = move |group: Group| {
        now.with(|values| {
            values.iter().map(|v| v.figure).filter(|f| f.group == group).collect::<Vec<_>>()
        })
    };
    let first = Memo::new(move |_| state.current_area().first_results);
    let changed = move || state.is_changed();
    let table = move || {
        now.with_untracked(|now| {
            before.with_untracked(|before| results_tsv(now, before, untrack(|| state.reader())))
        })
    };
    let file = move |export: Export| {
        let take = move |_| take_file(state, &state.analysis.get_untracked(), export);
        view! { <button class="small" on:click=take>{here(export.label())}</button> }
    };
    let group = move |group: Group| {
        view! {
            <section class="group" class:hidden=move || rows(group).is_empty()>
                <h3>{here(group.title())}</h3>
                <For each=move || rows(group) key=|figure| figure.key
                    children=move |figure| view! { <Row figure now before/> }/>
            </section>
        }
    };
    schedule(move || {
        // By then it may have left the page.
        let _ = now.try_with_untracked(|_| ());
    });
    view! {
        <h2>{here(say::title)}</h2>
        <p class="against">
            <Show when=changed fallback=|| here(say::change_anything)>
                {here(say::compared_with_opened)}" "
                <button on:click=move |_| state.compare_from_here()>{here(say::set_as_baseline)}</button>
            </Show>
        </p>
        <div class="row beside">
            <button class="small"
                on:click=move |_| copy_text(state, &table(), [files::results_copied, files::results_not_copied])>
                {here(say::copy_table)}
            </button>
            {files_at(Place::Results).map(file).collect_view()}
        </div>
        {move || ordered(first.get()).map(|one| view! { <Deferred>{group(one)}</Deferred> }).collect_view()}
    }
}

/// The groups in their order, except that some come first.
fn ordered(first: &'static [Group]) -> impl Iterator<Item = Group> {
    let rest = Group::ALL.into_iter().filter(|group| !first.contains(group));
    first.iter().copied().chain(rest)
}

#[component]
fn Row(
    figure: &'static Figure,
    now: Memo<Vec<FigureValue>>,
    before: Memo<Vec<FigureValue>>,
) -> impl IntoView {
    let state = use_app_state();
    let find = move |list: Memo<Vec<FigureValue>>| {
        list.with(|l| l.iter().find(|v| v.figure == figure).cloned())
    };
    let value = Memo::new(move |_| find(now));
    let earlier = Memo::new(move |_| find(before).and_then(|f| f.value));
    let change = move || {
        value.with(|f| f.as_ref().and_then(|f| change(f, earlier.get(), state.units.get())))
    };
    let lazy = LazyDetails::new();
    let details = move || {
        view! {
            <dl>
                <dt>{here(common::what_it_is)}</dt><dd>{here(figure.what_it_is())}</dd>
                <dt>{here(common::formula)}</dt><dd class="formula">{move || value.with(|f| f.as_ref().map(|f| here(f.formula)))}</dd>
                <dt>{here(say::working)}</dt><dd>{move || value.with(|f| f.as_ref().map(|f| f.working.show(state.reader())))}</dd>
                <dt>{here(common::result)}</dt>
                <dd>{move || value.with(|f| f.as_ref().map(|f| f.shown_fully(state.reader())))}</dd>
                <dt>{here(common::source)}</dt><dd>{here(figure.from_where())}</dd>
            </dl>
        }
    };
    view! {
        <details class="figure" data-key=figure.key on:toggle=move |_| lazy.open()>
            <summary on:click=move |_| lazy.open()>
                <span class="name">{here(figure.name())}</span>
                <span class="was">{move || change().map(|c| c.was)}</span>
                <output class="now">{move || value.with(|f| f.as_ref().map(|f| f.shown(state.reader())))}</output>
                <span class="verdict" data-way=move || change().map(|c| c.way)>
                    {move || change().map(|c| c.words)}
                </span>
            </summary>
            {move || lazy.is_opened().then(details)}
        </details>
    }
}

/// A change against the design as opened, in words and not by colour alone.
struct Change {
    was: String,
    words: Cow<'static, str>,
    way: &'static str,
}

fn change(now: &FigureValue, before: Option<f64>, units: DisplayUnits) -> Option<Change> {
    let before = before?;
    let verdict = Verdict::between(now, before)?;
    let was = format!("{} →", now.figure.quantity.show_result(before, units));
    Some(Change { was, words: here(verdict.word()), way: verdict.way() })
}
