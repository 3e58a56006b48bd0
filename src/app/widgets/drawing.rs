//! One view with its handles.

use std::sync::Arc;

use leptos::prelude::*;

use crenel::analysis::Analysis;
use crenel::draw::{
    Bounds, Follows, Frame, Handle, HandleShape, RingState, Scene, View, ViewOptions, Zoom,
};
use crenel::fields::{FieldId, Slot};
use crenel::ring::Point;
use crenel::shift::OutcomeMap;
use crenel::units::Quantity;
use crenel_words::page::drawing as say;
use crenel_words::{Label, Phrase, Value};

use crate::deferred::Deferred;
use crate::dom::text_scale;
use crate::part::part;
use crate::state::{AppState, here, is_whole, use_app_state};
use crate::widgets::clipboard::{Copied, CopyDrawing};
use crate::widgets::menu::Menu;
use crate::widgets::optional_parts::{Missing, OptionalPart};
use crate::widgets::pointer::{dog_under, scene_point, share_of, watch_shape, watch_width};
use crate::widgets::scene_marks::SceneMarks;
use crate::widgets::zoom::{Pinch, ZoomButtons};

/// Height of letters and handles on the screen, CSS pixels, where text is set as usual. A finger needs 44 px.
pub(crate) const LETTER_PX: f64 = 12.0;
const REACH_PX: f64 = 22.0;

/// The width that a drawing is laid out for, CSS pixels: its own, or a usual one until that is known.
fn laid_out_for(width: Option<f64>) -> f64 {
    width.unwrap_or(540.0)
}

/// Letters follow the reader's size of text as far as the longest words still fit beside a drawing of that width.
fn letter_px(width: f64) -> f64 {
    (LETTER_PX * text_scale()).min((width / LETTERS_ACROSS).max(LETTER_PX))
}

/// The letters that a drawing has room for in a line, at their height.
const LETTERS_ACROSS: f64 = 20.0;

/// Smaller movements of the pointer do not count, CSS pixels.
const TREMBLE_PX: f64 = 5.0;

/// A drawing narrower than this is on a small screen, CSS pixels.
const NARROW_PX: f64 = 440.0;

/// A drag in progress: the handles, and the offset of the pointer from their middles.
#[derive(Clone)]
struct Drag {
    held: Vec<Handle>,
    offset: Point,
    /// The pointer that drags; others are ignored.
    pointer: i32,
    /// Where the drag began, as shares of the drawing.
    from: [f64; 2],
    /// Whether the pointer has moved since.
    moved: bool,
}

/// How many times closer a drawing is looked at where little is left above the keypad of a phone. Its letters stay as
/// large as they are.
const ABOVE_KEYPAD: f64 = 1.8;

/// A drawing fills the room that it has, within these shapes: height over width.
const FLATTEST: f64 = 0.16;
const TALLEST: f64 = 1.1;

/// The state shared by the parts of one drawing.
#[derive(Clone, Copy)]
struct DrawingState {
    state: AppState,
    view: &'static View,
    source: Signal<Arc<Analysis>>,
    /// Whether it is only looked at.
    still: bool,
    frame: Memo<Frame>,
    /// The frame kept still during a drag.
    frozen: RwSignal<Option<Frame>>,
    drag: RwSignal<Option<Drag>>,
    handles: Memo<Vec<Handle>>,
    /// Its width on the screen, CSS pixels; `None` until it is known.
    width: RwSignal<Option<f64>>,
    /// The height over the width of the room that it has; `None` until it is known.
    room: RwSignal<Option<f64>>,
    /// The point of a chart under the pointer.
    over: RwSignal<Option<Point>>,
    /// The zoom.
    zoom: RwSignal<Zoom>,
    /// The fingers that pan or zoom the drawing.
    pinch: RwSignal<Option<Pinch>>,
    svg: NodeRef<leptos::svg::Svg>,
}

