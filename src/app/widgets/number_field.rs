//! An entry for one number, with what is wrong with the text in it.

use std::cell::Cell;

use leptos::prelude::*;

use crenel::design::{History, read_limits, show_limits, split_limits};
use crenel::fields::{FieldId, Slot};
use crenel::finding::Finding;
use crenel::shop::tolerance::Limits;
use crenel::units::DisplayUnits;
use crenel_words::page::common as say;
use crenel_words::{Label, Message};

use crate::dom::first_element;
use crate::state::{AppState, here, use_app_state};

/// One number: its label, entry and unit, and what is wrong with the text or the number.
#[component]
pub(crate) fn NumberField(
    at: Slot,
    /// Without a visible label and unit.
    #[prop(optional)]
    bare: bool,
    /// With buttons for one step less and more.
    #[prop(optional)]
    stepper: bool,
    /// Of both rings: what is typed for one is the other's too.
    #[prop(optional)]
    of_both: bool,
) -> impl IntoView {
    let slot = at;
    let state = use_app_state();
    let field = slot.field().spec();
    let value = Memo::new(move |_| state.with(|d| d.get(slot).filter(|_| !d.is_unknown(slot))));
    let assumed = Memo::new(move |_| state.with(|d| d.is_assumed(slot)));
    let (wrong, typing) = (RwSignal::new(None), RwSignal::new(None));
    let entry = Entry { state, slot, of_both, value, wrong, typing };
    let unknown = Memo::new(move |_| state.with(|d| d.is_unknown(slot)));
    let limits = Memo::new(move |_| entry.limits());
    entry.recall();
    // Escape, undo or another design ends what is being typed.
    Effect::new(move |_| {
        state.given_up.track();
        entry.typing.set(None);
    });
    let id = new_id(slot);
    let (why, wrong) = (format!("{id}-why"), format!("{id}-wrong"));
    let label = here(if bare { slot.words() } else { slot.label() });
    let step = move |steps: f64, sign: &'static str, words: fn(Label) -> Message| {
        stepper.then(|| {
            view! {
                <button class="step" tabindex="-1" aria-label=here(words(field.name()))
                    on:click=move |_| { entry.step(steps * field.fine); state.commit() }>
                    {sign}
                </button>
            }
        })
    };
    view! {
        <div class="field" class:bare=bare class:assumed=assumed>
            <label for=id.clone() class:sr=bare>{label}</label>
            <span class="entry" class:stepper=stepper>
                {step(-1.0, "−", say::less)}
                <input id=id type="text" inputmode="decimal" autocomplete="off"
                    placeholder=move || unknown.get().then(|| here(say::not_given)) data-slot=key_of(slot)
                    value=move || entry.text() prop:value=move || entry.text()
                    aria-describedby=format!("{why} {wrong}") aria-invalid=move || entry.why().is_some().to_string()
                    on:input=move |event| entry.preview(event_target_value(&event))
                    on:change=move |event| entry.typed(&event_target_value(&event))
                    on:keydown=move |event| entry.key_down(&event)
                    on:keyup=move |event| if is_step(&event.key()) { state.commit() }
                    on:blur=move |_| entry.leave()
                    on:focus=move |_| state.explain(slot)/>
                {step(1.0, "+", say::more_of)}
                <span class="unit">{move || field.quantity.suffix(state.units.get())}</span>
            </span>
            {move || limits.get().map(|limits| view! { <span class="limits">{limits}</span> })}
            <span class="sr" id=why>
                {here(field.explanation())}{move || assumed.get().then(|| format!(" {}", here(say::is_assumed)))}
            </span>
            <span class="wrong" id=wrong aria-live="polite">{move || entry.why()}</span>
        </div>
    }
}

thread_local! {
    static FIELDS: Cell<u32> = const { Cell::new(0) };
}

/// An id for one entry. The same number may be in the inspector and below the drawing.
fn new_id(slot: Slot) -> String {
    let nth = FIELDS.replace(FIELDS.get().wrapping_add(1));
    format!("f{nth}-{}", key_of(slot).replace(['.', '[', ']'], "-"))
}

