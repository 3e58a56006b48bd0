//! The table of all shifts, up and down, the worst first.

use std::sync::Arc;

use leptos::prelude::*;

use crenel::design::ShiftFrom;
use crenel::finding::Class;
use crenel::gearset::SetShift;
use crenel::shift::Way;
use crenel::units::{ABSENT, Quantity};
use crenel_words::Value;
use crenel_words::page::{shift, whole as say};

use crate::state::{AreaKey, Boxed, here, use_app_state};

#[component]
pub(super) fn AllShifts(boxed: Signal<Arc<Boxed>>) -> impl IntoView {
    let shifts = Memo::new(move |_| boxed.with(|boxed| boxed.shifts.clone()));
    let rows = move || shifts.get().into_iter().map(|row| view! { <Row row/> }).collect_view();
    let heads = [
        shift::shift,
        shift::speed_difference,
        shift::straight_in_limit,
        shift::window_time,
        shift::first_pass,
        say::in_the_end,
        shift::shock,
        say::depth_left,
        say::lash_at_tyre,
        say::reason,
    ];
    let head = |says: crenel_words::Phrase| view! { <th scope="col">{here(says)}</th> };
    view! {
        <section aria-label=here(say::shifts)>
            <h2>{here(say::shifts)}</h2>
            {move || shifts.with(Vec::is_empty).then(|| view! { <p>{here(say::no_shifts)}</p> })}
            <div class="scroll" class:hidden=move || shifts.with(Vec::is_empty) tabindex="0" role="region"
                aria-label=here(say::table_of_shifts)>
                <table class="figures box-shifts">
                    <thead><tr>{heads.map(head).into_iter().collect_view()}</tr></thead>
                    <tbody>{rows}</tbody>
                </table>
            </div>
        </section>
    }
}

fn absent() -> Value {
    Value::Verbatim(ABSENT.to_owned())
}

#[component]
fn Row(row: SetShift) -> impl IntoView {
    let state = use_app_state();
    let units = state.units.get();
    let shown = |value: Option<f64>, quantity: Quantity| {
        value.map_or_else(|| ABSENT.to_owned(), |value| quantity.show_result(value, units))
    };
    let SetShift { shift, end_chance, depth_left_mm, tyre_mm, class, reason, .. } = row;
    let step = shift.step;
    let open = move |_| {
        let from = if step.way == Way::Up { ShiftFrom::Up } else { ShiftFrom::Down };
        state.open_gear(step.to, from);
        state.open_area(AreaKey::DOGS);
    };
    let is_past = class != Class::Within;
    let brief = here(say::in_short(
        Value::Result(Quantity::Speed, step.slip_rpm.abs()),
        shift.limit_rpm.map_or_else(absent, |rpm| Value::Result(Quantity::Speed, rpm)),
        shift.chance.map_or_else(absent, |share| Value::Result(Quantity::Share, share)),
    ));
    let cells = [
        shown(Some(step.slip_rpm.abs()), Quantity::Speed),
        shown(shift.limit_rpm, Quantity::Speed),
        shown(shift.window_ms, Quantity::Time),
        shown(shift.chance, Quantity::Share),
        shown(end_chance, Quantity::Share),
        shown(shift.blow_nm, Quantity::Torque),
        shown(depth_left_mm, Quantity::Length),
        shown(tyre_mm, Quantity::RoadLength),
    ];
    view! {
        <tr>
            <th scope="row">
                <button aria-label=here(say::open_shift(step.from, step.to)) on:click=open>
                    {step.gears()}
                    <span class="stage-mark" data-tone=class.tone() aria-hidden="true">{is_past.then(|| class.mark())}</span>
                </button>
            </th>
            {cells.map(|cell| view! { <td>{cell}</td> }).into_iter().collect_view()}
            // On a phone a row has two lines: what is met, what is allowed and the chance, and the reason.
            <td class="narrow-only">{brief}</td>
            <td class="words">{reason.show(state.reader())}</td>
        </tr>
    }
}
