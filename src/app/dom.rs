//! Elements of the page, its clock, and preferences of the reader's system.

use gloo_events::EventListener;
use leptos::prelude::{ReadSignal, Set as _, document, request_animation_frame, signal, window};
use wasm_bindgen::JsCast as _;
use wasm_bindgen_futures::JsFuture;

/// An element of the page by its id.
pub(crate) fn html_element(id: &str) -> Option<web_sys::HtmlElement> {
    document().get_element_by_id(id)?.dyn_into().ok()
}

/// The first element of the page that a selector names.
pub(crate) fn first_element(selector: &str) -> Option<web_sys::HtmlElement> {
    document().query_selector(selector).ok().flatten()?.dyn_into().ok()
}

/// How many frames an element is waited for.
const FRAMES: u32 = 40;

/// Scrolls to the first element that a selector names and focuses it, once it is on the page and something was done
/// with it. Nothing happens if it does not come.
pub(crate) fn go_to_element(selector: String, first: fn(&web_sys::HtmlElement)) {
    look_for(selector, first, FRAMES);
}

fn look_for(selector: String, first: fn(&web_sys::HtmlElement), frames: u32) {
    request_animation_frame(move || match first_element(&selector) {
        Some(element) => {
            first(&element);
            element.scroll_into_view();
            // Focusing fails only if the page is gone.
            let _ = element.focus();
        }
        None if frames > 0 => look_for(selector, first, frames - 1),
        None => {}
    });
}

/// Milliseconds since the page was opened.
pub(crate) fn now_ms() -> f64 {
    window().performance().map_or(0.0, |clock| clock.now())
}

/// How large text is set, against the usual 16 px.
pub(crate) fn text_scale() -> f64 {
    let root = document().document_element();
    let style = root.and_then(|root| window().get_computed_style(&root).ok().flatten());
    let size = style.and_then(|style| style.get_property_value("font-size").ok());
    // The browser reads the number: `str::parse` would bring a table of 10 kB into the first download.
    let px = size.map(|size| js_sys::parse_float(&size)).filter(|px| px.is_finite());
    px.map_or(1.0, |px| px / 16.0)
}

/// Whether the reader's system asks for less motion.
pub(crate) fn prefers_reduced_motion() -> bool {
    applies("(prefers-reduced-motion: reduce)")
}

/// The media query of a pointer that is a finger.
pub(crate) const COARSE: &str = "(pointer: coarse)";

/// The media query of a phone, either way up, as in the style sheet.
pub(crate) const PHONE: &str = "(max-width: 37.5em), (max-height: 30em)";

/// Whether a media query applies now.
pub(crate) fn applies(query: &str) -> bool {
    window().match_media(query).ok().flatten().is_some_and(|list| list.matches())
}

/// Whether a media query applies, from now on.
pub(crate) fn watch_media(query: &'static str) -> ReadSignal<bool> {
    let (now, set_now) = signal(applies(query));
    if let Some(list) = window().match_media(query).ok().flatten() {
        // The page lives as long as its window.
        EventListener::new(&list, "change", move |_| set_now.set(applies(query))).forget();
    }
    now
}

/// A file of the page that could not be loaded.
#[derive(Clone, Copy)]
pub(crate) struct NotLoaded;

/// The text of a file in the page's folder.
pub(crate) async fn text_of(name: &str) -> Result<String, NotLoaded> {
    let response = JsFuture::from(window().fetch_with_str(name)).await.map_err(|_| NotLoaded)?;
    let response: web_sys::Response = response.dyn_into().map_err(|_| NotLoaded)?;
    if !response.ok() {
        return Err(NotLoaded);
    }
    let text = response.text().map_err(|_| NotLoaded)?;
    let text = JsFuture::from(text).await.map_err(|_| NotLoaded)?;
    Ok(text.as_string().unwrap_or_default())
}

/// Removes what the page shows while the module is loading or seems to have failed.
pub(crate) fn opened() {
    for id in ["opening", "unloaded"] {
        if let Some(words) = document().get_element_by_id(id) {
            words.remove();
        }
    }
}