impl DrawingState {
    fn new(state: AppState, view: &'static View, whole_shift: bool, still: bool) -> Self {
        let source = source(state, view);
        let width = RwSignal::new(None);
        let room = RwSignal::new(None);
        let frozen = RwSignal::new(None);
        let frame = Memo::new(move |_| {
            let px = laid_out_for(width.get());
            let usual = view.screen_shape[usize::from(px < NARROW_PX)];
            let shape = room.get().map_or(usual, |room: f64| room.clamp(FLATTEST, TALLEST));
            let laid_out = |analysis: &Arc<Analysis>| {
                let frame = if whole_shift { View::frame_of_shift } else { View::frame };
                let closer = if state.layout.is_low() { ABOVE_KEYPAD } else { 1.0 };
                frame(view, analysis, px, shape, letter_px(px) / closer)
            };
            frozen.get().unwrap_or_else(|| source.with(laid_out))
        });
        let handles = Memo::new(move |_| {
            let chosen = state.chosen.get();
            // While something is played, the handles are not where the numbers of the design say.
            let away = !view.keeps_handles && is_playing(state, view);
            if away || width.with(Option::is_none) {
                return Vec::new();
            }
            let held = held(view, still, state.selected().is_some());
            source.with(|a| view.handles_where(a, &frame.get(), chosen, held))
        });
        Self {
            state,
            view,
            source,
            still,
            frame,
            frozen,
            drag: RwSignal::new(None),
            handles,
            width,
            room,
            over: RwSignal::new(None),
            zoom: RwSignal::default(),
            pinch: RwSignal::new(None),
            svg: NodeRef::new(),
        }
    }

