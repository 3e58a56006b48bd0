//! Everything that is wrong with the gearbox, each with its part and its gears.

use std::sync::Arc;

use leptos::prelude::*;

use crenel::finding::Severity;
use crenel::gearset::Placed;
use crenel_words::page::whole as say;

use super::gear_button;
use crate::state::{Boxed, here, use_app_state};

#[component]
pub(super) fn BoxFindings(boxed: Signal<Arc<Boxed>>) -> impl IntoView {
    let state = use_app_state();
    let found = Memo::new(move |_| boxed.with(|boxed| boxed.analysis.findings.clone()));
    let safe = Memo::new(move |_| boxed.with(|boxed| boxed.at_once.is_empty()));
    let is_clear = move || {
        found.with(|found| found.iter().all(|placed| placed.finding.severity == Severity::Note))
    };
    let line = move |placed: Placed| {
        let reader = state.reader();
        let Placed { part, gears, finding } = placed;
        let buttons = gears.into_iter().map(|gear| gear_button(state, gear)).collect_view();
        view! {
            <div class=format!("finding {}", finding.severity.name()) data-code=finding.code>
                <span class="mark" data-tone=finding.class().tone() aria-hidden="true">{finding.class().mark()}" "</span>
                <strong>{here(part.name())}</strong>": "{finding.text(reader)}
                <span class="quiet">" "{finding.hint(reader)}</span>
                <div class="row">{buttons}</div>
            </div>
        }
    };
    view! {
        <section aria-label=here(say::findings)>
            <h2>{here(say::findings)}</h2>
            {move || is_clear().then(|| view! { <p>{here(say::nothing_wrong)}</p> })}
            {move || safe.get().then(|| view! { <p class="quiet">{here(say::never_two)}</p> })}
            {move || found.get().into_iter().map(line).collect_view()}
        </section>
    }
}
