//! From symptom to cause: checks from the outside in, with entries for the measurements.

use std::sync::Arc;

use leptos::prelude::*;

use crenel::design::{Design, Preset, SYMPTOMS, Symptom, TIP_EDGES, TIP_FACES, Tips};
use crenel::diagnosis::{Check, CheckResult, CheckStatus, Diagnosis, KnownBy, Station, diagnose};
use crenel::fields::{FieldId, Slot};
use crenel::report::CAUTIONS;
use crenel::ring::Side;
use crenel::verdict::Stage;

use crenel_words::page::{common, load, rework, shift, trace as say};
use crenel_words::{Message, Value, Words};

use crate::state::{Area, AreaKey, Content, here, use_app_state};
use crate::widgets::in_words::InWords;
use crate::widgets::link_code::LinkCode;
use crate::widgets::number_field::NumberField;

pub(super) const AREA: Area<AnyView> = Area {
    owns: |slot| matches!(slot, Slot::Seen(_)),
    ..Area::of(
        Stage::Cause,
        AreaKey("trace"),
        say::title,
        Content::Page(|| view! { <Trace/> }.into_any()),
    )
};

#[component]
fn Trace() -> impl IntoView {
    let state = use_app_state();
    let diagnosis = Memo::new(move |_| state.analysis.with(|a| Arc::new(diagnose(a))));
    // The outcome is announced when it changes, by the page's one live region.
    Effect::new(move |before: Option<String>| {
        let words = diagnosis.with(|t| t.verdict().words(state.reader()).into_owned());
        if before.is_some_and(|before| before != words) {
            state.say(words.clone());
        }
        words
    });
    let planned = move || state.with(Design::is_planned);
    let print = move |_| {
        // Printing fails only if the page is gone.
        let _ = window().print();
    };
    view! {
        <section class="trace" aria-label=here(say::title)>
            <div class="row head">
                <h2>{here(say::title)}</h2>
                <button on:click=print>{here(say::print_report)}</button>
            </div>
            <Heading/>
            {move || planned().then(|| view! {
                <p class="as-found">{here(say::as_found_only)}</p>
            })}
            <Felt/>
            <Causes diagnosis/>
            <Polishing/>
            {Station::ALL.map(|station| view! { <StationChecks station diagnosis/> }).into_iter().collect_view()}
            <div class="print-only code"><LinkCode/></div>
            <section class="print-only cautions">
                <h3>{here(common::cautions)}</h3>
                <ul>{CAUTIONS.map(|text| view! { <li>{here(text)}</li> }).into_iter().collect_view()}</ul>
                <p>{here(common::calculated_only)}</p>
            </section>
        </section>
    }
}

/// The head of the report on paper.
#[component]
fn Heading() -> impl IntoView {
    let state = use_app_state();
    let title = move || state.with(|d| d.name().to_owned());
    let initials = move || {
        let given = state.with(|d| d.initials.clone());
        let blank = || Value::Verbatim("______".to_owned());
        if given.is_empty() { blank() } else { Value::Given(given) }
    };
    view! {
        <header class="print-only block">
            <h3>{title}</h3>
            <p>{move || say::inspected_by(initials()).show(state.reader())}</p>
            <p>{move || state.with(|d| d.notes.clone())}</p>
        </header>
    }
}

#[component]
fn Felt() -> impl IntoView {
    let state = use_app_state();
    let tick = |&symptom: &Symptom| {
        let felt = move || state.with(|d| d.trace.felt.contains(&symptom));
        let set = move |event| {
            let on = event_target_checked(&event);
            state.change(|d| {
                if on {
                    d.trace.felt.insert(symptom);
                } else {
                    d.trace.felt.remove(&symptom);
                }
            });
        };
        view! {
            <label class="tick"><input type="checkbox" prop:checked=felt on:change=set/>{here(symptom.label())}</label>
        }
    };
    view! {
        <fieldset class="panel felt">
            <legend>{here(say::what_rider_feels)}</legend>
            <div class="ticks">{SYMPTOMS.iter().map(tick).collect_view()}</div>
            <p class="quiet">{here(say::what_to_tick)}</p>
        </fieldset>
    }
}

/// The causes, the number farthest past its limit first.
#[component]
fn Causes(diagnosis: Memo<Arc<Diagnosis>>) -> impl IntoView {
    let state = use_app_state();
    let list = move || {
        diagnosis.with(|diagnosis| {
            let causes = diagnosis.causes.iter().map(|&at| &diagnosis.checks[at]);
            causes
                .map(|c| {
                    let felt = c.explains.iter().map(|s| view! { <li>{here(s.label())}</li> });
                    let felt = felt.collect_view();
                    view! {
                        <li>
                            <p><b>{here(c.check.title)}</b>" – "{c.says.words(state.reader())}</p>
                            <p class="quiet">{here(say::may_cause)}</p>
                            <ul>{felt}</ul>
                        </li>
                    }
                })
                .collect_view()
        })
    };
    view! {
        <section class="causes" aria-label=here(say::causes)>
            <h3>{here(say::verdict)}</h3>
            <p>{move || diagnosis.with(|t| t.verdict().words(state.reader()))}</p>
            <ol>{list}</ol>
        </section>
    }
}

