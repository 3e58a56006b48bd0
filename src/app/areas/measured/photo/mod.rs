//! A photograph of the dogs becomes readings. Its code is fetched when it is wanted, and nothing leaves the browser.

mod desk;
mod list;
mod picture;
mod stage;

use leptos::prelude::*;
use web_sys::{ClipboardEvent, DataTransfer, DragEvent, HtmlInputElement};

use crenel::finding::Finding;
use crenel::units::Quantity;
use crenel_words::page::photo as say;
use crenel_words::{Message, Phrase};

use self::desk::Desk;
use self::list::{Chosen, FlankList};
use self::picture::size;
use self::stage::Stage;
use super::sheet::Sheet;
use crate::part::part;
use crate::state::here;
use crate::widgets::choose::Choose;
use crate::widgets::file_picker::FilePicker;

/// The way to a photograph, and the photograph.
#[component]
pub(super) fn FromPhoto(sheet: Sheet) -> impl IntoView {
    let is_open = RwSignal::new(false);
    provide_context((sheet, is_open));
    let desk = part!(photo, photo_desk, view! { <PhotoDesk/> });
    let label = move || here(if is_open.get() { say::to_table() } else { say::from_photo() });
    view! {
        <div class="row">
            <button aria-expanded=move || is_open.get().to_string() on:click=move |_| is_open.update(|open| *open = !*open)>
                {label}
            </button>
        </div>
        {move || is_open.get().then(desk)}
    }
}

#[component]
fn PhotoDesk() -> impl IntoView {
    let (sheet, is_open) = expect_context::<(Sheet, RwSignal<bool>)>();
    let desk = Desk::new(sheet);
    let opened = move |data: Option<DataTransfer>| {
        let file = data.and_then(|data| data.files()).and_then(|files| files.get(0));
        file.inspect(|file| desk.open(file.clone().into())).is_some()
    };
    let dropped = move |event: DragEvent| {
        event.prevent_default();
        opened(event.data_transfer());
    };
    let pasted = window_event_listener(leptos::ev::paste, move |event: ClipboardEvent| {
        if opened(event.clipboard_data()) {
            event.prevent_default();
        }
    });
    on_cleanup(move || pasted.remove());
    let picture = move || desk.picture.get().map(|picture| view! { <Open desk picture is_open/> });
    view! {
        <section class="photo" aria-label=here(say::from_photo) on:drop=dropped
            on:dragover=move |event: DragEvent| event.prevent_default()>
            <p class="quiet">{here(say::how)}</p>
            <div class="row">
                <OpenPicture label=say::choose desk is_camera=false/>
                <OpenPicture label=say::camera desk is_camera=true/>
                <span class="quiet photo-drop">{here(say::drop_here)}</span>
            </div>
            <p role="status" class="quiet">{move || desk.busy.get().map(|busy| here(busy()))}</p>
            <div role="alert">{move || desk.wrong.get().map(|why| view! { <p class="wrong">{here(vec![why.says, why.next])}</p> })}</div>
            {picture}
        </section>
    }
}

/// A button that opens a picture.
#[component]
fn OpenPicture(label: Phrase, desk: Desk, is_camera: bool) -> impl IntoView {
    let open = Callback::new(move |file: gloo_file::File| {
        let picture: &web_sys::File = file.as_ref();
        desk.open(picture.clone().into());
    });
    let capture = is_camera.then_some("environment");
    view! { <FilePicker label says=say::choose_file on_pick=open accept="image/*" capture/> }
}

/// An open picture: what is known of it, the picture, and what was found.
#[component]
fn Open(desk: Desk, picture: picture::Picture, is_open: RwSignal<bool>) -> impl IntoView {
    let (width, height) = (size(picture.light.width), size(picture.light.height));
    let told =
        if picture.is_shrunk { say::shrunk(width, height) } else { say::of_pixels(width, height) };
    let shown = NodeRef::<leptos::html::Div>::new();
    Effect::new(move |_| {
        // On a phone the picture is below all that leads to it.
        shown.get().into_iter().for_each(|shown| shown.scroll_into_view());
    });
    view! {
        <div class="photo-open" node_ref=shown>
            <div class="photo-seen">
                <Stage desk picture/>
                <p class="quiet">{here(told)}" "{here(say::lay_circles)}</p>
            </div>
            <div class="photo-beside">
                <Chosen desk/>
                <Found desk is_open/>
                <Known desk/>
            </div>
        </div>
    }
}

const CIRCLES: [(bool, Phrase); 2] = [(true, say::known_outer), (false, say::known_inner)];
const TIPS: [(Option<bool>, Phrase); 3] =
    [(None, say::tips_either), (Some(true), say::tips_bright), (Some(false), say::tips_dark)];

