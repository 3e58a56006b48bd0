//! The verdict: how the design stands, in one sentence, with three figures and what the last change did.

use std::sync::Arc;

use gloo_timers::callback::Timeout;
use leptos::prelude::*;

use crenel::analysis::Analysis;
use crenel::design::{History, LoadCase};
use crenel::fields::Slot;
use crenel::verdict::{
    ChangeLine, Headline, Mark, Verdict, change, headline, headline_in_box, matters,
};
use crenel_words::page::frame as say;

use crate::deferred::Deferred;
use crate::state::{AppState, Notice, Offer, here, use_app_state};
use crate::widgets::findings::FindingsButton;
use crate::widgets::gauge_bar::GaugeBar;
use crate::widgets::lighting::measure_of;
use crate::widgets::menu::Menu;
use crate::widgets::reveal::{reveal, show};

/// How long the sentence must be of another class before it changes during a gesture, ms.
const STEADY_MS: u32 = 400;

/// The pause after the last change before the sentence is read out, ms.
const READ_OUT_MS: u32 = 600;

#[component]
pub(crate) fn VerdictStrip() -> impl IntoView {
    let state = use_app_state();
    state.find_matters.set(Some(matters));
    let now = Memo::new(move |_| {
        // The analysis is read first: see `AppState::alter`.
        let verdict = state
            .analysis
            .with(|a| state.matters.with(|m| Verdict::at_stage(state.stage.get(), m, a)));
        let verdict = state.boxed.with(|boxed| match boxed {
            Some(boxed) => verdict.in_box(&boxed.worst),
            None => verdict,
        });
        // The notice says it until it is dismissed.
        let tells = |notice: &Notice| matches!(notice.offer, Offer::Earlier(_));
        let is_told = state.notice.with(|notice| notice.as_ref().is_some_and(tells));
        if state.from_friend.get() && !is_told { verdict.of_friend() } else { verdict }
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
    // On a narrow screen the sentence is short until somebody asks why.
    let asked = RwSignal::new(false);
    let count = move || shown.with(|verdict| verdict.assumed.len());
    let go = move |_| {
        shown.with_untracked(|verdict| match verdict.part {
            Some(_) => open_box(state),
            None => reveal(state, verdict.stage, &verdict.at),
        });
    };
    view! {
        <section class="verdict-strip" class:asked=asked aria-label=here(say::verdict) data-class=move || class().name()
            data-tone=move || class().tone()>
            <div class="told">
                <button class="sentence" on:click=go>
                    <span class="mark" aria-hidden="true">{move || class().mark()}" "</span>
                    <span class="long">
                        {move || long().0}<span class="next">{move || long().1.map(|next| format!(" {next}"))}</span>
                    </span>
                    <span class="brief" aria-hidden="true">{move || shown.with(|v| v.short.show(state.reader()))}</span>
                </button>
                <button class="why" aria-expanded=move || asked.get().to_string() on:click=move |_| asked.update(|a| *a = !*a)>
                    <span class="ask">{here(say::why)}</span>
                    {move || Some(count()).filter(|n| *n > 0).map(|n| view! { <span class="rests">"◇ "{here(say::assumed_short(n))}</span> })}
                </button>
                <Deferred><SecondLine shown/></Deferred>
            </div>
            <Deferred><Figures/></Deferred>
            <ReadOut shown/>
        </section>
    }
}

/// Opens the whole gearbox, where what is worst is told first.
fn open_box(state: AppState) {
    let area = state.areas.whole_box();
    state.open_area(area.key);
    if let Some(first) = area.pictures().first() {
        state.layout.show_picture(area.key, first.key);
    }
}

/// Lets the sentence follow the design. During a gesture its numbers follow at once, but it becomes one of another
/// class only when it has been so for a while.
fn keep_steady(state: AppState, now: Memo<Verdict>, shown: RwSignal<Verdict>) {
    let waiting = StoredValue::new_local(None::<Timeout>);
    Effect::new(move |_| {
        let verdict = now.get();
        let in_gesture = state.history.with(History::in_gesture);
        if !in_gesture || verdict.class == shown.with_untracked(|shown| shown.class) {
            waiting.set_value(None);
            if shown.with_untracked(|shown| *shown != verdict) {
                shown.set(verdict);
            }
            return;
        }
        if waiting.with_value(Option::is_none) {
            waiting.set_value(Some(Timeout::new(STEADY_MS, move || {
                waiting.set_value(None);
                shown.set(now.get_untracked());
            })));
        }
    });
}

/// The sentence for screen readers: once, when nothing has changed for a while.
#[component]
fn ReadOut(shown: RwSignal<Verdict>) -> impl IntoView {
    let state = use_app_state();
    let text = RwSignal::new(String::new());
    let said = Memo::new(move |_| shown.with(|verdict| verdict.short.clone()));
    let due = StoredValue::new_local(None::<Timeout>);
    Effect::new(move |begun: Option<bool>| {
        let message = said.get();
        // Not on opening: the sentence is on the page already.
        if begun.is_some() {
            let read = move || text.set(message.show(untrack(|| state.reader())));
            // Replacing the timer cancels the previous one.
            due.set_value(Some(Timeout::new(READ_OUT_MS, read)));
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
                <button class="undo-change" on:click=move |_| state.undo()>{here(say::undo_change)}</button>
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
    let row = move |slot: Slot| {
        let go = move |_| show(state, slot);
        view! { <li><button class="quiet-button" on:click=go>{here(slot.words())}</button></li> }
    };
    // A case that nobody chose is a number that nobody gave.
    let steady = move || {
        let by_torque = shown.with(|verdict| verdict.estimate);
        by_torque && state.with(|d| d.setting.case == LoadCase::Throttle)
    };
    move || {
        let count = slots.with(Vec::len);
        (count > 0).then(|| {
            let title = move || format!("◇ {}", here(say::assumed(count))).into();
            view! {
                <Menu title class="menu assumed" stays=true>
                    <p>{here(say::assumed_why)}</p>
                    {move || steady().then(|| view! { <p>{here(say::steady_torque)}</p> })}
                    <ul>{slots.with(|slots| slots.iter().map(|slot| row(*slot)).collect_view())}</ul>
                </Menu>
            }
        })
    }
}

/// What the last change did: the one in progress, or else the last step. A design that was opened is no change.
fn last_change(state: AppState) -> Memo<Option<ChangeLine>> {
    let settled = Memo::new(move |_| {
        state.history.with(|h| (h.settled().place.clone(), h.settled().design.clone()))
    });
    let step = Memo::new_with_compare(
        move |last: Option<&Step>| {
            let (place, design) = settled.get();
            // Unless a gesture has begun, the settled design is worked out already.
            let now = state.analysis.get_untracked();
            let gear = design.gear_open();
            let to = if now.design == design { now } else { Arc::new(Analysis::of(&design)) };
            // Another gear of the gearbox is no change of the one before.
            let is_same = |last: &&Step| last.place == place && last.to.design.gear_open() == gear;
            let from = last.filter(is_same).map(|last| Arc::clone(&last.to));
            Step { place, from, to }
        },
        |_, _| true,
    );
    let in_gesture = Memo::new(move |_| state.history.with(History::in_gesture));
    Memo::new(move |_| {
        let now = state.analysis.get();
        let (earlier, settled) = step.with(|step| (step.from.clone(), Arc::clone(&step.to)));
        let from = if in_gesture.get() { Some(settled) } else { earlier };
        from.and_then(|from| change(&from, &now))
    })
}

/// The analyses before and after the last step, and where the work is kept.
#[derive(Clone)]
struct Step {
    place: String,
    from: Option<Arc<Analysis>>,
    to: Arc<Analysis>,
}

// ---- the three figures ----

/// The three figures of the open stage.
#[component]
fn Figures() -> impl IntoView {
    let state = use_app_state();
    let stage = state.stage;
    let figures = Memo::new(move |_| {
        let stage = stage.get();
        state.analysis.with(|a| {
            state.boxed.with(|boxed| match boxed {
                Some(boxed) => headline_in_box(stage, a, &boxed.worst),
                None => headline(stage, a),
            })
        })
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

/// The most letters of a value that are set large.
const MOST_LARGE: usize = 10;

#[component]
fn Figure(
    at: usize,
    figures: Memo<[Headline; 3]>,
    before: Memo<Option<[Headline; 3]>>,
) -> impl IntoView {
    let state = use_app_state();
    let name = move || figures.with(|f| f[at].name.show(state.reader()));
    let value = move || figures.with(|f| f[at].value.show(state.reader()));
    let worded = move || value().chars().count() > MOST_LARGE;
    let told = move || figures.with(|f| f[at].told.as_ref().map(|told| told.show(state.reader())));
    let mark = move || figures.with(|f| f[at].mark);
    let marked = move || match mark() {
        Mark::Past => ("past", "▲ "),
        Mark::Within => ("within", "✓ "),
        Mark::Unknown => ("unknown", ""),
    };
    let measure = move || figures.with(|f| f[at].key.and_then(measure_of));
    let gauge = Memo::new(move |_| figures.with(|f| f[at].gauge));
    let was =
        Memo::new(move |_| before.with(|b| b.as_ref().and_then(|b| Some(b[at].gauge?.value))));
    view! {
        <div class="headline" class:worded=worded data-mark=move || marked().0 data-measure=measure>
            <span class="name">{name}</span>
            <output>{value}</output>
            <GaugeBar gauge was/>
            <span class="told">{move || marked().1}{told}</span>
        </div>
    }
}
