//! A figure over one or two inputs of the current design, as curves or as a map, with its table and its file.

use std::borrow::Cow;

use leptos::prelude::*;

use crenel::design::Design;
use crenel::draw::{Frame, Scene, sweep_chart, sweep_frame, sweep_map, sweep_map_frame};
use crenel::export::{svg_file, sweep_csv};
use crenel::sweep::{INPUTS, Input, Sweep, sweepable};
use crenel::units::ABSENT;
use crenel_words::page::{common, compare as say};
use crenel_words::{Phrase, Reader};

use crate::background::sweeps::{self, Asked};
use crate::dom::text_scale;
use crate::state::{AppState, here, use_app_state};
use crate::widgets::choose::{Choose, Picked};
use crate::widgets::clipboard::CopyButtons;
use crate::widgets::files::download;
use crate::widgets::pointer::watch_width;
use crate::widgets::scene_marks::SceneMarks;

/// The width that the chart is laid out for until its own is known, CSS pixels.
const USUAL_PX: f64 = 620.0;

/// A chart narrower than this is on a small screen, CSS pixels.
const NARROW_PX: f64 = 440.0;

/// Letters of the chart, CSS pixels.
const LETTER_PX: f64 = 12.0;

/// The most rows of the table: every so many points.
const ROWS: usize = 24;

/// The most columns of the table of a map.
const COLUMNS: usize = 9;

/// How two inputs are drawn: as a map or as curves.
const FORMS: [(bool, Phrase); 2] = [(false, say::as_curves), (true, say::as_map)];

/// What is chosen: an input and between which values; without them those that are usual.
#[derive(Clone, Copy, PartialEq)]
struct Chosen {
    input: Option<&'static Input>,
    ends: [Option<f64>; 2],
}

impl Chosen {
    fn of(key: &str) -> Self {
        Self { input: input(key), ends: [None; 2] }
    }

    fn ends(self, design: &Design) -> Option<(&'static str, [f64; 2])> {
        let input = self.input?;
        let usual = input.usual(design);
        let end = |at: usize| self.ends[at].unwrap_or(usual[at]);
        Some((input.key(), [end(0), end(1)]))
    }
}

fn input(key: &str) -> Option<&'static Input> {
    INPUTS.iter().find(|input| input.key() == key)
}

#[component]
pub(super) fn Sweeping() -> impl IntoView {
    let state = use_app_state();
    let figure = RwSignal::new("straight_in_limit_rpm");
    let along = RwSignal::new(Chosen::of("count"));
    let each = RwSignal::new(Chosen::of(""));
    let is_map = RwSignal::new(false);
    let has_two = Memo::new(move |_| {
        let second = each.with(|each| each.input);
        second.is_some() && second != along.with(|along| along.input)
    });
    let asked = Memo::new(move |_| {
        state.with(|design| {
            let along = along.get().ends(design)?;
            let each = each.get().ends(design).filter(|_| has_two.get());
            Some(Asked { figure: figure.get(), along, each, is_map: is_map.get() })
        })
    });
    let values = RwSignal::new(Vec::<Option<f64>>::new());
    let background =
        StoredValue::new_local(sweeps::start(move |known| drop(values.try_set(known))));
    let design = Memo::new(move |_| state.with(Design::without_box));
    Effect::new(move |_| {
        let (asked, design) = (asked.get(), design.get());
        values.set(Vec::new());
        let asked = asked.into_iter();
        background.with_value(|b| asked.for_each(|asked| sweeps::ask(b, &design, &asked)));
    });
    let sweep = Memo::new(move |_| {
        let mut sweep = asked.get()?.of(design.get())?;
        sweep.values = values.get();
        sweep.values.truncate(sweep.points());
        Some(sweep)
    });
    let figures = move || {
        let all = sweepable().map(|f| view! { <option value=f.key>{here(f.name())}</option> });
        all.collect_view()
    };
    let named = Signal::derive(move || {
        sweepable().find(|f| f.key == figure.get()).map_or(Cow::Borrowed(""), |f| here(f.name()))
    });
    let choose = Callback::new(move |key: String| {
        sweepable().find(|f| f.key == key).into_iter().for_each(|f| figure.set(f.key));
    });
    view! {
        <div class="row asked">
            <Picked label=here(common::result) text=named value=Signal::derive(move || figure.get().to_owned())
                on_choose=choose>{figures()}</Picked>
            <InputChoice label=here(say::swept_over) chosen=along optional=false/>
            <InputChoice label=here(say::second_input) chosen=each optional=true/>
            {move || has_two.get().then(|| view! {
                <Choose label=here(say::drawn_as) words=&FORMS value=is_map
                    on_choose=Callback::new(move |to| is_map.set(to))/>
            })}
        </div>
        <Chart sweep/>
        <Known sweep/>
    }
}

