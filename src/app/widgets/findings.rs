//! Errors, warnings and notes beside the drawing.

use leptos::prelude::*;

use crenel::finding::{Finding, Severity};
use crenel_words::page::results as say;
use crenel_words::{Phrase, Reader};

use crate::state::{here, use_app_state};

#[component]
pub(crate) fn Findings() -> impl IntoView {
    let state = use_app_state();
    let shown = Memo::new(move |_| state.analysis.with(|a| a.findings.clone()));
    view! {
        <section class="findings" aria-label=here(say::findings) aria-live="polite">
            {move || {
                let reader = state.reader();
                shown.get().iter().map(|finding| finding_line(finding, reader)).collect_view()
            }}
        </section>
    }
}

fn finding_line(finding: &Finding, reader: Reader) -> impl IntoView + use<> {
    let word: Phrase = match finding.severity {
        Severity::Error => say::error,
        Severity::Warning => say::warning,
        Severity::Note => say::note,
    };
    view! {
        <div class=format!("finding {}", finding.severity.name()) data-code=finding.code>
            <strong>{here(word)}</strong>" "
            {finding.text(reader)}
            <span class="quiet">" "{finding.hint(reader)}</span>
        </div>
    }
}
