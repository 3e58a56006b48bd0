//! The picture with its circles and flanks, their handles, and a lens that follows the finger.

use leptos::html::{Canvas, Div};
use leptos::prelude::*;
use wasm_bindgen::JsCast as _;
use web_sys::{CanvasRenderingContext2d, HtmlCanvasElement, KeyboardEvent, PointerEvent};

use crenel_photo::{Circle, Handle};
use crenel_words::Message;
use crenel_words::page::photo as say;

use super::desk::{Desk, Grip, side_name};
use super::list::{flank_state, flank_text};
use super::picture::{Picture, size};
use crate::state::here;
use crate::widgets::pointer::{share_of, watch_width};

/// Radius of a handle and of what a finger can touch of it, CSS px.
const HANDLE_PX: f64 = 7.0;
const TOUCH_PX: f64 = 22.0;

/// Width and height of the lens, CSS px, and how many px of the picture it shows.
const LENS_PX: f64 = 132.0;
const LENS_SHOWS: f64 = 33.0;

/// Points of a circle as it is drawn.
const POINTS: u32 = 72;

#[component]
pub(super) fn Stage(desk: Desk, picture: Picture) -> impl IntoView {
    let [width, height] = picture.size();
    let (element, canvas) = (NodeRef::<Div>::new(), NodeRef::<Canvas>::new());
    let shown = RwSignal::new(None);
    watch_width(element, shown);
    let drawn = picture.clone();
    Effect::new(move |_| {
        if let (Some(canvas), Some(wide)) = (canvas.get(), shown.get()) {
            draw_whole(&canvas, &drawn, wide);
        }
    });
    // Pixels of the picture for each CSS pixel.
    let scale = Signal::derive(move || width / shown.get().unwrap_or(width).max(1.0));
    let circles = move || {
        desk.hints.get().map(|hints| {
            let outline = |circle: Circle| view! { <path d=outline(&circle)/> };
            [hints.outer, hints.inner].map(outline).into_iter().collect_view()
        })
    };
    let dogs =
        Memo::new(move |_| desk.ring.with(|ring| ring.as_ref().map_or(0, |ring| ring.dogs.len())));
    let flanks = move || {
        let all = (0..dogs.get()).flat_map(|dog| [(dog, 0), (dog, 1)]);
        all.map(|(dog, side)| view! { <FlankMark desk dog side scale width/> }).collect_view()
    };
    let handles = move || {
        desk.hints.with(Option::is_some).then(|| {
            let handle =
                |handle| view! { <HandleMark desk grip=Grip::Circle(handle) scale width/> };
            Handle::ALL.map(handle).into_iter().collect_view()
        })
    };
    view! {
        <div class="photo-stage" node_ref=element>
            <canvas node_ref=canvas aria-hidden="true"></canvas>
            <svg viewBox=format!("0 0 {width} {height}") role="group" aria-label=here(say::picture_of(desk.sheet.side))>
                <g class="photo-circles">{circles}</g>
                {flanks}
                {handles}
            </svg>
            <Lens desk picture shown/>
        </div>
    }
}

fn outline(circle: &Circle) -> String {
    let point = |at: u32| {
        let [x, y] = circle.at(std::f64::consts::TAU * f64::from(at) / f64::from(POINTS));
        format!("{x:.1},{y:.1}")
    };
    format!("M{}Z", (0..POINTS).map(point).collect::<Vec<_>>().join("L"))
}

/// Draws the picture as large as it is shown, in the pixels of the screen.
fn draw_whole(canvas: &HtmlCanvasElement, picture: &Picture, wide: f64) {
    let [width, height] = picture.size();
    let dense = window().device_pixel_ratio().clamp(1.0, 3.0);
    let wide = (wide * dense).min(width);
    canvas.set_width(whole(wide));
    canvas.set_height(whole(wide * height / width));
    if let Some(context) = context_of(canvas) {
        let (w, h) = (f64::from(canvas.width()), f64::from(canvas.height()));
        // Fails only for a picture that was given back.
        let _ = context.draw_image_with_image_bitmap_and_dw_and_dh(&picture.bitmap, 0.0, 0.0, w, h);
    }
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "the width of a screen"
)]
fn whole(px: f64) -> u32 {
    px.round().clamp(1.0, 8192.0) as u32
}

