//! Elements of the page, its clock, and preferences of the reader's system.

use leptos::prelude::{document, window};
use wasm_bindgen::JsCast as _;

/// An element of the page by its id.
pub(crate) fn html_element(id: &str) -> Option<web_sys::HtmlElement> {
    document().get_element_by_id(id)?.dyn_into().ok()
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
    let px = size.and_then(|size| size.strip_suffix("px")?.parse::<f64>().ok());
    px.map_or(1.0, |px| px / 16.0)
}

/// Whether the reader's system asks for less motion.
pub(crate) fn prefers_reduced_motion() -> bool {
    let query = window().match_media("(prefers-reduced-motion: reduce)").ok().flatten();
    query.is_some_and(|list| list.matches())
}
