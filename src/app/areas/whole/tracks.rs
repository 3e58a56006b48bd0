//! The track of a fork, point by point, each with what is wrong with it.

use leptos::prelude::*;

use crenel::design::{ForkSpec, GearsetSpec, MOST_TRACK_POINTS, TrackSpec};
use crenel::fields::{BoxPart, FieldId, Slot};
use crenel::selector::{Track, TrackFault};
use crenel_words::page::{common, selector, whole as say};

use crate::state::{AppState, here, use_app_state};
use crate::widgets::number_field::NumberField;

/// A new last point is so far behind the one before, degrees.
const NEXT_DEG: f64 = 10.0;

#[component]
pub(super) fn TrackTable(fork: usize) -> impl IntoView {
    let state = use_app_state();
    let count = Memo::new(move |_| {
        with_parts(state, |set| set.forks.get(fork).map(|own| own.track.len()))
            .flatten()
            .unwrap_or(0)
    });
    // The first point that the drum reaches no later than the one before.
    let fault = Memo::new(move |_| {
        let track =
            with_parts(state, |set| set.forks.get(fork).map(|own| own.track.clone())).flatten();
        match Track::through(track.unwrap_or_default()) {
            Err(TrackFault::OutOfOrder(point)) => Some(point),
            _ => None,
        }
    });
    let heads = TrackSpec::POINT_FIELDS.map(|id| {
        let unit = move || id.spec().quantity.suffix(state.units.get());
        view! { <th scope="col">{here(id.spec().name())}" "<span class="quiet">{unit}</span></th> }
    });
    let row = move |at: usize| {
        let cell = |id: FieldId| {
            view! { <td><NumberField at=Slot::Box(BoxPart::track_point(fork, at), id) bare=true/></td> }
        };
        let wrong = move || fault.get() == Some(at);
        let drop_it = move |_| {
            edit(state, fork, |own| {
                if at < own.track.len() {
                    own.track.remove(at);
                }
            });
            state.say(here(selector::point_removed(at)));
        };
        view! {
            <tr class:wrong-point=wrong>
                <th scope="row">{at + 1}</th>
                {TrackSpec::POINT_FIELDS.map(cell).into_iter().collect_view()}
                <td><button aria-label=here(selector::remove_point(at)) on:click=drop_it>"×"</button></td>
            </tr>
            {move || wrong().then(|| view! {
                <tr class="wrong-row"><td colspan="4" class="wrong">{here(say::runs_back(at))}</td></tr>
            })}
        }
    };
    let add = move |_| {
        edit(state, fork, |own| {
            let [deg, mm] = own.track.last().copied().unwrap_or_default();
            own.track.push([deg + NEXT_DEG, mm]);
        });
    };
    view! {
        <details class="track-points">
            <summary>{move || here(say::track_points(count.get()))}</summary>
            <table>
                <thead>
                    <tr>
                        <th scope="col">{here(selector::point)}</th>{heads.into_iter().collect_view()}
                        <th><span class="sr">{here(common::remove)}</span></th>
                    </tr>
                </thead>
                <tbody><For each=move || 0..count.get() key=|at| *at children=row/></tbody>
            </table>
            <button class="wide" disabled=move || { count.get() >= MOST_TRACK_POINTS } on:click=add>
                {here(selector::add_point)}
            </button>
        </details>
    }
}

fn edit(state: AppState, fork: usize, change: impl FnOnce(&mut ForkSpec)) {
    state.change(|design| {
        design.edit_box(|set| {
            if let Some(own) = set.forks.get_mut(fork) {
                change(own);
            }
        });
    });
}

/// Gives the parts of the gearbox to a function; `None` for a pair alone.
pub(super) fn with_parts<T>(state: AppState, read: impl FnOnce(&GearsetSpec) -> T) -> Option<T> {
    state.with(|design| design.around.as_ref().map(|around| read(around.parts())))
}
