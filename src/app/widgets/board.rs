//! The middle of an area: one of its pictures, and below it all of its sizes.

use leptos::prelude::*;

use crenel_words::page::frame as say;

use crate::deferred::Deferred;
use crate::state::{Area, Panel, Part, Picture, here, use_app_state};

/// The pictures of an area, one at a time, and its sizes.
#[component]
pub(crate) fn Board(area: &'static Area<AnyView>) -> impl IntoView {
    let state = use_app_state();
    let open = move || state.layout.is_open(Part::Drawer);
    let shown = Memo::new(move |_| picture_of(area, state.layout.picture(area.key)).key);
    let show = move || (picture_of(area, Some(shown.get())).show)();
    let pictures = area.pictures();
    view! {
        <section class="work" class:drawn-out=open aria-label=here(area.title)>
            {(pictures.len() > 1).then(|| view! {
                <div class="pictures segmented" role="group" aria-label=here(say::pictures)>
                    {pictures.iter().map(|picture| view! { <PictureButton area picture shown/> }).collect_view()}
                </div>
            })}
            <div class="picture" data-picture=shown>{show}</div>
            <Deferred><Drawer area/></Deferred>
        </section>
    }
}

/// The picture with a key; the first where there is none.
fn picture_of(area: &'static Area<AnyView>, key: Option<&str>) -> &'static Picture<AnyView> {
    let pictures = area.pictures();
    pictures.iter().find(|picture| Some(picture.key) == key).unwrap_or(&pictures[0])
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
