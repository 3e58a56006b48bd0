//! How the old dogs of the chosen shift let go.

use leptos::prelude::*;

use crenel::draw::{release_chart, release_frame};
use crenel::export::release_csv;
use crenel_words::page::cut as say;

use super::Shown;
use crate::state::use_app_state;
use crate::widgets::chart_figure::{ChartFigure, ChartRoom};

#[component]
pub(super) fn Letting(shown: Shown) -> impl IntoView {
    let state = use_app_state();
    let shift = Memo::new(move |_| shown.row().map(|row| row.shift));
    let chart = Callback::new(move |room: ChartRoom| {
        let shift = shift.get()?;
        let release = shift.lets_go(shift.step.engine_rpm);
        let frame = release_frame(&release, if room.is_narrow { 0.8 } else { 0.42 }, room.letter);
        Some(release_chart(&frame, &release, state.reader()))
    });
    let title = move || {
        let says = shift.get().map(|shift| say::chart(shift.step.from, shift.step.to));
        says.map(|says| says.show(state.reader())).unwrap_or_default()
    };
    let data = Callback::new(move |()| {
        let shift = shift.get();
        let text =
            shift.map(|shift| state.analysis.with(|a| release_csv(&shift, a, state.reader())));
        text.unwrap_or_default()
    });
    view! { <ChartFigure title=Signal::derive(title) told=say::chart_told name="letting-go" chart data/> }
}
