//! A photograph of the dogs becomes readings. Its code is fetched when it is wanted, and nothing leaves the browser.

mod desk;
mod kept;
mod list;
mod picture;
mod stage;

use std::borrow::Cow;

use leptos::prelude::*;
use serde_json::{Value, json};
use web_sys::{ClipboardEvent, DataTransfer, DragEvent, HtmlInputElement};

use crenel::design::{Design, GAUGES, GaugeKind};
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

/// What leads to the desk: its readings, whether it is open, and the kept picture that is wanted on it.
#[derive(Clone, Copy)]
struct Way {
    sheet: Sheet,
    is_open: RwSignal<bool>,
    wanted: RwSignal<Option<usize>>,
}

/// The way to a photograph, to those that are kept in the file, and the photograph.
#[component]
pub(super) fn FromPhoto(sheet: Sheet) -> impl IntoView {
    let (is_open, wanted) = (RwSignal::new(false), RwSignal::new(None));
    provide_context(Way { sheet, is_open, wanted });
    let desk = part!(photo, photo_desk, view! { <PhotoDesk/> });
    let label = move || here(if is_open.get() { say::to_table() } else { say::from_photo() });
    let all = Memo::new(move |_| kept_of(sheet));
    let kept = move || {
        let button = |(number, at): (usize, usize)| {
            let open = move |_| {
                wanted.set(Some(at));
                // A desk that is open stays: another one would not know what was wanted.
                if !is_open.get_untracked() {
                    is_open.set(true);
                }
            };
            view! { <button on:click=open>{here(say::open_kept(number))}</button> }
        };
        (1..).zip(all.get()).map(button).collect_view()
    };
    view! {
        <div class="row">
            <button aria-expanded=move || is_open.get().to_string() on:click=move |_| is_open.update(|open| *open = !*open)>
                {label}
            </button>
            {kept}
        </div>
        {move || is_open.get().then(desk)}
    }
}

/// The pictures of a ring that the file has, by their places among those of the page.
fn kept_of(sheet: Sheet) -> Vec<usize> {
    let place = sheet.state.place();
    let gear = sheet.state.with(Design::gear_open).map(|gear| json!(gear + 1));
    sheet.state.photos.with(|all| {
        let is_own = |(of, photo): &(String, Value)| {
            *of == place && photo["ring"] == sheet.side.key() && photo.get("gear") == gear.as_ref()
        };
        all.iter().enumerate().filter(|(_, photo)| is_own(photo)).map(|(at, _)| at).collect()
    })
}

#[component]
fn PhotoDesk() -> impl IntoView {
    let Way { sheet, is_open, wanted } = expect_context::<Way>();
    let desk = Desk::new(sheet);
    let opened = move |data: Option<DataTransfer>| {
        let file = data.and_then(|data| data.files()).and_then(|files| files.get(0));
        file.inspect(|file| desk.open(file.clone().into())).is_some()
    };
    // On the whole page: the browser would leave it for a picture that is dropped beside the place for it.
    let over = window_event_listener(leptos::ev::dragover, |event| event.prevent_default());
    let dropped = window_event_listener(leptos::ev::drop, move |event: DragEvent| {
        event.prevent_default();
        opened(event.data_transfer());
    });
    let pasted = window_event_listener(leptos::ev::paste, move |event: ClipboardEvent| {
        if opened(event.clipboard_data()) {
            event.prevent_default();
        }
    });
    on_cleanup(move || {
        over.remove();
        dropped.remove();
        pasted.remove();
    });
    Effect::new(move |_| {
        if let Some(at) = wanted.get() {
            wanted.set(None);
            kept::open_kept(desk, at);
        }
    });
    Effect::new(move |_| kept::write_marks(desk));
    let picture = move || desk.picture.get().map(|picture| view! { <Open desk picture is_open/> });
    view! {
        <section class="photo" aria-label=here(say::from_photo)>
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
                <Keep desk/>
            </div>
            <div class="photo-beside">
                <Chosen desk/>
                <Found desk is_open/>
                <Known desk/>
            </div>
        </div>
    }
}

