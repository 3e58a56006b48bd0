//! The tolerances of the design: the grade of all sizes, and those that rings have of their own.

use crenel::design::{TOLERANCED, read_limits, show_limits};
use crenel::fields::{FieldId, Slot};
use crenel::ring::Side;
use crenel::shop::tolerance::Grade;
use crenel_words::Phrase;
use crenel_words::page::rings as say;
use leptos::prelude::*;

use crate::part::part;
use crate::state::{Panel, here, use_app_state};
use crate::widgets::choose::Choose;

/// The panel of tolerances.
pub(crate) const TOLERANCE_PANEL: Panel<AnyView> = Panel {
    key: "tolerances",
    title: say::tolerances,
    owns: |_| false,
    form: part!(beside, tolerances, view! { <Tolerances/> }),
};

const GRADES: [(Grade, Phrase); 4] = [
    (Grade::Fine, say::grade_fine),
    (Grade::Medium, say::grade_medium),
    (Grade::Coarse, say::grade_coarse),
    (Grade::VeryCoarse, say::grade_very_coarse),
];

#[component]
fn Tolerances() -> impl IntoView {
    let state = use_app_state();
    let grade = Signal::derive(move || state.with(|d| d.tolerances.grade));
    let set_grade = Callback::new(move |grade| state.change(|d| d.tolerances.grade = grade));
    let fields = |side: Side| {
        TOLERANCED.map(|id| view! { <LimitsField side id/> }).into_iter().collect_view()
    };
    view! {
        <fieldset class="panel tolerances">
            <legend>{here(say::tolerances)}</legend>
            <p class="quiet">{here(say::tolerances_how)}</p>
            <Choose label=here(say::grade) words=&GRADES value=grade on_choose=set_grade/>
            <div class="two">{Side::BOTH.map(|side| view! { <div>{fields(side)}</div> }).into_iter().collect_view()}</div>
        </fieldset>
    }
}

/// The tolerance of one size of all dogs of a ring.
#[component]
fn LimitsField(side: Side, id: FieldId) -> impl IntoView {
    let state = use_app_state();
    let slot = Slot::Ring(side, id);
    let quantity = id.spec().quantity;
    let wrong = RwSignal::new(None::<(String, String)>);
    let given = Memo::new(move |_| state.with(|d| d.limits_given(slot)));
    let text = move || {
        let shown = given.get().map(|limits| show_limits(limits, quantity, state.units.get()));
        wrong.get().map(|(text, _)| text).or(shown).unwrap_or_default()
    };
    let why = move || wrong.get().map(|(_, why)| why);
    let typed = move |text: String| {
        let limits = match text.trim() {
            "" => Ok(None),
            text => read_limits(text, quantity, state.units.get_untracked()).map(Some),
        };
        match limits {
            Ok(limits) => {
                wrong.set(None);
                state.change(|d| {
                    d.give_limits(slot, limits);
                });
            }
            Err(error) => {
                let why = error.whole(untrack(|| state.reader()));
                wrong.set(Some((text.clone(), why)));
            }
        }
    };
    view! {
        <label class="field">
            <span>{here(slot.words())}</span>
            <span class="entry">
                <input type="text" autocomplete="off" placeholder=here(say::general_tolerance) prop:value=text
                    data-limits=format!("{}.{}", side.letter(), id.spec().key)
                    aria-invalid=move || why().is_some().to_string()
                    on:change=move |event| typed(event_target_value(&event))/>
                <span class="unit">{move || quantity.suffix(state.units.get())}</span>
            </span>
            <span class="wrong" aria-live="polite">{why}</span>
        </label>
    }
}
