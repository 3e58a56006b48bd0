//! A bar: a number beside its limit.

use leptos::prelude::*;

use crenel::gauge::Gauge;

/// The value from the left, the limit as a line across, and what is too much or too little between them. The earlier
/// value is a thin line.
#[component]
pub(crate) fn GaugeBar(gauge: Memo<Option<Gauge>>, was: Memo<Option<f64>>) -> impl IntoView {
    let scale = move || {
        let gauge = gauge.get()?;
        let scale = gauge.scale().max(1.5 * was.get().unwrap_or(0.0).abs());
        (scale > 0.0).then_some((gauge, scale))
    };
    let share =
        move |value: f64, scale: f64| format!("{:.1}", (100.0 * value / scale).clamp(0.0, 100.0));
    let parts = move || {
        scale().map(|(gauge, scale)| {
            let at = share(gauge.limit, scale);
            let earlier = was.get().filter(|was| *was != gauge.value);
            view! {
                <rect class="value" width=share(gauge.value, scale) height="6"></rect>
                {gauge.is_past().then(|| {
                    let (from, to) = (gauge.value.min(gauge.limit), gauge.value.max(gauge.limit));
                    view! { <rect class="excess" x=share(from, scale) width=share(to - from, scale) height="6"></rect> }
                })}
                {earlier.map(|was| view! { <rect class="was" width=share(was, scale) y="2.5" height="1"></rect> })}
                <line class="limit" x1=at.clone() x2=at y1="-3" y2="9"></line>
            }
        })
    };
    view! {
        <svg class="gauge" class:empty=move || gauge.get().is_none() viewBox="0 0 100 6"
            preserveAspectRatio="none" aria-hidden="true">{parts}</svg>
    }
}