    fn options(self) -> ViewOptions<'static> {
        let (state, follows) = (self.state, self.view.follows);
        ViewOptions {
            chosen: state.selected(),
            reader: state.reader(),
            pose: if follows == Follows::Shift { state.pose.get() } else { None },
            outcomes: None,
            stroke: if follows == Follows::Stroke { state.stroke.get() } else { None },
            state: rings_shown(state, self.view),
            found: None,
        }
    }

    fn scene(self) -> Scene {
        let frame = self.frame.get();
        // Otherwise it would be drawn for a wrong width, and again at once.
        if self.width.with(Option::is_none) {
            return Scene::new(frame.bounds);
        }
        self.drawn_on(&frame, None)
    }

    fn drawn_on(self, frame: &Frame, outcomes: Option<&OutcomeMap>) -> Scene {
        let options = self.options();
        let both = options.state == RingState::Both && self.view.shows_states;
        let found = both.then(|| self.state.found.get());
        let options = ViewOptions { outcomes, found: found.as_deref(), ..options };
        self.source.with(|analysis| self.view.draw(analysis, frame, &options))
    }

    /// The drawing for a file: as on the screen, but never zoomed; and the title of the design.
    fn copied(self) -> (Scene, String) {
        let frame = self.frame.get();
        let map = self.view.chart.and_then(|_| self.state.outcomes.get());
        (self.drawn_on(&frame, map.as_deref()), self.state.with(|d| d.title.clone()))
    }

    /// The drawing laid out for letters of this share of its width, for a figure of a paper.
    fn figure(self, letter: f64) -> Scene {
        let view = self.view;
        let frame = self.source.with(|analysis| view.frame(analysis, 1.0, view.shape, letter));
        let map = view.chart.and_then(|_| self.state.outcomes.get());
        self.drawn_on(&frame, map.as_deref())
    }

    /// The point to magnify about, as shares of the window: a handle if there is one that needs it, else the middle.
    fn worth_a_look(self) -> [f64; 2] {
        self.worth().map_or([0.5; 2], |at| shares_of(&self.window(), at))
    }

    /// What is worth a closer look: where a handle stands, or would if a dog were selected.
    fn worth(self) -> Option<Point> {
        let (frame, chosen) = (self.frame.get(), self.state.chosen.get());
        let wanted = self.view.worth_a_look;
        let handles = self.source.with(|a| self.view.handles_where(a, &frame, chosen, wanted));
        handles.first().map(|handle| handle.at)
    }

    /// The visible part of the frame.
    fn window(self) -> Bounds {
        self.frame.with(|f| self.zoom.get().window(&f.bounds))
    }

    /// The part of a chart that a drag does not change, so that it is not redrawn at every step.
    fn cells(self) -> Scene {
        let frame = self.frame.get();
        let cells = self.view.chart.zip(self.state.outcomes.get());
        cells.map_or_else(
            || Scene::new(frame.bounds),
            |(chart, map)| chart.cells(&frame, &map, self.state.reader()),
        )
    }

    const fn is_chart(self) -> bool {
        self.view.is_chart()
    }

    /// The values of a chart under the pointer or, without a pointer, at its cross.
    fn reading(self) -> Option<String> {
        let (chart, frame) = (self.view.chart?, self.frame.get());
        let at = self.over.get().or_else(|| {
            let analysis = self.state.drawn.get();
            let rpm = analysis.pair.as_ref()?.shift_case.slip_rpm.abs();
            Some(chart.cross(&frame, analysis.phase(), rpm))
        })?;
        let map = self.state.outcomes.get().filter(|map| is_whole(map))?;
        let reading = chart.reading(&frame, at, &map)?;
        Some(reading.show(self.state.reader()))
    }

    /// CSS pixels as lengths of the scene.
    fn px(self, px: f64) -> f64 {
        px * self.window().width() / laid_out_for(self.width.get())
    }

    /// The handles that are shown.
    fn knobs(self) -> Vec<Handle> {
        if self.still { Vec::new() } else { self.handles.get() }
    }

    fn handle(self, slot: Slot) -> Option<Handle> {
        self.handles.with(|list| list.iter().find(|h| h.slot == slot).cloned())
    }

    /// Where a handle is shown. One that is dragged stays under the pointer, however near it comes to others.
    fn shown(self, handle: &Handle) -> Point {
        let held = self.drag.with(|drag| {
            let held = drag.as_ref()?.held.iter().find(|held| held.slot == handle.slot)?;
            Some(Point::new(held.shown.x - held.at.x, held.shown.y - held.at.y))
        });
        held.map_or(handle.shown, |aside| Point::new(handle.at.x + aside.x, handle.at.y + aside.y))
    }

    /// The position of a point of the scene in the picture, y down.
    fn place(self, p: Point) -> (f64, f64) {
        self.frame.with(|f| (p.x - f.bounds.min.x, f.bounds.max.y - p.y))
    }

    fn point(self, event: &web_sys::MouseEvent) -> Option<Point> {
        Some(scene_point(&untrack(|| self.window()), self.share(event)?))
    }

    /// The position of the pointer, as shares of the drawing.
    fn share(self, event: &web_sys::MouseEvent) -> Option<[f64; 2]> {
        let svg = self.svg.get_untracked()?;
        Some(share_of(&svg, event))
    }

    /// Begins to drag handles. `offset` keeps them where they were under the pointer.
    fn begin(self, held: Vec<Handle>, event: &web_sys::PointerEvent, offset: Point) {
        use wasm_bindgen::JsCast as _;
        let target = event.current_target().and_then(|t| t.dyn_into::<web_sys::Element>().ok());
        if let Some(target) = target {
            // Without capture the drag still works inside the drawing.
            let _ = target.set_pointer_capture(event.pointer_id());
        }
        self.frozen.set(Some(self.frame.get_untracked()));
        let from = self.share(event).unwrap_or_default();
        self.drag.set(Some(Drag { held, offset, pointer: event.pointer_id(), from, moved: false }));
    }

    /// A finger on the paper: two fingers zoom, and one alone pans a zoomed drawing. Returns whether it is used so.
    fn finger(self, event: &web_sys::PointerEvent) -> bool {
        let Some(at) = self.share(event) else { return false };
        let id = event.pointer_id();
        if let Some(pinch) = self.pinch.get_untracked() {
            self.pinch.set(Some(pinch.with_second(id, at, self.zoom.get_untracked())));
            return true;
        }
        match self.drag.get_untracked() {
            // Two fingers set down together mean the paper, even if one of them met a handle.
            Some(drag) if !drag.moved => {
                self.give_up();
                let zoom = self.zoom.get_untracked();
                let pinch = Pinch::with_first(drag.pointer, drag.from, zoom);
                self.pinch.set(Some(pinch.with_second(id, at, zoom)));
                true
            }
            // A drag in progress goes on.
            Some(_) => true,
            None => false,
        }
    }

    fn follow(self, event: &web_sys::PointerEvent) {
        if let Some(pinch) = self.pinch.get_untracked() {
            return self.move_paper(pinch, event);
        }
        if self.is_chart() {
            self.over.set(self.point(event));
        }
        let Some(drag) = self.drag.get_untracked() else { return };
        if drag.pointer != event.pointer_id() {
            return;
        }
        let Some(p) = self.point(event) else { return };
        if !drag.moved && self.is_far(drag.from, event) {
            self.drag.update(|drag| {
                if let Some(drag) = drag {
                    drag.moved = true;
                }
            });
        }
        let p = Point::new(p.x + drag.offset.x, p.y + drag.offset.y);
        let values: Vec<_> = drag.held.iter().map(|h| (h.slot, h.value_at(p))).collect();
        self.state.preview(&values);
    }

    fn move_paper(self, mut pinch: Pinch, event: &web_sys::PointerEvent) {
        let Some(at) = self.share(event) else { return };
        let aspect = self.frame.with_untracked(|f| f.bounds.height() / f.bounds.width());
        if let Some(zoom) = pinch.follow(event.pointer_id(), at, aspect) {
            self.zoom.set(zoom);
        }
        self.pinch.set(Some(pinch));
    }

    /// Whether the pointer has moved farther than a trembling hand moves it.
    fn is_far(self, from: [f64; 2], event: &web_sys::PointerEvent) -> bool {
        let width = laid_out_for(self.width.get_untracked());
        let gone = self.share(event).map(|at| (at[0] - from[0]).abs().max((at[1] - from[1]).abs()));
        gone.is_some_and(|gone| gone * width > TREMBLE_PX)
    }

    /// Scrolls a handle that is outside the window into view.
    fn bring_into_sight(self, slot: Slot) {
        let at =
            self.handles.with_untracked(|list| list.iter().find(|h| h.slot == slot).map(|h| h.at));
        if let Some(at) = at.filter(|_| !self.zoom.with_untracked(Zoom::is_whole)) {
            let showing =
                self.frame.with_untracked(|f| self.zoom.get_untracked().showing(at, &f.bounds));
            self.zoom.set(showing);
        }
    }

    fn end(self, event: &web_sys::PointerEvent) {
        self.pinch.update(|pinch| {
            *pinch =
                pinch.take().and_then(|p| p.without(event.pointer_id(), self.zoom.get_untracked()));
        });
        if self.drag.get_untracked().is_some_and(|d| d.pointer == event.pointer_id()) {
            self.release();
            self.state.commit();
        }
    }

    fn give_up(self) {
        if self.drag.get_untracked().is_some() {
            self.release();
            self.state.cancel();
        }
    }

    fn release(self) {
        self.drag.set(None);
        self.frozen.set(None);
    }

    /// Pressing a map or a chart moves all its handles to that point.
    fn press(self, event: &web_sys::PointerEvent) {
        let draggable = self.view.press_holds_all;
        let finger = event.pointer_type() == "touch";
        if event.button() != 0
            || finger && self.finger(event)
            || self.drag.with_untracked(Option::is_some)
        {
            return;
        }
        let zoom = self.zoom.get_untracked();
        let close = !zoom.is_whole();
        let moves_paper = if draggable { finger && close } else { finger || close };
        if moves_paper {
            let first = self.share(event).map(|at| Pinch::with_first(event.pointer_id(), at, zoom));
            self.pinch.set(first);
        } else if draggable {
            self.begin(self.handles.get_untracked(), event, Point::default());
            self.follow(event);
        }
    }

    fn click(self, event: &web_sys::MouseEvent) {
        if let Some((side, place)) = dog_under(event) {
            self.state.choose(side, place);
        }
    }
}

