//! Layouts side by side: one's own first state, the variants, and up to three pairs of rings beside them.

mod sweeping;

use std::borrow::Cow;
use std::sync::Arc;

use crenel::compare::{Cell, Column, CompareRow, Comparison, MOST_COLUMNS, Shown, shown};
use crenel::model::chance_top_rpm;
use crenel_words::page::{common, compare as say, variants};
use crenel_words::{Message, Phrase, Reader, Value, Words as _};
use gloo_events::EventListener;
use leptos::prelude::*;
use wasm_bindgen_futures::spawn_local;

use crenel::design::{
    Design, Layout, MOST_ALTERNATIVES, Need, Normalize, Opened, RingPair, RingSpec, START_RINGS,
    StartRing, decode,
};
use crenel::draw::views::FACE;
use crenel::draw::{
    Curve, Frame, Trade, ViewOptions, chance_curves, chance_frame, top_of, trade_chart,
};
use crenel::export::{comparison_csv, curves_csv, svg_file};
use crenel::figures::moment_words;
use crenel::shift::OutcomeMap;
use crenel::units::{ABSENT, Quantity};
use crenel::verdict::Stage;

use self::sweeping::Sweeping;
use crate::background::maps as background_maps;
use crate::deferred::LazyDetails;
use crate::dom::text_scale;
use crate::part::part;
use crate::state::{
    AppState, Area, AreaKey, Content, Dialog, Player, Reel, advice, here, use_app_state,
};
use crate::widgets::chart_figure::{ChartFigure, ChartRoom};
use crate::widgets::choose::Choose;
use crate::widgets::clipboard::CopyButtons;
use crate::widgets::explained::Explained;
use crate::widgets::file_picker::FilePicker;
use crate::widgets::files::{download, read_design};
use crate::widgets::link_code::LinkCode;
use crate::widgets::menu::{Menu, close_menus};
use crate::widgets::optional_number::OptionalNumber;
use crate::widgets::play_bar::Playing;
use crate::widgets::pointer::watch_width;
use crate::widgets::scene_marks::SceneMarks;
use crate::widgets::variants::{switch_variant, variant_name};

pub(super) const AREA: Area<AnyView> = Area {
    layouts,
    begins: |design| layouts(design) > 1,
    ..Area::of(
        Stage::Change,
        AreaKey("compare"),
        say::title,
        Content::Page(part!(shop, compare, view! { <Compare/> })),
    )
};

fn layouts(design: &Design) -> usize {
    if design.alternatives.is_empty() { 1 } else { shown(design).len() }
}

const NORMALIZED: [(Normalize, Phrase); 3] = [
    (Normalize::AsDrawn, say::hold_nothing),
    (Normalize::DogWidth, say::hold_dog_width),
    (Normalize::FreeAngle, say::hold_free_angle),
];

/// Letters on the small drawings and the curves, CSS pixels, and the width they are laid out for.
const LETTER_PX: f64 = 12.0;
const FACE_PX: f64 = 300.0;
const CURVES_PX: f64 = 620.0;

/// A drawing narrower than this has no words: the figures below it tell the numbers.
const WORDLESS_PX: f64 = 220.0;
const WORDLESS_LETTER_PX: f64 = 5.0;

/// The width that the curves are laid out for on paper. It is small so that their letters can be read.
const PRINTED_PX: f64 = 330.0;

#[component]
fn Compare() -> impl IntoView {
    let state = use_app_state();
    let comparison = Memo::new(move |_| Arc::new(state.with(|d| Comparison::of(&beside(d)))));
    let face_width = RwSignal::new(None);
    let reel = Memo::new(move |_| {
        let analyses = |c: &Arc<Comparison>| -> Vec<_> {
            c.columns.iter().map(|column| Arc::clone(&column.analysis)).collect()
        };
        Reel::of_shifts(&comparison.with(analyses))
    });
    let player = Player::new(reel.into());
    let guessing = RwSignal::new(false);
    view! {
        <section class="compare" aria-label=here(say::compare_layouts)>
            <div class="row head">
                <h2>{here(say::side_by_side)}</h2>
                <Adding/>
                <p class="quiet">{here(say::same_conditions)}</p>
            </div>
            <OwnVariants/>
            <Holding comparison/>
            <div class="columns">{move || columns(&comparison.get(), state, face_width, player, guessing)}</div>
            <Playing player told=Signal::derive(move || all_shift_at(state))/>
            <label class="guessing">
                <input type="checkbox" prop:checked=guessing
                    on:change=move |event| guessing.set(event_target_checked(&event))/>
                <span>{here(say::guess_first)}</span>
            </label>
            <div class="beside-each-other"><Curves comparison/><Trades comparison/></div>
            <div class="differences" aria-live="polite">
                {move || comparison.with(|c| c.differences.iter().map(|told| view! {
                    <p>{told.words(state.reader())}</p>
                }).collect_view())}
            </div>
            <Table comparison/>
            <Sweep/>
            <Files comparison/>
            <div class="print-only code"><LinkCode/></div>
            <p class="print-only">{here(common::calculated_only)}</p>
        </section>
    }
}

