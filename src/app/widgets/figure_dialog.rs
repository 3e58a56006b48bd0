//! A drawing or a chart as a figure for a paper: its width, its letters, its inks, its words, its caption.

use std::sync::Arc;

use leptos::prelude::*;
use wasm_bindgen_futures::spawn_local;

use crenel::design::LINK_LIMIT;
use crenel::draw::{MM_PER_POINT, printed};
use crenel::export::{FigureStyle, Ink, Letters, SvgSize, figure_caption, figure_svg};
use crenel::units::decimal;
use crenel_words::Phrase;
use crenel_words::page::figure as say;

use crate::dom::text_of;
use crate::part::part;
use crate::state::persistence::link_here;
use crate::state::{Dialog, Printing, here, use_app_state};
use crate::widgets::choose::Choose;
use crate::widgets::clipboard::save_picture;
use crate::widgets::dialog::Sheet;
use crate::widgets::figure_paper::print_figure;
use crate::widgets::files::download;

#[component]
pub(crate) fn FigureDialog() -> impl IntoView {
    view! { <Sheet which=Dialog::Figure title=say::title show=part!(more, figure, view! { <Making/> })/> }
}

/// Widths of a column, of a column and a half and of a page, mm; 0 is a width in pixels.
const WIDTHS: [(u32, Phrase); 4] =
    [(85, say::mm_85), (120, say::mm_120), (175, say::mm_175), (IN_PIXELS, say::in_pixels)];

const IN_PIXELS: u32 = 0;

/// The width in pixels to begin with, and between which it can be.
const USUAL_PX: u32 = 600;
const PIXELS: [u32; 2] = [200, 4000];

/// Heights of letters, points.
const LETTERS: [(u32, Phrase); 6] = [
    (7, say::pt_7),
    (8, say::pt_8),
    (9, say::pt_9),
    (10, say::pt_10),
    (11, say::pt_11),
    (12, say::pt_12),
];

const INKS: [(bool, Phrase); 2] = [(false, say::in_colour), (true, say::in_black)];

/// Whether words are outlines.
const WORDS: [(bool, Phrase); 2] = [(false, say::as_text), (true, say::as_paths)];

/// The file with the outlines of letters.
const LETTERS_FILE: &str = "letters.txt";

/// How many times as many pixels as a screen has at that size.
const TIMES: [(u32, Phrase); 4] =
    [(1, say::times_1), (2, say::times_2), (3, say::times_3), (4, say::times_4)];

#[component]
fn Making() -> impl IntoView {
    let state = use_app_state();
    let made = move || state.printing.get().map(|printing| view! { <Figure printing/> });
    view! { {made} }
}

