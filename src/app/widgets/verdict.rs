//! The verdict: how the design stands, in one sentence, with three figures and what the last change did.

use std::sync::Arc;
use std::time::Duration;

use leptos::leptos_dom::helpers::TimeoutHandle;
use leptos::prelude::*;

use crenel::analysis::Analysis;
use crenel::design::{Design, History};
use crenel::verdict::{ChangeLine, Headline, Mark, Stage, Verdict, change, headline};
use crenel_words::page::frame as say;
use crenel_words::{Message, Value};

use crate::deferred::Deferred;
use crate::state::{AppState, here, use_app_state};
use crate::widgets::findings::FindingsButton;
use crate::widgets::gauge_bar::GaugeBar;
use crate::widgets::reveal::reveal;

/// How long the sentence must be of another class before it changes during a gesture.
const STEADY: Duration = Duration::from_millis(400);

/// The pause after the last change before the sentence is read out.
const READ_OUT: Duration = Duration::from_millis(600);

#[component]
pub(crate) fn VerdictStrip() -> impl IntoView {
    let state = use_app_state();
    let now = Memo::new(move |_| {
        let verdict = state.analysis.with(|a| Verdict::of(a));
        if state.from_friend.get() {
            verdict.of_friend(&state.with(|d| d.name().to_owned()))
        } else {
            verdict
        }
    });
    let shown = RwSignal::new(now.get_untracked());
    keep_steady(state, now, shown);
    let class = move || shown.with(|verdict| verdict.class);
    let long = move || {
        shown.with(|verdict| {
            let next = verdict.next.clone().map(|next| next.show(state.reader()));
            (verdict.fact.show(state.reader()), next)
        })
    };
    let go = move |_| shown.with_untracked(|verdict| reveal(state, verdict.stage, &verdict.at));
    view! {
        <section class="verdict-strip" aria-label=here(say::verdict) data-class=move || class().name()
            data-tone=move || class().tone()>
            <div class="told">
                <button class="sentence" on:click=go>
                    <span class="mark" aria-hidden="true">{move || class().mark()}" "</span>
                    <span class="long">
                        {move || long().0}<span class="next">{move || long().1.map(|next| format!(" {next}"))}</span>
                    </span>
                    <span class="brief" aria-hidden="true">{move || shown.with(|v| v.short.show(state.reader()))}</span>
                </button>
                <Deferred><SecondLine shown/></Deferred>
            </div>
            <Deferred><Figures/></Deferred>
            <ReadOut shown/>
        </section>
    }
}

/// Lets the sentence follow the design. During a gesture its numbers follow at once, but it becomes one of another
/// class only when it has been so for a while.
fn keep_steady(state: AppState, now: Memo<Verdict>, shown: RwSignal<Verdict>) {
    let waiting = StoredValue::new(None::<TimeoutHandle>);
    let stop = move || {
        waiting.update_value(|waiting| {
            if let Some(handle) = waiting.take() {
                handle.clear();
            }
        });
    };
    Effect::new(move |_| {
        let verdict = now.get();
        let in_gesture = state.history.with(History::in_gesture);
        if !in_gesture || verdict.class == shown.with_untracked(|shown| shown.class) {
            stop();
            if shown.with_untracked(|shown| *shown != verdict) {
                shown.set(verdict);
            }
            return;
        }
        if waiting.with_value(Option::is_none) {
            let later = move || {
                waiting.set_value(None);
                shown.set(now.get_untracked());
            };
            // Without a timer it changes when the gesture ends.
            waiting.set_value(set_timeout_with_handle(later, STEADY).ok());
        }
    });
}

/// The sentence for screen readers: once, when nothing has changed for a while.
#[component]
fn ReadOut(shown: RwSignal<Verdict>) -> impl IntoView {
    let state = use_app_state();
    let text = RwSignal::new(String::new());
    let said = Memo::new(move |_| shown.with(|verdict| verdict.short.clone()));
    let due = StoredValue::new(None::<TimeoutHandle>);
    Effect::new(move |begun: Option<bool>| {
        let message = said.get();
        // Not on opening: the sentence is on the page already.
        if begun.is_some() {
            due.update_value(|due| {
                if let Some(handle) = due.take() {
                    handle.clear();
                }
            });
            let read = move || text.set(message.show(untrack(|| state.reader())));
            due.set_value(set_timeout_with_handle(read, READ_OUT).ok());
        }
        true
    });
    view! { <p class="sr" aria-live="polite">{text}</p> }
}

// ---- the second line ----

