//! The link as a QR code, on the screen and on paper.

use leptos::prelude::*;

use crenel::export::qr;
use crenel_words::page::files as say;

use crate::state::persistence::code_link_to;
use crate::state::{here, use_app_state};

/// The size of one module of the code on paper, mm. A phone reads a third of a millimetre from a hand's width.
const MODULE_MM: f64 = 0.35;

/// The QR code of the link to the design, black on white in every colour scheme. It is not updated during a
/// gesture.
#[component]
pub(crate) fn LinkCode() -> impl IntoView {
    let state = use_app_state();
    let link = Memo::new(move |_| state.history.with(|h| code_link_to(&h.settled().design)));
    let code = Memo::new(move |_| qr(&link.get()));
    move || match code.get() {
        Some(code) => {
            let side = code.side;
            let size = format!("{:.1}mm", f64::from(code.side) * MODULE_MM);
            view! {
                <svg class="qr" role="img" aria-label=here(say::qr_code)
                    viewBox=format!("0 0 {side} {side}") width=size.clone() height=size>
                    <path d=code.path></path>
                </svg>
            }
            .into_any()
        }
        None => view! { <p class="quiet">{here(say::too_large_for_code())}</p> }.into_any(),
    }
}
