//! The tab of an area, or its button in the head of the page.

use leptos::prelude::*;

use crate::state::{Area, here, use_app_state};

#[component]
pub(crate) fn AreaButton(area: &'static Area<AnyView>) -> impl IntoView {
    let state = use_app_state();
    let current = move || (state.area.get() == area.key).then_some("page");
    view! {
        <button aria-current=current on:click=move |_| state.open_area(area.key)>
            {move || here(state.with(|design| area.title_for(design)))}
        </button>
    }
}