/// A sweep of the current design, worked out once it is opened.
#[component]
fn Sweep() -> impl IntoView {
    let lazy = LazyDetails::new();
    view! {
        <details class="sweep" on:toggle=move |_| lazy.open()>
            <summary on:click=move |_| lazy.open()>{here(say::sweep)}</summary>
            {move || lazy.is_opened().then(|| view! { <Sweeping/> })}
        </details>
    }
}

/// The menu with the ways to add a layout.
#[component]
fn Adding() -> impl IntoView {
    let state = use_app_state();
    let full = move || state.with(|d| d.alternatives.len() >= MOST_ALTERNATIVES);
    view! {
        <div class="row adding">
            <Menu title=|| here(say::add_layout) stays=true><WaysToAdd/></Menu>
            {move || full().then(|| view! { <p class="quiet">{here(say::full(MOST_ALTERNATIVES))}</p> })}
        </div>
    }
}

/// What the menu holds. A layout that was added closes it.
#[component]
fn WaysToAdd() -> impl IntoView {
    let state = use_app_state();
    let full = move || state.with(|d| d.alternatives.len() >= MOST_ALTERNATIVES);
    let link = RwSignal::new(String::new());
    let add_file = Callback::new(move |file| {
        spawn_local(async move {
            match read_design(file).await {
                Ok(opened) => add_opened(state, &opened),
                Err(why) => state.tell(here(say::file_not_added(here(why).into_owned())), true),
            }
        });
    });
    let start = RwSignal::new(START_RINGS[0].key.to_owned());
    let from_start = move |_| {
        let key = start.get_untracked();
        if let Some(start) = START_RINGS.iter().find(|start| start.key == key) {
            add(state, state.with(|d| start_pair(start, d)));
        }
    };
    let from_link = move |_| match decode(&link.get_untracked()) {
        Ok(opened) => {
            link.set(String::new());
            add_opened(state, &opened);
        }
        Err(why) => state.tell(here(say::link_not_added(here(why.says()).into_owned())), true),
    };
    let options = START_RINGS
        .iter()
        .map(|start| view! { <option value=start.key>{here(start.name())}</option> });
    view! {
        <button disabled=full on:click=move |_| add(state, state.with(pair_of))>
            {here(common::current_design)}
        </button>
        <FilePicker label=say::file says=say::add_file on_pick=add_file disabled=Signal::derive(full)/>
        <div class="way">
            <select aria-label=here(say::starting_ring) disabled=full prop:value=move || start.get()
                on:change=move |event| start.set(event_target_value(&event))>
                {options.collect_view()}
            </select>
            <button disabled=full on:click=from_start>{here(say::add_ring)}</button>
        </div>
        <div class="way">
            <input type="text" class="link" placeholder=here(say::paste_link) aria-label=here(say::link_to_add)
                autocomplete="off" disabled=full
                prop:value=move || link.get() on:input=move |event| link.set(event_target_value(&event))/>
            <button disabled=move || full() || link.with(|l| l.trim().is_empty()) on:click=from_link>
                {here(say::add_link)}
            </button>
        </div>
    }
}

