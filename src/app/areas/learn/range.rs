//! A slider of a story, and what it moves.

use leptos::prelude::*;

use crenel::story::Span;
use crenel::units::Quantity;
use crenel_words::Value;

use crate::state::AppState;

/// What is dragged, as numbers in the order of the story.
pub(super) type Dragged = RwSignal<Vec<f64>>;

/// A slider with its name and its number.
#[component]
pub(super) fn Range(
    name: String,
    span: Span,
    now: Signal<f64>,
    shown: Signal<String>,
    put: Callback<f64>,
) -> impl IntoView {
    let moved = move |event| {
        if let Ok(value) = event_target_value(&event).parse::<f64>() {
            put.run(value);
        }
    };
    view! {
        <label class="range">
            <span>{name}</span>
            <input type="range" min=span.min.to_string() max=span.max.to_string() step=step_of(span)
                prop:value=move || now.get().to_string() aria-valuetext=move || shown.get() on:input=moved/>
            <output>{move || shown.get()}</output>
        </label>
    }
}

/// The step of a slider. A start between two steps would be moved to one by the browser.
fn step_of(span: Span) -> String {
    let steps = (span.start - span.min) / span.step;
    let between = (steps - steps.round()).abs() > 1e-6;
    if between { (span.step / 100.0).to_string() } else { span.step.to_string() }
}

/// A guess as it is shown.
pub(super) fn guessed(quantity: Quantity, value: f64, state: AppState) -> String {
    Value::Result(quantity, value).show(state.reader())
}
