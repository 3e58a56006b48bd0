//! From symptom to cause: checks from the outside in, with entries for the measurements.

use std::sync::Arc;

use leptos::html::{Nav, Summary};
use leptos::prelude::*;
use web_sys::{ScrollIntoViewOptions, ScrollLogicalPosition};

use crenel::design::{Design, Preset, SYMPTOMS, Symptom, TIP_EDGES, TIP_FACES, Tips};
use crenel::diagnosis::{
    Check, CheckResult, CheckStatus, Diagnosis, KnownBy, Sketch, Station, check_key, diagnose,
};
use crenel::fields::{FieldId, Slot};
use crenel::gauge::Gauge;
use crenel::report::CAUTIONS;
use crenel::ring::Side;
use crenel::units::Quantity;
use crenel::verdict::Stage;

use crenel_words::page::{common, load, rework, shift, trace as say};
use crenel_words::{Message, Value, Words};

use crate::dom::applies;
use crate::part::part;
use crate::state::{AppState, Area, AreaKey, Content, Part, here, use_app_state};
use crate::widgets::gauge_bar::GaugeBar;
use crate::widgets::in_words::InWords;
use crate::widgets::link_code::LinkCode;
use crate::widgets::number_field::NumberField;

pub(super) const AREA: Area<AnyView> = Area {
    owns: |slot| matches!(slot, Slot::Seen(_)),
    step: check_key,
    ..Area::of(
        Stage::Cause,
        AreaKey::CHECKS,
        say::title,
        Content::Page(part!(work, checks, view! { <Trace/> })),
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
    let now = step_now(state, diagnosis);
    let all = Memo::new(move |_| state.layout.is_open(Part::AllChecks));
    let planned = move || state.with(Design::is_planned);
    let print = move |_| {
        // Printing fails only if the page is gone.
        let _ = window().print();
    };
    view! {
        <section class="trace" class:stepping=move || !all.get() aria-label=here(say::title)>
            <div class="row head">
                <h2>{here(say::title)}</h2>
                <button aria-pressed=move || all.get().to_string()
                    on:click=move |_| state.layout.turn(Part::AllChecks)>
                    {here(say::all_checks)}
                </button>
                <button class="quiet-button" on:click=print>{here(say::print_report)}</button>
            </div>
            <Heading/>
            {move || planned().then(|| view! {
                <p class="as-found">{here(say::as_found_only)}</p>
            })}
            <Felt diagnosis/>
            <Steps diagnosis now/>
            <Causes diagnosis/>
            {Station::ALL.map(|station| view! { <StationChecks station diagnosis now/> }).into_iter().collect_view()}
            <StepButtons diagnosis now/>
            <Polishing/>
            <Likely diagnosis/>
            <div class="print-only code"><LinkCode/></div>
            <section class="print-only cautions">
                <h3>{here(common::cautions)}</h3>
                <ul>{CAUTIONS.map(|text| view! { <li>{here(text)}</li> }).into_iter().collect_view()}</ul>
                <p>{here(common::calculated_only)}</p>
            </section>
        </section>
    }
}

/// The check that is shown: the one that was gone to last, else the one to begin with when the area was opened or
/// what is felt was changed.
fn step_now(state: AppState, diagnosis: Memo<Arc<Diagnosis>>) -> Memo<Option<&'static str>> {
    let felt = Memo::new(move |_| state.with(|d| d.trace.felt.clone()));
    let begun = Memo::new(move |_| {
        felt.track();
        diagnosis.with_untracked(|d| d.check_first().map(|first| first.check.key))
    });
    Memo::new(move |_| {
        diagnosis.with(|diagnosis| {
            let asked = |key: &&str| diagnosis.checks.iter().any(|c| c.check.key == *key);
            let gone_to = state.layout.picture(AreaKey::CHECKS).filter(asked);
            let first = || diagnosis.checks.first().map(|first| first.check.key);
            gone_to.or_else(|| begun.get().filter(asked)).or_else(first)
        })
    })
}

fn go_to_step(state: AppState, key: &'static str) {
    state.layout.show_picture(AreaKey::CHECKS, key);
}

