//! Menus: a button with a sheet of further buttons below it.

use std::borrow::Cow;

use leptos::prelude::*;
use wasm_bindgen::JsCast as _;

use crate::deferred::LazyDetails;

/// A menu. Its content is built when it is first opened.
#[component]
pub(crate) fn Menu(
    /// What is written on it.
    title: impl Fn() -> Cow<'static, str> + Send + Sync + 'static,
    /// Its name, if what is written on it is not enough.
    #[prop(optional, into)]
    name: Cow<'static, str>,
    /// Its classes, if it is not like the others.
    #[prop(default = "menu")]
    class: &'static str,
    /// Whether it stays open when one of its buttons is pressed.
    #[prop(optional)]
    stays: bool,
    children: ChildrenFn,
) -> impl IntoView {
    let lazy = LazyDetails::new();
    let chosen = move |_| {
        if !stays {
            close_menus(None);
        }
    };
    view! {
        <details class=class on:toggle=move |_| lazy.open()>
            <summary on:click=move |_| lazy.open()>
                <span class="sr">{name}</span>
                {title}
            </summary>
            <div class="sheet" on:click=chosen>{move || lazy.is_opened().then(|| children())}</div>
        </details>
    }
}

/// Closes all menus but one. If the focus is in one that closes, its button takes it.
pub(crate) fn close_menus(but: Option<&web_sys::Element>) {
    let Ok(open) = document().query_selector_all("details.menu[open]") else { return };
    for at in 0..open.length() {
        let menu = open.item(at).and_then(|node| node.dyn_into::<web_sys::Element>().ok());
        if let Some(menu) = menu.filter(|menu| Some(menu) != but) {
            close(&menu);
        }
    }
}

fn close(menu: &web_sys::Element) {
    let held = document().active_element().is_some_and(|active| menu.contains(Some(&active)));
    // Removing an attribute and taking the focus can only fail on a page that is gone.
    let _ = menu.remove_attribute("open");
    let summary = menu.query_selector("summary").ok().flatten().filter(|_| held);
    if let Some(summary) = summary.and_then(|s| s.dyn_into::<web_sys::HtmlElement>().ok()) {
        let _ = summary.focus();
    }
}
