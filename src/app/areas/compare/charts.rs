//! The charts of a comparison: chances over the speed difference, and what a layout costs for what it gives.

use std::sync::Arc;

use leptos::prelude::*;

use crenel::compare::{Column, Comparison};
use crenel::design::Need;
use crenel::draw::{Curve, Frame, Trade, chance_curves, chance_frame, top_of, trade_chart};
use crenel::export::svg_file;
use crenel::model::chance_top_rpm;
use crenel::shift::OutcomeMap;
use crenel_words::Reader;
use crenel_words::page::compare as say;

use super::page::{LETTER_PX, printing};
use crate::background::maps as background_maps;
use crate::dom::text_scale;
use crate::state::{here, use_app_state};
use crate::widgets::chart_figure::{ChartFigure, ChartRoom};
use crate::widgets::clipboard::CopyButtons;
use crate::widgets::pointer::watch_width;
use crate::widgets::scene_marks::SceneMarks;

const CURVES_PX: f64 = 620.0;

/// The width that the curves are laid out for on paper. It is small so that their letters can be read.
const PRINTED_PX: f64 = 330.0;

/// The chances of all layouts in one chart.
#[component]
pub(super) fn Curves(comparison: Memo<Arc<Comparison>>) -> impl IntoView {
    let state = use_app_state();
    let maps = RwSignal::new(Vec::<Option<Arc<OutcomeMap>>>::new());
    let background = StoredValue::new_local(background_maps::start(move |at, map| {
        maps.update(|maps| {
            if maps.len() <= at {
                maps.resize(at + 1, None);
            }
            maps[at] = Some(Arc::new(map));
        });
    }));
    let top = Memo::new(move |_| {
        comparison
            .with(|c| c.columns.iter().map(|c| chance_top_rpm(&c.analysis)).fold(1.0, f64::max))
    });
    Effect::new(move |_| {
        let designs: Vec<_> =
            comparison.with(|c| c.columns.iter().map(|c| c.analysis.design.clone()).collect());
        maps.set(vec![None; designs.len()]);
        background.with_value(|background| background_maps::ask(background, top.get(), &designs));
    });
    let made_at = move || {
        let slip_rpm = state.analysis.with(|a| {
            let known = a.design.missing(Need::Speed).is_none();
            a.pair.as_ref().filter(|_| known).map(|m| m.shift_case.slip_rpm)
        })?;
        Some(here(say::table_at(slip_rpm.abs().round())))
    };
    let width = RwSignal::new(None);
    let paper = NodeRef::new();
    watch_width(paper, width);
    let printing = printing();
    let frame = move || {
        let across = width.get().unwrap_or(CURVES_PX);
        let (shape, across) = match printing.get() {
            true => (0.42, PRINTED_PX),
            false if across < CURVES_PX / 1.4 => (0.7, across),
            false => (0.42, across),
        };
        chance_frame(top.get(), shape, LETTER_PX * text_scale() / across)
    };
    let scene_on = move |frame: Frame| {
        let maps = maps.get();
        let reader = state.reader();
        comparison.with(|c| {
            let curves: Vec<_> = c
                .columns
                .iter()
                .zip(&maps)
                .filter_map(|(c, map)| {
                    let (number, name, map) = (c.number, c.name().show(reader), map.as_deref()?);
                    Some(Curve { number, name, map })
                })
                .collect();
            chance_curves(&frame, &curves, reader)
        })
    };
    // A memo, so that it is made once for each change: see `AppState::alter`.
    let drawn = Memo::new(move |_| scene_on(frame()));
    let file = Callback::new(move |()| {
        untrack(|| svg_file(&scene_on(frame()), &here(say::chances_by_speed)))
    });
    let figure =
        Callback::new(move |letter| untrack(|| scene_on(chance_frame(top.get(), 0.5, letter))));
    let view_box = move || {
        let bounds = frame().bounds;
        format!("0 0 {:.4} {:.4}", bounds.width(), bounds.height())
    };
    view! {
        <figure class="view curves">
            <figcaption><h3>{here(say::chances_by_speed)}</h3></figcaption>
            <div node_ref=paper>
            <svg viewBox=view_box role="img" aria-label=here(say::curves)><SceneMarks scene=drawn/></svg>
            </div>
            <div class="row beside"><CopyButtons what=here(say::chances_of_all) name="chances" file scene=figure/></div>
            <p class="quiet">{made_at}</p>
        </figure>
    }
}

/// What each layout costs for what it gives, where at least two of them have both.
#[component]
pub(super) fn Trades(comparison: Memo<Arc<Comparison>>) -> impl IntoView {
    let state = use_app_state();
    let trades = Memo::new(move |_| comparison.with(|c| trades(c, state.reader())));
    let chart = Callback::new(move |room: ChartRoom| {
        let shape = if room.is_narrow { 0.7 } else { 0.42 };
        let reader = state.reader();
        trades.with(|trades| {
            let frame = chance_frame(top_of(trades), shape, room.letter);
            Some(trade_chart(&frame, trades, reader))
        })
    });
    let title = Signal::derive(move || here(say::trade).into_owned());
    move || {
        let shown = trades.with(Vec::len) > 1;
        shown.then(|| view! { <ChartFigure title told=say::trade_chart name="trade" class="trade" chart/> })
    }
}

/// The layouts that go in and have a clunk.
fn trades(comparison: &Comparison, reader: Reader) -> Vec<Trade> {
    let number = |column: &Column, key: &str| {
        column.figures.iter().find(|f| f.figure.key == key).and_then(|f| f.value)
    };
    let trade = |column: &Column| {
        Some(Trade {
            number: column.number,
            name: column.name().show(reader),
            straight_in_rpm: number(column, "straight_in_limit_rpm")?,
            clunk_nm: number(column, "clunk_nm")?,
        })
    };
    comparison.columns.iter().filter_map(trade).collect()
}