const fn mark(status: CheckStatus) -> &'static str {
    match status {
        CheckStatus::Passes => "✓",
        CheckStatus::Fails => "▲",
        CheckStatus::Open => "○",
    }
}

/// All checks in a line, each with its state.
#[component]
fn Steps(diagnosis: Memo<Arc<Diagnosis>>, now: Memo<Option<&'static str>>) -> impl IntoView {
    let state = use_app_state();
    let known = move || {
        diagnosis
            .with(|d| say::known_of(d.checks.len() - d.open(), d.checks.len()).show(state.reader()))
    };
    let checks = Memo::new(move |_| {
        diagnosis.with(|d| d.checks.iter().map(|c| (c.check, c.status)).collect::<Vec<_>>())
    });
    let step = move |(check, status): (&'static Check, CheckStatus)| {
        let current = move || (now.get() == Some(check.key)).then_some("step");
        view! {
            <button aria-current=current data-step=check.key on:click=move |_| go_to_step(state, check.key)>
                <span aria-hidden="true">{mark(status)}" "</span>{here(check.title)}
                <span class="sr">": "{here(status.label())}</span>
            </button>
        }
    };
    let line = NodeRef::new();
    keep_in_sight(line, now);
    view! {
        <nav class="steps on-screen" node_ref=line aria-label=here(say::steps)>
            <span class="quiet">{known}</span>
            <For each=move || checks.get() key=|(check, status)| (check.key, *status as u8) children=step/>
        </nav>
    }
}

/// Keeps the check that is shown in sight: its mark in the middle of the line and, once it has been changed, its
/// title below what sticks to the top of the screen.
fn keep_in_sight(line: NodeRef<Nav>, now: Memo<Option<&'static str>>) {
    Effect::new(move |before: Option<Option<&'static str>>| {
        let key = now.get();
        let Some(line) = line.get() else { return key };
        let is_changed = before.is_some_and(|before| before.is_some() && before != key);
        request_animation_frame(move || {
            if let Ok(Some(mark)) = line.query_selector("[aria-current]") {
                let [mark, row] =
                    [mark.get_bounding_client_rect(), line.get_bounding_client_rect()];
                let off = mark.left() + mark.width() / 2.0 - row.left() - row.width() / 2.0;
                line.scroll_by_with_x_and_y(off, 0.0);
            }
            if !is_changed {
                return;
            }
            if let Ok(Some(title)) = document().query_selector(".check.now > h4") {
                let nearest = ScrollIntoViewOptions::new();
                nearest.set_block(ScrollLogicalPosition::Nearest);
                title.scroll_into_view_with_scroll_into_view_options(&nearest);
            }
        });
        key
    });
}

/// Back and on, one check at a time.
#[component]
fn StepButtons(diagnosis: Memo<Arc<Diagnosis>>, now: Memo<Option<&'static str>>) -> impl IntoView {
    let state = use_app_state();
    // The check before the one that is shown, that one's state, and the check after it.
    let around = Memo::new(move |_| {
        diagnosis.with(|d| {
            let at = d.checks.iter().position(|c| Some(c.check.key) == now.get())?;
            let key = |at: usize| d.checks.get(at).map(|c| c.check.key);
            Some((at.checked_sub(1).and_then(key), d.checks[at].status, key(at + 1)))
        })
    });
    let before = move || around.get().and_then(|(before, ..)| before);
    let after = move || around.get().and_then(|(.., after)| after);
    let is_open = move || around.get().is_some_and(|(_, status, _)| status == CheckStatus::Open);
    let go =
        move |key: Option<&'static str>| key.into_iter().for_each(|key| go_to_step(state, key));
    view! {
        <div class="row step-buttons on-screen">
            <button disabled=move || before().is_none() on:click=move |_| go(before())>
                "◀ "{here(say::back)}
            </button>
            <button class:main=move || !is_open() disabled=move || after().is_none() on:click=move |_| go(after())>
                {move || here(if is_open() { say::skip } else { say::next_check })}" ▶"
            </button>
        </div>
    }
}

