//! Files: opening, saving and exporting.

use gloo_file::Blob;
use leptos::prelude::*;
use leptos::wasm_split::{SplitLoaderError, wasm_split};
use wasm_bindgen::JsCast as _;
use wasm_bindgen_futures::spawn_local;

use crenel::analysis::Analysis;
use crenel::design::{Opened, check_size, read as read_file, save_with_photos};
use crenel::export::{Detail, EXPORTS, Export, ExportInput, Place, file_name};
use crenel::finding::Finding;

use crenel_words::Message;
use crenel_words::page::{files as say, frame};

use crate::part::fetched;
use crate::state::persistence::link_to;
use crate::state::{AppState, advice, here, use_app_state};
use crate::widgets::file_picker::FilePicker;

/// Makes a file and saves it with the downloads, or says why there is none.
pub(crate) fn take_file(state: AppState, analysis: &Analysis, export: Export) {
    let before = state.before.get_untracked();
    let input = ExportInput {
        analysis,
        before: &before,
        reader: untrack(|| state.reader()),
        link: &link_to(&analysis.design),
        time: &now(),
        detail: Detail::default(),
    };
    match export.make(&input) {
        Ok(file) => download(state, &file.name, file.media_type, &file.bytes),
        Err(why) => state.tell(Finding::from(why).whole(untrack(|| state.reader())), true),
    }
}

/// The time by the clock of the browser, to the second.
pub(crate) fn now() -> String {
    let mut now = String::from(js_sys::Date::new_0().to_iso_string());
    now.truncate("2000-01-31T12:00:00".len());
    now
}

/// The files whose button is in one place of the page.
pub(crate) fn files_at(place: Place) -> impl Iterator<Item = Export> {
    Export::all(EXPORTS).into_iter().filter(move |export| export.place() == place)
}

/// Takes a file of the design as it is drawn, or says why there is none.
pub(crate) fn take_drawn(state: AppState, export: Export) {
    if state.analysis.with_untracked(|a| a.pair.is_none()) {
        return state.tell(here(say::nothing_to_export), true);
    }
    take_file(state, &state.drawn.get_untracked(), export);
}

/// The files that the design is exported as, each with its button.
#[component]
pub(crate) fn Exports() -> impl IntoView {
    let state = use_app_state();
    let item = move |export: Export| {
        view! { <button on:click=move |_| take_drawn(state, export)>{here(export.label())}</button> }
    };
    view! {
        <h3>{here(say::export)}</h3>
        {files_at(Place::Menu).map(item).collect_view()}
    }
}

/// Saves the design as a file, with the pictures that are to be kept.
pub(crate) fn save_design(state: AppState) {
    fetched(state, save(state));
}

#[wasm_split(keeping, wasm_split_path = leptos::wasm_split, fallible)]
fn save(state: AppState) -> Result<(), SplitLoaderError> {
    let photos = untrack(|| state.photos_to_save());
    let text = state.with(|d| format!("{:#}\n", save_with_photos(d, photos)));
    download(state, "design.json", "application/json", text.as_bytes());
    Ok(())
}

pub(crate) fn download(state: AppState, ending: &str, kind: &str, bytes: &[u8]) {
    let name = file_name(&state.with(|d| d.title.clone()), ending);
    let blob = Blob::new_with_options(bytes, Some(kind));
    let url = gloo_file::ObjectUrl::from(blob);
    let link = document().create_element("a").ok();
    let Some(link) = link.and_then(|a| a.dyn_into::<web_sys::HtmlAnchorElement>().ok()) else {
        return;
    };
    link.set_href(&url);
    link.set_download(&name);
    link.click();
    state.say(here(say::is_saved(name)));
    // The browser needs the address a moment longer than this call.
    gloo_timers::callback::Timeout::new(10_000, move || drop(url)).forget();
}

#[component]
pub(crate) fn OpenButton() -> impl IntoView {
    let state = use_app_state();
    let read = Callback::new(move |file| spawn_local(read(state, file)));
    view! { <FilePicker label=say::open_file says=say::open_design_file on_pick=read/> }
}

async fn read(state: AppState, file: gloo_file::File) {
    let name = file.name();
    match read_design(file).await {
        Ok(opened) => {
            let is_box = opened.design.around.is_some();
            state.replace(opened.design);
            untrack(|| state.bring_photos(opened.photos));
            if is_box {
                state.open_area(state.areas.whole_box().key);
            }
            state.tell_opened(say::is_open(name), &opened.findings);
        }
        Err(why) => {
            state.tell(here([vec![say::not_opened(name)], why].concat()), true);
        }
    }
}

/// The design in a file, or why there is none.
pub(crate) async fn read_design(file: gloo_file::File) -> Result<Opened, Vec<Message>> {
    let bytes = usize::try_from(file.size()).unwrap_or(usize::MAX);
    check_size(bytes).map_err(|findings| advice(&findings))?;
    let bytes = gloo_file::futures::read_as_bytes(&file).await;
    let bytes = bytes.map_err(|e| vec![say::browser_cannot_read(e.to_string())])?;
    let opened = opened(bytes).await.map_err(|_| vec![frame::part_not_fetched()])?;
    opened.map_err(|findings| advice(&findings))
}

#[wasm_split(keeping, wasm_split_path = leptos::wasm_split, fallible)]
fn opened(bytes: Vec<u8>) -> Result<Result<Opened, Vec<Finding>>, SplitLoaderError> {
    Ok(read_file(&bytes))
}