/// A choice of an input with its ends.
#[component]
fn InputChoice(
    label: Cow<'static, str>,
    chosen: RwSignal<Chosen>,
    /// Whether there need not be one.
    optional: bool,
) -> impl IntoView {
    let state = use_app_state();
    let options = move || {
        let none =
            optional.then(|| view! { <option value="">{here(say::no_second_input)}</option> });
        let has = |input: &&Input| state.with(|d| input.value(d).is_some());
        let all = INPUTS.iter().filter(has);
        let all = all.map(|i| view! { <option value=i.key()>{here(i.name())}</option> });
        (none, all.collect_view())
    };
    let named = Signal::derive(move || {
        chosen.get().input.map_or_else(|| here(say::no_second_input), |i| here(i.name()))
    });
    let value =
        Signal::derive(move || chosen.get().input.map(|i| i.key().to_owned()).unwrap_or_default());
    let choose = Callback::new(move |key: String| chosen.set(Chosen::of(&key)));
    let end = move |at: usize| {
        let label = here(if at == 0 { say::swept_from } else { say::swept_to });
        move || {
            let input = chosen.with(|c| c.input)?;
            Some(view! { <End label=label.clone() input chosen at/> })
        }
    };
    view! {
        <div class="swept">
            <Picked label text=named value on_choose=choose>{options()}</Picked>
            {end(0)}{end(1)}
        </div>
    }
}

/// One end of a sweep.
#[component]
fn End(
    label: Cow<'static, str>,
    input: &'static Input,
    chosen: RwSignal<Chosen>,
    at: usize,
) -> impl IntoView {
    let state = use_app_state();
    let quantity = input.quantity();
    let now = move || {
        let ends = state.with(|design| chosen.get().ends(design));
        ends.map(|(_, ends)| quantity.format(ends[at], state.units.get())).unwrap_or_default()
    };
    let typed = move |event| {
        let text = event_target_value(&event);
        let read = quantity.parse(&text, state.units.get_untracked()).ok();
        // What is no number brings the usual end back.
        chosen.update(|c| c.ends[at] = read.map(|value| input.within(value)));
    };
    view! {
        <label class="field">
            <span>{label}</span>
            <span class="entry">
                <input type="text" inputmode="decimal" autocomplete="off" prop:value=now on:change=typed/>
                <span class="unit">{move || quantity.suffix(state.units.get())}</span>
            </span>
        </label>
    }
}

#[component]
fn Chart(sweep: Memo<Option<Sweep>>) -> impl IntoView {
    let state = use_app_state();
    let width = RwSignal::new(None);
    let paper = NodeRef::new();
    watch_width(paper, width);
    let drawn = Memo::new(move |_| {
        let px = width.get().unwrap_or(USUAL_PX);
        let letter = LETTER_PX * text_scale() / px;
        drawn_of(sweep, state.reader(), px < NARROW_PX, letter)
    });
    let view_box = move || {
        drawn.with(|scene| format!("0 0 {:.4} {:.4}", scene.bounds.width(), scene.bounds.height()))
    };
    let file = Callback::new(move |()| untrack(|| svg_file(&drawn.get(), &told(state, sweep))));
    let figure =
        Callback::new(move |letter| untrack(|| drawn_of(sweep, state.reader(), false, letter)));
    let title = Memo::new(move |_| told(state, sweep));
    let refining = move || {
        let working = sweep.with(|s| s.as_ref().is_some_and(|s| !s.is_done()));
        working.then(|| here(say::sweep_refining))
    };
    view! {
        <figure class="view curves swept-chart">
            <figcaption>{move || told(state, sweep)}" "<span class="quiet" role="status">{refining}</span></figcaption>
            <div node_ref=paper>
                <svg viewBox=view_box role="img" aria-label=move || told(state, sweep)><SceneMarks scene=drawn/></svg>
            </div>
            <div class="row beside">
                {move || view! { <CopyButtons what=title.get() name="sweep" file scene=figure/> }}
            </div>
        </figure>
    }
}

/// Draws a sweep on a frame.
type Draw = fn(&Frame, &Sweep, Reader) -> Scene;