/// A tick that keeps the picture in the file, and what that adds to it.
#[component]
fn Keep(desk: Desk) -> impl IntoView {
    let is_kept = Memo::new(move |_| desk.kept.with(Option::is_some));
    let ticked = move |event| {
        let is_kept = event_target_checked(&event);
        kept::keep(desk, is_kept);
        // What has no room stays unticked.
        let has_room = desk.kept.with_untracked(Option::is_some);
        event_target::<HtmlInputElement>(&event).set_checked(has_room);
    };
    let told = move || match desk.kept.get() {
        Some(kept) => here(say::kept(kept.bytes.div_ceil(1000))),
        None => here(say::keep_how(kept::KEPT_PX)),
    };
    view! {
        <label class="tick">
            <input type="checkbox" prop:checked=is_kept on:change=ticked/>
            {here(say::keep)}
        </label>
        <p class="quiet photo-kept" role="status">{told}</p>
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
    let remeasured = move |value: RwSignal<f64>| {
        Callback::new(move |length| {
            value.set(length);
            desk.measure();
        })
    };
    let [outer, inner] = desk.heights_mm;
    let diameter = desk.diameter_mm;
    view! {
        <fieldset class="measured-settings">
            <legend>{here(say::what_is_known)}</legend>
            <div class="two">
                <Choose label=here(say::known) words=&CIRCLES value=desk.is_outer on_choose=choose/>
                <Length desk label=here(say::diameter) value=diameter take=remeasured(diameter)/>
                <Choose label=here(say::tips_are) words=&TIPS value=desk.bright on_choose=light/>
            </div>
            <details>
                <summary>{here(say::other_circles)}</summary>
                <p class="quiet">{here(say::heights_how)}</p>
                <div class="two">
                    <Length desk label=here(say::outer_height) value=outer take=remeasured(outer)/>
                    <Length desk label=here(say::inner_height) value=inner take=remeasured(inner)/>
                </div>
            </details>
            <CutDown desk/>
            <button on:click=move |_| desk.measure()>{here(say::measure)}</button>
        </fieldset>
    }
}

/// How far the tips of dogs that were cut down are below the others. Open where a dog lies off the circles.
#[component]
fn CutDown(desk: Desk) -> impl IntoView {
    let dogs =
        Memo::new(move |_| desk.ring.with(|ring| ring.as_ref().map_or(0, |ring| ring.dogs.len())));
    let is_wanted =
        Memo::new(move |_| (0..dogs.get()).any(|dog| desk.is_off(dog) || desk.below(dog) != 0.0));
    let field = move |place: usize| {
        let dog = Memo::new(move |_| desk.nth(place, dogs.get()));
        let value = Signal::derive(move || desk.below(dog.get()));
        let take = Callback::new(move |below| desk.lower(dog.get_untracked(), below));
        view! { <Length desk label=here(say::below_of(place)) value take/> }
    };
    view! {
        <details prop:open=is_wanted>
            <summary>{here(say::lowered_dogs)}</summary>
            <p class="quiet">{here(say::lowered_how)}</p>
            <div class="two">{move || (0..dogs.get()).map(field).collect_view()}</div>
        </details>
    }
}

/// A length that belongs to the picture alone.
#[component]
fn Length(
    desk: Desk,
    label: Cow<'static, str>,
    #[prop(into)] value: Signal<f64>,
    take: Callback<f64>,
) -> impl IntoView {
    let units = desk.sheet.state.units;
    let wrong = RwSignal::new(None::<String>);
    let text = move || Quantity::Length.format_kept(value.get(), units.get());
    let typed = move |input: HtmlInputElement| match Quantity::Length
        .parse(&input.value(), units.get_untracked())
    {
        Ok(length) => {
            wrong.set(None);
            take.run(length);
            input.set_value(&Quantity::Length.format_kept(length, units.get_untracked()));
        }
        Err(why) => wrong.set(Some(Finding::from(why).whole(desk.sheet.state.reader()))),
    };
    view! {
        <label class="field">
            <span>{label}</span>
            <span class="entry">
                <input type="text" inputmode="decimal" autocomplete="off" prop:value=text
                    aria-invalid=move || wrong.with(Option::is_some).to_string()
                    on:change=move |event| typed(event_target(&event))/>
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
            <AskHeights sheet=desk.sheet/>
        })}
    }
}

/// The gauges of what a picture of the tips does not show.
const HEIGHTS: [&str; 3] = ["height", "drive_back_cut", "coast_back_cut"];

/// A button that asks for heights and undercut: it adds the columns that are missing.
#[component]
fn AskHeights(sheet: Sheet) -> impl IntoView {
    let missing = move || {
        let is_missing = |kind: &&&GaugeKind| {
            let is_there =
                sheet.with(|read| read.readings.columns.iter().any(|c| c.kind.key == kind.key));
            HEIGHTS.contains(&kind.key) && !is_there
        };
        GAUGES.iter().filter(is_missing).copied().collect::<Vec<_>>()
    };
    let has_all = Memo::new(move |_| missing().is_empty());
    let add = move |_| {
        let missing = untrack(missing);
        if sheet.has_room(missing.len()) {
            sheet.add_columns(missing);
            sheet.state.flash(here(say::heights_added));
        }
    };
    move || {
        (!has_all.get()).then(|| {
            view! {
                <div class="row"><button on:click=add>{here(say::add_heights)}</button></div>
            }
        })
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
    lines.push(say::lens(format!("{:.2}", ring.lens.to_degrees())));
    lines.push(say::unsure(unsure));
    let off: Vec<String> = (0..dogs)
        .map(|place| desk.nth(place, dogs))
        .filter(|dog| desk.is_off(*dog))
        .map(|dog| format!("{}{}", desk.sheet.side.letter(), desk.place_of(dog) + 1))
        .collect();
    lines.extend((!off.is_empty()).then(|| say::lower(off.join(", "))));
    lines
}
