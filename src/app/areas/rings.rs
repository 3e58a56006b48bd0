//! Sizes typed in: every number that a handle holds, and those that have none.

use leptos::prelude::*;

use crenel::design::{Design, START_RINGS, StartRing, TEXT_LIMITS};
use crenel::design::{DogSpec, EvenLayout, Layout, RingSpec, SizeBy};
use crenel::fields::{FieldId, Slot};
use crenel::ring::{PlanForm, Side};
use crenel::units::{DisplayUnits, Quantity, decimal};

use crate::areas::depth::DepthForms;
use crate::areas::load::LoadForms;
use crate::areas::rework::ReworkForms;
use crate::areas::selector::SelectorForms;
use crate::areas::shift::ShiftForms;
use crate::deferred::Deferred;
use crate::dom::html_element;
use crate::state::{AppState, Area, use_app_state};

/// The sizes of the part of the job that is on the screen.
#[component]
pub(crate) fn Forms() -> impl IntoView {
    let state = use_app_state();
    let explained = move || {
        state.explained.get().map_or_else(
            || "Choose a number to read what it means.".to_owned(),
            |slot| format!("{}. {}", slot.words(), slot.field().spec().explain),
        )
    };
    let area = Memo::new(move |_| state.area.get());
    view! {
        <section class="forms" aria-label="Sizes">
            <p class="explain" aria-hidden="true">{explained}</p>
            {move || match area.get() {
                Area::Shift => view! { <ShiftForms/> }.into_any(),
                Area::Load => view! { <LoadForms/> }.into_any(),
                Area::Rework => view! { <ReworkForms/> }.into_any(),
                Area::Depth => view! { <DepthForms/> }.into_any(),
                Area::Selector => view! { <SelectorForms/> }.into_any(),
                Area::Rings | Area::Trace | Area::Papers | Area::Compare | Area::Help => view! { <RingForms/> }.into_any(),
            }}
        </section>
    }
}

#[component]
fn RingForms() -> impl IntoView {
    view! {
        <div class="panels">
            {Side::BOTH.map(|side| view! { <Deferred><RingForm side/></Deferred> }).collect_view()}
            <div class="stack">
                <Deferred><PlaceForm/></Deferred>
                <Deferred><NotesForm/></Deferred>
            </div>
        </div>
    }
}

/// A number: label, entry, unit, and what is wrong with what was typed.
#[component]
pub(crate) fn NumberField(at: Slot, #[prop(optional)] bare: bool) -> impl IntoView {
    let slot = at;
    let state = use_app_state();
    let field = slot.field().spec();
    let value = Memo::new(move |_| state.with(|d| d.get(slot)));
    let entry = Entry { state, slot, value, wrong: RwSignal::new(None) };
    entry.recall();
    let id = entry.id();
    let (why, wrong) = (format!("{id}-why"), format!("{id}-wrong"));
    let label = if bare { slot.words() } else { slot.label() };
    view! {
        <div class="field" class:bare=bare>
            <label for=id.clone() class:sr=bare>{label}</label>
            <span class="entry">
                <input id=id type="text" inputmode="decimal" autocomplete="off" data-slot=key_of(slot)
                    value=move || entry.text() prop:value=move || entry.text()
                    aria-describedby=format!("{why} {wrong}") aria-invalid=move || entry.why().is_some().to_string()
                    on:change=move |event| entry.typed(&event_target_value(&event))
                    on:keydown=move |event| entry.key_down(&event)
                    on:keyup=move |event| if is_step(&event.key()) { state.commit() }
                    on:blur=move |_| state.commit()
                    on:focus=move |_| state.explain(slot)/>
                <span class="unit">{move || field.quantity.suffix(state.units.get())}</span>
            </span>
            <span class="sr" id=why>{field.explain}</span>
            <span class="wrong" id=wrong aria-live="polite">{move || entry.why()}</span>
        </div>
    }
}

