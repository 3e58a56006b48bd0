//! Designs to open: those kept in this browser, and the invented ones of the gallery.

use leptos::prelude::*;

use crenel::design::{Example, gallery};

use crenel_words::page::designs as say;

use crate::state::persistence::keep;
use crate::state::{AppState, AreaKey, Dialog, use_app_state};
use crate::storage::room::{ROOM, kilobytes, usage};
use crate::storage::saved_session::{SavedSession, restore};
use crate::widgets::dialog::Sheet;

#[component]
pub(crate) fn DesignsDialog() -> impl IntoView {
    view! {
        <Sheet which=Dialog::Designs title=say::title>
            <KeptHere/>
            <Gallery/>
        </Sheet>
    }
}

/// What this and other tabs worked on.
#[component]
fn KeptHere() -> impl IntoView {
    let state = use_app_state();
    let on_board = state.history.with_untracked(|h| h.settled().clone());
    let kept = state.tab_storage.with_value(|tab_storage| tab_storage.others(Some(&on_board)));
    let kept: Vec<_> =
        kept.into_iter().filter_map(|one| Some((one.draft()?.design, one))).collect();
    let hidden = kept.is_empty();
    // The other open tabs, once they are known.
    let open = RwSignal::new(Vec::new());
    state.tab_storage.with_value(|tab_storage| tab_storage.ask_open(move |tabs| open.set(tabs)));
    let room = RwSignal::new(room_taken());
    let items = kept.into_iter().map(|(design, one)| {
        let title = design.name().to_owned();
        view! { <KeptWork title one open room/> }
    });
    view! {
        <section class="kept" class:hidden=hidden>
            <h3>"Kept in this browser"</h3>
            <p class="quiet">
                "Every work that was on the board, apart from what is on it now. None goes by itself; take away here \
                what you no longer need. This is no backup: save a file of what matters."
            </p>
            <p class="quiet">{room}</p>
            <ul class="designs">{items.collect_view()}</ul>
        </section>
    }
}

fn room_taken() -> String {
    format!("{} of the {} there is room for.", usage(), kilobytes(ROOM))
}

/// One kept work: it can be opened, removed, and restored while the list is open.
#[component]
fn KeptWork(
    title: String,
    one: SavedSession,
    open: RwSignal<Vec<String>>,
    room: RwSignal<String>,
) -> impl IntoView {
    let state = use_app_state();
    let one = StoredValue::new(one);
    let about = one.with_value(|one| {
        let at = js_sys::Date::new(&one.at_ms().into());
        let when = String::from(at.to_locale_string("en-GB", &js_sys::Object::new()));
        format!("{when}, {}", kilobytes(one.size))
    });
    let elsewhere = move || open.with(|tabs| one.with_value(|one| one.is_of(tabs)));
    // What the store held, after it was removed.
    let gone = RwSignal::new(Vec::new());
    let is_gone = move || gone.with(|texts| !texts.is_empty());
    let take_up = move |_| {
        let draft = one.with_value(|one| {
            state.tab_storage.with_value(|tab_storage| tab_storage.taken_up(one))
        });
        draft.into_iter().for_each(|draft| state.put_on_board(draft));
        state.dialog.set(None);
        state.tell(
            "Opened from what is kept in this browser. Undo brings back what was on the board.",
            false,
        );
    };
    let forget = {
        let title = title.clone();
        move |_| {
            gone.set(one.with_value(|one| one.remove(&open.get_untracked())));
            room.set(room_taken());
            state.say(format!("{title} is no longer kept."));
            // The work on the board may have room now.
            keep(state);
        }
    };
    let keep_again = {
        let title = title.clone();
        move |_| {
            let back = gone.with_untracked(|texts| restore(texts));
            if back {
                gone.set(Vec::new());
            }
            room.set(room_taken());
            let kept = if back { "is kept again." } else { "finds no room any more." };
            state.say(format!("{title} {kept}"));
        }
    };
    let (put_label, forget_label) =
        (format!("Keep {title} again"), format!("Do not keep {title} any longer"));
    let status = move || match (is_gone(), elsewhere()) {
        (true, _) => Some("No longer kept."),
        (false, true) => Some("Open in another tab."),
        (false, false) => None,
    };
    let to_open = move || if elsewhere() { "Open a copy" } else { "Open" };
    view! {
        <li>
            <p><b>{title}</b>" "<span class="quiet">{about}</span></p>
            <div class="row">
                <button class:hidden=is_gone on:click=take_up>{to_open}</button>
                <button class:hidden=move || is_gone() || elsewhere() aria-label=forget_label on:click=forget>
                    "Do not keep"
                </button>
                {move || status().map(|words| view! { <span class="quiet">{words}</span> })}
                <button class:hidden=move || !is_gone() aria-label=put_label on:click=keep_again>
                    "Keep it again"
                </button>
            </div>
        </li>
    }
}

/// Classic layouts and faults.
#[component]
fn Gallery() -> impl IntoView {
    let state = use_app_state();
    let item = |example: &'static Example| {
        view! {
            <li>
                <p><b>{example.name}</b>" "<span class="quiet">{example.story}</span></p>
                <div class="row">
                    <button aria-label=format!("Open: {}", example.name) on:click=move |_| show(state, example)>
                        "Open"
                    </button>
                </div>
            </li>
        }
    };
    view! {
        <h3>"Invented examples"</h3>
        <p class="quiet">
            "Classic layouts and classic faults. No real maker or model stands behind them. What is on the board now \
            stays kept, and Undo brings it back."
        </p>
        <ul class="designs">{gallery().iter().map(item).collect_view()}</ul>
    }
}

fn show(state: AppState, example: &'static Example) {
    state.replace(example.design());
    state.dialog.set(None);
    state.area.set(AreaKey(example.opens_in));
    state.tell(
        format!("{}. {} Undo brings your earlier work back.", example.name, example.story),
        false,
    );
}