#[component]
fn Figure(printing: Printing) -> impl IntoView {
    let state = use_app_state();
    let width = RwSignal::new(85_u32);
    let pixels = RwSignal::new(USUAL_PX);
    let wide_mm = Memo::new(move |_| match width.get() {
        IN_PIXELS => f64::from(pixels.get()) / SvgSize::PX_PER_MM,
        width => f64::from(width),
    });
    let outlined = RwSignal::new(false);
    let letters_of = RwSignal::new(None::<Arc<Letters>>);
    let failed = RwSignal::new(false);
    let letters = RwSignal::new(8_u32);
    let black = RwSignal::new(false);
    let times = RwSignal::new(4_u32);
    let with_caption = RwSignal::new(true);
    let with_link = RwSignal::new(false);
    let Printing { what, name, scene } = printing;
    let what = Arc::new(what);
    let caption = {
        let what = Arc::clone(&what);
        move || {
            if !with_caption.get() {
                return Vec::new();
            }
            let link = with_link.get().then(|| link_here(state)).filter(|l| l.len() <= LINK_LIMIT);
            let version = env!("CARGO_PKG_VERSION");
            state
                .analysis
                .with(|a| figure_caption(&what, a, version, link.as_deref(), state.reader()))
        }
    };
    let made = Memo::new(move |_| {
        let (wide, points) = (wide_mm.get(), f64::from(letters.get()));
        let laid_out = scene.run(points * MM_PER_POINT / wide);
        let ink = if black.get() { Ink::Black } else { Ink::Colour };
        let title = state.with(|d| d.title.clone());
        let scene = printed(&laid_out, wide, points, &caption());
        let paper =
            [scene.bounds.width(), scene.bounds.height()].map(|mm| (mm / MM_PER_POINT).round());
        let all = letters_of.get().filter(|_| outlined.get());
        let size = if width.get() == IN_PIXELS { SvgSize::Pixels } else { SvgSize::Millimetres };
        let style = FigureStyle { ink, size, letters: all.as_deref() };
        (figure_svg(&scene, &title, style), paper)
    });
    let svg = Memo::new(move |_| made.with(|(svg, _)| svg.clone()));
    let save_svg = move |_| {
        let text = svg.get_untracked();
        download(state, &format!("{name}.svg"), "image/svg+xml", text.as_bytes());
    };
    let save_png = move |_| {
        let px = wide_mm.get_untracked() * f64::from(times.get_untracked()) * SvgSize::PX_PER_MM;
        save_picture(state, svg.get_untracked(), px, format!("{name}.png"));
    };
    let address = move || {
        let encoded = js_sys::encode_uri_component(&svg.get());
        format!("data:image/svg+xml;charset=utf-8,{}", String::from(encoded))
    };
    let print = move |_| {
        let paper = made.with_untracked(|(_, paper)| *paper);
        print_figure(state, untrack(address), paper);
    };
    let choose_words = move |to: bool| {
        outlined.set(to);
        if to && letters_of.with_untracked(Option::is_none) {
            fetch_letters(letters_of, failed);
        }
    };
    let paper = move || {
        let sides = made.with(|(_, paper)| paper.map(|points| decimal(points * MM_PER_POINT, 2)));
        let [wide, high] = sides;
        say::paper(wide, high).show(state.reader())
    };
    // What has a letter without an outline stays text.
    let left = move || {
        let has_letters = outlined.get() && letters_of.with(Option::is_some);
        let left = svg.with(|svg| svg.matches("<text").count());
        (has_letters && left > 0).then(|| say::stays_text(left).show(state.reader()))
    };
    let not_loaded = move || (outlined.get() && failed.get()).then(|| here(say::no_letters));
    let label = what.to_string();
    view! {
        <div class="figure-making">
            <div class="row">
                <Choose label=here(say::width) words=&WIDTHS value=width
                    on_choose=Callback::new(move |to| width.set(to))/>
                {move || (width.get() == IN_PIXELS).then(|| view! { <Pixels pixels/> })}
                <Choose label=here(say::letters) words=&LETTERS value=letters
                    on_choose=Callback::new(move |to| letters.set(to))/>
                <Choose label=here(say::ink) words=&INKS value=black
                    on_choose=Callback::new(move |to| black.set(to))/>
                <Choose label=here(say::words) words=&WORDS value=outlined on_choose=Callback::new(choose_words)/>
            </div>
            <div class="row">
                <Check name=say::caption on=with_caption/>
                <Check name=say::link_in_caption on=with_link/>
            </div>
            <p class="quiet" role="status">{left}{not_loaded}</p>
            <img alt=label src=address/>
            <div class="row">
                <button class="main" on:click=save_svg>{here(say::save_svg)}</button>
                <button on:click=save_png>{here(say::save_png)}</button>
                <button on:click=print>{here(say::print)}</button>
                <Choose label=here(say::resolution) words=&TIMES value=times
                    on_choose=Callback::new(move |to| times.set(to))/>
            </div>
            <p class="quiet paper-size">{paper}</p>
        </div>
    }
}

#[component]
fn Check(name: Phrase, on: RwSignal<bool>) -> impl IntoView {
    let turned = move |event| on.set(event_target_checked(&event));
    view! {
        <label class="switch">
            <input type="checkbox" prop:checked=on on:change=turned/>
            <span>{here(name)}</span>
        </label>
    }
}

/// The width in pixels.
#[component]
fn Pixels(pixels: RwSignal<u32>) -> impl IntoView {
    let [least, most] = PIXELS;
    // What is no number brings the usual width back.
    let typed = move |event| {
        let read = event_target_value(&event).trim().parse::<u32>();
        pixels.set(read.unwrap_or(USUAL_PX).clamp(least, most));
        pixels.notify();
    };
    view! {
        <label class="field">
            <span>{here(say::pixels)}</span>
            <input type="text" inputmode="numeric" autocomplete="off" prop:value=move || pixels.get().to_string()
                on:change=typed/>
        </label>
    }
}

/// Fetches the outlines of letters, when they are first wanted.
fn fetch_letters(letters: RwSignal<Option<Arc<Letters>>>, failed: RwSignal<bool>) {
    failed.set(false);
    spawn_local(async move {
        // By then the sheet may be closed.
        let _ = match text_of(LETTERS_FILE).await {
            Ok(file) => letters.try_set(Some(Arc::new(Letters::read(&file)))).map(drop),
            Err(_) => failed.try_set(true).map(drop),
        };
    });
}