/// A name for a slot, unique on the page.
fn key_of(slot: Slot) -> String {
    let key = slot.field().spec().key;
    match slot {
        Slot::Ring(side, _) => format!("{}.{key}", side.letter()),
        Slot::Dog(side, place, _) => format!("{}{}.{key}", side.letter(), place + 1),
        Slot::Setting(_) | Slot::Gearbox(_) | Slot::Part(_) | Slot::Seen(_) => key.to_owned(),
        Slot::TrackPoint(at, _) => format!("point{}.{key}", at + 1),
        Slot::Link(facing, at, _) => format!("{facing:?}{}.{key}", at + 1),
        Slot::Gear(at, _) => format!("gear{}.{key}", at + 1),
        Slot::Work(side, at, _) => format!("{}-op{}.{key}", side.letter(), at + 1),
    }
}

fn id_of(slot: Slot) -> String {
    format!("f-{}", key_of(slot).replace('.', "-"))
}

/// The entry of a slot, where a text stands in it that was not accepted.
pub(crate) fn refused(at: Slot) -> Option<web_sys::HtmlElement> {
    let entry = html_element(&id_of(at))?;
    (entry.get_attribute("aria-invalid").as_deref() == Some("true")).then_some(entry)
}

fn is_step(key: &str) -> bool {
    matches!(key, "ArrowUp" | "ArrowDown")
}

/// A text that was not accepted, why, and the number that stood then. It stays until it is mended or
/// the number or the units change.
#[derive(Clone)]
struct Wrong {
    text: String,
    why: String,
    stood: Option<f64>,
    units: DisplayUnits,
}

/// A number as it is noted beside a text that was not accepted.
fn as_noted(number: Option<f64>) -> String {
    number.map(|number| number.to_string()).unwrap_or_default()
}

/// What was typed into a field.
#[derive(Clone, Copy)]
struct Entry {
    state: AppState,
    slot: Slot,
    /// The number that stands there.
    value: Memo<Option<f64>>,
    /// A text that was not accepted.
    wrong: RwSignal<Option<Wrong>>,
}

impl Entry {
    fn id(self) -> String {
        id_of(self.slot)
    }

    fn text(self) -> String {
        let value = self.value.get();
        let units = self.state.units.get();
        let quantity = self.slot.field().spec().quantity;
        let typed = self.standing().map(|wrong| wrong.text);
        typed.unwrap_or_else(|| {
            // What a shop works to is shown to the last digit that is kept.
            let work = matches!(self.slot, Slot::Work(..) | Slot::Dog(.., FieldId::ShortenTo));
            let shown =
                |v| if work { quantity.format_kept(v, units) } else { quantity.format(v, units) };
            value.map(shown).unwrap_or_default()
        })
    }

    /// The text that was not accepted, while the number is still that of then.
    fn standing(self) -> Option<Wrong> {
        let value = self.value.get();
        let units = self.state.units.get();
        self.wrong.get().filter(|wrong| wrong.stood == value && wrong.units == units)
    }

    /// What is wrong with the text or, where the text is right, with the number.
    fn why(self) -> Option<String> {
        let units = self.state.units.get();
        let of_number = || {
            self.state.errors.with(|errors| {
                let mut here = errors.iter().filter(|f| f.place == Some(self.slot));
                here.next().map(|f| format!("{} {}", f.text(units), f.hint))
            })
        };
        self.standing().map(|wrong| wrong.why).or_else(of_number)
    }

    /// Brings back a text that was not accepted before the field was last taken off the page.
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

    /// Nothing is wrong any more.
    fn accept(self) {
        self.wrong.set(None);
        self.state.refuse(&key_of(self.slot), None);
    }

    fn typed(self, text: &str) {
        if let (Slot::Seen(id), true) = (self.slot, text.trim().is_empty()) {
            // What was measured can be taken back.
            self.accept();
            self.state.change(|d| {
                d.trace.measured.remove(&id);
            });
            return;
        }
        let units = self.state.units.get_untracked();
        match self.slot.read(text, units) {
            Ok(value) => {
                self.accept();
                self.state.change(|d| {
                    d.set(self.slot, value);
                });
            }
            Err(why) => {
                let stood = self.state.with(|d| d.get(self.slot));
                let text = text.to_owned();
                self.state.refuse(&key_of(self.slot), Some((text.clone(), as_noted(stood))));
                self.wrong.set(Some(Wrong { text, why, stood, units }));
            }
        }
    }

