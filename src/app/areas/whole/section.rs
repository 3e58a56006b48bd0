//! The section along the shafts at the cursor, and how every fork and gear stands there.

use std::sync::Arc;

use leptos::html::Div;
use leptos::prelude::*;

use crenel::draw::{Scene, ShaftSection};
use crenel::gearset::{GearStanding, GearsetAnalysis, Meeting, SliderStanding};
use crenel::units::Quantity;
use crenel_words::page::whole as say;
use crenel_words::{Message, Reader, Value};

use super::chart::{DRAWING_PX, LETTER_PX};
use super::turning::Turning;
use super::{gear_button, open_dogs};
use crate::dom::text_scale;
use crate::state::{Boxed, here, use_app_state};
use crate::widgets::pointer::{scene_point, share_of, watch_width};
use crate::widgets::scene_marks::SceneMarks;

/// The section for a file.
pub(super) fn section_paper(analysis: &GearsetAnalysis, deg: f64, reader: Reader) -> Scene {
    ShaftSection::at(analysis, deg).paper(reader)
}

#[component]
pub(super) fn Section(boxed: Signal<Arc<Boxed>>, turning: Turning) -> impl IntoView {
    let state = use_app_state();
    let (width, paper) = (RwSignal::new(None), NodeRef::<Div>::new());
    watch_width(paper, width);
    let letter = move || LETTER_PX * text_scale() / width.get().unwrap_or(DRAWING_PX);
    let frame = Memo::new(move |_| {
        boxed.with(|boxed| ShaftSection::at(&boxed.analysis, 0.0).frame(letter()))
    });
    let scene = Memo::new(move |_| {
        let (reader, deg) = (state.reader(), turning.cursor.get());
        boxed.with(|boxed| {
            frame.with(|frame| ShaftSection::at(&boxed.analysis, deg).draw(frame, reader))
        })
    });
    let view_box = move || {
        let bounds = frame.get().bounds;
        format!("0 0 {:.4} {:.4}", bounds.width(), bounds.height())
    };
    let pressed = move |event: web_sys::MouseEvent| {
        let Some(paper) = paper.get_untracked() else { return };
        let at = scene_point(&frame.get_untracked().bounds, share_of(&paper, &event));
        let deg = turning.cursor.get_untracked();
        let gear = boxed.with_untracked(|boxed| ShaftSection::at(&boxed.analysis, deg).gear_at(at));
        gear.into_iter().for_each(|gear| open_dogs(state, gear));
    };
    view! {
        <div class="row head"><h2>{here(say::section)}</h2></div>
        <div class="view shafts" node_ref=paper on:click=pressed>
            <svg viewBox=view_box role="img" aria-label=here(say::section)><SceneMarks scene/></svg>
        </div>
    }
}

/// How the forks and gears stand, each gear with the way to its dogs.
#[component]
pub(super) fn Standing(boxed: Signal<Arc<Boxed>>, turning: Turning) -> impl IntoView {
    let state = use_app_state();
    let standing =
        Memo::new(move |_| boxed.with(|boxed| boxed.analysis.standing(turning.cursor.get())));
    let count = Memo::new(move |_| standing.with(Vec::len));
    let row = move |at: usize| {
        let own = Memo::new(move |_| standing.with(|all| all.get(at).cloned()));
        let gears =
            Memo::new(move |_| own.with(|own| own.as_ref().map_or(0, |own| own.gears.len())));
        let gear = move |nth: usize| {
            let of = Memo::new(move |_| {
                own.with(|own| own.as_ref().and_then(|own| own.gears.get(nth).copied()))
            });
            let number = Memo::new(move |_| of.get().map_or(0, |of| of.gear));
            let told = move || of.get().map(|of| gear_words(&of).show(state.reader()));
            view! { <li>{move || gear_button(state, number.get())}" "<span>{told}</span></li> }
        };
        let fork =
            move || own.with(|own| own.as_ref().map(|own| fork_words(own).show(state.reader())));
        let rests = move || own.with(|own| own.as_ref().is_some_and(carries)).to_string();
        view! {
            <li class="standing-fork" data-carries=rests>
                <strong>{fork}</strong>
                <ul><For each=move || 0..gears.get() key=|nth| *nth children=gear/></ul>
            </li>
        }
    };
    view! {
        <section class="standing" aria-label=here(say::standing)>
            <h2>{here(say::standing)}</h2>
            <ul><For each=move || 0..count.get() key=|at| *at children=row/></ul>
        </section>
    }
}

fn carries(own: &SliderStanding) -> bool {
    own.room_mm.iter().any(|room| *room <= 0.0)
}

fn fork_words(own: &SliderStanding) -> Message {
    let [low, high] = own.room_mm.map(|mm| Value::Result(Quantity::Length, mm.max(0.0)));
    if carries(own) { say::fork_carries(own.fork) } else { say::fork_room(own.fork, low, high) }
}

fn gear_words(of: &GearStanding) -> Message {
    let mm = Value::Result(Quantity::Length, of.overlap_mm.abs());
    match of.meeting {
        Meeting::Apart => say::is_clear(mm),
        Meeting::Touching => say::is_touching(mm),
        Meeting::Holding if of.is_home => say::is_home(mm),
        Meeting::Holding => say::is_holding(mm),
    }
}