/// Which of the variants are compared.
#[component]
fn OwnVariants() -> impl IntoView {
    let state = use_app_state();
    let names = Memo::new(move |_| {
        state.with(|d| (0..d.variants.len()).map(|at| variant_name(d, at)).collect::<Vec<_>>())
    });
    let columns = Memo::new(move |_| state.with(shown));
    let full = move || columns.with(|all| all.len() >= MOST_COLUMNS);
    let choice = move |(at, name): (usize, String)| {
        let is_shown = move || columns.with(|all| all.contains(&Shown::Variant(at)));
        // What everything is compared with stays.
        let is_first = move || columns.with(|all| all.first() == Some(&Shown::Variant(at)));
        let turn = move |_| {
            let to = !untrack(is_shown);
            state.change(|d| d.variants.set_compared(at, to));
        };
        view! {
            <button aria-pressed=move || is_shown().to_string()
                disabled=move || is_first() || (full() && !is_shown()) on:click=turn>
                {name}
            </button>
        }
    };
    let choices = move || names.get().into_iter().enumerate().map(choice).collect_view();
    let some = Memo::new(move |_| names.with(|names| !names.is_empty()));
    move || {
        some.get().then(|| {
            view! {
                <div class="row own-variants" role="group" aria-label=here(say::variants_shown)>
                    <span class="quiet">{here(say::variants_shown)}</span>
                    {choices}
                </div>
            }
        })
    }
}

/// The table and the curves as files.
#[component]
fn Files(comparison: Memo<Arc<Comparison>>) -> impl IntoView {
    let state = use_app_state();
    let save = move |ending: &'static str, make: fn(&Comparison, Reader) -> String| {
        let text = comparison.with_untracked(|c| make(c, untrack(|| state.reader())));
        download(state, ending, "text/csv", text.as_bytes());
    };
    view! {
        <div class="row files">
            <button on:click=move |_| save("comparison.csv", comparison_csv)>{here(say::save_table)}</button>
            <button on:click=move |_| save("curves.csv", curves_csv)>{here(say::save_curves)}</button>
        </div>
    }
}

/// The design with something to compare it with: where it has nothing, the layout that is offered.
fn beside(design: &Design) -> Cow<'_, Design> {
    if shown(design).len() > 1 {
        return Cow::Borrowed(design);
    }
    Cow::Owned(Design { alternatives: vec![offered(design)], ..design.clone() })
}

/// The rings of a design with every second dog at half height or, if they are so already, with all dogs tall.
/// Rings that are listed dog by dog get a starting ring beside them.
fn offered(design: &Design) -> RingPair {
    let heights = |ring: &RingSpec| match &ring.layout {
        Layout::Even(even) => Some(even.heights.clone()),
        Layout::Measured(_) => None,
    };
    let start = |key| {
        let found = START_RINGS.iter().find(|start| start.key == key);
        start_pair(found.unwrap_or(&START_RINGS[0]), design)
    };
    let Some(own) = heights(&design.a).filter(|_| heights(&design.b).is_some()) else {
        return start("six-half");
    };
    let (title, now) = if own.len() > 1 {
        (say::all_tall(), vec![1.0])
    } else {
        (say::every_second_lower(), vec![1.0, 0.5])
    };
    let with = |ring: &RingSpec| {
        let mut ring = ring.clone();
        if let Layout::Even(even) = &mut ring.layout {
            even.heights.clone_from(&now);
        }
        ring
    };
    RingPair { title: here(title).into_owned(), a: with(&design.a), b: with(&design.b) }
}

fn pair_of(design: &Design) -> RingPair {
    RingPair { title: design.title.clone(), a: design.a.clone(), b: design.b.clone() }
}

/// A starting ring on both sides, with the diameters, undercut and edge breaks of the current design, so that only
/// the layout differs.
fn start_pair(start: &StartRing, current: &Design) -> RingPair {
    let mut pair =
        RingPair { title: here(start.name()).into_owned(), a: start.ring(), b: start.ring() };
    for (ring, like) in [(&mut pair.a, &current.a), (&mut pair.b, &current.b)] {
        ring.inner_diameter_mm = like.inner_diameter_mm;
        ring.outer_diameter_mm = like.outer_diameter_mm;
        if let (Layout::Even(even), Some(dog)) = (&mut ring.layout, like.to_found().dogs.first()) {
            even.back_cut_drive_deg = dog.back_cut.drive.degrees();
            even.back_cut_coast_deg = dog.back_cut.coast.degrees();
            even.edge_break_mm = dog.edge_break_mm;
        }
    }
    pair
}

