//! A text whose words of the trade open to what they mean, where they stand.

use leptos::prelude::*;

use crenel::glossary::{Piece, Term, marked};

use crate::state::here;

/// More marked words would only make a text hard to read.
const MOST: usize = 3;

/// The text in pieces, for a paragraph or a cell.
pub(crate) fn explained(text: &str) -> impl IntoView + use<> {
    let piece = |piece: &Piece| match *piece {
        Piece::Plain(words) => words.to_owned().into_any(),
        Piece::Term(term, words) => view! { <Defined term words=words.to_owned()/> }.into_any(),
    };
    let word_of = |term: &Term| here(term.word()).into_owned();
    marked(text, MOST, word_of).iter().map(piece).collect_view()
}

#[component]
fn Defined(term: &'static Term, words: String) -> impl IntoView {
    let open = RwSignal::new(false);
    view! {
        <button class="term" aria-expanded=move || open.get().to_string() on:click=move |_| open.update(|is| *is = !*is)>
            {words}
        </button>
        {move || open.get().then(|| view! { <span class="definition" role="note">{here(term.explanation())}</span> })}
    }
}
