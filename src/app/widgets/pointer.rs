//! From the pointer to the drawing, and the size of the drawing on the screen.

use leptos::html::Div;
use leptos::prelude::*;
use wasm_bindgen::JsCast as _;
use wasm_bindgen::closure::Closure;

use crenel::draw::Bounds;
use crenel::ring::{Point, Side};

use crate::deferred::schedule_first;

/// Where the pointer is on an element, as shares of it from its left and its top.
pub(crate) fn share_of(element: &web_sys::Element, event: &web_sys::MouseEvent) -> [f64; 2] {
    let area = element.get_bounding_client_rect();
    let across = (f64::from(event.client_x()) - area.left()) / area.width().max(1.0);
    let down = (f64::from(event.client_y()) - area.top()) / area.height().max(1.0);
    [across, down]
}

/// The point of the scene at a place in the window.
pub(crate) fn scene_point(window: &Bounds, [across, down]: [f64; 2]) -> Point {
    Point::new(window.min.x + across * window.width(), window.max.y - down * window.height())
}

/// The dog under the pointer, by the name on its marks.
pub(crate) fn dog_under(event: &web_sys::Event) -> Option<(Side, usize)> {
    let target = event.target()?.dyn_into::<web_sys::Element>().ok()?;
    let name = target.closest("[data-dog]").ok()??.get_attribute("data-dog")?;
    let side = match name.get(..1)? {
        "A" => Side::A,
        "B" => Side::B,
        _ => return None,
    };
    let number: usize = name.get(1..)?.parse().ok()?;
    Some((side, number.checked_sub(1)?))
}

/// Keeps `width` at the inner width of an element, CSS pixels; `None` until it is on the screen.
pub(crate) fn watch_width(element: NodeRef<Div>, width: RwSignal<Option<f64>>) {
    watch(element, move |[now, _]| {
        let before = width.get_untracked();
        if before.is_some_and(|before| (now - before).abs() < 0.5) {
            return;
        }
        match before {
            Some(_) => width.set(Some(now)),
            // Each drawing is drawn in a task of its own. By then it may be gone.
            None => schedule_first(move || {
                let _ = width.try_set(Some(now));
            }),
        }
    });
}

/// Keeps `shape` at the height over the width of an element; `None` until it has both.
pub(crate) fn watch_shape(element: NodeRef<Div>, shape: RwSignal<Option<f64>>) {
    watch(element, move |[width, height]| {
        let now = height / width;
        let alike = |before: f64| (now - before).abs() * width < 1.0;
        if height > 0.0 && !shape.get_untracked().is_some_and(alike) {
            shape.set(Some(now));
        }
    });
}

/// Tells the inner size of an element whenever it changes, as long as it has a width.
fn watch(element: NodeRef<Div>, resized: impl Fn([f64; 2]) + Clone + 'static) {
    Effect::new(move |_| {
        let Some(div) = element.get() else { return };
        let tell = resized.clone();
        // Reading the element instead of the entries would cause another layout.
        let told = Closure::<dyn FnMut(js_sys::Array)>::new(move |entries: js_sys::Array| {
            let entry = entries.pop().unchecked_into::<web_sys::ResizeObserverEntry>();
            let now = entry.content_rect();
            if now.width() > 0.0 {
                tell([now.width(), now.height()]);
            }
        });
        let Ok(observer) = web_sys::ResizeObserver::new(told.as_ref().unchecked_ref()) else {
            return;
        };
        observer.observe(&div);
        // The closure must live as long as the observer, and both as long as the drawing.
        let watching = StoredValue::new_local((observer, told));
        on_cleanup(move || watching.with_value(|(observer, _)| observer.disconnect()));
    });
}
