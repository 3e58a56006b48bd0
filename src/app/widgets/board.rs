//! The middle of an area: one of its pictures, and below it all of its sizes.

use leptos::prelude::*;

use crenel::design::Design;
use crenel::draw::RingState;
use crenel_words::page::frame as say;

use crate::deferred::Deferred;
use crate::state::{Area, Panel, Part, Picture, here, use_app_state};
use crate::widgets::variants::VariantMenu;

/// The pictures of an area, one at a time, and its sizes.
#[component]
pub(crate) fn Board(area: &'static Area<AnyView>) -> impl IntoView {
    let state = use_app_state();
    let open = move || state.layout.is_open(Part::Drawer);
    let phone = state.layout.phone;
    let shown =
        Memo::new(move |_| picture_of(area, state.layout.picture(area.key), phone.get()).key);
    let show = move || (picture_of(area, Some(shown.get()), phone.get_untracked()).show)();
    let pictures = move || {
        let all = area.pictures_on(phone.get());
        all.map(|picture| view! { <PictureButton area picture shown/> }).collect_view()
    };
    let of_rings = Memo::new(move |_| {
        let phone = phone.get();
        picture_of(area, Some(shown.get()), phone).shows_rings && state.with(Design::is_planned)
    });
    let back = move || {
        state.layout.left_check.get().map(|check| {
            view! {
                <button class="back-to-check" on:click=move |_| state.open_area(check)>
                    "◀ "{here(say::back_to_check)}
                </button>
            }
        })
    };
    let states = move || of_rings.get().then(|| view! { <RingStates/> });
    view! {
        <section class="work" class:drawn-out=open aria-label=here(area.title)>
            {(area.pictures().len() > 1).then(|| view! {
                <div class="pictures-head">
                    <div class="pictures segmented" role="group" aria-label=here(say::pictures)>{pictures}</div>
                    {states}
                    <VariantMenu/>
                    {back}
                </div>
            })}
            <div class="picture" data-picture=shown>{show}</div>
            <Deferred><Drawer area/></Deferred>
        </section>
    }
}

/// The picture with a key; the first where there is none.
fn picture_of(
    area: &'static Area<AnyView>,
    key: Option<&str>,
    phone: bool,
) -> &'static Picture<AnyView> {
    let first = area.pictures_on(phone).next().unwrap_or(&area.pictures()[0]);
    area.pictures_on(phone).find(|picture| Some(picture.key) == key).unwrap_or(first)
}

#[component]
fn PictureButton(
    area: &'static Area<AnyView>,
    picture: &'static Picture<AnyView>,
    shown: Memo<&'static str>,
) -> impl IntoView {
    let state = use_app_state();
    view! {
        <button aria-pressed=move || (shown.get() == picture.key).to_string()
            on:click=move |_| state.layout.show_picture(area.key, picture.key)>
            {here(picture.title)}
        </button>
    }
}

/// As found, as cut, or both, for every drawing of the rings.
#[component]
fn RingStates() -> impl IntoView {
    let state = use_app_state();
    let choice = move |shown: RingState| {
        view! {
            <button aria-pressed=move || (state.rings_shown() == shown).to_string()
                on:click=move |_| state.layout.rings_shown.set(shown)>
                {here(shown.label())}
            </button>
        }
    };
    view! {
        <div class="ring-states segmented" role="group" aria-label=here(say::rings_shown)>
            {RingState::ALL.map(choice).into_iter().collect_view()}
        </div>
    }
}

/// All sizes of the area. Closed, its panels open one at a time in the inspector.
#[component]
fn Drawer(area: &'static Area<AnyView>) -> impl IntoView {
    let state = use_app_state();
    let open = Memo::new(move |_| state.layout.is_open(Part::Drawer));
    let forms = move || {
        let form = |panel: &Panel<AnyView>| {
            let form = panel.form;
            view! { <Deferred>{form()}</Deferred> }
        };
        open.get().then(|| {
            view! {
                <div class="panels" id="all-sizes">{area.panels().iter().map(form).collect_view()}</div>
            }
        })
    };
    view! {
        <section class="drawer" aria-label=here(say::sizes)>
            <div class="handle-row">
                <button aria-expanded=move || open.get().to_string() aria-controls="all-sizes"
                    on:click=move |_| state.layout.turn(Part::Drawer)>
                    {here(say::all_sizes)}
                </button>
            </div>
            {forms}
        </section>
    }
}
