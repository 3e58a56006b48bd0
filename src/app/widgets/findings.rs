//! Errors, warnings and notes beside the drawing.

use leptos::prelude::*;

use crenel::finding::{Finding, Severity};
use crenel_words::Reader;

use crate::state::use_app_state;

#[component]
pub(crate) fn Findings() -> impl IntoView {
    let state = use_app_state();
    let shown = Memo::new(move |_| state.analysis.with(|a| a.findings.clone()));
    view! {
        <section class="findings" aria-label="Findings" aria-live="polite">
            {move || {
                let reader = state.reader();
                shown.get().iter().map(|finding| finding_line(finding, reader)).collect_view()
            }}
        </section>
    }
}

fn finding_line(finding: &Finding, reader: Reader) -> impl IntoView + use<> {
    let word = match finding.severity {
        Severity::Error => "Cannot be computed",
        Severity::Warning => "Check this",
        Severity::Note => "Note",
    };
    view! {
        <div class=format!("finding {}", finding.severity.name()) data-code=finding.code>
            <strong>{word}": "</strong>
            {finding.text(reader)}
            <span class="quiet">" "{finding.hint(reader)}</span>
        </div>
    }
}