/// Which numbers can be taken hold of: those of a ring once one of its dogs is selected. Of a drawing that is only
/// looked at, the phase from which a shift starts, where it is pressed.
fn held(view: &'static View, still: bool, selected: bool) -> impl Fn(Slot) -> bool {
    move |slot| match slot {
        Slot::Setting(FieldId::Phase) => !still || view.press_holds_all,
        Slot::Ring(..) | Slot::Dog(..) | Slot::Work(..) => selected && !still,
        _ => !still,
    }
}

/// The input of a drawing: the last pair that could be worked out, as found where that is shown, or the parts as
/// they are.
fn source(state: AppState, view: &'static View) -> Signal<Arc<Analysis>> {
    if !view.is_of_pair() {
        return state.analysis.into();
    }
    Signal::derive(move || match rings_shown(state, view) {
        RingState::AsFound => state.found.get(),
        RingState::AsCut | RingState::Both => state.drawn.get(),
    })
}

/// Which state of the rings a view shows. A shift is played with the rings as cut.
fn rings_shown(state: AppState, view: &View) -> RingState {
    let shown = if view.shows_states { state.rings_shown() } else { RingState::AsCut };
    if shown == RingState::AsFound && is_playing(state, view) { RingState::AsCut } else { shown }
}

/// One drawing of the design.
#[component]
pub(crate) fn Drawing(
    /// Which view.
    view: &'static View,
    /// Its description on this page, if it differs from that of the view.
    #[prop(optional)]
    caption: Option<Phrase>,
    /// The part that a button adds, if the design has nothing to draw.
    #[prop(optional)]
    begin: Option<OptionalPart>,
    /// Whether it shows the whole travel of a shift.
    #[prop(optional)]
    whole_shift: bool,
    /// Whether it is only looked at: it has no handles, though a press still moves the start of a shift.
    #[prop(optional)]
    still: bool,
) -> impl IntoView {
    let state = use_app_state();
    let drawing = DrawingState::new(state, view, whole_shift, still);
    let title = here(view.name());
    let told = caption.map_or_else(|| here(view.what_it_shows()), here);
    let paper = NodeRef::new();
    watch_width(paper, drawing.width);
    let fit = NodeRef::new();
    watch_shape(fit, drawing.room);
    // Escape, undo or another design ends a drag that is in progress.
    Effect::new(move |_| {
        state.given_up.track();
        drawing.release();
    });
    look_closer_above_keypad(drawing);
    // A memo, so that it is made once for each change: see `AppState::alter`.
    let scene = Memo::new(move |_| drawing.scene());
    let view_box = move || {
        let (seen, (left, top)) = (drawing.window(), drawing.place(corner(&drawing.window())));
        format!("{left:.4} {top:.4} {:.4} {:.4}", seen.width(), seen.height())
    };
    // What has to be scrolled can be reached by Tab, if by no handle in it.
    let stop = move || {
        let shape = drawing.frame.with(|f| f.bounds.height() / f.bounds.width());
        let scrolls = drawing.room.get().is_some_and(|room| shape > room);
        (scrolls && drawing.handles.with(Vec::is_empty)).then_some("0")
    };
    let is_refining = move || {
        let maps = drawing.is_chart().then(|| state.outcomes.get()).flatten();
        maps.is_some_and(|map| !is_whole(&map))
    };
    let reading = drawing.is_chart().then(|| {
        let nothing = move || {
            let shifts = state.drawn.with(|a| a.shift().is_some());
            // A map that is being refined says so at its head.
            let said = if shifts { say::computing } else { say::no_shift };
            if is_refining() { String::new() } else { here(said).into_owned() }
        };
        let reading = Memo::new(move |_| drawing.reading());
        view! { <p class="reading" aria-live="polite">{move || reading.get().unwrap_or_else(nothing)}</p> }
    });
    let refining = move || {
        is_refining().then(|| view! { <span class="refining">{here(say::refining)}</span> })
    };
    let about = Callback::new(move |()| untrack(|| drawing.worth_a_look()));
    let copied = Copied {
        what: title.clone(),
        name: view.key,
        drawn: Callback::new(move |()| untrack(|| drawing.copied())),
        figure: Callback::new(move |letter| untrack(|| drawing.figure(letter))),
    };
    let absent = Memo::new(move |_| state.with(|design| view.absent(design)));
    view! {
        <figure class=format!("view {}", view.key) class:without=move || absent.get().is_some()>
            <figcaption>
                <h2>{title.clone()}</h2>
                {refining}
            </figcaption>
            {move || absent.get().map(|words| view! { <Missing words=here(words) begin/> })}
            <div class="fit" tabindex=stop node_ref=fit><div class="paper" node_ref=paper
                class:waiting=move || drawing.width.with(Option::is_none)>
                <svg viewBox=view_box node_ref=drawing.svg class:dragging=move || drawing.drag.with(Option::is_some)
                    class:close=move || !drawing.zoom.with(Zoom::is_whole)
                    role="group" aria-label=title.clone()
                    on:click=move |event| drawing.click(&event)
                    on:pointerdown=move |event| drawing.press(&event)
                    on:pointermove=move |event| drawing.follow(&event)
                    on:pointerleave=move |_| drawing.over.set(None)
                    on:pointerup=move |event| drawing.end(&event)
                    on:touchstart=move |event| keep_from_scrolling(&event)
                    on:wheel=move |event| wheel(drawing, &event)
                    on:pointercancel=move |event| { drawing.give_up(); drawing.end(&event) }>
                    {drawing.is_chart().then(|| view! { <SceneMarks scene=Signal::derive(move || drawing.cells())/> })}
                    <SceneMarks scene/>
                    <For each=move || drawing.knobs() key=|h| h.slot
                        children=move |h| view! { <Knob drawing at=h.slot/> }/>
                </svg>
            </div></div>
            {reading}
            <Deferred>
                <div class="beside">
                    <Menu title=|| "⋯".into() name=here(say::tools_of(title.to_string())) stays=true>
                        <p class="quiet">{told.clone()}</p>
                        <ZoomButtons what=title.clone() zoom=drawing.zoom about/>
                        {copy_buttons(copied.clone())}
                    </Menu>
                </div>
            </Deferred>
        </figure>
    }
}

