//! Simple estimates of numbers that nobody has at hand: a part taken as a disc, a drive as a shaft.

use leptos::prelude::*;

use crenel::fields::{FieldId, Slot};
use crenel::finding::Finding;
use crenel::shift::{disc_kg_m2, shaft_nm_per_rad};
use crenel::units::DisplayUnits;
use crenel_words::page::results as say;
use crenel_words::{Phrase, Value};

use crate::state::{AppState, here, use_app_state};

/// The kind of estimate.
#[derive(Clone, Copy)]
pub(crate) enum Estimate {
    /// An inertia, from mass and diameter of a plain disc.
    Disc,
    /// A stiffness, from diameter and length of a plain round steel shaft.
    Shaft,
}

impl Estimate {
    const fn inputs(self) -> [FieldId; 2] {
        match self {
            Self::Disc => [FieldId::DiscMass, FieldId::DiscDiameter],
            Self::Shaft => [FieldId::ShaftDiameter, FieldId::ShaftLength],
        }
    }

    fn words(self) -> Phrase {
        match self {
            Self::Disc => say::estimate_disc,
            Self::Shaft => say::estimate_shaft,
        }
    }

    fn value(self, [first, second]: [f64; 2]) -> f64 {
        match self {
            Self::Disc => disc_kg_m2(first, second),
            Self::Shaft => shaft_nm_per_rad(first, second),
        }
    }
}

/// An estimate, and the button that takes it as the number.
#[component]
pub(crate) fn Estimator(at: Slot, how: Estimate) -> impl IntoView {
    let state = use_app_state();
    let target = at.field().spec();
    let inputs = how.inputs().map(|id| (id, RwSignal::new(text_of(id, state))));
    // A number stays the same quantity when the units change.
    Effect::new(move |before: Option<DisplayUnits>| {
        let units = state.units.get();
        for (id, text) in inputs {
            let quantity = id.spec().quantity;
            let typed =
                before.and_then(|before| quantity.parse(&text.get_untracked(), before).ok());
            if let Some(value) = typed.filter(|_| before != Some(units)) {
                text.set(quantity.format(value, units));
            }
        }
        units
    });
    let read = move |(id, text): (FieldId, RwSignal<String>)| {
        let units = state.units.get();
        Slot::Setting(id).read(&text.get(), units)
    };
    let result = move || -> Result<f64, Finding> {
        let value = how.value([read(inputs[0])?, read(inputs[1])?]);
        match at.check(value) {
            Some(found) => Err(found),
            // Rounded to the digits that an estimate is worth.
            None => Ok(target
                .quantity
                .parse(&target.quantity.format(value, Default::default()), Default::default())
                .unwrap_or(value)),
        }
    };
    let words = move || match result() {
        Ok(value) => target.quantity.show(value, state.units.get()),
        Err(why) => why.whole(state.reader()),
    };
    let take = move |_| {
        if let Ok(value) = result() {
            state.change(|d| {
                d.set(at, value);
            });
            let value = Value::Number(target.quantity, value);
            state.say(untrack(|| say::estimate_used(at.words(), value).show(state.reader())));
        }
    };
    let entry = move |(id, text): (FieldId, RwSignal<String>)| {
        let field = id.spec();
        view! {
            <label class="field">
                <span>{here(field.name())}</span>
                <span class="entry">
                    <input type="text" inputmode="decimal" autocomplete="off" prop:value=move || text.get()
                        aria-label=here(say::estimate_input(at.words(), field.name()))
                        on:input=move |event| text.set(event_target_value(&event))/>
                    <span class="unit">{move || field.quantity.suffix(state.units.get())}</span>
                </span>
            </label>
        }
    };
    view! {
        <details class="estimate">
            <summary>{here(how.words())}</summary>
            {inputs.map(entry).into_iter().collect_view()}
            <p class="row"><output aria-live="polite">{words}</output>
                <button disabled=move || result().is_err() on:click=take>
                    {here(say::use_estimate(target.name()))}
                </button>
            </p>
        </details>
    }
}

fn text_of(id: FieldId, state: AppState) -> String {
    id.spec().quantity.format(id.spec().default, state.units.get_untracked())
}
