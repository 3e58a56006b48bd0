//! The drum: its development and the section along the shafts, both at the angle of one cursor.

use std::sync::Arc;

use leptos::prelude::*;

use crenel::draw::tracks_developed;
use crenel::export::{dxf, svg_file};
use crenel::units::Quantity;
use crenel_words::page::{drawing, whole as say};
use crenel_words::{Phrase, Reader, Value};

use super::chart::Chart;
use super::section::{Section, Standing, section_paper};
use super::stroke::StrokeButtons;
use super::turning::{STEP_DEG, Turning};
use crate::state::{AppState, Boxed, here, use_app_state};
use crate::widgets::clipboard::CopyButtons;
use crate::widgets::files::download;
use crate::widgets::menu::Menu;

#[component]
pub(super) fn Development(boxed: Signal<Arc<Boxed>>) -> impl IntoView {
    let state = use_app_state();
    let cursor = RwSignal::new(boxed.with_untracked(|boxed| {
        // Where the worst gear is in, if the drum has it.
        boxed.analysis.position_of(boxed.worst.gear)
    }));
    let turning = Turning { cursor, running: RwSignal::new(false) };
    on_cleanup(move || turning.running.set(false));
    let range = Memo::new(move |_| super::chart::with_chart(boxed, |chart| chart.range_deg()));
    let typed = move |event| {
        if let Ok(deg) = event_target_value(&event).parse() {
            turning.put(deg);
        }
    };
    let reading = move || reading(&boxed.get(), cursor.get(), state.reader());
    let live = move || if turning.running.get() { "off" } else { "polite" };
    view! {
        <section class="whole-box drum-development" aria-label=here(say::drum_drawing)>
            <div class="drum-board">
                <figure class="drum-figure">
                    <Chart boxed turning/>
                    <figcaption class="quiet">{here(say::drum_caption)}</figcaption>
                </figure>
                <figure class="drum-figure">
                    <Section boxed turning/>
                    <figcaption class="quiet">{here(say::section_caption)}</figcaption>
                </figure>
            </div>
            <div class="drum-at">
                <label class="row drum-cursor">
                    <span>{here(say::drum_angle)}</span>
                    <input type="range" class="seek" min=move || range.get()[0] max=move || range.get()[1] step=STEP_DEG
                        prop:value=move || cursor.get() aria-valuetext=reading on:input=typed/>
                </label>
                <StrokeButtons boxed turning/>
                <p class="drum-reading" role="status" aria-live=live>{reading}</p>
            </div>
            <Standing boxed turning/>
            <DrumFiles boxed turning/>
        </section>
    }
}

/// Which gears touch at a drum angle, how deep, and whether they hold.
fn reading(boxed: &Boxed, deg: f64, reader: Reader) -> String {
    let analysis = &boxed.analysis;
    let touching = analysis.depths_at(deg).into_iter().zip(&analysis.drum.gears);
    let told: Vec<Value> = touching
        .filter(|((_, mm), _)| *mm > 0.0)
        .map(|((gear, mm), own)| {
            let says = if mm >= own.hold_mm { say::holds } else { say::meets };
            says(gear, Value::Result(Quantity::Length, mm)).into()
        })
        .collect();
    if told.is_empty() {
        say::none_in(deg).show(reader)
    } else {
        say::at_angle(deg, told).show(reader)
    }
}

/// The drawings as files, and to copy.
#[component]
fn DrumFiles(boxed: Signal<Arc<Boxed>>, turning: Turning) -> impl IntoView {
    let state = use_app_state();
    let diameter = RwSignal::new(String::new());
    let chart = Callback::new(move |()| chart_file(state, boxed, turning));
    let section = Callback::new(move |()| section_file(state, boxed, turning));
    let save = move |name: &'static str, kind: &'static str, make: Callback<(), String>| {
        move |_| download(state, name, kind, make.run(()).as_bytes())
    };
    let section_dxf = Callback::new(move |()| {
        let deg = turning.cursor.get_untracked();
        boxed.with_untracked(|b| dxf(&section_paper(&b.analysis, deg, untrack(|| state.reader()))))
    });
    let tracks = Callback::new(move |()| {
        let mm = diameter.get_untracked().trim().replace(',', ".").parse().ok();
        let reader = untrack(|| state.reader());
        boxed.with_untracked(|b| dxf(&tracks_developed(&b.analysis, mm, reader)))
    });
    const SVG: &str = "image/svg+xml";
    const DXF: &str = "image/vnd.dxf";
    let group = |title: Phrase, name: &'static str, file, buttons: AnyView| {
        let head = here(title);
        view! {
            <Menu title=move || here(title) class="menu drum-menu" name=here(drawing::tools_of(head.to_string())) stays=true>
                <CopyButtons what=here(title) name file/>
            </Menu>
            {buttons}
        }
    };
    let of_chart =
        view! { <button on:click=save("drum.svg", SVG, chart)>{here(say::save_drum)}</button> };
    let of_section = view! {
        <button on:click=save("shafts.svg", SVG, section)>{here(say::save_section_svg)}</button>
        <button on:click=save("shafts.dxf", DXF, section_dxf)>{here(say::save_section_dxf)}</button>
    };
    view! {
        <section class="drum-files" aria-label=here(say::drum_files)>
            <h2>{here(say::drum_files)}</h2>
            <div class="row">{group(say::drum_drawing, "drum", chart, of_chart.into_any())}</div>
            <div class="row">{group(say::section, "shafts", section, of_section.into_any())}</div>
            <div class="row">
                <label class="drum-diameter">
                    <span>{here(say::drum_diameter)}</span>
                    <input type="text" inputmode="decimal" autocomplete="off" prop:value=move || diameter.get()
                        on:input=move |event| diameter.set(event_target_value(&event))/>
                </label>
                <button on:click=save("drum-tracks.dxf", DXF, tracks)>{here(say::save_tracks)}</button>
            </div>
        </section>
    }
}

fn chart_file(state: AppState, boxed: Signal<Arc<Boxed>>, turning: Turning) -> String {
    let deg = turning.cursor.get_untracked();
    let reader = untrack(|| state.reader());
    let scene = untrack(|| super::chart::chart_scene(boxed, deg, reader));
    svg_file(&scene, &state.with(|d| d.name().to_owned()))
}

fn section_file(state: AppState, boxed: Signal<Arc<Boxed>>, turning: Turning) -> String {
    let deg = turning.cursor.get_untracked();
    let reader = untrack(|| state.reader());
    let scene = boxed.with_untracked(|b| section_paper(&b.analysis, deg, reader));
    svg_file(&scene, &state.with(|d| d.name().to_owned()))
}
