//! How long the ignition must be cut: for each upshift, by engine speed, and how the old dogs let go.

use std::sync::Arc;

use crenel_words::page::cut as say;
use crenel_words::{Message, Phrase, Value};
use leptos::prelude::*;

use crenel::design::SettingField;
use crenel::draw::{Bounds, Scene, release_chart, release_frame};
use crenel::export::{cuts_csv, svg_file};
use crenel::fields::{FieldId, Slot};
use crenel::model::{CUT_SPEEDS, CutFault, CutParts, CutTime, cut_shifts};
use crenel::ring::Point;
use crenel::shift::{Release, Step};
use crenel::units::{ABSENT, Quantity};

use crate::dom::text_scale;
use crate::state::{AppState, here, use_app_state};
use crate::widgets::clipboard::CopyButtons;
use crate::widgets::files::download;
use crate::widgets::number_field::NumberField;
use crate::widgets::pointer::watch_width;
use crate::widgets::scene_marks::SceneMarks;

/// The inputs that only the cut has.
pub(super) const FIELDS: [FieldId; 5] = [
    FieldId::CutShare,
    FieldId::Cylinders,
    FieldId::CutDelay,
    FieldId::NeutralTravel,
    FieldId::DrivelineDamping,
];

/// Letters of the chart and the width that it is laid out for, CSS pixels.
const LETTER_PX: f64 = 12.0;
const CHART_PX: f64 = 620.0;

#[component]
pub(super) fn CutForm() -> impl IntoView {
    view! {
        <fieldset class="panel">
            <legend>{here(say::panel)}</legend>
            {FIELDS.map(|id| view! { <NumberField at=Slot::Setting(id)/> }).into_iter().collect_view()}
        </fieldset>
    }
}

/// A shift with its cut at upshift speed and at each speed of the table.
#[derive(Clone, PartialEq)]
struct Row {
    step: Step,
    at_shift: Result<CutTime, CutFault>,
    by_speed: Vec<Result<CutTime, CutFault>>,
    release: Arc<Release>,
}

fn rows(state: AppState) -> Vec<Row> {
    state.unturned.with(|a| {
        let row = |shift: crenel::model::CutShift| Row {
            step: shift.step,
            at_shift: shift.at(shift.step.engine_rpm),
            by_speed: CUT_SPEEDS.map(|share| shift.at(share * shift.step.engine_rpm)).to_vec(),
            release: Arc::new(shift.release().clone()),
        };
        cut_shifts(a).into_iter().map(row).collect()
    })
}

#[component]
pub(super) fn Cuts() -> impl IntoView {
    let state = use_app_state();
    let rows = Memo::new(move |_| rows(state));
    let chosen = RwSignal::new(0_usize);
    let lacking = move || {
        let words = state.with(|d| if d.gearbox.is_some() { say::lacks } else { say::no_gearbox });
        view! { <p class="quiet">{here(words)}</p> }
    };
    let save = move |_| {
        let text = state.unturned.with_untracked(|a| cuts_csv(a));
        download(state, "cuts.csv", "text/csv", text.as_bytes());
    };
    let told = move || {
        view! {
            <p class="told">{move || rows.with(|rows| worst_told(rows, state))}</p>
            {move || rows.with(|rows| faults_told(rows, state))}
            <Table rows chosen/>
            <p class="quiet">{here(say::parts_meaning)}</p>
            <BySpeed rows/>
            <p class="quiet">{move || say::with_delay(delay(state)).show(state.reader())}</p>
            <div class="row"><button on:click=save>{here(say::save_csv)}</button></div>
            <Letting rows chosen/>
            <p class="quiet">{here(say::rigid)}</p>
            <p class="caution">{here(say::caution)}</p>
        }
    };
    view! {
        <section class="cuts" aria-label=here(say::each_upshift)>
            <h2>{here(say::each_upshift)}</h2>
            {move || if rows.with(Vec::is_empty) { lacking().into_any() } else { told().into_any() }}
        </section>
    }
}

fn ms(seconds: f64) -> Value {
    Value::Number(Quantity::Time, seconds * 1000.0)
}

fn delay(state: AppState) -> Value {
    Value::Number(Quantity::Time, state.with(|d| d.setting.get(SettingField::CutDelay)))
}

