//! Entries for readings, and how the keys go from one to the next.

use leptos::prelude::*;
use wasm_bindgen::JsCast as _;
use web_sys::{HtmlInputElement, KeyboardEvent};

use crenel::design::{GaugeKind, Readings};
use crenel::units::Quantity;
use crenel_words::page::measured as say;

use super::sheet::{Sheet, Spot};
use crate::dom::html_element;
use crate::state::here;

/// The unit at the head of what is measured.
pub(super) fn unit_of(sheet: Sheet, quantity: Quantity) -> String {
    match quantity {
        Quantity::Ratio => here(say::turns()).into_owned(),
        _ => quantity.suffix(sheet.state.units.get()).to_owned(),
    }
}

fn id_of(sheet: Sheet, at: Spot) -> String {
    format!("r-{}-{}", sheet.side.letter(), at.key())
}

/// The id of what is said about a place.
pub(super) fn why_id(sheet: Sheet, at: Spot) -> String {
    format!("{}-why", id_of(sheet, at))
}

/// A number of the readings with its label, unit, and what is wrong with it.
#[component]
pub(super) fn Entry(
    sheet: Sheet,
    at: Spot,
    /// A short label in place of its name.
    #[prop(optional, into)]
    label: Option<String>,
) -> impl IntoView {
    let quantity = sheet.quantity(at);
    let unit = move || match at {
        Spot::Cell(..) | Spot::Sigma(_) => unit_of(sheet, quantity),
        _ => quantity.suffix(sheet.state.units.get()).to_owned(),
    };
    let name = here(sheet.name(at));
    view! {
        <div class="field">
            <label for=id_of(sheet, at)>{label.map_or(name.clone(), Into::into)}</label>
            <span class="entry">
                <Input sheet at name/>
                <span class="unit">{unit}</span>
            </span>
            <span class="wrong" id=why_id(sheet, at) aria-live="polite">{move || sheet.why(at)}</span>
        </div>
    }
}

/// The text of one place.
#[component]
pub(super) fn Input(sheet: Sheet, at: Spot, #[prop(into)] name: String) -> impl IntoView {
    let is_text = sheet.quantity(at) == Quantity::Ratio;
    let text = Memo::new(move |_| sheet.text(at));
    let is_wrong = move || sheet.why(at).is_some().to_string();
    let focused = move |_| {
        if let Spot::Cell(column, dog) = at {
            sheet.last.set((column, dog));
        }
    };
    view! {
        <input id=id_of(sheet, at) type="text" inputmode=if is_text { "text" } else { "decimal" } autocomplete="off"
            enterkeyhint="next" data-reading=at.key() aria-label=name aria-describedby=why_id(sheet, at)
            aria-invalid=is_wrong prop:value=move || text.get()
            on:focus=focused
            on:keydown=move |event| key_down(sheet, at, &event)
            on:change=move |event| take(sheet, at, &event_target(&event))/>
    }
}

/// Takes what stands in an entry, which then shows the number as it is kept.
fn take(sheet: Sheet, at: Spot, input: &HtmlInputElement) {
    sheet.typed(at, &input.value());
    // The number may be the one from before: then nothing else writes it again.
    input.set_value(&untrack(|| sheet.text(at)));
}

// ---- keys ----

fn key_down(sheet: Sheet, at: Spot, event: &KeyboardEvent) {
    let input: HtmlInputElement = event_target(event);
    let key = event.key();
    if key == "Escape" {
        sheet.forget(at);
        return input.set_value(&untrack(|| sheet.text(at)));
    }
    let Spot::Cell(column, dog) = at else {
        if key == "Enter" {
            take(sheet, at, &input);
        }
        return;
    };
    if (event.ctrl_key() || event.meta_key()) && key.eq_ignore_ascii_case("d") {
        event.prevent_default();
        take(sheet, at, &input);
        return sheet.fill_down(column, dog);
    }
    let has_modifier = event.ctrl_key() || event.meta_key() || event.alt_key();
    let steps = if has_modifier { None } else { Step::of(&key, event.shift_key(), &input) };
    let to = steps.and_then(|step| untrack(|| sheet.with(|r| step.from(column, dog, &r.readings))));
    if let Some((column, dog)) = to {
        event.prevent_default();
        go_to(sheet, column, dog);
    }
}

/// A step from cell to cell.
#[derive(Clone, Copy)]
enum Step {
    /// Down or up a column, and on in the next one.
    Along(bool),
    /// Down or up.
    Rows(isize),
    /// To the right or the left.
    Columns(isize),
}

impl Step {
    /// Arrows to the side go from cell to cell only where the cursor can go no further.
    fn of(key: &str, shift: bool, input: &HtmlInputElement) -> Option<Self> {
        let end = u32::try_from(input.value().encode_utf16().count()).unwrap_or(u32::MAX);
        let from = input.selection_start().ok().flatten().unwrap_or_default();
        let to = input.selection_end().ok().flatten().unwrap_or(end);
        let is_whole = from == 0 && to == end;
        match key {
            "Enter" => Some(Self::Along(!shift)),
            "ArrowDown" => Some(Self::Rows(1)),
            "ArrowUp" => Some(Self::Rows(-1)),
            "ArrowLeft" if is_whole || to == 0 => Some(Self::Columns(-1)),
            "ArrowRight" if is_whole || from == end => Some(Self::Columns(1)),
            _ => None,
        }
    }

    fn from(self, column: usize, dog: usize, readings: &Readings) -> Option<(usize, usize)> {
        let (dogs, columns) = (readings.dogs, readings.columns.len());
        let cells = dogs * columns;
        let (to, within) = match self {
            Self::Along(on) => {
                let at = column * dogs + dog;
                let next = if on { at + 1 } else { at + cells - 1 } % cells;
                ((next / dogs, next % dogs), true)
            }
            Self::Rows(by) => {
                let to = dog.checked_add_signed(by).filter(|to| *to < dogs);
                ((column, to.unwrap_or_default()), to.is_some())
            }
            Self::Columns(by) => {
                let to = column.checked_add_signed(by).filter(|to| *to < columns);
                ((to.unwrap_or_default(), dog), to.is_some())
            }
        };
        within.then_some(to)
    }
}

/// Goes to a cell. The first key replaces its text.
pub(super) fn go_to(sheet: Sheet, column: usize, dog: usize) {
    let element = html_element(&id_of(sheet, Spot::Cell(column, dog)));
    if let Some(input) = element.and_then(|e| e.dyn_into::<HtmlInputElement>().ok()) {
        // Focusing fails only if the page is gone.
        let _ = input.focus();
        input.select();
    }
}

/// A column of the table: its place and its gauge.
pub(super) type At = (usize, &'static GaugeKind);
