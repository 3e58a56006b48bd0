//! Pictures on buttons, as paths in a square of 24.

use leptos::prelude::*;

pub(crate) const PLAY: &str = "M7 4L20 12L7 20Z";
pub(crate) const PAUSE: &str = "M6 4H10V20H6ZM14 4H18V20H14Z";
pub(crate) const TO_EVENT_BEFORE: &str = "M5 4H8V20H5ZM20 4V20L9 12Z";
pub(crate) const TO_NEXT_EVENT: &str = "M16 4H19V20H16ZM4 4L15 12L4 20Z";

/// A magnifying glass.
pub(crate) const LOOK: &str = "M10 3A7 7 0 1 0 14.2 15.6L19 21L21 19L15.6 14.2A7 7 0 0 0 10 3ZM10 5.5A4.5 4.5 0 1 1 10 14.5A4.5 \
     4.5 0 0 1 10 5.5Z";
/// Two rows of dogs, one in the gaps of the other.
pub(crate) const PAIR: &str = "M2 3H22V6H19V11H15V6H9V11H5V6H2ZM2 21H22V18H14V13H10V18H2Z";
/// A row of dogs, one of which is cut down.
pub(crate) const CUT: &str =
    "M2 20V15H4V5H9V15H14V11H19V15H22V20ZM14 5H15.5V8H14ZM17.5 5H19V8H17.5Z";
/// A sheet.
pub(crate) const SHEET: &str = "M5 2H15L20 7V22H5ZM8 10V12H17V10ZM8 14V16H17V14ZM8 18V20H13V18Z";

/// A picture on a button, which has its name in words beside it or for screen readers.
#[component]
pub(crate) fn Icon(#[prop(into)] path: Signal<&'static str>) -> impl IntoView {
    view! { <svg class="icon-picture" viewBox="0 0 24 24" aria-hidden="true"><path d=path fill-rule="evenodd"></path></svg> }
}