/// The chart or the map of a sweep for letters of a share of its width.
fn drawn_of(sweep: Memo<Option<Sweep>>, reader: Reader, is_narrow: bool, letter: f64) -> Scene {
    sweep.with(|sweep| {
        let is_map = sweep.as_ref().is_some_and(|sweep| sweep.is_map);
        let (frame, draw): (Frame, Draw) = match (is_map, is_narrow) {
            (true, true) => (sweep_map_frame(1.15, letter), sweep_map),
            (true, false) => (sweep_map_frame(0.66, letter), sweep_map),
            (false, true) => (sweep_frame(0.7, letter), sweep_chart),
            (false, false) => (sweep_frame(0.45, letter), sweep_chart),
        };
        sweep.as_ref().map_or_else(|| Scene::new(frame.bounds), |sweep| draw(&frame, sweep, reader))
    })
}

/// What is swept, as a title.
fn told(state: AppState, sweep: Memo<Option<Sweep>>) -> String {
    sweep.with(|sweep| {
        let Some(sweep) = sweep else { return String::new() };
        let each = sweep.each.as_ref().map(|each| each.input.name());
        let (figure, along) = (sweep.figure.name(), sweep.along.input.name());
        let told = match each {
            Some(up) if sweep.is_map => say::swept_over_both(figure, along, up),
            Some(each) => say::swept_for_each(figure, along, each),
            None => say::swept(figure, along),
        };
        told.show(state.reader())
    })
}

/// The curves that are columns of the table: every so many rows of a map.
fn columns(sweep: &Sweep) -> impl Iterator<Item = usize> + use<> {
    let all = sweep.curves();
    let every = if sweep.is_map { (all.saturating_sub(1)).div_ceil(COLUMNS - 1).max(1) } else { 1 };
    (0..all).step_by(every)
}

/// The same numbers as a table and as a file.
#[component]
fn Known(sweep: Memo<Option<Sweep>>) -> impl IntoView {
    let state = use_app_state();
    let save = move |_| {
        let Some(sweep) = sweep.get_untracked() else { return };
        let text = untrack(|| state.analysis.with(|a| sweep_csv(&sweep, a, state.reader())));
        download(state, "-sweep.csv", "text/csv", text.as_bytes());
    };
    let is_whole = move || sweep.with(|s| s.as_ref().is_some_and(Sweep::is_done));
    let heads = move || {
        let reader = state.reader();
        sweep.with(|sweep| {
            let sweep = sweep.as_ref()?;
            let first = here(sweep.along.input.name()).into_owned();
            let each = columns(sweep).map(|nth| match &sweep.each {
                Some(each) => each.values.get(nth).map_or_else(String::new, |value| {
                    each.input.quantity().show(*value, reader.units)
                }),
                None => here(sweep.figure.name()).into_owned(),
            });
            let heads = [first].into_iter().chain(each);
            Some(heads.map(|head| view! { <th scope="col">{head}</th> }).collect_view())
        })
    };
    let rows = move || {
        let units = state.units.get();
        sweep.with(|sweep| {
            let sweep = sweep.as_ref()?;
            let every = sweep.along.values.len().div_ceil(ROWS).max(1);
            let own = sweep.own().map(|(own, _)| own);
            let row = |(at, value): (usize, &f64)| {
                let cells = columns(sweep).map(|nth| {
                    let value = sweep.curve(nth).get(at).copied().flatten();
                    let shown = value.map(|v| sweep.figure.quantity.show_result(v, units));
                    view! { <td>{shown.unwrap_or_else(|| ABSENT.to_owned())}</td> }
                });
                let is_own = own.is_some_and(|own| (own - value).abs() < 1e-9);
                view! {
                    <tr aria-current=is_own.then_some("true")>
                        <th scope="row">{sweep.along.input.quantity().show(*value, units)}</th>{cells.collect_view()}
                    </tr>
                }
            };
            let rows = sweep.along.values.iter().enumerate().step_by(every);
            Some(rows.map(row).collect_view())
        })
    };
    view! {
        <div class="row"><button disabled=move || !is_whole() on:click=save>{here(say::save_sweep)}</button></div>
        <details class="table">
            <summary>{here(say::sweep_as_table)}</summary>
            <div class="scroll" tabindex="0" role="region" aria-label=here(say::sweep_as_table)>
                <table class="figures"><thead><tr>{heads}</tr></thead><tbody>{rows}</tbody></table>
            </div>
        </details>
    }
}