fn context_of(canvas: &HtmlCanvasElement) -> Option<CanvasRenderingContext2d> {
    canvas.get_context("2d").ok().flatten()?.dyn_into().ok()
}

/// A flank across the tip, and its handle.
#[component]
fn FlankMark(desk: Desk, dog: usize, side: usize, scale: Signal<f64>, width: f64) -> impl IntoView {
    let ends = Memo::new(move |_| {
        let angle = desk.angle(dog, side)?;
        desk.ring.with(|ring| ring.as_ref().map(|ring| ring.flank_at(dog, angle)))
    });
    let at =
        move |end: usize, axis: usize| ends.get().map(|ends| format!("{:.2}", ends[end][axis]));
    let grip = Grip::Flank(dog, side);
    view! {
        <line class="photo-flank" class:unsure=move || !desk.is_used(dog, side)
            class:chosen=move || desk.grip.get() == Some(grip)
            x1=move || at(0, 0) y1=move || at(0, 1) x2=move || at(2, 0) y2=move || at(2, 1)/>
        <HandleMark desk grip scale width/>
    }
}

/// A handle: it is dragged, and arrow keys move it.
#[component]
fn HandleMark(desk: Desk, grip: Grip, scale: Signal<f64>, width: f64) -> impl IntoView {
    let place = Memo::new(move |_| desk.place(grip));
    let shift = move || place.get().map(|[x, y]| format!("translate({x:.2} {y:.2})"));
    let radius = move |px: f64| format!("{:.2}", px * scale.get());
    let value = move || match grip {
        Grip::Flank(dog, side) => {
            let state = flank_state(desk, dog, side).map(|state| here(state).into_owned());
            let told = [Some(flank_text(desk, dog, side)), state];
            Some(told.into_iter().flatten().collect::<Vec<_>>().join(", "))
        }
        Grip::Circle(_) => {
            let [x, y] = place.get()?;
            Some(here(say::at_point(rounded(x), rounded(y))).into_owned())
        }
    };
    // A flank is heard by its angle, a circle by where its handle is.
    let number = move || match grip {
        Grip::Flank(dog, side) => Some(format!("{:.2}", desk.told(dog, side)?[0])),
        Grip::Circle(_) => place.get().map(|p| format!("{:.1}", p[0])),
    };
    let is_flank = matches!(grip, Grip::Flank(..));
    let [least, most] = if is_flank { [-1.0, 359.0] } else { [0.0, width] };
    let down = move |event: PointerEvent| {
        event.prevent_default();
        let target = event.current_target().and_then(|t| t.dyn_into::<web_sys::Element>().ok());
        if let Some(target) = target {
            // Without it the finger must stay on the handle.
            let _ = target.set_pointer_capture(event.pointer_id());
            focus(&target);
        }
        desk.grip.set(Some(grip));
    };
    let moved = move |event: PointerEvent| {
        let target = event.current_target().and_then(|t| t.dyn_into::<web_sys::Element>().ok());
        let Some(target) = target.filter(|t| t.has_pointer_capture(event.pointer_id())) else {
            return;
        };
        let svg = target.closest("svg").ok().flatten();
        let size = desk.picture.with_untracked(|p| p.as_ref().map(Picture::size));
        if let (Some(svg), Some([width, height])) = (svg, size) {
            let [across, down] = share_of(&svg, &event);
            desk.move_to(grip, [across * width, down * height]);
        }
    };
    let up = move |event: PointerEvent| {
        let target = event.current_target().and_then(|t| t.dyn_into::<web_sys::Element>().ok());
        if target.is_some_and(|target| target.has_pointer_capture(event.pointer_id())) {
            if matches!(grip, Grip::Circle(_)) {
                // The lens would hide the edges that the circles snap to.
                desk.grip.set(None);
            }
            desk.let_go(grip);
        }
    };
    let key = move |event: KeyboardEvent| {
        let by = match event.key().as_str() {
            "ArrowLeft" => [-1.0, 0.0],
            "ArrowRight" => [1.0, 0.0],
            "ArrowUp" => [0.0, -1.0],
            "ArrowDown" => [0.0, 1.0],
            _ => return,
        };
        event.prevent_default();
        let times = if event.shift_key() { 10.0 } else { 1.0 };
        desk.nudge(grip, by.map(|by| by * times));
    };
    let key_up = move |event: KeyboardEvent| {
        if event.key().starts_with("Arrow") {
            desk.let_go(grip);
        }
    };
    view! {
        <g class="photo-handle" class:flank=is_flank role="slider" tabindex="0"
            class:chosen=move || desk.grip.get() == Some(grip)
            class:unsure=move || matches!(grip, Grip::Flank(dog, side) if !desk.is_used(dog, side))
            aria-label=move || here(name_of(desk, grip)) aria-valuenow=number aria-valuemin=least aria-valuemax=most
            aria-valuetext=value transform=shift
            on:focus=move |_| desk.grip.set(Some(grip)) on:pointerdown=down on:pointermove=moved on:pointerup=up
            on:keydown=key on:keyup=key_up>
            <circle class="touch" r=move || radius(TOUCH_PX)></circle>
            <circle class="dot" r=move || radius(HANDLE_PX)></circle>
        </g>
    }
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a pixel of a picture")]
fn rounded(px: f64) -> usize {
    px.round().max(0.0) as usize
}

fn focus(element: &web_sys::Element) {
    if let Some(svg) = element.dyn_ref::<web_sys::SvgElement>() {
        // Focusing fails only if the page is gone.
        let _ = svg.focus();
    }
}

/// What a handle moves.
fn name_of(desk: Desk, grip: Grip) -> Message {
    match grip {
        Grip::Circle(Handle::Middle) => say::middle(),
        Grip::Circle(Handle::Right) => say::to_the_right(),
        Grip::Circle(Handle::Top) => say::upwards(),
        Grip::Circle(Handle::Inner) => say::inner(),
        Grip::Flank(dog, side) => say::flank_of(desk.place_of(dog), side_name(side)),
    }
}

/// A lens over the handle that is dragged or chosen, away from the finger.
#[component]
fn Lens(desk: Desk, picture: Picture, shown: RwSignal<Option<f64>>) -> impl IntoView {
    let canvas = NodeRef::<Canvas>::new();
    let place = Memo::new(move |_| desk.place(desk.grip.get()?));
    let [width, _] = picture.size();
    let lens = picture.clone();
    Effect::new(move |_| {
        if let (Some(canvas), Some([x, y])) = (canvas.get(), place.get()) {
            draw_lens(&canvas, &lens, [x, y]);
        }
    });
    let corner = Memo::new(move |_| {
        let ([x, y], wide) = (place.get()?, shown.get()?);
        let by = wide / width;
        let left = (x * by - LENS_PX / 2.0).clamp(0.0, (wide - LENS_PX).max(0.0));
        let above = y * by - LENS_PX - 36.0;
        Some([left, if above < -12.0 { y * by + 36.0 } else { above }])
    });
    let px = move |axis: usize| corner.get().map(|corner| format!("{:.0}px", corner[axis]));
    let side = size(whole(LENS_PX * 2.0)).to_string();
    view! {
        <div class="photo-lens" class:away=move || corner.get().is_none() style:left=move || px(0) style:top=move || px(1)
            aria-hidden="true">
            <canvas node_ref=canvas width=side.clone() height=side></canvas>
            <svg viewBox="-1 -1 2 2"><path d="M-1 0H-.15M.15 0H1M0-1V-.15M0 .15V1"/></svg>
        </div>
    }
}

fn draw_lens(canvas: &HtmlCanvasElement, picture: &Picture, [x, y]: [f64; 2]) {
    let Some(context) = context_of(canvas) else { return };
    let (w, h) = (f64::from(canvas.width()), f64::from(canvas.height()));
    context.set_fill_style_str("#777");
    context.fill_rect(0.0, 0.0, w, h);
    context.set_image_smoothing_enabled(false);
    let (left, top) = (x - LENS_SHOWS / 2.0, y - LENS_SHOWS / 2.0);
    // Fails only for a picture that was given back.
    let _ = context.draw_image_with_image_bitmap_and_sw_and_sh_and_dx_and_dy_and_dw_and_dh(
        &picture.bitmap,
        left,
        top,
        LENS_SHOWS,
        LENS_SHOWS,
        0.0,
        0.0,
        w,
        h,
    );
}