/// The name of a slot.
fn key_of(slot: Slot) -> String {
    let key = slot.field().spec().key;
    match slot {
        Slot::Ring(side, _) => format!("{}.{key}", side.letter()),
        Slot::Dog(side, place, _) => format!("{}{}.{key}", side.letter(), place + 1),
        Slot::Setting(_) | Slot::Gearbox(_) | Slot::Part(_) | Slot::Seen(_) | Slot::Limit(_) => {
            key.to_owned()
        }
        Slot::TrackPoint(at, _) => format!("point{}.{key}", at + 1),
        Slot::Link(facing, at, _) => format!("{facing:?}{}.{key}", at + 1),
        Slot::Gear(at, _) => format!("gear{}.{key}", at + 1),
        Slot::Work(side, at, _) => format!("{}-op{}.{key}", side.letter(), at + 1),
        Slot::Box(..) => slot.path(),
    }
}

/// The selector of the entries of a slot.
pub(crate) fn selector_of(at: Slot) -> String {
    format!("input[data-slot='{}']", key_of(at))
}

/// The entry of a slot, if it shows a text that was not accepted.
pub(crate) fn refused(at: Slot) -> Option<web_sys::HtmlElement> {
    first_element(&format!("{}[aria-invalid='true']", selector_of(at)))
}

fn is_step(key: &str) -> bool {
    matches!(key, "ArrowUp" | "ArrowDown")
}

/// A text that was not accepted, with the reason and the number at that time. The entry shows it until the
/// reader corrects it, or until the number or the units change.
#[derive(Clone)]
struct Wrong {
    text: String,
    why: Finding,
    stood: Option<f64>,
    units: DisplayUnits,
}

/// A number as it is remembered with a text that was not accepted.
fn as_noted(number: Option<f64>) -> String {
    number.map(|number| number.to_string()).unwrap_or_default()
}

/// The text of one entry.
#[derive(Clone, Copy)]
struct Entry {
    state: AppState,
    slot: Slot,
    /// Whether the same slot of the other ring follows.
    of_both: bool,
    /// The number in the design.
    value: Memo<Option<f64>>,
    /// A text that was not accepted.
    wrong: RwSignal<Option<Wrong>>,
    /// A text that is previewed.
    typing: RwSignal<Option<String>>,
}

impl Entry {
    fn text(self) -> String {
        let value = self.value.get();
        let units = self.state.units.get();
        let quantity = self.slot.field().spec().quantity;
        let typed = self.typing.get().or_else(|| self.standing().map(|wrong| wrong.text));
        typed.unwrap_or_else(|| {
            // Sizes that a shop works to are shown with all digits that are kept.
            let work = matches!(self.slot, Slot::Work(..) | Slot::Dog(.., FieldId::ShortenTo));
            let shown =
                |v| if work { quantity.format_kept(v, units) } else { quantity.format(v, units) };
            value.map(shown).unwrap_or_default()
        })
    }

    /// The slots that it sets.
    fn slots(self) -> impl Iterator<Item = Slot> {
        let mate = match self.slot {
            Slot::Ring(side, id) if self.of_both => Some(Slot::Ring(side.other(), id)),
            _ => None,
        };
        [Some(self.slot), mate].into_iter().flatten()
    }

    /// The text that was not accepted, while number and units are unchanged.
    fn standing(self) -> Option<Wrong> {
        let value = self.value.get();
        let units = self.state.units.get();
        self.wrong.get().filter(|wrong| wrong.stood == value && wrong.units == units)
    }

    /// What is wrong with the text, or with the number if the text is right.
    fn why(self) -> Option<String> {
        let reader = self.state.reader();
        let of_number = || {
            self.state.errors.with(|errors| {
                let mut here = errors.iter().filter(|f| f.place == Some(self.slot));
                here.next().map(|f| f.whole(reader))
            })
        };
        self.standing().map(|wrong| wrong.why.whole(reader)).or_else(of_number)
    }

    /// Restores a text that was not accepted when the field was last on the page.
    fn recall(self) {
        let refused = self.state.refused(&key_of(self.slot));
        let stood = self.value.get_untracked();
        if let Some((text, _)) = refused.filter(|(_, then)| *then == as_noted(stood)) {
            let units = self.state.units.get_untracked();
            if let Err(why) = self.slot.read(&text, units) {
                self.wrong.set(Some(Wrong { text, why, stood, units }));
            }
        }
    }

    /// Forgets the text that was not accepted.
    fn accept(self) {
        self.wrong.set(None);
        self.state.refuse(&key_of(self.slot), None);
    }

