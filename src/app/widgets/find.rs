//! Find: goes to a number, a result, a word, an area or a design by a few letters, sets a number, or does an action.

use std::borrow::Cow;

use leptos::prelude::*;

use crenel::design::Trace;
use crenel::export::{Export, Place};
use crenel::fields::Slot;
use crenel::find::{Found, Target, closeness, find};
use crenel::units::{ABSENT, AngleStyle, LengthUnit};
use crenel_words::page::{common, designs, files, find as say, frame, learn, results, trace};
use crenel_words::{Message, Phrase, Value};

use crate::dom::go_to_element;
use crate::part::part;
use crate::state::{AppState, Area, Dialog, Panel, Part, here, use_app_state};
use crate::widgets::designs::open_example;
use crate::widgets::dialog::Sheet;
use crate::widgets::files::{files_at, save_design, take_drawn};
use crate::widgets::reveal;

/// How many areas and panels are listed, and how many actions.
const MOST_PLACES: usize = 6;
const MOST_ACTIONS: usize = 6;

/// What is done from anywhere, under the name that its button has.
const ACTIONS: [(Phrase, fn(AppState)); 11] = [
    (frame::undo, AppState::undo),
    (frame::redo, AppState::redo),
    (files::share_link, |state| state.dialog.set(Some(Dialog::Share))),
    (files::save_file, save_design),
    (designs::title, |state| state.dialog.set(Some(Dialog::Designs))),
    (learn::six_stories, |state| state.open_area(state.areas.stories().key)),
    (results::set_as_baseline, AppState::compare_from_here),
    (say::in_millimetres, |state| state.show_lengths_in(LengthUnit::Millimetre)),
    (say::in_inches, |state| state.show_lengths_in(LengthUnit::Inch)),
    (say::in_degrees, |state| state.show_angles_in(AngleStyle::Decimal)),
    (say::in_minutes, |state| state.show_angles_in(AngleStyle::Dms)),
];

#[component]
pub(crate) fn FindDialog() -> impl IntoView {
    view! { <Sheet which=Dialog::Find title=say::title show=part!(more, finding, view! { <Finding/> })/> }
}

/// One line of the list.
#[derive(Clone)]
struct Line {
    name: String,
    /// What kind of thing it is, or its value.
    about: Cow<'static, str>,
    act: Act,
}

/// What a line does.
#[derive(Clone)]
enum Act {
    Open(&'static Area<AnyView>, Option<&'static Panel<AnyView>>),
    To(Found),
    Do(fn(AppState)),
    Take(Export),
}

#[component]
fn Finding() -> impl IntoView {
    let state = use_app_state();
    let query = RwSignal::new(String::new());
    let at = RwSignal::new(0_usize);
    let lines = Memo::new_with_compare(move |_| lines(state, &query.get()), |_, _| true);
    let typed = move |event| {
        query.set(event_target_value(&event));
        at.set(0);
    };
    let key = move |event: web_sys::KeyboardEvent| {
        let count = lines.with_untracked(Vec::len);
        match event.key().as_str() {
            "ArrowDown" => at.update(|at| *at = (*at + 1).min(count.saturating_sub(1))),
            "ArrowUp" => at.update(|at| *at = at.saturating_sub(1)),
            "Enter" => {
                let line = lines.with_untracked(|lines| lines.get(at.get_untracked()).cloned());
                line.into_iter().for_each(|line| act(state, line.act));
            }
            _ => return,
        }
        event.prevent_default();
    };
    let rows = move || {
        lines
            .get()
            .into_iter()
            .enumerate()
            .map(|(nth, line)| view! { <Row nth line at/> })
            .collect_view()
    };
    let empty = move || {
        let sought = query.with(|query| !query.trim().is_empty());
        (sought && lines.with(Vec::is_empty))
            .then(|| view! { <p class="quiet">{here(say::nothing)}</p> })
    };
    let input = NodeRef::<leptos::html::Input>::new();
    Effect::new(move |_| {
        if let Some(input) = input.get() {
            // Focusing fails only if the page is gone.
            let _ = input.focus();
        }
    });
    view! {
        <input class="seek" type="text" autocomplete="off" spellcheck="false" node_ref=input
            role="combobox" aria-expanded="true" aria-controls="found" aria-label=here(say::title)
            aria-activedescendant=move || format!("found-{}", at.get())
            placeholder=here(say::placeholder) on:input=typed on:keydown=key/>
        <ul class="found" id="found" role="listbox" aria-label=here(say::found)>{rows}</ul>
        {empty}
        <p class="quiet">{here(say::how)}</p>
    }
}

