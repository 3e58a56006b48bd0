//! The question of a story: a guess first, then the model's answer with its working.

use std::sync::Arc;

use leptos::html::Div;
use leptos::prelude::*;

use crenel::design::Design;
use crenel::figures::FigureValue;
use crenel::story::{Answer, Story};
use crenel_words::Reader;
use crenel_words::page::{common, learn as say, results};

use super::range::{Range, guessed};
use crate::state::{here, use_app_state};

#[component]
pub(super) fn Question(story: &'static Story, base: Arc<Design>) -> impl IntoView {
    let state = use_app_state();
    let span = story.guess.span(&base);
    let guess = RwSignal::new(span.start);
    let answer = RwSignal::new(None::<Answer>);
    let asked = story.asked(&base);
    let place = NodeRef::<Div>::new();
    let show = {
        let base = Arc::clone(&base);
        move |_| {
            answer.set(Some(story.answer(&base)));
            if let Some(place) = place.get_untracked() {
                // Focusing fails only if the page is gone.
                let _ = place.focus();
            }
        }
    };
    let shown = Signal::derive(move || guessed(story.guess.quantity, guess.get(), state));
    let known = Memo::new(move |_| answer.with(Option::is_some));
    let told = move || {
        answer.with(|answer| {
            let answer = answer.as_ref()?;
            let verdict = story.verdict(&base, guess.get_untracked(), answer);
            Some(answered(verdict.map(|said| said.show(state.reader())), answer, state.reader()))
        })
    };
    view! {
        <section class="question" aria-label=here(say::question)>
            <h4>{here(say::question)}</h4>
            <p class="asked">{move || asked.show(state.reader())}</p>
            <div class="guess" class:hidden=known>
                <Range name=here(story.guess.name).into_owned() span now=guess.into() shown
                    put=Callback::new(move |value| guess.set(value))/>
                <button class="main" on:click=show>{here(say::show_answer)}</button>
            </div>
            <div class="answer" role="status" aria-label=here(say::answer) tabindex="-1" node_ref=place>{told}</div>
            {move || known.get().then(|| view! {
                <button on:click=move |_| answer.set(None)>{here(say::guess_again)}</button>
            })}
        </section>
    }
}

/// The answer in sentences, what was tried, and the figures that decide.
fn answered(verdict: Option<String>, answer: &Answer, reader: Reader) -> impl IntoView + use<> {
    let says: Vec<_> = answer.says.iter().map(|said| said.show(reader)).collect();
    let heads: Vec<_> = answer.heads.iter().map(|head| here(*head)).collect();
    let row = |cells: &Vec<crenel_words::Value>| {
        let mut cells = cells.iter().map(|cell| cell.show(reader));
        let first = cells.next();
        view! { <tr><th scope="row">{first}</th>{cells.map(|cell| view! { <td>{cell}</td> }).collect_view()}</tr> }
    };
    let rows = answer.rows.iter().map(row).collect_view();
    let table = (!heads.is_empty()).then(|| {
        let heads = heads.into_iter().map(|head| view! { <th scope="col">{head}</th> });
        view! {
            <div class="scroll" tabindex="0" role="region" aria-label=here(say::tried)>
                <table class="figures"><thead><tr>{heads.collect_view()}</tr></thead><tbody>{rows}</tbody></table>
            </div>
        }
    });
    let figures: Vec<_> = answer.figures.iter().map(|figure| working(figure, reader)).collect();
    let worked = (!figures.is_empty()).then(|| {
        view! { <details class="table"><summary>{here(say::worked_out)}</summary>{figures}</details> }
    });
    view! {
        {verdict.map(|said| view! { <p class="verdict-of-guess">{said}</p> })}
        {says.into_iter().map(|said| view! { <p>{said}</p> }).collect_view()}
        {table}
        {worked}
    }
}

/// A figure that decides: formula, numbers, result and source.
fn working(figure: &FigureValue, reader: Reader) -> impl IntoView + use<> {
    view! {
        <h5>{here(figure.figure.name())}</h5>
        <dl>
            <dt>{here(common::what_it_is)}</dt><dd>{here(figure.figure.what_it_is())}</dd>
            <dt>{here(common::formula)}</dt><dd class="formula">{here(figure.formula)}</dd>
            <dt>{here(results::working)}</dt><dd>{figure.working.show(reader)}</dd>
            <dt>{here(common::result)}</dt><dd>{figure.shown_fully(reader)}</dd>
            <dt>{here(common::source)}</dt><dd>{here(figure.figure.from_where())}</dd>
        </dl>
    }
}