/// The buttons that copy a drawing. What they copy is known in its own menu only: a page may have many drawings.
fn copy_buttons(copied: Copied) -> AnyView {
    provide_context(copied);
    part!(more, copy_drawing, view! { <CopyDrawing/> })()
}

/// Above the keypad of a phone there is little height: what is worth a look is looked at closely.
fn look_closer_above_keypad(drawing: DrawingState) {
    let layout = drawing.state.layout;
    let is_low = Memo::new(move |_| layout.is_low());
    Effect::new(move |before: Option<Option<Zoom>>| {
        let before = before.flatten();
        if !is_low.get() {
            before.into_iter().for_each(|before| drawing.zoom.set(before));
            return None;
        }
        let Some(near) = drawing.worth() else { return before };
        let about = drawing.frame.with(|frame| shares_of(&frame.bounds, near));
        let kept = before.unwrap_or_else(|| drawing.zoom.get_untracked());
        drawing.zoom.set(Zoom::default().closer(ABOVE_KEYPAD, about));
        Some(kept)
    });
}

/// A point as shares of some bounds, from the left and from the top.
fn shares_of(bounds: &Bounds, at: Point) -> [f64; 2] {
    let shares = [(at.x - bounds.min.x) / bounds.width(), (bounds.max.y - at.y) / bounds.height()];
    shares.map(|share| share.clamp(0.0, 1.0))
}