#[component]
fn Row(nth: usize, line: Line, at: RwSignal<usize>) -> impl IntoView {
    let state = use_app_state();
    let todo = line.act;
    view! {
        <li id=format!("found-{nth}") role="option" aria-selected=move || (at.get() == nth).to_string()
            on:click=move |_| act(state, todo.clone())>
            <span>{line.name}</span>" "<span class="quiet">{line.about}</span>
        </li>
    }
}

/// Everything that is found, in the order of the list.
fn lines(state: AppState, query: &str) -> Vec<Line> {
    let reader = state.reader();
    let found = state.with(|design| find(design, reader, query)).into_iter().map(|found| {
        let about = match (found.target, found.value) {
            (Target::Number(slot), value) => {
                let quantity = slot.field().spec().quantity;
                let shown = |v: f64| Value::Number(quantity, v).show(reader);
                let now = state.with(|d| d.get(slot)).map_or_else(|| ABSENT.to_owned(), shown);
                match value {
                    Some(value) => {
                        say::set_to(Value::Verbatim(now), Value::Number(quantity, value))
                            .show(reader)
                            .into()
                    }
                    None => now.into(),
                }
            }
            (Target::Result(_), _) => here(common::result),
            (Target::Term(term), _) => here(term.explanation()),
            (Target::Symptom(_), _) => here(trace::title),
            (Target::Example(_), _) => here(say::design),
        };
        Line { name: found.name.clone(), about, act: Act::To(found) }
    });
    found.chain(places(state, query)).chain(actions(query)).collect()
}

/// The actions and the files whose name has all words of the query.
fn actions(query: &str) -> impl Iterator<Item = Line> + use<> {
    let query = query.to_owned();
    let actions = ACTIONS.into_iter().map(|(name, run)| (here(name).into_owned(), Act::Do(run)));
    let exports =
        files_at(Place::Menu).map(|export| (here(export.label()).into_owned(), Act::Take(export)));
    let named = actions
        .chain(exports)
        .filter(move |(name, _)| !query.trim().is_empty() && closeness(&query, name).is_some());
    named.take(MOST_ACTIONS).map(|(name, act)| Line { name, about: here(say::action), act })
}

/// The areas and their panels.
fn places(state: AppState, query: &str) -> impl Iterator<Item = Line> + use<> {
    let query = query.to_owned();
    let areas = state.areas.0.iter().flat_map(|area| {
        let panels = area.panels().iter().map(Some);
        [None].into_iter().chain(panels).map(move |panel| (area, panel))
    });
    let named = areas.filter_map(move |(area, panel)| {
        let title: Message = panel.map_or_else(|| (area.title)(), |panel| (panel.title)());
        let name = here(title).into_owned();
        let sought = !query.trim().is_empty() && closeness(&query, &name).is_some();
        sought.then(|| Line { name, about: here(area.title), act: Act::Open(area, panel) })
    });
    named.take(MOST_PLACES)
}

fn act(state: AppState, act: Act) {
    state.dialog.set(None);
    match act {
        Act::Open(area, panel) => {
            state.open_area(area.key);
            panel.into_iter().for_each(|panel| reveal::show_panel(state, panel));
        }
        Act::Do(run) => run(state),
        Act::Take(export) => take_drawn(state, export),
        Act::To(found) => match found.target {
            Target::Number(slot) => {
                if let Some(value) = found.value {
                    state.change(|d| {
                        d.set_given(slot, value);
                    });
                }
                reveal::show(state, slot);
                reveal::focus_field(slot);
            }
            Target::Result(figure) => show_result(state, figure.key),
            Target::Term(_) => state
                .areas
                .opened_by_key("?")
                .into_iter()
                .for_each(|help| state.open_area(help.key)),
            Target::Symptom(symptom) => {
                state.change(|d| d.trace.felt.extend([*symptom]));
                reveal::show(state, Slot::Seen(Trace::FIELDS[0]));
            }
            Target::Example(example) => open_example(state, example),
        },
    }
}

/// Opens a result among all of them.
fn show_result(state: AppState, key: &'static str) {
    if state.current_area().pictures().is_empty() {
        state.open_area(state.areas.first().key);
    }
    if !state.layout.is_open(Part::AllResults) {
        state.layout.turn(Part::AllResults);
    }
    go_to_element(format!("#results [data-key='{key}'] summary"), |row| {
        // A press on one that is open would close it.
        if row.closest("details[open]").ok().flatten().is_none() {
            row.click();
        }
    });
}