/// What the last change did, and what the sentence rests on.
#[component]
fn SecondLine(shown: RwSignal<Verdict>) -> impl IntoView {
    let state = use_app_state();
    let line = last_change(state);
    let told = move || {
        let reader = state.reader();
        line.get().map(|line| {
            let moved = line.moved.map(|moved| {
                view! {
                    " · "{moved.words.show(reader)}" "
                    <span class="verdict" data-way=moved.way.way()>{here(moved.way.word())}</span>
                }
            });
            let crossed = line.crossed.iter().map(|one| {
                let class = if one.past { "crossed past" } else { "crossed" };
                view! { " · "<span class=class>{one.words.show(reader)}</span> }
            });
            view! {
                <span class="what">{line.what.show(reader)}{moved}{crossed.collect_view()}</span>" "
                <button class="undo-change" on:click=move |_| {
                    if state.step(History::undo) {
                        state.say(here(say::undone));
                    }
                }>{here(say::undo_change)}</button>
            }
        })
    };
    let marks = move || {
        shown.with(|verdict| {
            verdict.estimate.then(|| view! { <span class="chip">"≈ "{here(say::estimate)}</span> })
        })
    };
    view! {
        <div class="second-line">
            {told}
            {marks}
            <Assumed shown/>
            <span class="roomy"><FindingsButton/></span>
        </div>
    }
}

/// The numbers that the sentence rests on and that nobody gave.
#[component]
fn Assumed(shown: RwSignal<Verdict>) -> impl IntoView {
    let state = use_app_state();
    let slots = Memo::new(move |_| shown.with(|verdict| verdict.assumed.clone()));
    move || {
        let slots = slots.get();
        (!slots.is_empty()).then(|| {
            let count = slots.len();
            let rows = slots.into_iter().map(|slot| {
                let go = move |_| reveal(state, Stage::Pair, &[slot]);
                view! { <li><button class="quiet-button" on:click=go>{here(slot.words())}</button></li> }
            });
            view! {
                <details class="menu assumed">
                    <summary class="chip">"◇ "{here(say::assumed(count))}</summary>
                    <div class="sheet"><p>{here(say::assumed_why)}</p><ul>{rows.collect_view()}</ul></div>
                </details>
            }
        })
    }
}

/// What the last change did: the one in progress, or else the last step. A design that was opened is no change.
fn last_change(state: AppState) -> Memo<Option<ChangeLine>> {
    let settled = Memo::new(move |_| {
        state.history.with(|h| (h.settled().place.clone(), h.settled().design.clone()))
    });
    let before = Memo::new(move |last: Option<&Step>| {
        let (place, design) = settled.get();
        let from = last.filter(|last| last.place == place).map(|last| last.to.clone());
        Step { place, from, to: design }
    });
    let of = |design: Option<&Design>| design.map(|design| Arc::new(Analysis::of(design)));
    let from_earlier = Memo::new(move |_| before.with(|step| of(step.from.as_ref())));
    let from_settled = Memo::new(move |_| before.with(|step| of(Some(&step.to))));
    let in_gesture = Memo::new(move |_| state.history.with(History::in_gesture));
    Memo::new(move |_| {
        let from = if in_gesture.get() { from_settled.get() } else { from_earlier.get() };
        from.and_then(|from| state.analysis.with(|now| change(&from, now)))
    })
}

/// The design before and after the last step, and where it is kept.
#[derive(Clone, PartialEq)]
struct Step {
    place: String,
    from: Option<Design>,
    to: Design,
}

// ---- the three figures ----

/// The three figures of the open stage.
#[component]
fn Figures() -> impl IntoView {
    let state = use_app_state();
    let stage = state.open_stage();
    let figures = Memo::new(move |_| {
        let stage = stage.get();
        state.analysis.with(|a| headline(stage, a))
    });
    let before = Memo::new(move |_| {
        let stage = stage.get();
        state.is_changed().then(|| state.before.with(|a| headline(stage, a)))
    });
    view! {
        <div class="figures-3" role="group" aria-label=move || here(stage.get().title())>
            {(0..3).map(|at| view! { <Figure at figures before/> }).collect_view()}
        </div>
    }
}

#[component]
fn Figure(
    at: usize,
    figures: Memo<[Headline; 3]>,
    before: Memo<Option<[Headline; 3]>>,
) -> impl IntoView {
    let state = use_app_state();
    let read =
        move |read: fn(&Headline) -> Message| figures.with(|f| read(&f[at]).show(state.reader()));
    let value = move || figures.with(|f| shown(&f[at].value, state));
    let told = move || figures.with(|f| f[at].told.as_ref().map(|told| told.show(state.reader())));
    let mark = move || figures.with(|f| f[at].mark);
    let sign = move || match mark() {
        Mark::Past => "▲ ",
        Mark::Within => "✓ ",
        Mark::Unknown => "",
    };
    let name = move || match mark() {
        Mark::Past => "past",
        Mark::Within => "within",
        Mark::Unknown => "unknown",
    };
    let gauge = Memo::new(move |_| figures.with(|f| f[at].gauge));
    let was =
        Memo::new(move |_| before.with(|b| b.as_ref().and_then(|b| Some(b[at].gauge?.value))));
    view! {
        <div class="headline" data-mark=name>
            <span class="name">{move || read(|f| f.name.clone())}</span>
            <output>{value}</output>
            <GaugeBar gauge was/>
            <span class="told">{sign}{told}</span>
        </div>
    }
}

fn shown(value: &Value, state: AppState) -> String {
    value.show(state.reader())
}