/// The shift that takes the longest cut, and the part of it that takes most.
fn worst_told(rows: &[Row], state: AppState) -> String {
    let cuts = rows.iter().filter_map(|row| Some((row.step, row.at_shift.ok()?)));
    let Some((step, cut)) = cuts.max_by(|(_, a), (_, b)| a.parts.sum().total_cmp(&b.parts.sum()))
    else {
        return String::new();
    };
    let CutParts { firing_s, unload_s, out_s, wait_s, .. } = cut.parts;
    let most = [
        (wait_s, say::waits_most as fn(Value) -> Message),
        (firing_s, say::firing_most),
        (unload_s + out_s, say::out_most),
    ];
    let most = most.into_iter().max_by(|(a, _), (b, _)| a.total_cmp(b));
    let takes = say::longest_cut(step.from, step.to, step.engine_rpm, ms(cut.parts.sum()));
    let reader = state.reader();
    let part = most.map(|(seconds, words)| words(ms(seconds)).show(reader)).unwrap_or_default();
    format!("{} {part}", takes.show(reader))
}

/// What is wrong with the cuts, each with the shifts of which it is true.
fn faults_told(rows: &[Row], state: AppState) -> impl IntoView + use<> {
    let asked = state.with(|d| d.setting.get(SettingField::CutShare));
    let faults = |row: &Row| match row.at_shift {
        Err(CutFault::NotOut) => vec![say::not_out()],
        Err(CutFault::NeverIn) => vec![say::never_in()],
        Err(CutFault::NeverSlow) => vec![say::never_slow()],
        Ok(cut) => [
            (cut.share < asked).then(|| say::only_some((100.0 * cut.share).floor() / 100.0)),
            cut.strikes.then(say::strikes),
            cut.is_too_long().then(say::too_long),
        ]
        .into_iter()
        .flatten()
        .collect(),
    };
    let mut told: Vec<(Message, Vec<Value>)> = Vec::new();
    for row in rows {
        let shift = Value::from(say::from_to(row.step.from, row.step.to));
        for says in faults(row) {
            match told.iter_mut().find(|(other, _)| *other == says) {
                Some((_, shifts)) => shifts.push(shift.clone()),
                None => told.push((says, vec![shift.clone()])),
            }
        }
    }
    let reader = state.reader();
    told.into_iter()
        .map(|(says, shifts)| {
            view! { <p class="wrong">"▲ "{say::shifts(shifts, says).show(reader)}</p> }
        })
        .collect_view()
}

/// The parts of a cut with their heads, in order.
const PARTS: [Phrase; 6] = [say::firing, say::unload, say::out, say::across, say::wait, say::into];

/// Each upshift at its own speed, with the parts of its cut.
#[component]
fn Table(rows: Memo<Vec<Row>>, chosen: RwSignal<usize>) -> impl IntoView {
    let state = use_app_state();
    let row = move |(at, row): (usize, Row)| {
        let reader = state.reader();
        let shown = |seconds: f64| {
            if seconds.is_finite() { ms(seconds).show(reader) } else { ABSENT.to_owned() }
        };
        let cut = row.at_shift.ok();
        let cells = cut.map_or([f64::INFINITY; 6], |cut| cut.parts.all());
        let cells = cells.into_iter().zip(PARTS).map(|(part, head)| {
            view! { <td data-head=here(head)>{shown(part)}</td> }
        });
        let past = cut.is_none_or(|cut| cut.is_too_long() || cut.strikes);
        let is_chosen = move || chosen.get() == at;
        view! {
            <tr class:chosen=is_chosen>
                <th scope="row">
                    <button aria-pressed=move || is_chosen().to_string() on:click=move |_| chosen.set(at)>
                        {format!("{}→{}", row.step.from + 1, row.step.to + 1)}
                    </button>
                </th>
                <td data-head=here(say::engine)>{Value::Number(Quantity::Speed, row.step.engine_rpm).show(reader)}</td>
                <td data-head=here(say::cut)>
                    <b>{past.then_some("▲ ")}{shown(cut.map_or(f64::INFINITY, |cut| cut.parts.sum()))}</b>
                </td>
                <td data-head=here(say::not_longer)>{shown(cut.map_or(f64::INFINITY, |cut| cut.longest_s))}</td>
                {cells.collect_view()}
            </tr>
        }
    };
    let heads = [say::shift, say::engine, say::cut, say::not_longer];
    view! {
        <div class="scroll" tabindex="0" role="region" aria-label=here(say::each_upshift)>
            <table class="figures cut-table">
                <thead><tr>
                    {heads.into_iter().chain(PARTS).map(|head| view! { <th scope="col">{here(head)}</th> }).collect_view()}
                </tr></thead>
                <tbody>{move || rows.get().into_iter().enumerate().map(row).collect_view()}</tbody>
            </table>
        </div>
    }
}

