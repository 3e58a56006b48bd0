//! The link that holds the design, and the messages above the drawings.

use leptos::prelude::*;

use crenel::design::Draft;

use crenel_words::page::files as say;

use crate::state::persistence::{forget_earlier, link_to};
use crate::state::{AppState, Dialog, Notice, Offer, use_app_state};
use crate::widgets::clipboard::copy_text;
use crate::widgets::dialog::Sheet;
use crate::widgets::link_code::LinkCode;

/// Links longer than this are cut by some programs.
const COMFORTABLE: usize = 2000;

const LONG: &str = "Some programs cut links this long: check it arrives whole, or send the file.";

#[component]
pub(crate) fn ShareDialog() -> impl IntoView {
    view! { <Sheet which=Dialog::Share title=say::share_title><Sharing/></Sheet> }
}

#[component]
fn Sharing() -> impl IntoView {
    let state = use_app_state();
    let link = Memo::new(move |_| state.with(link_to));
    let length = move || link.with(|l| l.chars().count());
    let copy = move |_| {
        copy_text(
            state,
            &link.get_untracked(),
            "The link is copied.",
            "Select the link and copy it by hand.",
        );
    };
    view! {
        <p>
            "The link holds the whole design, and the layouts beside it under Compare. It travels in the part of the \
            address after the #, which browsers do not send to any server."
        </p>
        <label for="share-link">"Link"</label>
        <textarea id="share-link" readonly rows="4" prop:value=move || link.get()></textarea>
        <p class="quiet">
            {move || format!("{} characters. ", length())}
            {move || if length() > COMFORTABLE { LONG } else { "Short enough for any mail or messenger." }}
        </p>
        <div class="row"><button class="main" on:click=copy>"Copy link"</button></div>
        <h3>"For a phone beside you"</h3>
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
                <button on:click=move |_| dismiss(state)>"Dismiss"</button>
            </div>
        }
    };
    move || state.notice.get().map(body)
}

fn offered(state: AppState, offer: Offer) -> AnyView {
    match offer {
        Offer::Nothing => ().into_any(),
        Offer::Earlier(draft) => view! {
            <button on:click=move |_| bring_back(state, &draft)>"Bring it back"</button>
        }.into_any(),
        Offer::Clearing => view! {
            <button on:click=move |_| state.dialog.set(Some(Dialog::Designs))>"See what is kept"</button>
        }.into_any(),
    }
}

fn bring_back(state: AppState, earlier: &Draft) {
    state.put_on_board(earlier.clone());
    forget_earlier();
    state.tell("Your earlier work is back. Undo returns to the design of the link.", false);
}