/// One handle: dragged, or stepped with the keys.
#[component]
fn Knob(drawing: DrawingState, at: Slot) -> impl IntoView {
    let slot = at;
    let state = drawing.state;
    let field = slot.field().spec();
    let handle = Memo::new(move |_| drawing.handle(slot));
    let place = Memo::new(move |_| {
        handle.get().map(|h| drawing.place(drawing.shown(&h))).unwrap_or_default()
    });
    let number =
        move |read: fn(&Handle) -> f64| handle.with(|h| h.as_ref().map(read).unwrap_or_default());
    let lever = move || {
        let (to_x, to_y) = place.get();
        let from = handle.get().and_then(|h| h.from.or((h.at != h.shown).then_some(h.at)));
        from.map(|p| drawing.place(p))
            .map(|(x, y)| format!("M{x} {y}L{to_x} {to_y}"))
            .unwrap_or_default()
    };
    let picture = Memo::new(move |_| {
        handle.with(|h| h.as_ref().map(|h| picture(h.shape))).unwrap_or_default()
    });
    let turned =
        move || format!("scale({}) rotate({})", drawing.px(text_scale()), picture.get().turned_deg);
    // Where the limits cross or the number is at one of them, the handle stays and flashes once.
    let at_limit = move || {
        drawing.drag.with(Option::is_some)
            && handle.with(|h| h.as_ref().is_some_and(|h| h.value <= h.min || h.value >= h.max))
    };
    let press = move |event: web_sys::PointerEvent| take_hold(drawing, slot, &event);
    view! {
        <path class="lever" d=lever></path>
        <g class=knob_class(slot) class:at-limit=at_limit role="slider" tabindex="0"
            transform=move || { let (x, y) = place.get(); format!("translate({x} {y})") }
            data-field=field.key
            aria-label=here(slot.words())
            aria-valuemin=move || number(|h| h.min).to_string() aria-valuemax=move || number(|h| h.max).to_string()
            aria-valuenow=move || number(|h| h.value).to_string()
            aria-valuetext=move || field.quantity.show(number(|h| h.value), state.units.get())
            on:pointerdown=press
            on:keydown=move |event| key_down(drawing, slot, &event)
            on:keyup=move |_| if drawing.drag.with_untracked(Option::is_none) { state.commit() }
            on:focus=move |_| { state.explain(slot); drawing.bring_into_sight(slot) }
            on:blur=move |_| if drawing.drag.with_untracked(Option::is_none) { state.commit() }>
            <circle class="reach" r=move || drawing.px(REACH_PX)></circle>
            <path class="under" d=move || picture.get().path transform=turned></path>
            <path class=move || picture.get().class d=move || picture.get().path transform=turned></path>
            <Tag drawing label=field.name() quantity=field.quantity place=place.into()
                value=Signal::derive(move || number(|h| h.value))/>
        </g>
    }
}

