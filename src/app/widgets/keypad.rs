//! The frame of the page while a size is typed on the keypad of a phone: three figures, the drawing, the field, and
//! keys that such a keypad lacks. An iPhone's pad for numbers has no minus.

use std::cell::Cell;
use std::rc::Rc;

use gloo_events::EventListener;
use leptos::prelude::*;
use wasm_bindgen::JsCast as _;
use web_sys::{
    Event, EventInit, HtmlElement, HtmlInputElement, KeyboardEvent, KeyboardEventInit,
    SelectionMode, VisualViewport,
};

use crenel::verdict::{Headline, Mark, headline};
use crenel_words::Phrase;
use crenel_words::page::frame as say;

use crate::dom::{COARSE, applies};
use crate::state::{AboveKeypad, AppState, here, use_app_state};

/// What a keypad takes of the height at least, CSS pixels. The bars of a browser take less.
const LEAST_PX: f64 = 120.0;

/// The fields that have the frame.
const SIZES: &str = "input[data-slot], input[data-reading]";

/// The attributes of the page with the whole frame, and with its keys alone.
const FRAME: &str = "data-keypad";
const KEYS_ONLY: &str = "data-keys";

/// What the frame goes through with Previous and Next.
const FORM: &str = ".inspector, .drawer, .whole-page";

#[component]
pub(crate) fn Keypad() -> impl IntoView {
    let state = use_app_state();
    if let Some(viewport) = window().visual_viewport() {
        watch(state, &viewport);
    }
    let above = state.layout.above_keypad;
    Effect::new(move |_| {
        let has_drawing = !state.current_area().pictures().is_empty();
        lay_out(above.get(), has_drawing);
    });
    let is_up = Memo::new(move |_| above.with(Option::is_some));
    move || is_up.get().then(|| view! { <Frame/> })
}

// ---- when it is up ----

/// Follows the part of the page that is seen, and the focus.
fn watch(state: AppState, viewport: &VisualViewport) {
    let look = {
        let viewport = viewport.clone();
        // The width of the page, and the tallest that it was seen: without a keypad.
        let tallest = Cell::new((0.0, 0.0));
        Rc::new(move || {
            let above = seen(&viewport, &tallest);
            if state.layout.above_keypad.get_untracked() != above {
                state.layout.above_keypad.set(above);
            }
        })
    };
    look();
    for event in ["resize", "scroll"] {
        let look = Rc::clone(&look);
        // The page lives as long as its window.
        EventListener::new(viewport, event, move |_| look()).forget();
    }
    for event in ["focusin", "focusout"] {
        let look = Rc::clone(&look);
        // Between two fields, nothing has the focus.
        let later = move |_: &Event| {
            let look = Rc::clone(&look);
            request_animation_frame(move || look());
        };
        EventListener::new(&document(), event, later).forget();
    }
}

/// What is seen above the keypad, if it is up for a size. Two fingers that zoom the page make less of it seen, too,
/// so the height counts as if they did not.
fn seen(viewport: &VisualViewport, tallest: &Cell<(f64, f64)>) -> Option<AboveKeypad> {
    let zoom = viewport.scale();
    let (width, height) = (viewport.width() * zoom, viewport.height() * zoom);
    let (before, most) = tallest.get();
    let most = if (before - width).abs() < 1.0 { most.max(height) } else { height };
    tallest.set((width, most));
    let is_up = most - height > LEAST_PX && applies(COARSE) && focused_size().is_some();
    is_up.then(|| AboveKeypad {
        top: viewport.offset_top(),
        width: viewport.width(),
        height: viewport.height(),
    })
}

/// The entry of a size that has the focus.
fn focused_size() -> Option<HtmlInputElement> {
    let active = document().active_element()?;
    active.matches(SIZES).ok()?.then_some(active)?.dyn_into().ok()
}

/// Tells the style sheet how much is seen, and which frame fits into it. An area without a drawing goes on above the
/// keys.
fn lay_out(above: Option<AboveKeypad>, has_drawing: bool) {
    let Some(body) = document().body() else { return };
    // Nothing of this fails on a page that is there.
    for frame in [FRAME, KEYS_ONLY] {
        let _ = body.remove_attribute(frame);
    }
    let Some(above) = above else { return };
    let _ = body.set_attribute(if has_drawing { FRAME } else { KEYS_ONLY }, above.frame());
    for (name, px) in [("--seen-top", above.top), ("--seen", above.height)] {
        let _ = body.style().set_property(name, &format!("{px}px"));
    }
}