    /// Above the keypad of a phone, the figures follow what is typed as far as it can be read.
    fn preview(self, text: String) {
        if self.state.layout.above_keypad.with_untracked(Option::is_none) {
            // Who types the assumed number has given it, although the browser sees no change.
            if self.state.with(|d| d.is_assumed(self.slot)) {
                self.typing.set(Some(text));
            }
            return;
        }
        self.accept();
        let read = self.slot.read(&text, self.state.units.get_untracked());
        self.typing.set(Some(text));
        if let Ok(value) = read {
            self.state.preview(&self.slots().map(|slot| (slot, value)).collect::<Vec<_>>());
        }
    }

    /// A browser does not tell of a change that was not typed on its own keypad.
    fn leave(self) {
        // A field that goes with its area is left after it is gone.
        match self.typing.try_get_untracked().flatten() {
            Some(text) => self.typed(&text),
            None => self.state.commit(),
        }
    }

    fn typed(self, text: &str) {
        self.typing.set(None);
        // An empty text removes a measured value or a limit, and forgets what may be unknown.
        if text.trim().is_empty() && self.can_be_empty() {
            self.accept();
            self.state.change(|d| {
                if !d.clear(self.slot) {
                    d.set_unknown(self.slot);
                }
            });
            return;
        }
        let units = self.state.units.get_untracked();
        match self.read(text, units) {
            Ok((value, limits)) => {
                self.accept();
                self.state.change(|d| {
                    for slot in self.slots() {
                        if let Some(value) = value {
                            d.set_given(slot, value);
                        }
                        if limits.is_some() {
                            d.give_limits(slot, limits);
                        }
                    }
                });
            }
            Err(why) => {
                // What was previewed on the way to it is not kept.
                self.state.step(History::cancel);
                let stood = self.state.with(|d| d.get(self.slot));
                let text = text.to_owned();
                self.state.refuse(&key_of(self.slot), Some((text.clone(), as_noted(stood))));
                self.wrong.set(Some(Wrong { text, why, stood, units }));
            }
        }
    }

    /// The number that is typed, and its tolerance. A tolerance may be typed alone.
    fn read(
        self,
        text: &str,
        units: DisplayUnits,
    ) -> Result<(Option<f64>, Option<Limits>), Finding> {
        let (size, limits) = match self.state.with(|d| d.can_have_limits(self.slot)) {
            true => split_limits(text),
            false => (text, None),
        };
        let quantity = self.slot.field().spec().quantity;
        let limits = limits.map(|limits| read_limits(limits, quantity, units)).transpose()?;
        let alone = limits.is_some() && size.is_empty();
        let value = if alone { None } else { Some(self.slot.read(size, units)?) };
        Ok((value, limits))
    }

    /// The tolerance that was given for it, as it is typed.
    fn limits(self) -> Option<String> {
        let quantity = self.slot.field().spec().quantity;
        let limits = self.state.with(|d| d.limits_given(self.slot))?;
        Some(show_limits(limits, quantity, self.state.units.get()))
    }

    /// Whether the design can do without the number.
    fn can_be_empty(self) -> bool {
        self.slot.may_be_absent() || self.slot.can_be_unknown()
    }

    fn key_down(self, event: &web_sys::KeyboardEvent) {
        let key = event.key();
        if key == "Escape" {
            self.accept();
            self.typing.set(None);
        }
        if !is_step(&key) {
            return;
        }
        event.prevent_default();
        let field = self.slot.field().spec();
        let step = if event.shift_key() { field.coarse } else { field.fine };
        self.step(if key == "ArrowUp" { step } else { -step });
    }

    /// Shows the number a step further. A commit makes it a step of the history.
    fn step(self, step: f64) {
        // Without a value, steps begin at the usual size.
        let begun = self.can_be_empty().then(|| self.slot.field().spec().default);
        if let Some(value) = self.state.with(|d| d.get(self.slot)).or(begun) {
            self.accept();
            // Rounded, so that rounding errors do not add up over many steps.
            let value = ((value + step) * 1e6).round() / 1e6;
            let (min, max) = self.state.with(|d| d.limits(self.slot));
            let value = value.min(max).max(min);
            self.state.preview(&self.slots().map(|slot| (slot, value)).collect::<Vec<_>>());
        }
    }
}