/// The cause so far and where to begin, always in sight.
#[component]
fn Likely(diagnosis: Memo<Arc<Diagnosis>>) -> impl IntoView {
    let state = use_app_state();
    let told = move |read: fn(&Diagnosis) -> Option<&CheckResult>| {
        diagnosis.with(|d| {
            let title = read(d).map(|c| (c.check.title)());
            title.map_or_else(|| here(say::not_known_yet).into_owned(), |t| t.show(state.reader()))
        })
    };
    let likely = move || {
        let asked = state.with(|d| !d.trace.felt.is_empty());
        if asked { told(Diagnosis::most_likely) } else { here(say::nothing_asked).into_owned() }
    };
    view! {
        <p class="likely on-screen">
            <b>{here(say::most_likely)}</b>" "{likely}
            " · "<b>{here(say::check_first)}</b>" "{move || told(Diagnosis::check_first)}
        </p>
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

/// The media query of a page where what is felt stands beside the check, as in the style sheet. Elsewhere the list
/// folds to one line at each tick, so that the check for it is in sight.
const BESIDE: &str = "(min-width: 64em)";

#[component]
fn Felt(diagnosis: Memo<Arc<Diagnosis>>) -> impl IntoView {
    let state = use_app_state();
    let cleared = move || {
        let cleared = diagnosis.with(|d| d.cleared);
        (cleared > 0).then(|| say::checks_cleared(cleared).show(state.reader()))
    };
    // Among all checks it is open; step by step until the checks are asked for.
    let asking = RwSignal::new(state.with(|d| d.trace.felt.is_empty()));
    let folded = NodeRef::<Summary>::new();
    let show_checks = move || {
        asking.set(false);
        if let Some(folded) = folded.get_untracked() {
            // Focusing fails only if the page is gone.
            let _ = folded.focus();
        }
    };
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
            if on && !applies(BESIDE) && !state.layout.is_open(Part::AllChecks) {
                show_checks();
            }
        };
        view! {
            <label class="tick"><input type="checkbox" prop:checked=felt on:change=set/>{here(symptom.label())}</label>
        }
    };
    let felt = move || {
        let felt = state.with(|d| d.trace.felt.clone());
        felt.into_iter().map(|symptom| here(symptom.label())).collect::<Vec<_>>().join(" · ")
    };
    let open = move || asking.get() || state.layout.is_open(Part::AllChecks);
    let ticked = move || state.with(|d| !d.trace.felt.is_empty());
    let turned = move |event: leptos::ev::Event| {
        asking.set(event_target::<web_sys::Element>(&event).has_attribute("open"));
    };
    view! {
        <details class="felt" prop:open=open on:toggle=turned>
            <summary node_ref=folded><b>{here(say::what_rider_feels)}</b>" "<span>{felt}</span></summary>
            <fieldset class="panel" aria-label=here(say::what_rider_feels)>
                <div class="ticks">{SYMPTOMS.iter().filter(|s| !s.is_when).map(tick).collect_view()}</div>
                <p class="quiet">{here(say::what_to_tick)}</p>
                <h3>{here(say::when_it_happens)}</h3>
                <div class="ticks">{SYMPTOMS.iter().filter(|s| s.is_when).map(tick).collect_view()}</div>
                <p class="quiet">{cleared}</p>
                {move || (ticked() && !state.layout.is_open(Part::AllChecks)).then(|| view! {
                    <button class="on-screen" on:click=move |_| show_checks()>{here(say::show_checks)}</button>
                })}
            </fieldset>
        </details>
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
        <div class="row on-screen flow" class:hidden=move || state.with(|d| d.trace.measured.is_empty())>
            <button disabled=same on:click=take>{here(say::apply_measurements)}</button>
            <button on:click=polish>{here(say::polish_alone)}</button>
            <span class="quiet">
                {here(say::what_is_applied(shift::title(), load::title(), rework::title()))}
            </span>
        </div>
    }
}