    fn key_down(self, event: &web_sys::KeyboardEvent) {
        let key = event.key();
        if key == "Escape" {
            self.accept();
        }
        if !is_step(&key) {
            return;
        }
        event.prevent_default();
        let field = self.slot.field().spec();
        let step = if event.shift_key() { field.coarse } else { field.fine };
        let step = if key == "ArrowUp" { step } else { -step };
        // What was not measured yet is stepped to from the usual size.
        let begun = matches!(self.slot, Slot::Seen(_)).then_some(field.default);
        if let Some(value) = self.state.with(|d| d.get(self.slot)).or(begun) {
            self.accept();
            // Rounded, so that steps do not pile up rounding errors.
            let value = ((value + step) * 1e6).round() / 1e6;
            let (min, max) = self.state.with(|d| d.limits(self.slot));
            self.state.preview(&[(self.slot, value.min(max).max(min))]);
        }
    }
}

/// A choice among a few words.
#[component]
pub(crate) fn Choose<T: Copy + PartialEq + Send + Sync + 'static>(
    label: &'static str,
    words: &'static [(T, &'static str)],
    #[prop(into)] value: Signal<T>,
    on_choose: Callback<T>,
) -> impl IntoView {
    let options = words.iter().enumerate().map(|(at, (meaning, word))| {
        view! { <option value=at.to_string() selected=move || value.get() == *meaning>{*word}</option> }
    });
    let chosen = move || {
        words
            .iter()
            .position(|(meaning, _)| *meaning == value.get())
            .unwrap_or_default()
            .to_string()
    };
    let choose = move |event| {
        let at = event_target_value(&event).parse::<usize>().ok();
        if let Some((meaning, _)) = at.and_then(|at| words.get(at)) {
            on_choose.run(*meaning);
        }
    };
    view! {
        <label class="field choose">
            <span>{label}</span>
            <select prop:value=chosen on:change=choose>{options.collect_view()}</select>
        </label>
    }
}

#[component]
fn RingForm(side: Side) -> impl IntoView {
    let state = use_app_state();
    let measured =
        Memo::new(move |_| state.with(|d| matches!(d.ring(side).layout, Layout::Measured(_))));
    let form = Signal::derive(move || state.with(|d| d.ring(side).form));
    let set_form = Callback::new(move |form| state.change(|d| d.ring_mut(side).form = form));
    let role = match side {
        Side::A => "The one that slides in: on the sliding gear.",
        Side::B => "The one it goes into: on the free gear.",
    };
    view! {
        <fieldset class=if side == Side::A { "panel ring-a" } else { "panel ring-b" }>
            <legend>{side.name()}</legend>
            <p class="quiet">{role}</p>
            <StartChoice side/>
            <NumberField at=Slot::Ring(side, FieldId::InnerDiameter)/>
            <NumberField at=Slot::Ring(side, FieldId::OuterDiameter)/>
            <Choose label="Flanks in plan" words=&FORMS value=form on_choose=set_form/>
            <Deferred>{move || if measured.get() { view! { <MeasuredForm side/> }.into_any() } else { view! { <EvenForm side/> }.into_any() }}</Deferred>
        </fieldset>
    }
}

const FORMS: [(PlanForm, &str); 2] =
    [(PlanForm::Radial, "radial"), (PlanForm::Parallel, "parallel")];
const SIZES: [(SizeBy, &str); 2] = [(SizeBy::Dog, "dog width"), (SizeBy::Gap, "gap or slot")];