/// Adds the rings of a file or a link, and says what was odd about it.
fn add_opened(state: AppState, opened: &Opened) {
    add(state, pair_of(&opened.design));
    if !opened.findings.is_empty() {
        state.tell(here(say::added_with(here(advice(&opened.findings)).into_owned())), true);
    }
}

fn add(state: AppState, pair: RingPair) {
    close_menus(None);
    state.say(here(say::added(pair.title.clone())));
    state.change(|d| {
        if d.alternatives.len() < MOST_ALTERNATIVES {
            d.alternatives.push(pair);
        }
    });
}

/// What is kept equal, and the buttons to share and print.
#[component]
fn Holding(comparison: Memo<Arc<Comparison>>) -> impl IntoView {
    let state = use_app_state();
    let normalize = Signal::derive(move || state.with(|d| d.normalize));
    let choose = Callback::new(move |to| state.change(|d| d.normalize = to));
    let is_held = Memo::new(move |_| normalize.get() != Normalize::AsDrawn);
    // Printing fails only if the page is gone.
    let print = move |_| drop(window().print());
    view! {
        <div class="row holding">
            <Choose label=here(say::keep_equal) words=&NORMALIZED value=normalize on_choose=choose/>
            {move || is_held.get().then(|| view! { <HeldAt comparison/> })}
            <p class="held">{move || comparison.with(|c| c.normalized.show(state.reader()))}</p>
            <button on:click=move |_| state.dialog.set(Some(Dialog::Share))>{here(say::share)}</button>
            <button on:click=print>{here(say::print)}</button>
        </div>
    }
}

/// The value at which it is kept, and what it can be in every layout.
#[component]
fn HeldAt(comparison: Memo<Arc<Comparison>>) -> impl IntoView {
    let state = use_app_state();
    let value = Signal::derive(move || state.with(|d| d.held_deg));
    let put = Callback::new(move |to| state.change(|d| d.held_deg = to));
    let told = move || {
        comparison.with(|c| match c.range_deg {
            Some((least, most)) => say::held_range(
                Value::AtLeast(Quantity::Angle, least),
                Value::AtMost(Quantity::Angle, most),
            ),
            None => say::no_held_range(),
        })
    };
    view! {
        <div class="held-at">
            <OptionalNumber label=here(say::kept_at) quantity=Quantity::Angle value on_change=put
                empty=say::as_first/>
            <p class="quiet">{move || told().show(state.reader())}</p>
        </div>
    }
}

