//! The link that holds the design, and the messages above the drawings.

use leptos::prelude::*;
use wasm_bindgen::{JsCast as _, JsValue};
use wasm_bindgen_futures::{JsFuture, spawn_local};
use web_sys::{DomException, ShareData};

use crenel::design::Draft;

use crenel::export::Cited;
use crenel::references::list_of_references;
use crenel_words::page::{figure, files as say, frame};

use crate::part::part;
use crate::state::persistence::{forget_earlier, link_here};
use crate::state::{AppState, Dialog, Notice, Offer, here, use_app_state};
use crate::widgets::clipboard::{copy_text, write_text};
use crate::widgets::dialog::Sheet;
use crate::widgets::link_code::LinkCode;

/// Links longer than this are cut by some programs.
const COMFORTABLE: usize = 2000;

#[component]
pub(crate) fn ShareDialog() -> impl IntoView {
    view! { <Sheet which=Dialog::Share title=say::share_title show=part!(more, sharing, view! { <Sharing/> })/> }
}

#[component]
fn Sharing() -> impl IntoView {
    let state = use_app_state();
    let link = Memo::new(move |_| link_here(state));
    let length = move || link.with(|l| l.chars().count());
    let copied = RwSignal::new(false);
    let copy = move |_| {
        let writing = write_text(&link.get_untracked());
        spawn_local(async move {
            let done = writing.await;
            copied.set(done);
            state.say(here(if done { say::link_copied } else { say::link_not_copied }));
        });
    };
    let words = move || here(if copied.get() { say::copied } else { say::copy_link });
    let send = can_send().then(|| {
        let send = move |_| send_link(state, &link.get_untracked());
        view! { <button class="main" on:click=send>{here(say::send_link)}</button> }
    });
    let only_copied = send.is_none();
    view! {
        <p>{here(say::share_why)}</p>
        <div class="row">
            {send}
            <button class:main=only_copied class:done=copied on:click=copy>{words}</button>
        </div>
        <h3>{here(say::for_a_phone)}</h3>
        <LinkCode/>
        <Citing/>
        <details class="link-text">
            <summary>{here(say::link_as_text)}</summary>
            <label class="sr" for="share-link">{here(say::link)}</label>
            <textarea id="share-link" readonly rows="4" prop:value=move || link.get()></textarea>
            <p class="quiet">
                {move || here(if length() > COMFORTABLE { say::length_risky } else { say::length_fits }(length()))}
            </p>
        </details>
    }
}

/// The program and the design for a list of references.
#[component]
fn Citing() -> impl IntoView {
    let state = use_app_state();
    let made = move |make: fn(&Cited<'_>) -> String| {
        let (title, link) = (state.with(|d| d.name().to_owned()), link_here(state));
        let page = link.split('#').next().unwrap_or_default();
        let now = String::from(js_sys::Date::new_0().to_iso_string());
        let day = now.get(..10).unwrap_or_default();
        make(&Cited { title: &title, version: env!("CARGO_PKG_VERSION"), day, link: &link, page })
    };
    let copy = move |make: fn(&Cited<'_>) -> String| {
        let text = untrack(|| made(make));
        copy_text(state, &text, [figure::citation_copied, figure::citation_refused]);
    };
    let copy_sources = move |_| {
        let told = [figure::references_copied, figure::citation_refused];
        copy_text(state, &list_of_references(), told);
    };
    view! {
        <details class="link-text">
            <summary>{here(figure::cite)}</summary>
            <p class="quiet">{here(figure::cite_why)}</p>
            <textarea readonly rows="6" aria-label=here(figure::cite) prop:value=move || made(|c| c.bibtex())></textarea>
            <div class="row">
                <button on:click=move |_| copy(|c| c.text())>{here(figure::copy_text)}</button>
                <button on:click=move |_| copy(|c| c.bibtex())>{here(figure::copy_bibtex)}</button>
                <button on:click=copy_sources>{here(figure::copy_references)}</button>
            </div>
        </details>
    }
}

/// Whether the system has a sheet to share with.
fn can_send() -> bool {
    let navigator = window().navigator();
    js_sys::Reflect::has(&navigator, &JsValue::from_str("share")).unwrap_or_default()
}

/// Hands the link to the system's own sheet. Somebody who puts the sheet away is told nothing.
fn send_link(state: AppState, link: &str) {
    let data = ShareData::new();
    data.set_title(&untrack(|| state.with(|d| d.name().to_owned())));
    data.set_url(link);
    let sending = window().navigator().share_with_data(&data);
    spawn_local(async move {
        let failed = JsFuture::from(sending).await.err();
        let why = failed.and_then(|why| why.dyn_into::<DomException>().ok());
        if why.is_some_and(|why| why.name() != "AbortError") {
            state.say(here(say::link_not_sent));
        }
    });
}

fn dismiss(state: AppState) {
    let offers = |notice: &Notice| matches!(notice.offer, Offer::Earlier(_));
    if state.notice.with_untracked(|n| n.as_ref().is_some_and(offers)) {
        forget_earlier();
    }
    state.notice.set(None);
}

/// The message above the drawings, if there is one.
#[component]
pub(crate) fn SharedNotice() -> impl IntoView {
    let state = use_app_state();
    let body = move |notice: Notice| {
        view! {
            <div class="notice" class:bad=notice.bad role=if notice.bad { "alert" } else { "status" }>
                <p>{notice.text}</p>
                {offered(state, notice.offer)}
                <button on:click=move |_| dismiss(state)>{here(frame::dismiss)}</button>
            </div>
        }
    };
    move || state.notice.get().map(body)
}

fn offered(state: AppState, offer: Offer) -> AnyView {
    match offer {
        Offer::Nothing => ().into_any(),
        Offer::Earlier(draft) => view! {
            <button on:click=move |_| bring_back(state, &draft)>{here(frame::restore)}</button>
        }.into_any(),
        Offer::Clearing => view! {
            <button on:click=move |_| state.dialog.set(Some(Dialog::Designs))>{here(frame::see_kept)}</button>
        }.into_any(),
    }
}

fn bring_back(state: AppState, earlier: &Draft) {
    state.put_on_board(earlier.clone());
    forget_earlier();
    state.tell(here(frame::earlier_work_is_back), false);
}
