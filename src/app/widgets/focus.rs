//! Where the focus goes when the button that was pressed disappears.

use gloo_events::{EventListener, EventListenerOptions};
use leptos::prelude::*;
use wasm_bindgen::JsCast as _;
use web_sys::{Element, HtmlElement, PointerEvent};

/// Selector of the elements that can take the focus.
const FOCUSABLE: &str =
    "button:not(:disabled), input:not(:disabled), select:not(:disabled), summary, [tabindex=\"0\"]";

/// Where it goes if nothing around the button is left.
const ELSEWHERE: &str = ".areas [aria-current]";

/// Keeps a keyboard user's place: if a button disappears when it is pressed, the nearest element that is left
/// takes the focus. A browser would start again at the top of the page.
pub(crate) fn keep_place() {
    let options = EventListenerOptions::run_in_capture_phase();
    let listener = EventListener::new_with_options(&document(), "click", options, |event| {
        // Not after a touch: focus in an entry would bring up the keyboard.
        let finger = event.dyn_ref::<PointerEvent>().is_some_and(|at| at.pointer_type() == "touch");
        let target = event.target().and_then(|target| target.dyn_into::<Element>().ok());
        if let Some(pressed) = target.filter(|_| !finger) {
            let around: Vec<_> =
                std::iter::successors(pressed.parent_element(), |at| at.parent_element()).collect();
            request_animation_frame(move || {
                if !pressed.is_connected() && is_lost() {
                    hand_on(&around);
                }
            });
        }
    });
    // The page lives as long as its window.
    listener.forget();
}

/// Whether nothing has the focus.
fn is_lost() -> bool {
    document().active_element().is_none_or(|at| at.tag_name() == "BODY")
}

fn hand_on(around: &[Element]) {
    let standing = around.iter().filter(|at| at.is_connected());
    let near = standing.take_while(|at| !matches!(at.tag_name().as_str(), "BODY" | "HTML"));
    let place = near.filter_map(first_in).next().or_else(|| {
        document().query_selector(ELSEWHERE).ok().flatten()?.dyn_into::<HtmlElement>().ok()
    });
    if let Some(place) = place {
        // Focusing fails only if the page is gone.
        let _ = place.focus();
    }
}

/// The first visible element inside another that can take the focus.
fn first_in(within: &Element) -> Option<HtmlElement> {
    let all = within.query_selector_all(FOCUSABLE).ok()?;
    let mut all = (0..all.length()).filter_map(|at| all.item(at)?.dyn_into::<HtmlElement>().ok());
    all.find(|at| at.get_client_rects().length() > 0)
}