/// How a handle is drawn, in CSS pixels about its middle, y down.
#[derive(Clone, Copy, Default, PartialEq)]
struct Picture {
    class: &'static str,
    path: &'static str,
    /// Clockwise.
    turned_deg: f64,
}

fn picture(shape: HandleShape) -> Picture {
    let (class, path, turned_deg) = match shape {
        HandleShape::Ring => ("knob", "M-7 0A7 7 0 1 1 7 0A7 7 0 1 1-7 0Z", 0.0),
        HandleShape::Bar(deg) => ("knob", "M-8-3H8V3H-8Z", -deg),
        HandleShape::Arc(deg) => {
            let path = "M-9 3A11 11 0 0 1 9 3M-9 3L-9.5-3M-9 3L-3.5 2M9 3L9.5-3M9 3L3.5 2";
            ("knob turn", path, 90.0 - deg)
        }
        HandleShape::Triangle => ("knob", "M0-8L7.5 5H-7.5Z", 0.0),
    };
    Picture { class, path, turned_deg }
}

/// The name and number beside a handle that is dragged.
#[component]
fn Tag(
    drawing: DrawingState,
    label: Label,
    quantity: Quantity,
    place: Signal<(f64, f64)>,
    value: Signal<f64>,
) -> impl IntoView {
    let anchor = move || {
        let share = drawing.frame.with(|f| place.get().0 / f.bounds.width());
        if share < 0.3 {
            "start"
        } else if share > 0.7 {
            "end"
        } else {
            "middle"
        }
    };
    // Above the handle, or below it at the very top of the drawing.
    let down = move || if place.get().1 < drawing.px(40.0) { 28.0 } else { -14.0 };
    view! {
        <text class="tag" text-anchor=anchor y=move || drawing.px(down()) font-size=move || drawing.px(letter_px(laid_out_for(drawing.width.get())))>
            {move || {
                let value = Value::Number(quantity, value.get());
                say::handle(label, value).show(drawing.state.reader())
            }}
        </text>
    }
}