/// The button that takes the measurements on the dogs into the design.
#[component]
fn Polishing() -> impl IntoView {
    let state = use_app_state();
    let same = Memo::new(move |_| state.with(|d| d.with_measured() == *d));
    let take = move |_| {
        state.change(|d| *d = d.with_measured());
        state.say(here(say::measurements_applied));
    };
    let polish = move |_| {
        let others = state.with(|d| {
            let works = Side::BOTH.map(|side| d.ring(side).plan.operations.iter());
            works.into_iter().flatten().filter(|o| o.work.kind.tips != Tips::Lapped).count()
        });
        state.change(|d| *d = d.polished_alone());
        state.open_area(AreaKey::REWORK);
        let words = here(say::polished_alone(others));
        state.tell(words.clone(), false);
        state.say(words);
    };
    view! {
        <div class="row on-screen flow">
            <button disabled=same on:click=take>{here(say::apply_measurements)}</button>
            <button on:click=polish>{here(say::polish_alone)}</button>
            <span class="quiet">
                {here(say::what_is_applied(shift::title(), load::title(), rework::title()))}
            </span>
        </div>
    }
}

#[component]
fn StationChecks(station: Station, diagnosis: Memo<Arc<Diagnosis>>) -> impl IntoView {
    let checks = move || {
        diagnosis.with(|diagnosis| {
            let here = diagnosis.checks.iter().map(|c| c.check).filter(|c| c.station == station);
            here.collect::<Vec<_>>()
        })
    };
    let checks = Memo::new(move |_| checks());
    view! {
        <section class="station" class:hidden=move || checks.with(Vec::is_empty) aria-label=here(station.title())>
            <h3>{here(station.title())}</h3>
            <For each=move || checks.get() key=|check| check.key
                children=move |check| view! { <CheckCard check diagnosis/> }/>
        </section>
    }
}

/// The area with the numbers of a check that are not measured.
const fn area_of(station: Station) -> AreaKey {
    match station {
        Station::Linkage | Station::Claw => AreaKey::SELECTOR,
        Station::Depth => AreaKey::DEPTH,
        Station::Faces => AreaKey::REWORK,
        Station::Layout => AreaKey::SHIFT,
    }
}

#[component]
fn CheckCard(check: &'static Check, diagnosis: Memo<Arc<Diagnosis>>) -> impl IntoView {
    let state = use_app_state();
    let checked = Memo::new(move |_| {
        diagnosis.with(|diagnosis| diagnosis.checks.iter().find(|c| c.check == check).cloned())
    });
    let text = move |read: fn(&CheckResult) -> Vec<Message>| {
        checked.with(|c| c.as_ref().map(read).unwrap_or_default()).words(state.reader())
    };
    let judged = move || checked.with(|c| c.as_ref().map_or(CheckStatus::Open, |c| c.status));
    let class = move || match judged() {
        CheckStatus::Passes => "check passes",
        CheckStatus::Fails => "check fails",
        CheckStatus::Open => "check open",
    };
    let known = move || {
        checked.with(|c| match c.as_ref().and_then(|c| c.known_by) {
            Some(KnownBy::Measured) => Some(here(say::measured)),
            Some(KnownBy::WorkedOut) => Some(here(say::worked_out)),
            None => None,
        })
    };
    let next = move || {
        let fails = judged() == CheckStatus::Fails;
        let next = || text(|c| c.next.iter().cloned().collect());
        fails.then(|| view! { <p class="next"><b>{here(say::next)}</b>" "{next()}</p> })
    };
    let fields = check.measured.iter().map(|&id| view! { <Measure id/> }).collect_view();
    let area = state.areas.find(area_of(check.station));
    view! {
        <article class=class aria-label=here(check.title) data-check=check.key>
            <h4>{here(check.title)}<span class="judged">{move || here(judged().label())}</span></h4>
            <div class="measures">{fields}</div>
            <p class="says">{move || text(|c| c.says.clone())}" "<span class="quiet">{known}</span></p>
            {next}
            <button class="on-screen to" on:click=move |_| state.open_area(area.key)>
                {here(common::open_area((area.title)()))}
            </button>
        </article>
    }
}

/// The entry for one measured number, with how to measure it.
#[component]
fn Measure(id: FieldId) -> impl IntoView {
    let words: Option<(Message, &'static [Preset])> = match id {
        FieldId::SeenTipFriction => Some((say::faces_look(), &TIP_FACES)),
        FieldId::SeenEdgeA => Some((say::edges_look(Side::A), &TIP_EDGES)),
        FieldId::SeenEdgeB => Some((say::edges_look(Side::B), &TIP_EDGES)),
        _ => None,
    };
    let state = use_app_state();
    let value = Signal::derive(move || state.with(|d| d.trace.seen(id)));
    let choose = Callback::new(move |value| {
        state.change(|d| {
            d.set(Slot::Seen(id), value);
        });
    });
    view! {
        <div class="measure">
            {words.map(|(label, words)| view! {
                <InWords label=here(label) words value on_choose=choose quantity=id.spec().quantity
                    missing=common::not_measured/>
            })}
            <NumberField at=Slot::Seen(id)/>
            <p class="quiet how">{here(id.spec().explanation())}</p>
        </div>
    }
}
