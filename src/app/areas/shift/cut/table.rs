//! The times of every shift as tables: with their parts at shift speed, and the whole at each engine speed.

use leptos::prelude::*;

use crenel::model::{Manner, TIMED_SPEEDS, Timing, TimingFault};
use crenel::units::{ABSENT, Quantity};
use crenel_words::page::cut as say;
use crenel_words::{Phrase, Value};

use super::{Row, Shown, asked, ms};
use crate::state::{here, use_app_state};

/// A number whose unit stands at the head of its column, and beside it where there is no head.
fn in_column(shown: &str) -> impl IntoView + use<> {
    let unit = shown.rfind(char::is_whitespace).unwrap_or(shown.len());
    let (number, unit) = (shown[..unit].to_owned(), shown[unit..].to_owned());
    view! { {number}<span class="unit">{unit}</span> }
}

/// The parts of a time with their heads, in order.
const PARTS: [Phrase; 7] =
    [say::firing, say::fork, say::unload, say::out, say::across, say::wait, say::into];

/// Each shift at its own speed, with the parts of its time.
#[component]
pub(super) fn Table(shown: Shown) -> impl IntoView {
    let state = use_app_state();
    let whole = move || -> Phrase {
        match shown.manner.get() {
            Manner::Cut => say::cut,
            Manner::Throttle => say::shut,
            Manner::Blip => say::blip,
            Manner::ClutchUp | Manner::ClutchDown => say::pulled,
        }
    };
    let row = move |(at, row): (usize, Row)| {
        let reader = state.reader();
        let time = |seconds: f64| {
            if seconds.is_finite() { ms(seconds).show(reader) } else { ABSENT.to_owned() }
        };
        let timing = row.at_shift.ok();
        let cells = timing.map_or([f64::INFINITY; 7], |timing| timing.parts.all());
        let cells = cells.into_iter().zip(PARTS).map(|(part, head)| {
            view! { <td data-head=here(head)>{in_column(&time(part))}</td> }
        });
        let is_chosen = move || shown.chosen.get() == at;
        let speed = |rpm: f64| Value::Number(Quantity::Speed, rpm.round()).show(reader);
        let in_at = timing.map_or(ABSENT.to_owned(), |timing| speed(timing.engine_in_rpm));
        let sum = time(timing.map_or(f64::INFINITY, |timing| timing.parts.sum()));
        let longest = time(timing.map_or(f64::INFINITY, |timing| timing.longest_s));
        let sum = in_column(&sum);
        let sum = if is_past(row.at_shift, asked(state)) {
            view! { <span class="past">"▲ "{sum}</span> }.into_any()
        } else {
            view! { <b>{sum}</b> }.into_any()
        };
        view! {
            <tr class:chosen=is_chosen>
                <th scope="row">
                    <button aria-pressed=move || is_chosen().to_string() on:click=move |_| shown.chosen.set(at)>
                        {row.shift.step.gears()}
                    </button>
                </th>
                <td data-head=here(say::engine)>{in_column(&speed(row.shift.step.engine_rpm))}</td>
                <td data-head=here(whole())>{sum}</td>
                <td data-head=here(say::not_longer)>{in_column(&longest)}</td>
                <td data-head=here(say::in_at)>{in_column(&in_at)}</td>
                {cells.collect_view()}
            </tr>
        }
    };
    let heads = move || {
        use Quantity::{Speed, Time};
        let heads: [(Phrase, Quantity); 4] =
            [(say::engine, Speed), (whole(), Time), (say::not_longer, Time), (say::in_at, Speed)];
        let parts = PARTS.map(|head| (head, Time));
        let head = |(head, quantity): (Phrase, Quantity)| {
            let unit = quantity.suffix(state.units.get());
            view! { <th scope="col">{here(head)}<span class="quiet">" "{unit}</span></th> }
        };
        let all = heads.into_iter().chain(parts).map(head).collect_view();
        view! { <th scope="col">{here(say::shift)}</th>{all} }
    };
    view! {
        <div class="scroll" tabindex="0" role="region" aria-label=here(say::in_time)>
            <table class="figures cut-table">
                <thead><tr>{heads}</tr></thead>
                <tbody>{move || shown.rows.get().into_iter().enumerate().map(row).collect_view()}</tbody>
            </table>
        </div>
    }
}

/// Whether a time is marked: the dogs are not out in time, the engine goes too far, or fewer shifts than asked go in.
fn is_past(timing: Result<Timing, TimingFault>, asked: f64) -> bool {
    let is_wrong = |timing: Timing| timing.is_too_long() || timing.strikes || timing.share < asked;
    timing.is_ok_and(is_wrong)
}

/// The table to type into an ignition unit.
#[component]
pub(super) fn BySpeed(shown: Shown) -> impl IntoView {
    let state = use_app_state();
    let title = move || say::by_speed(shown.up()).show(state.reader());
    let heads = TIMED_SPEEDS.map(|share| {
        view! { <th scope="col">{move || say::at_share(share).show(state.reader())}</th> }
    });
    let row = move |row: Row| {
        let cell = |(timing, share): (&Result<Timing, TimingFault>, f64)| {
            // A length that takes the engine too far is none to type in.
            let right = timing.ok().filter(|timing| !timing.is_too_long());
            let whole = right.map(|timing| (timing.parts.sum() * 1000.0).ceil());
            let whole = whole.map_or(ABSENT.to_owned(), |ms| {
                Quantity::Time.format_result(ms, state.units.get())
            });
            let rpm = Value::Number(Quantity::Speed, (share * row.shift.step.engine_rpm).round());
            view! { <td title=rpm.show(state.reader())>{is_past(*timing, asked(state)).then_some("▲ ")}{whole}</td> }
        };
        let cells = row.by_speed.iter().zip(TIMED_SPEEDS).map(cell).collect_view();
        view! { <tr><th scope="row">{row.shift.step.gears()}</th>{cells}</tr> }
    };
    view! {
        <h3>{title}</h3>
        <div class="scroll" tabindex="0" role="region" aria-label=title>
            <table class="figures">
                <thead><tr><th scope="col">{here(say::shift)}</th>{heads.into_iter().collect_view()}</tr></thead>
                <tbody>{move || shown.rows.get().into_iter().map(row).collect_view()}</tbody>
            </table>
        </div>
    }
}
