//! The wish for the smallest cut: target, ceilings, and the step of the shop.

use std::borrow::Cow;

use crenel::design::{Design, SettingField};
use crenel::fields::{FieldId, Slot};
use crenel::suggest::{FlankStep, Goal, Proposed, ShopStep, proposed_window_ms};
use crenel::units::{Angle, Quantity};
use crenel_words::page::rework as say;
use crenel_words::{Phrase, Value};
use leptos::prelude::*;

use super::offers::Offers;
use crate::background::Wish;
use crate::state::{CutSearch, here, use_app_state};
use crate::widgets::choose::{Choose, Picked};
use crate::widgets::number_field::{NumberField, refused};
use crate::widgets::optional_number::OptionalNumber;

const GOALS: [(Goal, Phrase); 2] = [(Goal::Window, say::goal_window), (Goal::Lash, say::goal_lash)];

#[component]
pub(super) fn SmallestCut() -> impl IntoView {
    let state = use_app_state();
    let cuts = state.cuts;
    let goal = Signal::derive(move || cuts.wish.get().goal);
    let set_goal = Callback::new(move |goal| cuts.wish.update(|wish| wish.goal = goal));
    let field = move || goal.get().field().id();
    let searching = Memo::new(move |_| cuts.progress.with(Option::is_some));
    let press = move |_| {
        if searching.get_untracked() {
            return cuts.cancel();
        }
        // Without a valid target there is nothing to look for; its field says what is wrong.
        if let Some(field) = refused(Slot::Setting(untrack(field))) {
            cuts.forget();
            // Focusing fails only if the page is gone.
            let _ = field.focus();
            return;
        }
        cuts.begin();
    };
    view! {
        <fieldset class="panel least">
            <legend>{here(say::smallest_cut)}</legend>
            <div class="wish">
                <div>
                    <Choose label=here(say::increase) words=&GOALS value=goal on_choose=set_goal/>
                    {move || view! { <NumberField at=Slot::Setting(field())/> }}
                    {move || (goal.get() == Goal::Window).then(|| view! { <TakeNeeded/> })}
                    <Ceilings cuts/>
                </div>
                <div>
                    <StepOfShop cuts/><StepOfFlanks cuts/>
                    <Tick words=say::met_over_tolerance read=|wish| wish.holds set=|wish, on| wish.holds = on/>
                    <Tick words=say::no_limit_crossed read=|wish| wish.within_limits
                        set=|wish, on| wish.within_limits = on/>
                </div>
            </div>
            // One button, so that the focus stays on it.
            <button class="wide main" on:click=press>
                {move || here(if searching.get() { say::cancel_search } else { say::find })}
            </button>
            {move || searching.get().then(|| view! { <Searching cuts/> })}
            <Offers/>
        </fieldset>
    }
}

/// Takes the window time that a shift needs, with a reserve, as the target.
#[component]
fn TakeNeeded() -> impl IntoView {
    let state = use_app_state();
    let target = Slot::Setting(FieldId::WishedWindow);
    let proposed = Memo::new(move |_| {
        let proposed = state.analysis.with(|a| proposed_window_ms(a))?;
        state.with(|d| d.get(target) != Some(proposed.target)).then_some(proposed)
    });
    let words = move |Proposed { needed, target }: Proposed| {
        let [needed, target] = [needed, target].map(|ms| Value::Result(Quantity::Time, ms));
        say::use_needed(target, needed).show(state.reader())
    };
    let take = move |_| {
        if let Some(proposed) = proposed.get_untracked() {
            state.change(|d| {
                d.set_given(target, proposed.target);
            });
        }
    };
    move || {
        let words = words(proposed.get()?);
        Some(view! { <button class="quiet-button take-needed" on:click=take>{words}</button> })
    }
}

/// How far the search is.
#[component]
fn Searching(cuts: CutSearch) -> impl IntoView {
    let progress = move || cuts.progress.get().unwrap_or_default();
    let words = move || here(say::ways_tried(progress().tried, progress().of));
    view! {
        <div class="row searching">
            <progress max=move || progress().of.max(1).to_string() value=move || progress().tried.to_string()
                aria-label=here(say::searching)></progress>
            <span class="quiet">{words}</span>
        </div>
    }
}