/// The upper left corner.
const fn corner(bounds: &Bounds) -> Point {
    Point::new(bounds.min.x, bounds.max.y)
}

/// Two fingers move the drawing, and not the page.
fn keep_from_scrolling(event: &web_sys::TouchEvent) {
    if event.touches().length() == 2 {
        event.prevent_default();
    }
}

/// Zooms with Ctrl and the wheel, which is also what a browser sends for a pinch on a touch pad.
fn wheel(drawing: DrawingState, event: &web_sys::WheelEvent) {
    if !event.ctrl_key() {
        return;
    }
    event.prevent_default();
    let factor = if event.delta_y() < 0.0 { 1.15 } else { 1.0 / 1.15 };
    if let Some(about) = drawing.share(event) {
        drawing.zoom.update(|zoom| *zoom = zoom.closer(factor, about));
    }
}

const fn knob_class(slot: Slot) -> &'static str {
    use crenel::ring::Side;
    match slot {
        Slot::Ring(Side::A, _) | Slot::Dog(Side::A, ..) | Slot::Work(Side::A, ..) => {
            "handle ring-a"
        }
        Slot::Ring(Side::B, _) | Slot::Dog(Side::B, ..) | Slot::Work(Side::B, ..) => {
            "handle ring-b"
        }
        _ => "handle",
    }
}

fn take_hold(drawing: DrawingState, slot: Slot, event: &web_sys::PointerEvent) {
    use wasm_bindgen::JsCast as _;
    event.stop_propagation();
    let finger = event.pointer_type() == "touch";
    if event.button() != 0
        || finger && drawing.finger(event)
        || drawing.drag.with_untracked(Option::is_some)
    {
        return;
    }
    let target = event.current_target().and_then(|t| t.dyn_into::<web_sys::SvgElement>().ok());
    if let Some(target) = target {
        // Focus shows which handle is dragged, and lets Escape reach it.
        let _ = target.focus();
    }
    let (Some(handle), Some(p)) = (drawing.handle(slot), drawing.point(event)) else { return };
    let offset = Point::new(handle.at.x - p.x, handle.at.y - p.y);
    drawing.begin(vec![handle], event, offset);
}

fn key_down(drawing: DrawingState, slot: Slot, event: &web_sys::KeyboardEvent) {
    let Some(handle) = drawing.handle(slot) else { return };
    let value = match (event.key().as_str(), event.shift_key()) {
        ("ArrowUp" | "ArrowRight", coarse) => handle.stepped(1.0, coarse),
        ("ArrowDown" | "ArrowLeft", coarse) => handle.stepped(-1.0, coarse),
        ("PageUp", _) => handle.stepped(1.0, true),
        ("PageDown", _) => handle.stepped(-1.0, true),
        ("Home", _) => handle.min,
        ("End", _) => handle.max,
        ("Escape", _) => return drawing.give_up(),
        _ => return,
    };
    event.prevent_default();
    drawing.state.preview(&[(slot, value)]);
}

/// Whether the shift or stroke that the view follows is being played.
fn is_playing(state: AppState, view: &View) -> bool {
    match view.follows {
        Follows::Nothing => false,
        Follows::Shift => state.pose.with(Option::is_some),
        Follows::Stroke => state.stroke.with(Option::is_some),
    }
}
