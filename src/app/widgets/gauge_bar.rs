//! A bar: a number beside its limit.

use leptos::prelude::*;

use crenel::gauge::Gauge;

/// One grammar for all bars: the value from the left with a tick at its end, the limit as a longer tick across, what is
/// too much or too little between them, the range over the tolerances as a band below. The earlier value is a thin line.
#[component]
pub(crate) fn GaugeBar(
    gauge: Memo<Option<Gauge>>,
    was: Memo<Option<f64>>,
    /// The least and the greatest value over the tolerances.
    #[prop(optional)]
    range: Option<Memo<Option<[f64; 2]>>>,
    /// The number at the end of the bar, where several bars have one scale.
    #[prop(optional)]
    end: Option<f64>,
) -> impl IntoView {
    let ends = move || range.and_then(|range| range.get()).filter(|ends| ends[1] > ends[0]);
    let scale = move || {
        let gauge = gauge.get()?;
        let earlier = was.get().unwrap_or(0.0).abs();
        let farthest = ends().map_or(0.0, |ends| ends[1]);
        let own = || gauge.scale().max(1.5 * earlier).max(1.1 * farthest);
        let scale = end.unwrap_or_else(own);
        (scale > 0.0).then_some((gauge, scale))
    };
    let share =
        move |value: f64, scale: f64| format!("{:.1}", (100.0 * value / scale).clamp(0.0, 100.0));
    let tick =
        move |class: &'static str, value: f64, scale: f64, from: &'static str, to: &'static str| {
            let at = share(value, scale);
            view! { <line class=class x1=at.clone() x2=at y1=from y2=to></line> }
        };
    let parts = move || {
        scale().map(|(gauge, scale)| {
            let earlier = was.get().filter(|was| *was != gauge.value);
            view! {
                <rect class="value" width=share(gauge.value, scale) height="6"></rect>
                {gauge.is_past().then(|| {
                    let (from, to) = (gauge.value.min(gauge.limit), gauge.value.max(gauge.limit));
                    view! { <rect class="excess" x=share(from, scale) width=share(to - from, scale) height="6"></rect> }
                })}
                {earlier.map(|was| view! { <rect class="was" width=share(was, scale) y="2.5" height="1"></rect> })}
                {ends().map(|[from, to]| view! {
                    <rect class="range" x=share(from, scale) width=share(to - from, scale) y="7" height="2"></rect>
                })}
                {tick("at", gauge.value, scale, "-1", "7")}
                {tick("limit", gauge.limit, scale, "-3", "9")}
            }
        })
    };
    view! {
        <svg class="gauge" class:empty=move || gauge.get().is_none() viewBox="0 0 100 6"
            preserveAspectRatio="none" aria-hidden="true">{parts}</svg>
    }
}