/// Puts a ring to start from in place of this one.
#[component]
fn StartChoice(side: Side) -> impl IntoView {
    let state = use_app_state();
    let options =
        START_RINGS.iter().map(|start| view! { <option value=start.key>{start.name}</option> });
    // The start ring that was put in place, as long as the ring is still that.
    let placed = RwSignal::new(None::<(&'static StartRing, RingSpec)>);
    let standing = move || {
        let placed = placed.get()?;
        state.with(|d| *d.ring(side) == placed.1).then_some(placed.0)
    };
    let choose = move |event| {
        let key = event_target_value(&event);
        if let Some(start) = START_RINGS.iter().find(|start| start.key == key) {
            state.change(|d| {
                let old = d.ring(side).clone();
                *d.ring_mut(side) = start.ring();
                d.ring_mut(side).inner_diameter_mm = old.inner_diameter_mm;
                d.ring_mut(side).outer_diameter_mm = old.outer_diameter_mm;
            });
            placed.set(Some((start, state.with(|d| d.ring(side).clone()))));
            state.choose(side, 0);
        }
    };
    let copy = move |_| state.change(|d| *d.ring_mut(side) = d.ring(side.other()).clone());
    view! {
        <label class="field choose">
            <span>"Start from"</span>
            <select prop:value=move || standing().map_or("", |start| start.key) on:change=choose>
                <option value="">"this ring as it is"</option>
                {options.collect_view()}
            </select>
        </label>
        <p class="quiet start">{move || standing().map(|start| start.explain)}</p>
        <button class="wide" on:click=copy>{format!("Make it like ring {}", side.other().letter())}</button>
    }
}

#[component]
fn EvenForm(side: Side) -> impl IntoView {
    let state = use_app_state();
    let even = move |d: &Design| match &d.ring(side).layout {
        Layout::Even(even) => even.clone(),
        Layout::Measured(_) => EvenLayout::default(),
    };
    let size_by = Memo::new(move |_| state.with(|d| even(d).size_by));
    let set_size = Callback::new(move |by| state.change(|d| d.size_by(side, by)));
    let fields = move || EvenLayout { size_by: size_by.get(), ..EvenLayout::default() }.fields();
    view! {
        <Choose label="Given by" words=&SIZES value=size_by on_choose=set_size/>
        <For each=fields key=|id| *id children=move |id| view! { <NumberField at=Slot::Ring(side, id)/> }/>
        <HeightPattern side/>
        <button class="wide" on:click=move |_| state.change(|d| d.list_dogs(side))>"List the dogs one by one, as measured"</button>
    }
}

/// Shares of the full height, repeated round the ring.
#[component]
fn HeightPattern(side: Side) -> impl IntoView {
    let state = use_app_state();
    let key = format!("{}.heights", side.letter());
    // A text that was not accepted, and the pattern that stood then.
    let wrong = RwSignal::new(state.refused(&key));
    let refuse = move |refused: Option<(String, String)>| {
        state.refuse(&key, refused.clone());
        wrong.set(refused);
    };
    let kept = move |d: &Design| match &d.ring(side).layout {
        Layout::Even(even) => {
            even.heights.iter().map(|h| decimal(*h, 4)).collect::<Vec<_>>().join(" ")
        }
        Layout::Measured(_) => String::new(),
    };
    let standing = move || wrong.get().filter(|(_, stood)| *stood == state.with(kept));
    let text = move || standing().map_or_else(|| state.with(kept), |(text, _)| text);
    let why = move || {
        standing().map(|_| "Type shares from 0 to 1 with spaces between, at least one above 0.")
    };
    let typed = move |event| {
        let text: String = event_target_value(&event);
        match read_heights(&text) {
            Some(heights) => {
                refuse(None);
                state.change(|d| {
                    if let Layout::Even(even) = &mut d.ring_mut(side).layout {
                        even.heights = heights;
                    }
                });
            }
            None => refuse(Some((text, state.with(kept)))),
        }
    };
    let id = format!("f-{}-heights", side.letter());
    view! {
        <div class="field">
            <label for=id.clone()>"Height pattern"</label>
            <span class="entry">
                <input id=id.clone() type="text" aria-describedby=format!("{id}-why") autocomplete="off" value=text prop:value=text on:change=typed
                    aria-invalid=move || why().is_some().to_string()/>
            </span>
            <span class="quiet pattern" id=format!("{id}-why")>"1 is full height; “1 0.5” alternates full and half, 0 leaves a place empty."</span>
            <span class="wrong" aria-live="polite">{why}</span>
        </div>
    }
}

fn read_heights(text: &str) -> Option<Vec<f64>> {
    let shares = text.split([' ', ';']).filter(|part| !part.is_empty());
    let read = |part: &str| {
        Quantity::Ratio.parse(part, Default::default()).ok().filter(|v| (0.0..=1.0).contains(v))
    };
    let heights: Vec<f64> = shares.map(read).collect::<Option<_>>()?;
    heights.iter().any(|h| *h > 0.0).then_some(heights)
}

/// The dogs one by one.
#[component]
fn MeasuredForm(side: Side) -> impl IntoView {
    let state = use_app_state();
    let places = Memo::new(move |_| state.with(|d| d.ring(side).places()));
    let heads = DogSpec::FIELDS.map(|id| view! { <th scope="col">{id.spec().label}</th> });
    view! {
        <div class="scroll" tabindex="0" role="region" aria-label=format!("Dogs of {} as measured", side.name())>
            <table>
                <thead><tr><th scope="col">"Dog"</th>{heads.collect_view()}<th><span class="sr">"Take out"</span></th></tr></thead>
                <tbody>
                    <For each=move || 0..places.get() key=|place| *place children=move |place| view! { <Deferred><DogRow side place/></Deferred> }/>
                </tbody>
            </table>
        </div>
        <button class="wide" on:click=move |_| state.change(|d| add_dog(d, side))>"Add a dog"</button>
    }
}

#[component]
fn DogRow(side: Side, place: usize) -> impl IntoView {
    let state = use_app_state();
    let cells = DogSpec::FIELDS
        .map(|id| view! { <td><NumberField at=Slot::Dog(side, place, id) bare=true/></td> });
    view! {
        <tr>
            <th scope="row">{place + 1}</th>
            {cells.collect_view()}
            <td><button aria-label=format!("Take dog {} off the list", place + 1) on:click=move |_| state.change(|d| drop_dog(d, side, place))>"×"</button></td>
        </tr>
    }
}

/// A dog like the last, in the widest gap.
fn add_dog(design: &mut Design, side: Side) {
    let ring = design.ring(side).as_found();
    let dogs = ring.by_centre();
    let gaps = ring.gaps();
    let widest = (0..gaps.len()).max_by(|&a, &b| gaps[a].total_cmp(&gaps[b]));
    let centre = widest.map_or(0.0, |at| {
        let end = dogs[at].centre + dogs[at].tip_width / 2.0;
        (end.radians() + gaps[at] / 2.0).to_degrees().rem_euclid(360.0)
    });
    if let Layout::Measured(list) = &mut design.ring_mut(side).layout {
        let like = list.last().copied().unwrap_or_else(|| EvenLayout::default().dogs()[0]);
        list.push(DogSpec { centre_deg: (centre * 1000.0).round() / 1000.0, ..like });
    }
}

/// Takes a dog off the list; the cuts of those after it move up with them.
fn drop_dog(design: &mut Design, side: Side, place: usize) {
    let ring = design.ring_mut(side);
    if let Layout::Measured(list) = &mut ring.layout {
        list.remove(place);
        ring.plan.renumber(|at| (at != place).then_some(if at > place { at - 1 } else { at }));
    }
}

/// Where the rings stand.
#[component]
fn PlaceForm() -> impl IntoView {
    view! {
        <fieldset class="panel">
            <legend>"Position"</legend>
            {[FieldId::Phase, FieldId::Overlap, FieldId::HoldDepth].map(|id| view! { <NumberField at=Slot::Setting(id)/> }).collect_view()}
            <p class="quiet">"Speed difference, push, friction and the gearbox stand under Shift."</p>
        </fieldset>
    }
}

#[component]
fn NotesForm() -> impl IntoView {
    let state = use_app_state();
    let limit = |at: usize| TEXT_LIMITS[at].1.to_string();
    view! {
        <fieldset class="panel notes">
            <legend>"Title block"</legend>
            <label class="field">
                <span>"Drawn by (initials)"</span>
                <input type="text" maxlength=limit(1) prop:value=move || state.with(|d| d.initials.clone())
                    on:change=move |event| state.change(|d| d.initials = event_target_value(&event))/>
            </label>
            <label class="field tall">
                <span>"Notes"</span>
                <textarea rows="5" maxlength=limit(2) prop:value=move || state.with(|d| d.notes.clone())
                    on:change=move |event| state.change(|d| d.notes = event_target_value(&event))></textarea>
            </label>
        </fieldset>
    }
}