/// The diameter that is known, the light of the tips, and heights of circles off them.
#[component]
fn Known(desk: Desk) -> impl IntoView {
    let choose = Callback::new(move |is_outer: bool| {
        let ring = desk.sheet.state.with(|d| {
            let ring = d.ring(desk.sheet.side);
            if is_outer { ring.outer_diameter_mm } else { ring.inner_diameter_mm }
        });
        desk.is_outer.set(is_outer);
        desk.diameter_mm.set(ring);
        desk.measure();
    });
    let light = Callback::new(move |bright: Option<bool>| {
        desk.bright.set(bright);
        desk.measure();
    });
    let [outer, inner] = desk.heights_mm;
    view! {
        <fieldset class="measured-settings">
            <legend>{here(say::what_is_known)}</legend>
            <div class="two">
                <Choose label=here(say::known) words=&CIRCLES value=desk.is_outer on_choose=choose/>
                <Length desk label=say::diameter value=desk.diameter_mm/>
                <Choose label=here(say::tips_are) words=&TIPS value=desk.bright on_choose=light/>
            </div>
            <details>
                <summary>{here(say::other_circles)}</summary>
                <p class="quiet">{here(say::heights_how)}</p>
                <div class="two">
                    <Length desk label=say::outer_height value=outer/>
                    <Length desk label=say::inner_height value=inner/>
                </div>
            </details>
            <button on:click=move |_| desk.measure()>{here(say::measure)}</button>
        </fieldset>
    }
}

/// A length that belongs to the picture alone.
#[component]
fn Length(desk: Desk, label: Phrase, value: RwSignal<f64>) -> impl IntoView {
    let units = desk.sheet.state.units;
    let wrong = RwSignal::new(None::<String>);
    let text = move || Quantity::Length.format_kept(value.get(), units.get());
    let take = move |input: HtmlInputElement| match Quantity::Length
        .parse(&input.value(), units.get_untracked())
    {
        Ok(length) => {
            wrong.set(None);
            value.set(length);
            desk.measure();
            input.set_value(&untrack(text));
        }
        Err(why) => wrong.set(Some(Finding::from(why).whole(desk.sheet.state.reader()))),
    };
    view! {
        <label class="field">
            <span>{here(label)}</span>
            <span class="entry">
                <input type="text" inputmode="decimal" autocomplete="off" prop:value=text
                    aria-invalid=move || wrong.with(Option::is_some).to_string()
                    on:change=move |event| take(event_target(&event))/>
                <span class="unit">{move || Quantity::Length.suffix(units.get())}</span>
            </span>
            <span class="wrong" aria-live="polite">{move || wrong.get()}</span>
        </label>
    }
}

/// What was found, whether it can be used, and the button that uses it.
#[component]
fn Found(desk: Desk, is_open: RwSignal<bool>) -> impl IntoView {
    let lines = move || {
        let reader = desk.sheet.state.reader();
        found(desk).into_iter().map(|line| view! { <p>{line.show(reader)}</p> }).collect_view()
    };
    let refused = move || {
        let ring = desk.ring.get().filter(|ring| ring.is_too_tilted())?;
        let why = say::refused(ring.error_per_mm().to_degrees());
        let reader = desk.sheet.state.reader();
        Some(view! { <p class="wrong">{why.says.show(reader)}" "{why.next.show(reader)}</p> })
    };
    let can_be = Memo::new(move |_| {
        let is_square = desk.ring.get().is_some_and(|ring| !ring.is_too_tilted());
        is_square && desk.readings().iter().flatten().any(Option::is_some)
    });
    let take = move |_| {
        if desk.take() {
            is_open.set(false);
        }
    };
    let has_ring = move || desk.ring.with(Option::is_some);
    view! {
        <div class="photo-found" aria-live="polite">{lines}{refused}</div>
        <FlankList desk/>
        {move || has_ring().then(|| view! {
            <div class="row">
                <button class="main" disabled=move || !can_be.get() on:click=take>{here(say::take)}</button>
                <button on:click=move |_| desk.next_first()>{here(say::next_first)}</button>
            </div>
            <p class="quiet">{here(say::no_heights)}</p>
        })}
    }
}

fn found(desk: Desk) -> Vec<Message> {
    let Some(ring) = desk.ring.get() else { return Vec::new() };
    let dogs = ring.dogs.len();
    let expected = desk.sheet.with(|read| read.readings.dogs);
    let flanks = (0..dogs).flat_map(|dog| [(dog, 0), (dog, 1)]);
    let unsure = flanks.filter(|(dog, side)| !desk.is_used(*dog, *side)).count();
    let cost = ring.error_per_mm().to_degrees();
    let mut lines = vec![say::found(dogs)];
    lines.extend((dogs != expected).then(|| say::expected(expected)));
    lines.push(say::diameters(2.0 * ring.outer_mm.0, 2.0 * ring.inner_mm.0));
    lines.push(say::tilt(ring.view.tilt().to_degrees(), cost));
    lines.push(say::unsure(unsure));
    lines
}
