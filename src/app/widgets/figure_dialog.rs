//! A drawing or a chart as a figure for a paper: its width, its letters, its inks, its caption.

use std::sync::Arc;

use leptos::prelude::*;

use crenel::design::LINK_LIMIT;
use crenel::draw::{MM_PER_POINT, printed};
use crenel::export::{Ink, figure_caption, figure_svg};
use crenel_words::Phrase;
use crenel_words::page::figure as say;

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

/// Widths of a column, of a column and a half and of a page, mm.
const WIDTHS: [(u32, Phrase); 3] = [(85, say::mm_85), (120, say::mm_120), (175, say::mm_175)];

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

/// How many times as many pixels as a screen has at that size.
const TIMES: [(u32, Phrase); 4] =
    [(1, say::times_1), (2, say::times_2), (3, say::times_3), (4, say::times_4)];

/// Pixels of a screen in a millimetre.
const PX_PER_MM: f64 = 96.0 / 25.4;

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
        let (wide, points) = (f64::from(width.get()), f64::from(letters.get()));
        let laid_out = scene.run(points * MM_PER_POINT / wide);
        let ink = if black.get() { Ink::Black } else { Ink::Colour };
        let title = state.with(|d| d.title.clone());
        let scene = printed(&laid_out, wide, points, &caption());
        let size = [scene.bounds.width(), scene.bounds.height()];
        (figure_svg(&scene, &title, ink), size)
    });
    let svg = Memo::new(move |_| made.with(|(svg, _)| svg.clone()));
    let save_svg = move |_| {
        let text = svg.get_untracked();
        download(state, &format!("{name}.svg"), "image/svg+xml", text.as_bytes());
    };
    let save_png = move |_| {
        let px = f64::from(width.get_untracked() * times.get_untracked()) * PX_PER_MM;
        save_picture(state, svg.get_untracked(), px, format!("{name}.png"));
    };
    let address = move || {
        let encoded = js_sys::encode_uri_component(&svg.get());
        format!("data:image/svg+xml;charset=utf-8,{}", String::from(encoded))
    };
    let print = move |_| {
        let size = made.with_untracked(|(_, size)| *size);
        print_figure(state, untrack(address), size);
    };
    let label = what.to_string();
    view! {
        <div class="figure-making">
            <div class="row">
                <Choose label=here(say::width) words=&WIDTHS value=width
                    on_choose=Callback::new(move |to| width.set(to))/>
                <Choose label=here(say::letters) words=&LETTERS value=letters
                    on_choose=Callback::new(move |to| letters.set(to))/>
                <Choose label=here(say::ink) words=&INKS value=black
                    on_choose=Callback::new(move |to| black.set(to))/>
            </div>
            <div class="row">
                <Check name=say::caption on=with_caption/>
                <Check name=say::link_in_caption on=with_link/>
            </div>
            <img alt=label src=address/>
            <div class="row">
                <button class="main" on:click=save_svg>{here(say::save_svg)}</button>
                <button on:click=save_png>{here(say::save_png)}</button>
                <button on:click=print>{here(say::print)}</button>
                <Choose label=here(say::resolution) words=&TIMES value=times
                    on_choose=Callback::new(move |to| times.set(to))/>
            </div>
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
