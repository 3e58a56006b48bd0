//! Errors, warnings and notes beside the drawing.

use leptos::prelude::*;

use crenel::finding::{Finding, Severity};
use crenel_words::page::results as say;
use crenel_words::{Phrase, Reader};

use crate::state::{Part, here, use_app_state};

#[component]
pub(crate) fn Findings() -> impl IntoView {
    let state = use_app_state();
    let shown = Memo::new(move |_| state.analysis.with(|a| a.findings.clone()));
    let open = Memo::new(move |_| state.layout.is_open(Part::Findings));
    view! {
        <section class="findings" aria-label=here(say::findings) class:hidden=move || shown.with(Vec::is_empty)>
            <div class="tight"><FindingsButton/></div>
            <div aria-live="polite">
                {move || open.get().then(|| {
                    let reader = state.reader();
                    shown.get().iter().map(|finding| finding_line(finding, reader)).collect_view()
                })}
            </div>
        </section>
    }
}

/// Opens the list of findings; it says how many there are.
#[component]
pub(crate) fn FindingsButton() -> impl IntoView {
    let state = use_app_state();
    let counted = Memo::new(move |_| {
        state.analysis.with(|a| {
            let notes = a.findings.iter().filter(|f| f.severity == Severity::Note).count();
            (a.findings.len() - notes, notes)
        })
    });
    let open = move || state.layout.is_open(Part::Findings).to_string();
    let words = move || match counted.get() {
        (0, notes) => here(say::notes_count(notes)),
        (checks, notes) => here(say::findings_count(checks, notes)),
    };
    view! {
        <button class="quiet-button" aria-expanded=open class:hidden=move || counted.get() == (0, 0)
            on:click=move |_| state.layout.turn(Part::Findings)>
            {words}
        </button>
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
