//! Inspection: what is planned beside what came out.

use std::borrow::Cow;
use std::collections::BTreeMap;
use std::sync::Arc;

use crenel_words::page::{common, papers as say, variants};
use crenel_words::{Message, Value};
use leptos::prelude::*;

use crenel::analysis::Analysis;
use crenel::design::{Design, MOST_VARIANTS};
use crenel::finding::Finding;
use crenel::report::{INSPECTED, Inspected, SetUpSheet, as_got, judged, retyped};
use crenel::ring::Side;

use super::col;
use crate::state::{AppState, Measured, here, use_app_state};
use crate::widgets::change_table::ChangeTable;
use crate::widgets::variants::{short_name, variant_name};

#[component]
pub(super) fn Inspection(
    side: Side,
    sheet: Memo<Arc<SetUpSheet>>,
    typed: RwSignal<Measured>,
) -> impl IntoView {
    let state = use_app_state();
    let wrong = RwSignal::new(Vec::<Finding>::new());
    let heads = INSPECTED.map(|id| {
        let unit = move || id.spec().quantity.suffix(state.units.get());
        view! { <th scope="col">{here(id.spec().name())}" "<span class="quiet">{unit}</span></th> }
    });
    let rows = move || {
        sheet.with(|s| {
            let rows =
                s.inspection.iter().map(|dog| view! { <InspectedRow side dog=dog.clone() typed/> });
            rows.collect_view()
        })
    };
    let nothing = Memo::new(move |_| typed.with(|t| t.keys().all(|(of, ..)| *of != side)));
    let take = move |_| {
        let units = state.units.get_untracked();
        let texts = typed.with_untracked(|t| texts_of(t, side));
        let result = state.analysis.with_untracked(|a| retyped(a, side, &texts, units));
        match result {
            Ok(taken) => {
                wrong.set(Vec::new());
                let Ok(kept) = go_on_with(state, side, taken.design) else {
                    return state.tell(here(variants::full(MOST_VARIANTS)), true);
                };
                typed.update(|t| t.retain(|(of, ..), _| *of != side));
                let dogs = state.with(|d| d.ring(side).places());
                let told = if taken.says.is_empty() {
                    say::taken(side, dogs)
                } else {
                    say::taken_with_plan(
                        side,
                        dogs,
                        taken.says.into_iter().map(Value::from).collect(),
                    )
                };
                state.tell(here([told].into_iter().chain(kept).collect::<Vec<_>>()), false);
            }
            Err(why) => wrong.set(why),
        }
    };
    let rim = move || sheet.with(|s| 2.0 * s.rim_radius_mm);
    let mean =
        move || sheet.with(|s| s.inspection.first().map_or(0.0, |dog| 2.0 * dog.mean_radius_mm));
    view! {
        <section class="inspection">
            <h4>{here(say::inspection)}</h4>
            <p>{move || how(state)}</p>
            <div class="scroll" tabindex="0" role="region" aria-label=here(say::inspection_of(side))>
                <table class="figures">
                    <thead><tr>{col(common::dog_head)}{heads.into_iter().collect_view()}</tr></thead>
                    <tbody>{rows}</tbody>
                </table>
            </div>
            <p>{move || sheet.with(|s| s.spacing.as_ref().map(|message| message.show(state.reader())))}</p>
            <Listed class="carrying" head=move || here(say::carrying_flanks(mean())) list=move || sheet.with(|s| s.carrying.clone())/>
            <p>{move || sheet.with(|s| s.hangs.as_ref().map(|message| message.show(state.reader())))}</p>
            <Listed class="chords" head=move || here(say::chords_at(rim())) list=move || sheet.with(|s| s.chords.clone())/>
            <Listed class="gaps" head=move || here(say::gaps_at(rim())) list=move || sheet.with(|s| s.gaps.clone())/>
            <ul class="wrong" aria-live="polite">
                {move || wrong.get().into_iter().map(|f| view! { <li>{f.whole(state.reader())}</li> }).collect_view()}
            </ul>
            <button class="on-screen" disabled=move || nothing.get() on:click=take>
                {here(say::use_measured(side))}
            </button>
            // Below the button, which must not move away from under the pointer.
            {move || (!nothing.get()).then(|| view! { <AsGot side typed/> })}
        </section>
    }
}

/// A list of things to measure under its heading; nothing where it is empty.
#[component]
fn Listed(
    class: &'static str,
    head: impl Fn() -> Cow<'static, str> + Copy + Send + 'static,
    list: impl Fn() -> Vec<Message> + Copy + Send + 'static,
) -> impl IntoView {
    let state = use_app_state();
    move || {
        let reader = state.reader();
        let items = list().into_iter().map(|one| view! { <li>{one.show(reader)}</li> });
        let items: Vec<_> = items.collect();
        (!items.is_empty()).then(|| view! { <p>{head()}</p> <ul class=class>{items}</ul> })
    }
}

/// The same for a gear that is not open: nominal sizes, and room to write.
#[component]
pub(super) fn BlankInspection(side: Side, sheet: Memo<Arc<SetUpSheet>>) -> impl IntoView {
    let state = use_app_state();
    let heads = INSPECTED.map(|id| view! { <th scope="col">{here(id.spec().name())}</th> });
    let row = move |dog: &Inspected| {
        let units = state.units.get();
        let cell = |at: usize| {
            let quantity = INSPECTED[at].spec().quantity;
            let allowed =
                dog.allowed[at].map_or(String::new(), |a| format!(" {}", a.words(quantity, units)));
            let nominal = format!("{}{allowed}", quantity.format_kept(dog.nominal[at], units));
            view! { <td><span class="nominal">{nominal}</span><span class="write-in"></span></td> }
        };
        let cells = (0..INSPECTED.len()).map(cell).collect_view();
        view! { <tr><th scope="row">{format!("{}{}", side.letter(), dog.place + 1)}</th>{cells}</tr> }
    };
    let rows = move || sheet.with(|s| s.inspection.iter().map(row).collect_view());
    view! {
        <section class="inspection">
            <h4>{here(say::inspection)}</h4>
            <div class="scroll" tabindex="0" role="region" aria-label=here(say::inspection_of(side))>
                <table class="figures">
                    <thead><tr>{col(common::dog_head)}{heads.into_iter().collect_view()}</tr></thead>
                    <tbody>{rows}</tbody>
                </table>
            </div>
        </section>
    }
}