// ---- what it shows ----

#[component]
fn Frame() -> impl IntoView {
    let state = use_app_state();
    let now = Memo::new(move |_| {
        let stage = state.stage.get();
        state.analysis.with(|a| headline(stage, a))
    });
    let before = now.get_untracked();
    let stage = state.stage;
    let size = move || state.explained.get().map(|slot| here(slot.words()));
    // The focus stays in the field, and with it the keypad.
    view! {
        <section class="keypad" aria-label=here(say::typing)
            on:pointerdown=|event| event.prevent_default() on:mousedown=|event| event.prevent_default()>
            <div class="keypad-figures" role="group" aria-label=move || here(stage.get().title())>
                {before.into_iter().enumerate().map(|(at, was)| {
                    view! { <Moved was now=Signal::derive(move || now.with(|now| now[at].clone()))/> }
                }).collect_view()}
            </div>
            <p class="keypad-size" aria-hidden="true">{size}</p>
            <div class="keypad-steps">{STEPS.map(|key| view! { <KeyButton key/> }).collect_view()}</div>
            <div class="keypad-keys">{KEYS.map(|key| view! { <KeyButton key/> }).collect_view()}</div>
        </section>
    }
}

/// A figure before and now.
#[component]
fn Moved(was: Headline, now: Signal<Headline>) -> impl IntoView {
    let state = use_app_state();
    let name = move || now.with(|now| now.name.show(state.reader()));
    let value = move || {
        let reader = state.reader();
        let now = now.with(|now| now.value.show(reader));
        let was = was.value.show(reader);
        if was == now { now } else { format!("{}→{now}", without_unit(&was, &now)) }
    };
    let is_past = move || now.with(|now| now.mark == Mark::Past);
    view! {
        <p class="keypad-figure" class:past=is_past>
            <span>{name}</span>
            <output>{move || is_past().then_some("▲")}{value}</output>
        </p>
    }
}

/// A value before another without its unit, if both have the same.
fn without_unit<'a>(was: &'a str, now: &str) -> &'a str {
    let unit = |value: &str| value.find(char::is_whitespace).map(|at| value[at..].to_owned());
    match (unit(was), unit(now)) {
        (Some(one), Some(other)) if one == other => &was[..was.len() - one.len()],
        _ => was,
    }
}

/// Gives up what is typed, as Escape does, and puts the keypad away.
fn give_up(field: HtmlInputElement) {
    let asked = KeyboardEventInit::new();
    asked.set_key("Escape");
    asked.set_bubbles(true);
    if let Ok(escape) = KeyboardEvent::new_with_keyboard_event_init_dict("keydown", &asked) {
        // Fails only for an event that is on its way already.
        let _ = field.dispatch_event(&escape);
    }
    // The field has its number back by then.
    request_animation_frame(move || leave(field));
}

/// Puts the keypad away; the field takes what is typed.
#[expect(clippy::needless_pass_by_value, reason = "what a key does")]
fn leave(field: HtmlInputElement) {
    // Fails only if the page is gone, as all that touches the focus.
    let _ = field.blur();
}

/// Goes to the size before or after the one that is typed, in the same form.
fn step_size(field: &HtmlInputElement, by: isize) {
    let Some(form) = field.closest(FORM).ok().flatten() else { return };
    let Ok(all) = form.query_selector_all(SIZES) else { return };
    let all = (0..all.length()).filter_map(|at| all.item(at)?.dyn_into::<HtmlElement>().ok());
    let shown: Vec<_> = all.filter(|one| one.get_client_rects().length() > 0).collect();
    let here = shown.iter().position(|one| one.is_same_node(Some(field)));
    let next = here.and_then(|here| shown.get(here.checked_add_signed(by)?));
    if let Some(next) = next.and_then(|next| next.dyn_ref::<HtmlInputElement>()) {
        let _ = next.focus();
        // The first key replaces the number.
        next.select();
    }
}

// ---- the keys ----

/// A button of the frame, and what it does with the field.
#[derive(Clone, Copy)]
struct Key {
    sign: &'static str,
    name: Phrase,
    press: fn(HtmlInputElement),
}

