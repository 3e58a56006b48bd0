//! Errors, warnings and notes beside the drawing.

use leptos::prelude::*;

use crenel::finding::{Finding, Severity};

use crate::state::use_app_state;

#[component]
pub(crate) fn Findings() -> impl IntoView {
    let state = use_app_state();
    let shown = Memo::new(move |_| state.analysis.with(|a| a.findings.clone()));
    view! {
        <section class="findings" aria-label="Findings" aria-live="polite">
            {move || {
                let units = state.units.get();
                shown.get().into_iter().map(|f| view! { <FindingLine text=f.text(units) finding=f/> }).collect_view()
            }}
        </section>
    }
}

#[component]
fn FindingLine(finding: Finding, text: String) -> impl IntoView {
    let word = match finding.severity {
        Severity::Error => "Cannot be computed",
        Severity::Warning => "Look at this",
        Severity::Note => "Good to know",
    };
    view! {
        <div class=format!("finding {}", finding.severity.name()) data-code=finding.code>
            <strong>{word}": "</strong>
            {text}
            <span class="quiet">" "{finding.hint}</span>
        </div>
    }
}
