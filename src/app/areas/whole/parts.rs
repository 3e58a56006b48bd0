//! The numbers of forks, shafts and drum, each with what is wrong with its part.

use leptos::prelude::*;

use crenel::design::{DrumSpec, ForkSpec, GearsetSpec, PositionSpec, SetGearSpec, ShaftSpec};
use crenel::fields::{BoxPart, FieldId, Slot};
use crenel::finding::Severity;
use crenel::gearset::Part;
use crenel::shift::Shaft;
use crenel_words::page::whole as say;

use super::tracks::{TrackTable, with_parts};
use crate::state::{AppState, here, use_app_state};
use crate::widgets::number_field::NumberField;

/// The forks: how far each is bent, its pads and its pin.
#[component]
pub(super) fn ForkForm() -> impl IntoView {
    let state = use_app_state();
    let count = counted(state, |set| set.forks.len());
    let gears = move |fork: usize| {
        let of = |set: &GearsetSpec| {
            let slider = set.forks.get(fork)?.slider;
            let on = (0..set.gears.len()).filter(|gear| set.gears[*gear].slider == slider);
            Some(on.map(|gear| (gear + 1).to_string()).collect::<Vec<_>>().join(", "))
        };
        with_parts(state, of).flatten().unwrap_or_default()
    };
    let fork = move |at: usize| {
        view! {
            <h3>{move || here(say::fork_of_gears(at, gears(at)))}</h3>
            {fields(BoxPart::Fork(at), &ForkSpec::FIELDS)}
            <TrackTable fork=at/>
            <WrongWith part=Part::Fork(at)/>
        }
    };
    view! {
        <fieldset class="panel">
            <legend>{here(say::forks)}</legend>
            <For each=move || 0..count.get() key=|at| *at children=fork/>
        </fieldset>
    }
}

/// End float and shims of the shafts, and the clearance of each gear in neutral.
#[component]
pub(super) fn ShaftForm() -> impl IntoView {
    let state = use_app_state();
    let shafts = counted(state, |set| set.shafts.len());
    let gears = counted(state, |set| set.gears.len());
    let is = move |at: usize| {
        with_parts(state, |set| set.shafts.get(at).map(|shaft| shaft.is)).flatten()
            == Some(Shaft::Input)
    };
    let shaft = move |at: usize| {
        let name = move || here(if is(at) { say::input_shaft } else { say::output_shaft });
        view! { <h3>{name}</h3>{fields(BoxPart::Shaft(at), &ShaftSpec::FIELDS)} }
    };
    let gear = move |at: usize| {
        view! {
            <h3>{here(say::gear(at))}</h3>
            {fields(BoxPart::Gear(at), &[FieldId::NeutralClearance])}
            <WrongWith part=Part::Gear(at)/>
        }
    };
    view! {
        <fieldset class="panel">
            <legend>{here(say::shafts)}</legend>
            <For each=move || 0..shafts.get() key=|at| *at children=shaft/>
            <p class="quiet">{here(say::clearance_why)}</p>
            <For each=move || 0..gears.get() key=|at| *at children=gear/>
        </fieldset>
    }
}

/// The end float of the drum, and where its notches are.
#[component]
pub(super) fn DrumForm() -> impl IntoView {
    let state = use_app_state();
    let count = counted(state, |set| set.drum.positions.len());
    let position = move |at: usize| {
        let gear = move || {
            let of = |set: &GearsetSpec| set.drum.positions.get(at).and_then(|own| own.gear);
            here(with_parts(state, of).flatten().map_or_else(say::neutral, say::gear))
        };
        view! {
            <h3>{gear}</h3>
            {fields(BoxPart::Position(at), &PositionSpec::FIELDS)}
            <WrongWith part=Part::Position(at)/>
        }
    };
    view! {
        <fieldset class="panel">
            <legend>{here(say::drum)}</legend>
            {fields(BoxPart::Drum, &DrumSpec::FIELDS)}
            <For each=move || 0..count.get() key=|at| *at children=position/>
        </fieldset>
    }
}

/// What was read on each gear and each fork.
#[component]
pub(super) fn ReadingForm() -> impl IntoView {
    let state = use_app_state();
    let gears = counted(state, |set| set.gears.len());
    let forks = counted(state, |set| set.forks.len());
    let gear = |at: usize| view! { <h3>{here(say::gear(at))}</h3>{fields(BoxPart::SeenGear(at), &SetGearSpec::SEEN)} };
    let fork = |at: usize| {
        view! { <h3>{here(Part::Fork(at).name())}</h3>{fields(BoxPart::SeenFork(at), &ForkSpec::SEEN)} }
    };
    view! {
        <fieldset class="panel">
            <legend>{here(say::readings)}</legend>
            <p class="quiet">{here(say::readings_why)}</p>
            <For each=move || 0..gears.get() key=|at| *at children=gear/>
            <For each=move || 0..forks.get() key=|at| *at children=fork/>
        </fieldset>
    }
}

/// What is wrong with a part, as far as it is more than worth knowing.
#[component]
fn WrongWith(part: Part) -> impl IntoView {
    let state = use_app_state();
    let found = Memo::new(move |_| {
        state.boxed.with(|boxed| {
            let all = boxed.iter().flat_map(|boxed| &boxed.analysis.findings);
            let here = all.filter(|placed| placed.part == part);
            let wrong = here.filter(|placed| placed.finding.severity != Severity::Note);
            wrong.map(|placed| placed.finding.clone()).collect::<Vec<_>>()
        })
    });
    move || {
        let reader = state.reader();
        let line = |finding: crenel::finding::Finding| {
            view! { <p class=format!("finding {}", finding.severity.name())>{finding.text(reader)}</p> }
        };
        found.get().into_iter().map(line).collect_view()
    }
}

fn fields(part: BoxPart, ids: &[FieldId]) -> impl IntoView + use<> {
    ids.iter().map(|&id| view! { <NumberField at=Slot::Box(part, id)/> }).collect_view()
}

fn counted(state: AppState, count: fn(&GearsetSpec) -> usize) -> Memo<usize> {
    Memo::new(move |_| with_parts(state, count).unwrap_or_default())
}

/// Whether a number is one of the forks.
pub(super) const fn is_of_fork(slot: Slot) -> bool {
    matches!(slot, Slot::Box(BoxPart::Fork(_) | BoxPart::TrackPoint(..), _))
}

/// Whether a number was read on a gear or a fork.
pub(super) const fn is_read(slot: Slot) -> bool {
    matches!(slot, Slot::Box(BoxPart::SeenGear(_) | BoxPart::SeenFork(_), _))
}

/// Whether a number is one of shafts and gears.
pub(super) const fn is_of_shaft(slot: Slot) -> bool {
    matches!(slot, Slot::Box(BoxPart::Shaft(_) | BoxPart::Gear(_), _))
}

/// Whether a number is one of the drum.
pub(super) const fn is_of_drum(slot: Slot) -> bool {
    matches!(slot, Slot::Box(BoxPart::Drum | BoxPart::Position(_), _))
}