/// What is done with the field as a whole.
const STEPS: [Key; 4] = [
    Key { sign: "Esc ✕", name: say::give_up_typing, press: give_up },
    Key { sign: "◀", name: say::previous_size, press: |field| step_size(&field, -1) },
    Key { sign: "▶", name: say::next_size, press: |field| step_size(&field, 1) },
    Key { sign: "✓", name: say::done_typing, press: leave },
];

/// What the keypad of a phone may lack.
const KEYS: [Key; 7] = [
    Key { sign: "−", name: say::key_minus, press: |field| Typed::of(field).turn_sign() },
    Key { sign: "°", name: say::key_degrees, press: |field| Typed::of(field).insert("°") },
    Key { sign: "′", name: say::key_minutes, press: |field| Typed::of(field).insert("′") },
    Key { sign: "″", name: say::key_seconds, press: |field| Typed::of(field).insert("″") },
    Key { sign: ".", name: say::key_point, press: |field| Typed::of(field).insert(".") },
    Key { sign: "½", name: say::key_half, press: |field| Typed::of(field).add_half() },
    Key { sign: "⌫", name: say::key_delete, press: |field| Typed::of(field).delete() },
];

#[component]
fn KeyButton(key: Key) -> impl IntoView {
    let press = move |_| focused_size().into_iter().for_each(key.press);
    view! { <button tabindex="-1" aria-label=here(key.name) on:click=press>{key.sign}</button> }
}

/// The text of a field and what of it is selected, in characters. All that is typed into a size is one unit of
/// UTF-16 each.
struct Typed {
    field: HtmlInputElement,
    text: Vec<char>,
    from: usize,
    to: usize,
}

impl Typed {
    fn of(field: HtmlInputElement) -> Self {
        let text: Vec<char> = field.value().chars().collect();
        let place = |at: Option<u32>| at.map_or(text.len(), |at| at as usize).min(text.len());
        let from = place(field.selection_start().ok().flatten());
        let to = place(field.selection_end().ok().flatten()).max(from);
        Self { field, text, from, to }
    }

    /// Replaces some characters; `mode` says where the cursor goes.
    fn replace(&self, with: &str, from: usize, to: usize, mode: SelectionMode) {
        let [from, to] = [from, to].map(|at| u32::try_from(at).unwrap_or(u32::MAX));
        // Fails only in a field that holds no text.
        let _ =
            self.field.set_range_text_with_start_and_end_and_selection_mode(with, from, to, mode);
        self.tell();
    }

    /// Types a text in place of what is selected.
    fn insert(&self, text: &str) {
        self.replace(text, self.from, self.to, SelectionMode::End);
    }

    /// Puts a minus before the number, wherever the cursor is, or takes it away. Where the whole number is selected,
    /// another one begins.
    fn turn_sign(&self) {
        let is_whole = self.from == 0 && self.to == self.text.len();
        match self.text.first() {
            _ if is_whole => self.insert("−"),
            Some('-' | '−') => self.replace("", 0, 1, SelectionMode::Preserve),
            _ => self.replace("−", 0, 0, SelectionMode::Preserve),
        }
    }

    /// Types one half, after a whole number with a space. Pressed again, it leaves the bar of a fraction: 3, ½, ½ and
    /// 8 are 3/8.
    fn add_half(&self) {
        const AFTER_WHOLE: [char; 4] = [' ', '1', '/', '2'];
        let before = &self.text[..self.from];
        if before.ends_with(&AFTER_WHOLE) {
            return self.replace("/", self.from - AFTER_WHOLE.len(), self.to, SelectionMode::End);
        }
        let after_digit = before.last().is_some_and(char::is_ascii_digit);
        self.insert(if after_digit { " 1/2" } else { "1/2" });
    }

    /// Deletes what is selected, or the character before the cursor.
    fn delete(&self) {
        let from = if self.from == self.to { self.from.saturating_sub(1) } else { self.from };
        self.replace("", from, self.to, SelectionMode::End);
    }

    /// Tells the field that it was typed into.
    fn tell(&self) {
        let asked = EventInit::new();
        asked.set_bubbles(true);
        if let Ok(input) = Event::new_with_event_init_dict("input", &asked) {
            // Fails only for an event that is on its way already.
            let _ = self.field.dispatch_event(&input);
        }
    }
}
