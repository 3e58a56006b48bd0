//! The link that holds the design, and the messages above the drawings.

use leptos::prelude::*;

use crenel::design::Draft;

use crenel_words::page::{files as say, frame};

use crate::state::persistence::{forget_earlier, link_here};
use crate::state::{AppState, Dialog, Notice, Offer, here, use_app_state};
use crate::widgets::clipboard::copy_text;
use crate::widgets::dialog::Sheet;
use crate::widgets::link_code::LinkCode;

/// Links longer than this are cut by some programs.
const COMFORTABLE: usize = 2000;

#[component]
pub(crate) fn ShareDialog() -> impl IntoView {
    view! { <Sheet which=Dialog::Share title=say::share_title><Sharing/></Sheet> }
}

#[component]
fn Sharing() -> impl IntoView {
    let state = use_app_state();
    let link = Memo::new(move |_| link_here(state));
    let length = move || link.with(|l| l.chars().count());
    let copy = move |_| {
        copy_text(state, &link.get_untracked(), [say::link_copied, say::link_not_copied]);
    };
    view! {
        <p>
            {here(say::share_why)}
        </p>
        <label for="share-link">{here(say::link)}</label>
        <textarea id="share-link" readonly rows="4" prop:value=move || link.get()></textarea>
        <p class="quiet">
            {move || here(if length() > COMFORTABLE { say::length_risky } else { say::length_fits }(length()))}
        </p>
        <div class="row"><button class="main" on:click=copy>{here(say::copy_link)}</button></div>
        <h3>{here(say::for_a_phone)}</h3>
        <LinkCode/>
    }
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
