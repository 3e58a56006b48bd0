//! The layouts, each on a card with its drawing and its figures.

use std::sync::Arc;

use leptos::prelude::*;

use crenel::compare::{Column, Comparison, Shown, shown};
use crenel::draw::views::FACE;
use crenel::draw::{Frame, ViewOptions};
use crenel::figures::moment_words;
use crenel_words::Reader;
use crenel_words::page::{common, compare as say, variants};

use super::adding::{add, offered, swap};
use super::page::{LETTER_PX, shown_with_mark};
use crate::dom::text_scale;
use crate::state::{AppState, Player, here};
use crate::widgets::lecture::LECTURE;
use crate::widgets::pointer::watch_width;
use crate::widgets::scene_marks::SceneMarks;
use crate::widgets::variants::switch_variant;

const FACE_PX: f64 = 300.0;

/// A drawing narrower than this has no words: the figures below it tell the numbers.
const WORDLESS_PX: f64 = 220.0;

const WORDLESS_LETTER_PX: f64 = 5.0;

/// The layouts with their drawings at one scale, laid out for the width that the first has on the screen.
pub(super) fn columns(
    comparison: &Comparison,
    state: AppState,
    width: RwSignal<Option<f64>>,
    player: Player,
    (guessing, lecture): (RwSignal<bool>, RwSignal<bool>),
) -> impl IntoView + use<> {
    let across = width.get().unwrap_or(FACE_PX);
    let paper = NodeRef::new();
    watch_width(paper, width);
    let larger = if lecture.get() { LECTURE } else { 1.0 };
    let wordless = across < WORDLESS_PX * larger;
    let letter = if wordless { WORDLESS_LETTER_PX } else { LETTER_PX * text_scale() * larger };
    let frame = |c: &Column| FACE.frame(&c.analysis, across, 1.0, letter);
    let frame = Frame::common(comparison.columns.iter().map(frame));
    let reader = state.reader();
    let one = |column: &Column| {
        let what = column.what;
        let is_first = column.number == 1;
        let title = column.name().show(reader);
        let drawing = frame.map(|frame| {
            let analysis = Arc::clone(&column.analysis);
            // A memo, so that it is made once for each change: see `AppState::alter`.
            let scene = Memo::new(move |_| {
                let pose = player.pose(&analysis);
                FACE.draw(
                    &analysis,
                    &frame,
                    &ViewOptions { reader, pose, ..ViewOptions::default() },
                )
            });
            let size = frame.bounds.width();
            view! {
                <svg viewBox=format!("0 0 {size:.4} {size:.4}") role="img"
                    aria-label=here(say::face_view_of(title.clone()))>
                    <SceneMarks scene/>
                </svg>
            }
        });
        let wrong =
            column.analysis.pair.is_none().then(|| {
                column.analysis.findings.first().map(|f| f.text(reader)).unwrap_or_default()
            });
        let only_offered = state.with(|d| shown(d).len() < 2);
        let keep = move |_| add(state, state.with(offered));
        let offer = (!is_first && only_offered).then(|| {
            view! {
                <p class="quiet">{here(say::only_offered)}</p>
                <div class="row"><button on:click=keep>{here(say::keep_layout)}</button></div>
            }
        });
        let is_current = state.with(|d| what.is_current(d));
        let buttons = match what {
            Shown::Variant(at) if !is_current => Some(view! {
                <div class="row">
                    <button on:click=move |_| switch_variant(state, at)>{here(variants::switch)}</button>
                </div>
            }
            .into_any()),
            Shown::Layout(at) if !only_offered => Some(view! {
                <div class="row">
                    <button on:click=move |_| state.change(|d| swap(d, at))>{here(say::make_current)}</button>
                    <button on:click=move |_| state.change(|d| { d.alternatives.remove(at); })>
                        {here(common::remove)}
                    </button>
                </div>
            }
            .into_any()),
            _ => None,
        };
        let is_current_words = match what {
            Shown::Variant(_) => say::is_current_variant,
            _ => say::is_current,
        };
        let figures = card_figures(comparison, column.number - 1, reader);
        let outcome = Arc::clone(&column.analysis);
        let outcome = move || {
            let (time, guessing) = (player.time.get(), guessing.get());
            if guessing && time.is_none() {
                return Some(here(say::play_to_see).into_owned());
            }
            // Once it is played, what happens is told as it happens, and the ending when it is reached.
            let attempt = outcome.shift().map(|shifting| &shifting.attempt);
            attempt.map(|attempt| moment_words(attempt, time).show(reader))
        };
        view! {
            <figure class="view side" class:wordless=wordless>
                <figcaption>
                    <b class="number">{column.number}</b>" "{title}
                    {is_current.then(|| view! { " – "{here(is_current_words)} })}
                </figcaption>
                {match is_first {
                    true => view! { <div node_ref=paper>{drawing}</div> }.into_any(),
                    false => drawing.into_any(),
                }}
                {figures}
                <p class="outcome">{outcome}</p>
                {column.note.as_ref().map(|note| view! { <p class="quiet">{note.show(reader)}</p> })}
                {wrong.map(|why| view! { <p class="wrong">{why}</p> })}
                {offer}
                {buttons}
            </figure>
        }
    };
    comparison.columns.iter().map(one).collect_view()
}

/// The figures under the drawing of a layout.
const ON_CARDS: [&str; 4] = ["window_time_ms", "straight_in_limit_rpm", "lash_deg", "clunk_nm"];

fn card_figures(comparison: &Comparison, at: usize, reader: Reader) -> impl IntoView + use<> {
    let row = |key: &str| comparison.rows.iter().find(|row| row.figure.key == key);
    let figure = |key: &&str| {
        let row = row(key)?;
        let cell = row.cells.get(at)?;
        Some(
            view! { <div><dt>{here(row.figure.name())}</dt><dd class:best=cell.is_best>{shown_with_mark(cell, reader)}</dd></div> },
        )
    };
    let figures = ON_CARDS.iter().filter_map(figure).collect_view();
    view! { <dl class="on-card">{figures}</dl> }
}