#[component]
fn Ceilings(cuts: CutSearch) -> impl IntoView {
    // The goal is no ceiling of itself.
    let on_lash = move || cuts.wish.get().goal != Goal::Lash;
    let state = use_app_state();
    // The limit of the design counts wherever no limit may be crossed.
    let set_limit = Signal::derive(move || {
        let limit = state.with(|d| d.limits.get(FieldId::MostLash));
        limit.filter(|_| cuts.wish.get().within_limits)
    });
    view! {
        {move || on_lash().then(|| view! {
            <OptionalNumber label=here(say::lash_at_most) quantity=Quantity::Angle instead=set_limit
                value=Signal::derive(move || cuts.wish.get().lash_deg)
                on_change=Callback::new(move |lash| cuts.wish.update(|wish| wish.lash_deg = lash))/>
        })}
        <OptionalNumber label=here(say::metal_at_most) quantity=Quantity::Grams
            value=Signal::derive(move || cuts.wish.get().metal_g)
            on_change=Callback::new(move |metal| cuts.wish.update(|wish| wish.metal_g = metal))/>
    }
}

#[component]
fn StepOfShop(cuts: CutSearch) -> impl IntoView {
    let state = use_app_state();
    let chosen = move || cuts.wish.get().step(state.units.get());
    let name = |step: ShopStep| here(say::step(Value::Size(Quantity::Length, step.mm())));
    let place = |step: ShopStep| ShopStep::ALL.iter().position(|one| *one == step);
    let choose = move |at: String| {
        let step = at.parse().ok().and_then(|at: usize| ShopStep::ALL.get(at).copied());
        cuts.wish.update(|wish| wish.step = step);
    };
    let options = move || {
        ShopStep::ALL
            .iter()
            .enumerate()
            .map(|(at, step)| view! {
                <option value=at.to_string() selected=move || chosen() == *step>{move || name(*step)}</option>
            })
            .collect_view()
    };
    view! {
        <Picked label=here(say::shop_step) text=Signal::derive(move || name(chosen()))
            value=Signal::derive(move || place(chosen()).unwrap_or_default().to_string())
            on_choose=Callback::new(choose)>
            {options()}
        </Picked>
    }
}

/// What flanks are moved in by: a length, minutes of the rotary table, or holes of the plates of the shop.
#[component]
fn StepOfFlanks(cuts: CutSearch) -> impl IntoView {
    let state = use_app_state();
    let choices = Memo::new(move |_| state.with(flank_steps));
    let chosen = Memo::new(move |_| cuts.wish.with(|wish| wish.flank));
    let place = move || choices.with(|all| all.iter().position(|one| *one == chosen.get()));
    let choose = move |at: String| {
        let step = at.parse().ok().and_then(|at: usize| choices.with(|all| all.get(at).copied()));
        cuts.wish.update(|wish| wish.flank = step.unwrap_or_default());
    };
    let option = move |(at, step): (usize, FlankStep)| {
        view! {
            <option value=at.to_string() selected=move || chosen.get() == step>{move || flank_name(step)}</option>
        }
    };
    let options = move || choices.get().into_iter().enumerate().map(option).collect_view();
    view! {
        <Picked label=here(say::flank_step) text=Signal::derive(move || flank_name(chosen.get()))
            value=Signal::derive(move || place().unwrap_or_default().to_string())
            on_choose=Callback::new(choose)>
            {options}
        </Picked>
    }
}

/// The steps of flanks that the shop of a design has.
fn flank_steps(design: &Design) -> Vec<FlankStep> {
    let ratio = design.setting.get(SettingField::DividingRatio);
    let mut circles: Vec<u16> =
        design.plates.iter().flat_map(|plate| plate.circles.iter().copied()).collect();
    circles.sort_unstable();
    circles.dedup();
    // A whole number, with limits far below 10,000.
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    let ratio = ratio as u16;
    let holes = circles.into_iter().map(|circle| FlankStep::Hole { circle, ratio });
    [FlankStep::Length].into_iter().chain(FlankStep::ON_TABLE).chain(holes).collect()
}

fn flank_name(step: FlankStep) -> Cow<'static, str> {
    let angle = || step.angle().map_or(0.0, Angle::degrees);
    match step {
        FlankStep::Length => here(say::flank_by_length),
        FlankStep::Minutes(minutes) => here(say::flank_by_minutes(minutes.into())),
        FlankStep::Hole { circle, .. } => {
            here(say::flank_by_hole(circle.into(), Value::Working(Quantity::Angle, angle())))
        }
    }
}

/// A part of the wish that is on or off.
#[component]
fn Tick(words: Phrase, read: fn(&Wish) -> bool, set: fn(&mut Wish, bool)) -> impl IntoView {
    let wish = use_app_state().cuts.wish;
    view! {
        <label class="tick">
            <input type="checkbox" prop:checked=move || wish.with(read)
                on:change=move |event| wish.update(|wish| set(wish, event_target_checked(&event)))/>
            {here(words)}
        </label>
    }
}