#[component]
fn StationChecks(
    station: Station,
    diagnosis: Memo<Arc<Diagnosis>>,
    now: Memo<Option<&'static str>>,
) -> impl IntoView {
    let checks = move || {
        diagnosis.with(|diagnosis| {
            let here = diagnosis.checks.iter().map(|c| c.check).filter(|c| c.station == station);
            here.collect::<Vec<_>>()
        })
    };
    let checks = Memo::new(move |_| checks());
    let is_here = move || checks.with(|all| all.iter().any(|check| Some(check.key) == now.get()));
    view! {
        <section class="station" class:hidden=move || checks.with(Vec::is_empty) class:now=is_here aria-label=here(station.title())>
            <h3>{here(station.title())}</h3>
            <For each=move || checks.get() key=|check| check.key
                children=move |check| view! { <CheckCard check diagnosis now/> }/>
        </section>
    }
}

/// The area with the numbers of a check that are not measured.
const fn area_of(station: Station) -> AreaKey {
    match station {
        Station::Linkage | Station::Claw => AreaKey::SELECTOR,
        Station::Depth => AreaKey::DEPTH,
        Station::Faces => AreaKey::REWORK,
        Station::Clutch | Station::Layout => AreaKey::SHIFT,
    }
}

#[component]
fn CheckCard(
    check: &'static Check,
    diagnosis: Memo<Arc<Diagnosis>>,
    now: Memo<Option<&'static str>>,
) -> impl IntoView {
    let state = use_app_state();
    let checked = Memo::new(move |_| {
        diagnosis.with(|diagnosis| diagnosis.checks.iter().find(|c| c.check == check).cloned())
    });
    let text = move |read: fn(&CheckResult) -> Vec<Message>| {
        checked.with(|c| c.as_ref().map(read).unwrap_or_default()).words(state.reader())
    };
    let judged = move || checked.with(|c| c.as_ref().map_or(CheckStatus::Open, |c| c.status));
    let class = move || {
        let shown = if now.get() == Some(check.key) { " now" } else { "" };
        let judged = match judged() {
            CheckStatus::Passes => "passes",
            CheckStatus::Fails => "fails",
            CheckStatus::Open => "open",
        };
        format!("check {judged}{shown}")
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
    let gauge = Memo::new(move |_| {
        let used = checked.with(|c| c.as_ref().and_then(|c| c.used))?;
        Some(Gauge::at_most(1.0, used.min(MOST_USED)))
    });
    let used = move || {
        let used = checked.with(|c| c.as_ref().and_then(|c| c.used))?;
        let share = Value::Result(Quantity::Share, used);
        Some(say::of_its_limit(share).show(state.reader()))
    };
    let open = move |_| {
        go_to_step(state, check.key);
        state.open_area(area.key);
        state.layout.left_check.set(Some(AreaKey::CHECKS));
    };
    view! {
        <article class=class aria-label=here(check.title) data-check=check.key>
            <h4>{here(check.title)}<span class="judged">{move || here(judged().label())}</span></h4>
            <Where check/>
            <div class="measures">{fields}</div>
            <div class="on-screen limit-bar"><GaugeBar gauge was=Memo::new(|_| None)/><span>{used}</span></div>
            <p class="says">{move || text(|c| c.says.clone())}" "<span class="quiet">{known}</span></p>
            {next}
            <button class="on-screen to" on:click=open>
                {here(common::open_area((area.title)()))}
            </button>
        </article>
    }
}

/// A bar ends at this many times the limit.
const MOST_USED: f64 = 3.0;

/// The picture of where to measure.
#[component]
fn Where(check: &'static Check) -> impl IntoView {
    let Sketch { still, moving, gauge } = check.sketch;
    view! {
        <svg class="where on-screen" viewBox="0 0 160 100" role="img" aria-label=here(say::where_to_measure)>
            <path class="still" d=still></path>
            <path class="moving" d=moving></path>
            <path class="gauge" d=gauge></path>
        </svg>
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
            <NumberField at=Slot::Seen(id) stepper=true/>
            <p class="quiet how">{here(id.spec().explanation())}</p>
        </div>
    }
}
