//! What the pieces of the page share.

use crenel::compare::Cell;
use crenel::units::ABSENT;
use crenel_words::Reader;
use crenel_words::page::compare as say;
use gloo_events::EventListener;
use leptos::prelude::*;

use crate::state::here;

/// Letters on the small drawings and the curves, CSS pixels.
pub(super) const LETTER_PX: f64 = 12.0;

/// Whether the page is being laid out for paper.
pub(super) fn printing() -> RwSignal<bool> {
    let printing = RwSignal::new(false);
    let listen = |event: &'static str, to: bool| {
        EventListener::new(&window(), event, move |_| printing.set(to))
    };
    let listeners =
        StoredValue::new_local([listen("beforeprint", true), listen("afterprint", false)]);
    // Dropping the listeners removes them.
    on_cleanup(move || listeners.dispose());
    printing
}

/// A cell or a figure of a card, with its mark.
pub(super) fn shown_with_mark(cell: &Cell, reader: Reader) -> impl IntoView + use<> {
    let mark = cell.is_best.then(|| view! { <span class="mark">" "{here(say::best)}</span> });
    let shown = cell.shown.as_ref().map_or_else(|| ABSENT.to_owned(), |value| value.show(reader));
    view! { {shown}{mark} }
}