/// The layouts with their drawings at one scale, laid out for the width that the first has on the screen.
fn columns(
    comparison: &Comparison,
    state: AppState,
    width: RwSignal<Option<f64>>,
    player: Player,
    guessing: RwSignal<bool>,
) -> impl IntoView + use<> {
    let across = width.get().unwrap_or(FACE_PX);
    let paper = NodeRef::new();
    watch_width(paper, width);
    let wordless = across < WORDLESS_PX;
    let letter = if wordless { WORDLESS_LETTER_PX } else { LETTER_PX * text_scale() };
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
            // Whoever guesses is told what happens as it happens.
            let shown = time.filter(|_| guessing || !player.running.get());
            let attempt = outcome.shift().map(|shifting| &shifting.attempt);
            attempt.map(|attempt| moment_words(attempt, shown).show(reader))
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

/// The speed difference at which all layouts are played.
fn all_shift_at(state: AppState) -> String {
    let rpm = state.analysis.with(|a| a.pair.as_ref().map(|m| m.shift_case.slip_rpm.abs()));
    rpm.map(|rpm| say::all_shift_at(rpm.round()).show(state.reader())).unwrap_or_default()
}

/// Exchanges the rings of the current design with those beside it.
fn swap(design: &mut Design, at: usize) {
    let current = pair_of(design);
    if let Some(pair) = design.alternatives.get_mut(at) {
        let RingPair { title, a, b } = std::mem::replace(pair, current);
        design.title = title;
        design.replace_rings(a, b);
    }
}

/// Whether the page is being laid out for paper.
fn printing() -> RwSignal<bool> {
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

/// The chances of all layouts in one chart.
#[component]
fn Curves(comparison: Memo<Arc<Comparison>>) -> impl IntoView {
    let state = use_app_state();
    let maps = RwSignal::new(Vec::<Option<Arc<OutcomeMap>>>::new());
    let background = StoredValue::new_local(background_maps::start(move |at, map| {
        maps.update(|maps| {
            if maps.len() <= at {
                maps.resize(at + 1, None);
            }
            maps[at] = Some(Arc::new(map));
        });
    }));
    let top = Memo::new(move |_| {
        comparison
            .with(|c| c.columns.iter().map(|c| chance_top_rpm(&c.analysis)).fold(1.0, f64::max))
    });
    Effect::new(move |_| {
        let designs: Vec<_> =
            comparison.with(|c| c.columns.iter().map(|c| c.analysis.design.clone()).collect());
        maps.set(vec![None; designs.len()]);
        background.with_value(|background| background_maps::ask(background, top.get(), &designs));
    });
    let made_at = move || {
        let slip_rpm = state.analysis.with(|a| {
            let known = a.design.missing(Need::Speed).is_none();
            a.pair.as_ref().filter(|_| known).map(|m| m.shift_case.slip_rpm)
        })?;
        Some(here(say::table_at(slip_rpm.abs().round())))
    };
    let width = RwSignal::new(None);
    let paper = NodeRef::new();
    watch_width(paper, width);
    let printing = printing();
    let frame = move || {
        let across = width.get().unwrap_or(CURVES_PX);
        let (shape, across) = match printing.get() {
            true => (0.42, PRINTED_PX),
            false if across < CURVES_PX / 1.4 => (0.7, across),
            false => (0.42, across),
        };
        chance_frame(top.get(), shape, LETTER_PX * text_scale() / across)
    };
    let scene_on = move |frame: Frame| {
        let maps = maps.get();
        let reader = state.reader();
        comparison.with(|c| {
            let curves: Vec<_> = c
                .columns
                .iter()
                .zip(&maps)
                .filter_map(|(c, map)| {
                    let (number, name, map) = (c.number, c.name().show(reader), map.as_deref()?);
                    Some(Curve { number, name, map })
                })
                .collect();
            chance_curves(&frame, &curves, reader)
        })
    };
    // A memo, so that it is made once for each change: see `AppState::alter`.
    let drawn = Memo::new(move |_| scene_on(frame()));
    let file = Callback::new(move |()| {
        untrack(|| svg_file(&scene_on(frame()), &here(say::chances_by_speed)))
    });
    let figure =
        Callback::new(move |letter| untrack(|| scene_on(chance_frame(top.get(), 0.5, letter))));
    let view_box = move || {
        let bounds = frame().bounds;
        format!("0 0 {:.4} {:.4}", bounds.width(), bounds.height())
    };
    view! {
        <figure class="view curves">
            <figcaption><h3>{here(say::chances_by_speed)}</h3></figcaption>
            <div node_ref=paper>
            <svg viewBox=view_box role="img" aria-label=here(say::curves)><SceneMarks scene=drawn/></svg>
            </div>
            <div class="row beside"><CopyButtons what=here(say::chances_of_all) name="chances" file scene=figure/></div>
            <p class="quiet">{made_at}</p>
        </figure>
    }
}

/// What each layout costs for what it gives, where at least two of them have both.
#[component]
fn Trades(comparison: Memo<Arc<Comparison>>) -> impl IntoView {
    let state = use_app_state();
    let trades = Memo::new(move |_| comparison.with(|c| trades(c, state.reader())));
    let chart = Callback::new(move |room: ChartRoom| {
        let shape = if room.is_narrow { 0.7 } else { 0.42 };
        let reader = state.reader();
        trades.with(|trades| {
            let frame = chance_frame(top_of(trades), shape, room.letter);
            Some(trade_chart(&frame, trades, reader))
        })
    });
    let title = Signal::derive(move || here(say::trade).into_owned());
    move || {
        let shown = trades.with(Vec::len) > 1;
        shown.then(|| view! { <ChartFigure title told=say::trade_chart name="trade" class="trade" chart/> })
    }
}

/// The layouts that go in and have a clunk.
fn trades(comparison: &Comparison, reader: Reader) -> Vec<Trade> {
    let number = |column: &Column, key: &str| {
        column.figures.iter().find(|f| f.figure.key == key).and_then(|f| f.value)
    };
    let trade = |column: &Column| {
        Some(Trade {
            number: column.number,
            name: column.name().show(reader),
            straight_in_rpm: number(column, "straight_in_limit_rpm")?,
            clunk_nm: number(column, "clunk_nm")?,
        })
    };
    comparison.columns.iter().filter_map(trade).collect()
}

/// How many results stand open in the table: those that differ most.
const OPEN_ROWS: usize = 8;

/// The results in three lots: those that differ most, the others that differ, and those that are the same.
#[component]
fn Table(comparison: Memo<Arc<Comparison>>) -> impl IntoView {
    let state = use_app_state();
    let heads = move || {
        let reader = state.reader();
        comparison.with(|c| {
            c.columns.iter().map(|c| view! {
            <th scope="col">{c.number}" "<span class="quiet">{c.name().show(reader)}</span></th>
        }).collect_view()
        })
    };
    let opened = [RwSignal::new(false), RwSignal::new(false)];
    let printing = printing();
    let lot = move |at: usize| {
        comparison.with(|c| {
            let rows = c.by_difference(OPEN_ROWS);
            rows[at].iter().map(|row| line(row, state.reader())).collect_view()
        })
    };
    let folded = move |at: usize, words: fn(usize) -> Message| {
        let opened = opened[at - 1];
        let count = Memo::new(move |_| comparison.with(|c| c.by_difference(OPEN_ROWS)[at].len()));
        let across = move || comparison.with(|c| c.columns.len() + 1);
        let head = move || {
            view! {
                <tr class="fold"><td colspan=across>
                    <button aria-expanded=move || opened.get().to_string()
                        on:click=move |_| opened.update(|is| *is = !*is)>
                        {move || words(count.get()).show(state.reader())}
                    </button>
                </td></tr>
            }
        };
        view! {
            <tbody>
                {move || (count.get() > 0).then(head)}
                {move || (opened.get() || printing.get()).then(|| lot(at))}
            </tbody>
        }
    };
    view! {
        <div class="scroll" tabindex="0" role="region" aria-label=here(say::all_results)>
            <table class="figures results">
                <thead><tr><th scope="col">{here(common::result)}</th>{heads}</tr></thead>
                <tbody>{move || lot(0)}</tbody>
                {folded(1, say::more_that_differ)}
                {folded(2, say::same_in_all)}
            </table>
        </div>
    }
}

/// A cell or a figure of a card, with its mark.
fn shown_with_mark(cell: &Cell, reader: Reader) -> impl IntoView + use<> {
    let mark = cell.is_best.then(|| view! { <span class="mark">" "{here(say::best)}</span> });
    let shown = cell.shown.as_ref().map_or_else(|| ABSENT.to_owned(), |value| value.show(reader));
    view! { {shown}{mark} }
}

/// One result for every layout. Its name opens to the formula and workings.
fn line(row: &CompareRow, reader: Reader) -> impl IntoView + use<> {
    let cells = row
        .cells
        .iter()
        .map(|cell| view! { <td class:best=cell.is_best>{shown_with_mark(cell, reader)}</td> });
    let cells = cells.collect_view();
    let lazy = LazyDetails::new();
    let (figure, formula) = (row.figure, row.formula);
    let workings: Vec<_> = row.cells.iter().map(|cell| cell.working.clone()).collect();
    let details = move || {
        let each = workings.iter().zip(1..).filter_map(|(working, number)| {
            let working = working.as_ref()?.show(reader);
            Some(view! { <dt>{number}</dt><dd>{working}</dd> })
        });
        view! {
            <dl>
                <dt>{here(common::what_it_is)}</dt><dd><Explained text=here(figure.what_it_is())/></dd>
                <dt>{here(common::formula)}</dt><dd class="formula">{here(formula)}</dd>
                {each.collect_view()}
            </dl>
        }
    };
    view! {
        <tr data-row=figure.key>
            <th scope="row">
                <details on:toggle=move |_| lazy.open()>
                    <summary on:click=move |_| lazy.open()>{here(figure.name())}</summary>
                    {move || lazy.is_opened().then(&details)}
                </details>
            </th>
            {cells}
        </tr>
    }
}