/// How to inspect, with the grade of the design.
fn how(state: AppState) -> Cow<'static, str> {
    let grade = state.with(|d| d.tolerances.grade);
    here(say::how_to_inspect(grade.letter().to_owned()))
}

/// Goes on with a ring as measured. The plan that was made for it, if there is one, stays behind as a variant with the
/// ring as planned, which is said.
///
/// # Errors
/// If there is no room for another variant; the design is unchanged.
fn go_on_with(state: AppState, side: Side, measured: Design) -> Result<Option<Message>, ()> {
    let mut design = state.with(Design::clone);
    if design.ring(side).plan.is_empty() {
        state.change(|d| *d = measured);
        return Ok(None);
    }
    let at = design.variants.current();
    let planned = at
        .map_or_else(|| here(variants::as_planned()).into_owned(), |at| variant_name(&design, at));
    let got = short_name(match at {
        Some(_) => variants::named_as_measured(planned.clone(), side),
        None => variants::as_measured(side),
    });
    if !design.go_on_measured(measured, planned.clone(), got.clone()) {
        return Err(());
    }
    state.change(|d| *d = design);
    Ok(Some(variants::planned_is_kept(planned, got)))
}

/// The texts typed for one ring.
fn texts_of(typed: &Measured, side: Side) -> BTreeMap<(usize, usize), String> {
    let own = typed.iter().filter(|((of, ..), _)| *of == side);
    own.map(|((_, place, at), text)| ((*place, *at), text.clone())).collect()
}

/// Every figure as planned and with the ring as it came out; the last that could be read while a text cannot.
#[component]
fn AsGot(side: Side, typed: RwSignal<Measured>) -> impl IntoView {
    let state = use_app_state();
    let got = Memo::new(move |before: Option<&Arc<Analysis>>| {
        let texts = typed.with(|t| texts_of(t, side));
        let got = state.analysis.with(|a| as_got(a, side, &texts, state.units.get()));
        match (got, before) {
            (Ok(design), _) => Arc::new(Analysis::of(&design)),
            (Err(_), Some(before)) => Arc::clone(before),
            (Err(_), None) => state.analysis.get(),
        }
    });
    view! {
        <section class="before-after" aria-label=here(say::figures_as_got(side))>
            <h4>{here(say::figures_as_got(side))}</h4>
            <ChangeTable found=state.analysis cut=got heads=[say::planned, say::got]/>
        </section>
    }
}

#[component]
fn InspectedRow(side: Side, dog: Inspected, typed: RwSignal<Measured>) -> impl IntoView {
    let place = dog.place;
    let cells = (0..INSPECTED.len())
        .map(|at| view! { <InspectedCell side dog=dog.clone() at typed/> })
        .collect_view();
    view! { <tr><th scope="row">{format!("{}{}", side.letter(), place + 1)}</th>{cells}</tr> }
}

/// One size: as planned, a field for the size as it came out, and what to do about it.
#[component]
fn InspectedCell(
    side: Side,
    dog: Inspected,
    at: usize,
    typed: RwSignal<Measured>,
) -> impl IntoView {
    let state = use_app_state();
    let (id, place) = (INSPECTED[at], dog.place);
    let (nominal, allowed) = (dog.nominal[at], dog.allowed[at]);
    let quantity = id.spec().quantity;
    let shown = move || {
        let units = state.units.get();
        let allowed = allowed.map_or(String::new(), |a| format!(" {}", a.words(quantity, units)));
        format!("{}{allowed}", quantity.format_kept(nominal, units))
    };
    let key = (side, place, at);
    let text = move || typed.with(|t| t.get(&key).cloned().unwrap_or_default());
    let put = move |event| {
        let text: String = event_target_value(&event);
        typed.update(|t| {
            if text.trim().is_empty() {
                t.remove(&key)
            } else {
                t.insert(key, text)
            };
        });
    };
    let label = here(say::measured(side, place, id.spec().name()));
    let why = format!("got-{}{place}-{at}", side.lower_name());
    // The class of the judgement, and its words.
    let told = Memo::new(move |_| {
        let reader = state.reader();
        let judged = judged(side, &dog, at, &text(), reader.units)?;
        Some(match judged {
            Ok(judged) => (judged.name(), judged.words(side, &dog, at).show(reader)),
            Err(finding) => ("unread", finding.text(reader)),
        })
    });
    let class = move || told.with(|told| told.as_ref().map_or("", |(class, _)| *class));
    let unread = move || (class() == "unread").to_string();
    view! {
        <td>
            <span class="nominal">{shown}</span>
            <input type="text" inputmode="decimal" autocomplete="off" aria-label=label aria-describedby=why.clone()
                aria-invalid=unread prop:value=text on:input=put/>
            <span id=why class=move || format!("judged {}", class())>
                {move || told.with(|told| told.as_ref().map(|(_, words)| words.clone()))}
            </span>
        </td>
    }
}
