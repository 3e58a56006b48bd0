//! A number and what it measures are lit together, whichever of the two is pointed at or has the focus.

use gloo_events::EventListener;
use leptos::prelude::*;
use wasm_bindgen::JsCast as _;
use web_sys::{Element, Event};

use crenel::measure::Measure;

/// The attribute of a mark or a number: what it measures.
const MEASURE: &str = "data-measure";

/// The attribute of the page: which measure is lit. The style sheet does the rest.
const LIT: &str = "data-lit";

/// What a row of a figure says of its measure.
pub(crate) fn measure_of(figure: &str) -> Option<&'static str> {
    Measure::of_figure(figure).map(Measure::key)
}

/// Follows pointer and focus.
pub(crate) fn follow() {
    for kind in ["pointerover", "focusin"] {
        // The page lives as long as its window.
        EventListener::new(&document(), kind, light).forget();
    }
}

fn light(event: &Event) {
    let pointed = event.target().and_then(|target| target.dyn_into::<Element>().ok());
    let measured = pointed.and_then(|at| at.closest(&format!("[{MEASURE}]")).ok().flatten());
    let measure = measured.and_then(|at| at.get_attribute(MEASURE));
    let Some(page) = document().body() else { return };
    if page.get_attribute(LIT) != measure {
        // Fails only for an invalid name.
        let _ = match measure {
            Some(measure) => page.set_attribute(LIT, &measure),
            None => page.remove_attribute(LIT),
        };
    }
}