/// The table to type into an ignition unit.
#[component]
fn BySpeed(rows: Memo<Vec<Row>>) -> impl IntoView {
    let state = use_app_state();
    let heads = CUT_SPEEDS.map(|share| {
        view! { <th scope="col">{move || say::at_share(share).show(state.reader())}</th> }
    });
    let row = move |row: Row| {
        let cell = |(cut, share): (&Result<CutTime, CutFault>, f64)| {
            let whole = Quantity::Time.format_result(
                cut.map_or(f64::NAN, |cut| (cut.parts.sum() * 1000.0).ceil()),
                state.units.get(),
            );
            let (shown, past) = match cut {
                Ok(cut) => (whole, cut.is_too_long() || cut.strikes),
                Err(_) => (ABSENT.to_owned(), false),
            };
            let rpm = Value::Number(Quantity::Speed, (share * row.step.engine_rpm).round());
            view! { <td title=rpm.show(state.reader())>{past.then_some("▲ ")}{shown}</td> }
        };
        let cells = row.by_speed.iter().zip(CUT_SPEEDS).map(cell).collect_view();
        view! { <tr><th scope="row">{format!("{}→{}", row.step.from + 1, row.step.to + 1)}</th>{cells}</tr> }
    };
    view! {
        <h3>{here(say::by_speed)}</h3>
        <div class="scroll" tabindex="0" role="region" aria-label=here(say::by_speed)>
            <table class="figures">
                <thead><tr><th scope="col">{here(say::shift)}</th>{heads.into_iter().collect_view()}</tr></thead>
                <tbody>{move || rows.get().into_iter().map(row).collect_view()}</tbody>
            </table>
        </div>
    }
}

/// How the old dogs of the chosen shift let go.
#[component]
fn Letting(rows: Memo<Vec<Row>>, chosen: RwSignal<usize>) -> impl IntoView {
    let state = use_app_state();
    let shown = Memo::new(move |_| {
        rows.with(|rows| {
            rows.get(chosen.get()).or(rows.first()).map(|row| (row.step, Arc::clone(&row.release)))
        })
    });
    let width = RwSignal::new(None);
    let paper = NodeRef::new();
    watch_width(paper, width);
    let scene = move || {
        let across = width.get().unwrap_or(CHART_PX);
        let shape = if across < CHART_PX / 1.4 { 0.8 } else { 0.42 };
        let (_, release) = shown.get()?;
        let frame = release_frame(&release, shape, LETTER_PX * text_scale() / across);
        Some(release_chart(&frame, &release, state.reader()))
    };
    let drawn = Memo::new(move |_| scene());
    let title = move || {
        shown
            .get()
            .map(|(step, _)| say::chart(step.from, step.to).show(state.reader()))
            .unwrap_or_default()
    };
    let view_box = move || {
        drawn.with(|scene| {
            scene.as_ref().map(|s| format!("0 0 {:.4} {:.4}", s.bounds.width(), s.bounds.height()))
        })
    };
    let nothing = || Scene::new(Bounds { min: Point::new(0.0, 0.0), max: Point::new(1.0, 1.0) });
    let marks = Memo::new(move |_| drawn.get().unwrap_or_else(nothing));
    let file =
        Callback::new(move |()| untrack(|| svg_file(&scene().unwrap_or_else(nothing), &title())));
    view! {
        <figure class="view curves">
            <figcaption><h3>{title}</h3></figcaption>
            <div node_ref=paper>
                <svg viewBox=view_box role="img" aria-label=here(say::chart_told)><SceneMarks scene=marks/></svg>
            </div>
            <div class="row beside"><CopyButtons what=title() name="cut" file/></div>
        </figure>
    }
}
